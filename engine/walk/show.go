package walk

import (
	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

func (s *State) show(r *reading.Reading, v float64) string {
	return quantity.Show(v, r.Kind.Unit, s.setup.Style)
}

// Shown is a take in words: "180 mV", "yes", "fuse holder", "not known".
func (s *State) Shown(g *graph.Graph, t Take) string {
	r := g.Readings[t.Reading]
	switch {
	case !t.Known:
		return "not known"
	case r.Answer == reading.Choice:
		return r.Options[t.Choice].Label
	case r.Answer == reading.YesNo:
		if t.Choice == 1 {
			return "yes"
		}
		return "no"
	}
	return quantity.ShowTyped(t.Value, t.Digit, r.Kind.Unit, s.setup.Style)
}

// shower tells formulas how to name readings and print numbers.
func (s *State) shower(g *graph.Graph) formula.Shower {
	return formula.Shower{Style: s.setup.Style, Name: g.NameOf, Word: g.WordOf}
}
