package electric

import (
	"testing"

	"hotlug/engine/formula"
)

func TestInrushVectors(t *testing.T) {
	check(t, []row{
		{"inrush_true_peak", list(13.2, 0.010, 3e-6, 0.020), 644.3, 0, "worked R-L-C inrush, 12 V"},
		{"inrush_true_peak", list(13.3, 0.010, 2e-6, 0.022), 744.8, 0, "worked R-L-C inrush, 12 V"},
		{"inrush_true_peak", list(26.6, 0.014, 2e-6, 0.008), 971.5, 0, "worked R-L-C inrush, 24 V"},
		{"inrush_true_peak", list(53.2, 0.018, 3e-6, 0.0068), 1484, 0, "worked R-L-C inrush, 48 V"},
		{"inrush_i2t", list(13.2, 0.010, 0.020), 174.2, 0, "worked fuse heat"},
		{"inrush_i2t", list(53.2, 0.018, 0.0068), 534.6, 0, "worked fuse heat"},
		{"bms_above_seconds", list(13.2, 0.020, 0.020, 300), 315.4e-6, 0, "trips at 200 µs"},
		{"bms_above_seconds", list(13.2, 0.020, 0.008, 300), 126.2e-6, 0, "holds"},
		{"bms_above_seconds", list(13.3, 0.025, 0.022, 400), 156.8e-6, 0, "holds"},
		{"bms_above_seconds", list(53.2, 0.030, 0.0068, 500), 258.3e-6, 0, "holds at 300 µs"},
		{"bms_above_seconds", list(53.2, 0.030, 0.015, 500), 569.7e-6, 0, "trips"},
		{"bms_above_seconds", list(13.2, 0.100, 0.015, 500), 0, 1e-9, "the peak never reaches the trip"},
		{"input_farad", list(1000, 12), 0.010, 1e-9, "10 µF/W"},
		{"input_farad", list(2000, 24), 0.008, 1e-9, "4 µF/W"},
		{"input_farad", list(3400, 48), 0.0068, 1e-9, "2 µF/W"},
		{"input_farad_low", list(1000, 12), 0.003, 1e-9, "x0.3"},
		{"input_farad_high", list(1000, 12), 0.025, 1e-9, "x2.5"},
		{"input_farad_low", list(1000, 48), 0.0007, 1e-9, "x0.35"},
		{"input_farad_high", list(1000, 24), 0.016, 1e-9, "x4"},
		{"input_farad_measured", list(33, 1.0, 12.56, 13.2), 0.01001, 0, "worked capacitance"},
		{"input_farad_measured", list(47, 0.5, 41.0, 53.2), 0.007224, 0, "worked capacitance"},
		{"input_farad_measured", list(22, 0.3, 20.0, 26.6), 0.009783, 0, "worked capacitance"},
		{"precharge_ohm", list(53.2, 5), 10.64, 0, "worked range"},
		{"precharge_ohm_most", list(3, 0.0068), 88.24, 0, "worked range"},
		{"precharge_ohm", list(13.3, 3), 4.433, 0, "worked range"},
		{"precharge_ohm_most", list(2, 0.022), 18.18, 0, "worked range"},
		{"precharge_ends", list(53.2, 47, 0.3), 39.10, 0, "a load left on"},
		{"precharge_ends", list(13.2, 10, 1.0), 3.200, 0, "a load left on"},
		{"precharge_ends", list(26.4, 22, 0.05), 25.30, 0, "a load left on"},
	})
}

// TestPrechargeTable runs eight worked pre-charge designs through all functions.
func TestPrechargeTable(t *testing.T) {
	for _, c := range []struct {
		id                                                  string
		v, farad, ohm, loop                                 float64
		peak, joule, i2t, after5, first, watts, left3, left float64
	}{
		{"12 V 1 kW", 13.2, 0.010, 33, 0.012, 1100, 0.8712, 72.60, 1.650, 5.280, 1.056, 0.6572, 0.08894},
		{"12 V 2 kW", 13.3, 0.022, 10, 0.010, 1330, 1.946, 194.6, 1.100, 17.69, 3.538, 0.6622, 0.08961},
		{"24 V 2 kW", 26.6, 0.008, 22, 0.014, 1900, 2.830, 202.2, 0.8800, 32.16, 6.432, 1.324, 0.1792},
		{"24 V 3 kVA", 26.4, 0.030, 15, 0.012, 2200, 10.45, 871.2, 2.250, 46.46, 9.293, 1.314, 0.1779},
		{"48 V 3 kW", 53.2, 0.0068, 47, 0.018, 2956, 9.623, 534.6, 1.598, 60.22, 12.04, 2.649, 0.3585},
		{"48 V 5 kVA", 54.4, 0.040, 25, 0.015, 3627, 59.19, 3946, 5.000, 118.4, 23.67, 2.708, 0.3665},
		{"48 V 2x8 kVA", 53.6, 0.080, 15, 0.009, 5956, 114.9, 12770, 6.000, 191.5, 38.31, 2.669, 0.3612},
		{"12 V 300 W", 12.6, 0.006, 15, 0.020, 630.0, 0.4763, 23.81, 0.4500, 10.58, 2.117, 0.6273, 0.08490},
	} {
		t.Run(c.id, func(t *testing.T) {
			rc := c.ohm * c.farad
			check(t, []row{
				{"inrush_peak", list(c.v, c.loop), c.peak, 0, c.id},
				{"inrush_energy", list(c.v, c.farad), c.joule, 0, c.id},
				{"inrush_i2t", list(c.v, c.loop, c.farad), c.i2t, 0, c.id},
				{"precharge_seconds", list(c.ohm, c.farad), c.after5, 0, c.id},
				{"precharge_peak_watts", list(c.v, c.ohm), c.first, 0, c.id},
				{"precharge_watts", list(c.v, c.ohm), c.watts, 0, c.id},
				{"precharge_left", list(c.v, c.ohm, c.farad, 3*rc), c.left3, 0, c.id},
				{"precharge_left", list(c.v, c.ohm, c.farad, 5*rc), c.left, 0, c.id},
			})
		})
	}
}

