package prove

import (
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
)

// Rig is a rig that answers. The simulated rig is one; a test has simpler ones.
// It is used by one goroutine at a time.
type Rig interface {
	// Take answers a reading at a place, "" for one that is taken at no place in
	// particular.
	Take(reading, place string) simrig.Answer
	Do(action string)        // the person does this to the rig
	Repair(fault string)     // undoes a fault
	Complain(symptom string) // what the person complains of, which decides where they stand
	// Symptoms is what a person would notice, strongest first; with ids given, of
	// these alone.
	Symptoms(among ...string) []string
	Focus() string             // place or part that the complaint is about, "" for none
	Which(ids []string) string // of some places the one that the complaint is about, "" for none
	Truth() Truth              // for the guard, which does not ask the knowledge
	Live(from, to string) bool // volts across these two points as the rig now stands
}

// Truth is what can hurt on a rig as it really is.
type Truth struct {
	PVVolts   float64 // V, the most that its array can bring at its coldest
	BankVolts float64 // V at the battery's posts
	Danger    string  // option of danger_what that is so, "" for none
	Melts     bool    // a part is so hot at this moment, loads off, that it melts or glows
	Short     bool    // something behind a fuse, breaker or isolator is a short
	Cooked    bool    // the part that the complaint is about has been too hot before
}

// Base is a rig as it was meant to be, with what its papers say.
type Base struct {
	Name   string
	Sys    *rig.System
	Places []reading.PlaceOnRig
	Facts  []rig.Fact
}

// Source is where a population comes from.
type Source interface {
	// Faults lists the faults that there are, in a fixed order.
	Faults() []*simrig.Fault
	// Base makes the rig of number i of the population. The same i is the same rig.
	Base(i int) (*Base, error)
	// Make brings faults into a rig. seed is for the meters' errors.
	Make(b *Base, sets []simrig.Set, seed uint64) (Rig, error)
	// Exact is the same, read with meters of a class that are off by nothing and show
	// as many digits as such meters do.
	Exact(b *Base, sets []simrig.Set, class string) (Rig, error)
}
