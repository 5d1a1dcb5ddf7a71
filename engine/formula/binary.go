package formula

import (
	"fmt"
	"math"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"

	"hotlug/engine/quantity"
)

var binaryOps = map[string]op{
	"+": opAdd, "-": opSub, "*": opMul, "/": opDiv, "^": opPow,
	"<": opLess, "<=": opAtMost, ">": opMore, ">=": opAtLeast,
	"==": opSame, "!=": opSame, "in": opIs,
	"and": opAnd, "or": opOr, "&&": opAnd, "||": opOr, // the last two are refused as tokens, but for chains
}

func (l *lowerer) binary(n *ast.BinaryNode) *node {
	o, ok := binaryOps[n.Operator]
	loc := n.Location()
	if !ok {
		l.lower(n.Left)
		return l.odd(loc, n.Operator+" is not part of the language")
	}
	if o == opIs {
		return l.in(n)
	}
	a, b := l.lower(n.Left), l.lower(n.Right)
	if a.op == opBad || b.op == opBad {
		return bad
	}
	switch o {
	case opAnd, opOr:
		a, b = l.fit(a, Type{Class: ClassYesNo}, "what stands before "+n.Operator), l.fit(b, Type{Class: ClassYesNo}, "what stands behind "+n.Operator)
		if a.op == opBad || b.op == opBad {
			return bad
		}
		return branch(o, Type{Class: ClassYesNo}, loc, a, b)
	case opSame:
		return l.same(a, b, n.Operator, loc)
	case opLess, opAtMost, opMore, opAtLeast:
		if !a.isNumber() || !b.isNumber() {
			return l.notNumbers(a, b, n.Operator+" compares numbers", loc)
		}
		a, b, t, ok := l.alike(a, b, loc, "the two sides of "+n.Operator)
		if !ok {
			return bad
		}
		if t.Class == classBare {
			return l.bad(loc, CodeType, "two numbers are compared, which says nothing about the rig", "")
		}
		return branch(o, Type{Class: ClassYesNo}, loc, a, b)
	}
	if !a.isNumber() || !b.isNumber() {
		return l.notNumbers(a, b, n.Operator+" needs numbers", loc)
	}
	if a.t.Class == classBare && b.t.Class == classBare {
		return l.fold(o, a, b, loc)
	}
	switch o {
	case opAdd, opSub:
		return l.sum(o, a, b, n.Operator, loc)
	case opPow:
		return l.power(a, b, loc)
	}
	return l.product(o, a, b, loc)
}

func (l *lowerer) notNumbers(a, b *node, what string, loc file.Location) *node {
	n := a
	if a.isNumber() {
		n = b
	}
	hint := ""
	if n.op == opLess || n.op == opMore || n.op == opAtLeast || n.op == opAtMost {
		hint = "put brackets round the comparison, or join two with and"
	} else if n.t.Class == classWord || n.t.Class == ClassChoice {
		hint = "choices are compared with ==, != and in"
	}
	return l.bad(loc, CodeType, fmt.Sprintf("%s, and %s is %s", what, l.text(n), n.t.is()), hint)
}

// same compares choices; numbers and yes-no are sent elsewhere.
func (l *lowerer) same(a, b *node, sign string, loc file.Location) *node {
	switch {
	case a.isNumber() || b.isNumber():
		return l.bad(loc, CodeEqual, sign+" between numbers is never certain", "write near(a, b, by), or a range: low < x < high")
	case a.t.Class == ClassYesNo || b.t.Class == ClassYesNo:
		return l.bad(loc, CodeType, sign+" compares choices", "write a yes-no reading by its name alone, with not in front for no")
	case a.t.Class == classWord && b.t.Class == classWord:
		return l.bad(loc, CodeType, "two words are compared, which says nothing about the rig", "")
	case a.t.Class == ClassChoice && b.t.Class == ClassChoice:
		if fmt.Sprint(a.t.Options) != fmt.Sprint(b.t.Options) {
			return l.bad(loc, CodeType, l.text(a)+" and "+l.text(b)+" have different options", "compare each with a word")
		}
		r := branch(opSame, Type{Class: ClassYesNo}, loc, a, b)
		r.negated = sign == "!="
		return r
	}
	if a.t.Class == classWord {
		a, b = b, a
	}
	w, ok := l.option(a, b)
	if !ok {
		return bad
	}
	r := branch(opIs, Type{Class: ClassYesNo}, loc, a)
	r.from, r.to = min(r.from, b.from), max(r.to, b.to)
	r.words, r.negated = w, sign == "!="
	return r
}

// option is the bit of the word among the options of the choice.
func (l *lowerer) option(choice, word *node) (uint64, bool) {
	if word.op == opBad {
		return 0, false
	}
	if word.t.Class != classWord {
		l.badAt(word, CodeType, fmt.Sprintf("%s is compared with words, and %s is %s", l.text(choice), l.text(word), word.t.is()), "")
		return 0, false
	}
	for i, o := range choice.t.Options {
		if o == word.text {
			return 1 << uint(i), true
		}
	}
	hint := didYouMean(word.text, choice.t.Options)
	if hint == "" {
		hint = "it can be " + listWords(choice.t.Options)
	}
	l.badAt(word, CodeChoice, fmt.Sprintf("%s can't be '%s'", l.text(choice), word.text), hint)
	return 0, false
}

