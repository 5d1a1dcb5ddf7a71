package formula

import (
	"math"
	"math/bits"
)

// call evaluates a function of the registry on limits.
func (m *machine) call(n *node) Val {
	base := len(m.stack)
	for i, k := range n.kids {
		v := m.eval(k)
		if n.tables != nil && n.tables[i] != nil {
			v = translated(v, n.tables[i])
		}
		m.stack = append(m.stack, v)
	}
	v := m.apply(n, m.stack[base:])
	m.stack = m.stack[:base]
	return v
}

// translated turns the options of a reading into the words of a parameter. An
// option that the parameter does not have leaves the domain.
func translated(v Val, table []int8) Val {
	r := Val{Unknown: v.Unknown}
	for w := v.Words; w != 0; w &= w - 1 {
		if to := table[bits.TrailingZeros64(w)]; to >= 0 {
			r.Words |= 1 << uint(to)
		} else {
			r.outside = true
		}
	}
	return r
}

func (m *machine) apply(n *node, args []Val) Val {
	f := n.fn
	exact, unknown, outside := true, false, false
	for i := range args {
		a := &args[i]
		unknown = unknown || a.Unknown
		outside = outside || a.outside
		if f.param(i).Choices != nil {
			if a.Words == 0 { // no word of the parameter is possible
				return m.lost(n, undefined(nan, unknown))
			}
			m.words[i] = bits.TrailingZeros64(a.Words)
			exact = exact && a.Words&(a.Words-1) == 0
		} else {
			exact = exact && a.Lo == a.Hi
		}
	}
	mid, err := m.do(f, args, atMiddle)
	if err != nil || math.IsNaN(mid) || math.IsInf(mid, 0) {
		mid = nan
		if m.why == nil && m.err == nil {
			m.why, m.err = n, err
		}
	}
	switch {
	case outside || exact && math.IsNaN(mid):
		return m.finish(n, undefined(mid, unknown))
	case exact:
		return m.finish(n, Val{Lo: mid, Mid: mid, Hi: mid, Unknown: unknown})
	case f.Limits != nil:
		v := f.Limits(args)
		if f.YesNo {
			v.Mid, v.Unknown = mid, unknown
			if !v.CanTrue && !v.CanFalse || math.IsNaN(v.Lo) || math.IsNaN(v.Hi) {
				v.CanTrue, v.CanFalse, v.outside = true, true, true
			}
			if v.CanTrue != v.CanFalse {
				v.Unknown = false
			}
			return v
		}
		return clean(Val{Lo: v.Lo, Mid: mid, Hi: v.Hi, Unknown: unknown})
	case f.YesNo:
		return m.finish(n, undefined(mid, unknown))
	}
	return m.byDirection(f, args, mid, unknown)
}

// finish turns the 0 or 1 of a yes-no function into what is possible.
func (m *machine) finish(n *node, v Val) Val {
	if !n.fn.YesNo {
		return v
	}
	if v.outside || math.IsNaN(v.Mid) {
		return Val{CanTrue: true, CanFalse: true, Mid: v.Mid, Unknown: v.Unknown, outside: true}
	}
	return truth(v.Mid != 0)
}

// ends of an argument to take.
type which int8

const (
	atLowest  which = -1
	atMiddle  which = 0
	atHighest which = 1
)

// do calls the function at the middles, or where its result is lowest or highest.
func (m *machine) do(f *Func, args []Val, side which) (float64, error) {
	for i := range args {
		a, p := &args[i], f.param(i)
		switch {
		case p.Choices != nil:
			m.nums[i] = float64(m.words[i])
		case which(p.Dir)*side > 0:
			m.nums[i] = a.Hi
		case which(p.Dir)*side < 0:
			m.nums[i] = a.Lo
		default:
			m.nums[i] = a.Mid
		}
	}
	return f.Do(m.nums[:len(args)])
}

// byDirection finds the limits at the ends that the registry names, over all
// words that are possible. One end outside the domain and nothing is settled.
func (m *machine) byDirection(f *Func, args []Val, mid float64, unknown bool) Val {
	for i := range args {
		if p := f.param(i); p.Choices == nil && p.Dir == Mixed && args[i].Lo != args[i].Hi {
			return undefined(mid, unknown) // the registry should have brought Limits
		}
	}
	lo, hi := posInf, negInf
	for {
		a, err1 := m.do(f, args, atLowest)
		b, err2 := m.do(f, args, atHighest)
		if err1 != nil || err2 != nil || math.IsNaN(a) || math.IsNaN(b) {
			return undefined(mid, unknown)
		}
		lo, hi = min(lo, a, b), max(hi, a, b)
		if !m.nextWords(f, args) {
			return clean(Val{Lo: lo, Mid: mid, Hi: hi, Unknown: unknown})
		}
	}
}

// nextWords goes on to the next combination of possible words.
func (m *machine) nextWords(f *Func, args []Val) bool {
	for i := range args {
		if f.param(i).Choices == nil {
			continue
		}
		if rest := args[i].Words >> uint(m.words[i]+1); rest != 0 {
			m.words[i] += 1 + bits.TrailingZeros64(rest)
			return true
		}
		m.words[i] = bits.TrailingZeros64(args[i].Words)
	}
	return false
}
