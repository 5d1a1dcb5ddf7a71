package electric

import "math"

// root finds where f is zero between lo and hi, on which its signs differ, by the
// method of Ridders: halve, take out the bend, put a straight line through. ok is
// false when the signs do not differ or f is not a number on the way.
func root(f func(float64) float64, lo, hi float64) (x float64, ok bool) {
	a, b := f(lo), f(hi)
	for range 100 {
		switch {
		case a == 0:
			return lo, true
		case b == 0:
			return hi, true
		case !(a*b < 0):
			return 0, false
		case math.Abs(hi-lo) <= 4e-16*(math.Abs(lo)+math.Abs(hi)):
			return (lo + hi) / 2, true
		}
		m := lo + (hi-lo)/2
		c := f(m)
		bend := math.Sqrt(c*c - a*b)
		last := x
		x = m + (m-lo)*math.Copysign(c, c*(a-b))/bend
		d := f(x)
		switch {
		case math.IsNaN(c) || math.IsNaN(d):
			return 0, false
		case d == 0 || math.Abs(x-last) <= 1e-13*math.Abs(x):
			return x, true
		case c*d < 0:
			lo, a, hi, b = m, c, x, d
		case a*d < 0:
			hi, b = x, d
		default:
			lo, a = x, d
		}
	}
	return x, true
}

// top finds the highest point of f between lo and hi, where it has one hump
// (golden section).
func top(f func(float64) float64, lo, hi float64) float64 {
	const g = 0.6180339887498949
	a, b := hi-g*(hi-lo), lo+g*(hi-lo)
	fa, fb := f(a), f(b)
	for range 60 {
		if fa < fb {
			lo, a, fa = a, b, fb
			b = lo + g*(hi-lo)
			fb = f(b)
		} else {
			hi, b, fb = b, a, fa
			a = hi - g*(hi-lo)
			fa = f(a)
		}
	}
	return (lo + hi) / 2
}
