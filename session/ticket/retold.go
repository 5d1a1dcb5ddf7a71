package ticket

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// Walk is what a ticket was concluded from: whoever has it can walk it again, on
// the same knowledge or on another, and see what comes out.
type Walk struct {
	Units  string       `json:"units"`            // metric or us
	Places []Place      `json:"places,omitempty"` // from the rig file; without, the knowledge's standard path
	Events []walk.Event `json:"events"`
}

// Place is something that the rig has several of.
type Place struct {
	ID    string `json:"id"`
	Class string `json:"class"`
	Name  string `json:"name"`
	Like  string `json:"like,omitempty"`
}

// WalkOf is the walk of a session: its setup and its events.
func WalkOf(s walk.Setup, events []walk.Event) Walk {
	w := Walk{Units: "metric", Events: slices.Clone(events)}
	if w.Events == nil {
		w.Events = []walk.Event{}
	}
	if s.Style.US {
		w.Units = "us"
	}
	for _, p := range s.Places {
		w.Places = append(w.Places, Place{p.ID, p.Class, p.Name, p.Like})
	}
	return w
}

// Setup is what the walk starts from.
func (w Walk) Setup() walk.Setup {
	s := walk.Setup{Style: quantity.Style{US: w.Units == "us"}}
	for _, p := range w.Places {
		s.Places = append(s.Places, reading.PlaceOnRig{ID: p.ID, Class: p.Class, Name: p.Name, Like: p.Like})
	}
	return s
}

// Retell makes the ticket of a walk on the knowledge at hand. It says how many of
// the events were taken in their order: on other knowledge the walk may part from
// them, and what fits is used where it is asked for.
func Retell(g *graph.Graph, w Walk, a About) (t Ticket, s *walk.State, taken int) {
	s, taken = walk.Refold(g, w.Setup(), w.Events)
	t = Make(g, s, a)
	t.Walk = &w
	return t, s, taken
}

// About is what the ticket holds besides the walk.
func (t Ticket) About() About {
	return About{Session: t.Session, Program: t.Program, Rig: t.Rig, Created: t.Created, Began: t.Knowledge.Hash,
		Notes: t.Notes, Photos: t.Photos, Redacted: t.Redacted}
}

// Caps on a ticket that somebody sends. They are far above what anybody walks.
const (
	MostTicket = 8 << 20 // bytes of a file
	mostEvents = 20000
	mostPlaces = 1000
)

// Read reads a ticket in its JSON form. It is checked as far as a walk needs it;
// what the walk itself refuses, it refuses when it is walked.
func Read(b []byte) (Ticket, error) {
	var t Ticket
	if len(b) > MostTicket {
		return t, fmt.Errorf("the ticket is larger than %d MiB", MostTicket>>20)
	}
	if err := json.Unmarshal(b, &t); err != nil {
		return t, fmt.Errorf("it is no ticket: %w", err)
	}
	switch {
	case t.Format > Format:
		return t, fmt.Errorf("the ticket is of format %d; this program reads up to %d. Take a newer one", t.Format, Format)
	case t.Format != Format:
		return t, errors.New("it is no ticket: it does not say format: 1")
	case t.Walk == nil || t.Walk.Events == nil:
		return t, errors.New("the ticket does not hold its walk, so it can't be walked again. Write it anew with `hotlug ticket SESSION --format json`")
	case len(t.Walk.Events) > mostEvents || len(t.Walk.Places) > mostPlaces:
		return t, fmt.Errorf("the ticket holds more than %d events or %d places", mostEvents, mostPlaces)
	}
	seen := map[string]bool{}
	for i, p := range t.Walk.Places {
		if p.ID == "" || p.Name == "" || seen[p.ID] || !slices.Contains(reading.PlaceClasses, p.Class) {
			return t, fmt.Errorf("walk.places: number %d has no id, no name, the id of another, or a class that is none of %v", i+1, reading.PlaceClasses)
		}
		seen[p.ID] = true
	}
	return t, nil
}

// Same says in what two tickets of one walk differ, "" if they conclude the same.
func Same(a, b Ticket) string {
	if a.Symptom != b.Symptom {
		return fmt.Sprintf("the complaint was %q and is %q", a.Symptom, b.Symptom)
	}
	if a.Outcome != b.Outcome {
		return fmt.Sprintf("it ended %q and ends %q", a.Outcome, b.Outcome)
	}
	x, y := concluded(a), concluded(b)
	if !slices.Equal(x, y) {
		return fmt.Sprintf("it found %v and finds %v", x, y)
	}
	return ""
}

func concluded(t Ticket) []string {
	out := []string{}
	for _, f := range t.Findings {
		out = append(out, fmt.Sprintf("%s (%s)", f.ID, f.Status))
	}
	return out
}
