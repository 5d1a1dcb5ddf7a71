package electric

import "hotlug/engine/formula"

func interruptTable() []*formula.Func {
	const made = "ISO 8820-3 to -6, UL 248, IEC 60269-6, IEC 60947-2 [standard scopes; breaking amps typical, part from memory]"
	family := oneOf("family", "kind of fuse or breaker", FuseFamilies())
	chem, system := oneOf("chemistry", "kind of battery", chemistries), in("system", "V", grows, "nominal volts of the bank")
	volts := in("volts", "V", falls, "highest volts of the bank")
	rating := in("rating", "A", falls, "amps printed on the fuse")
	allow := in("allow", "A", grows, "amps that the smallest wire behind it may carry")
	place := oneOf("place", "what feeds the wire", fusePlaces)
	return []*formula.Func{
		{
			Name: "family_next", Area: "fuse", Title: "Next rating of a family of fuses",
			Params: []formula.Param{in("amps", "A", grows, "amps it must be rated for"), family}, Result: unit("A"), Standard: true, Act: grows,
			Text: "smallest rating of the family >= I", Source: made, Domain: "ratings as sold", Example: "amps=52.5A family=strip",
			Do: func(a []float64) (float64, error) { return FamilyNext(a[0], int(a[1])) },
		},
		{
			Name: "fuse_dc_volts", Area: "fuse", Title: "Most DC volts of a family of fuses",
			Params: []formula.Param{family}, Result: unit("V"), Act: falls, Text: "table", Source: made, Domain: "what is printed on the part goes first; a 12 V car breaker counts as 14 V",
			Example: "family=blade", Do: func(a []float64) (float64, error) { return FuseDCVolts(int(a[0])) },
		},
		{
			Name: "breaking_amps", Area: "fuse", Title: "Short that a family of fuses can break",
			Params: []formula.Param{family, volts}, Result: unit("A"), Act: falls, Text: "table by volts", Source: made, Domain: "up to the volts of the family; what is printed on the part goes first",
			Example: "family=cube volts=14V", Do: func(a []float64) (float64, error) { return BreakingAmps(int(a[0]), a[1]) },
		},
		answers(&formula.Func{
			Name: "fuse_breaks", Area: "fuse", Title: "Can the fuse break the short of this bank?",
			Params: []formula.Param{family, volts, in("short", "A", falls, "current of a dead short there: fault_amps")},
			Text:   "short <= breaking amps at the bank's highest volts", Source: made, Domain: "a main fuse on lithium: 20 kA is the rule", Example: "family=strip volts=14.6V short=6800A",
			Do: func(a []float64) (float64, error) { return FuseBreaks(int(a[0]), a[1], a[2]) },
		}),
		{
			Name: "bank_volts_most", Area: "fuse", Title: "Highest volts that a bank comes to",
			Params: []formula.Param{chem, system}, Result: unit("V"), Act: grows, Text: "lithium and gel 15.6, AGM 15.9, flooded 16 V per 12 V",
			Source: "makers' data; BMS trip, cold charge, equalise", Domain: "11 to 52 V systems", Example: "chemistry=lfp system=48V",
			Do: func(a []float64) (float64, error) { return BankVoltsMost(Chemistry(a[0]), a[1]) },
		},
		{
			Name: "fuse_volts_needed", Area: "fuse", Title: "DC volts that a fuse must be marked with",
			Params: []formula.Param{chem, system}, Result: unit("V"), Act: grows, Text: "highest volts of the bank; flooded 1 % more",
			Source: "derived, ruling of practice: 48 V needs 70 or 80 V parts, 24 V flooded 58 V parts", Domain: "11 to 52 V systems", Example: "chemistry=flooded system=24V",
			Do: func(a []float64) (float64, error) { return FuseVoltsNeeded(Chemistry(a[0]), a[1]) },
		},
		answers(&formula.Func{
			Name: "fuse_volts_ok", Area: "fuse", Title: "Is the fuse made for the volts of the bank?",
			Params: []formula.Param{in("rated", "V", grows, "DC volts printed on it"), chem, in("system", "V", falls, "nominal volts of the bank")},
			Text:   "rated >= fuse_volts_needed", Source: "derived", Domain: "an AC mark alone counts for nothing above 36 V", Example: "rated=58V chemistry=lfp system=48V",
			Do: func(a []float64) (float64, error) { return FuseVoltsEnough(a[0], Chemistry(a[1]), a[2]) },
		}),
		answers(&formula.Func{
			Name: "fuse_guards_wire", Area: "fuse", Title: "Does the fuse protect the wire?",
			Params: []formula.Param{rating, allow}, Text: "In <= I_allow", Source: "IEC 60364-4-43 [standard]",
			Domain: "vans, huts, caravans, buildings; the smallest section counts", Example: "rating=40A allow=45A", Do: of2(FuseGuardsWire),
		}),
		answers(&formula.Func{
			Name: "fuse_guards_boat_wire", Area: "fuse", Title: "Does the fuse protect the wire of a boat?",
			Params: []formula.Param{rating, allow}, Text: "In <= 1.5·I_allow", Source: "33 CFR 183.455 and boat practice [standard]",
			Domain: "boats, not motors and inverter mains; above once it is a warning", Example: "rating=60A allow=45A", Do: of2(FuseGuardsBoatWire),
		}),
		{
			Name: "fuse_place_max", Area: "fuse", Title: "Longest wire before the first fuse",
			Params: []formula.Param{place}, Result: unit("m"), Act: falls, Text: "post 0.2 m, charger end 1.0 m sheathed, trailer 0.45 m",
			Source: "ISO 13297, NEC 552.10 [standard, part from memory]; the shortest of the rules", Domain: "measured along the wire", Example: "place=battery-post",
			Do: func(a []float64) (float64, error) { return FusePlaceMost(int(a[0])) },
		},
		answers(&formula.Func{
			Name: "fuse_placed", Area: "fuse", Title: "Is the first fuse near enough to its source?",
			Params: []formula.Param{in("metres", "m", falls, "wire before the fuse"), place}, Text: "l <= fuse_place_max",
			Source: "ISO 13297, NEC 552.10 [standard, part from memory]", Domain: "each end that can feed the wire", Example: "metres=0.3m place=battery-post",
			Do: func(a []float64) (float64, error) { return FusePlaced(a[0], int(a[1])) },
		}),
		{
			Name: "holder_rating", Area: "fuse", Title: "Rating that keeps a fuse holder cool",
			Params: []formula.Param{in("amps", "A", grows, "continuous current"), oneOf("seat", "clips or bolts", []string{"blade", "bolted"})}, Result: unit("A"), Act: grows,
			Text: "I/0.70 blade, I/0.80 bolted", Source: "practice", Domain: "continuous load", Example: "amps=21A seat=blade",
			Do: func(a []float64) (float64, error) { return HolderRating(a[0], int(a[1])) },
		},
		{
			Name: "inverter_fuse", Area: "fuse", Title: "Fuse of an inverter",
			Params: []formula.Param{in("watts", "W", grows, "rated AC power"), in("off", "V", falls, "its low cut-off"), in("efficiency", "1", falls, "0.85 to 0.95")},
			Result: unit("A"), Standard: true, Act: grows, Text: "next standard >= 1.25·P/(Voff·n)", Source: "practice, NEC 690.9 [standard]",
			Domain: "fuse by its wire too: the wire carries at least the fuse", Example: "watts=2000W off=10.5V efficiency=0.9", Do: of3(InverterFuse),
		},
		{
			Name: "breaker_load", Area: "fuse", Title: "Load of a thermal breaker as a part of what it carries",
			Params: []formula.Param{in("amps", "A", grows, "current"), rating, in("ambient", "degC", grows, "air around it")}, Result: unit("1"), Act: grows,
			Text: "I/(In·k), k 1.20 at 20, 1.00 at 40, 0.83 at 60 °C", Source: "makers' data, two", Domain: "calibrated at 40 °C, 20 to 60 °C; hydraulic types lose nothing",
			Example: "amps=48A rating=60A ambient=60C", Do: of3(BreakerLoad),
		},
		{
			Name: "boat_breaking", Area: "fuse", Title: "Short that a boat's breaker must break",
			Params: []formula.Param{in("cca", "A", grows, "cold cranking amps of the bank"), oneOf("device", "main or branch", boatBanks)}, Result: unit("A"), Act: grows,
			Text: "main 1500, 3000 from 651, 5000 from 1101 A; branch half", Source: "boat rule by reports [standard, secondary]", Domain: "lead, 12 and 24 V, up to 2200 A",
			Example: "cca=900A device=main", Do: func(a []float64) (float64, error) { return BoatBreaking(a[0], int(a[1])) },
		},
		answers(&formula.Func{
			Name: "inrush_blows", Area: "inrush", Title: "Can the inrush have blown the fuse?",
			Params: []formula.Param{in("i2t", "A2s", grows, "heat of the inrush: inrush_i2t"), in("melt", "A2s", falls, "heat that melts the fuse: 30 A blade 1000, 200 A bolted 20000, 400 A 100000")},
			Text:   "I²t >= half of what melts it", Source: "derived; melting heat typical, from memory", Domain: "no: suspect reversed polarity or a short", Example: "i2t=534A2s melt=20000A2s",
			Do: of2(FuseBlowsInrush),
		}),
	}
}