func TestJoinVectors(t *testing.T) {
	check(t, []row{
		{"join_amps", list(0.6, 0.020, 0.020, 0.002), 14.29, 0, "lithium 13.6 and 13.0 V"},
		{"join_amps", list(0.1, 0.020, 0.020, 0.002), 2.381, 0, "lithium 13.3 and 13.2 V"},
		{"join_amps", list(0.8, 0.004, 0.004, 0.001), 88.89, 0, "AGM 12.8 and 12.0 V"},
		{"join_amps", list(2.8, 0.025, 0.025, 0.003), 52.83, 0, "lithium 54.0 and 51.2 V"},
		{"join_amps", list(1.6, 0.010, 0.010, 0.0015), 74.42, 0, "AGM 25.6 and 24.0 V"},
		{"join_amps", list(1.8, 0.020, 0.004, 0.002), 69.23, 0, "lithium on AGM"},
		{"join_amps", list(12.8, 0.030, 0.020, 0.002), 246.2, 0, "24 V onto 12 V"},
		{"join_amps", list(25.6, 0.020, 0.020, 0.002), 609.5, 0, "one battery reversed"},
		{"join_amps", list(0.75, 0.0108, 0, 0), 69.44, 0, "12.85 against 12.10 V through 10.8 mΩ"},
		{"join_volts_max", list(50, 0.020, 0.020, 0.002), 2.100, 0, "50 A through 42 mΩ"},
		{"join_volts_max", list(20, 0.004, 0.004, 0.001), 0.1800, 0, "20 A through 9 mΩ"},
		{"join_rule_volts", list("lfp", 12), 0.05, 1e-9, "lithium"},
		{"join_rule_volts", list("agm", 24), 0.20, 1e-9, "lead, 24 V"},
		{"share_first", list(2, 0.02), 0.5050, 0, "two wired from one end"},
		{"share_first", list(3, 0.05), 0.3599, 0, "three wired from one end"},
		{"share_first", list(4, 0.15), 0.3575, 0, "four wired from one end"},
		{"share_first", list(4, 0.30), 0.4331, 0, "four wired from one end"},
		{"share_first", list(6, 0.10), 0.2851, 0, "six wired from one end"},
		{"share_first", list(4, 0), 0.25, 1e-9, "no links at all"},
	})
}

// TestBMSLimitsFindThePeak: the time is longest inside the range of loops, not
// at an end, and the limits must reach it.
func TestBMSLimitsFindThePeak(t *testing.T) {
	f := byName(t, "bms_above_seconds")
	box := []formula.Val{formula.Exact(13.2), formula.Within(0.005, 0.0225, 0.04), formula.Exact(0.02), formula.Exact(300)}
	peak := 13.2 / (2.718281828459045 * 300)
	want, err := BMSAboveSeconds(13.2, peak, 0.02, 300)
	if err != nil {
		t.Fatal(err)
	}
	if v := f.Limits(box); v.Hi < want || v.Hi > want*1.0001 {
		t.Errorf("upper limit %g, the longest time is %g at a loop of %g Ω", v.Hi, want, peak)
	}
}

func TestSparkRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"inrush_peak", list(13.2, 0), "above zero"},
		{"input_farad_measured", list(33, 1, 13.5, 13.2), "under the supply"},
		{"precharge_ends", list(13.2, 47, 1), "switch everything behind it off"},
		{"join_amps", list(0.1, 0, 0, 0), "together"},
		{"join_rule_volts", list("lfp", 230), "system voltage"},
		{"share_first", list(2.5, 0.1), "whole numbers"},
	})
}
