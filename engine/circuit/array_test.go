package circuit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hotlug/engine/electric"
)

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: got %.7g, want %.7g within %g", what, got, want, by)
	}
}

// TestReferenceRows: an array of one module meets the rows of the reference
// sheet: the generic modules in sun and warmth.
func TestReferenceRows(t *testing.T) {
	label36half := electric.PVLabel{Open: 23.0, Short: 11.05, Volts: 19.3, Amps: 10.37, Alpha: 0.05, Beta: -0.30}
	label72 := electric.PVLabel{Open: 46.2, Short: 9.30, Volts: 37.8, Amps: 8.74, Alpha: 0.05, Beta: -0.33}
	for _, c := range []struct {
		label                           electric.PVLabel
		sun, temp                       float64
		open, short, volts, amps, watts float64
	}{
		{label36, 1000, 25, 22.500, 5.7500, 18.600, 5.3800, 100.07},
		{label36, 1000, 65, 19.605, 5.8649, 15.637, 5.4098, 84.59},
		{label36, 1000, -10, 24.998, 5.6495, 21.224, 5.3299, 113.12},
		{label36, 800, 45, 20.848, 4.6471, 17.132, 4.3244, 74.09},
		{label36, 400, 35, 20.948, 2.3132, 17.723, 2.1620, 38.32},
		{label36, 200, 25, 21.086, 1.1512, 18.136, 1.0790, 19.57},
		{label36, 50, 10, 21.075, 0.2857, 18.384, 0.2686, 4.94},
		{label36half, 1000, 25, 23.000, 11.0500, 19.300, 10.3700, 200.14},
		{label36half, 1000, 65, 20.225, 11.2708, 16.435, 10.4459, 171.68},
		{label36half, 1000, -10, 25.394, 10.8568, 21.831, 10.2650, 224.09},
		{label36half, 800, 45, 21.410, 8.9300, 17.845, 8.3383, 148.80},
		{label36half, 200, 25, 21.598, 2.2117, 18.684, 2.0776, 38.82},
		{label54, 1000, 25, 37.100, 13.7500, 31.100, 12.8700, 400.26},
		{label54, 1000, 50, 34.496, 13.9045, 28.383, 12.9321, 367.04},
		{label54, 1000, 65, 32.921, 13.9972, 26.762, 12.9575, 346.77},
		{label54, 1000, -10, 40.702, 13.5337, 34.929, 12.7508, 445.37},
		{label54, 800, 45, 34.695, 11.1017, 28.929, 10.3464, 299.31},
		{label54, 600, 40, 34.811, 8.3099, 29.400, 7.7585, 228.10},
		{label54, 200, 25, 34.911, 2.7528, 30.271, 2.5802, 78.10},
		{label54, 100, 20, 34.538, 1.3735, 30.122, 1.2884, 38.81},
		{label60, 800, 45, 35.406, 7.4762, 28.789, 6.9361, 199.68},
		{label60, 1000, 65, 33.219, 9.4347, 26.125, 8.6685, 226.47},
		{label72, 800, 45, 42.709, 7.5157, 34.766, 7.0188, 244.01},
		{label72, 1000, 65, 40.070, 9.4858, 31.559, 8.7672, 276.68},
	} {
		t.Run(fmt.Sprintf("%gW_%g_%g", c.label.Volts*c.label.Amps, c.sun, c.temp), func(t *testing.T) {
			a := curve(t, Array{Module: fitted(t, c.label), Diodes: 3, Series: 1, Parallel: 1, Sun: c.sun, Temp: c.temp})
			v, i := a.Best()
			near(t, "open volts", a.Open(), c.open, 0.01)
			near(t, "short-circuit amps", a.Short(), c.short, 0.002)
			near(t, "best volts", v, c.volts, 0.02)
			near(t, "best amps", i, c.amps, 0.006)
			near(t, "best watts", v*i, c.watts, 0.1)
		})
	}
}

// TestTableMeetsModel: between its points too the table is the model of
// engine/electric, and its slope the slope of the table.
func TestTableMeetsModel(t *testing.T) {
	m := fitted(t, label54)
	for _, sun := range []float64{5, 60, 400, 1000, 1300} {
		c := m.In(sun, 45)
		a := curve(t, Array{Module: m, Diodes: 3, Series: 2, Parallel: 3, Sun: sun, Temp: 45})
		short := c.AmpsAt(0)
		for k := range 500 {
			v := 1.05 * c.Open() * float64(k) / 500
			i, s := a.At(2 * v)
			near(t, fmt.Sprintf("amps in %g W/m² at %.4g V", sun, 2*v), -i, 3*c.AmpsAt(v), 3*(2e-4*short+1e-4))
			const h = 1e-6
			up, _ := a.At(2*v + h)
			down, _ := a.At(2*v - h)
			near(t, fmt.Sprintf("slope in %g W/m² at %.4g V", sun, 2*v), s, (up-down)/(2*h), 1e-4*(1+s))
		}
	}
}

