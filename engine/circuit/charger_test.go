package circuit

import (
	"math"
	"strings"
	"testing"

	"hotlug/engine/electric"
)

// bench is an array on a charger on a battery, all with leads.
func bench(t testing.TB, a Array, volts, inside float64, put func(n *Network, pv, bat Node)) *Solution {
	t.Helper()
	n := New()
	far, pv, bat, post := n.Node("far"), n.Node("pv"), n.Node("bat"), n.Node("post")
	n.Pole("array", far, Ground, curve(t, a))
	n.Resistor("lead", far, pv, 0.1)
	put(n, pv, bat)
	n.Resistor("wire", bat, post, 0.004)
	n.Source("battery", post, Ground, volts, inside)
	s := solved(t, n)
	balanced(t, s)
	return s
}

func TestTracker(t *testing.T) {
	m := fitted(t, label54)
	two := Array{Module: m, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}
	base := Tracker{Eta: 0.95, Own: 2, MaxA: 60, SetV: 28.8, StartV: 20, Margin: 5, Run: 1}
	with := func(change func(*Tracker)) Tracker { x := base; change(&x); return x }
	dark := two
	dark.Sun = 0
	for _, c := range []struct {
		name  string
		a     Array
		tr    Tracker
		volts float64
		mode  string
		bat   float64 // volts at its battery terminals, 0 not asked
		amps  float64
	}{
		{"free", two, base, 26, Tracking, 0, 0},
		{"current limit", two, with(func(x *Tracker) { x.MaxA = 10 }), 26, AtAmps, 0, 10},
		{"absorption", two, base, 28.75, AtVolts, 28.8, 0},
		{"battery above its set volts", two, base, 29.5, AtVolts, 29.5, 0},
		{"dark", dark, base, 26, Off, 26, 0},
		{"battery too low to start", two, base, 17, Off, 17, 0},
		{"array too low to start", two, with(func(x *Tracker) { x.Margin = 60 }), 26, Off, 26, 0},
		{"no limits", two, Tracker{Eta: 1}, 26, Tracking, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := bench(t, c.a, c.volts, 0.01, func(n *Network, pv, bat Node) { n.Tracker("c", pv, Ground, bat, Ground, c.tr) })
			if s.Mode("c") != c.mode {
				t.Errorf("mode %q, want %q", s.Mode("c"), c.mode)
			}
			if c.bat > 0 {
				near(t, "battery terminals", s.Volts("bat"), c.bat, 2e-3)
			}
			if c.amps > 0 {
				near(t, "amps out", s.Amps("c"), c.amps, 1e-6)
			}
			in := s.Volts("pv") * s.AmpsIn("c")
			near(t, "watts out", s.Volts("bat")*s.Amps("c"), c.tr.Eta*in-c.tr.Own, 1e-6)
			near(t, "loss", s.Watts("c"), (1-c.tr.Eta)*in+c.tr.Own, 1e-6)
			if c.mode == Tracking {
				// The best point behind 0.1 ohm, by the model itself.
				v, i := m.In(800, 45).WithLead(0.05).Best()
				near(t, "watts in", in, 2*v*i, 1e-4*in)
			}
		})
	}
}

// TestTrackerFindsTheHighestHump: of several humps it holds the highest, on
// either side.
func TestTrackerFindsTheHighestHump(t *testing.T) {
	m := fitted(t, label54)
	for _, shade := range []float64{0.1, 0.3, 0.5, 0.8} {
		a := Array{Module: m, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45, Odd: []Odd{{Group: 0, Shade: shade}, {Module: 1, Group: 2, Shade: shade / 2}}}
		s := bench(t, a, 12.6, 0.01, func(n *Network, pv, bat Node) { n.Tracker("c", pv, Ground, bat, Ground, Tracker{Eta: 0.95}) })
		c, best := curve(t, a), 0.0
		for v := 13.0; v < c.Open(); v += 0.01 {
			i, _ := c.At(v)
			best = max(best, -i*(v+0.1*i))
		}
		near(t, "watts in", s.Volts("pv")*s.AmpsIn("c"), best, 2e-4*best)
	}
}

func TestPulse(t *testing.T) {
	a := Array{Module: fitted(t, label36), Diodes: 2, Series: 1, Parallel: 2, Sun: 800, Temp: 45}
	dark := a
	dark.Sun = 0
	p := Pulse{Ohm: 0.01, Own: 0.1, SetV: 14.4, StartV: 8}
	for _, c := range []struct {
		name  string
		a     Array
		volts float64
		mode  string
		bat   float64
	}{
		{"bulk", a, 12.6, Through, 0},
		{"absorption", a, 14.36, AtVolts, 14.4},
		{"battery above its set volts", a, 15, AtVolts, 15},
		{"night", dark, 12.6, Off, 12.6},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := bench(t, c.a, c.volts, 0.012, func(n *Network, pv, bat Node) { n.Pulse("c", pv, Ground, bat, Ground, p) })
			if s.Mode("c") != c.mode {
				t.Errorf("mode %q, want %q", s.Mode("c"), c.mode)
			}
			if c.bat > 0 {
				near(t, "battery terminals", s.Volts("bat"), c.bat, 2e-3)
			}
			duty := map[string][2]float64{Through: {1, 1}, AtVolts: {0, 0.99}, Off: {0, 0}}[c.mode]
			if d := s.Duty("c"); d < duty[0]-1e-9 || d > duty[1]+1e-9 {
				t.Errorf("its switch is on for %g of the time", d)
			}
			if i := s.AmpsIn("c"); i < 0 {
				t.Errorf("%g A flow back into the array", -i)
			}
			if c.mode == Through {
				near(t, "drop of the switch", s.Across("pv", "bat"), 0.01*s.AmpsIn("c"), 1e-6)
			}
			near(t, "out is in less its own draw", s.Amps("c"), s.AmpsIn("c")-0.1/s.Volts("bat"), 1e-9)
		})
	}
}

