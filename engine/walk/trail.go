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
	rest       []graph.Target // left open besides to
	settled    bool           // the branch was taken because it holds
	assumed    bool
	close      bool
	from, upTo int   // takes since the step before
	now, was   board // takes that stood then
}

// Val keeps signatures short; it is what is known of one value.
type Val = formula.Val

// visit notes that the step at hand is left the way v says.
func (n *State) visit(st *graph.Step, v visit) {
	v.step, v.place, v.round, v.upTo = st, n.cur.place, n.round, len(n.takes)
	if l := len(n.trail); l > 0 {
		v.from = n.trail[l-1].upTo
	}
	v.now, v.was = n.now, n.was
	n.trail = append(n.trail, v)
}

// asked lists the takes of a visit that came from the person.
func (v visit) asked(s *State) []Take {
	var out []Take
	for _, t := range s.takes[v.from:v.upTo] {
		if t.Origin != File && t.Origin != Worked {
			out = append(out, *t)
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
