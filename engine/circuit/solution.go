package circuit

import (
	"fmt"
	"math"
)

// Solution is what a network has come to. It holds for the network as it was
// solved; parts added later are not in it. Names that the network does not have
// are answered by NaN.
type Solution struct {
	names    []string
	nodes    map[string]Node
	byName   map[string]int
	elements []element
	chargers []int
	ports    []port
	set      []setting
	high     []float64 // volts of the nodes
	low      []float64 // and their rest
	bench    *work     // for Read, made when first asked for
}

const (
	corrections = 8    // whole Newton steps at the end, at most
	level       = 1e-9 // balance at which they end
)

// Solve finds the state of the network. from is a solution of it, or of one with
// the same nodes, to start at: with loads of constant power there can be two
// states, and it is the one near from that is found; nil starts from all open.
// Errors: a wrong value given when it was built; a state that is not found. Both
// name the parts.
func (n *Network) Solve(from *Solution) (*Solution, error) {
	if n.problem != nil {
		return nil, n.problem
	}
	w := rooms.Get().(*work)
	defer rooms.Put(w)
	if !w.assemble(n) {
		return nil, fmt.Errorf("the network cannot be solved: its values are too far apart\n%s", n)
	}
	w.start(n, from)
	if !w.regulate(n) {
		if from != nil {
			return n.Solve(nil)
		}
		return nil, fmt.Errorf("the network comes to no rest: no volts were found at which all its currents agree\n%s", n)
	}
	s := &Solution{names: n.names, nodes: n.nodes, byName: n.byName, elements: n.elements, chargers: n.chargers, ports: n.ports}
	volts := make([]float64, 2*len(n.names))
	s.high, s.low = volts[:len(n.names):len(n.names)], volts[len(n.names):]
	s.set = append([]setting(nil), w.set...)
	wide := w.ports + 1
	for i := range w.size {
		x := w.columns[i*wide]
		for k := range w.ports {
			x -= w.columns[i*wide+1+k] * (w.amps[k] - standIn*w.v[k])
		}
		w.right[i] = x
	}
	for k := 1; k < len(n.names); k++ {
		s.high[k] = w.of(w.right, 1, Node(k))
	}
	for range corrections {
		if !s.correct(n, w) {
			return nil, fmt.Errorf("the network cannot be solved: its currents do not settle\n%s", n)
		}
		if amps, energy := s.Balance(); amps <= level && energy <= level {
			return s, nil
		}
	}
	if amps, energy := s.Balance(); !(amps <= 1e-6 && energy <= 1e-6) {
		return nil, fmt.Errorf("the network is out of balance: %.3g of the largest current, %.3g of the energy\n%s", amps, energy, n)
	}
	return s, nil
}

// correct takes a whole Newton step from the volts as they stand into their rest.
func (s *Solution) correct(n *Network, w *work) bool {
	for k, q := range n.ports {
		w.v[k] = s.across(q.plus, q.minus)
	}
	w.evaluate(n)
	clear(w.right)
	for i := range n.elements {
		e := &n.elements[i]
		a, b := s.flows(i)
		w.push(w.right, 1, e.a, e.b, -a)
		if e.kind >= tracker {
			w.push(w.right, 1, e.c, e.d, -b)
		}
	}
	for k := 1; k < len(n.names); k++ {
		w.push(w.right, 1, Node(k), Ground, -Leak*s.across(Node(k), Ground))
	}
	if !w.whole(n) {
		return false
	}
	for k := 1; k < len(n.names); k++ {
		x := s.low[k] + w.of(w.right, 1, Node(k))
		sum := s.high[k] + x
		s.low[k] = x - (sum - s.high[k])
		s.high[k] = sum
		if !finite(sum) {
			return false
		}
	}
	return true
}

func (s *Solution) across(a, b Node) float64 {
	return (s.high[a] - s.high[b]) + (s.low[a] - s.low[b])
}

// flows is the current of an element, a to b, by its law at the volts found; of a
// charger the one into its array plus and the one into its battery plus.
func (s *Solution) flows(i int) (amps, second float64) {
	e := &s.elements[i]
	v := s.across(e.a, e.b)
	switch e.kind {
	case resistor:
		return v / e.ohm, 0
	case source:
		// The rest of the volts goes in last: a nano-ohm keeps its digits so.
		return ((s.high[e.a] - s.high[e.b] - e.volts) + (s.low[e.a] - s.low[e.b])) / e.ohm, 0
	case current:
		return e.volts, 0
	case pole:
		amps, _ = e.pole.At(v)
		return amps, 0
	}
	f := e.charge(s.set[s.charger(i)], v, s.across(e.c, e.d))
	return f.pv, f.bat
}