// TestTwoHoldOneBank: two chargers of the same set volts end, and hold them.
func TestTwoHoldOneBank(t *testing.T) {
	n := New()
	bus := n.Node("bus")
	n.Source("battery", bus, Ground, 28.6, 0.012)
	tr := Tracker{Eta: 0.95, Own: 1, MaxA: 60, SetV: 28.8, StartV: 8, Margin: 5}
	a := Array{Module: fitted(t, label54), Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}
	for _, name := range []string{"one", "two"} {
		pv, out := n.Node(name+" pv"), n.Node(name+" out")
		n.Pole(name+" array", pv, Ground, curve(t, a))
		n.Tracker(name, pv, Ground, out, Ground, tr)
		n.Resistor(name+" wire", out, bus, 0.004)
	}
	s := solved(t, n)
	balanced(t, s)
	for _, name := range []string{"one", "two"} {
		if v := s.Volts(name + " out"); v > 28.8*1.001 {
			t.Errorf("%s lets its terminals rise to %.4g V", name, v)
		}
	}
	near(t, "bus", s.Volts("bus"), 28.75, 0.06)
}

// TestStateNearFrom: with a load of constant power, from decides which of two
// states is found.
func TestStateNearFrom(t *testing.T) {
	build := func(watts float64) *Network {
		n := New()
		n.Source("battery", n.Node("post"), Ground, 12.8, 0.04)
		n.Pole("inverter", n.Node("post"), Ground, Watts{watts, 3})
		return n
	}
	n := build(800)
	up := solved(t, n)
	want, err := electric.InverterVolts(12.8, 0.04, 800, 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volts under load", up.Volts("post"), want, 1e-6)
	down := solved(t, build(3000))
	if down.Volts("post") > 3 {
		t.Errorf("3000 W leave %.4g V", down.Volts("post"))
	}
	again, err := n.Solve(up)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "from the state itself", again.Volts("post"), want, 1e-9)
}

func TestWrongValuesAreRefused(t *testing.T) {
	for _, c := range []struct {
		name, want string
		put        func(n *Network, a Node)
	}{
		{"no resistance", "above 0", func(n *Network, a Node) { n.Resistor("x", a, Ground, 0) }},
		{"no number", "give a number", func(n *Network, a Node) { n.Source("x", a, Ground, math.NaN(), 1) }},
		{"endless amps", "give a number", func(n *Network, a Node) { n.Current("x", a, Ground, math.Inf(1)) }},
		{"no curve", "no curve", func(n *Network, a Node) { n.Pole("x", a, Ground, nil) }},
		{"a diode of nothing", "above 0", func(n *Network, a Node) { n.Pole("x", a, Ground, Diode{}) }},
		{"a load down to 0 V", "above 0", func(n *Network, a Node) { n.Pole("x", a, Ground, Watts{P: 5}) }},
		{"an efficiency above 1", "efficiency", func(n *Network, a Node) { n.Tracker("x", a, 0, a, 0, Tracker{Eta: 1.2}) }},
		{"a switch of nothing", "above 0", func(n *Network, a Node) { n.Pulse("x", a, 0, a, 0, Pulse{}) }},
		{"a node of another network", "not of this network", func(n *Network, _ Node) { n.Resistor("x", 7, Ground, 1) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := New()
			c.put(n, n.Node("a"))
			_, err := n.Solve(nil)
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), `"x"`) {
				t.Errorf("got %v, want something about x with %q", err, c.want)
			}
		})
	}
	n := New()
	n.Resistor("x", n.Node("a"), Ground, 1)
	n.Resistor("x", n.Node("a"), Ground, 2)
	if _, err := n.Solve(nil); err == nil || !strings.Contains(err.Error(), "two of that name") {
		t.Errorf("two elements of a name: %v", err)
	}
}

// stubborn has no state: it takes more the less volts there are, without end.
type stubborn struct{}

func (stubborn) At(v float64) (amps, siemens float64) { return math.NaN(), 1 }

func TestNoStateIsAnErrorWithTheNetwork(t *testing.T) {
	n := New()
	n.Source("battery", n.Node("post"), Ground, 12.8, 0.04)
	n.Pole("odd part", n.Node("post"), Ground, stubborn{})
	_, err := n.Solve(nil)
	if err == nil || !strings.Contains(err.Error(), "12.8 V behind 0.04 ohm") || !strings.Contains(err.Error(), "odd part") {
		t.Errorf("got %v, want an error with the network's values", err)
	}
}
