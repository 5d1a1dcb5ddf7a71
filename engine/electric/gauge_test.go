package electric

import (
	"fmt"
	"math"
	"strconv"
	"testing"
)

// TestPublishedGaugeTable: Ω/1000 ft at 20 °C equal the published table of solid
// wire to the digits shown, and so do diameters and circular mils.
func TestPublishedGaugeTable(t *testing.T) {
	for _, c := range []struct {
		gauge          float64
		mm, cmil, feet string
		km, hot        float64
	}{
		{18, "1.0237", "1624.3", "6.385", 20.95, 25.48},
		{16, "1.2908", "2582.7", "4.016", 13.17, 16.02},
		{14, "1.6277", "4106.7", "2.525", 8.285, 10.08},
		{12, "2.0525", "6530", "1.588", 5.211, 6.337},
		{10, "2.5882", "10383", "0.9989", 3.277, 3.985},
		{8, "3.2636", "16510", "0.6282", 2.061, 2.506},
		{6, "4.1154", "26251", "0.3951", 1.296, 1.576},
		{4, "5.1894", "41741", "0.2485", 0.8152, 0.9913},
		{3, "5.8273", "52635", "0.1970", 0.6465, 0.7862},
		{2, "6.5437", "66371", "0.1563", 0.5127, 0.6235},
		{1, "7.3481", "83693", "0.1239", 0.4066, 0.4944},
		{0, "8.2515", "105535", "0.0983", 0.3224, 0.3921},
		{-1, "9.2658", "133077", "0.0779", 0.2557, 0.3110},
		{-2, "10.405", "167806", "0.0618", 0.2028, 0.2466},
		{-3, "11.684", "211600", "0.0490", 0.1608, 0.1956},
	} {
		t.Run(fmt.Sprintf("gauge_%g", c.gauge), func(t *testing.T) {
			area, err := AWGSize(c.gauge)
			if err != nil {
				t.Fatal(err)
			}
			ohm := func(run, temp float64) float64 {
				r, err := AWGOhm(run, c.gauge, temp, SolidWire)
				if err != nil {
					t.Fatal(err)
				}
				return r
			}
			mm := 2 * math.Sqrt(area/math.Pi)
			same(t, "diameter, mm", mm, c.mm)
			same(t, "circular mils", mm*mm/0.0254/0.0254, c.cmil)
			same(t, "ohms per 1000 ft", ohm(304.8, 20), c.feet)
			// Worked from rounded figures: four figures.
			near(t, "ohms per km", ohm(1000, 20), c.km, 4e-4*c.km)
			near(t, "ohms per km at 75 °C", ohm(1000, 75), c.hot, 4e-4*c.hot)
		})
	}
}

// same compares a number with a printed one to the digits shown.
func same(t *testing.T, what string, got float64, want string) {
	t.Helper()
	w, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	digits := 0
	for i := len(want) - 1; i >= 0 && want[i] != '.'; i-- {
		if i == 0 {
			digits = -1
		}
		digits++
	}
	half := 0.5000001 * math.Pow(10, -float64(digits))
	if digits == 0 {
		half = 0.5000001
	}
	if math.Abs(got-w) > half {
		t.Errorf("%s: %.6g is not %s to the digits shown", what, got, want)
	}
}

