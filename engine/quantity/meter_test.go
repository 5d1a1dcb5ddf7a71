package quantity

import (
	"math"
	"testing"
)

func TestMeterError(t *testing.T) {
	for _, c := range []struct {
		name         string
		meter, kind  string
		value, digit float64
		gain, abs    float64
	}{
		// 12.60 V on a 60.00 V range, 0.5 % + 3: 0.063 + 0.03, and half the digit typed.
		{"hand, battery", "hand", "volts", 12.6, 0.01, 0.005, 0.035},
		{"hand, 24 V battery", "hand", "volts", 25.2, 0.01, 0.005, 0.035},
		{"hand, above 60 V in steps of 0.1 V", "hand", "volts", 72.4, 0.1, 0.005, 0.35},
		{"hand, 10.0 mV", "hand", "volts", 0.01, 0.0001, 0.005, 0.00035},
		{"hand, 0.300 V", "hand", "volts", 0.3, 0.0001, 0.005, 0.00035},
		{"hand, digits finer than it shows", "hand", "volts", 12.6, 0.001, 0.005, 0.0305},
		{"hand, digits left out", "hand", "volts", 12.6, 0.1, 0.005, 0.08},
		{"hand, wrong way round", "hand", "volts", -12.6, 0.01, 0.005, 0.035},
		{"hand, 0.00 V", "hand", "volts", 0, 0.01, 0.005, 0.0053},
		{"hand, ohms carry the leads", "hand", "ohms", 4.7, 0.1, 0.012, 1.05},
		{"hand, milliamps", "hand", "amps", 0.035, 0.00001, 0.01, 0.000035},
		{"cheap", "cheap", "volts", 12.6, 0.01, 0.01, 0.035},
		{"cheap, above 20 V in steps of 0.1 V", "cheap", "volts", 25.2, 0.1, 0.01, 0.35},
		{"good", "good", "volts", 12.6, 0.001, 0.001, 0.0025},
		{"bench", "bench", "volts", 12.6, 0.0001, 0.0002, 0.00055},
		{"clamp not zeroed", "clamp", "amps", 42, 0.1, 0.025, 1.05},
		{"clamp zeroed", "clamp-zeroed", "amps", 42, 0.1, 0.025, 0.55},
		{"clamp above 600 A", "clamp-zeroed", "amps", 700, 1, 0.025, 5.5},
		{"clamp's own volts", "clamp", "volts", 12.6, 0.01, 0.01, 0.035},
		{"infrared, cool", "infrared", "celsius", 54, 1, 0, 2.5},
		{"infrared, hot", "infrared", "celsius", 150, 1, 0.02, 0.5},
		{"infrared, a difference is two readings", "infrared", "kelvin", 15, 1, 0, 4.5},
		{"thermometer", "thermometer", "celsius", 21.5, 0.1, 0, 1.05},
		{"hand meter's probe", "hand", "celsius", 21, 1, 0, 1.5},
		{"eye", "eye", "volts", 12.6, 0.1, 0, 0.05},
		{"label", "label", "amp-hours", 200, 1, 0, 0.5},
		{"what a meter does not measure", "hand", "metres", 3.5, 0.1, 0, 0.05},
		{"no digit", "eye", "volts", 12.6, 0, 0, 0},
		{"digit is no number", "hand", "volts", 12.6, math.NaN(), 0.005, 0.03},
		{"value is no number", "hand", "volts", math.NaN(), 0.1, 0, 0.05},
	} {
		m, found := MeterByID(c.meter)
		if !found {
			t.Fatalf("%s: no meter %q", c.name, c.meter)
		}
		gain, abs := m.Error(kindOf(t, c.kind), c.value, c.digit)
		if !close9(gain, c.gain) || !close9(abs, c.abs) {
			t.Errorf("%s: gain %v and %v, want %v and %v", c.name, gain, abs, c.gain, c.abs)
		}
	}
}

// The book's vectors for one function of a meter: largest error in all.
func TestSpecVectors(t *testing.T) {
	for _, c := range []struct {
		name  string
		s     spec
		value float64
		want  float64
	}{
		{"0.5 % + 3 at 12.80 V", spec{gain: 0.005, counts: 3, span: 6000, lowest: 0.6}, 12.8, 0.094},
		{"0.5 % + 2 at 12.80 V", spec{gain: 0.005, counts: 2, span: 6000, lowest: 0.6}, 12.8, 0.084},
		{"0.09 % + 2 at 12.800 V", spec{gain: 0.0009, counts: 2, span: 60000, lowest: 0.6}, 12.8, 0.01352},
		{"0.5 % + 3 at 51.2 V in 0.01", spec{gain: 0.005, counts: 3, span: 6000, lowest: 0.6}, 51.2, 0.286},
		{"0.5 % + 3 at 51.2 V in 0.1", spec{gain: 0.005, counts: 3, span: 2000, lowest: 0.2}, 51.2, 0.556},
		{"0.5 % + 3 at 10.0 mV", spec{gain: 0.005, counts: 3, span: 6000, lowest: 0.6}, 0.01, 0.00035},
		{"2 % + 5 at 100 A", spec{gain: 0.02, counts: 5, span: 6000, lowest: 600}, 100, 2.5},
		{"3 % + 10 at 2 A", spec{gain: 0.03, counts: 10, span: 6000, lowest: 600}, 2, 1.06},
	} {
		if got := c.s.gain*c.value + c.s.counts*c.s.resolution(c.value); !close9(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestMeterClasses(t *testing.T) {
	for _, id := range []string{"hand", "cheap", "good", "bench", "clamp", "clamp-zeroed", "infrared", "thermometer", "eye", "label"} {
		if m, found := MeterByID(id); !found || m.ID != id || m.Name == "" {
			t.Errorf("meter %q: %+v, found %v", id, m, found)
		}
	}
	if _, found := MeterByID("dowsing rod"); found {
		t.Error("an unknown meter was found")
	}
	for _, m := range Meters() {
		for _, k := range Kinds() {
			for _, v := range []float64{0, 1e-6, 0.6, 59.99, 60, 1e9, -3} {
				if g, a := m.Error(k, v, 0.01); g < 0 || a <= 0 || !finite(g) || !finite(a) {
					t.Errorf("%s on %s at %v: gain %v, abs %v", m.ID, k.ID, v, g, a)
				}
			}
		}
	}
	if AboutError(-40) != 4 {
		t.Errorf("about -40 is off by %v, want 4", AboutError(-40))
	}
}