// TestShadeMeetsModel: an array with groups in shade has the humps that
// engine/electric finds for it.
func TestShadeMeetsModel(t *testing.T) {
	m := fitted(t, label54)
	s := electric.PVString{Module: m, Sun: 800, Temp: 45, Groups: append(electric.EvenGroups(3, 1, 0.3), electric.EvenGroups(3)...)}
	want := electric.Peaks(s)
	a := curve(t, Array{Module: m, Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45, Odd: []Odd{{Group: 1, Shade: 0.7}}})
	if a.humps != len(want) {
		t.Errorf("%d humps, want %d", a.humps, len(want))
	}
	v, i := a.Best()
	best := electric.Best(want)
	near(t, "best watts", v*i, best.Watts(), 0.005*best.Watts())
	near(t, "open volts", a.Open(), s.Open(), 0.01)
}

// TestDeadThirds: what faults of groups do to open volts.
func TestDeadThirds(t *testing.T) {
	a := Array{Module: fitted(t, label54), Diodes: 3, Series: 2, Parallel: 1, Sun: 800, Temp: 45}
	open := curve(t, a).Open()
	for _, c := range []struct {
		name      string
		odd       Odd
		open, amp float64
	}{
		{"its diode shorted", Odd{Shorted: true}, open * 5 / 6, 11.1},
		{"its ribbon broken", Odd{Broken: true}, open*5/6 - 0.05, 11.1},
		{"covered", Odd{Shade: 1}, open*5/6 - 0.05, 11.1},
		{"ribbon broken and diode open", Odd{Broken: true, NoDiode: true}, open, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			a.Odd = []Odd{c.odd}
			x := curve(t, a)
			if c.amp > 0 { // open volts to a meter
				n := New()
				n.Pole("array", n.Node("plus"), Ground, x)
				near(t, "volts on a meter", solved(t, n).Read("plus", "", 10e6), c.open, 0.25)
			}
			near(t, "short-circuit amps", x.Short(), c.amp, 0.05)
		})
	}
}

// TestFalls: an array's curve falls everywhere, whatever is wrong with it, far
// beyond its ends too.
func TestFalls(t *testing.T) {
	m := fitted(t, label36)
	odd := []Odd{{Shorted: true}, {Broken: true}, {NoDiode: true, Shade: 1}, {Broken: true, NoDiode: true}, {Shade: 0.5, Part: 0.1}, {Shade: 1, Part: 0.05, NoDiode: true}}
	for _, sun := range []float64{0, 3, 900} {
		for _, blocking := range []bool{false, true} {
			for k, o := range odd {
				o.String = 1
				a := curve(t, Array{Module: m, Diodes: 2, Series: 2, Parallel: 2, Sun: sun, Temp: 30, Blocking: blocking, Odd: []Odd{o}})
				last := math.Inf(-1)
				for v := -200.0; v < 200; v += 0.07 {
					i, s := a.At(v)
					if !(i >= last) || !(s >= 0) {
						t.Fatalf("odd %d in %g W/m²: at %.4g V %g A after %g A, slope %g", k, sun, v, i, last, s)
					}
					last = i
				}
			}
		}
	}
}

func TestArrayRefuses(t *testing.T) {
	good := Array{Module: fitted(t, label36), Diodes: 2, Series: 1, Parallel: 1, Sun: 800, Temp: 25}
	for _, c := range []struct {
		name, want string
		change     func(a *Array)
	}{
		{"no diodes", "at least", func(a *Array) { a.Diodes = 0 }},
		{"too much sun", "0 to 1400", func(a *Array) { a.Sun = 2000 }},
		{"too hot", "-40 to 100", func(a *Array) { a.Temp = 200 }},
		{"no module", "electric.FitPV", func(a *Array) { a.Module = electric.PVModule{} }},
		{"a group that is not there", "counted from 0", func(a *Array) { a.Odd = []Odd{{Group: 2}} }},
		{"more than all shade", "must be 0 to 1", func(a *Array) { a.Odd = []Odd{{Shade: 2}} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := good
			c.change(&a)
			if _, err := a.Curve(); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want something with %q", err, c.want)
			}
		})
	}
}
