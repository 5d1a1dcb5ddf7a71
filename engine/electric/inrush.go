package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// InrushPeak is the most amps that empty capacitors draw at first touch: volts
// over the ohms of the whole loop. Inductance keeps the true peak at half of it.
func InrushPeak(volts, loop float64) (float64, error) {
	const fn = "inrush_peak"
	if err := first(notNegative(fn, "the volts", volts, "V"), positive(fn, "the loop", loop, "ohm")); err != nil {
		return 0, err
	}
	return volts / loop, nil
}

// InrushTruePeak is the peak in amps with the inductance of the loop in henry
// and the capacitance behind it in farad: a series R-L-C circuit from rest.
func InrushTruePeak(volts, loop, henry, farad float64) (float64, error) {
	const fn = "inrush_true_peak"
	if err := first(
		notNegative(fn, "the volts", volts, "V"), positive(fn, "the loop", loop, "ohm"),
		positive(fn, "the inductance", henry, "H"), positive(fn, "the capacitance", farad, "F"),
	); err != nil {
		return 0, err
	}
	z0 := math.Sqrt(henry / farad)
	z := loop / (2 * z0)
	var e float64
	switch d := 1 - z*z; {
	case d > 1e-9:
		e = z / math.Sqrt(d) * math.Acos(z)
	case d < -1e-9:
		e = z / math.Sqrt(-d) * math.Acosh(z)
	default:
		e = 1
	}
	return volts / z0 * math.Exp(-e), nil
}

// InrushEnergy is the energy in joules that charging farad to volts takes from
// the source and burns in the loop: C·V²/2, whatever the resistance.
func InrushEnergy(volts, farad float64) (float64, error) {
	const fn = "inrush_energy"
	if err := first(notNegative(fn, "the volts", volts, "V"), notNegative(fn, "the capacitance", farad, "F")); err != nil {
		return 0, err
	}
	return volts * volts * farad / 2, nil
}

// InrushI2t is the heat of one inrush on a fuse in A²s: C·V²/(2R).
func InrushI2t(volts, loop, farad float64) (float64, error) {
	const fn = "inrush_i2t"
	if err := positive(fn, "the loop", loop, "ohm"); err != nil {
		return 0, err
	}
	if err := first(notNegative(fn, "the volts", volts, "V"), notNegative(fn, "the capacitance", farad, "F")); err != nil {
		return 0, err
	}
	return volts * volts * farad / 2 / loop, nil
}

// Input capacitance per rated watt in farad at 12, 24 and 48 V, and how far it
// spreads around that [practice, low confidence].
var (
	inputAt   = []float64{1, 2, 4}
	inputPerW = []float64{10e-6, 4e-6, 2e-6}
	inputLow  = []float64{0.3, 0.35, 0.35}
	inputHigh = []float64{2.5, 4, 4}
)

// InputFarad is a guess at the input capacitance in farad of an inverter of
// watts on a bank of system volts: 10, 4 and 2 µF per watt at 12, 24, 48 V.
func InputFarad(watts, system float64) (float64, error) {
	return inputFarad("input_farad", watts, system, nil)
}

// InputFaradLow is the lower end of that guess: light high-frequency units.
func InputFaradLow(watts, system float64) (float64, error) {
	return inputFarad("input_farad_low", watts, system, inputLow)
}

// InputFaradHigh is the upper end: heavy units with a transformer.
func InputFaradHigh(watts, system float64) (float64, error) {
	return inputFarad("input_farad_high", watts, system, inputHigh)
}

func inputFarad(fn string, watts, system float64, band []float64) (float64, error) {
	k, err := twelves(fn, system)
	if err != nil {
		return 0, err
	}
	if err := notNegative(fn, "the rated power", watts, "W"); err != nil {
		return 0, err
	}
	// A bank a little under 12 or over 48 V counts as 12 or 48.
	k = min(max(k, 1), 4)
	c := watts * alongLog(inputAt, inputPerW, k)
	if band != nil {
		c *= along(inputAt, band, k)
	}
	return c, nil
}

// InputFaradMeasured is the capacitance in farad of an input that reads volts
// after seconds of charging through ohm from a source of supply volts:
// -t/(R·ln(1 - V/Vb)). Errors: the reading is not between nothing and the supply.
func InputFaradMeasured(ohm, seconds, read, supply float64) (float64, error) {
	const fn = "input_farad_measured"
	if err := first(positive(fn, "the resistor", ohm, "ohm"), positive(fn, "the time", seconds, "s"), positive(fn, "the supply", supply, "V"), positive(fn, "the reading", read, "V")); err != nil {
		return 0, err
	}
	if read >= supply {
		return 0, formula.Outside(fn, fmt.Sprintf("the reading of %.4g V must stay under the supply of %.4g V: read earlier", read, supply))
	}
	return -seconds / (ohm * math.Log1p(-read/supply)), nil
}

// BMSAboveSeconds is how long the inrush stays above the trip current of a
// battery's own switch, in seconds: R·C·ln(V/(R·I)), and zero when its peak
// never reaches the trip. It trips when this is longer than its delay.
func BMSAboveSeconds(volts, loop, farad, trip float64) (float64, error) {
	const fn = "bms_above_seconds"
	if err := first(
		notNegative(fn, "the volts", volts, "V"), positive(fn, "the loop", loop, "ohm"),
		notNegative(fn, "the capacitance", farad, "F"), positive(fn, "the trip current", trip, "A"),
	); err != nil {
		return 0, err
	}
	if volts <= loop*trip {
		return 0, nil
	}
	return loop * farad * math.Log(volts/(loop*trip)), nil
}

