package simrig

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hotlug/engine/circuit"
	"hotlug/engine/electric"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

// huts are rigs of every kind of bank and controller.
func huts() map[string]*rig.System {
	all := map[string]*rig.System{}
	for _, volts := range []float64{12, 24, 48} {
		for _, c := range []string{"lfp", "flooded", "agm", "gel"} {
			for _, kind := range []string{"mppt", "pwm"} {
				all[fmt.Sprintf("%g V %s %s", volts, c, kind)] = hut(volts, c, kind)
			}
		}
	}
	return all
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, want %.6g ± %.2g", what, got, want, within)
	}
}

func readOff(t testing.TB, s *Sim, id, place string) float64 {
	t.Helper()
	a := s.Take(id, place)
	if !a.Known {
		t.Fatalf("%s at %q: %s", id, place, a.Reason)
	}
	return a.Value
}

// A sound rig reads as its references say, by hand.
func TestSoundRig(t *testing.T) {
	for name, sys := range huts() {
		t.Run(name, func(t *testing.T) {
			s := observed(t, sys, nil)
			rest := figure(0)(electric.RestVolts(sys.Battery.Charge, sys.Volts, chem(sys)))
			near(t, "the rest voltage", readOff(t, s, "battery_rest_v", ""), rest, 0.002*sys.Volts)

			amps := readOff(t, s, "load_a", "main-fuse")
			if full := s.plant.Parts["main-fuse"].FullA; amps < 0.3*full || amps > 1.1*full {
				t.Errorf("a steady load is %g A where %g A is all: no good for a test", amps, full)
			}
			for _, p := range sys.Parts {
				q := s.plant.Parts[p.ID]
				switch {
				case p.Kind == rig.Joint && !strings.HasPrefix(p.ID, "link"):
					a := readOff(t, s, "load_a", p.ID)
					near(t, p.ID, readOff(t, s, "joint_drop_v", p.ID), a*(q.FaceOhm+q.BarrelOhm), 1e-5)
					near(t, "the crimp of "+p.ID, readOff(t, s, "lug_barrel_drop_v", p.ID), a*q.BarrelOhm, 1e-5)
					if full := p.FullA * (q.FaceOhm + q.BarrelOhm); full > 0.005 {
						t.Errorf("%s drops %g V at full current; a sound joint stays under 5 mV", p.ID, full)
					}
				case p.Kind == rig.Fuse && p.Circuit != "controller":
					a := readOff(t, s, "load_a", p.ID)
					good := figure(0)(electric.HolderGoodLimit(a, p.RatedA, max(a, p.FullA)))
					if v := readOff(t, s, "holder_drop_v", p.ID); v > good || v < 0.2*good {
						t.Errorf("%s drops %g V at %g A; a good holder stays under %g V", p.ID, v, a, good)
					}
					want := figure(0)(electric.FuseDrop(a, p.RatedA))
					near(t, "the fuse in "+p.ID, readOff(t, s, "fuse_drop_v", p.ID), want, 0.03*want)
				}
			}
			if list := s.Symptoms(); len(list) > 0 {
				t.Errorf("a sound rig is complained of: %v", list)
			}
		})
	}
}

// What a sound controller gives follows from the array and the battery alone.
func TestSoundCharge(t *testing.T) {
	for name, sys := range huts() {
		t.Run(name, func(t *testing.T) {
			s := observed(t, sys, nil)
			x := s.array(s.plant.Sky.Full)
			volts := readOff(t, s, "battery_now_v", "")
			want := min(sys.Controller.RatedA, x.curve.Short())
			if sys.Controller.Type == "mppt" {
				v, i := x.curve.Best()
				want = min(sys.Controller.RatedA, sys.Controller.Eta*v*i/volts)
			}
			near(t, "the charge", readOff(t, s, "ctl_charge_a", ""), want, 0.06*want)
			near(t, "the open array", readOff(t, s, "pv_open_v", ""), x.open, 0.001*x.open)
			tail := tailShare * figure(0)(electric.TailLimit(chem(sys), sys.Battery.Ah))
			near(t, "the tail", readOff(t, s, "tail_a", ""), tail, 0.2*tail)
			gap := math.Abs(volts - readOff(t, s, "ctl_bat_v", ""))
			if gap > 0.02*sys.Volts {
				t.Errorf("posts and controller are %g V apart on a sound rig", gap)
			}
		})
	}
}

