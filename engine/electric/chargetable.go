package electric

import "hotlug/engine/formula"

func chargeTable() []*formula.Func {
	const manuals = "makers' manuals, ten; compensation -16 to -30 mV/K per 12 V counts as right"
	chem := oneOf("chemistry", "kind of battery", chemistries)
	system := in("system", "V", grows, "nominal volts of the bank")
	temp := in("temp", "degC", falls, "temperature of the battery")
	set := func(name, title, text string, act formula.Dir, do func(Chemistry, float64, float64) (float64, error)) *formula.Func {
		return &formula.Func{
			Name: name, Area: "battery", Title: title, Params: []formula.Param{chem, system, temp}, Result: unit("V"),
			Act: act, Text: text, Source: manuals, Domain: "-10 to 50 °C; the maker's figure goes first",
			Do: func(a []float64) (float64, error) { return do(Chemistry(a[0]), a[1], a[2]) },
		}
	}
	return []*formula.Func{
		set("absorb_target", "Absorption voltage", "lfp 14.2, flooded 14.6, agm 14.4, gel 14.2 V per 12 V; lead - 30 mV/K·(T - 25)", mixed, AbsorbTarget),
		set("absorb_low", "Lowest absorption voltage of any maker", "lfp 14.0, flooded 14.4, agm 14.2, gel 14.0 V per 12 V; lead - 30 mV/K·(T - 25)", falls, AbsorbLow),
		set("absorb_high", "Highest usual absorption voltage", "lfp 14.6, flooded 14.8, agm 14.7, gel 14.4 V per 12 V; lead - 30 mV/K·(T - 25)", grows, AbsorbHigh),
		set("float_target", "Float voltage", "lfp 13.5, flooded 13.4, agm 13.6, gel 13.6 V per 12 V; agm - 18, other lead - 30 mV/K·(T - 25)", mixed, FloatTarget),
		{
			Name: "equalise_target", Area: "battery", Title: "Equalising voltage",
			Params: []formula.Param{chem, system}, Result: unit("V"), Text: "15.5 V per 12 V", Source: "practice",
			Domain: "flooded only, 25 °C, watched all the time; loads and inverter off above it",
			Do:     func(a []float64) (float64, error) { return EqualiseTarget(Chemistry(a[0]), a[1]) },
		},
		{
			Name: "tail_limit", Area: "battery", Title: "Charge current below which a battery is full",
			Params: []formula.Param{chem, in("ah", "Ah", grows, "amp-hours of the bank")}, Result: unit("A"), Act: falls,
			Text: "lithium 5 %, AGM and gel 2 %, flooded 3 % of the Ah", Source: "makers' manuals, practice", Domain: "at absorption volts",
			Do: func(a []float64) (float64, error) { return TailLimit(Chemistry(a[0]), a[1]) },
		},
		{
			Name: "cold_charge_amps", Area: "battery", Title: "Most charge amps of lithium at a temperature",
			Params: []formula.Param{in("temp", "degC", mixed, "temperature of the cells"), in("ah", "Ah", grows, "amp-hours of the bank")},
			Result: unit("A"), Act: falls, Text: "below 0 °C 0; 0-10 °C 0.1; 10-15 0.2; 15-45 0.5; 45-50 0.1; from 50 0, times Ah",
			Source: "makers' sheets, the stricter of three; practice when hot", Domain: "lithium iron phosphate, -60 to 80 °C",
			Do:     func(a []float64) (float64, error) { return ColdChargeAmps(a[0], a[1]) },
			Limits: coldLimits,
		},
		{
			Name: "charge_hours", Area: "battery", Title: "Time to fill a bank",
			Params: []formula.Param{chem, in("ah", "Ah", grows, "amp-hours of the bank"), in("from", "%", falls, "charge at the start"), in("amps", "A", falls, "steady charge current")},
			Result: unit("h"), Act: grows, Text: "lithium dAh/(0.99·I) + 0.5; lead (85 % - from)/(0.95·I) + Q·ln(I/It)/(I - It), Q = 0.2·Ah",
			Source: "derived: exponential taper", Domain: "lead from 85 % or less, with more amps than its tail",
			Do: func(a []float64) (float64, error) { return ChargeHours(Chemistry(a[0]), a[1], a[2], a[3]) },
		},
	}
}
