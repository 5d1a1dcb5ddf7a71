package formula

import (
	"fmt"
	"math"
)

// Because says which comparisons carry the verdict on vals, in numbers and with
// the names of things in words. Where the verdict is open it says which keep it
// open.
func (f *Formula) Because(vals []Val, show Shower) []Reason {
	if f.root.t.Class != ClassYesNo {
		return nil
	}
	e := explainer{f: f, show: show}
	d := f.Decide(vals)
	m := f.machine(vals)
	defer m.done()
	if v := m.eval(f.root); d.Certain() && v.CanTrue && v.CanFalse {
		// The limits had to be halved to see it. No one comparison on whole limits
		// carries the verdict, so the middles speak.
		m.env = middles(vals, f.types)
	}
	e.m = m
	e.explain(f.root)
	return e.out
}

// middles are the same values without their limits.
func middles(vals []Val, types []Type) []Val {
	out := append([]Val(nil), vals...)
	for i := range out {
		if types[i].Class == ClassNumber {
			out[i] = Exact(vals[i].Mid)
		}
	}
	return out
}

type explainer struct {
	f    *Formula
	m    *machine
	show Shower
	out  []Reason
}

func (e *explainer) say(n *node, isClose bool, format string, args ...any) {
	r := Reason{Text: fmt.Sprintf(format, args...), Close: isClose}
	seen := map[string]bool{}
	n.each(func(k *node) {
		if k.op != opRef && k.op != opKnown {
			return
		}
		if name := e.f.refs[k.slot].Name; !seen[name] {
			seen[name] = true
			r.Names = append(r.Names, name)
		}
	})
	for _, o := range e.out {
		if o.Text == r.Text {
			return
		}
	}
	e.out = append(e.out, r)
}

// explain walks down to the comparisons that carry the answer of n.
func (e *explainer) explain(n *node) {
	v := e.m.eval(n)
	switch n.op {
	case opValue, opNot:
		e.explain(n.kids[0])
	case opAnd, opOr:
		if e.between(n, v) {
			return
		}
		for _, k := range n.kids {
			kv := e.m.eval(k)
			if kv.CanTrue != v.CanTrue || kv.CanFalse != v.CanFalse {
				continue
			}
			e.explain(k)
			if v.CanTrue != v.CanFalse && v.CanFalse == (n.op == opAnd) {
				return // one no is enough against and, one yes for or
			}
		}
	case opCond:
		if c := e.m.eval(n.kids[0]); c.CanTrue != c.CanFalse || v.CanTrue == v.CanFalse {
			e.explain(n.kids[0])
		}
		if k := e.m.branchTaken(n); k != nil {
			e.explain(k)
		} else {
			e.explain(n.kids[1])
			e.explain(n.kids[2])
		}
	case opLess, opAtMost, opMore, opAtLeast:
		e.comparison(n, v)
	case opConst:
	default:
		e.plain(n, v)
	}
}

// between puts a chained comparison that holds into one sentence.
func (e *explainer) between(n *node, v Val) bool {
	if n.op != opAnd || v.CanFalse || !chained(n) {
		return false
	}
	low, high, x := n.kids[0].kids[0], n.kids[1].kids[1], n.kids[0].kids[1]
	if n.kids[0].op == opMore || n.kids[0].op == opAtLeast {
		low, high = high, low
	}
	e.say(n, false, "%s is between %s and %s", e.valued(x), e.valued(low), e.valued(high))
	return true
}

func chained(n *node) bool {
	up := func(o op) bool { return o == opLess || o == opAtMost }
	down := func(o op) bool { return o == opMore || o == opAtLeast }
	a, b := n.kids[0], n.kids[1]
	if !(up(a.op) && up(b.op) || down(a.op) && down(b.op)) {
		return false
	}
	x, y := a.kids[1], b.kids[0]
	return x == y || x.op == opRef && y.op == opRef && x.slot == y.slot
}

