package circuit

import (
	"math"
	"testing"

	"hotlug/engine/electric"
)

// TestGhostVolts: what a meter shows behind an open contact is the divider of the
// leak and the meter, and nothing without a leak.
func TestGhostVolts(t *testing.T) {
	n := New()
	a, b := n.Node("before"), n.Node("behind")
	n.Source("battery", a, Ground, 13.4, 0.005)
	n.Resistor("open contact", a, b, 50e6)
	n.Resistor("wire", b, n.Node("end"), 0.01)
	n.Node("nowhere")
	s := solved(t, n)
	want, err := electric.GhostVolts(13.4, 50e6, 10e6)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "without a meter", s.Across("end", "gnd"), 13.4, 3e-3)
	near(t, "with a meter of 10 MΩ", s.Read("end", "gnd", 10e6), want, 1e-4)
	near(t, "on the battery", s.Read("before", "gnd", 10e6), 13.4, 1e-6)
	near(t, "on nothing", s.Read("nowhere", "gnd", 10e6), 0, 1e-9)
	near(t, "the other way round", s.Read("gnd", "end", 10e6), -want, 1e-4)
	near(t, "resistance seen", s.Ohm("end", "gnd"), 50e6, 1e4)
}

// TestReadBehindDiode: a blocked diode lets a meter's current through as its leak
// does, which is found by solving with the meter.
func TestReadBehindDiode(t *testing.T) {
	n := New()
	a, b := n.Node("a"), n.Node("b")
	n.Source("battery", a, Ground, 13.4, 0.005)
	n.Pole("blocking", b, a, Diode{Is: 1e-7, N: 1.1, Tk: 298})
	s := solved(t, n)
	near(t, "behind a blocked diode", s.Read("b", "gnd", 10e6), 1.0, 0.01)
}

func TestNamesThatAreNotThere(t *testing.T) {
	n := New()
	n.Resistor("r", n.Node("a"), Ground, 1)
	s := solved(t, n)
	for what, x := range map[string]float64{"Volts": s.Volts("z"), "Across": s.Across("a", "z"), "Amps": s.Amps("z"), "Watts": s.Watts("z"), "Read": s.Read("z", "a", 1e7), "Duty": s.Duty("r"), "V": s.V(9)} {
		if !math.IsNaN(x) {
			t.Errorf("%s answers %g for a name that is not there", what, x)
		}
	}
	if n.Has("z") || !n.Has("a") || !n.Has("gnd") || n.HasElement("z") || !n.HasElement("r") {
		t.Error("Has and HasElement do not say what is there")
	}
}

// TestHeatOfAKnownJoint: 2 mΩ at 50 A on one cable of 35 mm², by hand: 5 W times
// 12 K/W is 60 K over 25 °C; after one time constant 63.2 % of that.
func TestHeatOfAKnownJoint(t *testing.T) {
	n := New()
	a, b := n.Node("stud"), n.Node("lug")
	n.Source("supply", a, Ground, 12, 0.01)
	n.Resistor("joint", a, b, 0.002)
	n.Current("load", b, Ground, 50)
	s := solved(t, n)
	near(t, "drop", s.Across("stud", "lug"), 0.1, 1e-9)
	near(t, "watts", s.Watts("joint"), 5, 1e-9)
	rth, err := electric.JointRth(35, electric.OneCable)
	if err != nil {
		t.Fatal(err)
	}
	h := Heating{Ambient: 25, Watts: s.Watts("joint"), Rth: rth, Tau: 400}
	near(t, "settled", h.Settled(), 85, 1e-6)
	near(t, "after one time constant", h.At(400), 25+60*(1-1/math.E), 1e-6)
	near(t, "at the beginning", h.At(0), 25, 1e-9)
	near(t, "after long", h.At(1e5), 85, 1e-6)
	to, err := h.Seconds(70)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "seconds to 70 °C", to, 400*math.Log(4), 1e-6)
	if _, err := h.Seconds(90); err == nil {
		t.Error("it never comes to 90 °C, and that is no error")
	}
}

// TestWorkedShares: two batteries side by side share a load as their resistances
// have it, and the sum of all watts is none.
func TestWorkedShares(t *testing.T) {
	n := New()
	bus := n.Node("bus")
	n.Source("one", bus, Ground, 12.8, 0.005)
	n.Source("two", bus, Ground, 12.8, 0.015)
	n.Current("load", bus, Ground, 40)
	s := solved(t, n)
	near(t, "one gives", -s.Amps("one"), 30, 1e-6)
	near(t, "two gives", -s.Amps("two"), 10, 1e-6)
	near(t, "bus", s.Volts("bus"), 12.65, 1e-6)
	near(t, "all watts", s.Watts("one")+s.Watts("two")+s.Watts("load"), 0, 1e-6)
}
