package walk

import (
	"math"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// The odd answer. When a proof fails, or nothing is left to try, one of the
// answers may have been wrong. If every answer is as likely to be, it is the one
// that by itself rules out the most of what else could be the cause; of a choice of
// many, each other option has its share only, as a slip goes to one of them. Where
// that is more than all that is still open, the answer is taken again before the
// next place still to try. If it comes out otherwise, the walk is walked anew with
// it and with all other answers.

// mostRetakes is how many answers are taken again in one walk: somebody who is
// asked for a fourth one stops believing in the first three (practice).
const mostRetakes = 3

// Retake is an answer that is taken again because it fits the rest worst.
type Retake struct {
	Was    Take
	Failed bool // a proof has failed; else nothing is left to try
}

// doubtful starts to take an answer again, if there is one to be doubted.
func (n *State) doubtful(g *graph.Graph, failed bool) bool {
	count := 0
	for _, e := range n.log {
		if e.Again {
			count++
		}
	}
	if count >= mostRetakes {
		return false
	}
	if !failed && n.explained() {
		return false
	}
	least := 0.0
	_, via := n.reachable(g)
	for id := range via {
		least += g.Findings[id].Often.Weight()
	}
	best, top := -1, least
	for _, on := range n.now {
		if w := n.rulesOut(g, on, via); w > top {
			best, top = on.take, w
		}
	}
	if best < 0 {
		return false
	}
	n.cur = frame{mode: atRetake, retake: best, retakeFailed: failed, place: n.takes[best].Place}
	return true
}

// explained says that there is a reason why nothing was found that is no wrong
// answer: something could not be had, or was not to be entered.
func (n *State) explained() bool {
	return len(n.closed) > 0 ||
		slices.ContainsFunc(n.now, func(on standing) bool { return !n.takes[on.take].Known }) ||
		slices.ContainsFunc(n.told, func(t Told) bool { return t.Status == IsHandedOver })
}

// rulesOut is the weight of the causes that would be open if one answer were not
// known; 0 for an answer that is not to be doubted.
func (n *State) rulesOut(g *graph.Graph, on standing, via map[string]string) float64 {
	t := n.takes[on.take]
	r := g.Readings[t.Reading]
	if on.take == len(n.takes)-1 || // given a moment ago
		!t.Known || t.Sure || t.Again || t.Origin == File || t.Origin == Worked || t.Origin == Assumed ||
		r.ID == g.DangerReading || r.Class == reading.Fact && r.Answer != reading.Number {
		return 0
	}
	found := map[string]bool{}
	for i := range n.trail {
		v := &n.trail[i]
		if j, ok := v.now.get(on.key); !ok || j != on.take || v.step.ID == g.DangerStep || !uses(n, v, on.key, g) {
			continue
		}
		then := *n
		then.now, then.was = v.now.without(on.key), v.was
		for _, b := range then.open(g, v.step, v.place) {
			to := v.step.Then[b].To
			if to == v.to || slices.Contains(v.rest, to) {
				continue
			}
			for _, id := range append([]string{to.Finding}, g.Reach(to.Step)...) {
				f := g.Findings[id]
				if _, open := via[id]; f != nil && !open && !n.refuted[id] && f.Stop == graph.NoStop {
					found[id] = true
				}
			}
		}
	}
	w := 0.0
	for id := range found {
		w += g.Findings[id].Often.Weight()
	}
	switch {
	case t.About: // said to be rough
		return 2 * w
	case r.Class == reading.Fact: // read off a label
		return w / 2
	case r.Answer == reading.Choice:
		return w / float64(max(1, len(r.Options)-1))
	}
	return w
}

// uses says whether a branch of the step that was left rests on what is filed
// under k.
func uses(n *State, v *visit, k Key, g *graph.Graph) bool {
	for _, b := range v.step.Then {
		if b.If == nil {
			continue
		}
		for _, ref := range b.If.F.Refs() {
			if n.key(g.Readings[ref.Name], v.place) == k {
				return true
			}
		}
	}
	return false
}

// retakePrompt asks for the odd answer once more.
func (n *State) retakePrompt(g *graph.Graph) Prompt {
	t := n.takes[n.cur.retake]
	p := Prompt{Kind: WantAnswer, Reading: g.Readings[t.Reading], Round: n.round, Opened: true,
		Retake: &Retake{Was: *t, Failed: n.cur.retakeFailed}}
	if t.Place != "" {
		p.Place = n.placeByID(t.Place)
	}
	return p
}

// Agrees says whether an answer that was taken again says the same as before:
// the same word, or a number within the errors of the two.
func (s *State) Agrees(g *graph.Graph, e Event) bool {
	if s.prompt.Retake != nil && e.Kind == EvSure && s.cur.doubt != nil {
		e = *s.cur.doubt
	}
	if s.prompt.Retake == nil || e.Kind != EvAnswer {
		return true
	}
	r, was := s.prompt.Reading, s.prompt.Retake.Was
	switch r.Answer {
	case reading.YesNo:
		return (e.Choice == "yes") == (was.Choice == 1)
	case reading.Choice:
		return r.OptionByID(e.Choice) == was.Choice
	}
	a, b := s.measured(r, &was), s.measured(r, s.taken(g, r, e))
	return math.Abs(a.Mid-b.Mid) <= a.Hi-a.Mid+b.Hi-b.Mid
}

// otherwise walks anew where an answer that was taken again comes out otherwise:
// with it in the place of the old one, and with all other answers. It is nil if
// the event is no such answer.
func (s *State) otherwise(g *graph.Graph, e Event) *State {
	rt := s.prompt.Retake
	switch {
	case rt == nil:
		return nil
	case s.prompt.Kind == WantSure && e.Kind == EvSure:
		at := e.At
		e = *s.cur.doubt
		e.At = at
	case e.Kind != EvAnswer || e.Reading != s.prompt.Reading.ID || e.Place != s.prompt.Place.ID || s.fits(g, s.prompt.Reading, e) != "":
		return nil
	case s.prompt.Reading.Answer == reading.Number && *e.Value != s.cur.doubtful():
		if _, odd := s.asksBack(g, s.prompt.Reading, e); odd {
			return nil
		}
	}
	if s.Agrees(g, e) {
		return nil
	}
	e.Again, e.opened = true, s.log[rt.Was.event].opened
	setup := s.setup
	if !setup.fromFile {
		setup.Places = nil
	}
	n := Start(g, setup)
	n.held = append(s.others(g, rt.Was.event), e)
	n.supply(g)
	n.prev = s
	n.warnAnew(g)
	return n
}

// doubtful is the odd value that waits to be confirmed, NaN for none.
func (f *frame) doubtful() float64 {
	if f.doubt == nil {
		return math.NaN()
	}
	return *f.doubt.Value
}

// retaken files an answer that was taken again and agrees, or that could not be
// had: the old one stands, and is not doubted any more.
func (n *State) retaken(e Event, at int) {
	old := n.takes[n.cur.retake]
	t := *old
	t.Again = true
	noted := *n.log[at]
	noted.Again = true
	if e.Kind == EvAnswer {
		t.event = at
		noted.opened = n.log[old.event].opened
		n.stale = append(n.stale, old.event)
	}
	n.log[at] = &noted
	n.takes = slices.Clone(n.takes)
	n.takes[n.cur.retake] = &t
	n.asked++
	n.cur.mode = atEnd
}
