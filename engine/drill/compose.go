package drill

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// Order says what case is wanted.
type Order struct {
	Graph *graph.Graph
	Rigs  []*rig.Rig // one of these by chance; none: a rig made by chance
	Seed  uint64
	Wish  Wish
}

// stream parts what is drawn for a case from what its meters draw.
const (
	streamCase  = 0x6d75
	streamMeter = 0x6d65
)

// mostRigs is how many rigs are tried for a fault that not every rig can have.
const mostRigs = 40

// Compose makes the case that an order asks for. The same order gives the same
// case. [ErrNoFault] says that none fits.
func Compose(o Order) (Case, error) {
	chance := rand.New(rand.NewPCG(o.Seed, streamCase))
	tries := mostRigs
	if len(o.Rigs) > 0 {
		tries = len(o.Rigs)
	}
	order := chance.Perm(max(len(o.Rigs), 1))
	for i := range tries {
		var r *rig.Rig
		var err error
		if len(o.Rigs) > 0 {
			r = o.Rigs[order[i]]
		} else if r, err = thrown(chance); err != nil {
			return Case{}, err
		}
		c, err := compose(o, r)
		if !errors.Is(err, ErrNoFault) {
			return c, err
		}
	}
	return Case{}, ErrNoFault
}

// thrown is a rig made by chance, as a file would describe it.
func thrown(chance *rand.Rand) (*rig.Rig, error) {
	r, problems := rig.Read("rig", rig.Random(chance, rig.Tuning).YAML())
	if !graph.Sound(problems) {
		return nil, fmt.Errorf("a rig made by chance can't be read: %s", problems[0].Text)
	}
	return r, nil
}

func compose(o Order, r *rig.Rig) (Case, error) {
	var all []*reading.Reading
	for _, id := range o.Graph.ReadingOrder {
		all = append(all, o.Graph.Readings[id])
	}
	facts, problems := r.Facts(all)
	if !graph.Sound(problems) {
		return Case{}, fmt.Errorf("the facts of %s can't be used: %s", r.Name, problems[0].Text)
	}
	sys, problems := rig.SystemOf(r, facts)
	if !graph.Sound(problems) {
		return Case{}, fmt.Errorf("%s can't be simulated: %s", r.Name, problems[0].Text)
	}
	makes := func(sets []simrig.Set, meters string) (Rig, error) {
		opt := simrig.Options{Meters: meters, Chance: rand.New(rand.NewPCG(o.Seed, streamMeter))}
		s, err := simrig.New(sys, o.Graph.Readings, facts, sets, opt)
		if err != nil { // a nil *Sim is no nil Rig
			return nil, err
		}
		if meters == "exact" {
			return &exact{s}, nil
		}
		return s, nil
	}
	c := Case{Sys: sys, Faults: simrig.Faults(), Meters: o.Wish.Level.Meters, Facts: Facts(facts), Make: makes}
	var err error
	c.Sets, c.Symptom, err = Pick(o.Seed, o.Graph, sys, c.Faults, o.Wish, makes)
	return c, err
}

// exact is a rig whose meters have no error, and as many digits as people read off.
type exact struct{ *simrig.Sim }

// Take is the Sim's, with the display's digits.
func (e *exact) Take(id, at string) simrig.Answer {
	a := e.Sim.Take(id, at)
	r := e.Reading(id)
	if r == nil || !a.Known || a.Choice != "" || a.Value == 0 || a.Digit >= fineDigit {
		return a
	}
	digits := 3.0
	if math.Abs(a.Value) >= 10 && math.Abs(a.Value) < 100 {
		digits = 4
	}
	a.Digit = max(math.Pow(10, math.Floor(math.Log10(math.Abs(a.Value)))-digits+1), finest[r.Kind.Unit.Symbol()])
	a.Value = math.Round(a.Value/a.Digit) * a.Digit
	return a
}

// fineDigit is finer than any display's last digit.
const fineDigit = 1e-5

// finest is the last digit of a good meter, by unit.
var finest = map[string]float64{"V": 1e-4, "A": 0.01, "ohm": 0.1, "Ω": 0.1, "degC": 0.1}

// Facts are what a rig's papers say, as events of a walk.
func Facts(facts []rig.Fact) []walk.Event {
	var out []walk.Event
	for _, f := range facts {
		e := walk.Event{Kind: walk.EvFact, Reading: f.Reading.ID, Place: f.Place, Text: f.Text, Choice: f.Choice,
			About: f.About, Step: f.Digit, Origin: walk.File}
		if f.Reading.Answer == reading.Number {
			v := f.Value
			e.Value = &v
		}
		out = append(out, e)
	}
	return out
}
