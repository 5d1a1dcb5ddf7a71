package electric

import "testing"

func TestPVVectors(t *testing.T) {
	check(t, []row{
		{"pv_cold_volts", list(22.5, 2, -20), 51.08, 0, "n·Voc·1.135"},
		{"pv_cold_volts", list(22.5, 1, 25), 22.5, 1e-9, "label temperature"},
		{"pv_cold_volts_beta", list(22.5, 4, -20, -0.32), 102.96, 0, "four 36-cell modules at -20 °C"},
		{"pv_cold_volts_beta", list(22.5, 3, -20, -0.32), 77.22, 0, "three 36-cell modules at -20 °C"},
		{"pv_cold_volts_beta", list(37.1, 2, -20, -0.28), 83.55, 0, "two 400 W modules at -20 °C"},
		{"pv_cold_volts_beta", list(37.1, 3, -20, -0.28), 125.3, 0, "three 400 W modules at -20 °C"},
		{"pv_cold_volts_beta", list(46.2, 2, -20, -0.33), 106.1, 0, "two 72-cell modules at -20 °C"},
		{"pv_cold_volts_beta", list(46.2, 1, -10, -0.33), 51.54, 0, "one 72-cell module at -10 °C"},
		{"pv_cold_volts_code", list(100, 1, 22), 102, 1e-9, "NEC 690.7(A)"},
		{"pv_cold_volts_code", list(100, 1, 0), 110, 1e-9, "NEC 690.7(A)"},
		{"pv_cold_volts_code", list(100, 1, -1), 112, 1e-9, "NEC 690.7(A)"},
		{"pv_cold_volts_code", list(100, 1, -18), 118, 1e-9, "NEC 690.7(A)"},
		{"pv_cold_volts_code", list(100, 1, -40), 125, 1e-9, "NEC 690.7(A)"},
		{"pv_open_expect", list(23.0, 1, 0), 24.54, 5e-3, "200 W module at 800 W/m²"},
		{"pv_open_expect", list(23.0, 1, 15), 23.50, 5e-3, "200 W module at 800 W/m²"},
		{"pv_open_expect", list(23.0, 1, 30), 22.46, 5e-3, "200 W module at 800 W/m²"},
		{"pv_open_expect", list(23.0, 1, 45), 21.41, 5e-3, "200 W module at 800 W/m²"},
		{"pv_open_expect", list(23.0, 1, 60), 20.36, 5e-3, "200 W module at 800 W/m²"},
		{"pv_open_expect", list(22.5, 1, 45), 20.85, 0.01, "36-cell module at 800 W/m²"},
		{"pv_open_expect", list(37.1, 2, 45), 69.4, 0.01, "two 400 W modules at 800 W/m²"},
		{"pv_open_at", list(22.5, 1, 25, 200), 22.5 * 0.937, 3e-3, "volts against light, 36 cells"},
		{"pv_open_at", list(22.5, 1, 25, 400), 22.5 * 0.964, 2e-3, "volts against light, 36 cells"},
		{"pv_open_at", list(37.1, 1, 25, 200), 37.1 * 0.941, 4e-3, "volts against light, 54 cells"},
		{"pv_open_at", list(37.1, 1, 25, 100), 37.1 * 0.916, 7e-3, "volts against light, 54 cells"},
		{"pv_open_at", list(37.1, 1, 25, 1200), 37.1 * 1.007, 2e-3, "volts against light, 54 cells"},
		{"pv_expect_amps", list(5.75, 2, 0.8), 9.2, 1e-9, "two strings in 800 W/m²"},
		{"pv_expect_amps", list(13.75, 1, 0.2), 2.7528, 5e-3, "400 W module in 200 W/m²"},
		{"array_watts", list(22.5, 5.75, 1, 1), 100, 0.03, "100 W module"},
		{"array_watts", list(37.1, 13.75, 2, 1), 800, 0.03, "two 400 W modules"},
		{"array_watts", list(46.2, 9.30, 1, 1), 330, 0.03, "330 W module"},
		{"start_margin", list(32.76, 28.0), -0.24, 1e-6, "60-cell class on 24 V, hot: does not restart"},
		{"start_margin", list(37.67, 27), 5.67, 1e-6, "the same on a cold morning"},
		{"run_margin", list(53.5, 57.6), -5.1, 1e-6, "two 400 W modules on 48 V, hot"},
		{"controller_amps", list(598.64, 13.2), 43.54, 1e-3, "two 400 W modules at 800 W/m²"},
	})
}

