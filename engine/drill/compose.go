package drill

import (
	"errors"
	"fmt"
	"maps"
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
	streamLie   = 0x6c69
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
		own := maps.Clone(o.Graph.Readings)
		s, err := simrig.New(sys, own, facts, sets, opt)
		if err != nil { // a nil *Sim is no nil Rig
			return nil, err
		}
		r := newHands(s, own)
		if o.Wish.Level.Lies && meters == o.Wish.Level.Meters && s.Plant().Meter.HandGain == 0 {
			r.lie = lieOf(o.Seed)
			r.lies()
		}
		return r, nil
	}
	if len(o.Rigs) == 0 {
		sys.Name = "" // what it is called says nothing to anybody
	}
	c := Case{Sys: sys, Faults: simrig.Faults(), Meters: o.Wish.Level.Meters, Facts: Facts(facts), Make: makes}
	var err error
	c.Sets, c.Symptom, err = Pick(o.Seed, o.Graph, sys, c.Faults, o.Wish, makes, c.found(o))
	return c, err
}

// mostPlain is how many readings the knowledge may need for a plain drill.
const mostPlain = 10

// found gives what says whether the knowledge itself finds what is hidden. A plain
// drill is one that it finds; nil where any will do.
func (c *Case) found(o Order) func(sets []simrig.Set, symptom string) bool {
	if !o.Wish.Level.Plain || o.Wish.Fault != "" {
		return nil
	}
	return func(sets []simrig.Set, symptom string) bool {
		x := *c
		x.Sets, x.Symptom = sets, symptom
		p, err := PathOf(o.Graph, x, walk.Setup{})
		return err == nil && p.Right && p.Readings <= mostPlain
	}
}

// Facts are what a rig's papers say, as events of a walk.
func Facts(facts []rig.Fact) []walk.Event {
	var out []walk.Event
	for _, f := range facts {
		out = append(out, walk.FromFile(f.Reading, f.Place, f.Text, f.Given))
	}
	return out
}
