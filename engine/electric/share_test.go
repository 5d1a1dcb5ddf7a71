package electric

import (
	"fmt"
	"math"
	"testing"
)

// TestShareTable: shares in per cent of batteries wired from one end and with a
// diagonal take-off, by link over battery.
func TestShareTable(t *testing.T) {
	for _, c := range []struct {
		link     float64
		two      []float64
		three    []float64
		four     []float64
		six      [2]float64
		diagonal [2]float64
	}{
		{0.02, []float64{50.50, 49.50}, []float64{34.42, 33.11, 32.46}, []float64{26.70, 25.23, 24.27, 23.80}, [2]float64{19.55, 14.87}, [2]float64{25.25, 24.75}},
		{0.05, []float64{51.22, 48.78}, []float64{35.99, 32.79, 31.23}, []float64{29.07, 25.53, 23.26, 22.15}, [2]float64{23.32, 12.67}, [2]float64{25.61, 24.39}},
		{0.065, []float64{51.57, 48.43}, []float64{36.74, 32.63, 30.64}, []float64{30.19, 25.65, 22.78, 21.39}, [2]float64{25.00, 11.73}, [2]float64{25.79, 24.21}},
		{0.10, []float64{52.38, 47.62}, []float64{38.42, 32.26, 29.33}, []float64{32.62, 25.88, 21.73, 19.76}, [2]float64{28.51, 9.90}, [2]float64{26.19, 23.81}},
		{0.15, []float64{53.49, 46.51}, []float64{40.65, 31.75, 27.61}, []float64{35.75, 26.12, 20.40, 17.74}, [2]float64{32.74, 7.91}, [2]float64{26.74, 23.26}},
		{0.30, []float64{56.52, 43.48}, []float64{46.39, 30.30, 23.31}, []float64{43.31, 26.30, 17.18, 13.22}, [2]float64{41.96, 4.43}, [2]float64{28.26, 21.74}},
	} {
		for _, want := range [][]float64{c.two, c.three, c.four} {
			got, err := SharesFromEnd(len(want), c.link)
			if err != nil {
				t.Fatal(err)
			}
			for k := range want {
				near(t, fmt.Sprintf("%d from one end, link %g, battery %d", len(want), c.link, k+1), 100*got[k], want[k], 0.0051)
			}
		}
		six, _ := SharesFromEnd(6, c.link)
		near(t, fmt.Sprintf("six, link %g, first", c.link), 100*six[0], c.six[0], 0.0051)
		near(t, fmt.Sprintf("six, link %g, last", c.link), 100*six[5], c.six[1], 0.0051)
		diagonal, _ := SharesDiagonal(4, c.link)
		for k, want := range []float64{c.diagonal[0], c.diagonal[1], c.diagonal[1], c.diagonal[0]} {
			near(t, fmt.Sprintf("diagonal, link %g, battery %d", c.link, k+1), 100*diagonal[k], want, 0.0051)
		}
	}
}

// TestSharesAreALadder: the closed forms agree with the rule of the ladder, sum to
// one, and share_first.
func TestSharesAreALadder(t *testing.T) {
	for _, n := range []int{1, 2, 3, 5, 8, 20, 50} {
		for _, link := range []float64{0, 0.01, 0.3, 2, 50, 1000} {
			for what, list := range map[string]func(int, float64) ([]float64, error){"end": SharesFromEnd, "diagonal": SharesDiagonal} {
				i, err := list(n, link)
				if err != nil {
					t.Fatal(err)
				}
				sum := 0.0
				for k := range i {
					sum += i[k]
				}
				near(t, fmt.Sprintf("%s of %d, link %g, sum", what, n, link), sum, 1, 1e-12)
				before := 0.0
				for k := 0; k+1 < n; k++ {
					before += i[k]
					want := link * (1 - before) // behind it
					if what == "diagonal" {
						want = link / 2 * (1 - 2*before)
					}
					near(t, fmt.Sprintf("%s of %d, link %g, step %d", what, n, link, k+1), i[k]-i[k+1], want, 1e-9*(1+link))
				}
				if what == "end" {
					first, err := ShareFirst(float64(n), link)
					if err != nil {
						t.Fatal(err)
					}
					near(t, fmt.Sprintf("share_first of %d, link %g", n, link), first, i[0], 1e-9)
				}
			}
		}
	}
}

