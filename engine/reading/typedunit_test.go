package reading_test

import (
	"errors"
	"testing"

	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

// Beside a meter on millivolts a bare number may be either.
func TestTypedOnMillivolts(t *testing.T) {
	volts, _ := quantity.KindByID("volts")
	r := &reading.Reading{ID: "joint_drop_v", Answer: reading.Number, Kind: volts, Shows: "mV"}
	for _, c := range []struct {
		text string
		want float64
		asks bool
	}{
		{"180", 0, true},
		{"3", 0, true},
		{"-12", 0, true},
		{"2,5", 0, true},
		{"0.18", 0, true},
		{"0", 0, false},
		{"180 mV", 0.18, false},
		{"3 V", 3, false},
	} {
		got, err := reading.Typed(r, c.text)
		var back *quantity.AskBack
		if asked := errors.As(err, &back); asked != c.asks {
			t.Errorf("%q: asked back %v (%v), want %v", c.text, asked, err, c.asks)
			continue
		}
		if d := got.Value - c.want; !c.asks && (d > 1e-12 || d < -1e-12) {
			t.Errorf("%q is %v, want %v", c.text, got.Value, c.want)
		}
	}
}