func (l *lowerer) in(n *ast.BinaryNode) *node {
	loc := n.Location()
	a := l.lower(n.Left)
	list, ok := n.Right.(*ast.ArrayNode)
	if !ok {
		return l.odd(loc, "behind in stands a list of words in square brackets")
	}
	var words []*node
	for _, e := range list.Nodes {
		words = append(words, l.lower(e))
	}
	if a.op == opBad {
		return bad
	}
	if a.t.Class != ClassChoice {
		hint := ""
		if a.isNumber() {
			hint = "for a range write low < x < high"
		}
		return l.bad(loc, CodeType, fmt.Sprintf("in needs a choice, and %s is %s", l.text(a), a.t.is()), hint)
	}
	if len(words) == 0 {
		return l.bad(loc, CodeType, "the list behind in is empty", "it can be "+listWords(a.t.Options))
	}
	r := branch(opIs, Type{Class: ClassYesNo}, loc, a)
	r.to = max(r.to, l.closing(list.Location().From))
	allOK := true
	for _, w := range words {
		bit, ok := l.option(a, w)
		allOK = allOK && ok
		r.words |= bit
	}
	if !allOK {
		return bad
	}
	return r
}

func (l *lowerer) sum(o op, a, b *node, sign string, loc file.Location) *node {
	what := "the two sides of " + sign
	ap, bp := a.isPoint(), b.isPoint()
	num := func(u quantity.Unit) Type { return Type{Class: ClassNumber, Unit: u} }
	switch {
	case ap && bp && o == opSub:
		return branch(o, num(a.t.Unit.Difference()), loc, a, b)
	case ap && bp:
		return l.bad(loc, CodeTemperature, "two temperatures can't be added", "for the middle of them write mean(a, b)")
	case bp && o == opSub:
		return l.bad(loc, CodeTemperature, fmt.Sprintf("a temperature can't be taken from %s", a.t), "turn the two round")
	case ap && o == opSub && b.t.Class == classBare:
		x := l.text(b)
		return l.bad(file.Location{From: b.from, To: b.to}, CodeTemperature, "is "+x+" a temperature or a difference?",
			fmt.Sprintf("write degC(%s) or kelvin(%s)", x, x))
	case ap || bp:
		p, d := a, b
		if bp {
			p, d = b, a
		}
		diff := p.t.Unit.Difference()
		if d.t.Class == classBare {
			d = adopt(d, num(diff))
		} else if !d.t.Unit.Same(diff) {
			return l.unlike(a.t.Unit, b.t.Unit, loc, what)
		}
		if bp {
			return branch(o, num(p.t.Unit), loc, d, p)
		}
		return branch(o, num(p.t.Unit), loc, p, d)
	}
	a, b, t, ok := l.alike(a, b, loc, what)
	if !ok {
		return bad
	}
	return branch(o, num(t.Unit), loc, a, b)
}

func (l *lowerer) product(o op, a, b *node, loc file.Location) *node {
	if a.isPoint() || b.isPoint() {
		return l.bad(loc, CodeTemperature, "a temperature can't be multiplied or divided", "use a difference of temperatures: t - degC(25)")
	}
	if o == opDiv && b.isConst() && b.val.Mid == 0 {
		return l.badAt(b, CodeType, "nothing can be divided by 0", "")
	}
	ua, ub := one, one
	if a.t.Class == ClassNumber {
		ua = a.t.Unit
	}
	if b.t.Class == ClassNumber {
		ub = b.t.Unit
	}
	u := ua.Times(ub)
	if o == opDiv {
		u = ua.Over(ub)
	}
	return branch(o, Type{Class: ClassNumber, Unit: u}, loc, a, b)
}

const maxPower = 4

func (l *lowerer) power(a, b *node, loc file.Location) *node {
	e := b.val.Mid
	if !b.isConst() || b.t.Class != classBare || e != math.Trunc(e) || math.Abs(e) > maxPower {
		return l.bad(loc, CodePower, "a power is a whole number from -4 to 4, written out", "other laws are functions")
	}
	if a.isPoint() {
		return l.bad(loc, CodeTemperature, "a temperature can't be raised to a power", "use a difference of temperatures")
	}
	u := one
	for i := 0; i < int(math.Abs(e)); i++ {
		if e > 0 {
			u = u.Times(a.t.Unit)
		} else {
			u = u.Over(a.t.Unit)
		}
	}
	r := branch(opPow, Type{Class: ClassNumber, Unit: u}, loc, a)
	r.num, r.to = e, max(r.to, b.to)
	return r
}

// fold works out what is built of bare constants.
func (l *lowerer) fold(o op, a, b *node, loc file.Location) *node {
	if o == opPow && (!b.isConst() || b.val.Mid != math.Trunc(b.val.Mid) || math.Abs(b.val.Mid) > maxPower) {
		return l.power(a, b, loc)
	}
	if o == opDiv && b.isConst() && b.val.Mid == 0 {
		return l.badAt(b, CodeType, "nothing can be divided by 0", "")
	}
	n := branch(o, Type{Class: classBare, Unit: one}, loc, a, b)
	if o == opPow {
		n = branch(o, Type{Class: classBare, Unit: one}, loc, a)
		n.num, n.to = b.val.Mid, max(n.to, b.to)
	}
	if !a.isConst() || !b.isConst() {
		return n
	}
	var m machine
	v := m.eval(n)
	if math.IsNaN(v.Mid) {
		return l.badAt(n, CodeType, l.text(n)+" is no number", "")
	}
	c := *n
	c.op, c.val, c.kids, c.size = opConst, Exact(v.Mid), nil, 1
	return &c
}
