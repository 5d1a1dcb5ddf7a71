package simrig

import (
	"math"

	"hotlug/engine/circuit"
)

// Harvest is what cuts a piece out of the day's charge beside the array and the
// settings.
type Harvest struct {
	Pattern string  // option of charge_pattern; "" by what the circuit does
	SlowedA float64 // A to which the controller has turned itself down by its own heat; 0: it has not
	FinC    float64 // °C of its fin then
	Early   bool    // it ends its charge though the battery is far from full
}

// odd are the groups of cells of an array that are not as the rest: shaded in
// every string, bridged by their diodes in one module, weak in one string.
func (a Array) odd(all circuit.Array) []circuit.Odd {
	var list []circuit.Odd
	for k := range all.Parallel {
		for i := range all.Series * all.Diodes {
			odd := circuit.Odd{String: k, Module: i / all.Diodes, Group: i % all.Diodes}
			odd.Shorted = k == 0 && (odd.Module < a.Shorted || odd.Module == 0 && odd.Group < a.OutParts)
			light := 1.0
			if len(a.Shade) > 0 {
				light = math.Max(0, math.Min(1, a.Shade[i%len(a.Shade)]))
			}
			if k == 0 && all.Parallel > 1 {
				light *= 1 - a.Weak
			}
			odd.Shade = 1 - light
			if odd.Shorted || odd.Shade > 0 {
				list = append(list, odd)
			}
		}
	}
	return list
}

// oneString is the curve of one string of the array by itself, 0 the odd one, or
// of its first module alone; nil without light, or where that string gives nothing.
func (s *Sim) oneString(sun float64, string, modules int) *circuit.Curve {
	a, p := s.sys.Array, s.plant.Array
	sun *= 1 - p.Dirt
	if string < p.Dead || sun < 1 || a.Voc <= 0 {
		return nil
	}
	module, err := fitted(a)
	if err != nil {
		return nil
	}
	series := a.Series
	if p.WrongV > 0 {
		series = p.WrongV
	}
	all := circuit.Array{Module: module, Diodes: max(1, a.Bypass), Series: max(1, series), Parallel: max(1, a.Parallel-p.Dead), Sun: min(1400, sun), Temp: s.cellC(sun)}
	var own []circuit.Odd
	for _, x := range p.odd(all) {
		if x.String == string-p.Dead && x.Module < modules {
			x.String = 0
			own = append(own, x)
		}
	}
	all.Odd, all.Series, all.Parallel = own, min(all.Series, modules), 1
	curve, err := all.Curve()
	if err != nil {
		return nil
	}
	return curve
}
