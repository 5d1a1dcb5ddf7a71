package walk

import (
	"math"
	"slices"
	"strings"

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
		if n.odd != nil {
			n.prompt = n.oddPrompt(g)
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
		case atEnd:
			n.next(g)
		}
		if waits {
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
		if p, waits := n.which(g, st, base); waits {
			return p, true
		}
		base.Place = n.at()
	}
	if st.Needs != nil {
		if p, waits := n.askFor(g, needed(st.Needs.F), base); waits {
			return p, true
		}
		d, _ := n.decide(g, st.Needs, n.cur.place)
		if d.Verdict != formula.CertainlyTrue {
			n.shut(g, n.whyNeeds(g, st.Needs), whoFor(d.Verdict, graph.Electrician))
			n.leaveShut(st)
			return base, false
		}
	}
	if st.Each != "" && n.cur.places == nil {
		if !n.placesOK {
			base.Kind, base.Places = WantPlaces, n.placesOf(st.Each)
			return base, true
		}
		n.cur.places = []string{}
		for _, p := range n.placesOf(st.Each) {
			n.cur.places = append(n.cur.places, p.ID)
		}
		if len(n.cur.places) == 0 {
			n.shut(g, "the rig has no place of this kind", graph.Helper)
			n.leaveShut(st)
			return base, false
		}
		n.cur.before, n.cur.place = n.cur.place, n.cur.places[0]
		base.Place = n.at()
	}
	if p, waits := n.askAll(g, st, base); waits {
		return p, true
	}
	return n.branch(g, st, base)
}

