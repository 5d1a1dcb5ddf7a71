package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// PrechargeOhm is the least pre-charge resistor in ohms for amps at the first
// instant: V/I.
func PrechargeOhm(volts, amps float64) (float64, error) {
	const fn = "precharge_ohm"
	if err := first(notNegative(fn, "the volts", volts, "V"), positive(fn, "the current allowed", amps, "A")); err != nil {
		return 0, err
	}
	return volts / amps, nil
}

// PrechargeOhmMost is the largest pre-charge resistor in ohms that is done within
// seconds: t/(5C).
func PrechargeOhmMost(seconds, farad float64) (float64, error) {
	const fn = "precharge_ohm_most"
	if err := first(notNegative(fn, "the time", seconds, "s"), positive(fn, "the capacitance", farad, "F")); err != nil {
		return 0, err
	}
	return seconds / (5 * farad), nil
}

// PrechargeSeconds is how long to pre-charge: 5·R·C, to 0.7 % of the volts.
func PrechargeSeconds(ohm, farad float64) (float64, error) {
	const fn = "precharge_seconds"
	if err := first(notNegative(fn, "the resistor", ohm, "ohm"), notNegative(fn, "the capacitance", farad, "F")); err != nil {
		return 0, err
	}
	return 5 * ohm * farad, nil
}

// PrechargeWatts is the rating in watts of a wirewound pre-charge resistor that
// stands a shorted inverter for 5 s: V²/(5R).
func PrechargeWatts(volts, ohm float64) (float64, error) {
	w, err := prechargePeak("precharge_watts", volts, ohm)
	return w / 5, err
}

// PrechargePeakWatts is what it burns in the first instant: V²/R.
func PrechargePeakWatts(volts, ohm float64) (float64, error) {
	return prechargePeak("precharge_peak_watts", volts, ohm)
}

func prechargePeak(fn string, volts, ohm float64) (float64, error) {
	if err := first(notNegative(fn, "the volts", volts, "V"), positive(fn, "the resistor", ohm, "ohm")); err != nil {
		return 0, err
	}
	return volts * volts / ohm, nil
}

// PrechargeLeft is the volts still across the gap after seconds of pre-charging:
// V·exp(-t/RC).
func PrechargeLeft(volts, ohm, farad, seconds float64) (float64, error) {
	const fn = "precharge_left"
	if err := first(
		notNegative(fn, "the volts", volts, "V"), positive(fn, "the resistor", ohm, "ohm"),
		positive(fn, "the capacitance", farad, "F"), notNegative(fn, "the time", seconds, "s"),
	); err != nil {
		return 0, err
	}
	return volts * math.Exp(-seconds/(ohm*farad)), nil
}

// PrechargeEnds is the volts that pre-charge comes to when amps still flow into
// something left on: V - I·R. Errors: that load takes all of it.
func PrechargeEnds(volts, ohm, amps float64) (float64, error) {
	const fn = "precharge_ends"
	if err := first(positive(fn, "the volts", volts, "V"), notNegative(fn, "the resistor", ohm, "ohm"), notNegative(fn, "the standing current", amps, "A")); err != nil {
		return 0, err
	}
	if v := volts - amps*ohm; v >= 0 {
		return v, nil
	}
	return 0, formula.Outside(fn, fmt.Sprintf("a load of %.4g A through %.4g ohm takes all of %.4g V: switch everything behind it off", amps, ohm, volts))
}

func prechargeTable() []*formula.Func {
	const rc = "R-C circuit [textbook]"
	volts := in("volts", "V", grows, "volts of the source")
	ohm := in("ohm", "ohm", grows, "pre-charge resistor")
	less := in("ohm", "ohm", falls, "pre-charge resistor")
	farad := in("farad", "F", grows, "input capacitance")
	return []*formula.Func{
		{
			Name: "precharge_ohm", Area: "inrush", Title: "Least pre-charge resistor",
			Params: []formula.Param{volts, in("amps", "A", falls, "current allowed, 1-5 A by hand")},
			Result: unit("ohm"), Act: grows, Text: "R = V/I", Source: rc, Domain: "any",
			Do: func(a []float64) (float64, error) { return PrechargeOhm(a[0], a[1]) },
		},
		{
			Name: "precharge_ohm_most", Area: "inrush", Title: "Largest pre-charge resistor",
			Params: []formula.Param{in("seconds", "s", grows, "time wanted, 1-5 s"), in("farad", "F", falls, "input capacitance")},
			Result: unit("ohm"), Act: falls, Text: "R = t/(5C)", Source: rc, Domain: "any",
			Do: func(a []float64) (float64, error) { return PrechargeOhmMost(a[0], a[1]) },
		},
		{
			Name: "precharge_seconds", Area: "inrush", Title: "Time to pre-charge",
			Params: []formula.Param{ohm, farad}, Result: unit("s"), Act: grows, Text: "t = 5·R·C", Source: rc, Domain: "everything behind it off",
			Do: func(a []float64) (float64, error) { return PrechargeSeconds(a[0], a[1]) },
		},
		{
			Name: "precharge_watts", Area: "inrush", Title: "Rating of the pre-charge resistor",
			Params: []formula.Param{volts, less}, Result: unit("W"), Act: grows, Text: "P = V²/(5R)",
			Source: "derived; wirewound parts stand 5 times their rating for 5 s [from memory]", Domain: "wirewound, not film",
			Do: func(a []float64) (float64, error) { return PrechargeWatts(a[0], a[1]) },
		},
		{
			Name: "precharge_peak_watts", Area: "inrush", Title: "First-instant power in the pre-charge resistor",
			Params: []formula.Param{volts, less}, Result: unit("W"), Act: grows, Text: "P = V²/R", Source: rc, Domain: "any",
			Do: func(a []float64) (float64, error) { return PrechargePeakWatts(a[0], a[1]) },
		},
		{
			Name: "precharge_left", Area: "inrush", Title: "Volts left across the gap",
			Params: []formula.Param{volts, ohm, farad, in("seconds", "s", falls, "time since it began")},
			Result: unit("V"), Act: grows, Text: "V·exp(-t/(R·C))", Source: rc, Domain: "everything behind it off",
			Do: func(a []float64) (float64, error) { return PrechargeLeft(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "precharge_ends", Area: "inrush", Title: "Volts that pre-charge comes to with a load left on",
			Params: []formula.Param{volts, less, in("amps", "A", falls, "current of what was left on")},
			Result: unit("V"), Act: falls, Text: "V - I·R", Source: rc, Domain: "the load takes less than all",
			Do: func(a []float64) (float64, error) { return PrechargeEnds(a[0], a[1], a[2]) },
		},
	}
}
