package circuit

import (
	"fmt"
	"math"
)

// Heating is a part that warms up as one lump [textbook]: its watts of a
// [Solution], its thermal resistance to what is around it (that of a joint is
// electric.JointRth), and its time constant, thermal resistance times heat
// capacity: minutes for a lug, half an hour for an inverter.
type Heating struct {
	Ambient float64 // °C
	Watts   float64
	Rth     float64 // K/W
	Tau     float64 // s
}

// Settled is the temperature in °C that it comes to: Ta + P·Rth.
func (h Heating) Settled() float64 { return h.Ambient + h.Watts*h.Rth }

// At is its temperature in °C some seconds after the watts began, when it was as
// warm as its surroundings: Ta + P·Rth·(1 - exp(-t/tau)).
func (h Heating) At(seconds float64) float64 {
	if !(h.Tau > 0) {
		return h.Settled()
	}
	return h.Ambient - h.Watts*h.Rth*math.Expm1(-max(seconds, 0)/h.Tau)
}

// Seconds is how long it takes to a temperature in °C: -tau·ln(1 - (T - Ta)/(P·Rth)).
// Errors: it never comes to that.
func (h Heating) Seconds(temp float64) (float64, error) {
	part := (temp - h.Ambient) / (h.Watts * h.Rth)
	if temp == h.Ambient {
		return 0, nil
	}
	if !(part > 0 && part < 1) {
		return 0, fmt.Errorf("a part that settles at %.4g °C in %.4g °C never comes to %.4g °C", h.Settled(), h.Ambient, temp)
	}
	return -h.Tau * math.Log1p(-part), nil
}
