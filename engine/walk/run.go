package walk

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// advance goes on until something is wanted from the person, and leaves that in
// n.prompt.
func (n *State) advance(g *graph.Graph) {
	for {
		if n.outcome != Running {
			n.prompt = n.ended(g)
			return
		}
		var p Prompt
		var waits bool
		switch n.cur.mode {
		case atComplaint:
			n.prompt = Prompt{Kind: WantComplaint, Round: n.round} // facts may come in before it
			return
		case atStep:
			p, waits = n.runStep(g)
		case atFix:
			p, waits = n.fixPrompt(g), true
		case atProof:
			p, waits = n.runProof(g)
		case atRetake:
			p, waits = n.retakePrompt(g), true
		case atEnd:
			n.next(g)
		}
		if waits {
			p = n.ifOdd(g, p)
			n.warn(g, &p)
			n.prompt = p
			return
		}
	}
}

// runStep does what the step wants next: its needs, its places, its action, its
// questions, its branches.
func (n *State) runStep(g *graph.Graph) (Prompt, bool) {
	st := n.cur.step
	base := Prompt{Step: st, Round: n.round, Place: n.at()}
	if st.Danger && !n.cur.danger && n.saved == nil {
		n.cur.danger = true
		if n.fresh != n.asked {
			at := n.cur
			n.saved = &at
			n.behind = ""
			n.enterDanger(g)
			return base, false
		}
	}
	if st.Which != "" && !n.cur.asked && n.classOf(n.cur.place) != st.Which {
		n.cur.asked = true
		if p, waits := n.which(g, st, base); waits || n.cur.mode == atEnd {
			return p, waits
		}
		base.Place = n.at()
	}
	if st.Each != "" && n.cur.places == nil {
		if p, waits := n.openPlaces(g, st, base); waits || n.cur.mode == atEnd {
			return p, waits
		}
	}
	if p, waits := n.askAll(g, st, base); waits || n.cur.mode == atEnd {
		return p, waits
	}
	base.Place = n.at()
	return n.branch(g, st, base)
}

// askAll asks what the step asks for, over all its places if it has each. It
// leaves the mode at the end when no place is open.
func (n *State) askAll(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	if st.Each != "" {
		return n.askPlaces(g, st, base)
	}
	if p, waits, ok := n.ready(g, st, base); !ok {
		return p, waits
	}
	for _, id := range st.Ask {
		if n.choose(g, st, n.cur.place, false).settled {
			return base, false
		}
		if p, waits := n.ask(g, id, base); waits {
			return p, true
		}
	}
	return base, false
}

// ask prompts for one reading unless it stands or is known not to be had.
func (n *State) ask(g *graph.Graph, id string, base Prompt) (Prompt, bool) {
	r := g.Readings[id]
	k := n.key(r, n.cur.place)
	if n.now.has(k) {
		return base, false
	}
	base.Kind, base.Reading, base.Place = WantAnswer, r, reading.PlaceOnRig{}
	if k.Place != "" {
		base.Place = n.placeByID(k.Place)
	}
	base.Danger = id == g.DangerReading
	base.Opened = n.was.has(k)
	if b := n.cur.finer; b != nil && slices.Contains(b.Ask, id) {
		base.Better = b
	}
	return base, true
}

func (n *State) askFor(g *graph.Graph, ids []string, base Prompt) (Prompt, bool) {
	for _, id := range ids {
		if p, waits := n.ask(g, id, base); waits {
			return p, true
		}
	}
	return base, false
}

// branch takes a branch, or leaves the step open.
func (n *State) branch(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	if st.ID == g.DangerStep {
		n.leaveDanger(g, st)
		return base, false
	}
	c := n.choose(g, st, n.cur.place, true)
	if st.Each != "" && !n.cur.odd { // at no place does another branch hold
		c = choice{settled: true, branch: len(st.Then) - 1}
	}
	if c.settled {
		n.also(g, st)
		b := st.Then[c.branch]
		assumed, close := n.cur.assumed, n.cur.close
		if b.If != nil && c.verdict == formula.CertainlyTrue && n.speaks(g, c.cond) {
			assumed, close = false, false // a reading of its own speaks for it
		}
		n.visit(st, visit{to: b.To, cond: c.cond, vals: c.vals, assumed: n.cur.assumed, settled: true})
		n.enter(g, try{to: b.To, place: n.cur.place, assumed: assumed, close: close, calls: n.cur.calls, from: st.ID})
		return base, false
	}
	if c.verdict == formula.Close && !n.cur.goOn {
		if b := n.cur.finer; b != nil {
			if p, waits := n.askFor(g, b.Ask, base); waits {
				return p, true
			}
		}
		base.Kind, base.Close = WantCloseCall, n.closeCall(g, st, c)
		return base, true
	}
	n.also(g, st)
	first, rest := n.leaveOpen(g, st, c)
	n.keep(st, rest)
	isClose := c.verdict != formula.NotSettled
	calls := n.cur.calls
	if isClose {
		calls = append(slices.Clip(calls), n.sentence(g, c.cond, c.vals))
	}
	n.visit(st, visit{to: first, cond: c.cond, vals: c.vals, assumed: true, close: isClose, rest: rest})
	n.enter(g, try{to: first, place: n.cur.place, assumed: n.cur.assumed || !isClose,
		close: n.cur.close || isClose, calls: calls, from: st.ID})
	return base, false
}

