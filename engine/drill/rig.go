package drill

import (
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// Rig is what a drill is played on; *simrig.Sim is one.
type Rig interface {
	Take(reading, place string) simrig.Answer
	Do(action string)
	Repair(fault string)
	Complain(symptom string)
	Symptoms(among ...string) []string
	Focus() string
	Plant() *simrig.Plant
	Story() string
}

// Make builds a rig with these faults in it, with meters of a class ("exact",
// "good", "hand", "cheap"). Rigs made with the same arguments are the same.
type Make func(sets []simrig.Set, meters string) (Rig, error)

// Case is one hidden trouble: a rig, what is wrong with it, and the complaint.
type Case struct {
	Sys     *rig.System
	Sets    []simrig.Set
	Symptom string          // complaint, by its id
	Facts   []walk.Event    // what the rig's papers say
	Faults  []*simrig.Fault // all that there are
	Meters  string          // class of the meters in the trainee's hands
	Make    Make
}

// rig builds the case's rig as the trainee finds it.
func (c *Case) rig() (Rig, error) {
	r, err := c.Make(c.Sets, c.Meters)
	if err != nil {
		return nil, err
	}
	r.Complain(c.Symptom)
	return r, nil
}

// covers says whether a finding names a fault.
func covers(f *graph.Finding, fault string) bool {
	return f.ID == fault || slices.Contains(f.Shows, fault)
}

// faultByID is the fault with this id, nil if there is none.
func faultByID(faults []*simrig.Fault, id string) *simrig.Fault {
	for _, f := range faults {
		if f.ID == id {
			return f
		}
	}
	return nil
}

// Event is a rig's answer to a reading, as a walk takes it.
func Event(r *reading.Reading, place string, a simrig.Answer) walk.Event {
	e := walk.Event{Kind: walk.EvAnswer, Reading: r.ID, Place: place}
	switch {
	case !a.Known:
		e.Kind, e.Reason = walk.EvNotKnown, a.Reason
		if e.Reason == "" {
			e.Reason = "it can't be had"
		}
	case r.Answer == reading.Number:
		v := a.Value
		e.Value, e.Step = &v, a.Digit
	default:
		e.Choice = a.Choice
	}
	return e
}

// Words is a rig's answer in words, with who or what gives it: "The meter shows
// 0.18 V.", "You see: a faint shadow."
func Words(g *graph.Graph, r *reading.Reading, a simrig.Answer, style quantity.Style) string {
	if !a.Known {
		if a.Reason == "" {
			return "That can't be had."
		}
		return "That can't be had: " + stopped(a.Reason)
	}
	if r.Answer == reading.Number {
		return Giver(g, r) + " " + stopped(Value(r, a, style))
	}
	return Giver(g, r) + ": " + stopped(Value(r, a, style))
}

// Value is a known answer by itself: "180 mV", "yes", "a faint shadow".
func Value(r *reading.Reading, a simrig.Answer, style quantity.Style) string {
	switch r.Answer {
	case reading.Number:
		return quantity.ShowTyped(a.Value, a.Digit, r.Kind.Unit, style)
	case reading.Choice:
		if i := r.OptionByID(a.Choice); i >= 0 {
			return r.Options[i].Label
		}
	}
	return a.Choice
}

// Giver says who or what answers a reading.
func Giver(g *graph.Graph, r *reading.Reading) string {
	if r.ID == "meter_difference_v" {
		return "They are apart by"
	}
	switch r.Meter {
	case "eye":
		return "You see"
	case "ear":
		return "The customer says"
	case "hand":
		return "You find"
	case "label":
		return "The label says"
	case "app":
		return "The display shows"
	case "lamp":
		return "The lamp says"
	case "clamp":
		return "The clamp shows"
	}
	if m := g.Meters[r.Meter]; m != nil && m.Class == "infrared" {
		return "The thermometer shows"
	}
	return "The meter shows"
}

// stopped ends a text with one full stop.
func stopped(s string) string {
	for len(s) > 0 && s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s + "."
}
