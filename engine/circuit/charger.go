package circuit

import (
	"fmt"
	"math"
)

// Modes of a charger, as Solution.Mode says them.
const (
	Off      = "off"             // no sun, or volts too low to start
	Tracking = "tracking"        // the array at its best point
	Low      = "array volts low" // tracking, but the best point lies below the battery's volts
	Through  = "through"         // a pulse-width charger's switch always on
	AtVolts  = "held by volts"   // battery terminals at SetV
	AtAmps   = "held by amps"    // MaxA into the battery
	holding  = 50.0              // S, how stiff a tracker holds the array
	softness = 1e-3              // V, over which a switch closes
)

// Tracker is a charger that converts: out of its battery terminals come Eta times
// the watts of the array less Own. It holds the array at its best point, unless
// MaxA or SetV (at its battery terminals) hold it back.
type Tracker struct {
	Eta    float64 // efficiency, above 0 to 1
	Own    float64 // W, what it takes itself, day and night, from the battery
	MaxA   float64 // A into the battery; 0 is no limit
	SetV   float64 // V at the battery terminals of the stage it is in; 0 is no limit
	StartV float64 // V of battery from which it starts
	Margin float64 // V of array above battery from which it starts
	Run    float64 // V of array above battery that it needs while it runs
}

func (t Tracker) check() string {
	switch {
	case !(t.Eta > 0 && t.Eta <= 1):
		return fmt.Sprintf("its efficiency is %g; it must be above 0 and not above 1", t.Eta)
	case !(t.Own >= 0 && t.MaxA >= 0 && t.SetV >= 0 && t.StartV >= 0 && t.Run >= 0) || !finite(t.Own+t.MaxA+t.SetV+t.StartV+t.Run+t.Margin):
		return "its own draw, limits and starting volts must be numbers from 0"
	}
	return ""
}

// Pulse is a charger that switches the array onto the battery, never back. At
// SetV it throttles the mean current; the network holds means, and what it
// throttles away is counted as its loss.
type Pulse struct {
	Ohm    float64 // of the switch, above 0
	Own    float64 // W, what it takes itself, day and night, from the battery
	MaxA   float64 // A into the battery; 0 is no limit
	SetV   float64 // V at the battery terminals of the stage it is in; 0 is no limit
	StartV float64 // V of battery from which it starts
}

func (p Pulse) check() string {
	if wrong := badOhm(p.Ohm); wrong != "" {
		return wrong
	}
	if !(p.Own >= 0 && p.MaxA >= 0 && p.SetV >= 0 && p.StartV >= 0) || !finite(p.Own+p.MaxA+p.SetV+p.StartV) {
		return "its own draw, limits and starting volts must be numbers from 0"
	}
	return ""
}

// setting is what the loop around Newton's has found for a charger so far. hold
// is the volts at which a tracker holds the array, or those that a pulse-width
// charger throttles away.
type setting struct {
	mode string
	on   bool
	hold float64
	full float64 // A, of a pulse-width charger when its switch is always on
}

// flow is what a charger does at its terminals: amps into array plus and battery
// plus, their slopes by array and battery volts and by hold.
type flow struct {
	pv, bat                    float64
	pvPv, pvBat, batPv, batBat float64
	pvHold, batHold            float64
}

// soft is max(0, x) with its corner rounded over softness, and its slope.
func soft(x float64) (y, slope float64) {
	z := x / softness
	switch {
	case z > 40:
		return x, 1
	case z < -40:
		return 0, 0
	}
	e := math.Exp(z)
	return softness * math.Log1p(e), e / (1 + e)
}

// ownDraw is what a charger takes of its battery itself: its watts while its
// electronics run, and less and less below, where they have long given up
// starting it. Constant watts down to a few volts would let it feed on a bad joint
// as no charger does.
func ownDraw(own, startV float64) Watts { return Watts{own, max(6, 0.8*startV)} }

func (e *element) charge(s setting, pv, bat float64) flow {
	if e.kind == pulse {
		return e.pulse.at(s, pv, bat)
	}
	return e.track.at(s, pv, bat)
}

func (t Tracker) at(s setting, pv, bat float64) flow {
	var f flow
	f.bat, f.batBat = ownDraw(t.Own, t.StartV).At(bat)
	if !s.on {
		return f
	}
	x, slope := soft(pv - s.hold)
	f.pv, f.pvPv = holding*x, holding*slope
	f.pvHold = -f.pvPv
	v, falls := bat, 1.0
	if v < 1 { // never where it is on, only on Newton's way
		v, falls = 1, 0
	}
	f.bat -= t.Eta * pv * f.pv / v
	f.batPv = -t.Eta * (f.pv + pv*f.pvPv) / v
	f.batBat += falls * t.Eta * pv * f.pv / (v * v)
	f.batHold = -t.Eta * pv * f.pvHold / v
	return f
}

func (p Pulse) at(s setting, pv, bat float64) flow {
	var f flow
	f.bat, f.batBat = ownDraw(p.Own, p.StartV).At(bat)
	if !s.on {
		return f
	}
	x, slope := soft(pv - bat - s.hold)
	g := slope / p.Ohm
	f.pv = x / p.Ohm
	f.bat -= f.pv
	f.pvPv, f.pvBat, f.pvHold = g, -g, -g
	f.batPv, f.batHold = -g, g
	f.batBat += g
	return f
}

func (e *element) maxA() float64   { return pick(e, e.track.MaxA, e.pulse.MaxA) }
func (e *element) setV() float64   { return pick(e, e.track.SetV, e.pulse.SetV) }
func (e *element) startV() float64 { return pick(e, e.track.StartV, e.pulse.StartV) }

func pick(e *element, track, pulsed float64) float64 {
	if e.kind == pulse {
		return pulsed
	}
	return track
}
