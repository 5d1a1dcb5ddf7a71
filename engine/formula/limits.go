package formula

import "math"

var (
	negInf = math.Inf(-1)
	posInf = math.Inf(1)
	nan    = math.NaN()
)

// Inside the evaluation a Val carries a little more than its users see. A yes or
// no has its middle in Mid: 1 for yes, 0 for no, between them when not even the
// middle is known. Mid is NaN where the middle has no value. outside says that
// part of the limits lies where a function or a division has no answer; such a
// value settles nothing.

// truth is a yes or no with its middle filled in.
func truth(yes bool) Val {
	if yes {
		return Val{CanTrue: true, Mid: 1}
	}
	return Val{CanFalse: true}
}

// undefined is what comes of a value somewhere outside its formula's domain.
func undefined(mid float64, unknown bool) Val {
	return Val{Lo: negInf, Mid: mid, Hi: posInf, Unknown: unknown, outside: true}
}

// clean is a number whose limits are numbers: NaN or turned-round limits become
// the whole line, and limits always hold their middle.
func clean(v Val) Val {
	if !(v.Lo <= v.Hi) {
		return undefined(v.Mid, v.Unknown)
	}
	if v.Mid < v.Lo {
		v.Lo = v.Mid
	}
	if v.Mid > v.Hi {
		v.Hi = v.Mid
	}
	return v
}

// taken is a value as it comes from outside, made fit to be reckoned with.
func taken(v Val, t *Type) Val {
	switch t.Class {
	case ClassYesNo:
		v.Mid = 0.5
		switch {
		case v.CanTrue && !v.CanFalse:
			v.Mid = 1
		case v.CanFalse && !v.CanTrue:
			v.Mid = 0
		case !v.CanTrue:
			v.CanTrue, v.CanFalse, v.Unknown = true, true, true
		}
		return v
	case ClassChoice:
		all := AnyOf(len(t.Options)).Words
		if v.Words &= all; v.Words == 0 {
			v.Words, v.Unknown = all, true
		}
		return v
	}
	v.Meter, v.Gain = "", 0
	if math.IsNaN(v.Mid) {
		return undefined(nan, v.Unknown)
	}
	return clean(v)
}

func add(a, b Val) Val {
	return number(a.Lo+b.Lo, a.Mid+b.Mid, a.Hi+b.Hi, a, b)
}

func sub(a, b Val) Val {
	return number(a.Lo-b.Hi, a.Mid-b.Mid, a.Hi-b.Lo, a, b)
}

func mul(a, b Val) Val {
	p, q, r, s := a.Lo*b.Lo, a.Lo*b.Hi, a.Hi*b.Lo, a.Hi*b.Hi
	return number(min(p, q, r, s), a.Mid*b.Mid, max(p, q, r, s), a, b)
}

func div(a, b Val) Val {
	if b.Lo <= 0 && b.Hi >= 0 { // the limits run away; the middle may still stand
		if b.Mid == 0 {
			return undefined(nan, a.Unknown || b.Unknown)
		}
		return undefined(a.Mid/b.Mid, a.Unknown || b.Unknown)
	}
	p, q, r, s := a.Lo/b.Lo, a.Lo/b.Hi, a.Hi/b.Lo, a.Hi/b.Hi
	return number(min(p, q, r, s), a.Mid/b.Mid, max(p, q, r, s), a, b)
}

// number joins limits and where they come from. min and max give NaN for NaN,
// and clean makes the whole line of it.
func number(lo, mid, hi float64, a, b Val) Val {
	unknown := a.Unknown || b.Unknown
	if math.IsInf(mid, 0) {
		mid = nan
	}
	if a.outside || b.outside {
		return undefined(mid, unknown)
	}
	return clean(Val{Lo: lo, Mid: mid, Hi: hi, Unknown: unknown})
}

// power raises to a whole number by multiplying, which keeps limits sound where
// a library's pow may be off by a last digit.
func power(v Val, e int) Val {
	n := e
	if n < 0 {
		n = -n
	}
	lo, mid, hi := whole(v.Lo, n), whole(v.Mid, n), whole(v.Hi, n)
	if n%2 == 0 {
		lo, hi = min(lo, hi), max(lo, hi)
		if n > 0 && v.Lo < 0 && v.Hi > 0 {
			lo = 0
		}
	}
	r := number(lo, mid, hi, v, Val{})
	if e < 0 {
		return div(Exact(1), r)
	}
	return r
}

func whole(x float64, n int) float64 {
	r := 1.0
	for range n {
		r *= x
	}
	return r
}

func compare(o op, a, b Val) Val {
	r := Val{CanTrue: true, CanFalse: true, Unknown: a.Unknown || b.Unknown, outside: a.outside || b.outside}
	if !r.outside {
		switch o {
		case opLess:
			r.CanTrue, r.CanFalse = a.Lo < b.Hi, a.Hi >= b.Lo
		case opAtMost:
			r.CanTrue, r.CanFalse = a.Lo <= b.Hi, a.Hi > b.Lo
		case opMore:
			r.CanTrue, r.CanFalse = a.Hi > b.Lo, a.Lo <= b.Hi
		default:
			r.CanTrue, r.CanFalse = a.Hi >= b.Lo, a.Lo < b.Hi
		}
	}
	var yes bool
	switch o {
	case opLess:
		yes = a.Mid < b.Mid
	case opAtMost:
		yes = a.Mid <= b.Mid
	case opMore:
		yes = a.Mid > b.Mid
	default:
		yes = a.Mid >= b.Mid
	}
	switch {
	case math.IsNaN(a.Mid) || math.IsNaN(b.Mid):
		r.Mid = nan
	case yes:
		r.Mid = 1
	}
	if r.CanTrue != r.CanFalse {
		r.Unknown = false
	}
	return r
}

// both is a and b. What a certainly rules out, b need not answer, so a middle of
// no on the left stands whatever the right is.
func both(a, b Val) Val {
	r := Val{CanTrue: a.CanTrue && b.CanTrue, CanFalse: a.CanFalse || b.CanFalse, outside: a.outside || b.outside}
	switch {
	case a.Mid == 0:
	case math.IsNaN(a.Mid) || math.IsNaN(b.Mid):
		r.Mid = nan
	default:
		r.Mid = min(a.Mid, b.Mid)
	}
	if r.CanTrue && r.CanFalse {
		r.Unknown = a.Unknown || b.Unknown
	}
	return r
}

// contrary is not v.
func contrary(v Val) Val {
	v.CanTrue, v.CanFalse, v.Mid = v.CanFalse, v.CanTrue, 1-v.Mid
	return v
}
