package simrig

import (
	"math/rand/v2"

	"hotlug/engine/circuit"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

// Sim is a simulated rig at work. It is not safe for use by several goroutines.
type Sim struct {
	sys      *rig.System
	sets     []Set
	plant    *Plant
	symptom  string // complaint at hand, which decides where the person stands
	focus    string // id of the part that the complaint is about, "" for none
	opt      Options
	readings map[string]*reading.Reading
	facts    map[fact]Answer // from the rig's own papers

	solved map[Situation]*circuit.Solution
	done   []string // actions of the person, in order
	seen   map[take]Answer
}

type fact struct{ reading, place string }

// take is what a reading was taken in: it gives the same answer again until
// something is done to the rig.
type take struct {
	reading, place string
	at             Situation
}

// Options say how readings are taken.
type Options struct {
	Meters string     // "exact", "good", "hand" or "cheap"
	Chance *rand.Rand // for the meters' errors; nil: none
}

// Situation is how the rig stands for a reading. It is a value and a key: one
// solution is kept for each.
type Situation struct {
	Sun      float64 // W/m² on the array
	Loads    LoadLevel
	Way      string // load that is on alone, "" for what LoadLevel says
	MainOff  bool   // battery isolator opened by the person
	PVOff    bool   // solar switch opened by the person
	Chargers bool   // chargers may work
	InvOff   bool   // inverter's own switch off
	Rested   bool   // battery at rest for hours
	Top      bool   // at the top of its charge
	Lamp     bool   // a lamp across the posts
	Gap      bool   // the last joint of Event is open
	Pre      bool   // the pre-charge resistor lies across that gap
}

// LoadLevel is how much is switched on.
type LoadLevel uint8

// Load levels, from none to all that may run together.
const (
	LoadsOff LoadLevel = iota
	LoadsLight
	LoadsSteady
	LoadsFull
)

// Answer is what a person would say to a reading.
type Answer struct {
	Known  bool
	Value  float64 // in the unit of the reading's kind
	Digit  float64 // worth of the last digit of the display, same unit
	Choice string  // option id, or "yes"/"no"
	True   float64 // the value without the meter's error
	Reason string  // why it can't be had, if not Known
}
