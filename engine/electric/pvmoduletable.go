package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

const labelFigures = 6 // parameters of a label, in the order of labelParams

func labelOf(a []float64) PVLabel { return PVLabel{a[0], a[1], a[2], a[3], a[4], a[5]} }

// lit fits the label in front of a list of numbers and puts the module in the
// sun and warmth that follow it.
func lit(fn string, a []float64) (PVCurve, error) {
	m, err := FitPV(fn, labelOf(a))
	if err != nil {
		return PVCurve{}, err
	}
	return inSun(fn, m, a[labelFigures], a[labelFigures+1])
}

func inSun(fn string, m PVModule, sun, temp float64) (PVCurve, error) {
	err := first(span(fn, "the sun", sun, 10, 1400, "W/m²"), span(fn, "a cell temperature", temp, -40, 100, "°C"))
	return m.In(sun, temp), err
}

// pvAsk is a question to a module in a given light; x is what follows sun and
// cell temperature in the row.
type pvAsk func(fn string, c PVCurve, x []float64) (float64, error)

func pvOpenOf(_ string, c PVCurve, _ []float64) (float64, error)  { return c.Open(), nil }
func pvShortOf(_ string, c PVCurve, _ []float64) (float64, error) { return c.AmpsAt(0), nil }
func pvPowerOf(_ string, c PVCurve, _ []float64) (float64, error) {
	v, i := c.Best()
	return v * i, nil
}
func pvVoltsOf(_ string, c PVCurve, _ []float64) (float64, error) { v, _ := c.Best(); return v, nil }
func pvAmpsOf(_ string, c PVCurve, _ []float64) (float64, error)  { _, i := c.Best(); return i, nil }

func pvCurrentOf(fn string, c PVCurve, x []float64) (float64, error) {
	if err := notNegative(fn, "the volts", x[0], "V"); err != nil {
		return 0, err
	}
	if open := c.Open(); x[0] > open {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g V is above the %.4g V that the module has open: no current comes out", x[0], open))
	}
	return max(0, c.AmpsAt(x[0])), nil
}

func pvVoltsAtOf(fn string, c PVCurve, x []float64) (float64, error) {
	short := c.AmpsAt(0)
	if err := notNegative(fn, "the current", x[0], "A"); err != nil {
		return 0, err
	}
	if x[0] > short {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g A is more than the %.4g A that the module gives into a short", x[0], short))
	}
	return max(0, c.VoltsAt(x[0])), nil
}

func pvHarvestOf(fn string, c PVCurve, x []float64) (float64, error) {
	i, err := pvCurrentOf(fn, c, x)
	return i * x[0], err
}

func pvLeadOf(fn string, c PVCurve, x []float64) (float64, error) {
	if err := span(fn, "the resistance in the way", x[0], 0, 100, "ohm"); err != nil {
		return 0, err
	}
	return pvPowerOf(fn, c.WithLead(x[0]), nil)
}