// bmsLimits gives the limits of BMSAboveSeconds, which is longest at a loop of
// V/(e·I) and shorter to both sides.
func bmsLimits(a []formula.Val) formula.Val {
	volts, loop, farad, trip := a[0], a[1], a[2], a[3]
	peak := min(max(volts.Hi/(math.E*trip.Lo), loop.Lo), loop.Hi)
	hi, err1 := BMSAboveSeconds(volts.Hi, peak, farad.Hi, trip.Lo)
	x, err2 := BMSAboveSeconds(volts.Lo, loop.Lo, farad.Lo, trip.Hi)
	y, err3 := BMSAboveSeconds(volts.Lo, loop.Hi, farad.Lo, trip.Hi)
	return limits(min(x, y), hi, err1 == nil && err2 == nil && err3 == nil)
}

func inrushTable() []*formula.Func {
	const rc = "R-C circuit [textbook]"
	const guess = "practice, low confidence: measure when it matters"
	volts := in("volts", "V", grows, "volts of the source")
	loop := in("loop_ohm", "ohm", falls, "source, cables, fuse, joints")
	farad := in("farad", "F", grows, "input capacitance")
	watts := in("watts", "W", grows, "rated watts of the inverter")
	system := in("system", "V", falls, "nominal volts of the bank")
	return []*formula.Func{
		{
			Name: "inrush_peak", Area: "inrush", Title: "Most amps at first touch",
			Params: []formula.Param{volts, loop}, Result: unit("A"), Act: grows, Text: "I = V/R", Source: rc,
			Domain: "upper bound; the true peak is about half",
			Do:     func(a []float64) (float64, error) { return InrushPeak(a[0], a[1]) },
		},
		{
			Name: "inrush_true_peak", Area: "inrush", Title: "Peak at first touch with inductance",
			Params: []formula.Param{volts, loop, in("henry", "H", falls, "inductance of the loop, 0.6-1 µH a metre"), farad},
			Result: unit("A"), Act: grows, Text: "I = V/Z·exp(-z·acos(z)/sqrt(1 - z²)), Z = sqrt(L/C), z = R/(2Z)",
			Source: "R-L-C circuit [textbook]", Domain: "capacitors empty, no pre-charge",
			Do: func(a []float64) (float64, error) { return InrushTruePeak(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "inrush_energy", Area: "inrush", Title: "Energy of the spark",
			Params: []formula.Param{volts, farad}, Result: unit("J"), Act: grows, Text: "E = C·V²/2", Source: rc, Domain: "any",
			Do: func(a []float64) (float64, error) { return InrushEnergy(a[0], a[1]) },
		},
		{
			Name: "inrush_i2t", Area: "inrush", Title: "Heat of one inrush on the fuse",
			Params: []formula.Param{volts, loop, farad}, Result: unit("A2s"), Act: grows, Text: "I²t = C·V²/(2R)", Source: rc, Domain: "any",
			Do: func(a []float64) (float64, error) { return InrushI2t(a[0], a[1], a[2]) },
		},
		{
			Name: "input_farad", Area: "inrush", Title: "Guess at an inverter's input capacitance",
			Params: []formula.Param{watts, system}, Result: unit("F"), Act: grows, Text: "C = k·P, k 10, 4, 2 µF/W at 12, 24, 48 V",
			Source: guess, Domain: "middle of a band of 0.3 to 4 times; under 12 V counts as 12, over 48 V as 48",
			Do: func(a []float64) (float64, error) { return InputFarad(a[0], a[1]) },
		},
		{
			Name: "input_farad_low", Area: "inrush", Title: "Lower end of an inverter's input capacitance",
			Params: []formula.Param{watts, system}, Result: unit("F"), Act: falls, Text: "0.3 (12 V) or 0.35 times input_farad",
			Source: guess, Domain: "light high-frequency units",
			Do: func(a []float64) (float64, error) { return InputFaradLow(a[0], a[1]) },
		},
		{
			Name: "input_farad_high", Area: "inrush", Title: "Upper end of an inverter's input capacitance",
			Params: []formula.Param{watts, system}, Result: unit("F"), Act: grows, Text: "2.5 (12 V) or 4 times input_farad",
			Source: guess, Domain: "heavy units with a transformer",
			Do: func(a []float64) (float64, error) { return InputFaradHigh(a[0], a[1]) },
		},
		{
			Name: "input_farad_measured", Area: "inrush", Title: "Capacitance from one timed reading",
			Params: []formula.Param{
				in("ohm", "ohm", falls, "resistor it charges through"), in("seconds", "s", grows, "time since closing"),
				in("read", "V", falls, "volts read on the capacitor"), in("supply", "V", grows, "volts of the source"),
			},
			Result: unit("F"), Act: grows, Text: "C = -t/(R·ln(1 - V/Vb))", Source: rc, Domain: "reading above 0 and under the supply",
			Do: func(a []float64) (float64, error) { return InputFaradMeasured(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "bms_above_seconds", Area: "inrush", Title: "Time that the inrush stays above the trip",
			Params: []formula.Param{
				volts, in("loop_ohm", "ohm", mixed, "source, cables, fuse, joints"), farad,
				in("trip_amps", "A", falls, "short-circuit trip of the battery's switch"),
			},
			Result: unit("s"), Act: grows, Text: "t = R·C·ln(V/(R·I)); 0 if V/R <= I", Source: rc,
			Domain: "trips when longer than its delay, 0.1-0.4 ms",
			Do:     func(a []float64) (float64, error) { return BMSAboveSeconds(a[0], a[1], a[2], a[3]) },
			Limits: bmsLimits,
		},
	}
}
