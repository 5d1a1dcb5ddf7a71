package formula

import "math"

// Verdict is what a condition comes to.
type Verdict uint8

const (
	NotSettled     Verdict = iota // something that is not known, or has no value, could turn it
	CertainlyTrue                 // at every point inside the limits
	CertainlyFalse                // at every point inside the limits
	Close                         // the limits allow both, and Example shows the other side
	Undecided                     // the limits overlap, and no example was found in bounded time
)

// String is the verdict in words.
func (v Verdict) String() string {
	return [...]string{"not settled", "certainly true", "certainly false", "too close to call", "undecided"}[v]
}

// Decision is a verdict and what belongs to it.
type Decision struct {
	Verdict Verdict
	// Likelier is the side of the middle values. It is false when they have none.
	Likelier bool
	// Example, for Close, is one point inside the limits at which the condition
	// comes out on the other side than Likelier, parallel to Refs: numbers as
	// they are, choices as the index of the option, yes as 1.
	Example []float64
	// Causes are the refs that keep it open: those not known if there are any,
	// else those whose limits are too wide.
	Causes []Ref
	// Err says why the middle values have no answer (a sentence), if so.
	Err error
}

// Certain says that the verdict holds at every point inside the limits.
func (d Decision) Certain() bool { return d.Verdict == CertainlyTrue || d.Verdict == CertainlyFalse }

// Decide judges a condition. vals are parallel to Refs. Limits that overlap only
// because a name occurs twice, or because two values were read from one meter,
// are told apart by halving them, within a bound.
func (f *Formula) Decide(vals []Val) Decision {
	m := f.machine(vals)
	v := m.eval(f.root)
	var err error
	if math.IsNaN(v.Mid) {
		err = m.reason()
	}
	m.done()
	if d, ok := certain(v); ok && err == nil {
		return d
	}
	d := Decision{Verdict: NotSettled, Likelier: v.Mid > 0.5, Err: err}
	if err == nil {
		verdict, example := f.search(vals, v)
		if verdict == CertainlyTrue || verdict == CertainlyFalse {
			return Decision{Verdict: verdict, Likelier: verdict == CertainlyTrue}
		}
		switch {
		case v.Unknown:
		case verdict == Close:
			d.Verdict, d.Example = Close, example
		default:
			d.Verdict = Undecided
		}
	}
	d.Causes = f.causes(vals)
	return d
}

func certain(v Val) (Decision, bool) {
	switch {
	case v.CanTrue && v.CanFalse:
		return Decision{}, false
	case v.CanTrue:
		return Decision{Verdict: CertainlyTrue, Likelier: true}, true
	}
	return Decision{Verdict: CertainlyFalse}, true
}

// causes collects the refs of the comparisons that are open and that matter.
func (f *Formula) causes(vals []Val) []Ref {
	m := f.machine(vals)
	defer m.done()
	unknown, wide := make([]bool, len(f.refs)), make([]bool, len(f.refs))
	m.blame(f.root, func(slot int) {
		v := taken(vals[slot], &f.types[slot])
		unknown[slot] = unknown[slot] || v.Unknown
		wide[slot] = wide[slot] || v.Lo < v.Hi
	})
	list := unknown
	if none(unknown) {
		list = wide
	}
	var out []Ref
	for i, is := range list {
		if is {
			out = append(out, f.refs[i])
		}
	}
	return out
}

func none(b []bool) bool {
	for _, x := range b {
		if x {
			return false
		}
	}
	return true
}

// blame visits the refs below n that can keep it open.
func (m *machine) blame(n *node, visit func(slot int)) {
	switch n.op {
	case opAnd, opOr, opNot:
		for _, k := range n.kids {
			if v := m.eval(k); v.CanTrue == v.CanFalse {
				m.blame(k, visit)
			}
		}
	case opCond:
		c := m.eval(n.kids[0])
		if c.CanTrue == c.CanFalse {
			m.blame(n.kids[0], visit)
		}
		if c.CanTrue {
			m.blame(n.kids[1], visit)
		}
		if c.CanFalse {
			m.blame(n.kids[2], visit)
		}
	case opRef:
		visit(n.slot)
	default:
		for _, k := range n.kids {
			m.blame(k, visit)
		}
	}
}