// labelLimits are the limits of a row that fits a label. The label's figures do
// not work one way each, so the fit is made at the corners of the first four and
// at both ends of the two changes with temperature, and what they do to the
// result is added at each end of sun, warmth and the rest; where the result may
// turn inside, points between are tried too. A tenth is added for the bends.
// Label figures known worse than 3 % settle nothing.
func labelLimits(f *formula.Func, ask pvAsk) func([]formula.Val) formula.Val {
	return func(args []formula.Val) formula.Val {
		centre, cornersOf, singles, ok := labelPoints(args)
		fit := func(l PVLabel) PVModule {
			m, err := FitPV(f.Name, l)
			ok = ok && err == nil
			return m
		}
		mid := fit(centre)
		var many, few []PVModule
		for _, l := range cornersOf {
			many = append(many, fit(l))
		}
		for _, l := range singles {
			few = append(few, fit(l))
		}
		if !ok {
			return limits(0, 0, false)
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		lists := between9(f, args)
		var mids []float64
		for _, x := range lists {
			at := func(m PVModule) float64 {
				c, err := inSun(f.Name, m, x[0], x[1])
				y, err2 := ask(f.Name, c, x[2:])
				ok = ok && err == nil && err2 == nil
				return y
			}
			y := at(mid)
			mids = append(mids, y)
			up, down := 0.0, 0.0
			for _, m := range many {
				d := at(m) - y
				up, down = max(up, d), min(down, d)
			}
			for _, m := range few {
				d := at(m) - y
				up, down = up+max(0, d), down+min(0, d)
			}
			lo, hi = min(lo, y+1.1*down), max(hi, y+1.1*up)
		}
		step := 0.0
		if len(lists) > 4 { // points between were tried: the top may lie between two of them
			for i := 1; i < len(mids); i++ {
				step = max(step, math.Abs(mids[i]-mids[i-1]))
			}
		}
		return limits(lo-step/2, hi+step/2, ok)
	}
}

// labelPoints are the labels to fit: the middle, the corners of the first four
// figures, and the ends of the two changes with temperature.
func labelPoints(args []formula.Val) (centre PVLabel, cornersOf, singles []PVLabel, ok bool) {
	ok = true
	mid := make([]float64, labelFigures)
	for i := range mid {
		v := args[i]
		mid[i] = v.Lo + (v.Hi-v.Lo)/2
		ok = ok && (i >= 4 || v.Hi-v.Lo <= 0.06*math.Abs(mid[i]))
	}
	if !ok {
		return
	}
	centre = labelOf(mid)
	lists := [][]float64{mid}
	for i := range 4 {
		if args[i].Lo < args[i].Hi {
			var longer [][]float64
			for _, l := range lists {
				for _, end := range []float64{args[i].Lo, args[i].Hi} {
					x := append([]float64(nil), l...)
					x[i] = end
					longer = append(longer, x)
				}
			}
			lists = longer
		}
	}
	for _, l := range lists {
		cornersOf = append(cornersOf, labelOf(l))
	}
	for i := 4; i < labelFigures; i++ {
		for _, end := range []float64{args[i].Lo, args[i].Hi} {
			if args[i].Lo < args[i].Hi {
				x := append([]float64(nil), mid...)
				x[i] = end
				singles = append(singles, labelOf(x))
			}
		}
	}
	return
}

// between9 lists the values of what follows a label at the ends of their limits,
// and seven points between for a parameter that works both ways.
func between9(f *formula.Func, args []formula.Val) [][]float64 {
	lists := [][]float64{nil}
	for i := labelFigures; i < len(f.Params); i++ {
		v := args[i]
		points := []float64{v.Lo, v.Hi}
		if !(v.Lo < v.Hi) {
			points = points[:1]
		} else if f.Params[i].Dir == formula.Mixed {
			points = nil
			for k := range 9 {
				points = append(points, v.Lo+(v.Hi-v.Lo)*float64(k)/8)
			}
		}
		var longer [][]float64
		for _, l := range lists {
			for _, p := range points {
				longer = append(longer, append(append([]float64(nil), l...), p))
			}
		}
		lists = longer
	}
	return lists
}

func labelParams() []formula.Param {
	return []formula.Param{
		in("voc", "V", mixed, "open volts, label"), in("isc", "A", mixed, "short-circuit amps, label"),
		in("vmp", "V", mixed, "volts at the best point, label"), in("imp", "A", mixed, "amps at the best point, label"),
		usually(in("alpha", "%/K", mixed, "change of amps, label: about 0.05"), "0.05 %/K"),
		usually(in("beta", "%/K", mixed, "change of open volts, label: -0.24 to -0.36"), "-0.30 %/K"),
	}
}

// pvModuleTable are the questions to one module by its label. For an array of n
// in series and m strings multiply volts by n, amps by m.
func pvModuleTable() []*formula.Func {
	const source = "one-diode model of De Soto, Klein and Beckman, Solar Energy 80 (2006) [textbook], fitted to the label"
	const holds = "one crystalline module, clean, no shade, 10 to 1400 W/m², -40 to 100 °C; up to 3 % high below 300 W/m²"
	row := func(name, title, result, text string, ask pvAsk, sunDir, tempDir formula.Dir, rest ...formula.Param) *formula.Func {
		f := &formula.Func{Name: name, Area: "pv", Title: title, Result: unit(result), Text: text, Source: source, Domain: holds}
		f.Params = append(append(labelParams(), in("sun", "W/m2", sunDir, "sun on the module"), in("cell_temp", "degC", tempDir, "temperature of the cells")), rest...)
		f.Do = func(a []float64) (float64, error) {
			c, err := lit(name, a)
			if err != nil {
				return 0, err
			}
			return ask(name, c, a[labelFigures+2:])
		}
		f.Limits = labelLimits(f, ask)
		f.Example = "voc=37.1V isc=13.75A vmp=31.1V imp=12.87A sun=800W/m2 cell-temp=45C"
		for _, p := range rest {
			f.Example += " " + map[string]string{"volts": "volts=28V", "amps": "amps=8A", "battery": "battery=13.5V", "ohm": "ohm=0.2ohm"}[p.Name]
		}
		return f
	}
	at := in("volts", "V", falls, "volts at the module")
	return []*formula.Func{
		row("pv_power", "Most power of a module now", "W", "largest V·I of the curve", pvPowerOf, grows, falls),
		row("pv_best_volts", "Volts of a module at its best point", "V", "V where V·I is largest", pvVoltsOf, mixed, falls),
		row("pv_best_amps", "Amps of a module at its best point", "A", "I where V·I is largest", pvAmpsOf, grows, mixed),
		row("pv_open_volts", "Open volts of a module now", "V", "V where I = 0", pvOpenOf, grows, falls),
		row("pv_short_amps", "Short-circuit amps of a module now", "A", "I where V = 0", pvShortOf, grows, grows),
		row("pv_current_at", "Amps of a module at given volts", "A", "I = IL - I0·(exp((V + I·Rs)/a) - 1) - (V + I·Rs)/Rsh", pvCurrentOf, grows, mixed, at),
		row("pv_volts_at", "Volts of a module at a given current", "V", "V where the curve gives I", pvVoltsAtOf, grows, mixed, in("amps", "A", falls, "current of the module")),
		row("pwm_watts", "Power of a module on a pulse-width controller", "W", "P = I(Vb)·Vb", pvHarvestOf, grows, mixed, in("battery", "V", mixed, "volts at the battery")),
		row("pv_power_through", "Most power of a module through a bad joint", "W", "largest V·I behind Rx", pvLeadOf, grows, falls, in("ohm", "ohm", falls, "resistance of leads and joints of this module")),
	}
}
