package electric

import (
	"fmt"
	"testing"
)

// TestStandardSizesReadTheTable: one metre of each standard size at 20 °C.
func TestStandardSizesReadTheTable(t *testing.T) {
	plain := map[float64]float64{0.5: 39.0, 0.75: 26.0, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91,
		16: 1.21, 25: 0.780, 35: 0.554, 50: 0.386, 70: 0.272, 95: 0.206, 120: 0.161}
	tinned := map[float64]float64{0.5: 40.1, 0.75: 26.7, 1: 20.0, 1.5: 13.7, 2.5: 8.21, 4: 5.09, 6: 3.39, 10: 1.95,
		16: 1.24, 25: 0.795, 35: 0.565, 50: 0.393, 70: 0.277, 95: 0.210, 120: 0.164}
	at70 := map[float64]float64{0.5: 46.66, 0.75: 31.11, 1: 23.33, 1.5: 15.91, 2.5: 9.548, 4: 5.923, 6: 3.948, 10: 2.285,
		16: 1.448, 25: 0.9333, 35: 0.6629, 50: 0.4618, 70: 0.3254, 95: 0.2465, 120: 0.1926}
	var rows []row
	for s, r := range plain {
		rows = append(rows, row{"wire_ohm", list(1, s, 20), r / 1000, 1e-9, "IEC 60228 class 5"})
	}
	for s, r := range tinned {
		rows = append(rows, row{"tinned_ohm", list(1, s, 20), r / 1000, 1e-9, "IEC 60228 class 5 tinned"})
	}
	for s, r := range at70 {
		rows = append(rows, row{"wire_ohm", list(1, s, 70), r / 1000, 0, "IEC 60228 class 5 at 70 °C"})
	}
	check(t, rows)
}

// TestLoopTable: the published drop tables of flexible cords, mV per A and metre
// of loop at 60 °C, are rounded up; they hold within 5 %.
func TestLoopTable(t *testing.T) {
	published := map[float64]float64{0.5: 93, 0.75: 62, 1: 46, 1.5: 32, 2.5: 19, 4: 12, 6: 7.8, 10: 4.6, 16: 2.9, 25: 1.8,
		35: 1.31, 50: 0.91, 70: 0.64, 95: 0.49, 120: 0.38}
	var rows []row
	for s, mv := range published {
		rows = append(rows, row{"wire_drop", list(1, 1, s, 60), mv / 1000, 0.05, "BS 7671 flexible cord drop tables"})
	}
	check(t, rows)
}

