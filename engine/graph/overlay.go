package graph

import (
	"fmt"
	"slices"

	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// An overlay adds to what keeps people safe and takes nothing away. What can be
// joined is joined: cautions and their texts, danger words, needs, proofs,
// states, branches into stop-work, actions of a fix. What has an order goes the
// safe way only: who may do it, how unsafe it is, how long a reading holds, what
// is possible. What can be neither is refused with the code lowers-safety. What may
// be reworded, and what may lead elsewhere, stands in guard.go.

// lowers reports a field of an overlay that would make the knowledge below it
// less safe.
func (l *loader) lowers(n *shape.Node, hint, format string, a ...any) {
	l.bad("lowers-safety", n, fmt.Sprintf(format, a...), hint)
}

// stays is a field that an overlay may give where there is none, and may not
// change. below is what a reading takes over from the one it is like.
func (l *loader) stays(e *entry, field, below string) string {
	v := below
	for i, n := range e.nodes {
		f := n.Get(field)
		switch {
		case f == nil:
		case i > 0 && v != "" && f.Text() != v:
			l.lowers(f, "leave it out here, or define something of another name", "%s of %s can't be changed by an overlay", field, e.id)
		default:
			v = f.Text()
		}
	}
	return v
}

// said is a text over all layers: an overlay adds its own words behind.
func (e *entry) said(field string) string { return e.saidOver("", field) }

// complete reports what an overlay's new entry lacks. Only entries that change
// one of a layer below may leave fields out.
func (l *loader) complete(t *table, p shape.Pair, item *shape.Shape) {
	id := p.Key.Text()
	for _, f := range item.Fields {
		given := func(name string) bool { return p.Value.Get(name) != nil }
		if !f.Required || given(f.Name) || slices.ContainsFunc(f.Unless, given) || p.Value.Kind() != shape.Map {
			continue
		}
		hint := "add " + f.Name
		if near := l.near(id, t.order); near != "" {
			hint = "did you mean to change " + near + "?"
		}
		l.bad("missing-field", p.Key, id+" is new in this layer and has no "+f.Name, hint)
		return
	}
}

// holdsOf is how long a reading holds: an overlay can only make it shorter.
func holdsOf(e *entry, r *reading.Reading) reading.Holds {
	long := []reading.Holds{reading.Together, reading.ARound, reading.ForGood}
	h := r.Holds
	if e.text("class") == string(reading.Fact) {
		h = reading.ForGood
	}
	for i, n := range e.nodes {
		f := n.Get("holds")
		if f == nil {
			continue
		}
		if to := reading.Holds(f.Text()); i == 0 || slices.Index(long, to) < slices.Index(long, h) {
			h = to
		}
	}
	return h
}

// keepDanger sees to it that an overlay leaves the way from the danger question
// to stop-work as it is.
func (l *loader) keepDanger(e *entry) {
	if e.sheet != "danger" || l.layerOf[e.nodes[0]] > 0 {
		return
	}
	for _, n := range e.nodes[1:] {
		for _, field := range []string{"ask", "then", "unknown", "which", "each", "until"} {
			if f := n.Get(field); f != nil {
				l.lowers(f, "add a branch elsewhere, or words that bring the question (says)", "the danger question and what follows it can't be changed by an overlay")
			}
		}
	}
}