func TestBankVectors(t *testing.T) {
	check(t, []row{
		{"share_at", list(4, 1, 0.15), 0.3575, 0, "four from one end"},
		{"share_at", list(4, 2, 0.15), 0.2612, 0, "four from one end"},
		{"share_at", list(4, 3, 0.15), 0.2040, 0, "four from one end"},
		{"share_at", list(4, 4, 0.15), 0.1774, 0, "four from one end"},
		{"share_diagonal_at", list(4, 1, 0.15), 0.2674, 0, "four diagonal"},
		{"share_diagonal_at", list(4, 3, 0.15), 0.2326, 0, "four diagonal"},
		{"share_diagonal_at", list(2, 2, 0.3), 0.5, 1e-9, "two diagonal are equal"},
		{"bank_amps_at_trip", list(100, 0.3019), 331, 1e-3, "four from one end, link 0.065"},
		{"shares_uneven", list(60.4, 42.8, 50), 0, 1e-9, "1.21 times the mean: at the next service"},
		{"shares_uneven", list(65, 40, 50), 1, 1e-9, "1.3 times the mean"},
		{"shares_uneven", list(55, 35, 50), 1, 1e-9, "0.7 of the mean"},
		{"join_moves", list(100, 90, 10), 40, 1e-9, "lithium 90 % beside 10 %"},
		{"block_spread", list(14.90, 13.50), 4.93, 1e-3, "two 12 V blocks in absorption"},
		{"block_spread", list(14.688, 14.112), 2, 1e-4, "2 % of 28.8 V"},
		{"block_high", list(28.8, 2), 14.69, 0, "2 % of 28.8 V"},
		{"block_volts_most", list("lfp", "absorption", 28.8), 0.3, 1e-9, "lithium in absorption"},
		{"block_volts_most", list("agm", "rest-full", 25.4), 0.3, 1e-9, "lead at rest"},
		{"block_volts_most", list("agm", "absorption", 28.8), 0.576, 1e-9, "2 % of 28.8 V"},
		{"block_volts_most", list("flooded", "absorption", 58.4), 0.584, 1e-9, "1 % of a 48 V string"},
		{"runner_volts", list(4, 3.42, 3.75), 14.01, 1e-9, "runner cell, 3.75 V trip"},
		{"runner_volts", list(4, 3.40, 3.65), 13.85, 1e-9, "runner cell, 3.65 V trip"},
		{"runner_volts", list(8, 3.42, 3.75), 27.69, 1e-9, "runner of eight"},
		{"runner_volts", list(16, 3.42, 3.75), 55.05, 1e-9, "runner of sixteen"},
		{"runner_volts", list(4, 3.20, 2.50), 12.10, 1e-9, "weak cell"},
		{"runner_volts", list(8, 3.20, 2.50), 24.90, 1e-9, "weak cell of eight"},
		{"runner_volts", list(16, 3.20, 2.50), 50.50, 1e-9, "weak cell of sixteen"},
		{"balance_hours", list(2, 100, 0.05), 40, 1e-9, "passive balancer"},
		{"balance_hours", list(2, 200, 0.10), 40, 1e-9, "passive balancer"},
		{"balance_hours", list(5, 280, 1), 14, 1e-9, "active balancer"},
		{"join_amps", list(0.42, 0.007, 0.007, 0.0006), 28.77, 0, "lithium 13.48 beside 13.06 V"},
		{"join_amps", list(0.55, 0.007, 0.007, 0.0006), 37.67, 0, "lithium 13.36 beside 12.81 V"},
		{"join_amps", list(1.02, 0.010, 0.010, 0.0006), 49.51, 0, "24 V lithium"},
		{"join_amps", list(0.75, 0.0049, 0.0049, 0.001), 69.44, 0, "AGM 12.85 beside 12.10 V"},
		{"join_amps", list(2.10, 0.005, 0.005, 0.001), 190.9, 0, "a block with a shorted cell"},
	})
}

