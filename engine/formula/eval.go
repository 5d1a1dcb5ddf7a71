package formula

import (
	"fmt"
	"math"
	"math/bits"
	"sync"
)

// machine evaluates trees. It is scratch space, kept and used again so that an
// evaluation costs no memory.
type machine struct {
	env   []Val
	types []Type
	stack []Val // arguments of the calls that are under way
	nums  [maxArgs]float64
	words [maxArgs]int

	why *node // where the middle first had no value
	err error // what the function said there
}

var machines = sync.Pool{New: func() any { return &machine{stack: make([]Val, 0, 32)} }}

func (f *Formula) machine(vals []Val) *machine {
	if len(vals) != len(f.refs) {
		panic(fmt.Sprintf("formula: %d values for the %d names of %q", len(vals), len(f.refs), f.src))
	}
	m := machines.Get().(*machine)
	m.env, m.types, m.why, m.err = vals, f.types, nil, nil
	return m
}

func (m *machine) done() {
	m.env, m.types, m.why, m.err = nil, nil, nil, nil
	m.stack = m.stack[:0]
	machines.Put(m)
}

// Eval works the formula out. vals are parallel to Refs; another number of them
// is a mistake in Go code and panics. A number comes back in the unit of Type
// with its limits, a condition with what is possible, a choice with what it may
// be. The error, a sentence, says that the middle values lie outside what some
// part of the formula holds for.
func (f *Formula) Eval(vals []Val) (Val, error) {
	m := f.machine(vals)
	v := m.limits(f, f.root)
	var err error
	if math.IsNaN(v.Mid) && f.root.t.Class != ClassChoice {
		err = m.reason()
	}
	m.done()
	if f.root.t.Class == ClassYesNo {
		v.Mid = 0
	}
	v.outside = false
	return v, err
}

// reason is why the middle has no value.
func (m *machine) reason() error {
	switch {
	case m.err != nil:
		return m.err
	case m.why == nil:
		return Outside("this", "one of its values is no number")
	case m.why.op == opDiv || m.why.op == opPow:
		under := m.why.kids[len(m.why.kids)-1]
		if m.eval(under).Mid == 0 {
			return Outside("division", plainText(under)+" is 0, and nothing can be divided by 0")
		}
	}
	return Outside(plainText(m.why), "the result is too large to be a number")
}

// lost notes where the middle of a value first went missing.
func (m *machine) lost(n *node, v Val) Val {
	if math.IsNaN(v.Mid) && m.why == nil && m.err == nil {
		m.why = n
	}
	return v
}

func (m *machine) eval(n *node) Val {
	switch n.op {
	case opConst:
		return n.val
	case opRef:
		return taken(m.env[n.slot], &m.types[n.slot])
	case opKnown:
		return truth(!m.env[n.slot].Unknown)
	case opValue:
		return m.eval(n.kids[0])
	case opScale:
		return mul(m.eval(n.kids[0]), Exact(n.num))
	case opNeg:
		return sub(Val{}, m.eval(n.kids[0]))
	case opNot:
		return contrary(m.eval(n.kids[0]))
	case opAdd:
		return m.lost(n, add(m.eval(n.kids[0]), m.eval(n.kids[1])))
	case opSub:
		return m.lost(n, sub(m.eval(n.kids[0]), m.eval(n.kids[1])))
	case opMul:
		return m.lost(n, mul(m.eval(n.kids[0]), m.eval(n.kids[1])))
	case opDiv:
		return m.lost(n, div(m.eval(n.kids[0]), m.eval(n.kids[1])))
	case opPow:
		return m.lost(n, power(m.eval(n.kids[0]), int(n.num)))
	case opLess, opAtMost, opMore, opAtLeast:
		return compare(n.op, m.eval(n.kids[0]), m.eval(n.kids[1]))
	case opIs:
		return m.isOneOf(n)
	case opSame:
		return m.same(n)
	case opAnd, opOr, opCond:
		return m.either(n)
	case opCall:
		return m.call(n)
	}
	return undefined(nan, false)
}

func (m *machine) isOneOf(n *node) Val {
	v := m.eval(n.kids[0])
	in, out := v.Words&n.words, v.Words&^n.words
	r := Val{CanTrue: in != 0, CanFalse: out != 0}
	r.Mid = float64(bits.OnesCount64(in)) / float64(bits.OnesCount64(v.Words))
	r.Unknown = r.CanTrue && r.CanFalse && v.Unknown
	if n.negated {
		r = contrary(r)
	}
	return r
}

func (m *machine) same(n *node) Val {
	a, b := m.eval(n.kids[0]), m.eval(n.kids[1])
	common := a.Words & b.Words
	r := Val{CanTrue: common != 0, CanFalse: a.Words != b.Words || a.Words&(a.Words-1) != 0}
	switch {
	case !r.CanFalse:
		r.Mid = 1
	case r.CanTrue:
		r.Mid = 0.5
		r.Unknown = a.Unknown || b.Unknown
	}
	if n.negated {
		r = contrary(r)
	}
	return r
}

// either evaluates what may leave one of its sides unused. What went missing in
// a side that is not used is not the reason for anything.
func (m *machine) either(n *node) Val {
	why, err := m.why, m.err
	var v Val
	switch n.op {
	case opAnd:
		v = m.and(n)
	case opOr:
		v = m.or(n)
	default:
		v = m.cond(n)
	}
	if !math.IsNaN(v.Mid) {
		m.why, m.err = why, err
	}
	return v
}

func (m *machine) and(n *node) Val {
	a := m.eval(n.kids[0])
	if !a.CanTrue {
		return a // settled; what is right of it need not be known
	}
	b := m.eval(n.kids[1])
	if !b.CanTrue {
		return b
	}
	return both(a, b)
}

// or is not (not a and not b).
func (m *machine) or(n *node) Val {
	a := m.eval(n.kids[0])
	if !a.CanFalse {
		return a
	}
	b := m.eval(n.kids[1])
	if !b.CanFalse {
		return b
	}
	return contrary(both(contrary(a), contrary(b)))
}

func (m *machine) cond(n *node) Val {
	c := m.eval(n.kids[0])
	if !c.CanFalse {
		return m.eval(n.kids[1])
	}
	if !c.CanTrue {
		return m.eval(n.kids[2])
	}
	a, b := m.eval(n.kids[1]), m.eval(n.kids[2])
	r := a
	if !(c.Mid > 0.5) {
		r = b
	}
	if math.IsNaN(c.Mid) {
		r.Mid = nan
	}
	r.Unknown = c.Unknown || a.Unknown || b.Unknown
	r.outside = c.outside || a.outside || b.outside
	if n.t.Class == ClassYesNo {
		r.CanTrue, r.CanFalse = a.CanTrue || b.CanTrue, a.CanFalse || b.CanFalse
		if r.CanTrue != r.CanFalse { // the same either way
			r.Unknown, r.outside = false, false
			r.Mid = 0
			if r.CanTrue {
				r.Mid = 1
			}
		}
		return r
	}
	r.Lo, r.Hi = min(a.Lo, b.Lo), max(a.Hi, b.Hi)
	if r.outside {
		return undefined(r.Mid, r.Unknown)
	}
	return r
}

// plainText is a node in the words of the formula, for error messages.
func plainText(n *node) string { return printed(n, writer{}) }
