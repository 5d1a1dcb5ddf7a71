package reading

import (
	"hotlug/engine/quantity"
	"hotlug/engine/shape"
)

// Class says how a reading comes about.
type Class string

const (
	Fact        Class = "fact"        // stands on a label or in the rig file; asked once
	Observation Class = "observation" // looked at, listened to, read off a display
	Measurement Class = "measurement" // taken with a meter
)

// Answer says what kind of answer a reading has.
type Answer int

const (
	Number Answer = iota
	YesNo
	Choice
)

// Option is one answer of a reading with choices.
type Option struct {
	ID    string
	Label string   // as shown
	Says  []string // other words people use for it
}

// Holds says how long a take of a reading stands.
type Holds string

const (
	ForGood  Holds = "fact"     // until it is changed
	ARound   Holds = "round"    // until something is done to the rig
	Together Holds = "together" // only beside what was taken in the same step
)

// Range is a closed range in the unit of the reading's kind.
type Range struct {
	Lo, Hi float64
	Set    bool
}

// Has says whether x lies inside the range; a range that is not set has all.
func (r Range) Has(x float64) bool { return !r.Set || r.Lo <= x && x <= r.Hi }

// Times scales the range by k.
func (r Range) Times(k float64) Range { r.Lo *= k; r.Hi *= k; return r }

// Reading is one thing that a person can tell us about a rig, defined once.
type Reading struct {
	ID    string
	Name  string // noun phrase: "volts across the fuse holder"
	Ask   string // the question
	Why   string // what the answer separates, and the physics
	How   []string
	Class Class

	Answer  Answer
	Kind    quantity.Kind // for Number
	Options []Option      // for Choice

	From, To string   // points of the one-line diagram, where the probes go
	State    []string // ids of states the rig must be in
	Meter    string   // id of a meter setting
	Shows    string   // unit that the meter shows on that setting, if it is not the kind's: "mV"

	Possible  Range // outside: refused
	Plausible Range // outside: asked back
	Scales    bool  // both ranges are for 12 V and grow with system volts

	Holds   Holds
	Minutes float64
	Stand   string // where the person must be

	Over string // class of places it is taken over
	At   string // the one place at which it is taken
	Like string // the reading whose definition it takes over

	Hazard   string // what can hurt while taking it: "" for nothing
	Cautions []string

	Rig   string // where a fact stands in the rig file: "battery.chemistry"
	Sizes bool   // sizes something: read back once a session

	Formerly []string
	Place    shape.Place // where it is defined
}

// OptionByID is the index of an option, or -1.
func (r *Reading) OptionByID(id string) int {
	for i := range r.Options {
		if r.Options[i].ID == id {
			return i
		}
	}
	return -1
}

// State is a way the rig can stand.
type State struct {
	ID   string
	Say  string // what the person must bring about: "Switch on a steady load."
	Name string // noun phrase: "a steady load on"
	// Excludes names states that cannot hold together with this one.
	Excludes []string
	Hazard   string
	Cautions []string
	At       shape.Place
}

// MeterSetting is a setting of the meter.
type MeterSetting struct {
	ID  string
	Say string // "Meter on DC millivolts."
	// Class is the meter class whose error applies: "hand", "clamp", "infrared",
	// or "none" for what is no meter (eye, ear, label).
	Class string
	Unit  string // that it shows, where it is not that of the readings: "mV"
	At    shape.Place
}

// Point is a point of the one-line diagram: a metal that a probe can touch.
type Point struct {
	ID   string
	Name string // "the plus post of the battery"
	At   shape.Place
}
