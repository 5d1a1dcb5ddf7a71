package drill

import (
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// Path is how the knowledge itself goes from the complaint to the cause on the
// same rig.
type Path struct {
	Readings int // facts and the danger question not counted
	Minutes  float64
	Steps    []string         // the readings, in words, in their order
	Asked    []walk.Key       // the same, by their keys
	Found    []*graph.Finding // in the order in which they were told
	again    []int            // steps before which the customer rang again
	stood    []string         // states of the rig at the latest reading
	Right    bool             // every hidden fault is among what was found
}

// mostPrompts ends a walk that would go on for ever.
const mostPrompts = 300

// PathOf walks the knowledge on the case's rig, as a person would who answers all
// it asks and does all it says, up to the finding that names what is hidden. Where
// more is hidden, it is asked again with what is complained of then.
func PathOf(g *graph.Graph, c Case, setup walk.Setup) (Path, error) {
	r, err := c.rig()
	if err != nil {
		return Path{}, err
	}
	usual, err := usually(c.Make)
	if err != nil {
		return Path{}, err
	}
	setup.Places = c.Sys.Places
	var p Path
	open := slices.Clone(c.Sets)
	for symptom := c.Symptom; symptom != ""; symptom = nextComplaint(g, r, usual) {
		before := len(open)
		if symptom != c.Symptom || len(p.Steps) > 0 {
			p.again = append(p.again, len(p.Steps))
		}
		r.Complain(symptom)
		open = p.walk(g, c, r, setup, symptom, open)
		if len(open) == 0 || len(open) == before {
			break
		}
	}
	p.Right = len(open) == 0
	return p, nil
}

// walk follows the knowledge from one complaint, and gives what is still hidden at
// its end.
func (p *Path) walk(g *graph.Graph, c Case, r Rig, setup walk.Setup, symptom string, open []simrig.Set) []simrig.Set {
	s := walk.Start(g, setup)
	for _, e := range c.Facts {
		s, _ = walk.Step(g, s, e)
	}
	s, _ = walk.Step(g, s, walk.Event{Kind: walk.EvComplaint, Symptom: symptom})
	p.stood = nil
	for range mostPrompts {
		w := s.Prompt()
		if w.Kind == walk.WantFix || w.Kind == walk.Ended && w.Finding != nil {
			f := w.Finding.Finding
			p.Found = append(p.Found, f)
			hit := false
			open = slices.DeleteFunc(open, func(x simrig.Set) bool {
				if !covers(f, x.Fault) {
					return false
				}
				r.Repair(x.Fault)
				hit = true
				return true
			})
			if hit {
				break
			}
		}
		if w.Kind == walk.Ended {
			break
		}
		e := Reply(r, w)
		if e.Kind == walk.EvAnswer {
			p.note(g, w, e)
		}
		Carry(r, w, e, c.Sets)
		next, q := walk.Step(g, s, e)
		if q.Refused != "" { // what can't be answered so is not known
			next, q = walk.Step(g, s, walk.Event{Kind: walk.EvNotKnown, Reading: e.Reading, Place: e.Place, Reason: q.Refused})
			if q.Refused != "" {
				break
			}
		}
		s = next
	}
	return open
}

func (p *Path) note(g *graph.Graph, w walk.Prompt, e walk.Event) {
	r := w.Reading
	if r.ID == g.DangerReading || r.Class == reading.Fact {
		return
	}
	p.Readings++
	p.Minutes += minutesFor(r, p.stood)
	p.stood = r.State
	step := upper(r.Name)
	if w.Place.Name != "" {
		step += ", at " + w.Place.Name
	}
	p.Steps = append(p.Steps, step)
	p.Asked = append(p.Asked, e.Key())
}

// Reply is what a person at the rig answers to a prompt.
func Reply(r Rig, p walk.Prompt) walk.Event {
	switch p.Kind {
	case walk.WantAnswer:
		return Event(p.Reading, p.Place.ID, r.Take(p.Reading.ID, p.Place.ID))
	case walk.WantSure:
		return walk.Event{Kind: walk.EvSure, Reading: p.Reading.ID, Place: p.Place.ID}
	case walk.WantCloseCall:
		if b := p.Close.Better; b != nil && b.If != nil { // the same once more reads the same here
			return walk.Event{Kind: walk.EvBetter}
		}
		return walk.Event{Kind: walk.EvGoOn}
	case walk.WantPlace:
		at := r.Focus()
		if !slices.ContainsFunc(p.Places, func(x reading.PlaceOnRig) bool { return x.ID == at }) {
			at = ""
		}
		return walk.Event{Kind: walk.EvAt, Place: at}
	case walk.WantDone:
		return walk.Event{Kind: walk.EvDone, Action: p.Action.ID}
	case walk.WantFix:
		return walk.Event{Kind: walk.EvDone, Finding: p.Finding.Finding.ID}
	}
	return walk.Event{Kind: walk.EvDone, Action: walk.ConfirmPlaces}
}

// Carry does to the rig what an event says was done: an action, or a fix, which
// mends the faults that its finding names and no others.
func Carry(r Rig, p walk.Prompt, e walk.Event, sets []simrig.Set) {
	if e.Kind != walk.EvDone {
		return
	}
	switch p.Kind {
	case walk.WantDone:
		r.Do(p.Action.ID)
	case walk.WantFix:
		for _, s := range sets {
			if covers(p.Finding.Finding, s.Fault) {
				r.Repair(s.Fault)
			}
		}
	}
}
