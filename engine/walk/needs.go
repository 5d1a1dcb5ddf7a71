package walk

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
)

// ready sees to what comes before a step's questions: what it needs, and what is
// done for it. ok says that they can be asked.
func (n *State) ready(g *graph.Graph, st *graph.Step, base Prompt) (p Prompt, waits, ok bool) {
	if n.cur.done { // the needs held when it was done
		return base, false, true
	}
	if p, waits, ok := n.meets(g, st, st.Needs, graph.Electrician, base); !ok {
		return p, waits, false
	}
	a := g.Actions[st.Do]
	if a == nil {
		return base, false, true
	}
	if p, waits, ok := n.meets(g, st, a.Needs, graph.Stricter(a.Who, graph.Electrician), base); !ok {
		return p, waits, false
	}
	base.Kind, base.Action, base.Place = WantDone, a, n.at()
	return base, true, false
}

// meets asks for what a need rests on; a place where it is not certainly met is
// closed.
func (n *State) meets(g *graph.Graph, st *graph.Step, c *graph.Condition, who graph.Who, base Prompt) (p Prompt, waits, ok bool) {
	if c == nil {
		return base, false, true
	}
	// known(x) says nothing before x was asked for.
	for _, id := range c.Known {
		if p, waits := n.ask(g, id, base); waits {
			return p, true, false
		}
	}
	d, _ := n.decide(g, c, n.cur.place)
	for _, id := range needed(c.F) {
		if d.Certain() {
			break
		}
		if p, waits := n.ask(g, id, base); waits {
			return p, true, false
		}
	}
	if d.Verdict == formula.CertainlyTrue {
		return base, false, true
	}
	n.closeHere(g, st, n.whyNeeds(g, c), whoFor(d.Verdict, who))
	return base, false, false
}

// whoFor says who may enter a place whose needs are not met: where something is
// only not known, whoever finds it out.
func whoFor(v formula.Verdict, who graph.Who) graph.Who {
	if v == formula.NotSettled {
		return graph.Helper
	}
	return who
}

func needed(f *formula.Formula) []string {
	var ids []string
	for _, r := range f.Refs() {
		if r.Form == formula.Here {
			ids = append(ids, r.Name)
		}
	}
	return ids
}

// closeHere closes the place at hand. A step that goes over places goes on at
// the next; else, or when none is left, the step is left.
func (n *State) closeHere(g *graph.Graph, st *graph.Step, reason string, who graph.Who) {
	n.closed = append(n.closed, Closed{Step: st.ID, Place: n.cur.place, Reason: reason, Who: who})
	if len(n.cur.places) < 2 {
		n.leaveShut(st)
		return
	}
	n.cur.places = slices.Delete(slices.Clone(n.cur.places), n.cur.at, n.cur.at+1)
	n.placeAt(g, st)
}

// leaveShut goes on from a step that could not be entered: by its other way if
// it has one.
func (n *State) leaveShut(st *graph.Step) {
	if st.Unknown != nil {
		n.keep(st, []graph.Target{*st.Unknown})
	}
	n.cur.mode = atEnd
}

func (n *State) whyNeeds(g *graph.Graph, c *graph.Condition) string {
	return because(n, g, c, n.values(g, c.F, n.cur.place))
}