func TestMonitorVectors(t *testing.T) {
	check(t, []row{
		{"peukert_k", list(20, 5.2, 1, 65.1), 1.185, 0, "AGM sheet, 20 h and 1 h"},
		{"peukert_k", list(20, 5.2, 5, 17.6), 1.137, 0, "AGM sheet, 20 h and 5 h"},
		{"tail_hours", list(40, 20, 2), 5.117, 0, "taper of 200 Ah AGM from 20 A"},
		{"tail_hours", list(40, 40, 2), 3.153, 0, "taper of 200 Ah AGM from 40 A"},
		{"charge_efficiency", list(88, 100), 88, 1e-9, "between two full charges"},
		{"full_volts", list(14.2, 12), 14.0, 1e-9, "200 Ah lithium"},
		{"full_volts", list(28.4, 24), 28.0, 1e-9, "24 V"},
		{"full_volts", list(56.8, 48), 56.0, 1e-9, "48 V"},
		{"full_set_right", list(14.0, 14.2, 13.5, 8, 5, 12), 1, 1e-9, "200 Ah lithium, 4 %"},
		{"full_set_right", list(14.4, 14.2, 13.5, 8, 5, 12), 0, 1e-9, "charged volts above absorption"},
		{"full_set_right", list(14.0, 14.2, 13.5, 4, 5, 12), 0, 1e-9, "the charger leaves at 5 A"},
		{"full_set_right", list(13.55, 14.2, 13.5, 8, 5, 12), 0, 1e-9, "no more than float"},
		{"full_too_early", list(13.2, 8, 13.24, 6, 0.005), 1, 1e-9, "13.2 V left on lithium at 60 %"},
		{"full_too_early", list(14.0, 8, 13.24, 6, 0.005), 0, 1e-9, "14.0 V set"},
		{"comp_volts", list(14.4, -0.030, 5), 15.00, 1e-9, "compensation"},
		{"comp_volts", list(28.8, -0.060, 40), 27.90, 1e-9, "compensation"},
		{"comp_volts", list(14.4, -0.030, -10), 15.45, 1e-9, "AGM at -10 °C"},
		{"comp_volts", list(14.4, -0.030, 35), 14.10, 1e-9, "AGM at 35 °C"},
		{"comp_volts", list(13.6, -0.018, 0), 14.05, 1e-9, "AGM float at 0 °C"},
		{"comp_volts", list(13.6, -0.018, 40), 13.33, 1e-9, "AGM float at 40 °C"},
		{"comp_volts", list(14.6, -0.030, 0), 15.35, 1e-9, "flooded at 0 °C"},
		{"comp_volts", list(14.2, -0.030, 40), 13.75, 1e-9, "gel at 40 °C"},
		{"comp_volts", list(14.4, -0.030, 45), 13.80, 1e-9, "compensation left on lithium in heat"},
		{"cca_ohm", list(600), 0.009, 1e-9, "600 A"},
		{"load_test_volts", list(21), 9.6, 1e-9, "test table"}, {"load_test_volts", list(16), 9.5, 1e-9, "test table"},
		{"load_test_volts", list(10), 9.4, 1e-9, "test table"}, {"load_test_volts", list(4), 9.3, 1e-9, "test table"},
		{"load_test_volts", list(-1), 9.1, 1e-9, "test table"}, {"load_test_volts", list(-7), 8.9, 1e-9, "test table"},
		{"load_test_volts", list(-12), 8.7, 1e-9, "test table"}, {"load_test_volts", list(-18), 8.5, 1e-9, "test table"},
		{"shunt_watts", list("100A-75mV", 100), 7.5, 1e-9, "at its rating"},
		{"shunt_watts", list("100A-75mV", 200), 30, 1e-9, "at twice its rating"},
		{"hydrogen_flow", list(20, 6), 0.0547, 1e-3, "at 25 °C"},
		{"hydrogen_flow", list(10, 6), 0.02 / 0.731, 1e-3, "4 % of half a cubic metre in 0.731 h"},
	})
}

