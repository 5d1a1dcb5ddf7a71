package prove

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// gate is a condition that the knowledge puts before a question: what a step or
// its action needs, or that no branch into stop-work may hold.
type gate struct {
	cond  *graph.Condition
	reads set
}

// wanted is a gate that has to be passed: certainly true, or certainly false for
// one that stops work.
type wanted struct {
	gate int
	bin  int8
}

// way is one step that asks a question, with what has to be known before.
type way struct {
	gates []wanted
	first set // readings that the knowledge puts first for a stated reason
}

// permits says how each question may be come to after a complaint. The reference
// may ask only what the knowledge could: nobody is sent with a probe to where a
// need is not met, and what is asked for safety's sake is asked on both sides.
type permits struct {
	ways   [][]way // by question
	steps  []string
	speaks map[string][]set // by finding: what its branches judge by; one of them must be known
}

// gatesOf lists the gates of a knowledge and remembers them by their text.
func (t *Table) gatesOf(g *graph.Graph) {
	t.gate = map[string]int{}
	add := func(c *graph.Condition) {
		if c == nil {
			return
		}
		if _, ok := t.gate[c.Text]; ok {
			return
		}
		t.gate[c.Text] = len(t.gates)
		t.gates = append(t.gates, gate{c, t.readsOf(c)})
	}
	for _, id := range g.StepOrder {
		st := g.Steps[id]
		add(st.Needs)
		if a := g.Actions[st.Do]; a != nil {
			add(a.Needs)
		}
		for _, b := range st.Then {
			if isStop(g, b.To) {
				add(b.If)
			}
		}
	}
}

func isStop(g *graph.Graph, to graph.Target) bool {
	f := g.Findings[to.Finding]
	return f != nil && f.Stop != graph.NoStop
}

// readsOf are the questions that a condition rests on.
func (t *Table) readsOf(c *graph.Condition) set {
	reads := make(set, t.words)
	for _, ref := range c.F.Refs() {
		if i, ok := t.index[ref.Name]; ok && ref.Form != formula.Was {
			reads.add(i)
		}
	}
	return reads
}

// passes judges the gates of a row.
func (t *Table) passes(g *graph.Graph, s *walk.State, at map[string]string) []int8 {
	out := make([]int8, len(t.gates))
	for i, x := range t.gates {
		place := ""
		for q, question := range t.Questions {
			if x.reads.has(q) && question.Class != "" {
				place = at[question.Class]
			}
		}
		out[i] = verdictBin(s.Judge(g, x.cond, place))
	}
	return out
}

// permits works out the ways to each question after a complaint.
func (t *Table) permits(g *graph.Graph, symptom string) permits {
	p := permits{ways: make([][]way, len(t.Questions)), speaks: map[string][]set{}}
	start := g.Symptoms[symptom].Start
	p.steps = reached(g, start)
	doms := dominators(g, start, p.steps)
	for _, id := range p.steps {
		st := g.Steps[id]
		w := way{first: make(set, t.words)}
		for _, d := range doms[id] {
			if o := g.Steps[d]; o.Order != "" && len(o.Ask) > 0 {
				if i, ok := t.index[o.Ask[0]]; ok {
					w.first.add(i)
				}
			}
		}
		ask := func(reading string, gates []wanted) {
			i, ok := t.index[reading]
			if !ok {
				return
			}
			own := way{first: slices.Clone(w.first)}
			own.first.drop(i)
			for _, x := range gates {
				if !t.gates[x.gate].reads.has(i) {
					own.gates = append(own.gates, x)
				}
			}
			p.ways[i] = append(p.ways[i], own)
		}
		var gates []wanted
		needs := []*graph.Condition{st.Needs}
		if a := g.Actions[st.Do]; a != nil {
			needs = append(needs, a.Needs)
		}
		for _, c := range needs {
			if c == nil {
				continue
			}
			for _, ref := range c.F.Refs() {
				ask(ref.Name, nil)
			}
			gates = append(gates, wanted{t.gate[c.Text], 2})
		}
		for _, b := range st.Then {
			if b.If != nil && isStop(g, b.To) {
				gates = append(gates, wanted{t.gate[b.If.Text], 1})
			}
		}
		for _, r := range st.Ask {
			ask(r, gates)
		}
		p.speak(t, st)
	}
	return p
}

// speak notes what a step judges by before it names a finding: the branch's own
// condition, or for the last branch one of those that do not hold. The walk names
// none without a reading of its own.
func (p *permits) speak(t *Table, st *graph.Step) {
	var before []set
	for _, b := range st.Then {
		own := before
		if b.If != nil {
			own = []set{t.readsOf(b.If)}
			before = append(before, own[0])
		}
		if f := b.To.Finding; f != "" {
			p.speaks[f] = append(p.speaks[f], own...)
		}
	}
}

// reached lists the steps that a walk can come to from a step, in the order in
// which they are met.
func reached(g *graph.Graph, start string) []string {
	var out []string
	seen := map[string]bool{}
	var follow func(id string)
	follow = func(id string) {
		if seen[id] || g.Steps[id] == nil {
			return
		}
		seen[id] = true
		out = append(out, id)
		for _, to := range onward(g, id) {
			follow(to)
		}
	}
	follow(start)
	return out
}

// onward lists the steps that may come after a step, over findings as well.
func onward(g *graph.Graph, id string) []string {
	st := g.Steps[id]
	var out []string
	to := func(t graph.Target) {
		if t.Step != "" {
			out = append(out, t.Step)
		}
		if f := g.Findings[t.Finding]; f != nil {
			for _, x := range f.Onward() {
				if x.Step != "" {
					out = append(out, x.Step)
				}
			}
		}
	}
	for _, b := range st.Then {
		to(b.To)
	}
	if st.Unknown != nil {
		to(*st.Unknown)
	}
	return out
}

// dominators lists for each step those that no walk to it can pass by, itself with
// them: a step is one of another if without it the other can't be come to.
func dominators(g *graph.Graph, start string, steps []string) map[string][]string {
	out := map[string][]string{}
	for _, d := range steps {
		if g.Steps[d].Order == "" {
			continue // nobody asks
		}
		seen := map[string]bool{d: true}
		var follow func(id string)
		follow = func(id string) {
			if seen[id] || g.Steps[id] == nil {
				return
			}
			seen[id] = true
			for _, to := range onward(g, id) {
				follow(to)
			}
		}
		follow(start)
		for _, id := range steps {
			if id == d || !seen[id] {
				out[id] = append(out[id], d)
			}
		}
	}
	return out
}
