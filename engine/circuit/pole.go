package circuit

import (
	"fmt"
	"math"
)

// Pole is a part whose current follows its volts. At gives the amps into its
// plus terminal at volts from plus to minus, and the slope of that in S; both
// must be finite for all finite volts, and the slope continuous but for kinks.
type Pole interface {
	At(volts float64) (amps, siemens float64)
}

// limiter is a Pole with a bend so sharp that Newton's step from old to wanted
// has to be shortened.
type limiter interface {
	limit(old, wanted float64) float64
}

const (
	boltzmannVolt = 8.617333e-5 // V/K, Boltzmann's constant over the charge
	steepest      = 60.0        // exponents above go on as a straight line
)

// Diode conducts from plus to minus: Is·(exp(V/(N·k·Tk/q)) - 1) [Shockley]. Is is
// in A, N the ideality (1 to 2), Tk the junction's temperature in K.
type Diode struct{ Is, N, Tk float64 }

func (d Diode) check() string {
	if d.Is > 0 && d.N > 0 && d.Tk > 0 && finite(d.Is) && finite(d.N) && finite(d.Tk) {
		return ""
	}
	return fmt.Sprintf("a diode of Is = %g A, N = %g at %g K; all three must be above 0", d.Is, d.N, d.Tk)
}

func (d Diode) steep() float64 { return d.N * boltzmannVolt * d.Tk }

// At is the current in A and its slope.
func (d Diode) At(volts float64) (amps, siemens float64) {
	w := d.steep()
	x := volts / w
	if x > steepest {
		e := math.Exp(steepest)
		return d.Is * (e*(1+x-steepest) - 1), d.Is * e / w
	}
	return d.Is * math.Expm1(x), d.Is * math.Exp(x) / w
}

// limit is the usual one for junctions: above the bend, volts grow by the
// logarithm of the current wanted.
func (d Diode) limit(old, wanted float64) float64 {
	w := d.steep()
	bend := w * math.Log(w/(math.Sqrt2*d.Is))
	if wanted <= bend || math.Abs(wanted-old) <= 2*w {
		return wanted
	}
	if old > 0 {
		if x := 1 + (wanted-old)/w; x > 0 {
			return old + w*math.Log(x)
		}
		return bend
	}
	return w * math.Log(wanted/w)
}

// Watts takes P watts at whatever volts from Least up; below, its current falls
// in a straight line to none at 0 V and goes on so in reverse (a resistance of
// Least²/P), so that there is always a solution.
type Watts struct{ P, Least float64 }

func (p Watts) check() string {
	if finite(p.P) && p.Least > 0 && finite(p.Least) {
		return ""
	}
	return fmt.Sprintf("a load of %g W down to %g V; the volts must be above 0", p.P, p.Least)
}

// At is the current in A and its slope, which is below zero above Least.
func (p Watts) At(volts float64) (amps, siemens float64) {
	if volts >= p.Least {
		return p.P / volts, -p.P / (volts * volts)
	}
	g := p.P / (p.Least * p.Least)
	return g * volts, g
}
