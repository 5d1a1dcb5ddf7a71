package walk

import (
	"fmt"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// interrupt brings the danger question at once.
func (n *State) interrupt(g *graph.Graph, e Event) string {
	if n.outcome != Running {
		return "The walk has ended."
	}
	if e.Finding != "" && g.Findings[e.Finding] == nil {
		return fmt.Sprintf("There is no finding called %q.", e.Finding)
	}
	if n.symptom == "" { // all that is known of what is wrong
		n.words = e.Words
	}
	if n.saved == nil {
		at := n.cur
		n.saved, n.behind = &at, ""
	}
	if e.Finding != "" { // while the question stands, a vaguer word takes nothing back
		n.behind = e.Finding
	}
	n.enterDanger(g)
	return ""
}

func (n *State) enterDanger(g *graph.Graph) {
	r := g.Readings[g.DangerReading]
	n.lapse(n.key(r, ""))
	n.cur = frame{mode: atStep, step: g.Steps[g.DangerStep], from: len(n.takes)}
}

// leaveDanger decides what the danger question leads to: back to where the walk
// stood, or to stop-work. Not sure is yes.
func (n *State) leaveDanger(g *graph.Graph, st *graph.Step) {
	c := n.choose(g, st, "", true)
	to := graph.Target{}
	switch {
	case c.settled:
		to = st.Then[c.branch].To
	case st.Unknown != nil:
		to = *st.Unknown
	default:
		to = st.Then[0].To
	}
	if to.CarryOn && n.saved != nil {
		n.visit(st, visit{to: to, settled: true})
		n.behind = ""
		n.cur = *n.saved
		n.saved = nil
		return
	}
	if n.behind != "" {
		to = graph.Target{Finding: n.behind}
	}
	n.behind = ""
	n.visit(st, visit{to: to, settled: true})
	n.saved, n.resume = nil, n.saved
	n.forgetDanger(g, st)
	t := try{to: to, from: st.ID}
	if n.resume != nil && to.Finding != "" { // it is the place at hand that is meant
		t.place = n.resume.place
	}
	n.enter(g, t)
}

// forgetDanger makes the danger sheet ask anew: there is danger now, whatever was
// said of it before.
func (n *State) forgetDanger(g *graph.Graph, danger *graph.Step) {
	for _, id := range g.StepOrder {
		st := g.Steps[id]
		if st.Sheet != danger.Sheet || st == danger {
			continue
		}
		for k := range n.visited {
			if k.step == id {
				delete(n.visited, k)
			}
		}
		for _, ask := range st.Ask {
			if r := g.Readings[ask]; r.Holds != reading.ForGood {
				n.lapse(n.key(r, ""))
			}
		}
	}
}