// askAll asks what the step asks for, over all its places if it has each.
func (n *State) askAll(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	for {
		if st.Do != "" && !n.cur.done {
			a := g.Actions[st.Do]
			if a.Needs != nil {
				if p, waits := n.askFor(g, needed(a.Needs.F), base); waits {
					return p, true
				}
				if d, _ := n.decide(g, a.Needs, n.cur.place); d.Verdict != formula.CertainlyTrue {
					n.shut(g, n.whyNeeds(g, a.Needs), whoFor(d.Verdict, graph.Stricter(a.Who, graph.Electrician)))
					n.leaveShut(st)
					return base, false
				}
			}
			base.Kind, base.Action, base.Place = WantDone, a, n.at()
			return base, true
		}
		// A step that goes over places and compares them needs all of them.
		if st.Each != "" && n.cur.at < len(n.cur.places) && !n.cur.stopped {
			for _, id := range st.Ask {
				if p, waits := n.ask(g, id, base); waits {
					return p, true
				}
			}
			if st.Until != nil {
				if d, _ := n.decide(g, st.Until, n.cur.place); d.Verdict == formula.CertainlyTrue {
					n.cur.stopped, n.cur.odd = true, true
					return base, false
				}
			}
			n.cur.at++
			if n.cur.at < len(n.cur.places) {
				n.cur.place = n.cur.places[n.cur.at]
				n.cur.done = false
				continue
			}
			n.pickPlace(g, st)
			return base, false
		}
		if st.Each != "" {
			if !n.cur.odd {
				return base, false
			}
			return n.askFor(g, st.Ask, base) // only what was opened again
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
}

// which asks which of the rig's places is meant, if there is more than one. A
// rig without a file has no places to choose from.
func (n *State) which(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	if !n.setup.fromFile {
		return base, false
	}
	places := n.placesOf(st.Which)
	switch len(places) {
	case 0:
		return base, false
	case 1:
		n.cur.place = places[0].ID
		return base, false
	}
	base.Kind, base.Places = WantPlace, places
	return base, true
}

// pickPlace makes the place at hand the one at which a branch with a condition
// holds, or may hold; of several the one that reads highest. If there is none,
// no place is odd and the place at hand is as before.
func (n *State) pickPlace(g *graph.Graph, st *graph.Step) {
	for pass := range 2 {
		best, top := "", math.Inf(-1)
		for _, p := range n.cur.places {
			c := n.choose(g, st, p, true)
			if st.Then[c.branch].If == nil || !c.settled && pass == 0 {
				continue
			}
			if v := n.first(g, st, p); best == "" || v > top {
				best, top = p, v
			}
		}
		if best != "" {
			n.cur.place, n.cur.odd = best, true
			return
		}
	}
	n.cur.place = n.cur.before
}

// first is what the first number that the step asks for reads at a place.
func (n *State) first(g *graph.Graph, st *graph.Step, place string) float64 {
	for _, id := range st.Ask {
		r := g.Readings[id]
		if i, ok := n.now[n.key(r, place)]; ok && n.takes[i].Known && r.Answer == reading.Number {
			return n.takes[i].Value
		}
	}
	return math.Inf(-1)
}

// ask prompts for one reading unless it stands or is known not to be had.
func (n *State) ask(g *graph.Graph, id string, base Prompt) (Prompt, bool) {
	r := g.Readings[id]
	k := n.key(r, n.cur.place)
	if _, ok := n.now[k]; ok {
		return base, false
	}
	base.Kind, base.Reading, base.Place = WantAnswer, r, reading.PlaceOnRig{}
	if k.Place != "" {
		base.Place = n.placeByID(k.Place)
	}
	base.Danger = id == g.DangerReading
	_, base.Opened = n.was[k]
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

// branch takes a branch, or leaves the step open.
func (n *State) branch(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	if st.ID == g.DangerStep {
		n.leaveDanger(g, st)
		return base, false
	}
	c := n.choose(g, st, n.cur.place, true)
	if c.settled {
		n.also(g, st)
		b := st.Then[c.branch]
		assumed, close := n.cur.assumed, n.cur.close
		if b.If != nil && c.verdict == formula.CertainlyTrue && n.speaks(g, b.If) {
			assumed, close = false, false // a reading of its own speaks for it
		}
		n.visit(st, b.To, b.If, c.vals, n.cur.assumed, false)
		n.enter(g, try{to: b.To, place: n.cur.place, assumed: assumed, close: close, from: st.ID})
		return base, false
	}
	if c.verdict == formula.Close && !n.cur.goOn {
		base.Kind, base.Close = WantCloseCall, n.closeCall(g, st, c)
		return base, true
	}
	n.also(g, st)
	first, rest := n.leaveOpen(g, st, c)
	var tries []try
	for _, t := range rest {
		tries = append(tries, try{to: t, place: n.cur.place, assumed: true, from: st.ID})
	}
	n.todo = append(tries, n.todo...)
	isClose := c.verdict != formula.NotSettled
	n.visit(st, first, st.Then[c.branch].If, c.vals, true, isClose)
	n.enter(g, try{to: first, place: n.cur.place, assumed: n.cur.assumed || !isClose,
		close: n.cur.close || isClose, from: st.ID})
	return base, false
}

// speaks says whether a condition rests on something looked at or measured, as
// against facts alone.
func (n *State) speaks(g *graph.Graph, c *graph.Condition) bool {
	for _, ref := range c.F.Refs() {
		if r := g.Readings[ref.Name]; r.Class != reading.Fact {
			if i, ok := n.now[n.key(r, n.cur.place)]; ok && n.takes[i].Known {
				return true
			}
		}
	}
	return false
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
	if to.CarryOn {
		n.visit(st, to, nil, nil, false, false)
		n.behind = ""
		n.cur = *n.saved
		n.saved = nil
		return
	}
	if n.behind != "" {
		to = graph.Target{Finding: n.behind}
	}
	n.visit(st, to, nil, nil, false, false)
	n.saved = nil
	n.enter(g, try{to: to, from: st.ID})
}

// also records second faults that are certain.
func (n *State) also(g *graph.Graph, st *graph.Step) {
	for _, a := range st.Also {
		if d, _ := n.decide(g, a.If, n.cur.place); d.Verdict != formula.CertainlyTrue {
			continue
		}
		known := len(n.told)
		if i := n.find(g, g.Findings[a.Finding], n.cur.place, IsLikely, true); i == known {
			n.told[i].cond = a.If
		}
	}
}

// shut closes the place at hand with a reason.
func (n *State) shut(g *graph.Graph, reason string, who graph.Who) {
	n.closed = append(n.closed, Closed{Step: n.cur.step.ID, Place: n.cur.place, Reason: reason, Who: who})
}

// leaveShut goes on from a step that could not be entered: by its other way if
// it has one.
func (n *State) leaveShut(st *graph.Step) {
	if st.Unknown != nil {
		n.todo = append([]try{{to: *st.Unknown, place: n.cur.place, assumed: true, from: st.ID}}, n.todo...)
	}
	n.cur.mode = atEnd
}

func (n *State) whyNeeds(g *graph.Graph, c *graph.Condition) string {
	v := n.values(g, c.F, n.cur.place)
	var texts []string
	for _, r := range c.F.Because(v, n.shower(g)) {
		texts = append(texts, r.Text)
	}
	return strings.Join(texts, "; ")
}

// enter goes to a target, unless it was entered in this round.
func (n *State) enter(g *graph.Graph, t try) {
	if t.to.Finding != "" {
		n.cur = frame{place: t.place, assumed: t.assumed, close: t.close}
		n.arrive(g, g.Findings[t.to.Finding])
		return
	}
	k := seen{t.to.Step, t.place}
	if n.visited[k] {
		n.cur.mode = atEnd
		return
	}
	n.visited[k] = true
	n.cur = frame{mode: atStep, step: g.Steps[t.to.Step], place: t.place, assumed: t.assumed, close: t.close}
}

// next tells what was found, else takes the next place still to try, else ends
// the walk. A second fault is told once the hunt for the first is over.
func (n *State) next(g *graph.Graph) {
	n.dropMended(g)
	hunting := len(n.todo) > 0 && !n.settled()
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

func (n *State) at() reading.PlaceOnRig {
	if n.cur.place == "" {
		return reading.PlaceOnRig{}
	}
	return n.placeByID(n.cur.place)
}

func (n *State) placesOf(class string) []reading.PlaceOnRig {
	var out []reading.PlaceOnRig
	for _, p := range n.setup.Places {
		if p.Class == class {
			out = append(out, p)
		}
	}
	return out
}
