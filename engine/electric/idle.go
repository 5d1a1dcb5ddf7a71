package electric

import "hotlug/engine/formula"

// IdleAh is the amp-hours that an idling inverter of watts takes in hours from a
// bank of volts. Rule: 1 to 2.5 % of its rating when nothing is plugged in.
func IdleAh(watts, hours, volts float64) (float64, error) {
	const fn = "idle_ah"
	if err := first(notNegative(fn, "the idle power", watts, "W"), notNegative(fn, "the time", hours, "h"), positive(fn, "the battery", volts, "V")); err != nil {
		return 0, err
	}
	return watts * hours / volts, nil
}

// RunMinutes is how many minutes a full bank of ah amp-hours and volts runs an
// AC load of watts at an efficiency, using 0.8 of its charge.
func RunMinutes(ah, volts, watts, eff float64) (float64, error) {
	const fn = "run_minutes"
	if err := first(notNegative(fn, "the capacity", ah, "Ah"), notNegative(fn, "the battery", volts, "V"), positive(fn, "the load", watts, "W"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return 60 * ah * volts * 0.8 * eff / watts, nil
}

// HuntOhm is the resistance in ohms from which a load with a low cut-off stops
// and restarts for ever: gap volts between restart and cut-off over its amps.
func HuntOhm(gap, amps float64) (float64, error) {
	const fn = "hunt_ohm"
	if err := first(notNegative(fn, "the gap", gap, "V"), positive(fn, "the running current", amps, "A")); err != nil {
		return 0, err
	}
	return gap / amps, nil
}

// GhostVolts is what a meter of meter ohms shows of volts behind series ohms,
// such as a film of dirt or a switched-off pack: V·Rm/(Rm + Rs).
func GhostVolts(volts, series, meter float64) (float64, error) {
	const fn = "ghost_volts"
	if err := first(notNegative(fn, "the volts", volts, "V"), notNegative(fn, "the resistance in the way", series, "ohm"), positive(fn, "the meter's input", meter, "ohm")); err != nil {
		return 0, err
	}
	return volts * meter / (meter + series), nil
}

func idleTable() []*formula.Func {
	return []*formula.Func{
		{
			Name: "idle_ah", Area: "inverter", Title: "Amp-hours of an idling inverter",
			Params: []formula.Param{in("watts", "W", grows, "idle power, 1 to 2.5 % of its rating"), in("hours", "h", grows, "hours left on"), in("volts", "V", falls, "volts of the battery")},
			Result: unit("Ah"), Act: grows, Text: "P·t/V", Source: "textbook", Domain: "any",
			Do: func(a []float64) (float64, error) { return IdleAh(a[0], a[1], a[2]) },
		},
		{
			Name: "run_minutes", Area: "inverter", Title: "How long a bank runs an AC load",
			Params: []formula.Param{in("ah", "Ah", grows, "amp-hours of the bank"), in("volts", "V", grows, "its volts"), in("watts", "W", falls, "AC load"), in("efficiency", "1", grows, "0.85 to 0.95")},
			Result: unit("min"), Act: falls, Text: "60·Ah·V·0.8·n/P", Source: "practice", Domain: "full lithium bank; lead gives less at high current",
			Do: func(a []float64) (float64, error) { return RunMinutes(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "hunt_ohm", Area: "inverter", Title: "Resistance from which a load stops and restarts for ever",
			Params: []formula.Param{in("gap", "V", grows, "restart volts less cut-off volts"), in("amps", "A", falls, "running current")},
			Result: unit("ohm"), Act: falls, Text: "R = (V_on - V_off)/I", Source: "derived", Domain: "battery, wires and joints together",
			Do: func(a []float64) (float64, error) { return HuntOhm(a[0], a[1]) },
		},
		{
			Name: "ghost_volts", Area: "inverter", Title: "Ghost volts through a high resistance",
			Params: []formula.Param{in("volts", "V", grows, "volts behind it"), in("series_ohm", "ohm", falls, "resistance in the way"), in("meter_ohm", "ohm", grows, "input of the meter")},
			Result: unit("V"), Text: "V·Rm/(Rm + Rs)", Source: "textbook", Domain: "any",
			Do: func(a []float64) (float64, error) { return GhostVolts(a[0], a[1], a[2]) },
		},
	}
}
