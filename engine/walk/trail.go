package walk

import (
	"hotlug/engine/formula"
	"hotlug/engine/graph"
)

// visit is a step left behind, kept as data: the words are made when somebody
// asks for them, since most walks are walked by tests.
type visit struct {
	step       *graph.Step
	place      string
	round      int
	to         graph.Target
	cond       *graph.Condition
	vals       []formula.Val
	assumed    bool
	close      bool
	from, upTo int // takes since the step before
}

// Val keeps signatures short; it is what is known of one value.
type Val = formula.Val

func (n *State) visit(st *graph.Step, to graph.Target, cond *graph.Condition, vals []formula.Val, assumed, close bool) {
	from := 0
	if l := len(n.trail); l > 0 {
		from = n.trail[l-1].upTo
	}
	n.trail = append(n.trail, visit{step: st, place: n.cur.place, round: n.round, to: to, cond: cond, vals: vals,
		assumed: assumed, close: close, from: from, upTo: len(n.takes)})
}

// asked lists the takes of a visit that came from the person.
func (v visit) asked(s *State) []Take {
	var out []Take
	for _, t := range s.takes[v.from:v.upTo] {
		if t.Origin != File && t.Origin != Worked {
			out = append(out, t)
		}
	}
	return out
}

// Trail lists the steps that were walked, with what was asked since the step
// before, the branch taken and why.
func (s *State) Trail(g *graph.Graph) []Visit {
	var out []Visit
	for _, v := range s.trail {
		out = append(out, Visit{Step: v.step.ID, Place: v.place, Round: v.round, Asked: v.asked(s), Took: v.to.String(),
			Why: v.why(s, g), Assumed: v.assumed, Close: v.close})
	}
	return out
}
