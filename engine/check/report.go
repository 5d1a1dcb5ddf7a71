package check

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

// Report is what a look over the knowledge finds.
type Report struct {
	// Problems are what is wrong, sorted by place, without what is waived.
	Problems []shape.Problem
	// Waived are warnings that a comment beside their line lets stand.
	Waived []Waived
	// Notes are what the checks could not decide, and figures; no fault.
	Notes []Note
}

// Waived is a warning that somebody lets stand, and why.
type Waived struct {
	Problem shape.Problem
	Reason  string
}

// Note is something to know that is no fault.
type Note struct {
	Code string // stable, in words
	Text string
	At   shape.Place // may be zero
}

// String is the note on one line.
func (n Note) String() string {
	if n.At == (shape.Place{}) {
		return "note: " + n.Text + " [" + n.Code + "]"
	}
	return n.At.String() + ": note: " + n.Text + " [" + n.Code + "]"
}

// Look looks over knowledge that has loaded without errors. reserved are words
// that the chat takes for itself, so that no choice may use them.
func Look(g *graph.Graph, reserved []string) Report {
	c := &checker{g: g}
	c.reach()
	c.steps()
	c.findings()
	c.readings(reserved)
	c.laws()
	c.used()
	c.ranges = newRanges(g)
	c.proves()
	c.branches()
	c.cuts()
	c.divisions()
	c.safety()
	c.texts()
	shape.Sort(c.problems)
	c.problems = slices.CompactFunc(c.problems, func(a, b shape.Problem) bool {
		return a.At == b.At && a.Code == b.Code && a.Text == b.Text
	})
	c.waive()
	slices.SortStableFunc(c.notes, func(a, b Note) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Text, b.Text))
	})
	return Report{c.problems, c.waived, c.notes}
}

func (c *checker) warn(code string, at shape.Place, hint, format string, a ...any) {
	c.bad(code, at, hint, format, a...)
	c.problems[len(c.problems)-1].Severity = shape.Warning
}

// badCond reports a condition, with the caret under all of it.
func (c *checker) badCond(code string, x *graph.Condition, hint, format string, a ...any) {
	c.bad(code, x.At, hint, format, a...)
	p := &c.problems[len(c.problems)-1]
	if w := strings.Index(p.Source, x.Text); w >= 0 {
		p.Width = len([]rune(x.Text))
	}
}

func (c *checker) warnCond(code string, x *graph.Condition, hint, format string, a ...any) {
	c.badCond(code, x, hint, format, a...)
	c.problems[len(c.problems)-1].Severity = shape.Warning
}

func (c *checker) note(code string, at shape.Place, format string, a ...any) {
	c.notes = append(c.notes, Note{code, fmt.Sprintf(format, a...), at})
}

// plain is a number with as many digits as say something.
func plain(x float64) string { return strconv.FormatFloat(x, 'g', 5, 64) }
