package quantity

import "math"

// Limits are the values a reading can have at all (possible) and those that it
// usually has (plausible), in the unit of its kind. All four are inclusive.
type Limits struct{ PossibleLo, PossibleHi, PlausibleLo, PlausibleHi float64 }

// Judgement says how a value sits in its Limits.
type Judgement int

const (
	Fine       Judgement = iota // plausible
	Odd                         // possible, but worth asking once more
	Impossible                  // can't be
)

func (j Judgement) String() string {
	switch j {
	case Fine:
		return "fine"
	case Odd:
		return "odd"
	}
	return "impossible"
}

// Judge says how v sits in the limits. What is no number is impossible. Rounding
// in the last bits (20.0 °C typed as 68 °F) never pushes a value over an edge.
func (l Limits) Judge(v float64) Judgement {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0) || !within(v, l.PossibleLo, l.PossibleHi):
		return Impossible
	case !within(v, l.PlausibleLo, l.PlausibleHi):
		return Odd
	}
	return Fine
}

func within(v, lo, hi float64) bool {
	return v >= lo-1e-9*math.Abs(lo) && v <= hi+1e-9*math.Abs(hi)
}

// mostSlips is how many guesses a person can be asked to choose from.
const mostSlips = 3

// A meter left on its milli range shows figures of this size and more; below,
// a missed point is likelier than a missed prefix.
const milliFigure = 20

// Slips lists what was likely meant by v, best first, at most three: a wrong
// sign, a missed decimal point (÷10, ÷100, ×10, ×100), a missed prefix (÷1000,
// ×1000), and for places on the Celsius scale a figure in °F. Only plausible
// values are listed. Out-by-ten is the best known class of slip in entering
// numbers (published experiments); the order is practice.
func Slips(v float64, k Kind, l Limits) []float64 {
	return SlipsThat(v, k, l, func(float64) bool { return true })
}

// SlipsThat lists those of the slips that fit something else besides their range.
func SlipsThat(v float64, k Kind, l Limits, fits func(float64) bool) []float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	guesses := []float64{-v, v / 10, v / 100, v / 1000, v * 10, v * 1000, v * 100}
	if prefixMissed(v, k) {
		guesses = []float64{-v, v / 1000, v / 10, v / 100, v * 10, v * 1000, v * 100}
	}
	if k.Unit.Point {
		guesses = []float64{(v - 32) * 5 / 9, -v, v / 10, v * 10}
	}
	var out []float64
	for _, g := range guesses {
		if g != v && len(out) < mostSlips && l.Judge(g) == Fine && fits(g) {
			out = append(out, g)
		}
	}
	return out
}

// prefixMissed says that v looks read off a milli range: the quantity has one,
// and the figure is too large for the plain unit but usual for the prefix.
func prefixMissed(v float64, k Kind) bool {
	if math.Abs(v) < milliFigure {
		return false
	}
	for _, s := range []string{"V", "A", "ohm", "m"} {
		if k.Unit.Like(MustUnit(s)) {
			return true
		}
	}
	return false
}
