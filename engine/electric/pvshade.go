package electric

import (
	"math"

	"hotlug/engine/formula"
)

// Cells are equal cells in series with the same light: a Share of the module's
// series cells (one of 36 is 1/36.0) in Light of the sun that the module has.
type Cells struct{ Share, Light float64 }

// Group is the cells between two taps of a module, with one bypass diode over
// them. Halves is set for half-cut modules, whose two halves lie side by side:
// the second list is the other half. Shorted and Open are the diode's or the
// ribbon's faults.
type Group struct {
	Cells   []Cells
	Halves  []Cells
	Shorted bool // its diode conducts both ways
	Broken  bool // its ribbon is broken: only the diode carries
	NoDiode bool // its diode is open
}

// PVString is groups of one module type in series: a module, or several. A
// second module type goes in as another string behind the first (Behind).
type PVString struct {
	Module    PVModule
	Sun, Temp float64
	Groups    []Group
	Behind    *PVString
}

// EvenGroups is a module of diodes equal groups, group i in light[i] of the sun.
func EvenGroups(diodes int, light ...float64) []Group {
	all := make([]Group, diodes)
	for i := range all {
		l := 1.0
		if i < len(light) {
			l = light[i]
		}
		all[i].Cells = []Cells{{1 / float64(diodes), l}}
	}
	return all
}

// part is a share of the module's cells in a light: volts, ohms and steepness go
// by the share, leak over it. A half of a half-cut module has half the area.
func (s PVString) part(c Cells, area float64) PVCurve {
	m := s.Module.In(s.Sun*c.Light, s.Temp)
	return PVCurve{light: m.light * area, dark: m.dark * area, ohm: m.ohm * c.Share / area, leak: m.leak * area / c.Share, a: m.a * c.Share}
}

func (s PVString) cellsVolts(list []Cells, area, amps float64) float64 {
	v := 0.0
	for _, c := range list {
		v += s.part(c, area).VoltsAt(amps)
	}
	return v
}

// groupVolts is the volts of a group at a current; a conducting diode holds it
// at -0.45 V.
func (s PVString) groupVolts(g Group, amps float64) float64 {
	floor := -bypassVolts
	if g.NoDiode {
		floor = math.Inf(-1)
	}
	if g.Shorted {
		return 0
	}
	if g.Broken {
		if amps <= 0 {
			return 0
		}
		return floor
	}
	if g.Halves == nil {
		return max(s.cellsVolts(g.Cells, 1, amps), floor)
	}
	// Two halves at the same volts share the current.
	share, ok := root(func(i float64) float64 {
		return s.cellsVolts(g.Cells, 0.5, i) - s.cellsVolts(g.Halves, 0.5, amps-i)
	}, s.leastHalf(g.Cells), amps-s.leastHalf(g.Halves))
	if !ok {
		return floor
	}
	return max(s.cellsVolts(g.Cells, 0.5, share), floor)
}

// leastHalf is as far below zero as the current of a half can be pushed by its twin.
func (s PVString) leastHalf([]Cells) float64 { return -s.Module.light * s.Sun / standardSun }

// VoltsAt is the volts of the whole string at a current.
func (s PVString) VoltsAt(amps float64) float64 {
	v := 0.0
	for _, g := range s.Groups {
		v += s.groupVolts(g, amps)
	}
	if s.Behind != nil {
		v += s.Behind.VoltsAt(amps)
	}
	return v
}

// Open is the open volts of the string.
func (s PVString) Open() float64 { return s.VoltsAt(0) }

// AmpsAt is the current of the string at volts, 0 above its open volts.
func (s PVString) AmpsAt(volts float64) float64 {
	if volts >= s.Open() {
		return 0
	}
	i, _ := root(func(i float64) float64 { return s.VoltsAt(i) - volts }, 0, 1.5*s.most())
	return i
}

func (s PVString) most() float64 {
	i := s.Module.In(s.Sun, s.Temp).light
	if s.Behind != nil {
		i = max(i, s.Behind.most())
	}
	return i
}

// Peak is a local best point of a string or array.
type Peak struct{ Volts, Amps float64 }

// Watts is the power at the peak.
func (p Peak) Watts() float64 { return p.Volts * p.Amps }

// Peaks are the local best points of strings side by side, by rising volts. A
// string that alone has less than the volts asked gives nothing, as behind a
// blocking diode.
func Peaks(strings ...PVString) []Peak {
	open, amps := 0.0, 0.0
	for _, s := range strings {
		open, amps = max(open, s.Open()), amps+1.5*s.most()
	}
	watts := func(v float64) float64 {
		i := 0.0
		for _, s := range strings {
			i += s.AmpsAt(v)
		}
		return v * i
	}
	if len(strings) == 1 { // one string: walk by current, where every kink is sharp
		return stringPeaks(strings[0])
	}
	return peaksOf(watts, open, func(v float64) Peak { return Peak{v, watts(v) / v} })
}

