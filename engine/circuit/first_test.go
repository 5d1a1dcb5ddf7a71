package circuit

import (
	"math"
	"testing"

	"hotlug/engine/electric"
)

func TestFirst(t *testing.T) {
	m, err := electric.FitPV("x", electric.PVLabel{Open: 37.1, Short: 13.75, Volts: 31.1, Amps: 12.87, Alpha: 0.045, Beta: -0.28})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Array{Module: m, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}.Curve()
	if err != nil {
		t.Fatal(err)
	}
	v, i := c.Best()
	t.Log(c.Open(), c.Short(), v, i, v*i, len(c.strings[0].v), c.humps)
	n := New()
	a, b, bus := n.Node("pv"), n.Node("ctrl"), n.Node("bus")
	bat := n.Node("bat")
	n.Pole("array", a, Ground, c)
	n.Resistor("lead", a, b, 0.05)
	n.Tracker("mppt", b, Ground, bus, Ground, Tracker{Eta: 0.96, Own: 1, SetV: 28.8, MaxA: 40, StartV: 8, Margin: 5})
	n.Resistor("wire", bus, bat, 0.004)
	n.Source("battery", bat, Ground, 26, 0.01)
	n.Pole("inverter", bus, Ground, Watts{200, 20})
	n.Resistor("open", n.Node("lost"), a, 1e9)
	s, err := n.Solve(nil)
	if err != nil {
		t.Fatal(err)
	}
	x, y := s.Balance()
	t.Log(s.Mode("mppt"), s.Amps("mppt"), s.AmpsIn("mppt"), s.Volts("ctrl"), s.Volts("bus"), s.Volts("lost"), s.Read("lost", "gnd", 1e7), s.Ohm("bus", "gnd"), x, y)
	if math.IsNaN(x) {
		t.Fatal(x)
	}
}