// In every situation currents and energy are in balance, and what comes to the
// bar leaves it.
func TestBalance(t *testing.T) {
	for name, sys := range huts() {
		s := observed(t, sys, func(p *Plant) {
			p.LeftOn = map[string]float64{"fridge": 40}
			p.Bypass = map[string]bool{"lights": true}
		})
		for _, z := range []Situation{
			s.AsFound(), s.SituationFor([]string{"loads-on"}, "main-fuse"), s.SituationFor([]string{"absorption"}, ""),
			s.SituationFor([]string{"isolated"}, ""), s.Loaded("fridge"),
		} {
			st := s.at(z)
			if st.err != nil {
				t.Errorf("%s, %+v: %v", name, z, st.err)
				continue
			}
			if amps, energy := st.sol.Balance(); amps > 1e-6 || energy > 1e-6 {
				t.Errorf("%s, %+v: out of balance by %g of amps, %g of energy", name, z, amps, energy)
			}
			out := s.amps(st, "inv-pos")
			for _, l := range sys.Loads {
				if !l.AC {
					out += s.amps(st, l.ID)
				}
			}
			if in := s.amps(st, "main-pos-b") - s.amps(st, "ctl-pos-bus"); math.Abs(in-out) > 1e-4 {
				t.Errorf("%s, %+v: %g A come to the bar and %g A leave it", name, z, in, out)
			}
		}
	}
}

