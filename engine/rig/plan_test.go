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

func TestRandomRigsAreSensible(t *testing.T) { everyRig(t, sensible) }

// sensible says what is not right about a rig that is to be sound.
func sensible(t *testing.T, s *rig.System) {
	t.Helper()
	guarded(t, s)
	reached(t, s)
	charged(t, s)
	drops(t, s)
}

// guarded: every wire carries what its fuse lets through, and every fuse runs
// cool at full load.
func guarded(t *testing.T, s *rig.System) {
	t.Helper()
	guard := map[string]float64{}
	for _, p := range s.Parts {
		if p.Kind != rig.Fuse {
			continue
		}
		guard[p.Circuit] = p.RatedA
		if most := map[string]float64{"blade-holder": 0.7, "bolted-holder": 0.8}[p.Style]; p.FullA > most*p.RatedA+1e-9 {
			t.Errorf("%s runs at %g A of %g A", p.ID, p.FullA, p.RatedA)
		}
		if p.FullA <= 0 {
			t.Errorf("%s carries nothing", p.ID)
		}
	}
	if _, own := guard["inverter"]; !own {
		guard["inverter"] = guard["battery"]
	}
	for _, p := range s.Parts {
		if p.Kind != rig.Wire {
			continue
		}
		allow, err := electric.WireAllow(p.MM2, p.MarkC, air(s), lay(p.Lay), 3)
		if err != nil {
			t.Fatalf("%s: %v", p.ID, err)
		}
		// An array drives no more than its short circuit, and needs no fuse.
		g := guard[p.Circuit]
		if p.Circuit == "array" {
			g = 1.25 * s.Array.Isc * float64(s.Array.Parallel)
		}
		if g == 0 || allow < g || p.FullA > allow {
			t.Errorf("%s of %g mm2 may carry %.4g A; it has %g A, and its fuse is %g A", p.ID, p.MM2, allow, p.FullA, g)
		}
	}
}

// reached: all named points hang together, and no two parts share an id.
func reached(t *testing.T, s *rig.System) {
	t.Helper()
	next := map[string][]string{}
	join := func(a, b string) { next[a], next[b] = append(next[a], b), append(next[b], a) }
	ids := map[string]bool{}
	for _, p := range s.Parts {
		if ids[p.ID] || p.A == "" || p.B == "" || p.A == p.B || p.Name == "" || p.Circuit == "" {
			t.Errorf("a part is %+v", p)
		}
		ids[p.ID] = true
		join(p.A, p.B)
	}
	points := []string{rig.BusPos, rig.BusNeg, rig.CtlFuseBus, rig.CtlFuseCtl, rig.PVIsoArray, rig.PVIsoCtl, rig.PVReturn}
	for i := range s.Battery.Parallel {
		plus, minus := s.StringEnds(i)
		join(plus, minus)
		points = append(points, plus, minus)
	}
	sources := [][2]string{{rig.CtlBatPos, rig.CtlBatNeg}, {rig.CtlPVPos, rig.CtlPVNeg}, {rig.CtlPVNeg, rig.CtlBatNeg}, {rig.ArrayPos, rig.ArrayNeg}}
	if s.Inverter.Watts > 0 {
		sources = append(sources, [2]string{rig.InvPos, rig.InvNeg})
	}
	if s.Monitor.Shunt != "" {
		points = append(points, rig.ShuntBat, rig.ShuntSys)
	}
	for _, l := range s.Loads {
		if !l.AC {
			sources = append(sources, [2]string{rig.LoadPos(l.ID), rig.LoadNeg(l.ID)})
		}
	}
	for _, x := range sources {
		if next[x[0]] == nil || next[x[1]] == nil {
			t.Errorf("no part leads to %s or %s", x[0], x[1])
		}
		join(x[0], x[1])
		points = append(points, x[0], x[1])
	}
	seen, todo := map[string]bool{rig.PostPos: true}, []string{rig.PostPos}
	for len(todo) > 0 {
		at := todo[0]
		todo = todo[1:]
		for _, to := range next[at] {
			if !seen[to] {
				seen[to] = true
				todo = append(todo, to)
			}
		}
		if len(next[at]) < 2 {
			t.Errorf("%s is a dead end", at)
		}
	}
	for _, p := range points {
		if !seen[p] {
			t.Errorf("%s is not reached", p)
		}
	}
}