func stringPeaks(s PVString) []Peak {
	i := s.AmpsAt(0)
	all := peaksOf(func(i float64) float64 { return i * max(0, s.VoltsAt(i)) }, i, func(i float64) Peak { return Peak{s.VoltsAt(i), i} })
	for a, b := 0, len(all)-1; a < b; a, b = a+1, b-1 {
		all[a], all[b] = all[b], all[a]
	}
	return all
}

// peaksOf walks 400 steps from 0 to end and closes in on each hump.
func peaksOf(f func(float64) float64, end float64, peak func(float64) Peak) []Peak {
	const steps = 400
	var all []Peak
	var y [steps + 1]float64
	for k := range y {
		y[k] = f(end * float64(k) / steps)
	}
	for k := 1; k < steps; k++ {
		if y[k] > y[k-1] && y[k] >= y[k+1] {
			all = append(all, peak(top(f, end*float64(k-1)/steps, end*float64(k+1)/steps)))
		}
	}
	return all
}

// Best is the highest of peaks; the zero Peak when there is none.
func Best(peaks []Peak) Peak {
	var b Peak
	for _, p := range peaks {
		if p.Watts() > b.Watts() {
			b = p
		}
	}
	return b
}

// BypassedVolts is about where the best point of a string moves when dark of its
// groups are bypassed: V·(N - k)/N - 0.45·k. groups is diodes per module times
// modules in series; most 36-cell modules have two diodes, others three.
// Errors: more dark groups than there are.
func BypassedVolts(volts, groups, dark float64) (float64, error) {
	const fn = "pv_bypassed_volts"
	if err := first(notNegative(fn, "the best-point volts", volts, "V"), span(fn, "groups with a diode", groups, 1, 300, ""), span(fn, "groups bypassed", dark, 0, groups, "")); err != nil {
		return 0, err
	}
	return max(0, volts*(groups-dark)/groups-bypassVolts*dark), nil
}

// ShortedOpenVolts is the open volts of a string of volts when dark of its groups
// have a shorted diode: V·(N - k)/N. Shade hardly moves open volts; this does.
func ShortedOpenVolts(open, groups, dark float64) (float64, error) {
	const fn = "pv_shorted_volts"
	if err := first(notNegative(fn, "the open volts", open, "V"), span(fn, "groups with a diode", groups, 1, 300, ""), span(fn, "groups shorted", dark, 0, groups, "")); err != nil {
		return 0, err
	}
	return open * (groups - dark) / groups, nil
}

// DiodeWatts is the heat in watts of one bypass diode that carries amps.
func DiodeWatts(amps float64) (float64, error) {
	return bypassVolts * amps, notNegative("diode_watts", "the current", amps, "A")
}

func pvShadeTable() []*formula.Func {
	const model = "one-diode model by groups [derived]"
	groups := func(d formula.Dir) formula.Param {
		return in("groups", "1", d, "bypass diodes per module times modules in series; read the label or count")
	}
	dark := in("dark", "1", falls, "groups bypassed or shorted")
	return []*formula.Func{
		{
			Name: "pv_bypassed_volts", Area: "pv", Title: "Best-point volts with groups bypassed",
			Params: []formula.Param{in("volts", "V", grows, "best-point volts without shade"), groups(grows), dark}, Result: unit("V"),
			Text: "V·(N - k)/N - 0.45·k", Source: model, Domain: "±4 %; 36-cell modules mostly have 2 diodes, others 3",
			Example: "volts=57.9V groups=6 dark=1", Do: of3(BypassedVolts),
		},
		{
			Name: "pv_shorted_volts", Area: "pv", Title: "Open volts with bypass diodes shorted",
			Params: []formula.Param{in("open", "V", grows, "open volts expected"), groups(grows), dark}, Result: unit("V"),
			Text: "V·(N - k)/N", Source: model, Domain: "a broken ribbon reads up to 0.4 V less; shade hardly moves open volts",
			Example: "open=34.7V groups=3 dark=1", Do: of3(ShortedOpenVolts),
		},
		{
			Name: "diode_watts", Area: "pv", Title: "Heat of a conducting bypass diode",
			Params: []formula.Param{in("amps", "A", grows, "current of the string")}, Result: unit("W"), Act: grows,
			Text: "P = 0.45·I", Source: "typical Schottky diode, 0.35 to 0.55 V", Domain: "any",
			Example: "amps=11.1A", Do: of1(DiodeWatts),
		},
	}
}
