package main

import (
	"bufio"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/drill"
	"hotlug/session/ticket"
)

// usualEvery is after how many days a rig is to be proved again: every year,
// since a year of heat, cold and road loosens what was tight (practice). Local
// rules, or a rig that is hired out every week, ask for less.
const usualEvery = 365

type fleetFlags struct {
	every  int
	asJSON bool
	csv    string
}

func fleetCommand(a *app) *cobra.Command {
	var f fleetFlags
	c := &cobra.Command{
		Use:   "fleet",
		Short: "Show what is open over all rigs and sessions",
		Long: `Show what is open over all rigs and sessions: findings that were told and not proven
mended, rigs that have not passed the test of a whole system for a year (--every),
the commonest causes, and how trainees' drills went. A rig passes with the complaint
prove-system and its last reading.

The default of --every is a year: so long, heat, cold and road take to loosen what
was tight. Local rules, or a rig that is hired out every week, ask for less.

--csv TABLE is for spreadsheets: ` + strings.Join(fleetTables(), ", ") + `.
What a spreadsheet would take for a formula has a ' before it.

` + exitHelp,
		Example: "  hotlug fleet\n  hotlug fleet --rigs ./fleet --every 180\n  hotlug fleet --json\n  hotlug fleet --csv open",
		Args:    takes(),
		RunE:    func(*cobra.Command, []string) error { return a.fleet(f) },
	}
	c.Flags().SortFlags = false
	c.Flags().IntVar(&f.every, "every", usualEvery, "days after which a rig is to pass again")
	c.Flags().BoolVar(&f.asJSON, "json", false, "print JSON")
	c.Flags().StringVar(&f.csv, "csv", "", "print a table as CSV: "+strings.Join(fleetTables(), ", "))
	completeFlag(c, "csv", fleetTables()...)
	a.rigsFlag(c)
	return c
}

func (a *app) fleet(f fleetFlags) error {
	switch {
	case f.every < 1:
		return usagef("--every is a number of days, 1 at least")
	case f.csv != "" && f.asJSON:
		return usagef("--csv and --json are two ways to print it; choose one")
	case f.csv != "" && !slices.Contains(fleetTables(), f.csv):
		return usagef("--csv is one of %s, and not %s%s", strings.Join(fleetTables(), ", "), quote(f.csv), nearest(f.csv, fleetTables()))
	}
	g, err := a.knowledge()
	if err != nil {
		return err
	}
	dir, err := a.rigsDir()
	if err != nil {
		return err
	}
	rows, err := a.rigRows(dir)
	if err != nil {
		return err
	}
	store, err := a.store()
	if err != nil {
		return err
	}
	count := newFleetCount(g, time.Now(), f.every)
	for _, r := range rows {
		count.rig(r)
	}
	if err := store.Each(count.session); err != nil {
		return badInputf("%v", err)
	}
	report := count.report()
	if report.Trainees, err = a.trainees(report.Today); err != nil {
		return err
	}
	w := bufio.NewWriter(a.out)
	switch {
	case f.csv != "":
		err = report.csv(w, f.csv)
	case f.asJSON:
		err = ticket.EncodeJSON(w, report)
	default:
		report.print(w)
	}
	if e := w.Flush(); err == nil {
		err = e
	}
	if err != nil {
		return badInputf("it can't be written: %v", err)
	}
	return nil
}

// traineeRow is how somebody's drills went.
type traineeRow struct {
	Name   string `json:"name"`
	Drills int    `json:"drills"`
	Right  int    `json:"right"`
	Unsafe int    `json:"unsafe"` // drills with an unsafe act
	Last   string `json:"last,omitempty"`
	Due    int    `json:"due"` // faults that are to come back
}

// trainees reads the files of scores, by their names.
func (a *app) trainees(today string) ([]traineeRow, error) {
	dir, err := a.dataFolder("drills")
	if err != nil {
		return nil, err
	}
	list, err := filesOf(dir, "trainees")
	if err != nil {
		return nil, err
	}
	out := []traineeRow{}
	for _, e := range list {
		name, ok := strings.CutSuffix(e.Name(), ".jsonl")
		if !ok || !isFileName(name) {
			continue
		}
		warn := func(text string) { fmt.Fprintf(a.err, "hotlug: %s\n", term.SafeLine(text)) }
		scores, err := (&scoreBook{path: filepath.Join(dir, e.Name()), warn: warn}).read()
		if err != nil { // one that can't be read is told, and does not stop the others
			warn(err.Error())
			continue
		}
		t := traineeRow{Name: name, Drills: len(scores), Due: len(drill.Due(scores, today))}
		for _, s := range scores {
			if s.Right {
				t.Right++
			}
			if len(s.Unsafe) > 0 {
				t.Unsafe++
			}
			t.Last = max(t.Last, s.Date)
		}
		out = append(out, t)
	}
	return out, nil
}

// mostShown is how many lines of a table are shown on the screen; JSON and CSV
// have all.
const mostShown = 20

// print tells the report in plain lines.
func (r fleetReport) print(w io.Writer) {
	line := func(first, text string) {
		for _, l := range term.Wrap(term.SafeLine(text), rigWidth, first, strings.Repeat(" ", 4)) {
			fmt.Fprintln(w, l)
		}
	}
	table := func(head, none string, n int, row func(i int) string) {
		fmt.Fprintln(w)
		if n == 0 {
			line("", none)
			return
		}
		line("", head)
		for i := range min(n, mostShown) {
			line("  ", row(i))
		}
		if n > mostShown {
			line("  ", fmt.Sprintf("and %d more; --json and --csv have all", n-mostShown))
		}
	}
	head := fmt.Sprintf("%s, %s", plural(len(r.Rigs), "rig"), plural(r.Sessions, "session"))
	if r.Unfinished > 0 {
		head += fmt.Sprintf(", %d of them not finished", r.Unfinished)
	}
	line("", head+".")
	open := fmt.Sprintf("Open findings (%d), told and not proven mended; what stops work first, then the longest open:", len(r.Open)+r.OpenMore)
	table(open, "No finding is open.", len(r.Open), func(i int) string { return r.Open[i].say() })
	overdue := r.overdue()
	table(fmt.Sprintf("Overdue (%d), no pass in %d days:", len(overdue), r.Every), "No rig is overdue.", len(overdue), func(i int) string { return overdue[i].say() })
	table("Commonest causes:", "No cause has been found yet.", len(r.Causes), func(i int) string { return r.Causes[i].say() })
	if len(r.Trainees) > 0 {
		table("Trainees:", "", len(r.Trainees), func(i int) string { return r.Trainees[i].say() })
	}
	if r.DamagedCount > 0 {
		table(fmt.Sprintf("Sessions that can't be used (%d):", r.DamagedCount), "", len(r.Damaged), func(i int) string { return r.Damaged[i].ID + ": " + r.Damaged[i].Problem })
	}
}

func (t traineeRow) say() string {
	say := fmt.Sprintf("%s: %s, %d right", t.Name, plural(t.Drills, "drill"), t.Right)
	if t.Unsafe > 0 {
		say += fmt.Sprintf(", %d with an unsafe act", t.Unsafe)
	}
	if t.Last != "" {
		say += ", the last on " + t.Last
	}
	if t.Due > 0 {
		say += fmt.Sprintf("; %s due", plural(t.Due, "fault"))
	}
	return say
}