// TestPWMLoss: the table of what pulse-width charging keeps, to 3 points.
func TestPWMLoss(t *testing.T) {
	for _, c := range []struct {
		id                  string
		voc, battery, keeps float64
	}{
		{"36 cells", 22.5, 12.5, 77}, {"36 cells", 22.5, 13.5, 84}, {"36 cells", 22.5, 14.4, 89},
		{"36 half-cut", 23.0, 12.5, 74}, {"36 half-cut", 23.0, 13.5, 80}, {"36 half-cut", 23.0, 14.4, 85},
		{"54 cells", 37.1, 12.5, 46}, {"54 cells", 37.1, 13.5, 50}, {"54 cells", 37.1, 14.4, 53},
		{"60 cells", 38.3, 12.5, 46}, {"60 cells", 38.3, 13.5, 50}, {"60 cells", 38.3, 14.4, 53},
		{"72 cells", 46.2, 12.5, 38}, {"72 cells", 46.2, 13.5, 41}, {"72 cells", 46.2, 14.4, 44},
		{"72 cells", 46.2, 27.6, 84}, {"72 cells", 46.2, 28.8, 88},
	} {
		loss, err := PWMLoss(c.voc, c.battery)
		if err != nil {
			t.Errorf("%s at %g V: %v", c.id, c.battery, err)
			continue
		}
		if d := 100 - loss - c.keeps; d < -3 || d > 3 {
			t.Errorf("%s at %g V keeps %.1f %%, the table says %g", c.id, c.battery, 100-loss, c.keeps)
		}
	}
}

func TestSunVectors(t *testing.T) {
	var rows []row
	for _, c := range []struct{ shadow, facing, flat float64 }{
		{5.67, 0, 136}, {3.73, 0, 226}, {2.747, 714, 316}, {1.732, 842, 488}, {1.192, 920, 644}, {1.00, 948, 714}, {0.577, 1005, 888}, {0, 1042, 1035},
	} {
		rows = append(rows, row{"sun_flat", list(1, c.shadow), c.flat, 5e-3, "shadow table, flat"})
		if c.facing > 0 {
			rows = append(rows, row{"sun_facing", list(1, c.shadow), c.facing, 5e-3, "shadow table, facing the sun"})
		}
	}
	check(t, append(rows, []row{
		{"sun_from_short", list(4.10, 5.75, 40), 708, 1e-3, "worked sun from a module"},
		{"cell_temp", list(20, 800, 45), 45.0, 1e-9, "worked cell temperature"},
		{"cell_temp", list(25, 1000, 45), 56.25, 1e-9, "worked cell temperature"},
		{"cell_temp", list(35, 1000, 45), 66.25, 1e-9, "worked cell temperature"},
		{"cell_temp", list(5, 600, 45), 23.75, 1e-9, "worked cell temperature"},
		{"cell_temp", list(-10, 900, 45), 18.125, 1e-9, "worked cell temperature"},
		{"cell_temp", list(30, 900, 57), 71.625, 1e-9, "worked cell temperature"},
		{"string_back_amps", list(4, 9.85), 36.94, 0, "four strings: above 20 A, so each needs a fuse"},
		{"string_back_amps", list(3, 9.25), 23.1, 2e-3, "three 270 W strings: above 20 A"},
		{"string_back_amps", list(1, 9.25), 0, 1e-9, "one string feeds nothing back"},
		{"pv_fuse", list(9.85), 16, 1e-9, "1.56·Isc = 15.37"},
		{"pv_fuse", list(5.75), 10, 1e-9, "100 W module"},
		{"pv_fuse", list(13.75), 25, 1e-9, "400 W module"},
		{"pv_fuse", list(11.05), 20, 1e-9, "200 W module"},
		{"leak_ohm", list(40, 20, 83.2, 10e6), 3.87e6, 2e-3, "worked leak"},
		{"leak_ohm", list(41.5, 0, 41.6, 10e6), 0.024e6, 5e-3, "worked leak at the minus end"},
		{"leak_ohm", list(34.5, 34.4, 69.4, 10e6), 0.073e6, 1e-2, "worked leak in the middle"},
	}...))
}

func TestPVRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"pv_cold_volts", list(22.5, 2, 40), "coldest morning"},
		{"pv_cold_volts", list(0, 2, -10), "open volts"},
		{"pv_cold_volts_beta", list(22.5, 2, -10, 0.3), "change of volts"},
		{"pwm_loss", list(22.5, 27.6), "best point"},
		{"sun_facing", list(1, 6), "shadow"},
		{"pv_fuse", list(25), "largest is 32 A"},
		{"leak_ohm", list(40, 40, 60, 10e6), "read them again"},
	})
}
