package electric

import "testing"

func TestFuseVectors(t *testing.T) {
	check(t, []row{
		{"fuse_next", list(231.5), 250, 1e-9, "worked fuse: inverter of 2000 W"},
		{"fuse_next", list(264.5), 300, 1e-9, "worked fuse: 211.6 A at cut-off"},
		{"fuse_next", list(198.4), 200, 1e-9, "worked fuse: 158.7 A at cut-off"},
		{"fuse_next", list(161.8), 175, 1e-9, "worked fuse: 129.4 A at cut-off"},
		{"fuse_next", list(173.6), 175, 1e-9, "worked fuse: 138.9 A"},
		{"fuse_next", list(17.5), 20, 1e-9, "worked fuse: 24 to 12 V converter"},
		{"fuse_next", list(15), 15, 1e-9, "a rating that fits exactly"},
		{"fuse_next", list(0.2), 1, 1e-9, "the smallest rating"},
		{"fuse_for_load", list(42, 25), 60, 1e-9, "1.25·42 = 52.5"},
		{"fuse_for_load", list(8, 25), 10, 1e-9, "1.25·8 = 10"},
		{"fuse_for_load", list(8, 50), 15, 1e-9, "1.25·8/0.95 = 10.5"},
		{"fuse_for_load", list(185.2, 25), 250, 1e-9, "worked fuse: 231.5 A"},
		{"slow_fuse_for_load", list(30, 60), 50, 1e-9, "1.25·30/0.825 = 45.5"},
		{"fuse_temp_factor", list(0, "fast"), 1.05, 1e-9, "fuse in the cold"},
		{"fuse_temp_factor", list(40, "fast"), 0.97, 1e-9, "fuse derating"},
		{"fuse_temp_factor", list(60, "fast"), 0.93, 1e-9, "fuse derating"},
		{"fuse_temp_factor", list(85, "fast"), 0.88, 1e-9, "fuse derating"},
		{"fuse_temp_factor", list(0, "slow"), 1.12, 5e-3, "fuse in the cold"},
		{"fuse_temp_factor", list(40, "slow"), 0.92, 6e-3, "fuse derating"},
		{"fuse_temp_factor", list(60, "slow"), 0.82, 7e-3, "fuse derating"},
		{"fuse_temp_factor", list(85, "slow"), 0.70, 1e-9, "fuse derating"},
		{"fuse_load", list(24, 30, 25), 0.8, 1e-9, "four fifths"},
		{"fuse_load", list(24, 30, 75), 0.8 / 0.9, 1e-9, "hot holder"},
	})
}

// TestBladeChart: cold resistance as charted, and the drop at full rating within
// 8 % of the chart's hot column (40 A excepted: the model lies 17 % under it).
func TestBladeChart(t *testing.T) {
	var rows []row
	for _, c := range []struct{ amps, milli, hot float64 }{
		{1, 123, 176}, {2, 53.5, 141}, {3, 31.1, 137}, {5, 17.9, 128}, {7.5, 10.9, 116}, {10, 7.7, 109},
		{15, 4.8, 102}, {20, 3.4, 98}, {25, 2.5, 92}, {30, 2.0, 87},
	} {
		rows = append(rows,
			row{"fuse_cold_ohm", list(c.amps), c.milli / 1000, 1e-9, "blade fuse chart"},
			row{"fuse_drop", list(c.amps, c.amps), c.hot / 1000, 0.08, "blade fuse chart, hot"})
	}
	check(t, append(rows, []row{
		{"fuse_cold_ohm", list(40), 0.0014, 1e-9, "blade fuse chart"},
		{"fuse_drop", list(100, 100), 0.090, 0.01, "bolted strip fuses drop 70-110 mV at their rating"},
		{"fuse_drop", list(300, 300), 0.090, 0.01, "bolted strip fuses drop 70-110 mV at their rating"},
		{"fuse_drop", list(60, 100), 0.0435, 0.02, "bolted 100 A at 60 A: expect 30-55 mV"},
		{"fuse_drop", list(0.130, 10), 0.001, 0.01, "published chart: 10 A, 1 mV is 130 mA"},
		{"fuse_drop", list(0.1, 5), 0.001785, 4e-3, "drain hunt chart: 5 A at 100 mA"},
		{"fuse_drop", list(1, 20), 0.00338, 0.01, "drain hunt chart: 20 A at 1 A"},
		{"fuse_drop", list(20, 30), 0.0020 * 20 * (1 + 0.42*4.0/9), 1e-9, "model"},
		{"clip_drop_limit", list(20, 30, 24), 0.04746667 + 0.0666667, 1e-5, "fuse and 80 mV·20/24 of clips"},
		{"clip_drop_limit", list(42, 60, 42), 0.0441*1.2058 + 0.080, 1e-4, "bolted 60 A at full load"},
		{"holder_good_limit", list(42, 60, 42), 0.0441*1.2058 + 0.040, 1e-4, "bolted 60 A at full load"},
	}...))
}

