package circuit

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Netlist is a network as the plain text that general-purpose circuit simulators
// read: R, V, I and D lines, behavioural B lines for loads of constant power and
// for arrays (points of their curve), operating point at 25 °C. Nodes are called
// n1, n2, ... in the order in which they were made, as comments say; a source is
// a V and an R with a node between. Chargers are frozen to what sol found for
// them: a voltage behind a resistance at the array, a power at the battery. The
// rest is free, so that the simulator finds it anew.
func Netlist(n *Network, sol *Solution) string {
	w := &netWriter{n: n, sol: sol}
	w.line("* a network of %d nodes; 25 °C", len(n.names))
	for k := 1; k < len(n.names); k++ {
		w.line("* n%d is %s", k, oneLine(n.names[k]))
	}
	for i := range n.elements {
		w.element(i)
	}
	w.line(".options temp=25 tnom=25 reltol=1e-9 vntol=1e-11 abstol=1e-14 gmin=1e-12 itl1=1000")
	for k := 1; k < len(n.names); k++ {
		w.line("Rleak%d n%d 0 %.9g", k, k, 1/Leak)
	}
	w.line(".op")
	w.line(".end")
	return w.out.String()
}

type netWriter struct {
	n   *Network
	sol *Solution
	out strings.Builder
}

const simulatorK = 298.15 // K, at which the simulator runs

func (w *netWriter) line(format string, a ...any) { fmt.Fprintf(&w.out, format+"\n", a...) }

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

func node(k Node) string {
	if k == Ground {
		return "0"
	}
	return fmt.Sprintf("n%d", k)
}

// between is the volts of two nodes in a B line.
func between(a, b Node) string {
	switch {
	case a == b:
		return "0"
	case b == Ground:
		return fmt.Sprintf("V(%s)", node(a))
	case a == Ground:
		return fmt.Sprintf("(-V(%s))", node(b))
	}
	return fmt.Sprintf("V(%s,%s)", node(a), node(b))
}

func (w *netWriter) element(i int) {
	e := &w.n.elements[i]
	k := i + 1
	a, b := node(e.a), node(e.b)
	w.line("* %d: %s", k, oneLine(e.name))
	switch e.kind {
	case resistor:
		w.line("R%d %s %s %.12g", k, a, b, e.ohm)
	case source:
		w.line("V%d m%d %s DC %.12g", k, k, b, e.volts)
		w.line("R%d %s m%d %.12g", k, a, k, e.ohm)
	case current:
		w.line("I%d %s %s DC %.12g", k, a, b, e.volts)
	case pole:
		w.pole(k, e)
	default:
		w.charger(i, k, e)
	}
}

func (w *netWriter) pole(k int, e *element) {
	a, b, v := node(e.a), node(e.b), between(e.a, e.b)
	if e.a == e.b {
		return
	}
	switch p := e.pole.(type) {
	case Diode:
		w.line("D%d %s %s dm%d", k, a, b, k)
		w.line(".model dm%d D(IS=%.12g N=%.12g)", k, p.Is, p.N*p.Tk/simulatorK)
	case Watts:
		w.watts(k, e.a, e.b, p)
	case *Curve:
		found, _ := p.At(w.sol.across(e.a, e.b))
		w.pwl(k, a, b, v, p.points(2*max(p.short, math.Abs(found))+1))
	default:
		w.pwl(k, a, b, v, around(p, w.sol.across(e.a, e.b)))
	}
}

func (w *netWriter) watts(k int, a, b Node, p Watts) {
	v := between(a, b)
	w.line("B%d %s %s I=%s >= %.12g ? %.12g/%s : %.12g*%s", k, node(a), node(b), v, p.Least, p.P, v, p.P/(p.Least*p.Least), v)
}

func (w *netWriter) pwl(k int, a, b, v string, points [][2]float64) {
	w.line("B%d %s %s I=pwl(%s", k, a, b, v)
	for _, p := range points {
		w.line("+ , %.12g, %.12g", p[0], p[1])
	}
	w.line("+ )")
}

// charger writes what a charger does as it was found.
func (w *netWriter) charger(i, k int, e *element) {
	set := w.sol.set[w.sol.charger(i)]
	pv, bat := w.sol.across(e.a, e.b), w.sol.across(e.c, e.d)
	w.line("* found %s", set.mode)
	if draw := ownDraw(pick(e, e.track.Own, e.pulse.Own), e.startV()); draw.P > 0 && e.c != e.d {
		w.watts(k, e.c, e.d, draw)
	}
	amps, _ := w.sol.flows(i)
	if !set.on || amps < 1e-9 {
		return
	}
	f := e.charge(set, pv, bat)
	if e.kind == tracker {
		w.line("V%d s%d %s DC %.12g", k, k, node(e.b), pv-amps/f.pvPv)
		w.line("R%d %s s%d %.12g", k, node(e.a), k, 1/f.pvPv)
		w.line("B%dout %s %s I=%.12g*%s*I(V%d)/max(%s,1)", k, node(e.d), node(e.c), e.track.Eta, between(e.a, e.b), k, between(e.c, e.d))
		return
	}
	w.line("R%d %s s%d %.12g", k, node(e.a), k, 1/f.pvPv)
	w.line("V%d s%d %s DC %.12g", k, k, node(e.c), pv-bat-amps/f.pvPv-w.commonMode(e))
	if e.b != e.d {
		w.line("F%d %s %s V%d 1", k, node(e.d), node(e.b), k)
	}
}

// commonMode is how much a pulse-width charger's plus terminals differ by its
// minus terminals: the line from plus to plus sees it too.
func (w *netWriter) commonMode(e *element) float64 { return w.sol.across(e.d, e.b) }

// points are the curve of an array as a polygon that misses it by little, up to
// most amps either way and some times the open volts: the rest would only lead a simulator astray.
func (c *Curve) points(most float64) [][2]float64 {
	at := []float64{-1, 0, 1}
	for _, t := range c.strings {
		at = append(at, t.v...)
	}
	at = slices.DeleteFunc(at, func(v float64) bool {
		i, _ := c.At(v)
		return math.Abs(i) > most || math.Abs(v) > 4*c.open+1000
	})
	return polygon(c, at, 4e-5*c.short+1e-6)
}

// around are points of any pole near the volts at which it was found.
func around(p Pole, v float64) [][2]float64 {
	wide := 1 + math.Abs(v)
	return polygon(p, []float64{v - 2*wide, v - wide/2, v, v + wide/2, v + 2*wide}, 1e-7)
}
