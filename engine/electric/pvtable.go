package electric

import "hotlug/engine/formula"

func pvTable() []*formula.Func {
	const label = "module label; one-diode model [textbook]"
	voc := in("voc", "V", grows, "open volts of one module, label")
	series := in("series", "1", grows, "modules one after the other")
	parallel := in("parallel", "1", grows, "strings side by side")
	isc := in("isc", "A", grows, "short-circuit amps of one module, label")
	coldest := in("coldest", "degC", falls, "coldest morning ever")
	temp := in("cell_temp", "degC", falls, "temperature of the cells")
	battery := in("battery", "V", falls, "volts at the battery")
	return []*formula.Func{
		{
			Name: "pv_cold_volts", Area: "pv", Title: "Open volts on the coldest morning",
			Params: []formula.Param{voc, series, coldest}, Result: unit("V"), Act: grows,
			Text: "n·Voc·(1 - 0.30 %/K·(T - 25))", Source: label + "; NEC 690.7 [standard]",
			Domain: "-60 to 25 °C; -0.30 %/K taken, old modules reach -0.36",
			Do:     func(a []float64) (float64, error) { return PVColdVolts(a[0], a[1], a[2]) },
		},
		{
			Name: "pv_cold_volts_beta", Area: "pv", Title: "Open volts on the coldest morning, by the label",
			Params: []formula.Param{voc, series, coldest, in("beta", "%/K", falls, "change of open volts, label: -0.24 to -0.36")},
			Result: unit("V"), Act: grows, Text: "n·Voc·(1 + beta·(T - 25))", Source: label + "; NEC 690.7 [standard]", Domain: "-60 to 25 °C",
			Do: func(a []float64) (float64, error) { return PVColdVoltsBeta(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "pv_cold_volts_code", Area: "pv", Title: "Open volts on the coldest morning, by the code's factors",
			Params: []formula.Param{voc, series, coldest}, Result: unit("V"), Act: grows, Text: "n·Voc·factor by 5 K steps, 1.00 to 1.25",
			Source: "NEC table 690.7(A) [standard, some rows from memory]", Domain: "-40 to 25 °C, crystalline modules",
			Do: func(a []float64) (float64, error) { return PVColdVoltsCode(a[0], a[1], a[2]) },
		},
		{
			Name: "pv_open_expect", Area: "pv", Title: "Open volts expected in strong sun",
			Params: []formula.Param{voc, series, temp}, Result: unit("V"), Text: "n·Voc·(1 - 0.30 %/K·(T - 25) - 0.9 %)",
			Source: label, Domain: "strong sun, about 800 W/m², -40 to 100 °C; within 6 % is a pass",
			Do: func(a []float64) (float64, error) { return PVOpenExpect(a[0], a[1], a[2]) },
		},
		{
			Name: "pv_open_at", Area: "pv", Title: "Open volts expected in a given sun",
			Params: []formula.Param{voc, series, temp, in("sun", "W/m2", grows, "sun on the module")}, Result: unit("V"),
			Text: "n·Voc·(1 - 0.30 %/K·(T - 25) + 0.0387·(T/298 K)·ln(G/1000))", Source: label, Domain: "20 to 1400 W/m², -40 to 100 °C",
			Do: func(a []float64) (float64, error) { return PVOpenAt(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "pv_expect_amps", Area: "pv", Title: "Short-circuit amps expected",
			Params: []formula.Param{isc, parallel, in("sun_share", "1", grows, "share of full sun, 0 to 1.4")}, Result: unit("A"),
			Text: "Isc·m·share", Source: label, Domain: "clean, no shade; best-point amps are 0.94 of it",
			Do: func(a []float64) (float64, error) { return PVExpectAmps(a[0], a[1], a[2]) },
		},
		{
			Name: "array_watts", Area: "pv", Title: "Label power of an array",
			Params: []formula.Param{voc, isc, series, parallel}, Result: unit("W"), Text: "0.775·Voc·Isc·n·m", Source: "practice", Domain: "crystalline modules, ±3 %",
			Do: func(a []float64) (float64, error) { return ArrayWatts(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "start_margin", Area: "pv", Title: "Margin to start a tracking controller",
			Params: []formula.Param{in("open", "V", grows, "open volts of the array"), battery}, Result: unit("V"), Act: falls,
			Text: "Vopen - (Vb + 5)", Source: "makers' data, two", Domain: "tracking controllers that step down",
			Do: func(a []float64) (float64, error) { return StartMargin(a[0], a[1]) },
		},
		{
			Name: "run_margin", Area: "pv", Title: "Margin to keep a tracking controller running",
			Params: []formula.Param{in("loaded", "V", grows, "loaded volts of the array"), battery}, Result: unit("V"), Act: falls,
			Text: "Vpv - (Vb + 1)", Source: "makers' data, two", Domain: "tracking controllers that step down",
			Do: func(a []float64) (float64, error) { return RunMargin(a[0], a[1]) },
		},
		{
			Name: "pwm_loss", Area: "pv", Title: "Power that a pulse-width controller gives away",
			Params: []formula.Param{in("voc", "V", grows, "open volts of one string, label"), battery}, Result: unit("%"),
			Text: "100·(1 - 1.376·Vb/Voc)", Source: "derived, ±3 points", Domain: "bulk charge, warm module, battery at most 0.70 of Voc",
			Do: func(a []float64) (float64, error) { return PWMLoss(a[0], a[1]) },
		},
		{
			Name: "controller_amps", Area: "pv", Title: "Amps that an array makes at the battery",
			Params: []formula.Param{in("watts", "W", grows, "power of the array"), battery}, Result: unit("A"), Act: grows,
			Text: "0.96·P/Vb", Source: "practice", Domain: "tracking controller",
			Do: func(a []float64) (float64, error) { return ControllerAmps(a[0], a[1]) },
		},
	}
}