// The same reading gives the same answer, whatever was read in between, until
// something is done; a meter of the person's is always off in the same way.
func TestSameTake(t *testing.T) {
	g := observedGraph(t)
	sys := hut(24, "agm", "mppt")
	make := func() *Sim {
		s, err := New(sys, g.Readings, nil, nil, Options{Meters: "hand", Chance: rand.New(rand.NewPCG(7, 7))})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	a, b := make(), make()
	first := a.Take("battery_now_v", "")
	for _, id := range []string{"ctl_bat_v", "pv_loaded_v", "battery_a"} {
		b.Take(id, "")
	}
	if again := b.Take("battery_now_v", ""); again != first {
		t.Errorf("first %+v, later %+v", first, again)
	}
	a.Do("load-half-a-minute")
	if again := a.Take("battery_now_v", ""); again != first {
		t.Errorf("the same rig and meter give %+v, then %+v", first, again)
	}
	if first.Value == first.True {
		t.Error("a hand meter shows the very truth")
	}
}

// No meter is off by more than its class allows, and its digit is that of its
// display.
func TestMeterClasses(t *testing.T) {
	g := observedGraph(t)
	sys := hut(12, "lfp", "mppt")
	for _, class := range []string{"good", "hand", "cheap"} {
		for seed := range uint64(40) {
			s, err := New(sys, g.Readings, nil, nil, Options{Meters: class, Chance: rand.New(rand.NewPCG(seed, 1))})
			if err != nil {
				t.Fatal(err)
			}
			for _, id := range []string{"battery_now_v", "holder_drop_v", "load_a", "battery_c", "inv_input_ohm"} {
				a, r := s.Take(id, "main-fuse"), g.Readings[id]
				m, _ := quantity.MeterByID(s.classOf(r.Meter))
				gain, abs := m.Error(r.Kind, a.True, a.Digit)
				if off := math.Abs(a.Value - a.True); off > 1.01*(gain*math.Abs(a.True)+abs) {
					t.Errorf("%s meter, %s: %g for %g is off by %g, at most %g", class, id, a.Value, a.True, off, gain*math.Abs(a.True)+abs)
				}
				if n := a.Value / a.Digit; math.Abs(n-math.Round(n)) > 1e-6 {
					t.Errorf("%s meter, %s: %g is no whole number of digits of %g", class, id, a.Value, a.Digit)
				}
			}
		}
	}
}

// Every measurement of the knowledge is answered on random rigs, at every place,
// within what is possible.
func TestEveryMeasurement(t *testing.T) {
	g := observedGraph(t)
	chance := rand.New(rand.NewPCG(5, 5))
	for n := range 30 {
		ranges := rig.Tuning
		if n%2 == 1 {
			ranges = rig.Release
		}
		sys := rig.Random(chance, ranges)
		s, err := New(sys, g.Readings, nil, nil, Options{Meters: "hand", Chance: chance})
		if err != nil {
			t.Fatal(err)
		}
		for id, r := range g.Readings {
			if r.Class != reading.Measurement {
				continue
			}
			places := []string{""}
			switch r.Over {
			case "":
				s.focus = "main-fuse"
			default:
				places = nil
				for _, p := range sys.Places {
					if p.Class == r.Over {
						places = append(places, p.ID)
					}
				}
			}
			for _, place := range places {
				clear(s.seen)
				a := s.Take(id, place)
				possible := r.Possible
				if r.Scales {
					possible = possible.Times(sys.Volts / 12)
				}
				switch {
				case a.Known && !possible.Has(a.Value) && !strings.Contains(r.From, "pv") && id != "lead_polarity_v":
					t.Errorf("rig %d, %g V: %s at %q is %g, which is not possible (%g to %g)", n, sys.Volts, id, place, a.Value, possible.Lo, possible.Hi)
				case !a.Known && a.Reason == "":
					t.Errorf("rig %d: %s at %q is not known, and no reason given", n, id, place)
				case !a.Known && sys.Inverter.Watts > 0 && sys.Monitor.Shunt != "" && !mayLack(sys, id):
					t.Errorf("rig %d: %s at %q can't be had: %s", n, id, place, a.Reason)
				}
			}
		}
	}
}

// mayLack tells readings of parts that stand elsewhere than at a main fuse, or
// that not every bank has.
func mayLack(sys *rig.System, id string) bool {
	switch id {
	case "lug_barrel_drop_v", "plug_twin_c", "plug_drop_v", "load_v", "load_lamp_v", "load_neg_drop_v", "chassis_drop_v", "converter_out_v", "converter_idle_v":
		return true
	case "start_run_v", "alt_out_v", "relay_drop_v", "engine_signal_v", "dcdc_in_v", "charger_out_v":
		return true // the sun alone charges them
	case "sg_high", "sg_low":
		return sys.Battery.Chemistry != "flooded"
	case "block_high_a", "block_low_a", "link_drop_v":
		return sys.Battery.Parallel < 2
	case "block_high_v", "block_low_v":
		return sys.Battery.Parallel < 2 && sys.Battery.Series < 2
	case "block_charge_spread_v":
		return sys.Battery.Series < 2
	}
	return false
}

// A meter without error shows the network's own volts.
func TestExactMeter(t *testing.T) {
	s := observed(t, hut(48, "lfp", "mppt"), nil)
	st := s.at(s.AsFound())
	for id, ends := range map[string][2]string{
		"battery_now_v": {rig.PostPos, "gnd"}, "ctl_bat_v": {rig.CtlBatPos, rig.CtlBatNeg}, "pv_loaded_v": {rig.CtlPVPos, rig.CtlPVNeg},
	} {
		near(t, id, readOff(t, s, id, ""), st.sol.Across(ends[0], ends[1]), 2e-6*100)
	}
}

// Ghost volts of a bank that has let go fall under a lamp; those of a sound one
// do not.
func TestGhostVolts(t *testing.T) {
	for _, volts := range []float64{12, 24, 48} {
		sound, off := observed(t, hut(volts, "lfp", "mppt"), nil), observed(t, hut(volts, "lfp", "mppt"), func(p *Plant) { p.Battery.Off = true })
		if v := readOff(t, sound, "battery_lamp_v", ""); v < volts {
			t.Errorf("%g V: a sound bank falls to %g V under a lamp", volts, v)
		}
		if v := readOff(t, off, "battery_lamp_v", ""); v > 0.05 {
			t.Errorf("%g V: a bank that has let go shows %g V under a lamp", volts, v)
		}
	}
}

// The gap shows the battery, both batteries where one is the wrong way round, and
// next to nothing once the capacitors are filled.
func TestGap(t *testing.T) {
	sys := hut(24, "lfp", "mppt")
	rest := figure(0)(electric.RestVolts(sys.Battery.Charge, 24, electric.LFP))
	s := observed(t, sys, func(p *Plant) { p.Event.Joining = "inverter" })
	near(t, "the gap", math.Abs(readOff(t, s, "gap_v", "")), rest, 0.3)
	near(t, "the studs after the pre-charge", readOff(t, s, "precharge_v", ""), readOff(t, s, "battery_now_v", ""), 0.3)
	s = observed(t, sys, func(p *Plant) { p.Event = Event{Joining: "battery", OtherV: 26, Reversed: true} })
	near(t, "the gap of a turned battery", math.Abs(readOff(t, s, "gap_v", "")), rest+26, 0.3)
	s = observed(t, sys, func(p *Plant) {
		p.Event = Event{Joining: "system", PreOhm: 8}
		p.LeftOn = map[string]float64{"fridge": 60}
	})
	if v := readOff(t, s, "precharge_v", ""); v > rest-2 {
		t.Errorf("with a load left on the studs come to %g V of %g V", v, rest)
	}
}

// A bad contact is as hot as its watts make it, its neighbour is warmed by it,
// and the far end of the cable is not.
func TestHeat(t *testing.T) {
	sys := hut(12, "lfp", "mppt")
	s := observed(t, sys, func(p *Plant) { p.Parts["main-fuse-bat"].FaceOhm = 1e-3 })
	h := observed(t, sys, nil)
	z := s.Loaded("main-fuse-bat")
	st, p := s.at(z), s.plant.Parts["main-fuse-bat"]
	a := s.amps(st, p.ID)
	sound, _ := h.hotAt(h.plant.Parts[p.ID], z)
	hot, _ := s.hotAt(p, z)
	by := a * a * (1e-3 - h.plant.Parts[p.ID].FaceOhm) * figure(0)(electric.JointRth(p.MM2, electric.TwoCables))
	near(t, "the rise by the bad face", hot-sound, by, 0.15*by+1)
	fuse, _ := s.hotAt(s.plant.Parts["main-fuse"], z)
	fuseSound, _ := h.hotAt(h.plant.Parts["main-fuse"], z)
	if fuse < fuseSound+0.3*(hot-sound) || fuse > hot {
		t.Errorf("beside a joint of %g °C the fuse is at %g °C, by itself %g °C", hot, fuse, fuseSound)
	}
	far, _ := s.hotAt(s.plant.Parts["bus-pos-main"], z)
	farSound, _ := h.hotAt(h.plant.Parts["bus-pos-main"], z)
	if far-farSound > 0.2*(hot-sound) {
		t.Errorf("the far end of the cable is warmed by %g K", far-farSound)
	}
	s.Complain("hot-joint")
	if s.Focus() != "main-fuse-bat" {
		t.Errorf("the complaint about heat is about %q", s.Focus())
	}
}

// An inverter cuts out when its volts sag, and a protection lets go.
func TestSwings(t *testing.T) {
	s := observed(t, hut(12, "agm", "mppt"), func(p *Plant) { p.Battery.Ohm = 0.03 })
	if st := s.at(s.Loaded("inv-lug-pos")); st.invOn {
		t.Error("an inverter works on at", st.sol.Across(rig.InvPos, rig.InvNeg))
	}
	s = observed(t, hut(12, "lfp", "mppt"), func(p *Plant) { p.Battery.TripA = 20 })
	if st := s.at(s.Loaded("main-fuse")); !st.tripped {
		t.Error("a protection holds although too much flows")
	}
	s = observed(t, hut(12, "lfp", "mppt"), func(p *Plant) { p.Battery.NoCharge = true })
	st := s.at(s.AsFound())
	if !st.blocked || s.bankAmps(st) > 0.01 || s.modeOf(st) != circuit.AtVolts {
		t.Errorf("a bank that takes no charge takes %g A, the controller is %q", s.bankAmps(st), s.modeOf(st))
	}
}

// What was closed stays closed after a repair.
func TestDo(t *testing.T) {
	s := observed(t, hut(12, "lfp", "mppt"), func(p *Plant) { p.Parts["pv-isolator"].Open = true })
	if a := s.Take("pv_a", ""); a.Value > 0.01 {
		t.Errorf("%g A flow through an open switch", a.Value)
	}
	s.Do("close-pv-isolator")
	if a := s.Take("pv_a", ""); a.Value < 1 {
		t.Errorf("only %g A flow through the closed switch", a.Value)
	}
}

func BenchmarkSolve(b *testing.B) {
	s := observed(b, hut(12, "lfp", "mppt"), nil)
	z := s.Loaded("main-fuse")
	st := s.at(z)
	b.ReportMetric(float64(s.build(st).Size()), "nodes")
	for b.Loop() {
		s.settle(z)
	}
}

func BenchmarkFirstTake(b *testing.B) {
	g := observedGraph(b)
	sys := hut(12, "lfp", "mppt")
	for b.Loop() {
		s, err := New(sys, g.Readings, nil, nil, Options{})
		if err != nil {
			b.Fatal(err)
		}
		s.Take("battery_now_v", "")
	}
}

func BenchmarkTake(b *testing.B) {
	s := observed(b, hut(12, "lfp", "mppt"), nil)
	for b.Loop() {
		clear(s.seen)
		s.Take("joint_drop_v", "post-pos")
	}
}

func BenchmarkSymptoms(b *testing.B) {
	g := observedGraph(b)
	sys := hut(12, "lfp", "mppt")
	for b.Loop() {
		s, err := New(sys, g.Readings, nil, nil, Options{})
		if err != nil {
			b.Fatal(err)
		}
		s.Symptoms()
	}
}
