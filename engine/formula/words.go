package formula

import (
	"math"
	"strings"

	"hotlug/engine/quantity"
)

// valued is a node in words with its amount in brackets: "volts across the fuse
// holder (180 mV)". A number is its amount alone.
func (e *explainer) valued(n *node) string {
	if e.bare(n) {
		return e.amount(n)
	}
	return e.words(n, 0) + " (" + e.amount(n) + ")"
}

// around is a node in words with its amount and how far off it may be.
func (e *explainer) around(n *node) string {
	v := e.m.limits(e.f, n)
	half := max(v.Hi-v.Mid, v.Mid-v.Lo)
	if e.bare(n) || n.standard() || !(half > 0) || math.IsInf(half, 0) {
		return e.valued(n)
	}
	return e.words(n, 0) + " (" + quantity.ShowAround(v.Mid, half, n.t.Unit, e.show.Style) + ")"
}

func (e *explainer) amount(n *node) string {
	v := e.m.limits(e.f, n)
	if v.Unknown {
		if n.t.Class == ClassNumber && v.Hi-v.Lo < posInf {
			return e.show.number(v.Lo, n.t.Unit) + " to " + e.show.number(v.Hi, n.t.Unit)
		}
		return "not known"
	}
	if n.standard() {
		return e.show.standard(v.Mid, n.t.Unit)
	}
	return e.m.said(e.f, n, v, e.show)
}

// words is an expression as one would say it.
func (e *explainer) words(n *node, outer int) string {
	n = n.naked()
	p := binds[n.op]
	s := ""
	switch n.op {
	case opConst:
		if c := e.show.constant(n); c != "" {
			return c
		}
		return printed(n, writer{})
	case opRef:
		return e.show.ref(e.f.refs[n.slot])
	case opValue:
		return e.show.id(n.text)
	case opNeg:
		s = "minus " + e.words(n.kids[0], p)
	case opAdd:
		s = e.words(n.kids[0], p) + " plus " + e.words(n.kids[1], p+1)
	case opSub:
		s = e.words(n.kids[0], p) + " minus " + e.words(n.kids[1], p+1)
	case opMul:
		s = e.words(n.kids[0], p) + " times " + e.words(n.kids[1], p+1)
	case opDiv:
		s = e.words(n.kids[0], p) + " divided by " + e.words(n.kids[1], p+1)
	case opPow:
		return e.power(n)
	case opCond:
		if k := e.m.branchTaken(n); k != nil {
			return e.words(k, outer)
		}
		s = e.words(n.kids[1], 0) + " or " + e.words(n.kids[2], 0)
	case opCall:
		return e.called(n)
	default:
		return printed(n, writer{leaf: func(k *node) string { return e.words(k, 0) }})
	}
	if p < outer {
		return "(" + s + ")"
	}
	return s
}

func (e *explainer) power(n *node) string {
	s := e.words(n.kids[0], binds[opPow]+1)
	switch n.num {
	case 2:
		return s + " squared"
	case 3:
		return s + " cubed"
	}
	return s + " to the power of " + printed(&node{op: opConst, val: Exact(n.num)}, writer{})
}

func (e *explainer) called(n *node) string {
	var args []string
	for _, k := range n.kids {
		args = append(args, e.words(k, 0))
	}
	switch n.fn.Name {
	case "part":
		return args[0]
	case "abs":
		if k := n.kids[0].naked(); k.op == opSub {
			return "the difference between " + e.words(k.kids[0], 0) + " and " + e.words(k.kids[1], 0)
		}
		return "the size of " + args[0]
	case "min":
		return "the lowest of " + listAnd(args)
	case "max":
		return "the highest of " + listAnd(args)
	case "mean":
		return "the mean of " + listAnd(args)
	}
	if n.fn.Title != "" {
		return lowerFirst(n.fn.Title)
	}
	return n.fn.Name + "(" + strings.Join(args, ", ") + ")"
}