func TestGaugeVectors(t *testing.T) {
	rows := []row{
		{"awg_ohm", list(1000, 4, 50, "solid"), 0.9113, 0, "worked drop: 4 AWG at 50 °C"},
		{"awg_drop", list(60, 12*0.3048, 4, 50, "solid"), 0.4000, 0, "worked drop: 24 V, 60 A, 4 AWG, 12 ft"},
		{"awg_ohm", list(1000, 10, 20, "stranded"), 3.277 * 1.06, 0, "strands up to 6 % worse"},
		{"awg_drop", list(16.7, 15.24, 16, 20, "solid"), 6.7, 5e-3, "extension lead, 50 ft of 16 AWG"},
		{"awg_allow", list(6, 105, 50, "free", 1), 102.8, 0, "worked: 6 AWG 105 °C at 50 °C"},
		{"awg_allow", list(6, 105, 50, "bundled", 6), 61.66, 0, "worked: six of them in a bundle"},
		{"awg_allow", list(6, 105, 20, "engine-space", 1), 102.8, 0, "an engine space counts as 50 °C"},
		{"awg_allow", list(5, 105, 30, "free", 1), 120, 1e-9, "a number between counts as the thinner"},
		{"awg_allow", list(10, 80, 50, "free", 1), 50 * 0.7746, 1e-3, "80 °C in an engine space: 0.77 by the law"},
		{"awg_allow", list(10, 200, 50, "free", 1), 70 * 0.9393, 1e-3, "200 °C in an engine space: 0.94 by the law"},
		{"awg_for_drop", list(60, 12*0.3048, 0.4001, "solid"), 4, 1e-9, "worked drop: 0.4000 V in 4 AWG"},
		{"awg_for_drop", list(60, 12*0.3048, 0.3999, "solid"), 3, 1e-9, "worked drop: one thicker"},
		{"awg_for_amps", list(102, 105, 50, "free", 1), 6, 1e-9, "worked: 102.8 A in 6 AWG at 50 °C"},
		{"awg_for_amps", list(103, 105, 50, "free", 1), 4, 1e-9, "worked: one thicker"},
		{"nec_fuse_cap", list(14), 15, 1e-9, "NEC 240.4(D)"},
		{"nec_fuse_cap", list(12), 20, 1e-9, "NEC 240.4(D)"},
		{"nec_fuse_cap", list(10), 30, 1e-9, "NEC 240.4(D)"},
		{"nec_lug_amps", list(8), 40, 1e-9, "NEC 110.14(C): 60 °C column"},
		{"nec_lug_amps", list(1), 110, 1e-9, "NEC 110.14(C): 60 °C column"},
		{"nec_lug_amps", list(0), 150, 1e-9, "NEC 110.14(C): 75 °C column"},
		{"sae_mm2", list(16), 1.184, 1e-3, "vehicle gauge, 2336 cmil"},
		{"sae_mm2", list(12), 2.956, 1e-3, "vehicle gauge, 5833 cmil"},
		{"sae_mm2", list(-3), 104.1, 1e-3, "vehicle gauge, 205500 cmil"},
	}
	for i, mark := range []float64{60, 75, 80, 90, 105, 125, 200} {
		rows = append(rows, row{"engine_factor", list(mark), []float64{0.58, 0.75, 0.78, 0.82, 0.86, 0.89, 1}[i], 1e-9, "33 CFR note"})
	}
	for _, c := range []struct {
		gauge float64
		amps  [7]float64
	}{
		{18, [7]float64{10, 10, 15, 20, 20, 25, 25}}, {16, [7]float64{15, 15, 20, 25, 25, 30, 35}}, {14, [7]float64{20, 20, 25, 30, 35, 40, 45}},
		{12, [7]float64{25, 25, 35, 40, 45, 50, 55}}, {10, [7]float64{40, 40, 50, 55, 60, 70, 70}}, {8, [7]float64{55, 65, 70, 70, 80, 90, 100}},
		{6, [7]float64{80, 95, 100, 100, 120, 125, 135}}, {4, [7]float64{105, 125, 130, 135, 160, 170, 180}}, {3, [7]float64{120, 145, 150, 155, 180, 195, 210}},
		{2, [7]float64{140, 170, 175, 180, 210, 225, 240}}, {1, [7]float64{165, 195, 210, 210, 245, 265, 280}}, {0, [7]float64{195, 230, 245, 245, 285, 305, 325}},
		{-1, [7]float64{225, 265, 285, 285, 330, 355, 370}}, {-2, [7]float64{260, 310, 330, 330, 385, 410, 430}}, {-3, [7]float64{300, 360, 385, 385, 445, 475, 510}},
	} {
		for i, mark := range boatMarks {
			rows = append(rows, row{"awg_table_amps", list(c.gauge, mark), c.amps[i], 1e-9, "33 CFR 183.425 table 5"})
		}
	}
	for _, c := range []struct {
		gauge           float64
		raceway, single [3]float64
	}{
		{14, [3]float64{15, 20, 25}, [3]float64{25, 30, 35}}, {12, [3]float64{20, 25, 30}, [3]float64{30, 35, 40}},
		{10, [3]float64{30, 35, 40}, [3]float64{40, 50, 55}}, {8, [3]float64{40, 50, 55}, [3]float64{60, 70, 80}},
		{6, [3]float64{55, 65, 75}, [3]float64{80, 95, 105}}, {4, [3]float64{70, 85, 95}, [3]float64{105, 125, 140}},
		{3, [3]float64{85, 100, 115}, [3]float64{120, 145, 165}}, {2, [3]float64{95, 115, 130}, [3]float64{140, 170, 190}},
		{1, [3]float64{110, 130, 145}, [3]float64{165, 195, 220}}, {0, [3]float64{125, 150, 170}, [3]float64{195, 230, 260}},
		{-1, [3]float64{145, 175, 195}, [3]float64{225, 265, 300}}, {-2, [3]float64{165, 200, 225}, [3]float64{260, 310, 350}},
		{-3, [3]float64{195, 230, 260}, [3]float64{300, 360, 405}},
	} {
		for i, mark := range necMarks {
			rows = append(rows, row{"nec_amps", list(c.gauge, mark, "raceway"), c.raceway[i], 1e-9, "NEC 310.16, 2011 and later"},
				row{"nec_amps", list(c.gauge, mark, "free-air"), c.single[i], 1e-9, "NEC 310.17"})
		}
	}
	for _, c := range []struct{ ambient, at60, at75, at90 float64 }{
		{35, 0.91, 0.94, 0.96}, {40, 0.82, 0.88, 0.91}, {45, 0.71, 0.82, 0.87}, {50, 0.58, 0.75, 0.82}, {55, 0.41, 0.67, 0.76},
	} {
		rows = append(rows, row{"nec_temp_factor", list(c.ambient, 60), c.at60, 1e-9, "NEC 310.15(B)(1)"},
			row{"nec_temp_factor", list(c.ambient, 75), c.at75, 1e-9, "NEC 310.15(B)(1)"}, row{"nec_temp_factor", list(c.ambient, 90), c.at90, 1e-9, "NEC 310.15(B)(1)"},
			row{"wire_temp_factor", list(c.ambient, 90), c.at90, 6e-3, "the law equals NEC 310.15(B)(1) within 0.01"})
	}
	for n, k := range map[float64]float64{3: 1, 4: 0.80, 6: 0.80, 7: 0.70, 10: 0.50, 20: 0.50, 21: 0.45, 31: 0.40, 41: 0.35} {
		rows = append(rows, row{"nec_group_factor", list(n), k, 1e-9, "NEC 310.15(C)(1)"})
	}
	for n, k := range map[float64]float64{1: 1, 2: 0.80, 3: 0.70, 4: 0.65, 5: 0.60, 6: 0.57, 7: 0.54, 8: 0.52, 9: 0.50, 10: 0.45, 12: 0.45} {
		rows = append(rows, row{"iec_group_factor", list(n), k, 1e-9, "IEC 60364-5-52 B.52.17"})
	}
	check(t, rows)
}

