package walk

import (
	"fmt"
	"slices"

	"hotlug/engine/graph"
)

// Before is the state before the last event, nil at the start.
func (s *State) Before() *State { return s.prev }

// back is the state before the last event.
func (s *State) back() (*State, Prompt) {
	if s.prev == nil || s.symptom == "" {
		r := *s
		r.prompt.Refused = "There is nothing to go back to."
		return &r, r.prompt
	}
	return s.prev, s.prev.prompt
}

// change walks again from the start without one answer. The other answers are
// given when the walk asks for them; what it no longer asks for is kept aside.
func (s *State) change(g *graph.Graph, e Event) (*State, Prompt) {
	at := -1
	for i, ev := range s.log {
		if ev.answers() && ev.Reading == e.Reading && (e.Place == "" || ev.Place == e.Place) && !slices.Contains(s.stale, i) {
			at = i
		}
	}
	if at < 0 {
		r := *s
		r.prompt.Refused = fmt.Sprintf("%q has not been answered yet.", e.Reading)
		return &r, r.prompt
	}
	setup := s.setup
	if !setup.fromFile {
		setup.Places = nil
	}
	n := Start(g, setup)
	n.held = s.others(g, at)
	n.supply(g)
	n.prev = s
	return n, n.prompt
}

// answers says whether the event gives a reading its answer.
func (e Event) answers() bool { return e.Kind == EvAnswer || e.Kind == EvNotKnown || e.Kind == EvFact }

// others lists what was said besides answer at: without what was taken again
// since, and without what was asked because of a danger word.
func (s *State) others(g *graph.Graph, at int) []Event {
	var out []Event
	danger := false // the answer to a danger word is yet to come
	unsure := map[Key]bool{}
	for i, ev := range s.log {
		e := *ev
		switch {
		case e.answers() && (i == at || slices.Contains(s.stale, i)):
			unsure[e.Key()] = true // and so falls what was said to confirm it
		case e.Kind == EvNotKnown && e.Again: // it was not taken again
		case e.Kind == EvSure && unsure[e.Key()]:
		case danger && e.answers() && e.Reading == g.DangerReading:
			danger = false
		case e.Kind == EvDanger:
			danger = true
		case e.Kind != EvAgain && e.Kind != EvResumed:
			if e.answers() {
				unsure[e.Key()] = false
			}
			out = append(out, e)
		}
	}
	return out
}

// ConfirmPlaces is the Action of a Done or NotDone that answers WantPlaces.
const ConfirmPlaces = "confirm-places"

// supply gives held answers to the walk as long as it asks for them.
func (n *State) supply(g *graph.Graph) {
	for len(n.held) > 0 {
		i := slices.IndexFunc(n.held, func(e Event) bool { return n.wants(e) })
		if i < 0 {
			return
		}
		e := n.held[i]
		next, refused := n.apply(g, e)
		if refused != "" {
			n.held = slices.Delete(slices.Clone(n.held), i, i+1)
			continue
		}
		next.held = slices.Delete(slices.Clone(n.held), i, i+1)
		next.prev = n.prev // what was supplied is undone together
		*n = *next
	}
}

// wants says whether the event answers the prompt as it stands.
func (n *State) wants(e Event) bool {
	p := n.prompt
	if e.Kind == EvFact { // one that was told after a fix counts from there on
		return p.Kind != Ended && (e.opened == "" || e.opened == n.opened)
	}
	if p.Retake != nil { // it is asked because what was said before is doubted
		return false
	}
	switch p.Kind {
	case WantComplaint:
		return e.Kind == EvComplaint
	case WantAnswer:
		return (e.Kind == EvAnswer || e.Kind == EvNotKnown) && e.Reading == p.Reading.ID && e.Place == p.Place.ID && e.opened == n.opened
	case WantSure:
		return e.Kind == EvSure && e.Reading == p.Reading.ID && e.Place == p.Place.ID
	case WantCloseCall:
		return (e.Kind == EvGoOn || e.Kind == EvBetter && p.Close.Better != nil) && (e.decided == "" || e.decided == n.decides())
	case WantDone:
		return (e.Kind == EvDone || e.Kind == EvNotDone) && e.Action == p.Action.ID
	case WantPlaces:
		return (e.Kind == EvDone || e.Kind == EvNotDone) && e.Action == ConfirmPlaces
	case WantPlace:
		return e.Kind == EvAt
	case WantFix:
		return (e.Kind == EvDone || e.Kind == EvNotDone) && e.Finding == p.Finding.Finding.ID
	}
	return false
}
