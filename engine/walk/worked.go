package walk

import (
	"hotlug/engine/formula"
	"hotlug/engine/graph"
)

// Worked is a worked value of the knowledge with what was last read at a place, ""
// for none; false if it can't be known there. What has lapsed meanwhile still
// counts: it is for telling what was found, and the walk decides nothing by it.
func (s *State) Worked(g *graph.Graph, id, place string) (formula.Val, bool) {
	x := g.Values[id]
	if x == nil {
		return formula.Val{}, false
	}
	then := *s
	for i, t := range s.takes {
		if t.Known {
			then.now = then.now.with(Key{t.Reading, t.Place}, i)
		}
	}
	v, err := x.Is.Eval(then.values(g, x.Is, place))
	return v, err == nil && !v.Unknown
}