func TestMetals(t *testing.T) {
	rows := []row{
		{"metal_ohm", list(1000, 16, 20, "copper"), 1.21, 1e-9, "IEC 60228 class 5"},
		{"metal_ohm", list(1000, 16, 20, "tinned"), 1.24, 1e-9, "IEC 60228 class 5 tinned"},
		{"metal_ohm", list(1000, 16, 20, "cca-10"), 1.54 * 1.21, 1e-9, "clad aluminium 1.54 times copper"},
		{"metal_ohm", list(1000, 16, 20, "cca-15"), 1.50 * 1.21, 1e-9, "clad aluminium 1.50 times copper"},
		{"metal_drop", list(60, 2, 16, 20, "copper"), 0.2904, 0, "worked drop: 4 m loop of 16 mm² at 60 A"},
		{"metal_ohm", list(1000, 16, 70, "copper"), 1.448, 0, "class 5 at 70 °C"},
		{"metal_factor", list("copper"), 1, 1e-9, "copper itself"},
		{"metal_factor", list("aluminium"), 0.781, 1e-3, "61 % conductivity"},
		{"metal_factor", list("cca-10"), 0.806, 1e-3, "65 % conductivity"},
		{"wire_replace", list(50, 0.163, 0.36, 0.1362), 36.4, 2e-3, "cable of the two-point test beside a new isolator"},
		{"insulation_factor", list(0.05), 0.88, 1e-9, "BS 7671 table 52.2"},
		{"insulation_factor", list(0.1), 0.78, 1e-9, "BS 7671 table 52.2"},
		{"insulation_factor", list(0.2), 0.63, 1e-9, "BS 7671 table 52.2"},
		{"insulation_factor", list(0.4), 0.51, 1e-9, "BS 7671 table 52.2"},
		{"insulation_factor", list(3), 0.5, 1e-9, "BS 7671 table 52.2"},
		{"bar_amps", list("6x25", "copper"), 409, 1e-9, "telecom bar table"},
		{"bar_amps", list("6x25", "brass"), 0.53 * 409, 1e-9, "sqrt(0.28) of copper"},
	}
	for s, r := range map[float64]float64{10: 3.08, 16: 1.91, 25: 1.20, 35: 0.868, 50: 0.641, 70: 0.443, 95: 0.320, 120: 0.253} {
		rows = append(rows, row{"metal_ohm", list(1000, s, 20, "aluminium"), r, 1e-9, "IEC 60228 aluminium class 2"})
	}
	for _, c := range []struct {
		size float64
		way  string
		amps float64
	}{
		{1.5, "pvc-clipped", 20}, {2.5, "pvc-clipped", 27}, {4, "pvc-clipped", 37}, {6, "pvc-clipped", 47}, {10, "pvc-clipped", 65}, {16, "pvc-clipped", 87},
		{25, "pvc-spaced", 146}, {50, "pvc-spaced", 219}, {120, "pvc-spaced", 396}, {2.5, "xlpe-clipped", 34}, {16, "xlpe-clipped", 109}, {70, "xlpe-clipped", 293},
		{35, "xlpe-touching", 200}, {95, "xlpe-touching", 377}, {2.5, "rubber-60", 25}, {16, "rubber-60", 73}, {50, "rubber-60", 175},
		{4, "rubber-90", 42}, {10, "rubber-90", 76}, {35, "rubber-90", 200}, {70, "rubber-90", 310},
	} {
		rows = append(rows, row{"building_amps", list(c.size, c.way), c.amps, 1e-9, "BS 7671, IEC 60364-5-52 tables"})
	}
	check(t, rows)
}

