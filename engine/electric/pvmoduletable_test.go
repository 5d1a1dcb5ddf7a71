package electric

import (
	"fmt"
	"math"
	"testing"
)

// by is a label with sun, cell temperature and what follows, as a row's values.
func by(l PVLabel, rest ...any) []any {
	return append([]any{l.Open, l.Short, l.Volts, l.Amps, l.Alpha, l.Beta}, rest...)
}

func TestModuleFunctions(t *testing.T) {
	const model = "one-diode model, generic module"
	rows := []row{
		{"pv_power", by(c400, 800, 45), 299.31, 3e-4, model},
		{"pv_power", by(c400, 1000, 25), 400.26, 3e-4, model},
		{"pv_power", by(a100, 50, 10), 4.94, 3e-3, model},
		{"pv_best_volts", by(e330, 1000, 65), 31.559, 4e-4, model},
		{"pv_best_amps", by(d270, 800, 45), 6.9361, 4e-4, model},
		{"pv_open_volts", by(b200, 200, 25), 21.598, 4e-4, model},
		{"pv_open_volts", by(c400, 200, 0), 37.67, 4e-4, "54 cells on a cold morning"},
		{"pv_open_volts", by(c400, 900, 65), 32.76, 4e-4, "54 cells, hot: no restart on 24 V"},
		{"pv_short_amps", by(b200, 800, 45), 8.93, 4e-4, model},
	}
	for v, i := range map[float64]float64{12.0: 4.593, 13.5: 4.582, 14.4: 4.569, 17: 4.356, 20: 1.746} {
		rows = append(rows, row{"pv_current_at", by(a100, 800, 45, v), i, 5e-4, "amps at volts, 36 cells"})
	}
	for v, i := range map[float64]float64{10: 11.025, 20: 10.948, 28: 10.599, 30: 9.810, 32: 7.469, 34: 2.428} {
		rows = append(rows, row{"pv_current_at", by(c400, 800, 45, v), i, 5e-4, "amps at volts, 54 cells"})
	}
	for i, v := range map[float64]float64{1: 34.42, 2: 34.13, 5: 33.13, 8: 31.68, 10: 29.69, 9.512: 30.39} {
		rows = append(rows, row{"pv_volts_at", by(c400, 800, 45, i), v, 4e-4, "volts at amps, 54 cells"})
	}
	for _, c := range []struct{ sun, a, aShort, c, cShort float64 }{
		{10, 18.88, 0.057, 31.46, 0.137}, {20, 19.48, 0.115, 32.39, 0.275}, {50, 20.27, 0.287, 33.61, 0.687},
	} {
		rows = append(rows, row{"pv_open_volts", by(a100, c.sun, 20), c.a, 4e-4, "dim light, 36 cells"},
			row{"pv_short_amps", by(a100, c.sun, 20), c.aShort, 1e-2, "dim light, 36 cells"},
			row{"pv_open_volts", by(c400, c.sun, 20), c.c, 4e-4, "dim light, 54 cells"},
			row{"pv_short_amps", by(c400, c.sun, 20), c.cShort, 3e-3, "dim light, 54 cells"})
	}
	for _, c := range []struct{ sun, a, c float64 }{
		{1200, 100.7, 100.7}, {800, 99.1, 99.2}, {600, 98.0, 98.1}, {400, 96.4, 96.6}, {200, 93.7, 94.1},
		{100, 91.0, 91.6}, {50, 88.3, 89.0}, {20, 84.7, 85.7}, {10, 82.0, 83.1},
	} {
		rows = append(rows, row{"pv_open_volts", by(a100, c.sun, 25), a100.Open * c.a / 100, 7e-4, "open volts against light, 36 cells"},
			row{"pv_open_volts", by(c400, c.sun, 25), c400.Open * c.c / 100, 7e-4, "open volts against light, 54 cells"})
	}
	for _, c := range []struct {
		label PVLabel
		vb    []float64
		watts []float64
	}{
		{a100, []float64{12.5, 13.5, 14.4}, []float64{57.4, 61.9, 65.8}},
		{b200, []float64{12.5, 13.5, 14.4}, []float64{110.3, 119.0, 126.7}},
		{c400, []float64{12.5, 13.5, 14.4, 27.6, 28.8}, []float64{137.6, 148.5, 158.3, 294.5, 299.3}},
		{d270, []float64{12.5, 13.5, 14.4, 27.6, 28.8}, []float64{92.8, 100.1, 106.7, 197.3, 199.7}},
		{e330, []float64{12.5, 13.5, 14.4, 27.6, 28.8}, []float64{93.6, 101.1, 107.8, 205.4, 214.0}},
	} {
		for i, vb := range c.vb {
			rows = append(rows, row{"pwm_watts", by(c.label, 800, 45, vb), c.watts[i], 1e-3, "pulse-width table"})
		}
	}
	rows = append(rows, row{"pwm_watts", by(c400, 1000, 25, 13.5), 0.459 * 400.26, 2e-3, "pulse-width at full sun, 54 cells"},
		row{"pwm_watts", by(d270, 1000, 25, 13.5), 0.459 * 270.1, 2e-3, "pulse-width at full sun, 60 cells"},
		row{"pwm_watts", by(e330, 1000, 25, 13.5), 0.378 * 330.4, 2e-3, "pulse-width at full sun, 72 cells"},
		row{"pwm_watts", by(d270, 1000, 60, 28.8), 218.9, 1e-3, "hot 60 cells on 24 V"},
		row{"pv_power", by(d270, 1000, 60), 232.0, 1e-3, "hot 60 cells"})
	for _, c := range []struct{ ohm, watts float64 }{{0, 299}, {0.1, 289}, {0.2, 278}, {0.5, 247}, {1, 199}, {2, 128}} {
		rows = append(rows, row{"pv_power_through", by(c400, 800, 45, c.ohm), c.watts, 3e-3, "series resistance, 54 cells"})
	}
	for _, c := range []struct{ ohm, watts float64 }{{0.2, 70.4}, {0.5, 64.9}, {1, 56.1}, {2, 41.0}} {
		rows = append(rows, row{"pv_power_through", by(a100, 800, 45, c.ohm), c.watts, 2e-3, "series resistance, 36 cells"})
	}
	check(t, rows)
}

