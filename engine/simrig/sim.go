package simrig

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"

	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

// Sim is a simulated rig at work. It is not safe for use by several goroutines.
type Sim struct {
	sys      *rig.System
	sets     []Set
	filled   bool  // a repair has charged the bank full
	mended   []Set // that have been repaired
	plant    *Plant
	symptom  string // complaint at hand, which decides where the person stands
	focus    string // id of the part that the complaint is about, "" for none
	meant    string // id of the wire on the inverter's way that the person has settled on, "" for none yet
	full     bool   // the load of the full test is on, for every reading under load
	stood    string // place of the last reading that was taken at one
	opt      Options
	readings map[string]*reading.Reading
	papers   []rig.Fact
	facts    map[fact]Answer // from the rig's own papers

	grid   *grid                // what does not change between situations
	solved map[Situation]*state // one solution for each
	last   *state               // to start the next one from
	done   []string             // actions of the person, in order
	seen   map[take]Answer
	meters map[string]lean // how each of the person's meters is off
	tally  tally           // what the monitor has come to
}

type fact struct{ reading, place string }

// take is what a reading was taken in: it gives the same answer again until
// something is done to the rig.
type take struct{ reading, place string }

// Options say how readings are taken.
type Options struct {
	Meters string     // "exact", "good", "hand" or "cheap"
	Chance *rand.Rand // for the meters' errors; nil: none
}

// Answer is what a person would say to a reading.
type Answer struct {
	Known  bool
	Value  float64 // in the unit of the reading's kind
	Digit  float64 // worth of the last digit of the display, same unit
	Choice string  // option id, or "yes"/"no"
	True   float64 // the value without the meter's error
	Reason string  // why it can't be had, if not Known
}

// Refuse is an answer that can't be had, with the reason in a sentence.
func Refuse(reason string) Answer { return Answer{Reason: reason} }

// Pick is an answer by choice: an option's id, "yes" or "no".
func Pick(choice string) Answer { return Answer{Known: true, Choice: choice} }

// Shown is a number as a display shows it, to the worth of its last digit.
func Shown(value, digit float64) Answer {
	return Answer{Known: true, Value: round(value, digit), Digit: digit, True: value}
}

// observe is what is answered from plant and solution by its meaning, and not by
// a meter between two points. It is filled when the first Sim is made: as a
// package variable it would refer to itself through Take.
var (
	observe     map[string]func(s *Sim, place string) Answer
	observeOnce sync.Once
)

// New is a rig with faults in it. readings are the knowledge's, by id; facts are
// those on the rig's papers. Errors: a fault that the catalogue does not have, or
// that this rig can't have at that place; an unknown class of meters; an array
// whose label no module has.
func New(sys *rig.System, readings map[string]*reading.Reading, facts []rig.Fact, sets []Set, opt Options) (*Sim, error) {
	observeOnce.Do(func() { observe = observations() })
	if !slices.Contains([]string{"", "exact", "good", "hand", "cheap"}, opt.Meters) {
		return nil, fmt.Errorf("there are no meters of the class %q; take exact, good, hand or cheap", opt.Meters)
	}
	if sys.Array.Voc > 0 {
		if _, err := fitted(sys.Array); err != nil {
			return nil, fmt.Errorf("the array of %s can't be simulated: %w", sys.Name, err)
		}
	}
	s := &Sim{sys: sys, opt: opt, readings: readings, papers: facts, facts: make(map[fact]Answer, len(facts))}
	s.drawMeters()
	for _, f := range facts {
		s.facts[fact{f.Reading.ID, f.Place}] = Answer{Known: true, Value: f.Value, Digit: f.Digit, Choice: f.Choice, True: f.Value}
	}
	if err := s.rebuild(sets); err != nil {
		return nil, err
	}
	return s, nil
}

