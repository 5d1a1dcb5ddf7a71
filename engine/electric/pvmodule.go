package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// PVLabel is what the label of a crystalline module says at 1000 W/m² and 25 °C
// cells: open volts, short-circuit amps, volts and amps at the best point, and
// how amps (Alpha) and volts (Beta) move with temperature, in % per K.
type PVLabel struct{ Open, Short, Volts, Amps, Alpha, Beta float64 }

// PVModule is the one-diode model of a module (De Soto, Klein and Beckman, Solar
// Energy 80, 2006): I = IL - I0·(exp((V + I·Rs)/a) - 1) - (V + I·Rs)/Rsh, fitted
// by FitPV. It is for crystalline cells; below 300 W/m² it is up to 3 % high.
type PVModule struct {
	light float64 // A, light current
	dark  float64 // A, saturation current of the diode
	ohm   float64 // Ω in series
	leak  float64 // 1/Ω beside the diode
	a     float64 // V, how steep the diode is
	alpha float64 // A/K, light current against temperature
}

const (
	standardSun  = 1000.0
	standardCell = 25.0
	zeroC        = 273.15
	gap          = 1.121       // eV, silicon at 25 °C
	gapPerK      = 0.0002677   // of the gap, per K
	boltzmann    = 8.617333e-5 // eV/K
	fitStep      = 10.0        // K above 25 °C at which the change of open volts is met
	bypassVolts  = 0.45        // V over a conducting bypass diode, 0.35 to 0.55 typical
)

// FitPV finds the five numbers of a module that meet its label exactly: short
// circuit, open circuit, best point, no slope of the power there, and the open
// volts at 35 °C. With the steepness a and the series resistance given, the other
// three follow from a linear system, so two nested searches in brackets find
// all; that takes some microseconds and needs no library, which keeps the
// start of a chat short. The number of cells is not needed.
// Errors, as *formula.DomainError under fn: label figures that no curve meets.
func FitPV(fn string, l PVLabel) (PVModule, error) {
	if err := first(
		span(fn, "the open volts of the label", l.Open, 0.1, 500, "V"), span(fn, "the short-circuit amps of the label", l.Short, 0.01, 30, "A"),
		span(fn, "the best-point volts of the label", l.Volts, 0.6*l.Open, 0.95*l.Open, "V"), span(fn, "the best-point amps of the label", l.Amps, 0.8*l.Short, 0.99*l.Short, "A"),
		span(fn, "the change of amps", l.Alpha, 0, 0.2, "%/K"), span(fn, "the change of volts", l.Beta, -0.6, -0.1, "%/K"),
	); err != nil {
		return PVModule{}, err
	}
	most := 0.98 * (l.Open - l.Volts) / l.Amps
	given := func(a float64) PVModule {
		m := PVModule{a: a, alpha: l.Alpha / 100 * l.Short}
		ohm, _ := root(func(ohm float64) float64 { m.meet(l, ohm); return m.slopeMiss(l) }, 0, most)
		m.meet(l, ohm)
		return m
	}
	// The steepest diode that leaves room for a series resistance.
	widest, _ := root(func(a float64) float64 { m := PVModule{a: a}; m.meet(l, 0); return m.slopeMiss(l) }, 0.012*l.Open, 0.1*l.Open)
	hot := l.Open * (1 + l.Beta/100*fitStep)
	a, ok := root(func(a float64) float64 {
		w := given(a).In(standardSun, standardCell+fitStep)
		return w.amps(hot)
	}, 0.012*l.Open, widest)
	m := given(a)
	if !ok || !(m.ohm >= 0) || !(m.leak >= 0) || !(m.dark > 0) || !(math.Abs(m.slopeMiss(l)) <= 1e-6*l.Short) {
		return PVModule{}, formula.Outside(fn, fmt.Sprintf("no module has these figures together: %.4g V open, %.4g A short, %.4g V and %.4g A at its best, %.3g %%/K; read the label again", l.Open, l.Short, l.Volts, l.Amps, l.Beta))
	}
	return m, nil
}

