package electric

import (
	"math"

	"hotlug/engine/formula"
)

// needsLimits says that a function has a number without direction. Words need
// none: the evaluator tries each word that is possible.
func needsLimits(f *formula.Func) bool {
	for _, p := range f.Params {
		if len(p.Choices) == 0 && p.Dir == formula.Mixed {
			return true
		}
	}
	return false
}

// atCorners builds the Limits of a function that is monotone in each parameter
// while the others stand still, even if the direction turns with the others:
// such a function is lowest and highest at corners of the box. Every word still
// possible of a choice is tried. The evaluator adds the middle itself.
func atCorners(f *formula.Func) func([]formula.Val) formula.Val {
	return func(args []formula.Val) formula.Val {
		lo, okLow := extreme(f, corners(f, args, false), math.Min)
		hi, okHigh := extreme(f, corners(f, args, true), math.Max)
		return limits(lo, hi, okLow && okHigh)
	}
}

// limits are the limits of a result; those of a box that leaves the domain are
// not numbers, which the evaluator takes as "not settled".
func limits(lo, hi float64, inside bool) formula.Val {
	if !inside {
		return formula.Val{Lo: math.NaN(), Hi: math.NaN()}
	}
	return formula.Val{Lo: lo, Hi: hi}
}

// corners lists the argument lists that can give the lowest (or highest) result.
func corners(f *formula.Func, args []formula.Val, highest bool) [][]float64 {
	lists := [][]float64{nil}
	for i, p := range f.Params {
		var ends []float64
		switch {
		case len(p.Choices) > 0:
			for w := range p.Choices {
				if args[i].Words&(1<<uint(w)) != 0 {
					ends = append(ends, float64(w))
				}
			}
		case p.Dir == formula.Mixed:
			ends = []float64{args[i].Lo, args[i].Hi}
		case (p.Dir == formula.Grows) == highest:
			ends = []float64{args[i].Hi}
		default:
			ends = []float64{args[i].Lo}
		}
		var longer [][]float64
		for _, l := range lists {
			for _, e := range ends {
				longer = append(longer, append(append([]float64(nil), l...), e))
			}
		}
		lists = longer
	}
	return lists
}

func extreme(f *formula.Func, lists [][]float64, pick func(a, b float64) float64) (float64, bool) {
	var best float64
	for i, l := range lists {
		y, err := f.Do(l)
		if err != nil {
			return 0, false
		}
		if i == 0 {
			best = y
		}
		best = pick(best, y)
	}
	return best, len(lists) > 0
}
