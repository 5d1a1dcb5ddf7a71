package main

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/prove"
)

// mostRows is how many lines of a long list are printed; --json has all.
const mostRows = 25

// proofText is a report of a proof at 80 columns.
func proofText(r *prove.Report) string {
	var b strings.Builder
	line := func(format string, a ...any) {
		b.WriteString(strings.TrimRight(fmt.Sprintf(format, a...), " ") + "\n")
	}
	line("%d walks, %s for each fault, seed %d, %s ranges", r.Walks, plural(r.Rigs, "rig"), r.Seed, rangesOf(r.Release))
	line("")
	targetLines(line, r.Targets)
	proofFigures(line, r)
	proofFaults(line, r)
	proofPrices(line, r)
	counts(line, "Told instead (fault -> finding)", r.Confusion)
	counts(line, "On healthy rigs", r.HealthyAs)
	counts(line, "Proofs that came out otherwise than they should", r.ProofsOff)
	counts(line, "Proven although nothing was mended", r.Mistaken)
	counts(line, "Unsafe", r.UnsafeAs)
	counts(line, "Answers of the rig that were refused", r.Refused)
	counts(line, "Failures", r.Failures)
	counts(line, "Noticed by nobody, and so not walked", r.Silent)
	words(line, "No rig of the population can have", r.Never)
	words(line, "Faults that no finding shows", r.Homeless)
	words(line, "Shown by a finding, but no fault", r.Unmet)
	line("")
	line("This shows that the knowledge fits the simulation. Whether it fits the world,")
	line("only real tickets show.")
	return b.String()
}

func rangesOf(release bool) string {
	if release {
		return "release"
	}
	return "tuning"
}

func targetLines(line func(string, ...any), targets []prove.Target) {
	line("Targets")
	for _, t := range targets {
		mark, sign := "met   ", "at least"
		if !t.Met {
			mark = "MISSED"
		}
		if t.Most {
			sign = "at most"
		}
		line("  %s  %-38s %10s, %s %s", mark, t.Name, inUnit(t.Got, t.Unit), sign, inUnit(t.Want, t.Unit))
		if t.Note != "" {
			line("          %s", t.Note)
		}
	}
}

func inUnit(x float64, unit string) string {
	switch unit {
	case "%":
		return fmt.Sprintf("%.1f %%", 100*x)
	case "x":
		return fmt.Sprintf("%.2f times", x)
	}
	return fmt.Sprintf("%.0f", x)
}

func proofFigures(line func(string, ...any), r *prove.Report) {
	part := func(name string, p prove.Part) {
		if p.Of > 0 {
			line("  %-42s %5.1f %%  (%.1f to %.1f, of %d)", name, 100*p.Share, 100*p.Lo, 100*p.Hi, p.Of)
		}
	}
	line("")
	line("Figures, with 95 %% limits")
	part("right first or in group, mean over faults", r.Right)
	part("  of all walks", r.RightAll)
	part("right, or among the three likeliest", r.Top3)
	part("right at the end", r.Final)
	part("proof holds on the repaired rig", r.Repaired)
	part("proof fails on the unrepaired rig", r.Unrepaired)
	part("something sound proven to be the fault", r.ProvenWrongly)
	part("fault named on a healthy rig", r.HealthyNamed)
	part("unlisted fault: a wrong cause named", r.UnlistedWrong)
	part("  and proven", r.UnlistedProof)
	part("two faults: one of them told first", r.DoubleOne)
	part("questions that told nothing new", r.NoGain)
	line("  %-42s mean %.1f, p95 %.0f, worst %.0f", "questions to the first finding", r.Questions.Mean, r.Questions.P95, r.Questions.Worst)
	line("  %-42s mean %.1f, p95 %.0f, worst %.0f", "  of these with a meter", r.Measurements.Mean, r.Measurements.P95, r.Measurements.Worst)
	line("  %-42s mean %.0f, p95 %.0f, worst %.0f", "minutes", r.Minutes.Mean, r.Minutes.P95, r.Minutes.Worst)
	line("  %-42s mean %.2f", "answers that could not be had", r.NotKnown)
}

// columns of the table of faults, in this order.
var verdicts = []struct {
	head string
	of   []prove.Verdict
}{
	{"right", []prove.Verdict{prove.Right, prove.NoneNamed}}, {"group", []prove.Verdict{prove.InGroup}},
	{"stop", []prove.Verdict{prove.StopRight}}, {"WRONG", []prove.Verdict{prove.Wrong, prove.WrongPlace, prove.StopWrong, prove.SaidSound}},
	{"list", []prove.Verdict{prove.InList}}, {"lost", []prove.Verdict{prove.NotInList, prove.Failure}},
}