func TestBreakerDrop(t *testing.T) {
	var rows []row
	for _, c := range []struct{ amps, milli float64 }{
		{10, 30}, {16, 13.7}, {20, 11.3}, {25, 7.2}, {32, 5.86}, {40, 4.69}, {50, 3.6}, {63, 3.28}, {100, 1.5}, {125, 1.28},
	} {
		rows = append(rows, row{"breaker_drop_limit", list(1, c.amps), c.milli / 1000, 5e-3, "largest mΩ of a pole, IEC 60898-1"})
	}
	check(t, append(rows,
		row{"breaker_drop_limit", list(20, 32), 0.117, 2e-3, "32 A pole at 20 A: 117 mV is normal"},
		row{"breaker_drop_limit", list(10, 10), 0.300, 1e-9, "10 A pole at its rating"},
		row{"breaker_drop_limit", list(63, 63), 0.206, 2e-3, "63 A pole at its rating"}))
}

func TestShortVectors(t *testing.T) {
	check(t, []row{
		{"fault_amps", list(12.8, 0.003, 0.266), 47.58, 0, "worked short at the end of 10 m of 1.5 mm²"},
		{"fault_amps", list(13.3, 0.00125, 0), 10640, 0, "280 Ah cells at the posts"},
		{"fault_amps", list(13.3, 0.001946, 0), 6833, 1e-3, "the same after 0.6 m of 70 mm² and a fuse"},
		{"short_ohm", list("lfp", 12, 100, 1), 0.0015, 1e-9, "lithium, least for breaking capacity"},
		{"short_ohm", list("lfp", 24, 100, 1), 0.003, 1e-9, "lithium, 24 V"},
		{"short_ohm", list("lfp", 48, 100, 1), 0.005, 1e-9, "lithium, 48 V"},
		{"short_ohm", list("lfp", 12, 100, 2), 0.00075, 1e-9, "two packs side by side"},
		{"short_ohm", list("agm", 12, 100, 1), 0.003, 1e-9, "AGM 3-6 mΩ"},
		{"short_seconds", list(800, 2.5, "pvc-70"), 0.1292, 0, "worked adiabatic time"},
		{"short_seconds", list(1500, 6, "pvc-70"), 0.2116, 0, "worked adiabatic time"},
		{"short_seconds", list(4000, 16, "pvc-90"), 0.1600, 0, "worked adiabatic time"},
	})
}

func TestFuseRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"fuse_next", list(700), "split the load"},
		{"fuse_next", list(0), "above zero"},
		{"fuse_drop", list(70, 30), "more than twice"},
		{"fuse_drop", list(5, 1000), "fuse rating"},
		{"clip_drop_limit", list(20, 30, 0), "full current"},
		{"breaker_drop_limit", list(20, 200), "breaker rating"},
		{"fault_amps", list(12, 0, 0), "together"},
		{"short_seconds", list(100, 10, "xlpe"), "5 s"},
		{"short_ohm", list("other-lithium", 12, 100, 1), "no general figures"},
	})
}
