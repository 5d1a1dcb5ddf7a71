package electric

import (
	"fmt"
	"testing"
)

func TestPVLimitVectors(t *testing.T) {
	rows := []row{
		{"pv_cold_fits", list(22.5, 4, -20, -0.32, 100), 0, 1e-9, "four 36-cell modules: 102.96 V"},
		{"pv_cold_fits", list(22.5, 3, -20, -0.32, 100), 1, 1e-9, "three: 77.22 V"},
		{"pv_cold_fits", list(37.1, 2, -20, -0.28, 100), 1, 1e-9, "two 400 W: 83.55 V"},
		{"pv_cold_fits", list(37.1, 3, -20, -0.28, 100), 0, 1e-9, "three 400 W: 125.3 V"},
		{"pv_cold_fits", list(37.1, 3, -20, -0.28, 150), 1, 1e-9, "three 400 W on 150 V"},
		{"pv_cold_fits", list(46.2, 2, -20, -0.33, 100), 0, 1e-9, "two 72-cell: 106.1 V, 92.4 by the label"},
		{"pv_cold_fits", list(46.2, 1, -10, -0.33, 50), 0, 1e-9, "one 72-cell on 50 V: 51.54 V"},
		{"pv_cold_margin", list(37.1, 2, -20, -0.28, 100), 100 - 83.549, 1e-3, "two 400 W"},
		{"clip_pct", list(598.62, 30, 13.2), 31, 5e-3, "two 400 W on 30 A"},
		{"clip_pct", list(299.31, 30, 13.2), 0, 1e-9, "one 400 W on 30 A"},
		{"pv_series_ohm", list(30.39, 20.88, 9.512), 1.0, 1e-3, "worked joint, 90.5 W in one spot"},
		{"pv_series_ohm", list(33.13, 24.0, 5.0), 1.83, 3e-3, "worked joint off the best point"},
		{"pv_series_ohm", list(16, 13, 5), 0.6, 1e-9, "panel high on a pulse-width controller"},
		{"pv_used_share", list(0.930), 0.75, 1e-9, "held right of the best point"},
		{"pv_used_share", list(0.997), 0.05, 1e-9, "held right of the best point"},
		{"string_fuse_needed", list(3, 9.25, 20), 1, 1e-9, "three 270 W: 23.1 > 20 A"},
		{"string_fuse_needed", list(4, 9.85, 20), 1, 1e-9, "36.94 > 20 A"},
		{"string_fuse_needed", list(2, 9.25, 20), 0, 1e-9, "two strings push 11.6 A"},
		{"string_fuse_needed", list(1, 9.25, 20), 0, 1e-9, "one string"},
		{"string_fuse_least", list(9.85), 15.37, 0, "worked window"},
		{"string_fuse_most", list(9.85, 20), 20, 1e-9, "worked window: module limit"},
		{"string_fuse_most", list(9.85, 30), 23.64, 0, "worked window: 2.4 times"},
		{"string_fuse_fits", list(16, 9.85, 20), 1, 1e-9, "worked window: 16 A"},
		{"string_fuse_fits", list(20, 9.85, 20), 1, 1e-9, "worked window: 20 A"},
		{"string_fuse_fits", list(15, 9.85, 20), 0, 1e-9, "below 15.37 A"},
		{"string_fuse_fits", list(25, 9.85, 30), 0, 1e-9, "above 2.4 times"},
		{"string_fuse_volts", list(37.1, 2), 89.04, 1e-9, "1.2 times open volts"},
		{"pv_day_wh", list(100, 4, 0.7), 280, 1e-9, "worked day"},
		{"pv_day_wh", list(200, 1, 0.65), 130, 1e-9, "worked day"},
		{"pv_day_wh", list(400, 5, 0.75), 1500, 1e-9, "worked day"},
		{"pv_day_wh", list(800, 2.5, 0.7), 1400, 1e-9, "worked day"},
		{"pv_day_wh", list(200, 4.2, 0.7), 588, 1e-9, "worked budget"},
		{"energy_ah", list(280, 12.8), 21.9, 2e-3, "worked day in Ah"},
		{"pv_watts_needed", list(651.2, 180, 4.2, 0.7, 0.80), 338.1, 0, "worked budget, AGM"},
		{"pv_watts_needed", list(651.2, 180, 4.2, 0.7, 0.95), 294.4, 0, "worked budget, lithium"},
		{"pv_watts_needed", list(523.9, 180, 4.2, 0.7, 0.80), 284.0, 0, "worked budget after the cure, AGM"},
		{"pv_watts_needed", list(523.9, 180, 4.2, 0.7, 0.95), 248.8, 0, "worked budget after the cure, lithium"},
	}
	for _, c := range []struct {
		amps float64
		at   [7]float64
	}{
		{10, [7]float64{120, 132, 144, 264, 288, 528, 576}}, {15, [7]float64{180, 198, 216, 396, 432, 792, 864}}, {20, [7]float64{240, 264, 288, 528, 576, 1056, 1152}},
		{30, [7]float64{360, 396, 432, 792, 864, 1584, 1728}}, {50, [7]float64{600, 660, 720, 1320, 1440, 2640, 2880}}, {60, [7]float64{720, 792, 864, 1584, 1728, 3168, 3456}},
	} {
		for i, vb := range []float64{12.0, 13.2, 14.4, 26.4, 28.8, 52.8, 57.6} {
			rows = append(rows, row{"clip_watts", list(c.amps, vb), c.at[i], 1e-9, "table of current limits"})
		}
	}
	for _, c := range []struct {
		label PVLabel
		most  [5]float64
	}{
		{a100, [5]float64{1, 2, 3, 5, 9}}, {b200, [5]float64{1, 2, 3, 5, 9}}, {c400, [5]float64{1, 1, 2, 3, 5}}, {d270, [5]float64{1, 1, 2, 3, 5}}, {e330, [5]float64{0, 1, 1, 2, 4}},
	} {
		for i, limit := range []float64{50, 75, 100, 150, 250} {
			rows = append(rows, row{"pv_series_most", list(c.label.Open, -20, c.label.Beta, limit), c.most[i], 1e-9, "most in series at -20 °C"})
		}
	}
	for _, c := range []struct {
		open, best float64
		least      [3]float64
	}{
		{19.605, 15.637, [3]float64{1, 2, 4}}, {20.225, 16.435, [3]float64{1, 2, 4}}, {32.921, 26.762, [3]float64{1, 2, 3}}, {33.219, 26.125, [3]float64{1, 2, 3}}, {40.070, 31.559, [3]float64{1, 1, 2}},
	} {
		for i, vb := range []float64{14.4, 28.8, 57.6} {
			rows = append(rows, row{"pv_series_least", list(c.open, c.best, vb), c.least[i], 1e-9, "fewest in series at 65 °C"})
		}
	}
	check(t, rows)
}