func (s *Solution) charger(i int) int {
	for k, at := range s.chargers {
		if at == i {
			return k
		}
	}
	return -1
}

// V is the volts of a node against ground.
func (s *Solution) V(k Node) float64 {
	if k < 0 || int(k) >= len(s.high) {
		return math.NaN()
	}
	return s.high[k]
}

// Volts is the volts of a node by name.
func (s *Solution) Volts(name string) float64 {
	k, ok := s.nodes[name]
	if !ok {
		return math.NaN()
	}
	return s.V(k)
}

// Across is the volts from a to b, a meter's red lead on a and black on b, of a
// meter that takes nothing.
func (s *Solution) Across(a, b string) float64 {
	p, q, ok := s.pair(a, b)
	if !ok {
		return math.NaN()
	}
	return s.across(p, q)
}

func (s *Solution) pair(a, b string) (p, q Node, ok bool) {
	p, ok = s.nodes[a]
	q, ok2 := s.nodes[b]
	return p, q, ok && ok2 && int(p) < len(s.high) && int(q) < len(s.high)
}

// Amps is the current of an element from its first node through it to its second;
// of a charger, what leaves its battery plus.
func (s *Solution) Amps(element string) float64 {
	i, ok := s.element(element)
	if !ok {
		return math.NaN()
	}
	amps, second := s.flows(i)
	if s.elements[i].kind >= tracker {
		return -second
	}
	return amps
}

// AmpsIn is the current into a charger's array plus; of others it is Amps.
func (s *Solution) AmpsIn(element string) float64 {
	i, ok := s.element(element)
	if !ok {
		return math.NaN()
	}
	amps, _ := s.flows(i)
	return amps
}

// Watts is what an element takes up, below zero where it gives; of a charger its
// loss and own draw.
func (s *Solution) Watts(element string) float64 {
	i, ok := s.element(element)
	if !ok {
		return math.NaN()
	}
	return s.watts(i)
}

func (s *Solution) watts(i int) float64 {
	e := &s.elements[i]
	amps, second := s.flows(i)
	w := s.across(e.a, e.b) * amps
	if e.kind >= tracker {
		w += s.across(e.c, e.d) * second
	}
	return w
}

// Mode is how a charger is found: Off, Tracking, Low, Through, AtVolts, AtAmps;
// of other elements "".
func (s *Solution) Mode(element string) string {
	if i, ok := s.element(element); ok && s.elements[i].kind >= tracker {
		return s.set[s.charger(i)].mode
	}
	return ""
}

// Duty is the part of the time for which a pulse-width charger's switch is on, 0
// to 1: its mean current over the one with the switch always on.
func (s *Solution) Duty(element string) float64 {
	i, ok := s.element(element)
	if !ok || s.elements[i].kind != pulse {
		return math.NaN()
	}
	set := s.set[s.charger(i)]
	if !set.on || !(set.full > 0) {
		return 0
	}
	amps, _ := s.flows(i)
	return min(1, amps/set.full)
}

func (s *Solution) element(name string) (int, bool) {
	i, ok := s.byName[name]
	return i, ok && i < len(s.elements)
}

// Balance is the worst mismatch of currents at a node as part of the largest
// current (1 µA at least), and the watts that are not accounted for as part of
// all that are given (10 µW at least: less than the meter takes that reads it). Every solution has both below 1e-6.
func (s *Solution) Balance() (amps, energy float64) {
	sums := make([]float64, len(s.high))
	largest, sum, given := 1e-6, 0.0, 1e-5
	put := func(a, b Node, x float64) {
		sums[a] -= x
		sums[b] += x
		largest = max(largest, math.Abs(x))
	}
	for i := range s.elements {
		e := &s.elements[i]
		x, y := s.flows(i)
		put(e.a, e.b, x)
		p := s.across(e.a, e.b) * x
		if e.kind >= tracker {
			put(e.c, e.d, y)
			q := s.across(e.c, e.d) * y
			given += max(0, -q) + max(0, -p)
			p += q
		} else {
			given += max(0, -p)
		}
		sum += p
	}
	for k := 1; k < len(s.high); k++ {
		v := s.across(Node(k), Ground)
		put(Node(k), Ground, Leak*v)
		sum += Leak * v * v
	}
	worst := 0.0
	for _, x := range sums[1:] {
		worst = max(worst, math.Abs(x))
	}
	return worst / largest, math.Abs(sum) / given
}