func proofFaults(line func(string, ...any), r *prove.Report) {
	line("")
	line("%-33s %5s %5s %5s %4s %5s %4s %4s %4s", "Faults, worst first", "good", "right", "group", "stop", "WRONG", "list", "lost", "ask")
	for _, f := range r.Faults {
		name := f.Fault
		if f.Kind == prove.Unlisted {
			name += " *"
		}
		row := fmt.Sprintf("%-33s %3.0f %%", name, 100*f.Good.Share)
		for _, v := range verdicts {
			n := 0
			for _, x := range v.of {
				n += f.Verdicts[x]
			}
			row += " " + dash(n, len(v.head))
		}
		line("%s %4.1f", row, f.Questions)
	}
	if slices.ContainsFunc(r.Faults, func(f prove.FaultScore) bool { return f.Kind == prove.Unlisted }) {
		line("* unlisted: right is that no fault is named")
	}
}

func dash(n, width int) string {
	if n == 0 {
		return fmt.Sprintf("%*s", width, "-")
	}
	return fmt.Sprintf("%*d", width, n)
}

func proofPrices(line func(string, ...any), r *prove.Report) {
	if len(r.Symptoms) == 0 {
		return
	}
	line("")
	line("Questions against the optimum of the same table")
	line("%-26s %5s %9s %7s %6s %8s %7s", "complaint", "cases", "questions", "optimum", "times", "minutes", "greedy")
	for _, p := range r.Symptoms {
		best := fmt.Sprintf("%.2f", p.Best)
		if !p.Exact {
			best = "<" + best
		}
		times := "-"
		if p.Best > 0 {
			times = fmt.Sprintf("%.2f", p.Questions/p.Best)
		}
		line("%-26s %5d %9.2f %7s %6s %8.1f %7.1f", p.Symptom, p.Cases, p.Questions, best, times, p.Minutes, p.GreedyMinutes)
		if !p.Exact {
			line("    no order undercuts %.2f", p.Least)
		}
	}
	line("An optimum with < is the best order found. Greedy asks what tells most a minute.")
	proofSteps(line, r)
	if g := r.Groups; g != nil {
		groupLines(line, "Not to be told apart by any question", g.All)
		groupLines(line, "Not to be told apart by what can't hurt", g.Lay)
		groupLines(line, "Not told apart by what is asked", g.Asked)
	}
}

// mostSteps is how many steps the list of what to do next has.
const mostSteps = 10

// proofSteps prints the steps that ask too much, and those that stay where they are
// for a reason.
func proofSteps(line func(string, ...any), r *prove.Report) {
	head := func(title string) {
		line("")
		line("%-32s %6s %7s %8s %8s %6s", title, "walks", "asked", "too many", "bits/min", "best")
	}
	row := func(s prove.DearStep) {
		line("%-32s %6d %7d %8.0f %8.2f %6.2f", s.Step, s.Visits, s.Asked, s.Lost, s.Bits, s.Best)
	}
	head("Ten dearest steps")
	n := 0
	for _, s := range r.Dear {
		if s.Order != "" || s.Lost <= 0 {
			continue
		}
		if n++; n > mostSteps {
			break
		}
		row(s)
		wrappedUnder(line, "    most after "+s.After+"; instead: ", strings.Fields(s.Instead))
	}
	n = 0
	for _, s := range r.Dear {
		if s.Order == "" {
			continue
		}
		if n++; n == 1 {
			head("Stay where they are")
		}
		row(s)
		wrappedUnder(line, "    ", strings.Fields(s.Order))
	}
}

func groupLines(line func(string, ...any), head string, groups [][]string) {
	if len(groups) == 0 {
		return
	}
	line("")
	line("%s", head)
	for _, g := range groups {
		wrapped(line, g)
	}
}

func counts(line func(string, ...any), head string, list []prove.Count) {
	if len(list) == 0 {
		return
	}
	line("")
	line("%s", head)
	for _, c := range list[:min(len(list), mostRows)] {
		wrappedUnder(line, fmt.Sprintf("  %4d  ", c.N), strings.Fields(c.What+" ["+c.Case+"]"))
	}
	if more := len(list) - mostRows; more > 0 {
		line("        and %d more in --json", more)
	}
}

func words(line func(string, ...any), head string, list []string) {
	if len(list) == 0 {
		return
	}
	line("")
	line("%s", head)
	wrapped(line, list)
}

// wrapped prints words, with commas, in lines of no more than 80 columns.
func wrapped(line func(string, ...any), words []string) {
	list := slices.Clone(words)
	for i := range list[:len(list)-1] {
		list[i] += ","
	}
	wrappedUnder(line, "  ", list)
}

// wrappedUnder prints words after a head, and what does not fit into 80 columns
// below it.
func wrappedUnder(line func(string, ...any), head string, words []string) {
	row, empty := head, true
	for _, w := range words {
		if !empty && len(row)+1+len(w) > 80 {
			line("%s", row)
			row, empty = strings.Repeat(" ", len(head)), true
		}
		if !empty {
			row += " "
		}
		row, empty = row+w, false
	}
	line("%s", row)
}
