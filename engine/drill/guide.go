package drill

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// Guide stands for the rig while the chat asks: it takes the readings asked for,
// has done what the person says is done, and tells at the end what was hidden.
// What is mended stays mended, whatever the person takes back in the chat.
type Guide struct {
	g      *graph.Graph
	c      Case
	rig    Rig
	style  quantity.Style
	mended map[string]bool
}

// NewGuide makes a guide. An error says that the rig can't be solved.
func NewGuide(g *graph.Graph, c Case, style quantity.Style) (*Guide, error) {
	r, err := c.rig()
	if err != nil {
		return nil, fmt.Errorf("the rig to practise on can't be solved: %w", err)
	}
	return &Guide{g: g, c: c, rig: r, style: style, mended: map[string]bool{}}, nil
}

// Story is the complaint in a customer's words.
func (u *Guide) Story() string { return storyOf(u.g, u.rig, u.c.Symptom) }

// Measure answers a prompt from the rig: what a person would see there, in words,
// and the event that says so. False means that the prompt asks for no reading.
func (u *Guide) Measure(p walk.Prompt) (words string, e walk.Event, ok bool) {
	switch p.Kind {
	case walk.WantComplaint:
		x := u.g.Symptoms[u.c.Symptom]
		if x == nil {
			return "", walk.Event{}, false
		}
		return "The customer means this: " + lower(stopped(x.Label)), walk.Event{Kind: walk.EvComplaint, Symptom: x.ID}, true
	case walk.WantAnswer, walk.WantSure:
		a := u.rig.Take(p.Reading.ID, p.Place.ID)
		e = Event(p.Reading, p.Place.ID, a)
		words = Words(u.g, p.Reading, a, u.style)
		if p.Reading.Answer == reading.YesNo && a.Known {
			words = upper(a.Choice) + "."
		}
		if a.Known {
			e.Text = Value(p.Reading, a, u.style)
		}
		if p.Kind == walk.WantSure && a.Known {
			return words + " It really does.", walk.Event{Kind: walk.EvSure, Reading: p.Reading.ID, Place: p.Place.ID}, true
		}
		return words, e, true
	case walk.WantPlace:
		e = Reply(u.rig, p)
		words = "It is none of these."
		for _, x := range p.Places {
			if x.ID == e.Place {
				words = "It is " + x.Name + "."
			}
		}
		return words, e, true
	case walk.WantPlaces:
		return "The rig has these.", Reply(u.rig, p), true
	}
	return "", walk.Event{}, false
}

// Took hears of an event that the chat has taken, and does to the rig what it says
// was done.
func (u *Guide) Took(p walk.Prompt, e walk.Event) {
	if e.Kind == walk.EvComplaint {
		u.rig.Complain(e.Symptom)
		return
	}
	Carry(u.rig, p, e, u.c.Sets)
	if e.Kind == walk.EvDone && p.Kind == walk.WantFix {
		for _, s := range u.c.Sets {
			if covers(p.Finding.Finding, s.Fault) {
				u.mended[s.Fault] = true
			}
		}
	}
}

// Reveal says what was hidden in the rig, and whether it has been found.
func (u *Guide) Reveal(told []walk.Told) []string {
	var out []string
	for _, s := range u.c.Sets {
		out = append(out, hidden(u.c, s))
		found := slices.ContainsFunc(told, func(t walk.Told) bool {
			return t.Status != walk.IsRefuted && covers(t.Finding, s.Fault)
		})
		switch {
		case u.mended[s.Fault]:
			out = append(out, "It was found and mended.")
		case found:
			out = append(out, "It was found.")
		default:
			out = append(out, "It was not found.")
		}
	}
	if len(out) == 0 {
		out = []string{"Nothing was wrong with this rig."}
	}
	return out
}

// hidden is one fault of a case, in words, with its place.
func hidden(c Case, s simrig.Set) string {
	text := s.Fault
	if f := faultByID(c.Faults, s.Fault); f != nil {
		text = f.Name
	}
	for _, p := range placesOf(c.Sys) {
		if p.id == s.At && !strings.Contains(text, p.name) {
			return "What was hidden: " + text + ", at " + p.name + "."
		}
	}
	for _, l := range c.Sys.Loads {
		if l.ID == s.At && l.Name != "" {
			return "What was hidden: " + text + ", at " + l.Name + "."
		}
	}
	return "What was hidden: " + text + "."
}
