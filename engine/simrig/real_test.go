package simrig

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

// taken are the answers to all readings of the knowledge, at no place and at some.
func taken(s *Sim, readings map[string]*reading.Reading, places ...string) map[take]Answer {
	all := map[take]Answer{}
	for _, id := range slices.Sorted(maps.Keys(readings)) {
		for _, at := range append([]string{""}, places...) {
			all[take{id, at}] = s.Take(id, at)
		}
	}
	return all
}

// differs says whether two answers to a reading are further apart than a hand
// meter's error; of a display, than its last digit.
func differs(r *reading.Reading, a, b Answer) bool {
	if r.Class != reading.Measurement && a.Known && b.Known {
		return a.Choice != b.Choice || math.Abs(a.Value-b.Value) > 1.5*math.Max(a.Digit, b.Digit)
	}
	if a.Known != b.Known || a.Choice != b.Choice {
		return true
	}
	return math.Abs(a.Value-b.Value) > 0.02*math.Max(math.Abs(a.Value), math.Abs(b.Value))+3*math.Max(a.Digit, b.Digit)
}

// cases are settings of a fault on rigs that it fits: the ends of its range and
// one in between, each on another rig.
func cases(f *Fault, rigs []*rig.System, n int) (list []struct {
	sys *rig.System
	set Set
}) {
	chance := rand.New(rand.NewPCG(3, uint64(len(f.ID))))
	for _, sys := range rigs {
		sites := f.Sites(sys)
		if len(sites) == 0 || len(list) == n {
			continue
		}
		part := []float64{0, 1, chance.Float64()}[len(list)%3]
		list = append(list, struct {
			sys *rig.System
			set Set
		}{sys, Set{Fault: f.ID, At: sites[chance.IntN(len(sites))], Severity: draw(f, part), Chance: chance.Float64()}})
	}
	return list
}

func (x Set) String() string {
	return fmt.Sprintf("%s at %q, severity %.4g, chance %.2f", x.Fault, x.At, x.Severity, x.Chance)
}

// TestFaultsAreReal: on every rig that a fault fits and over its whole range, a
// person notices one of the symptoms that it is said to show, a meter finds
// something, and its repair undoes it.
func TestFaultsAreReal(t *testing.T) {
	readings := knowledge(t).Readings
	var rigs []*rig.System
	for _, sys := range someRigs(160) {
		// A rig of which people complain when nothing is wrong shows nothing here.
		s, err := New(sys, readings, nil, nil, Options{Meters: "exact"})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Symptoms()) == 0 {
			rigs = append(rigs, sys)
		}
	}
	for _, f := range Faults() {
		t.Run(f.ID, func(t *testing.T) {
			t.Parallel()
			for _, c := range cases(f, rigs, 6) {
				s, err := New(c.sys, readings, nil, []Set{c.set}, Options{Meters: "exact"})
				if err != nil {
					t.Fatal(err)
				}
				noticed := s.Symptoms()
				if !slices.ContainsFunc(f.Shown, func(x string) bool { return slices.Contains(noticed, x) }) {
					t.Errorf("%s on %s: people notice %v, want one of %v", c.set, c.sys.Name, noticed, f.Shown)
				}
				s.Complain(f.Shown[0])
				places := []string{c.set.At}
				if s.Focus() != c.set.At && s.Focus() != "" {
					places = append(places, s.Focus())
				}
				healthy := s.Healthy()
				sick, sound := taken(s, readings, places...), taken(healthy, readings, places...)
				found := false
				for key, a := range sick {
					found = found || differs(readings[key.reading], a, sound[key])
				}
				if !found && !f.NoFault {
					t.Errorf("%s on %s: no reading differs from the sound rig's", c.set, c.sys.Name)
				}
				s.Repair(f.ID)
				if f.Charged {
					healthy.plant.filled()
					healthy.changed()
				}
				if f.After != nil { // what the repair leaves behind is no part of the fault
					f.After(healthy.plant, c.set.At, c.set.Severity, c.set.Chance)
					healthy.changed()
				}
				s.Complain("")
				healthy.Complain("")
				mended := taken(s, readings, places...)
				for key, a := range taken(healthy, readings, places...) {
					if differs(readings[key.reading], mended[key], a) {
						t.Errorf("%s on %s: repaired, %s at %q gives %+v, the sound rig gives %+v", c.set, c.sys.Name, key.reading, key.place, mended[key], a)
					}
				}
			}
		})
	}
}
