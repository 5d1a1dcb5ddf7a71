package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// setPoint is a charge voltage at 25 °C per 12 V: lowest, the one to set,
// highest, and how it moves with temperature in V/K per 12 V.
type setPoint struct{ low, use, high, perK float64 }

// Set-points by chemistry, from ten makers' manuals; compensation -30 mV/K on
// absorption and -18 on AGM float, where -16 to -30 are all accepted as set right.
// No one figure is taken as the only right one: makers differ by that much.
var (
	absorbAt = map[Chemistry]setPoint{
		LFP:     {14.0, 14.2, 14.6, 0},
		Flooded: {14.4, 14.6, 14.8, -0.030},
		AGM:     {14.2, 14.4, 14.7, -0.030},
		Gel:     {14.0, 14.2, 14.4, -0.030},
	}
	floatAt = map[Chemistry]setPoint{
		LFP:     {13.4, 13.5, 13.6, 0},
		Flooded: {13.2, 13.4, 13.5, -0.030},
		AGM:     {13.5, 13.6, 13.8, -0.018},
		Gel:     {13.5, 13.6, 13.8, -0.030},
	}
)

// AbsorbTarget is the absorption voltage of a bank of system volts whose battery
// has temp °C: 14.2 V lithium, 14.6 flooded, 14.4 AGM, 14.2 gel per 12 V at 25 °C,
// lead moved by -30 mV/K per 12 V, lithium not moved.
// Errors: other-lithium; temp outside -10 to 50 (above 50 no lead is charged).
func AbsorbTarget(chem Chemistry, system, temp float64) (float64, error) {
	return setVolts("absorb_target", absorbAt, chem, system, temp, func(s setPoint) float64 { return s.use })
}

// AbsorbLow is the lowest absorption voltage that any maker of the chemistry asks for.
func AbsorbLow(chem Chemistry, system, temp float64) (float64, error) {
	return setVolts("absorb_low", absorbAt, chem, system, temp, func(s setPoint) float64 { return s.low })
}

// AbsorbHigh is the highest absorption voltage usual for the chemistry.
func AbsorbHigh(chem Chemistry, system, temp float64) (float64, error) {
	return setVolts("absorb_high", absorbAt, chem, system, temp, func(s setPoint) float64 { return s.high })
}

// FloatTarget is the float voltage, likewise: 13.5 V lithium, 13.4 flooded, 13.6
// AGM (-18 mV/K) and gel per 12 V at 25 °C.
func FloatTarget(chem Chemistry, system, temp float64) (float64, error) {
	return setVolts("float_target", floatAt, chem, system, temp, func(s setPoint) float64 { return s.use })
}

func setVolts(fn string, table map[Chemistry]setPoint, chem Chemistry, system, temp float64, pick func(setPoint) float64) (float64, error) {
	if err := first(known(fn, chem), span(fn, "a battery temperature", temp, -10, 50, "°C")); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	s := table[chem]
	return k * (pick(s) + s.perK*(temp-25)), err
}

// EqualiseTarget is the equalising voltage of a flooded bank of system volts at
// 25 °C, where its maker gives none: 15.5 V per 12 V. Above it loads and
// inverter must be off. 16.0 V is not taken as the default: an inverter
// left on stops there on over-voltage. Errors: every other chemistry is never equalised.
func EqualiseTarget(chem Chemistry, system float64) (float64, error) {
	const fn = "equalise_target"
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	if chem != Flooded {
		return 0, formula.Outside(fn, fmt.Sprintf("%s is not equalised unless its maker says so", chemistries[chem]))
	}
	k, err := twelves(fn, system)
	return 15.5 * k, err
}

