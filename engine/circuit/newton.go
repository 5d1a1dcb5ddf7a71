package circuit

import "math"

// newton is what Newton's steps among the ports work on.
type newton struct {
	v     []float64 // volts of the ports
	amps  []float64 // taken by what stands there
	slope []float64 // of amps by the port's own volts
	cross []float64 // of amps by the volts of the twin, a charger's other side
	hold  []float64 // of amps by the charger's hold
	twin  []int
	step  []float64
	m     []float64
	rest  []float64 // volts that capacitors hold, in the last resort
	set   []setting // of the chargers
	spent int       // steps taken for this solution
}

const (
	steps   = 80    // of Newton, at most
	most    = 30000 // of a whole solution: some hundred are usual
	settled = 1e-10 // V and part of the volts, by which the last step moved
)

func (w *work) start(n *Network, from *Solution) {
	p := len(n.ports)
	w.spent = 0
	w.v, w.amps, w.slope, w.cross = grown(w.v, p), grown(w.amps, p), grown(w.slope, p), grown(w.cross, p)
	w.hold, w.twin, w.step, w.rest = grown(w.hold, p), grown(w.twin, p), grown(w.step, p), grown(w.rest, p)
	w.m = grown(w.m, p*p)
	w.set = grown(w.set, len(n.chargers))
	for k := range w.twin {
		w.twin[k] = k
	}
	for i := range w.set {
		w.set[i].mode = Off
		q := n.elements[n.chargers[i]].port
		w.twin[q], w.twin[q+1] = q+1, q
	}
	warm := from != nil && len(from.high) == len(n.names)
	for k, q := range n.ports {
		if warm {
			w.v[k] = from.across(q.plus, q.minus)
		} else {
			w.v[k] = w.open[k]
		}
	}
	if !warm {
		for i := range n.elements {
			if e := &n.elements[i]; e.kind == pole {
				w.v[e.port] = limited(e.pole, 0, w.v[e.port])
			}
		}
	}
}

func limited(p Pole, old, wanted float64) float64 {
	if l, ok := p.(limiter); ok {
		return l.limit(old, wanted)
	}
	return wanted
}

// evaluate asks every part at a port for its current at the volts there.
func (w *work) evaluate(n *Network) {
	for i := range n.elements {
		switch e := &n.elements[i]; e.kind {
		case pole:
			w.amps[e.port], w.slope[e.port] = e.pole.At(w.v[e.port])
		}
	}
	for i, at := range n.chargers {
		e := &n.elements[at]
		k := e.port
		f := e.charge(w.set[i], w.v[k], w.v[k+1])
		w.amps[k], w.slope[k], w.cross[k], w.hold[k] = f.pv, f.pvPv, f.pvBat, f.pvHold
		w.amps[k+1], w.slope[k+1], w.cross[k+1], w.hold[k+1] = f.bat, f.batBat, f.batPv, f.batHold
	}
}

// slopes writes m = 1 + z·(slopes - stand-ins + capacitors).
func (w *work) slopes(capacitors float64) {
	p := w.ports
	for j := range p {
		row := w.z[j*p : j*p+p]
		out := w.m[j*p : j*p+p]
		for k := range p {
			out[k] = row[k] * (w.slope[k] - standIn + capacitors)
			if t := w.twin[k]; t != k {
				out[k] += row[t] * w.cross[t]
			}
		}
		out[j]++
	}
}

// advance takes one step from v; it says how far it went and whether it was
// free of limits, or that there is no step.
func (w *work) advance(n *Network, capacitors float64) (moved float64, free, ok bool) {
	p := w.ports
	if w.spent++; w.spent > most {
		return 0, false, false
	}
	w.slopes(capacitors)
	for j := range p {
		x := w.open[j]
		for k := range p {
			flat := w.amps[k] - w.slope[k]*w.v[k] - w.cross[k]*w.v[w.twin[k]] - capacitors*w.rest[k]
			x -= w.z[j*p+k] * flat
		}
		w.step[j] = x
	}
	if !eliminate(w.m, w.step, p) {
		return 0, false, false
	}
	for i := range n.elements {
		e := &n.elements[i]
		if e.kind != pole {
			continue
		}
		x := limited(e.pole, w.v[e.port], w.step[e.port])
		moved = max(moved, math.Abs(x-w.step[e.port])/settled)
		w.step[e.port] = x
	}
	free = moved <= 1
	for k := range p {
		if !finite(w.step[k]) {
			return 0, false, false
		}
		moved = max(moved, math.Abs(w.step[k]-w.v[k])/(settled*(1+math.Abs(w.v[k]))))
	}
	w.v, w.step = w.step, w.v
	return moved, free, true
}

// balance brings the ports to rest for the chargers as they are set.
func (w *work) balance(n *Network) bool {
	if w.ports == 0 {
		return true
	}
	w.evaluate(n)
	for range steps {
		moved, free, ok := w.advance(n, 0)
		if !ok {
			break
		}
		w.evaluate(n)
		if free && moved <= 1 {
			return true
		}
	}
	return w.follow(n)
}

// follow is the last resort: a capacitor at every port, large first, whose
// charge moves step by step until all is at rest. It finds the states in which
// a rig would come to rest from where it stands.
func (w *work) follow(n *Network) bool {
	for k := range w.v {
		if !finite(w.v[k]) || math.Abs(w.v[k]) > 1e6 {
			w.v[k] = 0
		}
	}
	w.evaluate(n)
	for capacitors := 1e3; capacitors > 1e-13; {
		if w.spent > most {
			return false
		}
		copy(w.rest, w.v)
		calm := false
		for range 12 {
			moved, free, ok := w.advance(n, capacitors)
			if !ok {
				break
			}
			w.evaluate(n)
			if calm = free && moved <= 1; calm {
				break
			}
		}
		if calm {
			capacitors /= 4
			continue
		}
		copy(w.v, w.rest)
		w.evaluate(n)
		if capacitors *= 8; capacitors > 1e9 {
			return false
		}
	}
	for range steps {
		moved, free, ok := w.advance(n, 0)
		if !ok {
			return false
		}
		w.evaluate(n)
		if free && moved <= 1 {
			return true
		}
	}
	return false
}

// byHold is how the volts of all ports follow the hold of the charger at port k:
// it leaves them in step.
func (w *work) byHold(k int) bool {
	p := w.ports
	w.slopes(0)
	for j := range p {
		w.step[j] = -w.z[j*p+k]*w.hold[k] - w.z[j*p+k+1]*w.hold[k+1]
	}
	return eliminate(w.m, w.step, p)
}
