package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/prove"
	"hotlug/session/ticket"
)

// trialNames lists the trials, for help and for messages.
func trialNames() string {
	var out []string
	for _, t := range prove.Trials() {
		out = append(out, string(t))
	}
	return strings.Join(out, ", ")
}

// tryOut runs one trial and prints what came of it.
func (a *app) tryOut(ctx context.Context, g *graph.Graph, f proofFlags, o prove.Options) error {
	rep, err := prove.Try(ctx, g, prove.Simulated(g, f.seed, f.release), o, prove.Trial(f.trial))
	if err != nil {
		return provingFailed(ctx, err)
	}
	if f.asJSON {
		err = ticket.EncodeJSON(a.out, rep)
	} else {
		_, err = io.WriteString(a.out, trialText(rep))
	}
	if err == nil && !rep.Met() {
		return exit(exitKnowledge, fmt.Errorf("the knowledge misses a target"))
	}
	return err
}

// trialText is a trial's report at 80 columns.
func trialText(r *prove.TrialReport) string {
	var b strings.Builder
	line := func(format string, a ...any) {
		b.WriteString(strings.TrimRight(fmt.Sprintf(format, a...), " ") + "\n")
	}
	line("trial: %s, %s for each fault, seed %d, %s ranges", r.Trial, plural(r.Rigs, "rig"), r.Seed, rangesOf(r.Release))
	line("")
	targetLines(line, r.Targets)
	line("")
	line("%-27s %6s %7s %7s %7s %6s %6s %5s", "", "walks", "right", "top 3", "firmly", "wrong", "asked", "ques-")
	line("%-27s %6s %7s %7s %7s %6s %6s %5s", "", "", "", "", "wrong", "first", "back", "tions")
	for _, t := range r.Rows {
		line("%-27s %6d %5.1f %% %5.1f %% %5.1f %% %5.1f%% %6.2f %5.1f", t.Name, t.Walks, 100*t.Right.Share, 100*t.Top3.Share,
			100*t.Wrong.Share, 100*t.First.Share, t.Odd, t.Questions)
		if r.Trial == prove.Meters && t.Name != r.Rows[0].Name {
			line("    another end than with exact readings: %.2f %% (%.2f to %.2f)", 100*t.Changed.Share, 100*t.Changed.Lo, 100*t.Changed.Hi)
		}
		if t.Erred > 0 && t.Erred < t.Walks {
			line("    in %d of these walks an answer was not so", t.Erred)
		}
	}
	counts(line, "What went wrong", r.Causes)
	counts(line, "Unsafe", r.Unsafe)
	return b.String()
}