// TestHarvest: what the controller shows in fourteen situations, and which limit
// governs there.
func TestHarvest(t *testing.T) {
	for _, c := range []struct {
		id                                        string
		watts, clean, ohm, amps, limit, vb, takes float64
		ib                                        float64
		by                                        string
	}{
		{"one 400 W, 13.2 V, 30 A", 299.31, 1, 0, 10.346, 30, 13.2, 200, 21.77, "array"},
		{"two 400 W side by side, 30 A", 598.62, 1, 0, 20.69, 30, 13.2, 200, 30.00, "controller"},
		{"one 400 W, battery takes 3 A", 299.31, 1, 0, 10.346, 30, 14.4, 3, 3.00, "battery"},
		{"two in series, battery takes 1 A", 598.62, 1, 0, 10.346, 30, 27.2, 1, 1.00, "battery"},
		{"two in series, full sun, 26.4 V", 734.08, 1, 0, 12.932, 30, 26.4, 200, 26.69, "array"},
		{"three in series, 52.8 V, 20 A", 684.3, 1, 0, 7.759, 20, 52.8, 200, 12.44, "array"},
		{"one 100 W hot, 14.4 V", 84.59, 1, 0, 5.41, 15, 14.4, 200, 5.64, "array"},
		{"one 400 W soiled 15 %", 299.31, 0.8493, 0, 8.8, 30, 13.2, 200, 18.49, "array"},
		{"two 100 W, one string open", 74.09, 1, 0, 4.324, 30, 13.2, 200, 5.39, "array"},
		{"one 400 W overcast", 38.81, 1, 0, 1.288, 30, 13.2, 200, 2.82, "array"},
	} {
		t.Run(c.id, func(t *testing.T) {
			w, err := ExpectedHarvest(c.watts, c.clean, c.ohm, c.amps, c.limit, c.vb, c.takes)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "battery amps", w/c.vb, c.ib, 0.011)
			by, err := HarvestLimit(c.watts, c.clean, c.ohm, c.amps, c.limit, c.vb, c.takes)
			if err != nil {
				t.Fatal(err)
			}
			if by != c.by {
				t.Errorf("the %s governs, want the %s", by, c.by)
			}
			for i, name := range []string{"array_governs", "controller_governs", "battery_governs"} {
				y, err := byName(t, name).Do([]float64{c.watts * c.clean, c.limit, c.vb, c.takes})
				if err != nil {
					t.Fatal(err)
				}
				if (y > 0.5) != (harvestWords[i] == c.by) {
					t.Errorf("%s answers %g, want the %s", name, y, c.by)
				}
			}
		})
	}
}

// TestHeldBySeriesOhm: two 400 W modules with an ohm in the way, at the controller
// and at the leads of the modules.
func TestHeldBySeriesOhm(t *testing.T) {
	m := fitted(t, c400).In(800, 45)
	for _, c := range []struct{ ohm, volts, heat float64 }{{0, 28.93, 0}, {0.1, 28.01, 10.6}, {0.2, 27.10, 21.1}, {0.5, 24.51, 50.8}, {1, 20.88, 90.5}, {2, 17.95, 101}} {
		v, i := m.WithLead(c.ohm).Best()
		near(t, fmt.Sprintf("volts behind %g ohm", c.ohm), v, c.volts, 0.02)
		near(t, fmt.Sprintf("heat in %g ohm", c.ohm), i*i*c.ohm, c.heat, 0.4)
	}
	v, i := m.WithLead(0.5).Best() // 1 ohm over two in series
	near(t, "two in series, volts at the controller", 2*v, 49.01, 0.03)
	near(t, "two in series, amps", i, 10.079, 0.003)
	near(t, "two in series, volts at the leads", 2*v+i, 59.1, 0.05)
}

func TestPVLimitRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"pv_cold_fits", list(22.5, 2, 40, -0.3, 100), "coldest morning"},
		{"pv_series_ohm", list(20, 24, 5), "read both again"},
		{"pv_used_share", list(0.7), "volts over open volts"},
		{"pv_watts_needed", list(500, 100, 0, 0.7, 0.8), "sun hours"},
		{"string_fuse_needed", list(3, 50, 20), "short-circuit amps"},
	})
}
