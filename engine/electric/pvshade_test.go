package electric

import "testing"

// TestShadeAndDefects: light on parts of a module in 800 W/m² with 45 °C cells.
// 36-cell modules have two bypass diodes or three, as the row says; highest
// and lowest are the peaks with all groups at work and with some bypassed.
func TestShadeAndDefects(t *testing.T) {
	type want struct{ open, v, w, v2, w2 float64 }
	third := func(light ...float64) []Group { return EvenGroups(3, light...) }
	half := func(light ...float64) []Group { return EvenGroups(2, light...) }
	crack := func(f float64) []Group {
		g := third()
		g[0].Cells = []Cells{{17 / 54.0, 1}, {1 / 54.0, f}}
		return g
	}
	broken, shorted, two := third(), third(), half()
	broken[0].Broken, shorted[0].Shorted, two[0].Shorted = true, true, true
	parapet := third()
	for i := range parapet {
		parapet[i].Halves = []Cells{{1.0 / 3, 0.1}}
	}
	for _, c := range []struct {
		id     string
		label  PVLabel
		groups []Group
		want
	}{
		{"36 cells full", a100, third(), want{20.85, 17.13, 74.09, 0, 0}},
		{"36 cells third at 0.9", a100, third(0.9), want{20.82, 17.42, 69.99, 11.00, 47.45}},
		{"36 cells third at 0.75", a100, third(0.75), want{20.76, 17.92, 60.34, 11.00, 47.45}},
		{"36 cells third at 0.5", a100, third(0.5), want{20.63, 18.42, 41.46, 11.00, 47.45}},
		{"36 cells third at 0.25", a100, third(0.25), want{20.42, 18.69, 21.07, 11.00, 47.45}},
		{"36 cells third at 0.1", a100, third(0.1), want{20.13, 18.66, 8.42, 11.00, 47.45}},
		{"36 cells third dark", a100, third(0), want{13.90, 0, 0, 11.00, 47.45}},
		{"36 cells two diodes half at 0.1", a100, half(0.1), want{19.77, 17.89, 8.0, 8.14, 35.1}},
		{"36 cells two diodes one shorted", a100, two, want{10.42, 8.57, 37.0, 0, 0}},
		{"36 cells three diodes one shorted", a100, func() []Group { g := third(); g[0].Shorted = true; return g }(), want{13.90, 11.42, 49.4, 0, 0}},
		{"54 cells full", c400, third(), want{34.69, 28.93, 299.31, 0, 0}},
		{"54 cells third at 0.5", c400, third(0.5), want{34.36, 30.95, 166.15, 18.86, 194.89}},
		{"54 cells third at 0.1", c400, third(0.1), want{33.58, 31.28, 33.67, 18.86, 194.89}},
		{"54 cells two thirds at 0.1", c400, third(0.1, 0.1), want{32.47, 28.93, 30.57, 8.79, 90.48}},
		{"54 cells one diode shorted", c400, shorted, want{23.13, 19.29, 199.5, 0, 0}},
		{"54 cells ribbon broken", c400, broken, want{0, 18.84, 194.9, 0, 0}},
		{"54 half-cut lower half at 0.1", c400, parapet, want{33.76, 28.54, 162.5, 0, 0}},
		{"54 cells one at 0.9", c400, crack(0.9), want{0, 29.84, 293, 0, 0}},
		{"54 cells one at 0.8", c400, crack(0.8), want{0, 30.93, 271, 0, 0}},
		{"54 cells one at 0.6", c400, crack(0.6), want{0, 30.98, 212, 0, 0}},
		{"54 cells 15 % soiled", c400, third(0.85, 0.85, 0.85), want{34.46, 28.89, 254.2, 0, 0}},
		{"two 54 in series, one third at 0.1", c400, append(third(0.1), third()...), want{68.3, 0, 0, 47.79, 494.2}},
		{"two 54 in series, one module at 0.1", c400, append(third(0.1, 0.1, 0.1), third()...), want{66.05, 0, 0, 27.65, 285.4}},
		{"two 36 in series, third at 0.5", a100, append(third(0.5), third()...), want{0, 37.86, 86.1, 28.13, 121.5}},
	} {
		t.Run(c.id, func(t *testing.T) {
			s := PVString{Module: fitted(t, c.label), Sun: 800, Temp: 45, Groups: c.groups}
			peaks := Peaks(s)
			if len(peaks) == 0 {
				t.Fatal("no peak at all")
			}
			if c.open > 0 {
				near(t, "open volts", s.Open(), c.open, 0.051)
			}
			high := peaks[len(peaks)-1]
			if c.v > 0 {
				near(t, "volts of the high peak", high.Volts, c.v, 0.03)
				near(t, "watts of the high peak", high.Watts(), c.w, max(0.1, 0.002*c.w))
			}
			if c.v2 > 0 {
				low := peaks[0]
				if len(peaks) > 2 {
					low = Best(peaks)
				}
				near(t, "volts of the low peak", low.Volts, c.v2, 0.03)
				near(t, "watts of the low peak", low.Watts(), c.w2, max(0.1, 0.002*c.w2))
			}
		})
	}
}

func TestUnlikeModules(t *testing.T) {
	// The printed 285.4 W counts three diodes in the small module; with two it is 290 W.
	small := PVString{Module: fitted(t, a100), Sun: 800, Temp: 45, Groups: EvenGroups(3)}
	s := PVString{Module: fitted(t, c400), Sun: 800, Temp: 45, Groups: EvenGroups(3), Behind: &small}
	best := Best(Peaks(s))
	near(t, "watts", best.Watts(), 285.4, 0.1)
	near(t, "volts", best.Volts, 27.65, 0.07)
	shaded := PVString{Module: fitted(t, a100), Sun: 800, Temp: 45, Groups: EvenGroups(3, 0.1)}
	whole := PVString{Module: fitted(t, a100), Sun: 800, Temp: 45, Groups: EvenGroups(3)}
	side := Peaks(shaded, whole)
	high := side[len(side)-1]
	near(t, "side by side, volts", high.Volts, 17.22, 0.03)
	near(t, "side by side, amps", high.Amps, 4.762, 0.01)
}

func TestShadeVectors(t *testing.T) {
	check(t, []row{
		{"pv_bypassed_volts", list(57.86, 6, 1), 47.79, 5e-3, "two 54-cell modules in series, a third shaded"},
		{"pv_bypassed_volts", list(28.93, 3, 1), 18.86, 2e-3, "54 cells, a third shaded"},
		{"pv_bypassed_volts", list(28.93, 3, 2), 8.79, 1e-2, "54 cells, two thirds shaded"},
		{"pv_bypassed_volts", list(17.13, 3, 1), 11.00, 5e-3, "36 cells with three diodes, a third shaded"},
		{"pv_bypassed_volts", list(17.13, 2, 1), 8.14, 5e-3, "36 cells with two diodes, a half shaded"},
		{"pv_shorted_volts", list(20.848, 2, 1), 10.42, 0, "36 cells with two diodes, one shorted"},
		{"pv_shorted_volts", list(20.848, 3, 1), 13.90, 0, "36 cells with three diodes, one shorted"},
		{"pv_shorted_volts", list(34.695, 3, 1), 23.13, 0, "54 cells, one diode shorted"},
		{"diode_watts", list(11.1), 5.0, 2e-3, "bypass heat in the box"},
	})
}