// meet solves for light, dark and leak so that short circuit, open circuit and
// best point of the label lie on the curve, with a given and ohm in series.
func (m *PVModule) meet(l PVLabel, ohm float64) {
	v1, v2, v3 := l.Short*ohm, l.Open, l.Volts+l.Amps*ohm
	e1, e2, e3 := math.Expm1(v1/m.a), math.Expm1(v2/m.a), math.Expm1(v3/m.a)
	det := (e2-e1)*(v3-v1) - (e3-e1)*(v2-v1)
	m.ohm = ohm
	m.dark = (l.Short*(v3-v1) - (l.Short-l.Amps)*(v2-v1)) / det
	m.leak = ((e2-e1)*(l.Short-l.Amps) - (e3-e1)*l.Short) / det
	m.light = m.dark*e2 + m.leak*v2
}

// slopeMiss is how far the slope of the power at the best point is from none, in A.
func (m *PVModule) slopeMiss(l PVLabel) float64 {
	g := m.dark/m.a*math.Exp((l.Volts+l.Amps*m.ohm)/m.a) + m.leak
	return l.Amps - l.Volts*g/(1+g*m.ohm)
}

// PVCurve is a module, or equal parts of one, in a given light and warmth.
type PVCurve struct{ light, dark, ohm, leak, a float64 }

// In is the module at sun W/m² with its cells at temp °C. Callers check both.
func (m PVModule) In(sun, temp float64) PVCurve {
	t, t0 := temp+zeroC, standardCell+zeroC
	g := sun / standardSun
	eg := gap * (1 - gapPerK*(t-t0))
	return PVCurve{
		light: g * (m.light + m.alpha*(t-t0)),
		dark:  m.dark * math.Pow(t/t0, 3) * math.Exp(gap/(boltzmann*t0)-eg/(boltzmann*t)),
		ohm:   m.ohm, leak: g * m.leak, a: m.a * t / t0,
	}
}

// WithLead is the curve with ohms of lead or bad joints in series.
func (c PVCurve) WithLead(ohm float64) PVCurve { c.ohm += ohm; return c }

// amps is the current when the diode stands at vd volts.
func (c PVCurve) amps(vd float64) float64 { return c.light - c.dark*math.Expm1(vd/c.a) - vd*c.leak }

// ceiling is diode volts just above the open volts.
func (c PVCurve) ceiling() float64 { return c.a * math.Log1p(c.light/c.dark) * (1 + 1e-9) }

// Open is the open volts.
func (c PVCurve) Open() float64 {
	if c.light <= 0 {
		return 0
	}
	v, _ := root(c.amps, 0, c.ceiling())
	return v
}

// AmpsAt is the current at volts at the terminals; below zero above the open volts.
func (c PVCurve) AmpsAt(volts float64) float64 {
	vd, _ := root(func(vd float64) float64 { return vd - c.ohm*c.amps(vd) - volts }, min(0, volts), max(c.ceiling(), volts)+c.ohm*c.light)
	return c.amps(vd)
}

// VoltsAt is the volts at the terminals at a current, below zero when the light
// cannot give it; no limit (-Inf) when nothing at all carries it.
func (c PVCurve) VoltsAt(amps float64) float64 {
	low := 0.0
	if amps > c.light {
		if c.leak <= 0 {
			return math.Inf(-1)
		}
		low = -2 * (amps - c.light) / c.leak
	}
	high := c.a * math.Log1p((c.light-min(amps, 0))/c.dark) * (1 + 1e-9)
	if high <= low {
		return low - c.ohm*amps
	}
	vd, _ := root(func(vd float64) float64 { return c.amps(vd) - amps }, low, high)
	return vd - c.ohm*amps
}

// Best is the best point: volts and amps.
func (c PVCurve) Best() (volts, amps float64) {
	vd := top(func(vd float64) float64 { i := c.amps(vd); return (vd - c.ohm*i) * i }, 0, c.ceiling())
	i := c.amps(vd)
	return vd - c.ohm*i, i
}
