package electric

import (
	"math"

	"hotlug/engine/formula"
)

// The functions of the table take a list of numbers; these put one in front of a
// function of one to six.

func of1(f func(a float64) (float64, error)) func([]float64) (float64, error) {
	return func(a []float64) (float64, error) { return f(a[0]) }
}

func of2(f func(a, b float64) (float64, error)) func([]float64) (float64, error) {
	return func(a []float64) (float64, error) { return f(a[0], a[1]) }
}

func of3(f func(a, b, c float64) (float64, error)) func([]float64) (float64, error) {
	return func(a []float64) (float64, error) { return f(a[0], a[1], a[2]) }
}

func of4(f func(a, b, c, d float64) (float64, error)) func([]float64) (float64, error) {
	return func(a []float64) (float64, error) { return f(a[0], a[1], a[2], a[3]) }
}

func of5(f func(a, b, c, d, e float64) (float64, error)) func([]float64) (float64, error) {
	return func(a []float64) (float64, error) { return f(a[0], a[1], a[2], a[3], a[4]) }
}

func of6(f func(a, b, c, d, e, g float64) (float64, error)) func([]float64) (float64, error) {
	return func(a []float64) (float64, error) { return f(a[0], a[1], a[2], a[3], a[4], a[5]) }
}

// answers makes a yes-or-no row of f, whose Do gives 1 or 0. The direction of a
// parameter says towards which answer it works: grows is towards yes. What is
// possible within limits is then decided at their corners.
func answers(f *formula.Func) *formula.Func {
	f.YesNo, f.Result = true, unit("1")
	f.Limits = func(args []formula.Val) formula.Val {
		lo, okLow := extreme(f, corners(f, args, false), math.Min)
		hi, okHigh := extreme(f, corners(f, args, true), math.Max)
		if !okLow || !okHigh {
			return formula.Val{Lo: math.NaN(), Hi: math.NaN()}
		}
		return formula.Val{CanTrue: hi > 0.5, CanFalse: lo < 0.5}
	}
	return f
}

// withLimits is answers for a question whose answer does not turn once.
func withLimits(limits func(*formula.Func) func([]formula.Val) formula.Val, f *formula.Func) *formula.Func {
	f.YesNo, f.Result, f.Limits = true, unit("1"), limits(f)
	return f
}

// yes is 1 for yes, 0 for no.
func yes(is bool) float64 {
	if is {
		return 1
	}
	return 0
}
