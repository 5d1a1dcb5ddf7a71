package simrig

import (
	"math"
	"testing"

	"hotlug/engine/rig"
)

// row is a hut with so many strings of batteries side by side.
func row(volts float64, chemistry string, strings int) *rig.System {
	s := hut(volts, chemistry, "mppt")
	s.Battery.Parallel = strings
	s.Parts, s.Places = nil, nil
	rig.Plan(s)
	return s
}

// judged is a rig of which somebody complains that its batteries are unequal.
func judged(t *testing.T, sys *rig.System, change func(p *Plant)) *Sim {
	t.Helper()
	s := observed(t, sys, change)
	s.Complain(uneven)
	return s
}

// The load for the bank's sake is a fifth of its amp-hours at least, and what the strings
// give is what flows.
func TestStringsShareTheLoad(t *testing.T) {
	for _, strings := range []int{2, 3, 4} {
		s := judged(t, row(12, "agm", strings), nil)
		hi, lo, all := readOff(t, s, "block_high_a", ""), readOff(t, s, "block_low_a", ""), readOff(t, s, "load_a", "")
		if least := 0.9 * bankTest * s.sys.Battery.Ah; all < least {
			t.Errorf("%d strings are loaded with %g A, want %g or more", strings, all, least)
		}
		if hi > 1.3*lo {
			t.Errorf("%d strings joined crosswise give from %g to %g A", strings, lo, hi)
		}
		if strings == 2 {
			near(t, "the sum of two", hi+lo, all, 0.01*all)
		}
	}
}

// A battery whose way is longer gives less, by the resistances of the ways.
func TestUnevenBanks(t *testing.T) {
	ohm := func(p *Plant) float64 { return p.Battery.Ohm * 2 }
	for _, c := range []struct {
		name   string
		change func(p *Plant)
		times  float64 // the busier against the other
	}{
		{"a loose link", func(p *Plant) { p.Parts["link-pos-a"].FaceOhm = ohm(p) }, 2},
		{"one of twice the resistance", func(p *Plant) { p.blocks()[1].Times = 2 }, 2},
		{"both leads on the first, links of a quarter each", func(p *Plant) {
			p.Battery.OneEnd = true
			p.Parts["link-pos"].FaceOhm, p.Parts["link-neg"].FaceOhm = ohm(p)/4, ohm(p)/4
		}, 1.5},
	} {
		s := judged(t, row(12, "agm", 2), c.change)
		hi, lo := readOff(t, s, "block_high_a", ""), readOff(t, s, "block_low_a", "")
		if got := hi / lo; math.Abs(got-c.times) > 0.15*c.times {
			t.Errorf("%s: one gives %g times as much as the other, want about %g", c.name, got, c.times)
		}
		if !s.unequal() {
			t.Errorf("%s: nobody notices", c.name)
		}
	}
	s := judged(t, row(12, "lfp", 2), func(p *Plant) { p.blocks()[1].Asleep = true })
	if lo := readOff(t, s, "block_low_a", ""); lo > 0.01 {
		t.Errorf("a battery that sleeps gives %g A", lo)
	}
}

// A link that is loose shows its drop from post to post; sound ones hardly any.
func TestWorstLink(t *testing.T) {
	sound := readOff(t, judged(t, row(12, "agm", 2), nil), "link_drop_v", "")
	loose := readOff(t, judged(t, row(12, "agm", 2), func(p *Plant) { p.Parts["link-neg-b"].FaceOhm = 5e-3 }), "link_drop_v", "")
	if sound > 0.02 || loose < 0.04 {
		t.Errorf("a sound link loses %g V, a loose one %g V", sound, loose)
	}
}

// A dead cell takes its two volts at rest, and in a string the charge shows it.
func TestDeadCell(t *testing.T) {
	dead := func(p *Plant) { p.blocks()[0].Dead = 1 }
	for _, volts := range []float64{12, 24} {
		sys := hut(volts, "flooded", "mppt")
		sick, sound := judged(t, sys, dead), judged(t, sys, nil)
		near(t, "the volts that are missing", readOff(t, sound, "battery_rest_v", "")-readOff(t, sick, "battery_rest_v", ""), leadCellV, 0.05)
		if apart := readOff(t, sick, "sg_high", "") - readOff(t, sick, "sg_low", ""); apart < 0.05 {
			t.Errorf("%g V: the acid of a dead cell is only %g apart", volts, apart)
		}
		if got := look(t, sick, "absorb_reached", "").Choice; got != "never-and-one-warm" {
			t.Errorf("%g V: with a dead cell the top is reached %q", volts, got)
		}
		if volts == 24 {
			near(t, "the batteries apart on charge", readOff(t, sick, "block_charge_spread_v", ""), leadCellV, 0.05)
		}
	}
}

// What comes out of a bank follows its worst battery, its age and the cold.
func TestWhatABankHolds(t *testing.T) {
	for _, c := range []struct {
		name   string
		sys    *rig.System
		change func(p *Plant)
		part   float64
	}{
		{"a sound one", hut(12, "agm", "mppt"), nil, 0.96},
		{"half gone", hut(12, "lfp", "mppt"), func(p *Plant) { p.Battery.Ah *= 0.5 }, 0.49},
		{"one of two in a row is half", hut(24, "agm", "mppt"), func(p *Plant) { p.blocks()[1].Ah = 0.5 }, 0.48},
		{"one of two side by side is half", row(12, "agm", 2), func(p *Plant) { p.blocks()[1].Ah = 0.5 }, 0.72},
		{"one of two side by side is off", row(12, "agm", 2), func(p *Plant) { p.blocks()[1].Off = true }, 0.48},
		{"at nought degrees", hut(12, "agm", "mppt"), func(p *Plant) { p.chill(0) }, 0.8},
	} {
		s := observed(t, c.sys, c.change)
		near(t, c.name, readOff(t, s, "ah_to_cutoff", "")/c.sys.Battery.Ah, c.part, 0.02)
	}
}

// A sound rig has cells, acid and nights that nobody would complain of.
func TestSoundBanks(t *testing.T) {
	for _, chemistry := range []string{"lfp", "agm", "flooded", "gel"} {
		for _, volts := range []float64{12, 24, 48} {
			s := judged(t, row(volts, chemistry, 2), nil)
			if got := s.Symptoms(cutsOff, hotBattery, newBattery, uneven, flatMornings); len(got) > 0 {
				t.Errorf("%g V %s: people complain of %v", volts, chemistry, got)
			}
			for id, want := range map[string]string{
				"bank_look": "alike", "part_open": "all-on", "heat_where": "all", "absorb_reached": "normally",
				"battery_alive_after_wake": "yes", "controller_profile": chemistry, "evening_state": "full-and-all-off", "week_holds": "yes",
			} {
				if got := look(t, s, id, "").Choice; got != want {
					t.Errorf("%g V %s: %s is %q, want %q", volts, chemistry, id, got, want)
				}
			}
			if chemistry == "lfp" {
				if apart := readOff(t, s, "cell_charge_high_v", "") - readOff(t, s, "cell_charge_low_v", ""); apart > 0.05 {
					t.Errorf("%g V: sound cells are %g V apart", volts, apart)
				}
			}
		}
	}
}
