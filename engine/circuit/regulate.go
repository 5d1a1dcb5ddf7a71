package circuit

import "math"

const (
	rounds  = 60   // of all chargers in turn, at most
	tries   = 60   // of one charger's hold, at most
	scanned = 40   // points of an array with several humps
	nearly  = 1e-9 // part of the volts by which a hold is found
	agreed  = 1e-7 // part of the volts by which chargers in turn may still move
)

// regulate sets the chargers, one after the other, until none moves any more.
func (w *work) regulate(n *Network) bool {
	if !w.balance(n) {
		return false
	}
	for range rounds {
		still := true
		for i := range n.chargers {
			was := w.set[i]
			if !w.charger(n, i) {
				return false
			}
			if is := w.set[i]; is.mode != was.mode || math.Abs(is.hold-was.hold) > agreed*(1+math.Abs(is.hold)) {
				still = false
			}
		}
		if still || len(n.chargers) == 1 {
			return true
		}
	}
	return w.within(n)
}

// within says whether no charger breaks its limits by more than a thousandth,
// which is what two that hold each other in turn may be left with.
func (w *work) within(n *Network) bool {
	for i := range n.chargers {
		if e := &n.elements[n.chargers[i]]; w.set[i].on && w.over(e).by > 1e-3 {
			return false
		}
	}
	return true
}

// limit is by how much of it the nearest limit is exceeded, how that follows the
// hold, and which it is.
type limit struct {
	by, slope float64
	mode      string
}

// over needs step as byHold leaves it for the slope; without, it is of no use.
func (w *work) over(e *element) limit {
	k := e.port + 1
	out := limit{by: math.Inf(-1)}
	if most := e.maxA(); most > 0 {
		out = limit{-w.amps[k]/most - 1, -(w.slope[k]*w.step[k] + w.cross[k]*w.step[k-1] + w.hold[k]) / most, AtAmps}
	}
	if most := e.setV(); most > 0 {
		if by := w.v[k]/most - 1; by > out.by {
			out = limit{by, w.step[k] / most, AtVolts}
		}
	}
	return out
}

// charger finds mode and hold of one charger with the others as they are.
func (w *work) charger(n *Network, i int) bool {
	e, s := &n.elements[n.chargers[i]], &w.set[i]
	k := e.port
	*s = setting{mode: Off}
	if !w.balance(n) {
		return false
	}
	pv, bat := w.v[k], w.v[k+1]
	margin := 0.0
	if e.kind == tracker {
		margin = e.track.Margin
	}
	if !(bat >= e.startV()) || !(bat > 0) || !(pv > bat+margin) {
		return true
	}
	s.on = true
	if e.kind == pulse {
		return w.throttle(n, e, s, pv-bat)
	}
	low := bat + e.track.Run
	if low >= pv {
		*s = setting{mode: Off}
		return w.balance(n)
	}
	return w.track(n, e, s, low, pv)
}

// at brings the ports to rest at a hold, with the slopes by it in step.
func (w *work) at(n *Network, e *element, s *setting, hold float64) bool {
	s.hold = hold
	return w.balance(n) && w.byHold(e.port)
}

// throttle finds what a pulse-width charger has to throttle away, 0 to all.
func (w *work) throttle(n *Network, e *element, s *setting, all float64) bool {
	if !w.at(n, e, s, 0) {
		return false
	}
	s.mode, s.full = Through, w.amps[e.port]
	if o := w.over(e); o.by <= 0 {
		return true
	}
	return w.holdBack(n, e, s, 0, all+40*softness)
}

// holdBack finds the hold between low, where a limit is exceeded, and high, where
// nothing flows, at which it is just met.
func (w *work) holdBack(n *Network, e *element, s *setting, low, high float64) bool {
	var o limit
	ok := w.find(n, e, s, low, high, low, func() (float64, float64) {
		o = w.over(e)
		return o.by, o.slope
	})
	s.mode = o.mode
	return ok
}

// track finds the best point, and from there what the limits ask for.
func (w *work) track(n *Network, e *element, s *setting, low, high float64) bool {
	from, to, guess := low, high, low+0.8*(high-low)
	if humps(n) > 1 {
		most := -1.0
		for j := range scanned {
			x := low + (high-low)*float64(j)/scanned
			if s.hold = x; !w.balance(n) {
				return false
			}
			if p := w.v[e.port] * w.amps[e.port]; p > most {
				most, guess = p, x
			}
		}
		wide := (high - low) / scanned
		from, to = max(low, guess-wide), min(high, guess+wide)
	} else {
		guess = max(guess, 0.82*high)
	}
	if !w.at(n, e, s, from) {
		return false
	}
	s.mode = Low
	if rises, _ := w.power(e); rises > 0 {
		s.mode = Tracking
		if !w.find(n, e, s, from, to, guess, func() (float64, float64) { return w.power(e) }) || !w.byHold(e.port) {
			return false
		}
	}
	if o := w.over(e); o.by <= 0 {
		return true
	}
	return w.holdBack(n, e, s, s.hold, high+40*softness)
}

// power is how the array's watts follow the hold; the slope of that is not known.
func (w *work) power(e *element) (rises, slope float64) {
	k := e.port
	v := w.step[k]
	i := w.slope[k]*v + w.cross[k]*w.step[k+1] + w.hold[k]
	return w.v[k]*i + w.amps[k]*v, 0
}

// humps is the most local best points that an array of the network has.
func humps(n *Network) int {
	most := 1
	for i := range n.elements {
		if c, ok := n.elements[i].pole.(*Curve); ok {
			most = max(most, c.humps)
		}
	}
	return most
}

// find closes in on the hold at which f, above 0 at low and below 0 at high,
// is 0: by its slope where that is given, else by the line through the last two
// points; the bracket is halved where that does not help.
func (w *work) find(n *Network, e *element, s *setting, low, high, guess float64, f func() (y, slope float64)) bool {
	x, lastX, lastY := guess, math.NaN(), math.NaN()
	wide, halve := high-low, 0
	for range tries {
		if !w.at(n, e, s, x) {
			return false
		}
		y, slope := f()
		if slope == 0 {
			slope = (y - lastY) / (x - lastX)
		}
		if y > 0 {
			low = x
		} else {
			high = x
		}
		if math.Abs(y) <= 1e-12 || high-low <= nearly*(1+math.Abs(x)) {
			return true
		}
		next := x - y/slope
		if halve++; halve == 3 {
			if high-low > wide/4 {
				next = math.NaN()
			}
			wide, halve = high-low, 0
		}
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if math.Abs(next-x) <= nearly*(1+math.Abs(x)) {
			return w.at(n, e, s, next)
		}
		lastX, lastY = x, y
		x = next
	}
	return true
}
