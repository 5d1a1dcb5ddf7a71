package simrig

import (
	"testing"
	"testing/quick"
)

// sound is a counter of a lithium bank with nothing wrong.
func soundCounter() counter {
	return counter{
		ah: 200, fit: 200, gain: 1, useSeen: 1, chargeSeen: 1,
		efficiency: 0.99, trueEfficiency: 0.99, peukert: 1.05, truePeukert: 1.05,
		fullV: 14, tailA: 8, rest: func(charge float64) float64 { return 12.8 + 0.6*charge/100 },
		ohm: 0.006, topV: 14.2, endA: 5, chargeA: 30, use: 80, days: 10, charge: 60,
	}
}

func TestASoundCountIsTrue(t *testing.T) {
	c := soundCounter().run(true)
	if !c.synced || c.early || !c.reached || c.shown < 59 || c.shown > 61 || c.pace < 0.98 || c.pace > 1.02 {
		t.Errorf("a sound monitor at 60 %%: %+v", c)
	}
}

// What is shown stays between nought and a hundred whatever is set and joined.
func TestShownStaysPerCent(t *testing.T) {
	held := func(gain, zero, efficiency, fit, charge uint8) bool {
		c := soundCounter()
		c.gain = float64(gain)/32 - 4
		c.zero = float64(zero)/64 - 2
		c.efficiency = 0.5 + float64(efficiency)/512
		c.fit = 20 + 4*float64(fit)
		c.charge = float64(charge) / 256 * 100
		x := c.run(true)
		return x.shown >= 0 && x.shown <= 100 && x.top >= 0 && x.top <= 100
	}
	if err := quick.Check(held, &quick.Config{MaxCount: 60}); err != nil {
		t.Error(err)
	}
}

// Twice the amp-hours set is half the pace, and half is twice.
func TestPaceFollowsTheSetting(t *testing.T) {
	for _, c := range []struct{ fit, pace float64 }{{400, 0.5}, {160, 1.25}} {
		x := soundCounter()
		x.fit, x.peukert, x.truePeukert = c.fit, 1, 1
		if got := x.run(true).pace; got < 0.97*c.pace || got > 1.03*c.pace {
			t.Errorf("%g Ah set for 200: pace %g, want %g", c.fit, got, c.pace)
		}
	}
}

func BenchmarkCount(b *testing.B) {
	c := soundCounter()
	for b.Loop() {
		c.run(true)
	}
}