// TestHeldRightOfTheBest: volts over open volts when only a part of the power is
// asked for.
func TestHeldRightOfTheBest(t *testing.T) {
	c := fitted(t, c400).In(800, 45)
	v, i := c.Best()
	for _, r := range []struct{ part, ratio float64 }{
		{1, 0.834}, {0.98, 0.867}, {0.95, 0.884}, {0.90, 0.901}, {0.75, 0.930}, {0.5, 0.960}, {0.25, 0.982}, {0.10, 0.993}, {0.05, 0.997},
	} {
		held := v
		if r.part < 1 {
			held, _ = root(func(x float64) float64 { return x*c.AmpsAt(x) - r.part*v*i }, v, c.Open())
		}
		near(t, fmt.Sprintf("%g of the power", r.part), held/c.Open(), r.ratio, 0.001)
	}
}

// TestLabelComesBack: at standard conditions the fitted curve is the label, for
// labels all over the range.
func TestLabelComesBack(t *testing.T) {
	fits := 0
	for _, fill := range []float64{0.79, 0.81, 0.83, 0.845} {
		for _, share := range []float64{0.92, 0.935, 0.95} {
			for _, beta := range []float64{-0.26, -0.30, -0.34} {
				l := PVLabel{40, 10, 40 * fill, 10 * share, 0.05, beta}
				m, err := FitPV("test", l)
				if err != nil {
					continue
				}
				fits++
				c := m.In(1000, 25)
				v, i := c.Best()
				near(t, fmt.Sprint(l, " open"), c.Open(), l.Open, 1e-6)
				near(t, fmt.Sprint(l, " short"), c.AmpsAt(0), l.Short, 1e-6)
				near(t, fmt.Sprint(l, " best watts"), v*i, l.Volts*l.Amps, 1e-6)
				near(t, fmt.Sprint(l, " best volts"), v, l.Volts, 1e-4)
				near(t, fmt.Sprint(l, " ten kelvin hotter"), m.In(1000, 35).Open(), l.Open*(1+l.Beta/10), 1e-6)
			}
		}
	}
	if fits < 15 {
		t.Errorf("only %d of the labels fit", fits)
	}
}

// TestCurveThereAndBack: volts at the amps at volts are the volts, and no light
// gives nothing.
func TestCurveThereAndBack(t *testing.T) {
	m := fitted(t, a100)
	for _, sun := range []float64{10, 100, 500, 1000, 1300} {
		for _, temp := range []float64{-40, 0, 45, 100} {
			c := m.In(sun, temp)
			for k := 1; k < 20; k++ {
				v := c.Open() * float64(k) / 20
				near(t, fmt.Sprintf("%g W/m2, %g C, %.3g V", sun, temp, v), c.VoltsAt(c.AmpsAt(v)), v, 1e-4)
			}
		}
	}
	dark := m.In(0, 25)
	if v, i := dark.Open(), dark.AmpsAt(0); v > 0 || math.Abs(i) > 1e-12 {
		t.Errorf("in the dark it has %g V and %g A", v, i)
	}
}

func TestModuleRefuses(t *testing.T) {
	checkRefused(t, []refused{
		{"pv_power", by(PVLabel{37.1, 13.75, 37.0, 12.87, 0.045, -0.28}, 800, 45), "best-point volts"},
		{"pv_power", by(PVLabel{37.1, 13.75, 25.0, 13.5, 0.045, -0.28}, 800, 45), "read the label again"},
		{"pv_power", by(PVLabel{37.1, 13.75, 31.1, 12.87, 0.045, 0.28}, 800, 45), "change of volts"},
		{"pv_power", by(c400, 5, 45), "the sun"},
		{"pv_current_at", by(a100, 800, 45, 27.6), "no current comes out"},
		{"pv_volts_at", by(a100, 800, 45, 6), "into a short"},
	})
}
