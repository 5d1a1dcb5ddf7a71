package formula

import "math"

// Val is what is known of one value. Meter error, a spread written in the
// knowledge and "not known" are one thing in three widths: a lowest, a middle
// and a highest. Choices are sets; yes/no says which of the two are possible.
//
// The zero Val is nothing known and nothing possible; use the constructors.
type Val struct {
	Lo, Mid, Hi float64

	// Gain is the part of the half-width that comes from one meter's gain error,
	// as a fraction of Mid. Values with the same Meter share it.
	Gain  float64
	Meter string

	// Words is the set of choices still possible, bit i for option i of the type.
	Words uint64

	CanTrue, CanFalse bool

	// Unknown says that the doubt comes from something not known rather than
	// from limits that are too wide.
	Unknown bool

	// outside is used within an evaluation only; see limits.go.
	outside bool
}

// Exact is a number without doubt.
func Exact(x float64) Val { return Val{Lo: x, Mid: x, Hi: x} }

// Within is a number between two limits.
func Within(lo, mid, hi float64) Val { return Val{Lo: lo, Mid: mid, Hi: hi} }

// Measured is a number read from a meter: gain is a fraction of the value that
// all its readings share, abs what is this reading's own (same unit as mid).
func Measured(mid, gain, abs float64, meter string) Val {
	h := math.Abs(mid)*gain + abs
	return Val{Lo: mid - h, Mid: mid, Hi: mid + h, Gain: gain, Meter: meter}
}

// NotKnown is a number of which only the possible range is known.
func NotKnown(lo, hi float64) Val {
	return Val{Lo: lo, Mid: middle(lo, hi), Hi: hi, Unknown: true}
}

func middle(lo, hi float64) float64 {
	if math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return 0
	}
	return lo + (hi-lo)/2
}

// YesNo is a yes or a no.
func YesNo(yes bool) Val { return Val{CanTrue: yes, CanFalse: !yes} }

// EitherWay is a yes or no that is not known.
func EitherWay() Val { return Val{CanTrue: true, CanFalse: true, Unknown: true} }

// Choice is option i of a choice.
func Choice(i int) Val { return Val{Words: 1 << uint(i)} }

// AnyOf is a choice of which nothing is known but that it is one of n options.
func AnyOf(n int) Val { return Val{Words: 1<<uint(n) - 1, Unknown: true} }
