package circuit

import (
	"fmt"
	"testing"

	"hotlug/engine/electric"
)

// forty is a rig of 40 nodes: every conductor, joint, fuse and contact of the
// array, charger, battery and inverter on its own.
func forty(t testing.TB, light float64, track Tracker) *Network {
	t.Helper()
	n := New()
	row := func(name string, from Node, parts int, ohm float64) Node {
		for k := range parts {
			to := n.Node(fmt.Sprint(name, " ", k))
			n.Resistor(fmt.Sprint(name, " part ", k), from, to, ohm*float64(k+1))
			from = to
		}
		return from
	}
	post, minus := n.Node("battery plus"), Ground
	n.Source("battery", post, minus, 26, 0.009)
	n.Pole("bms", minus, post, Diode{1e-9, 1.2, 300})
	bus := row("main", post, 5, 0.0003)
	back := row("return", minus, 5, 0.0002)
	inv, invBack := row("inverter plus", bus, 4, 0.0003), row("inverter minus", back, 4, 0.0003)
	n.Pole("inverter", inv, invBack, Watts{400, 20})
	out, common := row("charger plus", bus, 5, 0.001), row("charger minus", back, 2, 0.001)
	pv, pvBack := n.Node("array plus"), n.Node("array minus")
	in := row("array lead", pv, 6, 0.005)
	n.Resistor("array return", pvBack, row("array back", common, 5, 0.005), 0.01)
	n.Pole("array", pv, pvBack, curve(t, Array{Module: fitted(t, label54), Diodes: 3, Series: 2, Parallel: 1, Sun: light, Temp: 45}))
	n.Tracker("charger", in, common, out, common, track)
	return n
}

func BenchmarkSolve40(b *testing.B) {
	t := Tracker{Eta: 0.96, Own: 1, MaxA: 40, SetV: 28.8, StartV: 8, Margin: 5, Run: 1}
	held := t
	held.SetV = 26.05
	for _, c := range []struct {
		name string
		sun  float64
		t    Tracker
	}{{"tracking", 800, t}, {"held", 800, held}, {"night", 0, t}} {
		b.Run(c.name, func(b *testing.B) {
			n := forty(b, c.sun, c.t)
			if n.Size() != 40 {
				b.Fatalf("%d nodes", n.Size())
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := n.Solve(nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkCurve(b *testing.B) {
	m, err := electric.FitPV("test", label54)
	if err != nil {
		b.Fatal(err)
	}
	a := Array{Module: m, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}
	b.Run("even", func(b *testing.B) {
		for b.Loop() {
			curve(b, a)
		}
	})
	a.Odd = []Odd{{Group: 1, Shade: 0.7}}
	b.Run("shaded", func(b *testing.B) {
		for b.Loop() {
			curve(b, a)
		}
	})
}
