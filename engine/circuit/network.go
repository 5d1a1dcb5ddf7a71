package circuit

import (
	"fmt"
	"math"
)

// Node is a point of the network; all that touch it have the same volts.
type Node int

// Ground is the node of 0 V.
const Ground Node = 0

const (
	// Leak is the conductance in S from every node to ground. It settles parts
	// that hang on nothing: 1e-12 S takes 50 pA at 50 V, and is a hundred
	// thousandth of a meter of 10 MΩ.
	Leak = 1e-12
	// strong is the conductance in S from which two nodes are one block.
	strong = 1e-2
	// standIn is the conductance in S that stands for a non-linear part in the
	// matrix; it is taken out again at the part's terminals.
	standIn = 1e-2
)

type kind uint8

const (
	resistor kind = iota
	source
	current
	pole
	tracker
	pulse
)

// element is a part between nodes; a charger has all four, a is its array plus.
type element struct {
	name       string
	kind       kind
	a, b, c, d Node
	volts      float64 // of a source; amps of a current
	ohm        float64
	pole       Pole
	*charger       // of a tracker or a pulse, nil elsewhere
	port       int // of its first port, -1 without
}

// charger is what a charger is, of one kind or the other.
type charger struct {
	track Tracker
	pulse Pulse
}

// usual is the room made for nodes and elements: a whole rig has some 60.
const usual = 64

// Network is what is joined to what. It is built by one goroutine and solved by
// one at a time; its solutions may be read from others.
type Network struct {
	names    []string // of nodes
	nodes    map[string]Node
	elements []element
	byName   map[string]int
	ports    []port
	chargers []int // indices of elements
	problem  error // the first wrong value given
}

// port is a pair of nodes at which a non-linear part is tied in.
type port struct{ plus, minus Node }

// New is a network of ground alone.
func New() *Network {
	n := &Network{
		names:    make([]string, 1, usual),
		nodes:    make(map[string]Node, usual),
		elements: make([]element, 0, usual),
		byName:   make(map[string]int, usual),
	}
	n.names[0], n.nodes[""], n.nodes["gnd"] = "gnd", Ground, Ground
	return n
}

// Node is the node of a name, made when it is new. "" and "gnd" are Ground.
func (n *Network) Node(name string) Node {
	if k, ok := n.nodes[name]; ok {
		return k
	}
	k := Node(len(n.names))
	n.names, n.nodes[name] = append(n.names, name), k
	return k
}

// Has says whether there is a node of that name.
func (n *Network) Has(name string) bool { _, ok := n.nodes[name]; return ok }

// HasElement says whether there is an element of that name.
func (n *Network) HasElement(name string) bool { _, ok := n.byName[name]; return ok }

// Size is the number of nodes with ground.
func (n *Network) Size() int { return len(n.names) }

// add puts an element in; a wrong one is kept as the network's problem, which
// Solve returns: building needs no error checks line by line.
func (n *Network) add(e element, wrong string) {
	if _, twice := n.byName[e.name]; twice && wrong == "" {
		wrong = "there are two of that name; give each its own"
	}
	for _, k := range []Node{e.a, e.b, e.c, e.d} {
		if wrong == "" && (k < 0 || int(k) >= len(n.names)) {
			wrong = "a node of it is not of this network; make nodes with Node"
		}
	}
	if wrong != "" {
		if n.problem == nil {
			n.problem = fmt.Errorf("circuit element %q: %s", e.name, wrong)
		}
		return
	}
	e.port = -1
	switch e.kind {
	case pole:
		e.port = len(n.ports)
		n.ports = append(n.ports, port{e.a, e.b})
	case tracker, pulse:
		e.port = len(n.ports)
		n.ports = append(n.ports, port{e.a, e.b}, port{e.c, e.d})
		n.chargers = append(n.chargers, len(n.elements))
	}
	n.byName[e.name] = len(n.elements)
	n.elements = append(n.elements, e)
}

// Resistor joins a and b with ohm above 0. What is open is given as 1e9.
func (n *Network) Resistor(name string, a, b Node, ohm float64) {
	n.add(element{name: name, kind: resistor, a: a, b: b, ohm: ohm}, badOhm(ohm))
}

// Source is volts behind ohm above 0: a battery, a supply.
func (n *Network) Source(name string, plus, minus Node, volts, ohm float64) {
	wrong := badOhm(ohm)
	if wrong == "" && !finite(volts) {
		wrong = fmt.Sprintf("its volts are %g; give a number", volts)
	}
	n.add(element{name: name, kind: source, a: plus, b: minus, volts: volts, ohm: ohm}, wrong)
}

// Current pushes amps from one node to the other through itself.
func (n *Network) Current(name string, from, to Node, amps float64) {
	wrong := ""
	if !finite(amps) {
		wrong = fmt.Sprintf("its amps are %g; give a number", amps)
	}
	n.add(element{name: name, kind: current, a: from, b: to, volts: amps}, wrong)
}

// Pole is a non-linear two-pole between plus and minus.
func (n *Network) Pole(name string, plus, minus Node, p Pole) {
	wrong := ""
	if p == nil {
		wrong = "it has no curve; give a Pole"
	}
	if c, ok := p.(checker); ok && wrong == "" {
		wrong = c.check()
	}
	n.add(element{name: name, kind: pole, a: plus, b: minus, pole: p}, wrong)
}

// Tracker is a charger that holds the array at its best point. Its two minus
// terminals are joined only if they are given as one node, or by a Resistor.
func (n *Network) Tracker(name string, pvPlus, pvMinus, batPlus, batMinus Node, t Tracker) {
	n.add(element{name: name, kind: tracker, a: pvPlus, b: pvMinus, c: batPlus, d: batMinus, charger: &charger{track: t}}, t.check())
}

// Pulse is a pulse-width charger: a switch from the array to the battery.
func (n *Network) Pulse(name string, pvPlus, pvMinus, batPlus, batMinus Node, p Pulse) {
	n.add(element{name: name, kind: pulse, a: pvPlus, b: pvMinus, c: batPlus, d: batMinus, charger: &charger{pulse: p}}, p.check())
}

type checker interface{ check() string }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func badOhm(ohm float64) string {
	if ohm > 0 && finite(ohm) {
		return ""
	}
	return fmt.Sprintf("its resistance is %g ohm; it must be above 0, and 1e9 where it is open", ohm)
}
