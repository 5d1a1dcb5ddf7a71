package electric

import "testing"

func TestJointVectors(t *testing.T) {
	check(t, []row{
		{"at_full_load", list(0.0252, 140, 220), 0.0396, 1e-6, "U·I_full/I"},
		{"spot_temp", list(0.010, 20), 21.7, 2e-3, "contact law, metal at 20 °C"},
		{"spot_temp", list(0.030, 20), 35.3, 2e-3, "contact law, metal at 20 °C"},
		{"spot_temp", list(0.050, 20), 60.8, 2e-3, "contact law, metal at 20 °C"},
		{"spot_temp", list(0.070, 20), 95.8, 2e-3, "tin softens"},
		{"spot_temp", list(0.100, 20), 161, 2e-3, "contact law, metal at 20 °C"},
		{"spot_temp", list(0.112, 20), 190, 3e-3, "copper softens"},
		{"spot_temp", list(0.128, 20), 230.6, 1e-3, "tin melts at 128.6 mV"},
		{"spot_temp", list(0.200, 20), 431, 2e-3, "contact law, metal at 20 °C"},
		{"spot_temp", list(0.414, 20), 1085, 2e-3, "copper melts"},
		{"spot_temp", list(0.010, 60), 61.5, 1e-3, "contact law, metal at 60 °C"},
		{"spot_temp", list(0.030, 60), 73.6, 2e-3, "contact law, metal at 60 °C"},
		{"spot_temp", list(0.050, 60), 96.5, 2e-3, "contact law, metal at 60 °C"},
		{"spot_temp", list(0.070, 60), 128, 3e-3, "contact law, metal at 60 °C"},
		{"spot_temp", list(0.100, 60), 189, 3e-3, "contact law, metal at 60 °C"},
		{"spot_temp", list(0.200, 60), 449, 2e-3, "contact law, metal at 60 °C"},
		{"spot_temp", list(0.010, 25), 26.713, 0, "contact law, metal at 25 °C"},
		{"spot_temp", list(0.030, 25), 40.08, 0, "contact law, metal at 25 °C"},
		{"spot_temp", list(0.100, 25), 164.3, 0, "contact law, metal at 25 °C"},
		{"spot_temp", list(0.120, 25), 213.1, 0, "contact law, metal at 25 °C"},
		{"spot_temp", list(0.050, 40), 78.53, 0, "contact law, metal at 40 °C"},
		{"spot_temp", list(0.100, 40), 174.6, 0, "contact law, metal at 40 °C"},
		{"joint_rise", list(0.0252, 140, 35, "two-cables"), 21.87, 0, "worked lug: 0.18 mΩ at 140 A"},
		{"joint_rth", list(50, "one-cable-boxed"), 13.65, 1e-6, "closed box, half as much again"},
		{"cable_own_rise", list(30, 100), 6.75, 1e-6, "own rise of a loaded cable"},
		{"cable_own_rise", list(50, 100), 18.75, 1e-6, "own rise of a loaded cable"},
		{"cable_own_rise", list(70, 100), 36.75, 1e-6, "own rise of a loaded cable"},
		{"cable_own_rise", list(100, 100), 75, 1e-6, "own rise of a loaded cable"},
		{"pvc_own_rise", list(80, 100), 25.6, 1e-6, "own rise of 70 °C wire"},
		{"rise_at_full", list(9.0, 45, 110), 53.78, 0, "worked rise, square law"},
		{"rise_at_full", list(21.87, 140, 220), 54.01, 0, "worked lug at 220 A, square law"},
		{"rise_at_full", list(12, 80, 100), 18.75, 0, "worked rise, square law"},
		{"rise_at_full", list(9, 60, 120), 36.00, 0, "worked rise, square law"},
		{"rise_at_full", list(25, 150, 200), 44.44, 0, "worked rise, square law"},
		{"rise_at_full", list(6, 45, 60), 10.67, 0, "worked rise, square law"},
		{"rise_at_full", list(5.5, 120, 150), 8.594, 0, "stress log, plus post"},
		{"rise_at_full", list(11.0, 120, 150), 17.19, 0, "stress log, fuse in"},
		{"rise_at_full", list(30.0, 120, 150), 46.88, 0, "stress log, isolator out"},
		{"rise_at_full", list(7.5, 120, 150), 11.72, 0, "stress log, after the remake"},
		{"at_full_load", list(0.009, 120, 150), 0.01125, 1e-6, "stress log, fuse in: 11.3 mV"},
		{"at_full_load", list(0.031, 120, 150), 0.03875, 1e-6, "stress log, isolator out: 38.8 mV"},
		{"joint_temp", list(25, 19, 22), 66, 1e-9, "air + own rise + excess"},
		{"joint_band", list(0.004, 3), 0, 1e-9, "good"},
		{"joint_band", list(0.004, 5), 1, 1e-9, "warm"},
		{"joint_band", list(0.010, 3), 1, 1e-9, "5 to 15 mV"},
		{"joint_band", list(0.020, 3), 2, 1e-9, "above 15 mV"},
		{"joint_band", list(0.004, 20), 2, 1e-9, "above 15 K"},
		{"joint_band", list(0.070, 3), 3, 1e-9, "70 mV and up"},
	})
}