// TestThickerOfAnyMetalIsNeverWorse walks all sizes in small steps.
func TestThickerOfAnyMetalIsNeverWorse(t *testing.T) {
	for m := range metals {
		before := math.Inf(1)
		for size := 0.3; size < 200; size *= 1.002 {
			r, err := MetalOhm(1, size, 20, Metal(m))
			if err != nil {
				t.Fatal(err)
			}
			if r > before {
				t.Fatalf("%s: %.4g mm² has more resistance than a thinner one", metals[m], size)
			}
			before = r
		}
	}
}

func TestGaugeRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"awg_for_drop", list(300, 30, 0.3, "solid"), "4/0 is not enough"},
		{"awg_for_amps", list(900, 105, 30, "free", 1), "4/0 is not enough"},
		{"awg_ohm", list(1, 30, 20, "solid"), "gauge number"},
		{"nec_amps", list(18, 60, "raceway"), "thinner than 14"},
		{"nec_temp_factor", list(58, 60), "leave nothing"},
		{"iec_group_factor", list(20), "circuits"},
		{"building_amps", list(2.5, "rubber-90"), "no figure"},
		{"wire_replace", list(50, 0.1, 0.2, 0.25), "no cable helps"},
		{"awg_allow", list(6, 60, 60, "free", 1), "leave nothing"},
	})
}
