package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

func efficiency(fn string, n float64) error { return span(fn, "an efficiency", n, 0.05, 1, "") }

// DCAmps is the battery-side amps of an inverter that gives watts at volts with
// an efficiency (0.85-0.95). Size cable and fuse at its low cut-off, where the
// current is largest: P/(V·n). Not at 12.0 V: an inverter draws constant power,
// so its current grows as the volts fall, to the very last.
func DCAmps(watts, volts, eff float64) (float64, error) {
	const fn = "dc_amps"
	if err := first(notNegative(fn, "the load", watts, "W"), positive(fn, "the volts", volts, "V"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return watts / (volts * eff), nil
}

// InverterVolts is the volts at an inverter that draws watts from a source of
// rest volts through ohm, everything between cells and studs:
// (E + sqrt(E² - 4·R·P/n))/2. Errors: no volts can carry that power.
func InverterVolts(rest, ohm, watts, eff float64) (float64, error) {
	const fn = "inverter_volts"
	if err := first(positive(fn, "the rest volts", rest, "V"), notNegative(fn, "the loop", ohm, "ohm"), notNegative(fn, "the load", watts, "W"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	d := rest*rest - 4*ohm*watts/eff
	if d < 0 {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g W collapse: the most that %.4g V through %.4g ohm can give is %.4g W", watts, rest, ohm, rest*rest*eff/(4*ohm)))
	}
	return (rest + math.Sqrt(d)) / 2, nil
}

// CollapseWatts is the most watts that any inverter can get out of a source of
// rest volts through ohm: E²·n/(4R).
func CollapseWatts(rest, ohm, eff float64) (float64, error) {
	const fn = "collapse_watts"
	if err := first(notNegative(fn, "the rest volts", rest, "V"), positive(fn, "the loop", ohm, "ohm"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return rest * rest * eff / (4 * ohm), nil
}

// MaxWatts is the most watts before an inverter's low cut-off of off volts, from
// a source of rest volts through ohm: (E - Voff)·Voff·n/R.
// Errors: a cut-off that is not between half the rest volts and the rest volts.
func MaxWatts(rest, off, ohm, eff float64) (float64, error) {
	const fn = "max_watts"
	if err := first(cutOff(fn, rest, off), positive(fn, "the loop", ohm, "ohm"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return (rest - off) * off * eff / ohm, nil
}

// LoopOhmMost is the most ohms between cells and studs with which watts stay
// above the cut-off: (E - Voff)·Voff·n/P.
func LoopOhmMost(rest, off, watts, eff float64) (float64, error) {
	const fn = "loop_ohm_max"
	if err := first(cutOff(fn, rest, off), positive(fn, "the load", watts, "W"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return (rest - off) * off * eff / watts, nil
}

func cutOff(fn string, rest, off float64) error {
	if err := positive(fn, "the rest volts", rest, "V"); err != nil {
		return err
	}
	return span(fn, "the cut-off", off, rest/2, rest, "V")
}

// RippleVolts is the AC volts in the DC at the studs that a healthy source of ohm
// shows under a single-phase inverter drawing amps: 0.7071·I·R. Above 1.5 times
// this, or above 1.25 V per 12 V, something in the path is poor. A limit of 1.5 %
// of the volts is not taken: sound banks under full load are above it.
func RippleVolts(amps, ohm float64) (float64, error) {
	const fn = "ripple_volts"
	if err := first(notNegative(fn, "a current", amps, "A"), notNegative(fn, "the source", ohm, "ohm")); err != nil {
		return 0, err
	}
	return math.Sqrt2 / 2 * amps * ohm, nil
}

// RippleOhm is the resistance in ohms of the source behind a ripple of volts at
// amps. Errors: no current.
func RippleOhm(volts, amps float64) (float64, error) {
	const fn = "ripple_ohm"
	if err := first(notNegative(fn, "the ripple", volts, "V"), positive(fn, "a current", amps, "A")); err != nil {
		return 0, err
	}
	return volts * math.Sqrt2 / amps, nil
}

// InverterDerate is the power in per cent that an inverter still gives in air of
// ambient °C: all of it to 40 °C, 2.5 % less per K above.
// Errors: above 60 °C, where it has shut down.
func InverterDerate(ambient float64) (float64, error) {
	if err := span("inverter_derate", "the air", ambient, -40, 60, "°C"); err != nil {
		return 0, err
	}
	return 100 - 2.5*max(0, ambient-40), nil
}

// HeatWatts is what an inverter of an efficiency heats with at watts: P·(1/n - 1).
func HeatWatts(watts, eff float64) (float64, error) {
	const fn = "heat_watts"
	if err := first(notNegative(fn, "the load", watts, "W"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return watts * (1/eff - 1), nil
}

func inverterTable() []*formula.Func {
	const power = "constant-power load [derived]"
	rest := in("rest", "V", grows, "volts of the source at rest")
	less := in("ohm", "ohm", falls, "source, cables, fuse, joints")
	eff := in("efficiency", "1", grows, "0.85 to 0.95")
	watts := in("watts", "W", grows, "AC load")
	off := in("off", "V", falls, "low cut-off of the inverter")
	amps := in("amps", "A", grows, "DC current")
	return []*formula.Func{
		{
			Name: "dc_amps", Area: "inverter", Title: "Battery amps of an inverter",
			Params: []formula.Param{watts, in("volts", "V", falls, "volts at its studs; for sizing its low cut-off"), in("efficiency", "1", falls, "0.85 to 0.95")},
			Result: unit("A"), Act: grows, Text: "I = P/(V·n)", Source: power, Domain: "efficiency 0.05 to 1",
			Do: func(a []float64) (float64, error) { return DCAmps(a[0], a[1], a[2]) },
		},
		{
			Name: "inverter_volts", Area: "inverter", Title: "Volts at a loaded inverter",
			Params: []formula.Param{rest, less, in("watts", "W", falls, "AC load"), eff}, Result: unit("V"), Act: falls,
			Text: "V = (E + sqrt(E² - 4·R·P/n))/2", Source: power, Domain: "below the collapse at E²·n/(4R)",
			Do: func(a []float64) (float64, error) { return InverterVolts(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "max_watts", Area: "inverter", Title: "Most watts before the low cut-off",
			Params: []formula.Param{rest, off, less, eff}, Result: unit("W"), Act: falls,
			Text: "P = (E - Voff)·Voff·n/R", Source: power, Domain: "cut-off between half the rest volts and the rest volts",
			Do: func(a []float64) (float64, error) { return MaxWatts(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "loop_ohm_max", Area: "inverter", Title: "Most ohms with which a load stays above the cut-off",
			Params: []formula.Param{rest, off, in("watts", "W", falls, "AC load"), eff}, Result: unit("ohm"), Act: falls,
			Text: "R = (E - Voff)·Voff·n/P", Source: power, Domain: "cut-off between half the rest volts and the rest volts",
			Do: func(a []float64) (float64, error) { return LoopOhmMost(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "collapse_watts", Area: "inverter", Title: "Watts at which the volts collapse",
			Params: []formula.Param{rest, less, eff}, Result: unit("W"), Act: falls, Text: "P = E²·n/(4R)", Source: power, Domain: "any",
			Do: func(a []float64) (float64, error) { return CollapseWatts(a[0], a[1], a[2]) },
		},
		{
			Name: "ripple_volts", Area: "inverter", Title: "Ripple of a healthy source",
			Params: []formula.Param{amps, in("ohm", "ohm", grows, "source, cables, fuse, joints")}, Result: unit("V"), Act: grows,
			Text: "0.7071·I·R", Source: "derived: single-phase power", Domain: "single-phase inverter, AC range at its studs",
			Do: func(a []float64) (float64, error) { return RippleVolts(a[0], a[1]) },
		},
		{
			Name: "ripple_ohm", Area: "inverter", Title: "Source resistance from ripple",
			Params: []formula.Param{in("volts", "V", grows, "AC volts at the DC studs"), in("amps", "A", falls, "DC current")}, Result: unit("ohm"), Act: grows,
			Text: "R = V/(0.7071·I)", Source: "derived: single-phase power", Domain: "single-phase inverter",
			Do: func(a []float64) (float64, error) { return RippleOhm(a[0], a[1]) },
		},
		{
			Name: "inverter_derate", Area: "inverter", Title: "Power left of an inverter in the heat",
			Params: []formula.Param{in("ambient", "degC", falls, "air around it")}, Result: unit("%"), Act: falls,
			Text: "100 - 2.5·(T - 40), 100 up to 40 °C", Source: "one maker's data; band 1.5-2.5 %/K", Domain: "-40 to 60 °C",
			Do: func(a []float64) (float64, error) { return InverterDerate(a[0]) },
		},
		{
			Name: "heat_watts", Area: "inverter", Title: "Heat that an inverter makes",
			Params: []formula.Param{watts, in("efficiency", "1", falls, "0.85 to 0.95")}, Result: unit("W"), Act: grows,
			Text: "P·(1/n - 1)", Source: "derived", Domain: "efficiency 0.05 to 1",
			Do: func(a []float64) (float64, error) { return HeatWatts(a[0], a[1]) },
		},
	}
}
