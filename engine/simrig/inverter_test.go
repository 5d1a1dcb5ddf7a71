package simrig

import (
	"math"
	"testing"

	"hotlug/engine/rig"
)

// What an inverter does follows from volts, watts and heat alone.
func TestInverterStops(t *testing.T) {
	cases := []struct {
		name   string
		change func(p *Plant)
		lamp   string // nothing plugged in
		when   string // it stops, "" never
		sound  string
	}{
		{"sound", func(*Plant) {}, "normal", "", "none"},
		{"its switch is off", func(p *Plant) { p.Inverter.Switch = false }, "off", "at-switch-on", "none"},
		{"its remote is off", func(p *Plant) { p.Inverter.Remote = true }, "off", "at-switch-on", "none"},
		{"locked", func(p *Plant) { p.Inverter.Latched = true }, "fault-lamp", "at-switch-on", "beeps"},
		{"nothing feeds it", func(p *Plant) { p.Parts["inv-pos"].Missing = true }, "off", "at-switch-on", "none"},
		{"a nearly open joint on its way", func(p *Plant) { p.Parts["inv-lug-pos"].FaceOhm = 4 }, "flashes-then-off", "at-switch-on", "beeps"},
		{"a weak way, and nothing starts", func(p *Plant) { p.Parts["inv-lug-pos"].FaceOhm = 0.06 }, "normal", "under-steady-load", "beeps"},
		{"a way that only a start pulls down", func(p *Plant) {
			p.Parts["inv-lug-pos"].FaceOhm = 0.02
			starts(p)
		}, "normal", "when-a-load-starts", "hum"},
		{"a motor that takes more than its surge", func(p *Plant) { p.Inverter.Starts, p.Inverter.PlugW = "motor", 400 }, "normal", "when-a-load-starts", "none"},
		{"more than it gives", func(p *Plant) { p.Inverter.PlugW = 1300 }, "normal", "under-steady-load", "beeps"},
		{"no air", func(p *Plant) { p.Inverter.BlockK = 40 }, "normal", "after-minutes", "beeps"},
		{"a little heat", func(p *Plant) { p.Inverter.AirC = 45 }, "normal", "", "none"},
		{"empty, and stopped by that", func(p *Plant) { p.Battery.Charge, p.Sky.Full, p.Inverter.LowStop = 2, 0, true }, "fault-lamp", "at-switch-on", "beeps"},
		{"an upper limit below the sun's volts", func(p *Plant) { p.Battery.Charge, p.Inverter.HighV = 99, 13.9 }, "fault-lamp", "in-sun-or-charging", "beeps"},
		{"a small load while it searches", func(p *Plant) { p.Inverter.Search, p.Inverter.PlugW = true, 10 }, "normal", "on-off-on", "none"},
		{"a worn fan", func(p *Plant) { p.Inverter.Scrapes = true }, "normal", "", "grinding"},
		{"dry capacitors", func(p *Plant) { p.Inverter.DryOhm = 0.1 }, "normal", "", "hum"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := observed(t, hut(12, "lfp", "mppt"), c.change)
			if got := s.inverterLamp(); got != c.lamp {
				t.Errorf("its lamp is %q, want %q", got, c.lamp)
			}
			if got := s.stopsWhen(); got != c.when {
				t.Errorf("it stops %q, want %q", got, c.when)
			}
			if got := s.inverterSound(); got != c.sound {
				t.Errorf("it sounds %q, want %q", got, c.sound)
			}
		})
	}
}

// A locked inverter runs again after it was switched off and on, a dead one not.
func TestInverterReset(t *testing.T) {
	for name, c := range map[string]struct {
		change func(x *Inverter)
		want   string
	}{
		"locked": {func(x *Inverter) { x.Latched = true }, "yes"},
		"dead":   {func(x *Inverter) { x.Dead = true }, "no"},
	} {
		s := observed(t, hut(24, "agm", "pwm"), func(p *Plant) { c.change(&p.Inverter) })
		s.Do("restart-inverter")
		if got := look(t, s, "inverter_alive_after_reset", ""); got.Choice != c.want {
			t.Errorf("%s: after a reset it lives: %q, want %q", name, got.Choice, c.want)
		}
	}
}

// Loaded no more than it bears, an inverter on a weak way stands just above its
// limit, and what is missing to the posts lies across that way.
func TestInverterHeld(t *testing.T) {
	const bad = 0.08
	s := observed(t, hut(12, "lfp", "mppt"), func(p *Plant) { p.Parts["inv-lug-neg"].FaceOhm = bad })
	s.Complain("inverter-stops")
	posts, studs := readOff(t, s, "battery_load_v", ""), readOff(t, s, "inv_load_v", "")
	near(t, "the volts at its studs", studs, s.lowCut(), 0.01*s.lowCut())
	amps := readOff(t, s, "load_a", "inv-lug-neg")
	if lost := posts - studs; lost < bad*amps || lost > 1.15*bad*amps {
		t.Errorf("%g V are lost on the way; %g A through %g ohm make %g V", lost, amps, bad, bad*amps)
	}
	if w := s.wireInQuestion(); w == nil || w.Circuit != "inverter" && w.Circuit != "battery" {
		t.Errorf("the wire in question is %v", w)
	}
}

// A start pulls the volts lower than the steady load, and no further than the
// inverter lets them.
func TestInverterStart(t *testing.T) {
	for name, sys := range huts() {
		s := observed(t, sys, func(p *Plant) { starts(p) })
		s.Complain("inverter-stops")
		steady, start := readOff(t, s, "inv_load_v", ""), readOff(t, s, "inv_min_v", "")
		if start >= steady || start < s.lowCut() {
			t.Errorf("%s: %g V at the start, %g V under the steady load, limit %g V", name, start, steady, s.lowCut())
		}
	}
}

// The ripple is 0.7071 times the amps and all ohms between cells and studs.
func TestRipple(t *testing.T) {
	for name, sys := range huts() {
		s := observed(t, sys, nil)
		s.Complain("inverter-noisy")
		amps := readOff(t, s, "load_a", "inv-lug-pos")
		ohm := (s.restVolts() - readOff(t, s, "inv_load_v", "")) / amps
		near(t, name+": the ripple", readOff(t, s, "ripple_v", ""), amps*ohm/math.Sqrt2, 0.002*sys.Volts)
	}
}

// The inverter's load draws constant power: what enters its studs is its output
// over its efficiency, and its idling.
func TestInverterPower(t *testing.T) {
	for name, sys := range huts() {
		s := observed(t, sys, nil)
		st := s.at(s.atWork())
		in := st.sol.Across(rig.InvPos, rig.InvNeg) * s.amps(st, "inv-pos")
		near(t, name+": the power", in, s.usualWatts()/sys.Inverter.Eta+sys.Inverter.IdleW, 0.001*in)
	}
}
