package circuit

import (
	"testing"

	"hotlug/engine/electric"
)

// The generic modules of the reference rows: 36, 54 and 60 cells.
var (
	label36 = electric.PVLabel{Open: 22.5, Short: 5.75, Volts: 18.6, Amps: 5.38, Alpha: 0.05, Beta: -0.32}
	label54 = electric.PVLabel{Open: 37.1, Short: 13.75, Volts: 31.1, Amps: 12.87, Alpha: 0.045, Beta: -0.28}
	label60 = electric.PVLabel{Open: 38.3, Short: 9.25, Volts: 31.3, Amps: 8.63, Alpha: 0.05, Beta: -0.33}
)

func fitted(t testing.TB, l electric.PVLabel) electric.PVModule {
	t.Helper()
	m, err := electric.FitPV("test", l)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func curve(t testing.TB, a Array) *Curve {
	t.Helper()
	c, err := a.Curve()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// plain is a rig with array, controller, battery and inverter, joints between.
type plain struct {
	array   Array
	track   *Tracker
	pulse   *Pulse
	battery float64
	inside  float64
	watts   float64
	least   float64
	swapped bool
}

func (p plain) build(t testing.TB) *Network {
	t.Helper()
	n := New()
	pv, pvn, in, inn := n.Node("array plus"), n.Node("array minus"), n.Node("controller array plus"), n.Node("controller minus")
	out, bus, minus := n.Node("controller battery plus"), n.Node("bus plus"), n.Node("bus minus")
	post, inv := n.Node("battery plus"), n.Node("inverter plus")
	if p.swapped {
		n.Pole("array", pvn, pv, curve(t, p.array))
	} else {
		n.Pole("array", pv, pvn, curve(t, p.array))
	}
	n.Resistor("array lead", pv, in, 0.06)
	n.Resistor("array return", pvn, inn, 0.06)
	n.Resistor("controller minus wire", inn, minus, 0.003)
	if p.track != nil {
		n.Tracker("controller", in, inn, out, inn, *p.track)
	}
	if p.pulse != nil {
		n.Pulse("controller", in, inn, out, inn, *p.pulse)
	}
	n.Resistor("controller fuse and wire", out, bus, 0.006)
	n.Resistor("main fuse and cable", post, bus, 0.0012)
	n.Source("battery", post, Ground, p.battery, p.inside)
	n.Resistor("shunt", Ground, minus, 0.0005)
	n.Resistor("inverter cable", bus, inv, 0.0016)
	n.Pole("inverter", inv, minus, Watts{p.watts, p.least})
	n.Resistor("meter", in, inn, 10e6)
	return n
}

type rigCase struct {
	name, what, charger, mode string
	n                         *Network
}

func rigs(t testing.TB) []rigCase {
	t.Helper()
	m36, m54, m60 := fitted(t, label36), fitted(t, label54), fitted(t, label60)
	two := Array{Module: m54, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}
	full := &Tracker{Eta: 0.96, Own: 1.2, MaxA: 40, SetV: 28.8, StartV: 8, Margin: 5, Run: 1}
	shaded := two
	shaded.Odd = []Odd{{Module: 1, Group: 2, Shade: 0.7}, {Module: 0, Group: 1, Shade: 0.9, Part: 0.1}}
	dead := two
	dead.Odd = []Odd{{Module: 0, Group: 0, Shorted: true}, {Module: 1, Group: 1, Broken: true}}
	strings := Array{Module: m36, Diodes: 2, Series: 1, Parallel: 3, Sun: 900, Temp: 50, Blocking: true, Odd: []Odd{{String: 1, Group: 0, Shade: 0.5}}}
	night := two
	night.Sun = 0
	hot := Array{Module: m60, Diodes: 3, Series: 1, Parallel: 2, Sun: 1000, Temp: 70}
	twelve := &Pulse{Ohm: 0.008, Own: 0.2, MaxA: 30, SetV: 14.4, StartV: 8}
	all := []struct {
		name, what, mode string
		p                plain
	}{
		{"tracking", "a tracker at the array's best point", Tracking, plain{two, full, nil, 26, 0.01, 250, 20, false}},
		{"held-by-volts", "a tracker held by the volts of its stage", AtVolts, plain{two, full, nil, 28.7, 0.01, 40, 20, false}},
		{"held-by-amps", "a tracker held by its largest current", AtAmps, plain{two, &Tracker{Eta: 0.95, Own: 1.2, MaxA: 15, SetV: 28.8, StartV: 8, Margin: 5}, nil, 25.2, 0.01, 600, 20, false}},
		{"array-low", "hot modules whose best point is below the battery", Low, plain{hot, full, nil, 27.2, 0.01, 40, 20, false}},
		{"shaded", "an array with two groups in shade, several humps", Tracking, plain{shaded, full, nil, 26, 0.01, 250, 20, false}},
		{"dead-thirds", "an array with a shorted diode and a broken ribbon", Tracking, plain{dead, full, nil, 26, 0.01, 250, 20, false}},
		{"night", "a rig in the dark", Off, plain{night, full, nil, 25.6, 0.01, 250, 20, false}},
		{"swapped", "an array with its leads exchanged", Off, plain{two, full, nil, 26, 0.01, 250, 20, true}},
		{"switched-through", "a pulse-width charger that is always on", Through, plain{strings, nil, twelve, 12.6, 0.012, 60, 10, false}},
		{"throttled", "a pulse-width charger held by the volts of its stage", AtVolts, plain{strings, nil, twelve, 14.35, 0.012, 20, 10, false}},
		{"inverter-down", "an inverter that its battery cannot feed", Off, plain{night, full, nil, 25.6, 0.12, 2000, 20, false}},
	}
	var out []rigCase
	for _, c := range all {
		out = append(out, rigCase{c.name, c.what, "controller", c.mode, c.p.build(t)})
	}
	return append(out, rigCase{"two-trackers", "two trackers on one bank, one held", "first", Tracking, twoTrackers(t, m54, m60)})
}

func twoTrackers(t testing.TB, m54, m60 electric.PVModule) *Network {
	n := New()
	bus, post := n.Node("bus"), n.Node("post")
	n.Source("battery", post, Ground, 26.5, 0.008)
	n.Resistor("main cable", post, bus, 0.002)
	n.Pole("load", bus, Ground, Watts{100, 20})
	for _, c := range []struct {
		name string
		a    Array
		t    Tracker
	}{
		{"first", Array{Module: m54, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}, Tracker{Eta: 0.96, Own: 1, MaxA: 60, SetV: 28.8, StartV: 8, Margin: 5}},
		{"second", Array{Module: m60, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}, Tracker{Eta: 0.95, Own: 1, MaxA: 60, SetV: 26.85, StartV: 8, Margin: 5}},
	} {
		pv, out := n.Node(c.name+" array"), n.Node(c.name+" out")
		n.Pole(c.name+" panels", pv, Ground, curve(t, c.a))
		n.Tracker(c.name, pv, Ground, out, Ground, c.t)
		n.Resistor(c.name+" wire", out, bus, 0.007)
	}
	return n
}
