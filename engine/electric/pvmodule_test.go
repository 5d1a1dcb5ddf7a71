package electric

import (
	"fmt"
	"math"
	"testing"
)

// The five generic modules: label, and the numbers that fit it.
var (
	a100 = PVLabel{22.5, 5.75, 18.6, 5.38, 0.05, -0.32}
	b200 = PVLabel{23.0, 11.05, 19.3, 10.37, 0.05, -0.30}
	c400 = PVLabel{37.1, 13.75, 31.1, 12.87, 0.045, -0.28}
	d270 = PVLabel{38.3, 9.25, 31.3, 8.63, 0.05, -0.33}
	e330 = PVLabel{46.2, 9.30, 37.8, 8.74, 0.05, -0.33}
)

func fitted(t testing.TB, l PVLabel) PVModule {
	t.Helper()
	m, err := FitPV("test", l)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: got %.5g, want %.5g within %g", what, got, want, by)
	}
}

func TestFitFindsTheFiveNumbers(t *testing.T) {
	for _, c := range []struct {
		id                        string
		label                     PVLabel
		light, dark, ohm, leak, a float64
	}{
		{"36 cells", a100, 5.75722, 4.38092e-11, 0.22664, 180.465, 0.879602},
		{"36 half-cut", b200, 11.06073, 3.76070e-11, 0.09573, 98.596, 0.871677},
		{"54 half-cut", c400, 13.76770, 1.96327e-11, 0.13459, 104.532, 1.361466},
		{"60 cells", d270, 9.26454, 1.03515e-10, 0.28079, 178.693, 1.520198},
		{"72 cells", e330, 9.30868, 1.04403e-10, 0.33034, 354.132, 1.833363},
	} {
		t.Run(c.id, func(t *testing.T) {
			m := fitted(t, c.label)
			near(t, "light current", m.light, c.light, 1e-4*c.light)
			near(t, "dark current", m.dark, c.dark, 2e-3*c.dark)
			near(t, "series ohms", m.ohm, c.ohm, 1e-3*c.ohm)
			near(t, "ohms beside", 1/m.leak, c.leak, 2e-3*c.leak)
			near(t, "steepness", m.a, c.a, 1e-4*c.a)
		})
	}
}

// TestModuleRows: the generic modules in sun and warmth, from their labels.
func TestModuleRows(t *testing.T) {
	for _, c := range []struct {
		label                           PVLabel
		sun, temp                       float64
		open, short, volts, amps, watts float64
	}{
		{a100, 1000, 25, 22.500, 5.7500, 18.600, 5.3800, 100.07},
		{a100, 1000, 65, 19.605, 5.8649, 15.637, 5.4098, 84.59},
		{a100, 1000, -10, 24.998, 5.6495, 21.224, 5.3299, 113.12},
		{a100, 800, 45, 20.848, 4.6471, 17.132, 4.3244, 74.09},
		{a100, 400, 35, 20.948, 2.3132, 17.723, 2.1620, 38.32},
		{a100, 200, 25, 21.086, 1.1512, 18.136, 1.0790, 19.57},
		{a100, 50, 10, 21.075, 0.2857, 18.384, 0.2686, 4.94},
		{b200, 1000, 25, 23.000, 11.0500, 19.300, 10.3700, 200.14},
		{b200, 1000, 65, 20.225, 11.2708, 16.435, 10.4459, 171.68},
		{b200, 1000, -10, 25.394, 10.8568, 21.831, 10.2650, 224.09},
		{b200, 800, 45, 21.410, 8.9300, 17.845, 8.3383, 148.80},
		{b200, 200, 25, 21.598, 2.2117, 18.684, 2.0776, 38.82},
		{c400, 1000, 25, 37.100, 13.7500, 31.100, 12.8700, 400.26},
		{c400, 1000, 50, 34.496, 13.9045, 28.383, 12.9321, 367.04},
		{c400, 1000, 65, 32.921, 13.9972, 26.762, 12.9575, 346.77},
		{c400, 1000, -10, 40.702, 13.5337, 34.929, 12.7508, 445.37},
		{c400, 800, 45, 34.695, 11.1017, 28.929, 10.3464, 299.31},
		{c400, 600, 40, 34.811, 8.3099, 29.400, 7.7585, 228.10},
		{c400, 200, 25, 34.911, 2.7528, 30.271, 2.5802, 78.10},
		{c400, 100, 20, 34.538, 1.3735, 30.122, 1.2884, 38.81},
		{d270, 800, 45, 35.406, 7.4762, 28.789, 6.9361, 199.68},
		{d270, 1000, 65, 33.219, 9.4347, 26.125, 8.6685, 226.47},
		{e330, 800, 45, 42.709, 7.5157, 34.766, 7.0188, 244.01},
		{e330, 1000, 65, 40.070, 9.4858, 31.559, 8.7672, 276.68},
	} {
		t.Run(fmt.Sprintf("%gW_%g_%g", c.label.Volts*c.label.Amps, c.sun, c.temp), func(t *testing.T) {
			at := fitted(t, c.label).In(c.sun, c.temp)
			v, i := at.Best()
			near(t, "open volts", at.Open(), c.open, 0.01)
			near(t, "short-circuit amps", at.AmpsAt(0), c.short, 0.002)
			near(t, "best volts", v, c.volts, 0.01)
			near(t, "best amps", i, c.amps, 0.002)
			near(t, "best watts", v*i, c.watts, 0.1)
		})
	}
}

func BenchmarkFit(b *testing.B) {
	for b.Loop() {
		fitted(b, c400)
	}
}
