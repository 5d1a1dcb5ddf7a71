package circuit

import "math"

// stiff is the part of the meter's resistance below which the rest of the network
// is taken as a resistance; above, the network is solved again with the meter.
const stiff = 1e-3

// Read is the volts from a to b as a meter of meterOhm across them shows them:
// less than Across where the points hang on megohms. Not to be called by two
// goroutines at a time for one solution.
func (s *Solution) Read(a, b string, meterOhm float64) float64 {
	p, q, ok := s.pair(a, b)
	if !ok {
		return math.NaN()
	}
	v := s.across(p, q)
	if !(meterOhm > 0) || p == q {
		return v
	}
	ohm := s.ohm(p, q)
	if ohm <= stiff*meterOhm {
		return v * meterOhm / (meterOhm + ohm)
	}
	with := s.network()
	with.Resistor("a meter, for a reading", p, q, meterOhm)
	loaded, err := with.Solve(s)
	if err != nil {
		return v * meterOhm / (meterOhm + ohm)
	}
	return loaded.across(p, q)
}

// Ohm is the resistance in ohms that the network shows between a and b to a small
// change, all non-linear parts taken by their slope where they stand.
func (s *Solution) Ohm(a, b string) float64 {
	p, q, ok := s.pair(a, b)
	if !ok {
		return math.NaN()
	}
	return s.ohm(p, q)
}

func (s *Solution) ohm(p, q Node) float64 {
	if p == q {
		return 0
	}
	n := s.network()
	w := s.bench
	if w == nil {
		w = &work{}
		if !w.assemble(n) {
			return math.NaN()
		}
		w.start(n, s)
		copy(w.set, s.set)
		w.evaluate(n)
		s.bench = w
	}
	clear(w.right)
	w.push(w.right, 1, p, q, 1)
	if !w.whole(n) {
		return math.NaN()
	}
	return w.across(w.right, 1, p, q)
}

// network is what was solved, to add to or to solve again.
func (s *Solution) network() *Network {
	n := &Network{names: s.names, nodes: s.nodes, elements: s.elements[:len(s.elements):len(s.elements)], chargers: s.chargers, ports: s.ports}
	n.byName = map[string]int{}
	return n
}
