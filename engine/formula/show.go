package formula

import (
	"strconv"
	"strings"
)

// signs are the operators as they are written and printed.
var signs = map[op]string{opAdd: " + ", opSub: " - ", opMul: " * ", opDiv: " / ",
	opLess: " < ", opAtMost: " <= ", opMore: " > ", opAtLeast: " >= ", opSame: " == ", opAnd: " and ", opOr: " or "}

// binds says how tightly an operator binds; what binds less inside gets brackets.
var binds = map[op]int{opCond: 1, opOr: 2, opAnd: 3, opNot: 4, opLess: 5, opAtMost: 5, opMore: 5, opAtLeast: 5,
	opSame: 5, opIs: 5, opAdd: 6, opSub: 6, opMul: 7, opDiv: 7, opNeg: 8, opPow: 9}

// writer prints a tree. The hooks return "" to have the node printed plainly.
type writer struct {
	b    *strings.Builder
	leaf func(n *node) string // refs and worked values
	num  func(n *node) string // numbers
	pick func(n *node) *node  // the result of a ? that holds, or nil for both

	times string // the sign between factors; " * " if empty
}

func (w writer) node(n *node, outer int) {
	n = n.naked()
	if n.op == opCond && w.pick != nil {
		if k := w.pick(n); k != nil {
			w.node(k, outer)
			return
		}
	}
	p, has := binds[n.op]
	if has && p < outer {
		w.b.WriteByte('(')
		defer w.b.WriteByte(')')
	}
	switch n.op {
	case opConst:
		w.put(w.constant(n), outer)
	case opRef, opValue:
		w.put(w.name(n), outer)
	case opKnown:
		w.b.WriteString("known(" + n.text + ")")
	case opNeg:
		w.b.WriteByte('-')
		w.node(n.kids[0], p+1)
	case opNot:
		w.b.WriteString("not ")
		w.node(n.kids[0], p+2)
	case opPow:
		w.node(n.kids[0], p+1)
		w.b.WriteString("^" + strconv.Itoa(int(n.num)))
	case opIs:
		w.choice(n)
	case opCond:
		w.node(n.kids[0], p+1)
		w.b.WriteString(" ? ")
		w.node(n.kids[1], p)
		w.b.WriteString(" : ")
		w.node(n.kids[2], p)
	case opCall:
		w.b.WriteString(n.fn.Name + "(")
		for i, k := range n.kids {
			if i > 0 {
				w.b.WriteString(", ")
			}
			w.node(k, 0)
		}
		w.b.WriteByte(')')
	default:
		sign := signs[n.op]
		if n.negated {
			sign = " != "
		}
		if n.op == opMul && w.times != "" {
			sign = w.times
		}
		w.node(n.kids[0], p)
		w.b.WriteString(sign)
		w.node(n.kids[1], p+1)
	}
}

// put writes a number or a name, in brackets where its sign or its unit would
// be taken wrongly: "3 V - (-1 V)", "(42 A)^2".
func (w writer) put(s string, outer int) {
	negative := strings.HasPrefix(s, "-") || strings.HasPrefix(s, "−")
	if negative && outer > binds[opAdd] || outer > binds[opPow] && strings.Contains(s, " ") {
		s = "(" + s + ")"
	}
	w.b.WriteString(s)
}

func (w writer) name(n *node) string {
	if w.leaf != nil {
		if s := w.leaf(n); s != "" {
			return s
		}
	}
	return n.text
}

func (w writer) constant(n *node) string {
	switch n.t.Class {
	case ClassYesNo:
		if n.val.CanTrue {
			return "yes"
		}
		return "no"
	case ClassChoice:
		return "'" + n.text + "'"
	}
	if w.num != nil {
		if s := w.num(n); s != "" {
			return s
		}
	}
	return strconv.FormatFloat(n.val.Mid, 'g', -1, 64)
}

func (w writer) choice(n *node) {
	k := n.kids[0]
	var words []string
	for i, o := range k.t.Options {
		if n.words>>uint(i)&1 == 1 {
			words = append(words, "'"+o+"'")
		}
	}
	w.node(k, binds[opIs])
	switch {
	case len(words) == 1 && n.negated:
		w.b.WriteString(" != " + words[0])
	case len(words) == 1:
		w.b.WriteString(" == " + words[0])
	case n.negated:
		w.b.WriteString(" not in [" + strings.Join(words, ", ") + "]")
	default:
		w.b.WriteString(" in [" + strings.Join(words, ", ") + "]")
	}
}
