package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/engine/prove"
	"hotlug/session/ticket"
)

// proofFlags are what `kb prove` is told.
type proofFlags struct {
	rigs, table     int
	seed            uint64
	faults          []string
	symptom, show   string
	trial           string
	release, asJSON bool
}

func kbProveCommand(a *app) *cobra.Command {
	var f proofFlags
	c := &cobra.Command{
		Use:   "prove",
		Short: "Try the knowledge on simulated rigs whose fault is known",
		Long: `Try the knowledge on simulated rigs whose fault is known: every fault on random
rigs, rigs without a fault, and rigs with two. The rig answers each question by
being solved. What is told first, how many questions that took, whether the proof
of each fix holds on the repaired rig and fails on the other, and what was unsafe
is counted and held against the targets.

The same seed gives the same figures. --release draws from ranges and seeds that
nobody tunes the knowledge on; its figures are those to quote. Simulation shows
that the knowledge fits this simulation, and no more.

--show prints one walk in outline: fault and number, as in the report.

--trial walks the same faults with people and meters that fall short, and holds
what comes of it against targets of its own:
  meters        readings moved within the error of a good, a hand and a cheap meter
  slips         2 and 5 % of numbers mistyped, misread or taken at a wrong point;
                whoever is asked again looks again and says the right one
  beliefs       one fact told wrong for good: chemistry, volts, fuse, wire, a setting
  unanswerable  each reading of a fault's own walk not to be had, one at a time
  unknowns      10, 20 and 30 % of all answers not known
                (in both, what is asked only to stop work is known: else it stops)
  two           two faults at once

Exit code 5 says that a target is missed.

` + exitHelp,
		Example: "  hotlug kb prove --rigs 60\n  hotlug kb prove --fault fuse-missing --rigs 20\n  hotlug kb prove --show fuse-missing/3\n  hotlug kb prove --trial slips --rigs 10",
		Args:    takes(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.prove(cmd.Context(), f)
		},
	}
	fl := c.Flags()
	fl.IntVar(&f.rigs, "rigs", 20, "rigs for each fault")
	fl.Uint64Var(&f.seed, "seed", 1, "seed of the population")
	fl.StringArrayVar(&f.faults, "fault", nil, "only this fault; may be given several times")
	fl.StringVar(&f.symptom, "symptom", "", "only complaints of this symptom")
	fl.StringVar(&f.show, "show", "", "print one walk in outline: FAULT/N, or healthy/N")
	fl.StringVar(&f.trial, "trial", "", "walk with what falls short: "+trialNames())
	fl.IntVar(&f.table, "table", 10, "rigs of each fault that the reference gets; 0 leaves it out")
	fl.BoolVar(&f.release, "release", false, "the population for releases")
	fl.BoolVar(&f.asJSON, "json", false, "print the report as JSON")
	completeFlagBy(c, "trial", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return strings.Split(trialNames(), ", "), cobra.ShellCompDirectiveNoFileComp
	})
	completeFlagBy(c, "symptom", a.completeSymptoms)
	completeFlagBy(c, "fault", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return prove.FaultIDs(), cobra.ShellCompDirectiveNoFileComp
	})
	return c
}

func (a *app) prove(ctx context.Context, f proofFlags) error {
	g, err := a.knowledge()
	if err != nil {
		return err
	}
	switch {
	case f.rigs < 1 || f.table < 0:
		return usagef("--rigs is at least 1 and --table at least 0")
	case f.symptom != "" && g.Symptoms[f.symptom] == nil:
		return badInputf("there is no symptom called %s; there are: %s", quote(f.symptom), strings.Join(g.SymptomOrder, ", "))
	}
	for _, id := range f.faults {
		if !slices.Contains(prove.FaultIDs(), id) {
			return badInputf("there is no fault called %s; --help and the completion list them", quote(id))
		}
	}
	o := prove.Options{Plan: prove.Plan{Seed: f.seed, Rigs: f.rigs, Faults: f.faults}, Symptom: f.symptom,
		Release: f.release, Table: f.table, Workers: runtime.GOMAXPROCS(0)}
	if f.show != "" {
		return a.showWalk(ctx, g, f, o)
	}
	if f.trial != "" && !slices.Contains(prove.Trials(), prove.Trial(f.trial)) {
		return badInputf("there is no trial called %s; there are: %s", quote(f.trial), trialNames())
	}
	o.Progress = progressOn(a.err)
	// Walks are short-lived and many: memory for a fifth of the time.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	if f.trial != "" {
		return a.tryOut(ctx, g, f, o)
	}
	rep, err := prove.Prove(ctx, g, prove.Simulated(g, f.seed, f.release), o)
	if err != nil {
		return provingFailed(ctx, err)
	}
	if f.asJSON {
		err = ticket.EncodeJSON(a.out, rep)
	} else {
		_, err = io.WriteString(a.out, proofText(rep))
	}
	if err == nil && !rep.Met() {
		return exit(exitKnowledge, fmt.Errorf("the knowledge misses a target"))
	}
	return err
}

// provingFailed gives a proof's error its exit code.
func provingFailed(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return err
	}
	return badInputf("%v", err)
}

// progressOn is a line that says how far the proof is, on a terminal only.
func progressOn(w io.Writer) func(done, of int) {
	f, ok := w.(*os.File)
	if !ok {
		return nil
	}
	if st, err := f.Stat(); err != nil || st.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	last := -1
	return func(done, of int) {
		if part := 100 * done / of; part != last {
			last = part
			fmt.Fprintf(f, "\r%3d %% of %d walks", part, of)
		}
		if done == of {
			fmt.Fprint(f, "\r"+strings.Repeat(" ", 40)+"\r")
		}
	}
}

// splitCase reads "fuse-missing/3".
func splitCase(s string) (fault string, n int, err error) {
	fault, number, ok := strings.Cut(s, "/")
	n, err = strconv.Atoi(number)
	if !ok || err != nil || n < 0 {
		return "", 0, usagef("--show takes a fault and a number, as in fuse-missing/3, and not %s", quote(s))
	}
	return fault, n, nil
}
