package rig_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// manyRigs is how many random rigs of each set are looked at.
const manyRigs = 500

// everyRig runs f on random rigs of both sets.
func everyRig(t *testing.T, f func(t *testing.T, s *rig.System)) {
	for _, r := range []rig.Ranges{rig.Tuning, rig.Release} {
		for seed := range uint64(manyRigs) {
			s := rig.Random(rand.New(rand.NewPCG(seed, 1)), r)
			t.Run(fmt.Sprintf("%s %d", r.Name, seed), func(t *testing.T) { f(t, s) })
		}
	}
}

func air(s *rig.System) float64 { return max(30, s.AmbientC) }

func lay(word string) electric.Lay {
	for i, w := range electric.Lays() {
		if w == word {
			return electric.Lay(i)
		}
	}
	return -1
}

// Every wire carries what its fuse lets through, and every fuse runs cool at full
// load.
func TestRandomRigsAreGuarded(t *testing.T) {
	everyRig(t, func(t *testing.T, s *rig.System) {
		guard := map[string]float64{}
		for _, p := range s.Parts {
			if p.Kind != rig.Fuse {
				continue
			}
			guard[p.Circuit] = p.RatedA
			if most := map[string]float64{"blade-holder": 0.7, "bolted-holder": 0.8}[p.Style]; p.FullA > most*p.RatedA+1e-9 {
				t.Errorf("%s runs at %g A of %g A", p.ID, p.FullA, p.RatedA)
			}
		}
		if _, own := guard["inverter"]; !own {
			guard["inverter"] = guard["battery"]
		}
		for _, p := range s.Parts {
			if p.Kind != rig.Wire || p.Circuit == "array" || len(p.ID) > 5 && p.ID[:5] == "link-" {
				continue
			}
			allow, err := electric.WireAllow(p.MM2, p.MarkC, air(s), lay(p.Lay), 3)
			if err != nil {
				t.Fatalf("%s: %v", p.ID, err)
			}
			if g := guard[p.Circuit]; g == 0 || allow < g {
				t.Errorf("%s of %g mm2 may carry %.4g A, and its fuse is %g A", p.ID, p.MM2, allow, g)
			}
			if p.FullA > allow {
				t.Errorf("%s of %g mm2 may carry %.4g A, and has %g A", p.ID, p.MM2, allow, p.FullA)
			}
		}
	})
}

// Planning again changes nothing, and the same seed gives the same rig.
func TestRandomRigsAreReproducible(t *testing.T) {
	for seed := range uint64(50) {
		a := rig.Random(rand.New(rand.NewPCG(seed, 9)), rig.Release)
		b := rig.Random(rand.New(rand.NewPCG(seed, 9)), rig.Release)
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("seed %d gives two rigs", seed)
		}
		rig.Plan(b)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("seed %d: planning twice changes the rig", seed)
		}
	}
}