// speaks says whether a condition rests on something looked at or measured, as
// against facts alone.
func (n *State) speaks(g *graph.Graph, c *graph.Condition) bool {
	for _, ref := range c.F.Refs() {
		if r := g.Readings[ref.Name]; r.Class != reading.Fact {
			if i, ok := n.now.get(n.key(r, n.cur.place)); ok && n.takes[i].Known {
				return true
			}
		}
	}
	return false
}

// also records second faults that are certain.
func (n *State) also(g *graph.Graph, st *graph.Step) {
	for _, a := range st.Also {
		if d, _ := n.decide(g, a.If, n.cur.place); d.Verdict != formula.CertainlyTrue {
			continue
		}
		f := g.Findings[a.Finding]
		if f.Stop != graph.NoStop {
			n.find(g, f, n.cur.place, IsHandedOver, true)
			if f.Stop == graph.StopWalk {
				n.outcome = Stopped
			}
			continue
		}
		known := len(n.told)
		if i := n.find(g, f, n.cur.place, IsLikely, true); i == known {
			n.told[i].cond = a.If
		}
	}
}

// enter goes to a target, unless it was entered in this round.
func (n *State) enter(g *graph.Graph, t try) {
	if t.to.CarryOn { // from a later step of the danger sheet
		n.cur.mode = atEnd
		if n.resume != nil {
			n.cur, n.resume = *n.resume, nil
		}
		return
	}
	if t.to.Finding != "" {
		n.cur = frame{place: t.place, assumed: t.assumed, close: t.close, calls: t.calls}
		n.arrive(g, g.Findings[t.to.Finding])
		return
	}
	k := seen{t.to.Step, t.place}
	if n.visited[k] || t.assumed && n.guessed[k] {
		n.cur.mode = atEnd
		return
	}
	n.visited[k] = true
	if t.assumed {
		n.guessed[k] = true
	}
	n.cur = frame{mode: atStep, step: g.Steps[t.to.Step], place: t.place, entry: t.place, assumed: t.assumed,
		close: t.close, calls: t.calls, from: len(n.takes)}
	n.lapseTogether(g)
}

// keep puts targets before the places still to try. One that waits already moves
// to the front rather than standing twice.
func (n *State) keep(st *graph.Step, targets []graph.Target) {
	var tries []try
	for _, to := range targets {
		t := try{to: to, place: n.cur.place, assumed: true, calls: n.cur.calls, from: st.ID}
		tries = append(tries, t)
		n.todo = slices.DeleteFunc(n.todo, func(o try) bool { return o.to == t.to && o.place == t.place })
	}
	n.todo = append(tries, n.todo...)
}

// next tells what was found, else takes the next place still to try, else ends
// the walk. A second fault is told once the hunt for the first is over.
func (n *State) next(g *graph.Graph) {
	n.resume = nil
	n.dropMended(g)
	if n.failed {
		n.failed = false
		if n.doubtful(g, true) {
			return
		}
	}
	hunting := len(n.todo) > 0 && (n.todo[0].owed || !n.settled())
	if i := n.untold(hunting); i >= 0 {
		n.cur = frame{mode: atFix, told: i, place: n.told[i].Place.ID}
		n.told[i].shown = true
		return
	}
	if hunting {
		t := n.todo[0]
		n.todo = n.todo[1:]
		n.enter(g, t)
		return
	}
	n.outcome = Narrowed
	for _, t := range n.told {
		if t.Status == IsLikely || t.Status == IsProven {
			n.outcome = Found
		}
	}
	if n.outcome == Narrowed && n.doubtful(g, false) {
		n.outcome = Running
	}
}

// dropMended forgets second faults that another fix has mended meanwhile.
func (n *State) dropMended(g *graph.Graph) {
	n.told = slices.DeleteFunc(n.told, func(t Told) bool {
		if t.cond == nil || t.shown || !t.Second {
			return false
		}
		d, _ := n.decide(g, t.cond, t.Place.ID)
		return d.Verdict == formula.CertainlyFalse
	})
}

// settled says that a first fault is likely or proven.
func (n *State) settled() bool {
	for _, t := range n.told {
		if !t.Second && (t.Status == IsLikely || t.Status == IsProven) {
			return true
		}
	}
	return false
}
