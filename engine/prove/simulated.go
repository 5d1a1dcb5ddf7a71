package prove

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/simrig"
)

// meters is the class of the simulated person's meters: what most people have.
const meters = "hand"

// FaultIDs lists the faults of the simulated rig.
func FaultIDs() []string {
	var out []string
	for _, f := range simrig.Faults() {
		out = append(out, f.ID)
	}
	return out
}

// Simulated is the population of simulated rigs for a knowledge. Those for
// tuning and those for releases have other ranges and other seeds, so that
// nothing is tuned to what it is then measured by.
func Simulated(g *graph.Graph, seed uint64, release bool) Source {
	s := &simulated{g: g, seed: seedOf(seed, "tuning", 0), ranges: rig.Tuning}
	if release {
		s.seed, s.ranges = seedOf(seed, "release", 0), rig.Release
	}
	for _, id := range g.ReadingOrder {
		s.readings = append(s.readings, g.Readings[id])
	}
	return s
}

type simulated struct {
	g        *graph.Graph
	readings []*reading.Reading
	seed     uint64
	ranges   rig.Ranges
}

func (s *simulated) Faults() []*simrig.Fault { return simrig.Faults() }

func (s *simulated) Base(i int) (*Base, error) {
	sys := rig.Random(rand.New(rand.NewPCG(seedOf(s.seed, "rig", i), 1)), s.ranges)
	name := fmt.Sprintf("rig %d", i)
	r, problems := rig.Read(name, sys.YAML())
	if shape.HasErrors(problems) {
		return nil, fmt.Errorf("the file of %s can't be read: %s", name, problems[0].Text)
	}
	facts, problems := r.Facts(s.readings)
	if shape.HasErrors(problems) {
		return nil, fmt.Errorf("the file of %s has a fact that is none: %s", name, problems[0].Text)
	}
	return &Base{Name: name, Sys: sys, Places: r.Places, Facts: facts}, nil
}

func (s *simulated) Make(b *Base, sets []simrig.Set, seed uint64) (Rig, error) {
	x, err := simrig.New(b.Sys, s.g.Readings, b.Facts, sets,
		simrig.Options{Meters: meters, Chance: rand.New(rand.NewPCG(seedOf(s.seed, "meters", int(seed>>1)), 2))})
	if err != nil {
		return nil, err
	}
	return &simulatedRig{x, b.Sys}, nil
}

func (s *simulated) Exact(b *Base, sets []simrig.Set, class string) (Rig, error) {
	x, err := simrig.New(b.Sys, s.g.Readings, b.Facts, sets, simrig.Options{Meters: class})
	if err != nil {
		return nil, err
	}
	return &simulatedRig{x, b.Sys}, nil
}

// simulatedRig is a simulated rig with what the guard wants to know.
type simulatedRig struct {
	*simrig.Sim
	sys *rig.System
}

// openFactor is the part by which an array's volts exceed those at its rated 25 °C
// for each kelvin that it is colder: crystalline silicon, near enough for telling
// what is above 60 V.
const openFactor = 0.003

// Truth says what can hurt as the rig now stands.
func (x *simulatedRig) Truth() Truth {
	p := x.Plant()
	series := p.Array.WrongV
	if series == 0 {
		series = x.sys.Array.Series
	}
	t := Truth{PVVolts: x.sys.Array.Voc * float64(series) * (1 + openFactor*(25-x.sys.AmbientC)), Danger: p.Danger}
	t.Melts = x.Take("danger_what", "").Choice == "melted-or-glowing"
	if x.sys.Volts > 24 {
		t.BankVolts = max(p.Battery.TopV, x.Take("battery_now_v", "").True)
	}
	t.Short = p.Inverter.Shorted
	for _, ohm := range p.Shorts {
		t.Short = t.Short || ohm > 0
	}
	if part := p.Parts[x.Focus()]; part != nil {
		t.Cooked = part.Browned
	}
	return t
}

// Live says whether volts may stand across two points although everything is
// switched off: an isolator on the way is welded.
func (x *simulatedRig) Live(from, to string) bool {
	p := x.Plant()
	return from != to && slices.ContainsFunc(x.sys.Parts, func(s rig.Part) bool {
		return s.Kind == rig.Isolator && s.Circuit == "battery" && p.Parts[s.ID] != nil && p.Parts[s.ID].Welded
	})
}
