package formula

import "math"

// plainFuncs are the functions that belong to no trade.
func plainFuncs() []*Func {
	any1 := func(name, doc string, dir Dir) Param { return Param{Name: name, Same: 1, Dir: dir, Doc: doc} }
	return []*Func{
		{Name: "abs", Area: "plain", Title: "Size without sign", Example: "a=-3V", Text: "|a|", ResultSame: 1,
			Params: []Param{any1("a", "any number", Mixed)},
			Do:     func(a []float64) (float64, error) { return math.Abs(a[0]), nil },
			Limits: func(a []Val) Val {
				lo, hi := awayFromZero(a[0].Lo, a[0].Hi)
				return Val{Lo: lo, Hi: hi}
			}},
		{Name: "min", Area: "plain", Title: "Lowest", Example: "a=3V b=5V", Text: "the lowest of a, b, ...", ResultSame: 1, More: true,
			Params: []Param{any1("a", "a number", Grows), any1("b", "one like it", Grows)},
			Do: func(a []float64) (float64, error) {
				r := a[0]
				for _, x := range a {
					r = math.Min(r, x)
				}
				return r, nil
			}},
		{Name: "max", Area: "plain", Title: "Highest", Example: "a=3V b=5V", Text: "the highest of a, b, ...", ResultSame: 1, More: true,
			Params: []Param{any1("a", "a number", Grows), any1("b", "one like it", Grows)},
			Do: func(a []float64) (float64, error) {
				r := a[0]
				for _, x := range a {
					r = math.Max(r, x)
				}
				return r, nil
			}},
		{Name: "mean", Area: "plain", Title: "Mean", Example: "a=3V b=5V", Text: "(a + b + ...) / n", ResultSame: 1, More: true,
			Params: []Param{any1("a", "a number", Grows), any1("b", "one like it", Grows)},
			Do: func(a []float64) (float64, error) {
				sum := 0.0
				for _, x := range a {
					sum += x
				}
				return sum / float64(len(a)), nil
			}},
		{Name: "near", Area: "plain", Title: "Near each other", Example: "a=12.6V b=12.5V by=0.2V", Text: "|a - b| <= by", YesNo: true,
			Params: []Param{any1("a", "a number", Mixed), any1("b", "one like it", Mixed),
				{Name: "by", Same: -1, Dir: Mixed, Doc: "how far apart they may be"}},
			Do: func(a []float64) (float64, error) {
				if math.Abs(a[0]-a[1]) <= a[2] {
					return 1, nil
				}
				return 0, nil
			},
			Limits: func(a []Val) Val {
				lo, hi := awayFromZero(a[0].Lo-a[1].Hi, a[0].Hi-a[1].Lo)
				return Val{CanTrue: lo <= a[2].Hi, CanFalse: hi > a[2].Lo}
			}},
		{Name: "part", Area: "plain", Title: "Percentage as a plain number", Example: "p=3%", Text: "p / 100", Result: one,
			Params: []Param{{Name: "p", Unit: percentUnit, Dir: Grows, Doc: "a percentage"}},
			Do:     func(a []float64) (float64, error) { return a[0] / 100, nil }},
		{Name: "degC", Area: "plain", Title: "A temperature", Example: "n=25", Text: "n °C", Result: celsiusUnit,
			Params: []Param{{Name: "n", Unit: one, Dir: Grows, Doc: "a plain number"}},
			Do:     func(a []float64) (float64, error) { return a[0], nil }},
		{Name: "kelvin", Area: "plain", Title: "A difference of temperatures", Example: "n=10", Text: "n K", Result: kelvinUnit,
			Params: []Param{{Name: "n", Unit: one, Dir: Grows, Doc: "a plain number"}},
			Do:     func(a []float64) (float64, error) { return a[0], nil }},
	}
}

// awayFromZero is how near to zero and how far from it lo to hi comes.
func awayFromZero(lo, hi float64) (near, far float64) {
	far = math.Max(math.Abs(lo), math.Abs(hi))
	if lo <= 0 && hi >= 0 {
		return 0, far
	}
	return math.Min(math.Abs(lo), math.Abs(hi)), far
}
