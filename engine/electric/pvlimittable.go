package electric

import "hotlug/engine/formula"

func pvLimitTable() []*formula.Func {
	const label = "module label; NEC 690.7 [standard]"
	voc := func(d formula.Dir) formula.Param { return in("voc", "V", d, "open volts of one module, label") }
	coldest := func(d formula.Dir) formula.Param { return in("coldest", "degC", d, "coldest morning ever") }
	beta := func(d formula.Dir) formula.Param {
		return usually(in("beta", "%/K", d, "change of open volts, label: -0.24 to -0.36"), "-0.30 %/K")
	}
	limit := in("limit", "V", grows, "input limit of the controller")
	series := func(d formula.Dir) formula.Param { return in("series", "1", d, "modules one after the other") }
	isc := func(d formula.Dir) formula.Param { return in("isc", "A", d, "short-circuit amps of one module, label") }
	most := func(d formula.Dir) formula.Param { return in("most", "A", d, "largest series fuse, label") }
	battery := func(d formula.Dir) formula.Param { return in("battery", "V", d, "volts at the battery") }
	array := in("watts", "W", grows, "best power of the array now")
	governs := func(name, title string, which int, array, limit, battery, accept formula.Dir) *formula.Func {
		return answers(&formula.Func{
			Name: name, Area: "pv", Title: title,
			Params: []formula.Param{in("watts", "W", array, "best power of the array now, behind dirt and leads"), in("limit", "A", limit, "controller's limit"), in("battery", "V", battery, "volts at the battery"), in("accept", "A", accept, "what battery and loads take")},
			Text:   "least of 0.96·P, I_limit·Vb, I_accept·Vb", Source: "derived", Domain: "tracking controller", Example: "watts=598W limit=30A battery=13.2V accept=200A",
			Do: limitsHarvest(name, which),
		})
	}
	return []*formula.Func{
		answers(&formula.Func{
			Name: "pv_cold_fits", Area: "pv", Title: "Does the string stay under the controller's limit in the cold?",
			Params: []formula.Param{voc(falls), series(falls), coldest(grows), beta(grows), limit}, Text: "n·Voc·(1 + beta·(T - 25)) <= 0.97·limit", Source: label,
			Domain: "-60 to 25 °C", Example: "voc=46.2V series=2 coldest=-20C beta=-0.33%/K limit=100V", Do: of5(ColdFits),
		}),
		{
			Name: "pv_cold_margin", Area: "pv", Title: "Volts under the controller's limit in the cold",
			Params: []formula.Param{voc(falls), series(falls), coldest(grows), beta(grows), limit}, Result: unit("V"), Act: falls,
			Text: "limit - n·Voc·(1 + beta·(T - 25))", Source: label, Domain: "-60 to 25 °C; below zero the controller is lost", Example: "voc=37.1V series=2 coldest=-20C beta=-0.28%/K limit=100V", Do: of5(ColdMargin),
		},
		{
			Name: "pv_series_most", Area: "pv", Title: "Most modules in series under a controller's limit",
			Params: []formula.Param{voc(falls), coldest(grows), beta(grows), limit}, Result: unit("1"), Act: falls,
			Text: "whole part of limit/(Voc·(1 + beta·(T - 25)))", Source: label, Domain: "-60 to 25 °C, no margin", Example: "voc=22.5V coldest=-20C beta=-0.32%/K limit=100V", Do: of4(SeriesMost),
		},
		{
			Name: "pv_series_least", Area: "pv", Title: "Fewest modules in series that run a tracking controller hot",
			Params: []formula.Param{in("open", "V", falls, "open volts of one hot module"), in("best", "V", falls, "best-point volts of one hot module"), battery(grows)},
			Result: unit("1"), Act: grows, Text: "n·open >= Vb + 5 and n·best >= Vb + 1", Source: "makers' data, two; derived", Domain: "controllers that step down; battery at absorption, cells at 65 °C",
			Example: "open=32.9V best=26.8V battery=28.8V", Do: of3(SeriesLeast),
		},
		{
			Name: "clip_watts", Area: "pv", Title: "Power at a controller's current limit",
			Params: []formula.Param{in("limit", "A", grows, "current limit"), battery(grows)}, Result: unit("W"), Text: "P = I·V", Source: "textbook", Domain: "battery side",
			Example: "limit=30A battery=13.2V", Do: of2(ClipWatts),
		},
		{
			Name: "clip_pct", Area: "pv", Title: "Power that a controller's current limit cuts off",
			Params: []formula.Param{array, in("limit", "A", falls, "current limit"), battery(falls)}, Result: unit("%"),
			Text: "100·(1 - I·V/(0.96·P)), not below 0", Source: "derived", Domain: "tracking controller; harmless while cold volts and input amps hold", Example: "watts=598W limit=30A battery=13.2V", Do: of3(ClipPct),
		},
		{
			Name: "pv_series_ohm", Area: "pv", Title: "Resistance between module and controller",
			Params: []formula.Param{in("panel", "V", grows, "volts at the module, loaded"), in("controller", "V", falls, "volts at the controller, loaded"), in("amps", "A", falls, "current")},
			Result: unit("ohm"), Act: grows, Text: "R = (V_panel - V_controller)/I", Source: "textbook", Domain: "both read while the same current flows; up to 60 V", Example: "panel=30.4V controller=20.9V amps=9.5A", Do: of3(PVSeriesOhm),
		},
		{
			Name: "harvest_now", Area: "pv", Title: "Power to expect at the battery now",
			Params: []formula.Param{
				array, in("clean", "1", grows, "what dirt and age leave of it, 0 to 1"), in("ohm", "ohm", falls, "leads and joints of the array"),
				in("amps", "A", falls, "current of the array"), in("limit", "A", grows, "controller's limit"), battery(grows), in("accept", "A", grows, "what battery and loads take"),
			},
			Result: unit("W"), Text: "least of 0.96·(P·k - I²·R), I_limit·Vb, I_accept·Vb", Source: "derived; 0.96 practice", Domain: "tracking controller; below 0.85 of it in clear sun is worth a hunt",
			Example: "watts=598W clean=0.95 ohm=0.1ohm amps=10.3A limit=60A battery=13.2V accept=100A",
			Do:      func(a []float64) (float64, error) { return ExpectedHarvest(a[0], a[1], a[2], a[3], a[4], a[5], a[6]) },
		},
		governs("array_governs", "Is the array the limit of the harvest?", ArrayLimits, falls, grows, grows, grows),
		governs("controller_governs", "Is the controller the limit of the harvest?", ControllerLimits, grows, falls, falls, grows),
		governs("battery_governs", "Is the battery the limit of the harvest?", BatteryLimits, grows, grows, falls, falls),
		{
			Name: "pv_used_share", Area: "pv", Title: "Part of the power that a controller asks for",
			Params: []formula.Param{in("ratio", "1", falls, "loaded volts over open volts, same minute")}, Result: unit("1"), Text: "table", Source: "one-diode model [derived]",
			Domain: "0.834 to 1, strong sun, ±0.05; below the array is the limit", Example: "ratio=0.93", Do: of1(UsedShare),
		},
		answers(&formula.Func{
			Name: "string_fuse_needed", Area: "pv", Title: "Does each string need a fuse?",
			Params: []formula.Param{in("parallel", "1", grows, "strings side by side"), isc(grows), most(falls)}, Text: "(m - 1)·1.25·Isc > largest series fuse", Source: "NEC 690.9(A), IEC 62548 [standard]",
			Domain: "equal strings", Example: "parallel=3 isc=9.25A most=20A", Do: of3(StringFuseNeeded),
		}),
		{
			Name: "string_fuse_least", Area: "pv", Title: "Least rating of a string fuse",
			Params: []formula.Param{isc(grows)}, Result: unit("A"), Act: grows, Text: "1.56·Isc", Source: "NEC 690.8 [standard]; above the 1.5 of IEC 62548 and 1.4 of IEC 60269-6", Domain: "to 30 A",
			Example: "isc=9.85A", Do: of1(StringFuseLeast),
		},
		{
			Name: "string_fuse_most", Area: "pv", Title: "Largest rating of a string fuse",
			Params: []formula.Param{isc(grows), most(grows)}, Result: unit("A"), Act: falls, Text: "less of 2.4·Isc and the largest series fuse", Source: "IEC 62548 [standard]", Domain: "to 30 A",
			Example: "isc=9.85A most=20A", Do: of2(StringFuseMost),
		},
		withLimits(stringFuseLimits, &formula.Func{
			Name: "string_fuse_fits", Area: "pv", Title: "Does the rating fit as a string fuse?",
			Params: []formula.Param{in("rating", "A", mixed, "amps printed on it"), isc(mixed), most(grows)}, Text: "1.56·Isc <= In <= less of 2.4·Isc and the largest series fuse", Source: "NEC 690.8, IEC 62548 [standard]",
			Domain: "to 30 A", Example: "rating=16A isc=9.85A most=20A", Do: of3(StringFuseFits),
		}),
		{
			Name: "string_fuse_volts", Area: "pv", Title: "DC volts of a string fuse",
			Params: []formula.Param{voc(grows), series(grows)}, Result: unit("V"), Act: grows, Text: "1.2·n·Voc", Source: "IEC 62548 [standard]", Domain: "crystalline modules", Example: "voc=37.1V series=2", Do: of2(StringFuseVolts),
		},
		{
			Name: "pv_day_wh", Area: "pv", Title: "Energy of an array in a day",
			Params: []formula.Param{in("watts", "W", grows, "label watts"), in("hours", "h", grows, "sun hours of the day in its plane"), in("ratio", "1", grows, "0.75 tracking, 0.62 pulse-width with 36 cells, to the posts")},
			Result: unit("Wh"), Act: falls, Text: "E = P·PSH·k", Source: "practice; ratio derived", Domain: "flat roof, lat 50: December 0.3-0.6 h real, June 5-6 h", Example: "watts=100W hours=4h ratio=0.75", Do: of3(DayWh),
		},
		{
			Name: "pv_watts_needed", Area: "pv", Title: "Label watts of an array that carries a day",
			Params: []formula.Param{in("night", "Wh", grows, "energy of the loads at night"), in("day", "Wh", grows, "energy of the loads by day"), in("hours", "h", falls, "sun hours of the day"), in("ratio", "1", falls, "0.75 tracking to the posts"), in("eta", "1", falls, "battery: 0.95 lithium, 0.80 lead")},
			Result: unit("W"), Act: grows, Text: "(E_night/eta + E_day)/(PSH·k)", Source: "derived", Domain: "mean day", Example: "night=651Wh day=180Wh hours=4.2h ratio=0.75 eta=0.8", Do: of5(WattsNeeded),
		},
	}
}