func TestLoadVectors(t *testing.T) {
	rows := []row{
		{"load_wh", list(45, 14, 0.40, 1), 252.0, 1e-9, "worked night: fridge"},
		{"load_wh", list(12, 4, 1, 1), 48, 1e-9, "worked night: lights"},
		{"load_wh", list(15, 14, 1, 1), 210, 1e-9, "worked night: idle inverter"},
		{"load_wh", list(8, 14, 1, 0.85), 131.8, 0, "worked night: router"},
		{"energy_ah", list(651.2, 12.4), 52.52, 0, "worked night"},
		{"energy_ah", list(523.9, 12.4), 42.25, 0, "worked night after the cure"},
		{"energy_ah", list(263.6, 13.1), 20.12, 0, "lithium deficit at 13.1 V"},
		{"dawn_pct", list(80, 52.52, 100), 27.48, 0, "worked night"},
		{"dawn_pct", list(80, 42.25, 100), 37.75, 0, "worked night after the cure"},
		{"day_balance", list(588, 180, 651.2, 0.80), -324.8, 0, "worked day, AGM"},
		{"day_balance", list(588, 180, 651.2, 0.95), -263.6, 0, "worked day, lithium"},
		{"stand_hours", list(160, 1.35), 4.938 * 24, 0, "worked closed hut"},
		{"stand_hours", list(50, 0.02), 104.2 * 24, 0, "standing draw of 20 mA"},
		{"stand_hours", list(50, 0.05), 41.67 * 24, 0, "standing draw of 50 mA"},
		{"stand_hours", list(50, 1), 2.083 * 24, 0, "standing draw of 1 A"},
		{"start_amps", list(120, 6, 12.5, 0.88), 65.45, 0, "fridge compressor"},
		{"start_amps", list(500, 5, 12.5, 0.88), 227.3, 0, "pump"},
		{"start_amps", list(750, 6, 25.0, 0.90), 200.0, 0, "24 V pump"},
		{"start_va", list(120, 6, 1), 720, 1e-9, "fridge compressor"},
		{"start_va", list(500, 5, 0.6), 4167, 0, "pump, power factor 0.6"},
		{"end_of_run_volts", list(12.2, 5, 6, 2.5, 20), 11.72, 0, "fridge on 2.5 mm²"},
		{"end_of_run_volts", list(12.2, 5, 6, 6, 20), 12.00, 0, "fridge on 6 mm²"},
		{"end_of_run_volts", list(12.4, 8, 8, 4, 20), 11.77, 0, "pump on 4 mm²"},
		{"cutout_post_volts", list(10.4, 5, 0.30), 11.90, 1e-9, "fridge behind 0.3 ohm"},
		{"cuts_out", list(11.8, 5, 0.30, 10.4), 1, 1e-9, "fridge behind 0.3 ohm"},
		{"cuts_out", list(12.0, 5, 0.30, 10.4), 0, 1e-9, "fridge behind 0.3 ohm"},
		{"hunts", list(5, 0.30, 1.3), 1, 1e-9, "260 mohm is the edge"},
		{"hunts", list(5, 0.25, 1.3), 0, 1e-9, "260 mohm is the edge"},
		{"hunts", list(33, 0.022, 0.7), 1, 1e-9, "DC-DC: 21.2 mohm is the edge"},
		{"converter_amps", list(14.4, 30, 13.0, 0.9), 37, 3e-3, "DC-DC at 13.0 V"},
		{"converter_amps", list(14.4, 30, 12.0, 0.9), 40, 1e-9, "DC-DC at 12.0 V"},
		{"converter_amps", list(13.2, 20, 21, 0.9), 14.0, 3e-3, "24 to 12 V converter"},
		{"charger_va", list(14.4, 30, 1), 508, 1e-3, "30 A charger, watts"},
		{"charger_va", list(14.4, 30, 0.6), 847, 1e-3, "30 A charger on a generator"},
		{"dc_amps", list(12, 12.2, 0.85), 1.157, 0, "USB supply"},
	}
	for v, pct := range map[float64]float64{14.4: 214.3, 13.6: 176.2, 13.2: 157.1, 12.8: 138.1, 12.2: 109.5, 11.5: 76.19, 11.0: 52.38, 10.5: 28.57} {
		rows = append(rows, row{"strip_pct", list(v), pct, 0, "plain light strip"})
	}
	check(t, rows)
}

// TestBudget: the worked night of a 12 V AGM hut, and the same with sun.
func TestBudget(t *testing.T) {
	b := Budget{
		Night: []Load{{"fridge", 45, 14, 0.40, 1}, {"lights", 12, 4, 1, 1}, {"pump", 6, 1, 1, 1}, {"idle inverter", 15, 14, 1, 1}, {"router", 8, 14, 1, 0.85}, {"standby", 0.248, 14, 1, 1}},
		Day:   []Load{{"fridge and rest", 180, 1, 1, 1}},
		Sun:   588, Eta: 0.80,
	}
	night, day, err := b.Sums()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "night", night, 651.2, 0.1)
	near(t, "day", day, 180, 1e-9)
	gain, err := b.Balance()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "gain of the day", gain, -324.8, 0.1)
	b.Night[0].Duty = 2
	if _, err := b.Balance(); err == nil {
		t.Error("a duty of 2 was taken")
	}
}

// TestDayBalanceTurns: by day a shortfall of sun counts whole, a surplus by eta.
func TestDayBalanceTurns(t *testing.T) {
	for _, c := range []struct{ sun, day, want float64 }{{200, 300, -100}, {300, 300, 0}, {400, 300, 80}} {
		y, err := DayBalance(c.sun, c.day, 0, 0.8)
		if err != nil || math.Abs(y-c.want) > 1e-9 {
			t.Errorf("sun %g, day %g: %g, %v, want %g", c.sun, c.day, y, err, c.want)
		}
	}
}

func TestBankRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"share_at", list(2.5, 1, 0.1), "whole numbers"},
		{"share_at", list(3, 4, 0.1), "place of the battery"},
		{"share_diagonal_at", list(3, 1.5, 0.1), "whole numbers"},
		{"block_volts_most", list("lfp", "rest-full", 26), "compare them in absorption"},
		{"dawn_pct", list(50, 60, 100), "empty after 50 Ah"},
		{"peukert_k", list(20, 5, 19, 5), "different currents"},
		{"peukert_k", list(20, 5, 10, 50), "exponent"},
		{"tail_hours", list(40, 2, 2), "current at the start"},
		{"end_of_run_volts", list(12, 500, 20, 0.75, 50), "wire alone"},
		{"strip_pct", list(9), "light strip"},
		{"comp_volts", list(14.4, 0.03, 5), "compensation"},
	})
}