// relations are what a comparison says when it holds and when it does not.
var relations = map[op][2]string{
	opLess:    {"below", "at least"},
	opAtMost:  {"at most", "above"},
	opMore:    {"above", "at most"},
	opAtLeast: {"at least", "below"},
}

// turned is the comparison with its sides exchanged.
var turned = map[op]op{opLess: opMore, opMore: opLess, opAtMost: opAtLeast, opAtLeast: opAtMost}

// bare says that n is a written number, perhaps chosen by a ?.
func (e *explainer) bare(n *node) bool {
	n = n.naked()
	if n.op == opCond {
		k := e.m.branchTaken(n)
		return k != nil && e.bare(k)
	}
	return n.isConst()
}

// sides are the subject of a comparison and what it is compared with: a number
// never is the subject.
func (e *explainer) sides(n *node) (o op, subject, with *node) {
	a, b := n.kids[0], n.kids[1]
	if e.bare(a) && !e.bare(b) {
		return turned[n.op], b, a
	}
	return n.op, a, b
}

func (e *explainer) comparison(n *node, v Val) {
	o, a, b := e.sides(n)
	switch {
	case math.IsNaN(v.Mid):
		e.m.why, e.m.err = nil, nil
		e.m.eval(n)
		e.say(n, false, "there is no answer: %s", e.m.reason())
	case v.CanTrue && v.CanFalse && v.Unknown:
		e.say(n, false, "%s", areNotKnown(e.m.missing(e.f, n, e.show)))
	case v.CanTrue && v.CanFalse:
		av := e.m.limits(e.f, a)
		if math.IsInf(av.Lo, 0) || math.IsInf(av.Hi, 0) {
			e.say(n, true, "%s is too rough to be held against %s", e.valued(a), e.valued(b))
			return
		}
		e.say(n, true, "%s straddles %s", e.around(a), e.around(b))
	default:
		relation := relations[o][0]
		if !v.CanTrue {
			relation = relations[o][1]
		}
		left, right := e.valued(a), e.valued(b)
		if e.amount(a) == e.amount(b) && (relation == "above" || relation == "below") {
			relation = "a little " + relation
		}
		e.say(n, false, "%s is %s %s", left, relation, right)
	}
}

func (e *explainer) plain(n *node, v Val) {
	open := v.CanTrue && v.CanFalse
	if open && v.Unknown {
		e.say(n, false, "%s", areNotKnown(e.m.missing(e.f, n, e.show)))
		return
	}
	switch n.op {
	case opIs:
		k := n.kids[0]
		have := e.m.said(e.f, k, e.m.eval(k), e.show)
		if holds := v.CanTrue; holds == n.negated { // it is not one of the words
			r := Ref{}
			if k.op == opRef {
				r = e.f.refs[k.slot]
			}
			e.say(n, open, "%s: %s, not %s", e.words(k, 0), have, e.show.options(r, k.t, n.words))
			return
		}
		e.say(n, open, "%s: %s", e.words(k, 0), have)
	case opSame:
		word := "the same as"
		if v.CanTrue == n.negated {
			word = "another than"
		}
		e.say(n, open, "%s is %s %s", e.words(n.kids[0], 0), word, e.words(n.kids[1], 0))
	case opKnown:
		word := "known"
		if !v.CanTrue {
			word = "not known"
		}
		e.say(n, false, "%s is %s", e.show.ref(e.f.refs[n.slot]), word)
	case opCall:
		if n.fn.Name == "near" {
			word := "is within"
			switch {
			case open:
				word = "may or may not be within"
			case !v.CanTrue:
				word = "is not within"
			}
			e.say(n, open, "%s %s %s of %s", e.valued(n.kids[0]), word, e.valued(n.kids[2]), e.valued(n.kids[1]))
			return
		}
		e.say(n, open, "%s: %s", e.words(n, 0), e.m.said(e.f, n, v, e.show))
	default:
		e.say(n, open, "%s: %s", e.words(n, 0), e.m.said(e.f, n, v, e.show))
	}
}
