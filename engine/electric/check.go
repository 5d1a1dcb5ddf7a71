package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// span refuses a number outside lo to hi, both allowed; NaN is outside too.
func span(fn, what string, x, lo, hi float64, unit string) error {
	if x >= lo && x <= hi {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return formula.Outside(fn, fmt.Sprintf("%s of %.6g%s is outside what it holds for, %.6g to %.6g%s", what, x, unit, lo, hi, unit))
}

// positive refuses zero, negative numbers, NaN and infinity.
func positive(fn, what string, x float64, unit string) error {
	if x > 0 && !math.IsInf(x, 1) {
		return nil
	}
	return formula.Outside(fn, fmt.Sprintf("%s must be above zero, and is %.6g %s", what, x, unit))
}

// notNegative refuses negative numbers, NaN and infinity.
func notNegative(fn, what string, x float64, unit string) error {
	if x >= 0 && !math.IsInf(x, 1) {
		return nil
	}
	return formula.Outside(fn, fmt.Sprintf("%s cannot be below zero, and is %.6g %s", what, x, unit))
}

// finite refuses NaN and infinity.
func finite(fn, what string, x float64, unit string) error {
	if !math.IsNaN(x) && !math.IsInf(x, 0) {
		return nil
	}
	return formula.Outside(fn, fmt.Sprintf("%s is not a number of %s", what, unit))
}

// first returns the first error of several checks.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// chosen refuses a choice that is not one of n options.
func chosen(fn, what string, i, n int) error {
	if i >= 0 && i < n {
		return nil
	}
	return formula.Outside(fn, fmt.Sprintf("%s has %d options and none of number %d", what, n, i+1))
}

// twelves is how many 12 V systems stand in series: 1, 2 or 4 for 12, 24, 48 V.
// A nominal voltage of which only the range is known falls in between.
func twelves(fn string, system float64) (float64, error) {
	return system / 12, span(fn, "a system voltage", system, 11, 52, "V")
}

// along reads a table of rising x by straight lines between its points. x must
// lie inside the table.
func along(xs, ys []float64, x float64) float64 {
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] {
			t := (x - xs[i-1]) / (xs[i] - xs[i-1])
			return ys[i-1] + t*(ys[i]-ys[i-1])
		}
	}
	return ys[len(ys)-1]
}

// alongLog is along on logarithms of both, for quantities that go by ratios.
func alongLog(xs, ys []float64, x float64) float64 {
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] || i == len(xs)-1 {
			t := math.Log(x/xs[i-1]) / math.Log(xs[i]/xs[i-1])
			return ys[i-1] * math.Pow(ys[i]/ys[i-1], t)
		}
	}
	return ys[0]
}

// next finds the smallest of a rising list that is not below x.
func next(list []float64, x float64) (float64, bool) {
	for _, s := range list {
		if s >= x {
			return s, true
		}
	}
	return 0, false
}