// charged: the array fits the controller and the bank, settings the chemistry,
// and the bank gives what runs.
func charged(t *testing.T, s *rig.System) {
	t.Helper()
	fits, err := electric.ColdFits(s.Array.Voc, float64(s.Array.Series), s.ColdestC, -0.32, s.Controller.PVLimitV)
	if err != nil || fits == 0 {
		t.Errorf("%d modules of %g V at %g C pass the controller's %g V (%v)", s.Array.Series, s.Array.Voc, s.ColdestC, s.Controller.PVLimitV, err)
	}
	hot := s.Array.Vmp * float64(s.Array.Series) * 0.82
	if s.Controller.Type == "pwm" { // works above the best point as well, with less
		hot = s.Array.Voc * float64(s.Array.Series) * 0.87 * 0.95
	}
	if hot < s.Controller.AbsorbV {
		t.Errorf("hot modules give %g V, and the bank is charged to %g V", hot, s.Controller.AbsorbV)
	}
	if most := s.ChargeAmps(); most > 0.5*s.Battery.Ah || most > s.Controller.RatedA || most <= 0 {
		t.Errorf("it charges %g Ah with %g A of %g A", s.Battery.Ah, most, s.Controller.RatedA)
	}
	var chem electric.Chemistry
	for i, w := range electric.Chemistries() {
		if w == s.Battery.Chemistry {
			chem = electric.Chemistry(i)
		}
	}
	lo, _ := electric.AbsorbLow(chem, s.Volts, 25)
	hi, _ := electric.AbsorbHigh(chem, s.Volts, 25)
	if v := s.Controller.AbsorbV; v < lo || v > hi || s.Controller.FloatV >= v {
		t.Errorf("a %s bank of %g V is charged to %g V and %g V", s.Battery.Chemistry, s.Volts, v, s.Controller.FloatV)
	}
	main, _ := s.Part("main-fuse")
	if s.Battery.BMS != s.Battery.Lithium() || s.Battery.BMS && main.FullA > s.Battery.TripA {
		t.Errorf("%g A run together, and the protection cuts at %g A", main.FullA, s.Battery.TripA)
	}
	if main.FullA > max(s.Battery.Ah, 40) {
		t.Errorf("%g A run together from %g Ah", main.FullA, s.Battery.Ah)
	}
	if m := s.Monitor; m.Shunt != "" && (m.FullV >= s.Controller.AbsorbV || m.FullV <= s.Controller.FloatV) {
		t.Errorf("the monitor sees full at %g V, between %g V and %g V", m.FullV, s.Controller.FloatV, s.Controller.AbsorbV)
	}
	if x, ok := s.Part("shunt"); ok && main.FullA > x.RatedA {
		t.Errorf("%g A through a shunt of %g A", main.FullA, x.RatedA)
	}
}

// drops: no run of wire drops more than a few per cent at full load.
func drops(t *testing.T, s *rig.System) {
	t.Helper()
	sum := map[string]float64{}
	for _, p := range s.Parts {
		if p.Kind != rig.Wire {
			continue
		}
		if p.Metres <= 0 || p.Metres > 30 {
			t.Errorf("%s is %g m long", p.ID, p.Metres)
		}
		ohm, err := electric.WireOhm(p.Metres, p.MM2, 50)
		if err != nil {
			t.Fatalf("%s: %v", p.ID, err)
		}
		sum[p.Circuit] += ohm * p.FullA
	}
	for circuit, v := range sum {
		volts, most := s.Volts, 3.0
		if circuit == "array" {
			volts = s.Array.Vmp * float64(s.Array.Series)
		}
		if pct := 100 * v / volts; pct > most {
			t.Errorf("the wires of %s drop %.2g %%", circuit, pct)
		}
	}
}

// Both sets hold what there is to hold, and most arrays stay below 60 V.
func TestRandomRigsAreMany(t *testing.T) {
	for _, r := range []rig.Ranges{rig.Tuning, rig.Release} {
		seen := map[string]int{}
		for seed := range uint64(manyRigs) {
			s := rig.Random(rand.New(rand.NewPCG(seed, 1)), r)
			for _, what := range []string{s.Kind, s.Battery.Chemistry, s.Controller.Type, fmt.Sprintf("%g V", s.Volts)} {
				seen[what]++
			}
			for what, is := range map[string]bool{"over 60 V": s.ColdVolts() > 60, "inverter": s.Inverter.Watts > 0, "no inverter": s.Inverter.Watts == 0,
				"inverter fuse": s.Inverter.Fused, "no monitor": s.Monitor.Shunt == "", "monitor": s.Monitor.Shunt != "", "side by side": s.Battery.Parallel > 1,
				"solar breaker": s.Array.Breaker, "own limit": s.Controller.LimitA > 0} {
				if is {
					seen[what]++
				}
			}
			if n := len(s.Loads); n < 2 || n > 6 {
				t.Errorf("%s %d has %d loads", r.Name, seed, n)
			}
		}
		for _, what := range []string{"hut", "van", "boat", "trailer", "lfp", "agm", "flooded", "gel", "pwm", "mppt", "12 V", "24 V", "48 V", "over 60 V",
			"inverter", "no inverter", "inverter fuse", "no monitor", "monitor", "side by side", "solar breaker", "own limit"} {
			if seen[what] < manyRigs/50 {
				t.Errorf("%s: only %d of %d are %s", r.Name, seen[what], manyRigs, what)
			}
		}
		if seen["over 60 V"] > manyRigs/4 {
			t.Errorf("%s: %d of %d arrays pass 60 V", r.Name, seen["over 60 V"], manyRigs)
		}
	}
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