func TestWireVectors(t *testing.T) {
	check(t, []row{
		{"wire_ohm", list(1, 13.3, 20), 0.0195 / 13.3, 1e-9, "0.0195 Ω·mm²/m off the table"},
		{"wire_ohm", list(2, 8.37, 50), 2 * 0.0195 / 8.37 * 1.1179, 1e-6, "0.0195 Ω·mm²/m off the table, x1.118 at 50 °C"},
		{"tinned_ohm", list(1, 5.26, 20), 0.0203 / 5.26, 1e-9, "0.0203 Ω·mm²/m tinned off the table"},
		{"wire_ohm", list(1, 1.49, 20), 0.0133, 1e-9, "never better than the next size up"},
		{"wire_ohm", list(1, 10.05, 20), 0.00191, 1e-9, "never worse than the next size down"},
		{"wire_ohm", list(1, 1, 30), 0.0195 * 1.0393, 1e-6, "copper, x1.0393 at 30 °C"},
		{"wire_ohm", list(1, 1, 105), 0.0195 * 1.33405, 1e-5, "copper, x1.3341 at 105 °C"},
		{"wire_drop", list(8, 6, 2.5, 30), 0.7962, 0, "worked drop: 8 A, 6 m, 2.5 mm², 30 °C"},
		{"wire_drop", list(8, 6, 6, 30), 0.3293, 0, "worked drop: the same in 6 mm²"},
		{"wire_drop", list(185.185, 1.5, 50, 50), 0.2397, 0, "worked drop: inverter of 2000 W at 12.0 V"},
		{"wire_drop", list(140, 1.5, 35, 20), 0.2327, 0, "worked drop: 3 m loop of 35 mm² at 140 A"},
		{"wire_drop", list(140, 1.5, 50, 20), 0.1621, 0, "worked drop: 3 m loop of 50 mm² at 140 A"},
		{"wire_drop", list(140, 1.5, 70, 20), 0.1142, 0, "worked drop: 3 m loop of 70 mm² at 140 A"},
		{"wire_drop", list(87, 1, 25, 20), 0.1357, 0, "worked drop: 2 m loop of 25 mm² at 87 A"},
		{"wire_drop", list(60, 2, 16, 20), 0.2904, 0, "worked drop: 4 m loop of 16 mm² at 60 A"},
		{"wire_drop", list(5, 6, 2.5, 20), 0.4788, 0, "worked drop: fridge, 12 m loop of 2.5 mm²"},
		{"wire_drop", list(8, 6, 2.5, 20), 0.7661, 0, "worked drop: fridge starting"},
		{"wire_drop", list(5, 6, 6, 20), 0.1980, 0, "worked drop: fridge on 6 mm²"},
		{"tinned_drop", list(9.2, 18, 6, 60), 1.299, 0, "worked drop: array of 34.6 V, 18 m"},
		{"tinned_drop", list(10.76, 8, 4, 20), 0.8763, 0, "worked drop: two 100 W modules side by side"},
		{"tinned_drop", list(5.38, 8, 4, 20), 0.4381, 0, "worked drop: the same two in series"},
		{"tinned_drop", list(12.87, 12, 6, 60), 1.212, 0, "worked drop: one 400 W module, 12 m"},
		{"tinned_drop", list(21.52, 10, 10, 20), 0.8393, 0, "worked drop: four 100 W modules side by side"},
		{"tinned_drop", list(25.74, 15, 10, 50), 1.683, 0, "worked drop: two 400 W modules side by side"},
		{"tinned_drop", list(10.37, 6, 2.5, 40), 1.102, 0, "worked drop: one 200 W module"},
		{"tinned_drop", list(12.87, 25, 4, 20), 3.275, 0, "worked drop: three 400 W modules in series"},
		{"tinned_drop", list(30, 2, 10, 20), 0.2340, 0, "worked drop: controller to battery, 10 mm²"},
		{"tinned_drop", list(30, 2, 4, 20), 0.6108, 0, "worked drop: controller to battery, 4 mm²"},
		{"tinned_drop", list(60, 1.5, 16, 20), 0.2232, 0, "worked drop: controller to 24 V battery"},
		{"tinned_drop", list(20, 3, 2.5, 20), 0.9852, 0, "worked drop: controller to battery, 2.5 mm²"},
		{"wire_for_drop", list(8, 6, 0.36), 6, 1e-9, "worked size: 3 % of 12 V"},
		{"wire_for_drop", list(10.76, 8, 0.558), 10, 1e-9, "worked size: 6 mm² drops 3.14 %, so 10"},
		{"wire_for_drop", list(12.87, 12, 0.622), 16, 1e-9, "worked size: 10 mm² drops 2.24 % hot, so 16"},
		{"wire_for_drop", list(0, 6, 0.36), 0.5, 1e-9, "no current: the smallest size"},
		{"longest_run", list(10, 2.5, 0.36, 40), 2.091, 0, "worked run: 10 A in 2.5 mm², 3 % of 12 V"},
		{"drop_pct", list(0.7962, 12), 6.635, 0, "worked drop in per cent"},
		{"drop_pct", list(0.4000, 24), 1.667, 0, "worked drop in per cent, 24 V"},
	})
}

func TestGaugeNumbers(t *testing.T) {
	area := map[float64]float64{18: 0.8231, 16: 1.309, 14: 2.081, 12: 3.309, 10: 5.261, 8: 8.366, 6: 13.30, 4: 21.15,
		3: 26.67, 2: 33.63, 1: 42.41, 0: 53.48, -1: 67.43, -2: 85.03, -3: 107.2}
	var rows []row
	for g, a := range area {
		rows = append(rows, row{"awg_mm2", list(g), a, 0, "ASTM B258"})
	}
	check(t, rows)
}

