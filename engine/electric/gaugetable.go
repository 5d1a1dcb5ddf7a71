package electric

import "hotlug/engine/formula"

func gaugeTable() []*formula.Func {
	const astm = "ASTM B258, IEC 60028 [standard]; stranded +6 % [from memory]"
	const boat = "33 CFR 183.425 table 5 [standard]"
	const nec = "NEC 310.16, 310.17 [standard; part of 310.17 from memory]"
	gauge := in("gauge", "1", grows, "gauge number; 1/0 is 0, 4/0 is -3")
	thin := in("gauge", "1", falls, "gauge number; 1/0 is 0, 4/0 is -3")
	run := in("run", "m", grows, "length one way")
	temp := usually(in("temp", "degC", grows, "temperature of the wire"), "50 C")
	how := oneOf("make", "one solid wire or strands", wireMakes)
	rated := in("rated", "degC", grows, "temperature marked on the insulation")
	ambient := in("ambient", "degC", falls, "air around it at its hottest")
	return []*formula.Func{
		{
			Name: "awg_ohm", Area: "wire", Title: "Resistance of one gauge wire, one way",
			Params: []formula.Param{run, gauge, temp, how}, Result: unit("ohm"), Act: grows,
			Text: "R = l/(58·A)·(1 + 0.00393·(T - 20)), 1.06 times stranded", Source: astm,
			Domain: "4/0 (-3) to 24, -60 to 250 °C", Example: "run=12ft gauge=4 temp=50C make=solid",
			Do: func(a []float64) (float64, error) { return AWGOhm(a[0], a[1], a[2], WireMake(a[3])) },
		},
		{
			Name: "awg_drop", Area: "wire", Title: "Drop over a round trip of gauge wire",
			Params: []formula.Param{in("amps", "A", grows, "current in the wire"), run, gauge, temp, how}, Result: unit("V"), Act: grows,
			Text: "U = 2·I·l/(58·A)·(1 + 0.00393·(T - 20)), 1.06 times stranded", Source: astm,
			Domain: "4/0 (-3) to 24, plus and minus of one gauge; joints and fuses not included", Example: "amps=60A run=12ft gauge=4 temp=50C make=stranded",
			Do: func(a []float64) (float64, error) { return AWGDrop(a[0], a[1], a[2], a[3], WireMake(a[4])) },
		},
		{
			Name: "awg_for_drop", Area: "wire", Title: "Thinnest gauge for a drop",
			Params: []formula.Param{in("amps", "A", falls, "current in the wire"), in("run", "m", falls, "length one way"), in("volts", "V", grows, "drop allowed, there and back"), how}, Result: unit("1"), Act: falls,
			Text: "thinnest gauge with 2·I·l·r(A)·1.12 <= U", Source: astm, Domain: "4/0 (-3) to 18, 50 °C copper; check the amps it may carry as well",
			Example: "amps=40A run=13ft volts=0.36V make=stranded", Do: func(a []float64) (float64, error) { return AWGForDrop(a[0], a[1], a[2], WireMake(a[3])) },
		},
		{
			Name: "awg_for_amps", Area: "wire", Title: "Thinnest gauge for a current",
			Params: []formula.Param{in("amps", "A", falls, "current it must carry for ever, or the fuse before it"), rated, in("ambient", "degC", falls, "air around it at its hottest"), oneOf("lay", "how it lies where it is hottest", lays), in("count", "1", falls, "loaded wires in the bundle, or layers on the drum")}, Result: unit("1"), Act: falls,
			Text: "thinnest gauge with awg_allow >= I", Source: boat, Domain: "4/0 (-3) to 18; check the drop as well",
			Example: "amps=60A rated=105C ambient=40C lay=free count=1", Do: func(a []float64) (float64, error) { return AWGForAmps(a[0], a[1], a[2], Lay(a[3]), a[4]) },
		},
		{
			Name: "sae_mm2", Area: "wire", Title: "Area of a vehicle gauge number",
			Params: []formula.Param{thin}, Result: unit("mm2"), Act: falls, Text: "table of circular mils", Source: "SAE vehicle wire, typical data",
			Domain: "4/0 (-3) to 16; a number between two counts as the thinner", Example: "gauge=10", Do: of1(SAESize),
		},
		{
			Name: "awg_table_amps", Area: "wire", Title: "Table amps of a gauge wire in free air of 30 °C",
			Params: []formula.Param{thin, rated}, Result: unit("A"), Act: falls, Text: "table", Source: boat,
			Domain: "4/0 (-3) to 18, marks from 60 °C; between two counts as the lower", Example: "gauge=6 rated=105C", Do: of2(AWGTableAmps),
		},
		{
			Name: "awg_allow", Area: "wire", Title: "Amps that a gauge wire may carry",
			Params: []formula.Param{thin, rated, ambient, oneOf("lay", "how it lies where it is hottest", lays), in("count", "1", falls, "loaded wires in the bundle, or layers on the drum")},
			Result: unit("A"), Act: falls, Text: "I = table·sqrt((Tc - Ta)/(Tc - 30))·k", Source: boat + "; insulation BS 7671 table 52.2",
			Domain:  "4/0 (-3) to 18; cold air counts as 30 °C, an engine space as at least 50 °C",
			Example: "gauge=6 rated=105C ambient=50C lay=bundled count=6",
			Do:      func(a []float64) (float64, error) { return AWGAllow(a[0], a[1], a[2], Lay(a[3]), a[4]) },
		},
		{
			Name: "engine_factor", Area: "wire", Title: "Factor for an engine space as printed",
			Params: []formula.Param{rated}, Result: unit("1"), Act: falls, Text: "60: 0.58, 75: 0.75, 80: 0.78, 90: 0.82, 105: 0.86, 125: 0.89, 200: 1.00",
			Source: "33 CFR 183.425 table 5, note [standard, from memory]", Domain: "50 °C; awg_allow takes the lower sqrt((Tc - 50)/(Tc - 30))",
			Example: "rated=105C", Do: of1(EngineFactor),
		},
		{
			Name: "nec_amps", Area: "wire", Title: "Amps of copper in a building",
			Params: []formula.Param{thin, rated, oneOf("lay", "three in a raceway, or one in free air", necLays)}, Result: unit("A"), Act: falls,
			Text: "table", Source: nec, Domain: "4/0 (-3) to 18, 30 °C; terminals may allow less",
			Example: "gauge=3 rated=90C lay=raceway", Do: func(a []float64) (float64, error) { return NECAmps(a[0], a[1], int(a[2])) },
		},
		{
			Name: "nec_lug_amps", Area: "wire", Title: "Amps that unmarked terminals allow on copper in a building",
			Params: []formula.Param{thin}, Result: unit("A"), Act: falls, Text: "60 °C column to 1 AWG, 75 °C column above", Source: "NEC 110.14(C), 310.16 [standard, in part from memory]",
			Domain: "4/0 (-3) to 14, three in a raceway, 30 °C", Example: "gauge=8", Do: of1(NECLugAmps),
		},
		{
			Name: "nec_fuse_cap", Area: "fuse", Title: "Largest fuse on thin copper in a building",
			Params: []formula.Param{thin}, Result: unit("A"), Act: falls, Text: "14: 15 A, 12: 20 A, 10: 30 A", Source: "NEC 240.4(D) [standard]",
			Domain: "14 to 10 AWG", Example: "gauge=12", Do: of1(NECFuseCap),
		},
		{
			Name: "nec_temp_factor", Area: "wire", Title: "Factor for warm surroundings by steps of 5 K",
			Params: []formula.Param{ambient, rated}, Result: unit("1"), Act: falls, Text: "table by bands", Source: "NEC 310.15(B)(1) [standard]",
			Domain: "26 to 60 °C", Example: "ambient=45C rated=90C", Do: of2(NECTempFactor),
		},
		{
			Name: "nec_group_factor", Area: "wire", Title: "Factor for wires in one raceway",
			Params: []formula.Param{in("count", "1", falls, "loaded wires in it")}, Result: unit("1"), Act: falls,
			Text: "1-3: 1, 4-6: 0.80, 7-9: 0.70, 10-20: 0.50, 21-30: 0.45, 31-40: 0.40, 41 and up: 0.35", Source: "NEC 310.15(C)(1) [standard]",
			Domain: "1 to 1000 wires; bundles on boats and vehicles: bundle_factor", Example: "count=5", Do: of1(NECGroupFactor),
		},
		{
			Name: "iec_group_factor", Area: "wire", Title: "Factor for circuits bunched together",
			Params: []formula.Param{in("circuits", "1", falls, "circuits in the bunch")}, Result: unit("1"), Act: falls,
			Text: "2: 0.80, 3: 0.70, 4: 0.65, 5: 0.60, 6: 0.57, 7: 0.54, 8: 0.52, 9: 0.50, 12: 0.45", Source: "IEC 60364-5-52 table B.52.17 [standard, from memory]",
			Domain: "1 to 12 circuits; a circuit loaded to 30 % of its bunched amps need not count", Example: "circuits=4", Do: of1(IECGroupFactor),
		},
	}
}