func TestJointRth(t *testing.T) {
	var rows []row
	for _, c := range []struct{ size, one, two float64 }{
		{1.5, 94, 50}, {2.5, 70, 37}, {4, 52, 27}, {6, 40, 21}, {10, 28, 15}, {16, 20, 11},
		{25, 15, 7.7}, {35, 12, 6.2}, {50, 9.1, 4.9}, {70, 7.3, 3.9}, {95, 5.9, 3.1}, {120, 5.0, 2.7},
	} {
		rows = append(rows,
			row{"joint_rth", list(c.size, "one-cable"), c.one, 1e-9, "fin table"},
			row{"joint_rth", list(c.size, "two-cables"), c.two, 1e-9, "fin table"})
	}
	check(t, rows)
}

// TestInfrared: a gun set to 0.95, surroundings 25 °C.
func TestInfrared(t *testing.T) {
	var rows []row
	for e, shown := range map[float64][4]float64{
		0.05: {26.5, 27.9, 29.6, 32.6}, 0.1: {27.9, 30.8, 34.0, 39.7}, 0.3: {33.6, 41.4, 50.0, 64.2},
		0.6: {41.5, 55.5, 70.2, 93.1}, 0.9: {48.8, 68.0, 87.4, 116.5},
	} {
		for i, true1 := range []float64{50, 70, 90, 120} {
			rows = append(rows, row{"infrared_shown", list(true1, 25, e), shown[i], 2e-3, "radiation law"})
		}
	}
	check(t, append(rows, []row{
		{"infrared_shown", list(80, 25, 0.05), 28.73, 0, "worked gun reading"},
		{"infrared_shown", list(80, 25, 0.10), 32.32, 0, "worked gun reading"},
		{"infrared_shown", list(80, 25, 0.30), 45.57, 0, "worked gun reading"},
		{"infrared_shown", list(80, 25, 0.78), 71.96, 0, "worked gun reading"},
		{"infrared_shown", list(80, 25, 0.95), 80.00, 0, "worked gun reading"},
		{"infrared_shown", list(110, 25, 0.10), 37.72, 0, "worked gun reading"},
		{"infrared_true", list(32.32, 25, 0.10), 80, 1e-3, "the way back"},
		{"infrared_true", list(37.72, 25, 0.10), 110, 1e-3, "the way back"},
		{"infrared_true", list(60, 25, 0.95), 60, 1e-9, "tape reads true"},
	}...))
}

func TestTorques(t *testing.T) {
	check(t, []row{
		{"torque", list("M3.5"), 0.8, 1e-9, "IEC 60947-1"},
		{"torque", list("M4"), 1.2, 1e-9, "IEC 60947-1"},
		{"torque", list("M5"), 2.0, 1e-9, "IEC 60947-1"},
		{"torque", list("M6"), 2.5, 1e-9, "IEC 60947-1"},
		{"torque", list("M8"), 6.0, 1e-9, "IEC 60947-1"},
		{"torque", list("M10"), 10, 1e-9, "IEC 60947-1"},
		{"torque", list("M12"), 14, 1e-9, "IEC 60947-1"},
		{"torque_low", list("M8", "battery-insert"), 8, 1e-9, "makers' data"},
		{"torque_high", list("M8", "battery-insert"), 10.7, 1e-9, "makers' data"},
		{"torque_low", list("M10", "battery-stud"), 10.4, 1e-9, "makers' data"},
		{"torque_high", list("M10", "copper-bar"), 37.5, 1e-9, "steel bolt on copper bar"},
		{"torque_high", list("M8", "strip-fuse"), 9, 1e-9, "makers' data"},
	})
}

func TestJointRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"at_full_load", list(0.01, 0, 100), "current at the moment"},
		{"rise_at_full", list(5, 20, 100), "load it more"},
		{"spot_temp", list(0.6, 20), "contact voltage"},
		{"joint_rise", list(0.02, 10, 0.75, "one-cable"), "a wire"},
		{"infrared_true", list(40, 25, 1), "emissivity"},
		{"torque_low", list("M12", "battery-stud"), "take the maker's"},
	})
}