func TestWireAllow(t *testing.T) {
	var rows []row
	for _, c := range []struct {
		size    float64
		by60    float64
		by70    float64
		by105   float64
		comment string
	}{
		{0.75, 6, 10, 16, ""}, {1, 8, 14, 20, ""}, {1.5, 12, 18, 25, ""}, {2.5, 17, 25, 35, ""}, {4, 22, 35, 45, ""},
		{6, 29, 45, 60, ""}, {10, 40, 65, 90, ""}, {16, 54, 90, 130, ""}, {25, 71, 120, 170, ""}, {35, 87, 160, 210, ""},
		{50, 105, 210, 270, ""}, {70, 135, 265, 330, ""}, {95, 165, 310, 390, ""}, {120, 190, 360, 450, ""},
	} {
		for mark, a := range map[float64]float64{60: c.by60, 70: c.by70, 105: c.by105} {
			rows = append(rows, row{"wire_allow", list(c.size, mark, 30, "free", 1), a, 1e-9, "ISO 13297 craft table"})
		}
	}
	check(t, append(rows, []row{
		{"wire_temp_factor", list(50, 60), 0.577, 1e-3, "ambient factor"},
		{"wire_temp_factor", list(45, 70), 0.791, 1e-3, "ambient factor"},
		{"wire_temp_factor", list(10, 75), 1.20, 5e-3, "ambient factor"},
		{"wire_temp_factor", list(60, 90), 0.707, 1e-3, "ambient factor"},
		{"wire_temp_factor", list(85, 90), 0.289, 2e-3, "ambient factor"},
		{"wire_temp_factor", list(40, 105), 0.931, 1e-3, "ambient factor"},
		{"wire_temp_factor", list(95, 105), 0.365, 1e-3, "ambient factor"},
		{"wire_temp_factor", list(50, 80), 0.775, 1e-3, "engine space, sqrt((Tc - 50)/(Tc - 30))"},
		{"wire_temp_factor", list(50, 200), 0.939, 1e-3, "engine space, sqrt((Tc - 50)/(Tc - 30))"},
		{"bundle_factor", list(3), 0.70, 1e-9, "33 CFR 183.425"},
		{"bundle_factor", list(6), 0.60, 1e-9, "33 CFR 183.425"},
		{"bundle_factor", list(7), 0.50, 1e-9, "33 CFR 183.425"},
		{"bundle_factor", list(25), 0.40, 1e-9, "33 CFR 183.425"},
		{"coil_factor", list(1), 0.85, 1e-9, "BS 7671 note"},
		{"coil_factor", list(3), 0.45, 1e-9, "BS 7671 note"},
		{"wire_allow", list(50, 105, 50, "free", 1), 231.2, 0, "worked fuse check: 50 mm² at 50 °C"},
		{"wire_allow", list(50, 105, 20, "engine-space", 1), 231.2, 0, "an engine space counts as 50 °C at least"},
		{"wire_allow", list(6, 105, 30, "bundled", 6), 36, 1e-9, "six in a bundle"},
		{"wire_allow", list(4, 70, 30, "in-insulation", 1), 17.5, 1e-9, "halved in insulation"},
		{"wire_allow", list(4, 70, 30, "coiled", 3), 15.75, 1e-9, "three layers on a drum"},
		{"wire_allow", list(13.3, 105, 30, "free", 1), 90, 1e-9, "a size between two counts as the lower"},
		{"wire_allow", list(10, 75, 30, "free", 1), 65, 1e-9, "a mark between two counts as the lower"},
		{"wire_allow", list(10, 70, -10, "free", 1), 65, 1e-9, "cold adds nothing"},
		{"wire_for_amps", list(250, 105, 50, "free", 1), 70, 1e-9, "worked fuse check: 250 A at 50 °C needs 70 mm²"},
		{"wire_for_amps", list(250, 105, 30, "free", 1), 50, 1e-9, "worked fuse check: 250 A at 30 °C"},
		{"lug_allow", list(50, 30), 209, 1e-3, "75 °C lugs on 50 mm²"},
		{"lug_allow", list(50, 50), 156, 1e-3, "75 °C lugs on 50 mm²"},
		{"wire_temp", list(150, 200, 35, 90), 68.75, 0, "worked temperature: 35 mm² at 150 A"},
	}...))
}

// TestThickerIsNeverWorse walks all sizes in small steps across the table.
func TestThickerIsNeverWorse(t *testing.T) {
	for _, ohm := range []func(run, size, temp float64) (float64, error){WireOhm, TinnedOhm} {
		before := 1e9
		for size := 0.3; size < 200; size *= 1.001 {
			r, err := ohm(1, size, 20)
			if err != nil {
				t.Fatal(err)
			}
			if r > before {
				t.Fatalf("%s: %.6g Ω/m, more than the thinner wire's %.6g", fmt.Sprintf("%.4g mm²", size), r, before)
			}
			before = r
		}
	}
}

func TestWireRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"wire_ohm", list(1, 0, 20), "a wire"},
		{"wire_ohm", list(-1, 4, 20), "below zero"},
		{"wire_for_drop", list(200, 20, 0.36), "more than 120 mm²"},
		{"wire_for_drop", list(10, 5, 0), "volts allowed"},
		{"longest_run", list(0, 4, 0.36, 20), "current"},
		{"wire_allow", list(0.5, 70, 30, "free", 1), "a wire"},
		{"wire_allow", list(4, 70, 70, "free", 1), "leave nothing"},
		{"wire_allow", list(4, 70, 30, "floating", 1), "no such option"},
		{"wire_for_amps", list(900, 105, 30, "free", 1), "share it"},
	})
}
