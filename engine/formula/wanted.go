package formula

import "math"

// Wanted says what would make the condition true, for telling a person before
// the reading is taken: "Wanted: volts across the fuse holder at most 130 mV."
// What the readings are compared with is given in numbers where it is known.
func (f *Formula) Wanted(vals []Val, show Shower) string {
	m := f.machine(vals)
	defer m.done()
	e := explainer{f: f, m: m, show: show}
	return "Wanted: " + e.wanted(f.root, true, 0) + "."
}

func (e *explainer) wanted(n *node, yes bool, outer int) string {
	switch n.op {
	case opValue:
		return e.wanted(n.kids[0], yes, outer)
	case opNot:
		return e.wanted(n.kids[0], !yes, outer)
	case opAnd, opOr:
		if n.op == opAnd && yes && chained(n) {
			low, high := n.kids[0].kids[0], n.kids[1].kids[1]
			if n.kids[0].op == opMore || n.kids[0].op == opAtLeast {
				low, high = high, low
			}
			return e.words(n.kids[0].kids[1], 0) + " between " + e.limit(low) + " and " + e.limit(high)
		}
		word := ", and "
		if (n.op == opOr) == yes {
			word = ", or "
		}
		p := binds[n.op]
		s := e.wanted(n.kids[0], yes, p) + word + e.wanted(n.kids[1], yes, p+1)
		if outer > 0 && p != outer {
			return "(" + s + ")"
		}
		return s
	case opCond:
		if k := e.m.branchTaken(n); k != nil {
			return e.wanted(k, yes, outer)
		}
		return "if " + e.wanted(n.kids[0], true, 1) + ", then " + e.wanted(n.kids[1], yes, 1) + ", else " + e.wanted(n.kids[2], yes, 1)
	case opLess, opAtMost, opMore, opAtLeast:
		o, a, b := e.sides(n)
		relation := relations[o][0]
		if !yes {
			relation = relations[o][1]
		}
		return e.words(a, 0) + " " + relation + " " + e.limit(b)
	case opIs:
		k := n.kids[0]
		r := Ref{}
		if k.op == opRef {
			r = e.f.refs[k.slot]
		}
		is := " is "
		if yes == n.negated {
			is = " is not "
		}
		return e.words(k, 0) + is + e.show.options(r, k.t, n.words)
	case opCall:
		if n.fn.Name == "near" {
			word := " within "
			if !yes {
				word = " not within "
			}
			return e.words(n.kids[0], 0) + word + e.limit(n.kids[2]) + " of " + e.limit(n.kids[1])
		}
	case opKnown:
		if yes {
			return e.show.ref(e.f.refs[n.slot]) + " known"
		}
		return e.show.ref(e.f.refs[n.slot]) + " not known"
	}
	if yes {
		return e.words(n, 0) + ": yes"
	}
	return e.words(n, 0) + ": no"
}

// limit is what something is compared with: its amount if that is known.
func (e *explainer) limit(n *node) string {
	if v := e.m.eval(n); v.Unknown || math.IsNaN(v.Mid) {
		return e.words(n, 0)
	}
	return e.amount(n)
}
