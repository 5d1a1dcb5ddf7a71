package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// randomNetwork is a chain of nodes with cross links, resistances from microhms
// to gigohms, sources where push says so, scaled.
func randomNetwork(r *rand.Rand, size int, push func(k int) float64) *Network {
	n := New()
	nodes := []Node{Ground}
	for k := range size {
		nodes = append(nodes, n.Node(fmt.Sprint("node ", k)))
	}
	some := func() Node { return nodes[r.IntN(len(nodes))] }
	for k := 1; k < len(nodes); k++ {
		n.Resistor(fmt.Sprint("chain ", k), nodes[k-1], nodes[k], math.Pow(10, r.Float64()*9-6))
	}
	for k := range size {
		n.Resistor(fmt.Sprint("link ", k), some(), some(), math.Pow(10, r.Float64()*13-4))
	}
	for k := range 3 {
		n.Source(fmt.Sprint("source ", k), some(), some(), push(k), math.Pow(10, r.Float64()*3-4))
		n.Current(fmt.Sprint("push ", k), some(), some(), push(k+3))
	}
	return n
}

// TestSuperposition: the volts by all sources together are the sums of those by
// each alone, and currents balance however far apart the resistances lie.
func TestSuperposition(t *testing.T) {
	for seed := range uint64(60) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			with := func(only int) *Solution {
				r := rand.New(rand.NewPCG(seed, 1))
				size := 2 + r.IntN(30)
				s := solved(t, randomNetwork(r, size, func(k int) float64 {
					if only >= 0 && k != only {
						return 0
					}
					return float64(k*k) - 7.5
				}))
				balanced(t, s)
				return s
			}
			all := with(-1)
			sums := make([]float64, len(all.high))
			largest := 0.0
			for k := range 6 {
				one := with(k)
				for i := range sums {
					sums[i] += one.V(Node(i))
					largest = max(largest, math.Abs(one.V(Node(i))))
				}
			}
			for i, v := range sums {
				if math.Abs(v-all.V(Node(i))) > 1e-9*largest {
					t.Errorf("node %d: %.12g by all together, %.12g by each", i, all.V(Node(i)), v)
				}
			}
		})
	}
}

// randomRig is a network of everything: it may have no sensible state, and still
// has to be solved or refused.
func randomRig(t testing.TB, seed uint64, size int, c *Curve) *Network {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 2))
	n := randomNetwork(r, size, func(int) float64 { return r.Float64()*80 - 20 })
	some := func() Node { return Node(r.IntN(size + 1)) }
	for k := range r.IntN(4) {
		n.Pole(fmt.Sprint("diode ", k), some(), some(), Diode{math.Pow(10, -12*r.Float64()), 1 + r.Float64(), 280 + 60*r.Float64()})
		n.Pole(fmt.Sprint("load ", k), some(), some(), Watts{3000 * r.Float64() * r.Float64(), 8 + 12*r.Float64()})
	}
	for k := range r.IntN(3) {
		n.Pole(fmt.Sprint("array ", k), some(), some(), c)
		n.Tracker(fmt.Sprint("tracker ", k), some(), some(), some(), some(), Tracker{Eta: 0.5 + r.Float64()/2, Own: 2 * r.Float64(), MaxA: 50 * r.Float64(), SetV: 10 + 20*r.Float64(), StartV: 5, Margin: 5 * r.Float64()})
		n.Pulse(fmt.Sprint("pulse ", k), some(), some(), some(), some(), Pulse{Ohm: 0.01, Own: r.Float64(), SetV: 14.4, StartV: 5})
	}
	return n
}

// TestRandomRigsSolve: networks put together at random come to rest.
func TestRandomRigsSolve(t *testing.T) {
	c := curve(t, Array{Module: fitted(t, label54), Diodes: 3, Series: 2, Parallel: 1, Sun: 700, Temp: 40, Odd: []Odd{{Group: 1, Shade: 0.6}}})
	refused := 0
	const tried = 600
	for seed := range uint64(tried) {
		s, err := randomRig(t, seed, 3+int(seed%20), c).Solve(nil)
		if err != nil {
			refused++
			if refused < 4 {
				t.Logf("seed %d: %v", seed, err)
			}
			continue
		}
		balanced(t, s)
	}
	if refused > tried/100 {
		t.Errorf("%d of %d networks were not solved", refused, tried)
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), uint8(5))
	f.Add(uint64(99), uint8(30))
	c := curve(f, Array{Module: fitted(f, label36), Diodes: 2, Series: 1, Parallel: 1, Sun: 900, Temp: 50})
	f.Fuzz(func(t *testing.T, seed uint64, size uint8) {
		if s, err := randomRig(t, seed, 1+int(size%50), c).Solve(nil); err == nil {
			balanced(t, s)
		}
	})
}
