package graph

import (
	"regexp"
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// Law is what readings keep to on any rig, sound or broken: where it is broken,
// one of them was misread or mistyped.
type Law struct {
	ID      string
	Holds   *Condition
	Because string   // why it must hold, one sentence
	Names   []string // the readings that it holds between, as they are told; scales are left out
	Sources []string
	At      shape.Place
}

// Base is the reading under whose name the takes of r are filed: r itself, or the
// one that it is at a fixed place.
func Base(r *reading.Reading) string {
	if r.At != "" && r.Like != "" {
		return r.Like
	}
	return r.ID
}

// LawsOf lists the laws that a take of the reading can break.
func (g *Graph) LawsOf(r *reading.Reading) []*Law { return g.lawsOf[Base(r)] }

// it stands in a law for each of a row of readings.
var it = regexp.MustCompile(`\bit\b`)

func (l *loader) buildLaws() {
	l.g.lawsOf = map[string][]*Law{}
	for _, e := range l.laws.all() {
		l.stays(e, "holds", "") // a law of nature is no fleet's own; an overlay may add some
		of := l.ids("reading", e.joined("of"), l.readings)
		if len(of) == 0 {
			l.law(e, "")
		}
		for _, r := range of {
			l.law(e, r)
		}
	}
}

// law builds one law, with one of the row of readings that it is of.
func (l *loader) law(e *entry, of string) {
	n := e.nodes[0].Get("holds")
	if n == nil || n.Kind() != shape.Scalar {
		return // told by its shape
	}
	w := &Law{ID: e.id, Because: e.said("because"), Sources: l.ids("source", e.joined("sources"), l.sources), At: e.top().Place()}
	if of == "" {
		w.Holds = l.condition(n)
	} else {
		w.ID += "/" + of
		text := it.ReplaceAllString(n.Text(), of)
		f, problems := formula.Compile(text, l.g.Scope, formula.WantYesNo())
		if len(problems) > 0 {
			l.bad(problems[0].Code, n, "with "+of+": "+problems[0].Text, problems[0].Hint)
			return
		}
		w.Holds = &Condition{Text: text, F: f, At: n.Place()}
	}
	if w.Holds == nil {
		return
	}
	for _, ref := range w.Holds.F.Refs() {
		if ref.Form != formula.Here {
			l.bad("law-over-time", n, "a law holds between readings as they are, and "+ref.String()+" is none", "name the readings themselves")
			return
		}
		if ref.Name != systemVolts {
			w.Names = append(w.Names, ref.Name)
		}
	}
	if len(w.Names) == 0 {
		w.Names = []string{systemVolts}
	}
	for _, name := range w.Names {
		b := Base(l.g.Readings[name])
		if !slices.Contains(l.g.lawsOf[b], w) {
			l.g.lawsOf[b] = append(l.g.lawsOf[b], w)
		}
	}
	l.g.Laws = append(l.g.Laws, w)
}