// rebuild makes the plant anew with the faults of sets in it.
func (s *Sim) rebuild(sets []Set) error {
	p := NewPlant(s.sys)
	for _, x := range s.mended { // what is still wrong comes on top
		if f, ok := FaultByID(x.Fault); ok && f.After != nil {
			f.After(p, x.At, x.Severity, x.Chance)
		}
	}
	for _, x := range sets {
		f, ok := FaultByID(x.Fault)
		if !ok {
			return fmt.Errorf("there is no fault %q in the catalogue; look at its list", x.Fault)
		}
		if f.Sites != nil && !slices.Contains(f.Sites(s.sys), x.At) {
			return fmt.Errorf("the fault %q can't sit at %q on this rig", x.Fault, x.At)
		}
		f.Apply(p, x.At, x.Severity, x.Chance)
	}
	if s.filled {
		p.filled()
	}
	s.sets, s.plant = slices.Clone(sets), p
	s.changed()
	for _, action := range s.done { // what was closed or woken stays so
		s.act(action)
	}
	return nil
}

// changed forgets all that was solved and read, after something was done.
func (s *Sim) changed() {
	s.grid, s.last = nil, nil
	s.solved = make(map[Situation]*state, 4)
	s.seen = make(map[take]Answer, 16)
}

// System is the rig as it was built.
func (s *Sim) System() *rig.System { return s.sys }

// Plant is the rig as it is. Whoever changes it calls Changed.
func (s *Sim) Plant() *Plant { return s.plant }

// Changed tells that the plant was changed from outside.
func (s *Sim) Changed() { s.changed() }

// Focus is the id of the part that the complaint is about, "" for none.
func (s *Sim) Focus() string { return s.focus }

// Which of some places the complaint is about: the part in focus, or the fuse that
// feeds it, "" for none. Asked for the fuse of a hot cable, a person finds it.
func (s *Sim) Which(ids []string) string {
	if slices.Contains(ids, s.focus) {
		return s.focus
	}
	if s.plant.Parts[s.focus] == nil {
		if s.atInverter() && slices.Contains(ids, s.stood) { // the one at which the volts came in
			return s.stood
		}
		return s.hotOf(ids)
	}
	if f := s.kindAt("", rig.Fuse, rig.Breaker); f != nil && slices.Contains(ids, f.ID) {
		return f.ID
	}
	return ""
}

// hotOf is the place that somebody takes who stands at none: the part that is
// notably hot, or the one beside it; "" where nothing is.
func (s *Sim) hotOf(ids []string) string {
	h := s.hottest()
	if h == nil {
		return ""
	}
	for _, id := range ids {
		if id == h.ID {
			return id
		}
	}
	for _, id := range ids {
		if p := s.plant.Parts[id]; p != nil && meets(h, p) {
			return id
		}
	}
	return ""
}

// Symptom is the complaint at hand, "" before Complain.
func (s *Sim) Symptom() string { return s.symptom }

// Facts are those on the rig's papers.
func (s *Sim) Facts() []rig.Fact { return s.papers }

// Sets are the faults that are still in it.
func (s *Sim) Sets() []Set { return s.sets }

// Reading is a reading of the knowledge by id, nil for none.
func (s *Sim) Reading(id string) *reading.Reading { return s.readings[id] }

// Healthy is the same rig, its papers and meters, with no fault in it.
func (s *Sim) Healthy() *Sim {
	h := &Sim{sys: s.sys, opt: s.opt, readings: s.readings, papers: s.papers, facts: s.facts, meters: s.meters, symptom: s.symptom, focus: s.focus}
	h.plant = NewPlant(s.sys)
	h.changed()
	return h
}

// Repair takes a fault out: the plant is made anew without it, with the other
// faults as they were. A fault that is not there changes nothing.
func (s *Sim) Repair(fault string) {
	left := slices.DeleteFunc(slices.Clone(s.sets), func(x Set) bool { return x.Fault == fault })
	if len(left) == len(s.sets) {
		return
	}
	if f, ok := FaultByID(fault); ok && f.Charged {
		s.filled = true
	}
	for _, x := range s.sets {
		if x.Fault == fault {
			s.mended = append(s.mended, x)
		}
	}
	// They were put in before, so they can be again.
	if err := s.rebuild(left); err != nil {
		panic("simrig: " + err.Error())
	}
}