// TailLimit is the charge current in amps below which a battery of ah amp-hours
// at its absorption voltage is full: 5 % lithium, 2 % AGM and gel, 3 % flooded.
// One 4 % for all is not taken: how far the current falls goes by the chemistry,
// and 4 % ends the charge of lead too early.
func TailLimit(chem Chemistry, ah float64) (float64, error) {
	const fn = "tail_limit"
	if err := first(known(fn, chem), positive(fn, "the capacity", ah, "Ah")); err != nil {
		return 0, err
	}
	return ah * tailPart(chem), nil
}

func tailPart(chem Chemistry) float64 {
	switch chem {
	case LFP:
		return 0.05
	case Flooded:
		return 0.03
	}
	return 0.02
}

// coldRows are the parts of its amp-hours with which a lithium battery may be
// charged, from a cell temperature in °C up: the stricter of three makers below
// 45 °C; from 45 °C a tenth and from 50 °C nothing, for people's sake.
var coldRows = []struct{ from, part float64 }{
	{-60, 0}, {0, 0.1}, {10, 0.2}, {15, 0.5}, {45, 0.1}, {50, 0},
}

// ColdChargeAmps is the most amps that a lithium battery of ah amp-hours may be
// charged with at a cell temperature of temp °C: nothing below 0 °C from any
// source. A pack that says otherwise has a heater.
// Errors: temp outside -60 to 80; no capacity.
func ColdChargeAmps(temp, ah float64) (float64, error) {
	const fn = "cold_charge_amps"
	if err := first(span(fn, "a cell temperature", temp, -60, 80, "°C"), positive(fn, "the capacity", ah, "Ah")); err != nil {
		return 0, err
	}
	part := 0.0
	for _, r := range coldRows {
		if temp >= r.from {
			part = r.part
		}
	}
	return part * ah, nil
}

// coldLimits tries every row that the temperature may lie in.
func coldLimits(a []formula.Val) formula.Val {
	temp, ah := a[0], a[1]
	temps := []float64{temp.Lo, temp.Hi}
	for _, r := range coldRows {
		if r.from > temp.Lo && r.from < temp.Hi {
			temps = append(temps, r.from)
		}
	}
	lo, hi, ok := math.Inf(1), math.Inf(-1), true
	for _, t := range temps {
		x, err1 := ColdChargeAmps(t, ah.Lo)
		y, err2 := ColdChargeAmps(t, ah.Hi)
		ok = ok && err1 == nil && err2 == nil
		lo, hi = min(lo, x), max(hi, y)
	}
	return limits(lo, hi, ok)
}

// leadTail is the hours that the current takes to fall from amps to tail in
// absorption when q amp-hours are still missing: an exponential taper.
func leadTail(q, amps, tail float64) float64 {
	return q * math.Log(amps/tail) / (amps - tail)
}

// ChargeHours is how long a steady source of amps takes to fill a bank of ah
// amp-hours from a charge in per cent. Lithium: missing Ah/(0.99·I) + half an
// hour. Lead: to 85 % at 95 % efficiency, then the taper of Q = 0.15·Ah/0.75 down
// to the tail of TailLimit.
// Errors: a lead bank above 85 %, where only the taper is left; a current that
// is not above that tail; other-lithium.
func ChargeHours(chem Chemistry, ah, from, amps float64) (float64, error) {
	const fn = "charge_hours"
	if err := first(known(fn, chem), positive(fn, "the capacity", ah, "Ah"), span(fn, "a charge", from, 0, 100, "%"), positive(fn, "the charge current", amps, "A")); err != nil {
		return 0, err
	}
	if chem == LFP {
		return (100-from)/100*ah/(0.99*amps) + 0.5, nil
	}
	tail := ah * tailPart(chem)
	switch {
	case from > 85:
		return 0, formula.Outside(fn, "above 85 % only the slow end is left: watch the current fall to the tail")
	case amps <= tail:
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g A is no more than the tail of %.4g A: it never fills a bank of %.4g Ah", amps, tail, ah))
	}
	return (85-from)/100*ah/(0.95*amps) + leadTail(0.15*ah/0.75, amps, tail), nil
}
