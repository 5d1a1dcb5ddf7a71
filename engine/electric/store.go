package electric

import "hotlug/engine/formula"

// StoreHours is how many hours a bank of ah amp-hours takes to lose drop
// amp-hours to self-discharge of loss per cent a month and a steady current of
// amps: drop/(s·C/730.5 + I). Errors: neither loss nor current.
func StoreHours(drop, loss, ah, amps float64) (float64, error) {
	const fn = "store_hours"
	if err := first(
		notNegative(fn, "what may be lost", drop, "Ah"), span(fn, "the loss a month", loss, 0, 100, "%"),
		positive(fn, "the capacity", ah, "Ah"), notNegative(fn, "the steady current", amps, "A"),
		positive(fn, "loss and current together", loss+amps, ""),
	); err != nil {
		return 0, err
	}
	return drop / (loss/100*ah/730.5 + amps), nil
}

// CapacityPct is the capacity in per cent of the label after a discharge at the
// 20 h current to 10.50 V per 12 V that lasted hours at temp °C:
// 100·t/20·(1 - 0.009·(T - 27)). Errors: temp outside 15-40 (the factor is one
// maker's for 24-32).
func CapacityPct(hours, temp float64) (float64, error) {
	const fn = "capacity_pct"
	if err := first(span(fn, "a discharge", hours, 0, 48, "h"), span(fn, "a battery temperature", temp, 15, 40, "°C")); err != nil {
		return 0, err
	}
	return 100 * hours / 20 * (1 - 0.009*(temp-27)), nil
}

// OneShortVolts is the rest voltage in volts of a lead bank of system volts with
// one shorted cell, when it would rest at full: n-1 cells of n, six per 12 V.
func OneShortVolts(full, system float64) (float64, error) {
	const fn = "one_short_volts"
	k, err := twelves(fn, system)
	if err != nil {
		return 0, err
	}
	n := 6 * k
	return full * (n - 1) / n, notNegative(fn, "the rest voltage", full, "V")
}

func storeTable() []*formula.Func {
	return []*formula.Func{
		{
			Name: "store_hours", Area: "battery", Title: "How long a stored bank lasts",
			Params: []formula.Param{
				in("drop", "Ah", grows, "amp-hours that may be lost"), in("loss", "%", falls, "self-discharge a month: lithium 1-3, AGM 3, flooded 6"),
				in("ah", "Ah", falls, "amp-hours of the bank"), in("amps", "A", falls, "steady current"),
			},
			Result: unit("h"), Act: falls, Text: "dAh/(s·C/730.5 + I)", Source: "derived", Domain: "about 20 °C; loss doubles every 10 K",
			Do: func(a []float64) (float64, error) { return StoreHours(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "capacity_pct", Area: "battery", Title: "Capacity from a discharge test",
			Params: []formula.Param{in("hours", "h", grows, "time to 10.5 V per 12 V at the 20 h current"), in("temp", "degC", falls, "temperature of the battery")},
			Result: unit("%"), Act: falls, Text: "100·t/20·(1 - 0.009·(T - 27))", Source: "one maker's test, practice", Domain: "lead, 15 to 40 °C",
			Do: func(a []float64) (float64, error) { return CapacityPct(a[0], a[1]) },
		},
		{
			Name: "one_short_volts", Area: "battery", Title: "Rest voltage with one shorted cell",
			Params: []formula.Param{in("full", "V", grows, "rest volts with all cells"), in("system", "V", grows, "nominal volts of the bank")},
			Result: unit("V"), Text: "V·(n - 1)/n, n = system/2", Source: "derived", Domain: "lead",
			Do: func(a []float64) (float64, error) { return OneShortVolts(a[0], a[1]) },
		},
	}
}
