package walk

import (
	"fmt"
	"maps"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// FromFile is what a rig's file says of reading r at a place, as an event.
func FromFile(r *reading.Reading, place, text string, v reading.Given) Event {
	e := Event{Kind: EvFact, Reading: r.ID, Place: place, Text: text, Choice: v.Choice, About: v.About, Step: v.Digit, Origin: File}
	if r.Answer == reading.Number {
		e.Value = &v.Value
	}
	return e
}

// Typed reads text as an answer to reading r.
func Typed(r *reading.Reading, text string) (Event, error) {
	e := Event{Kind: EvAnswer, Reading: r.ID, Text: text}
	v, err := reading.Typed(r, text)
	if err != nil {
		return e, err
	}
	e.Choice = v.Choice
	if r.Answer == reading.Number {
		e.Value, e.Step, e.About = &v.Value, v.Digit, v.About
	}
	return e, nil
}

// Answers is what a replay knows beforehand.
type Answers struct {
	Facts   []Event // from the rig, given before the complaint
	Symptom string
	Words   string
	// Answers by reading id, or by "reading@place" for one place.
	Answers map[string]Event
	// Later holds what a reading with several answers gives when it is asked for
	// again, in a later round. The last one stays.
	Later map[string][]Event
	// At is the place that is meant where the walk asks which.
	At string
	// After holds, by finding, the proof's readings once its fix is made. A
	// finding that is not in it is left for later.
	After map[string]map[string]Event
}

// Replay walks with answers given beforehand. What is lacking is "don't know",
// close calls go to the better reading if it is given, else to the likelier side, odd values are confirmed, actions count
// as done. It returns the last state and the keys of the answers that were
// never asked for. An event that the walk refuses ends it with an error.
func Replay(g *graph.Graph, setup Setup, a Answers) (*State, []string, error) {
	s := Start(g, setup)
	used := map[string]bool{}
	a.Later = maps.Clone(a.Later) // it is used up
	feed := func(e Event) error {
		n, p := Step(g, s, e)
		if p.Refused != "" {
			return fmt.Errorf("%s: %s", e.Reading, p.Refused)
		}
		s = n
		return nil
	}
	for _, e := range a.Facts {
		if err := feed(e); err != nil {
			return s, nil, err
		}
	}
	if err := feed(Event{Kind: EvComplaint, Symptom: a.Symptom, Words: a.Words}); err != nil {
		return s, nil, err
	}
	for s.Outcome() == Running {
		if err := feed(a.next(s.Prompt(), used)); err != nil {
			return s, nil, err
		}
	}
	var unused []string
	for k := range a.Answers {
		if !used[k] {
			unused = append(unused, k)
		}
	}
	for f, m := range a.After {
		for k := range m {
			if !used[f+"/"+k] {
				unused = append(unused, f+"/"+k)
			}
		}
	}
	slices.Sort(unused)
	return s, unused, nil
}

// next answers one prompt.
func (a Answers) next(p Prompt, used map[string]bool) Event {
	switch p.Kind {
	case WantSure:
		return Event{Kind: EvSure, Reading: p.Reading.ID, Place: p.Place.ID}
	case WantCloseCall:
		if a.better(p.Close.Better, used) {
			return Event{Kind: EvBetter}
		}
		return Event{Kind: EvGoOn}
	case WantDone:
		return Event{Kind: EvDone, Action: p.Action.ID}
	case WantPlace:
		return Event{Kind: EvAt, Place: a.At}
	case WantPlaces:
		return Event{Kind: EvDone, Action: ConfirmPlaces}
	case WantFix:
		if _, ok := a.After[p.Finding.Finding.ID]; ok {
			return Event{Kind: EvDone, Finding: p.Finding.Finding.ID}
		}
		return Event{Kind: EvNotDone, Finding: p.Finding.Finding.ID, Reason: "left for later"}
	}
	if p.Retake != nil { // what is given was given
		return Event{Kind: EvNotKnown, Reading: p.Reading.ID, Place: p.Place.ID, Reason: "given once"}
	}
	keys := []string{p.Reading.ID + "@" + p.Place.ID, p.Reading.ID}
	if p.Proof {
		id := p.Finding.Finding.ID
		for _, k := range keys {
			if e, ok := a.After[id][k]; ok {
				used[id+"/"+k] = true
				e.Place = p.Place.ID
				return e
			}
		}
	} else {
		for _, k := range keys {
			if e, ok := a.Answers[k]; ok {
				if later := a.Later[k]; used[k] && len(later) > 0 {
					e, a.Later[k] = later[0], later[min(1, len(later)-1):]
				}
				used[k] = true
				e.Place = p.Place.ID
				return e
			}
		}
	}
	return Event{Kind: EvNotKnown, Reading: p.Reading.ID, Place: p.Place.ID, Reason: "not given"}
}

// better says whether a better reading is given that was not asked for yet.
func (a Answers) better(b *graph.Better, used map[string]bool) bool {
	return b != nil && slices.ContainsFunc(b.Ask, func(id string) bool {
		_, ok := a.Answers[id]
		return ok && (!used[id] || len(a.Later[id]) > 0)
	})
}

// Know is a state with facts added, whatever they are facts of: what is known when
// everything has been looked at. Facts that can't be are left out. It is for
// judging conditions, and nothing is walked.
func Know(g *graph.Graph, s *State, facts []Event) *State {
	n := s.clone()
	for _, e := range facts {
		if r := g.Readings[e.Reading]; r != nil && n.fits(g, r, e) == "" {
			n.put(g, r, n.factKey(r, e.Place), e, len(n.log), false)
		}
	}
	return n
}
