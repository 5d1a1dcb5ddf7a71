package formula

import (
	"fmt"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser/lexer"

	"hotlug/engine/quantity"
)

var one = quantity.One

// lowerer turns the parser's tree into ours: it knows the scope, gives every
// node its type and collects problems instead of stopping at the first.
type lowerer struct {
	scope   *Scope
	src     []rune
	toks    []lexer.Token
	ps      []Problem
	refused bool    // some token was refused: odd nodes are its doing
	broken  Problem // a worked value that has problems of its own
	refs    []Ref
	types   []Type
	slots   map[Ref]int
	// The parser shares the middle of a chained comparison between two nodes.
	// Without the memo, nested chains would be lowered 2^depth times.
	memo map[ast.Node]*node
}

// refusedNode says what a node of the parser is that the language does not have.
func refusedNode(n ast.Node) string {
	switch n := n.(type) {
	case *ast.NilNode:
		return "nil"
	case *ast.BytesNode:
		return "a text of bytes"
	case *ast.ChainNode:
		return "?."
	case *ast.MemberNode:
		return "an index"
	case *ast.SliceNode:
		return "a slice"
	case *ast.PredicateNode, *ast.PointerNode:
		return "a predicate"
	case *ast.VariableDeclaratorNode:
		return "let"
	case *ast.SequenceNode:
		return ";"
	case *ast.ArrayNode:
		return "a list (it stands only behind in)"
	case *ast.MapNode, *ast.PairNode:
		return "a map"
	case *ast.ConditionalNode:
		return "if"
	case *ast.UnaryNode:
		return n.Operator + " in front of a value"
	}
	return "this"
}

func (l *lowerer) lower(n ast.Node) *node {
	if r, ok := l.memo[n]; ok {
		return r
	}
	r := l.lowerNew(n)
	if r.size > maxNodes {
		r = l.badAt(r, CodeTooLarge, "the formula is too large once its worked values are put in", "use fewer of them")
	}
	l.memo[n] = r
	return r
}

func (l *lowerer) lowerNew(n ast.Node) *node {
	loc := n.Location()
	switch n := n.(type) {
	case *ast.IntegerNode:
		return l.number(float64(n.Value), loc)
	case *ast.FloatNode:
		return l.number(n.Value, loc)
	case *ast.BoolNode:
		r := leaf(opConst, Type{Class: ClassYesNo}, loc)
		r.val = truth(n.Value)
		return r
	case *ast.StringNode:
		r := leaf(opWord, Type{Class: classWord}, loc)
		r.text = n.Value
		return r
	case *ast.IdentifierNode:
		return l.name(n.Value, Here, loc)
	case *ast.UnaryNode:
		return l.unary(n)
	case *ast.BinaryNode:
		return l.binary(n)
	case *ast.ConditionalNode:
		if n.Ternary {
			return l.conditional(n)
		}
	case *ast.CallNode:
		if id, ok := n.Callee.(*ast.IdentifierNode); ok {
			return l.call(id.Value, n.Arguments, loc)
		}
		return l.odd(loc, "only a function's name can be called")
	case *ast.BuiltinNode:
		return l.call(n.Name, n.Arguments, loc)
	}
	return l.odd(loc, refusedNode(n)+" is not part of the language")
}

func (l *lowerer) odd(loc file.Location, text string) *node {
	if l.refused {
		return bad
	}
	return l.bad(loc, CodeNotAllowed, text, "")
}

var bad = &node{op: opBad, t: Type{Class: classBad}, size: 1}

func leaf(o op, t Type, loc file.Location) *node {
	return &node{op: o, t: t, size: 1, from: loc.From, to: loc.To, at: loc.From, atTo: loc.To}
}

func branch(o op, t Type, loc file.Location, kids ...*node) *node {
	n := leaf(o, t, loc)
	n.kids = kids
	for _, k := range kids {
		n.size += k.size
		n.from, n.to = min(n.from, k.from), max(n.to, k.to)
	}
	return n
}

func (l *lowerer) bad(loc file.Location, code, text, hint string) *node {
	from := clamp(loc.From, len(l.src))
	l.ps = append(l.ps, Problem{From: from, To: max(from, clamp(loc.To, len(l.src))), Code: code, Text: text, Hint: hint})
	return bad
}

// badAt reports n as a whole, from its first rune to its last.
func (l *lowerer) badAt(n *node, code, text, hint string) *node {
	return l.bad(file.Location{From: n.from, To: n.to}, code, text, hint)
}

func (l *lowerer) text(n *node) string {
	from, to := clamp(n.from, len(l.src)), clamp(n.to, len(l.src))
	if from >= to {
		return "it"
	}
	return string(l.src[from:to])
}

func (l *lowerer) number(x float64, loc file.Location) *node {
	n := leaf(opConst, Type{Class: classBare}, loc)
	n.val = Exact(x)
	return n
}

// name is a reading, in one of its forms, or a worked value.
func (l *lowerer) name(name string, form Form, loc file.Location) *node {
	if t, ok := l.scope.readings[name]; ok {
		n := leaf(opRef, t, loc)
		n.slot, n.text = l.slot(Ref{name, form}, t), Ref{name, form}.String()
		return n
	}
	f, ok := l.scope.values[name]
	if !ok {
		if l.scope.funcs[name] != nil {
			return l.bad(loc, CodeName, name+" is a function", "write its values in brackets behind it")
		}
		return l.unknownName(name, loc)
	}
	if f == nil {
		l.broken = Problem{From: loc.From, To: loc.To, Code: CodeName, Text: "the worked value " + name + " has a problem of its own", Hint: "mend its formula first"}
		return bad
	}
	if f.root.size > maxNodes {
		return bad
	}
	k := l.graft(f)
	n := leaf(opValue, k.t, loc)
	n.kids, n.text, n.size = []*node{k}, name, k.size+1
	return n
}

func (l *lowerer) unknownName(name string, loc file.Location) *node {
	hint := didYouMean(name, l.scope.Names())
	if strings.HasPrefix(name, "$") {
		return bad // the token was refused
	}
	if hint == "" && l.scope.hasOption(name) {
		hint = "an answer stands in quotes: '" + name + "'"
	}
	return l.bad(loc, CodeName, name+" is not a reading or a worked value", hint)
}

func (l *lowerer) unknownFunc(name string, loc file.Location) *node {
	var names []string
	for _, f := range l.scope.order {
		names = append(names, f.Name)
	}
	if _, ok := l.scope.TypeOf(name); ok {
		return l.bad(loc, CodeFunc, name+" is not a function", "a reading stands without brackets")
	}
	return l.bad(loc, CodeFunc, name+" is not a function", didYouMean(name, names, []string{"known", "was", "highest", "others"}))
}

func (l *lowerer) slot(r Ref, t Type) int {
	i, ok := l.slots[r]
	if !ok {
		i = len(l.refs)
		l.slots[r] = i
		l.refs, l.types = append(l.refs, r), append(l.types, t)
	}
	return i
}

// graft copies the tree of a worked value, its refs renumbered for this formula.
func (l *lowerer) graft(f *Formula) *node {
	to := make([]int, len(f.refs))
	for i, r := range f.refs {
		to[i] = l.slot(r, f.types[i])
	}
	done := map[*node]*node{} // keeps shared nodes shared
	var dup func(n *node) *node
	dup = func(n *node) *node {
		if c, ok := done[n]; ok {
			return c
		}
		c := *n
		if n.op == opRef || n.op == opKnown {
			c.slot = to[n.slot]
		}
		c.kids = make([]*node, len(n.kids))
		for i, k := range n.kids {
			c.kids[i] = dup(k)
		}
		done[n] = &c
		return &c
	}
	return dup(f.root)
}

func (l *lowerer) unary(n *ast.UnaryNode) *node {
	loc := n.Location()
	k := l.lower(n.Node)
	if k.op == opBad {
		return k
	}
	switch n.Operator {
	case "-":
		if k.isPoint() {
			return l.bad(loc, CodeTemperature, "a temperature can't be turned round", "write degC(-5), or use a difference")
		}
		if !k.isNumber() {
			return l.bad(loc, CodeType, "- needs a number, and "+l.text(k)+" is "+k.t.is(), "")
		}
		if k.isConst() {
			c := *k
			c.val, c.from, c.at = Exact(-k.val.Mid), loc.From, loc.From
			return &c
		}
		return branch(opNeg, Type{Class: k.t.Class, Unit: k.t.Unit}, loc, k)
	case "not", "!":
		if k.t.Class != ClassYesNo {
			return l.bad(loc, CodeType, "not needs yes or no, and "+l.text(k)+" is "+k.t.is(),
				"put brackets round what follows not")
		}
		if k.op == opIs || k.op == opSame {
			c := *k
			c.negated, c.from = !k.negated, min(k.from, loc.From)
			return &c
		}
		return branch(opNot, k.t, loc, k)
	}
	return l.odd(loc, refusedNode(n)+" is not part of the language")
}

func (l *lowerer) conditional(n *ast.ConditionalNode) *node {
	c, a, b := l.lower(n.Cond), l.lower(n.Exp1), l.lower(n.Exp2)
	c = l.fit(c, Type{Class: ClassYesNo}, "what stands before ?")
	if a.op == opBad || b.op == opBad {
		return bad
	}
	loc := file.Location{From: a.from, To: b.to}
	a, b, t, ok := l.alike(a, b, loc, "the two results of ?")
	if !ok || c.op == opBad {
		return bad
	}
	if t.Class == classWord || t.Class == ClassChoice {
		return l.bad(loc, CodeType, "the results of ? must be numbers or conditions", "compare the choice inside each result")
	}
	t.Lo, t.Hi, t.Placed = 0, 0, false
	return branch(opCond, t, file.Location{From: c.from, To: b.to}, c, a, b)
}

// alike brings two sides to one type: a bare number takes its partner's unit.
func (l *lowerer) alike(a, b *node, loc file.Location, what string) (*node, *node, Type, bool) {
	no := func(*node) (*node, *node, Type, bool) { return bad, bad, bad.t, false }
	switch {
	case a.op == opBad || b.op == opBad:
		return no(nil)
	case a.t.Class == classBare && b.t.Class == ClassNumber:
		if a = l.takeUnit(a, b); a.op == opBad {
			return no(a)
		}
		return a, b, b.t, true
	case b.t.Class == classBare && a.t.Class == ClassNumber:
		if b = l.takeUnit(b, a); b.op == opBad {
			return no(b)
		}
		return a, b, a.t, true
	case a.t.Class != b.t.Class:
		return no(l.bad(loc, CodeType, fmt.Sprintf("%s must be alike, and they are %s and %s", what, a.t, b.t), ""))
	case a.t.Class == ClassNumber && !a.t.Unit.Same(b.t.Unit):
		return no(l.unlike(a.t.Unit, b.t.Unit, loc, what))
	}
	return a, b, a.t, true
}

// takeUnit gives a bare number the unit of its partner, if that has a name: a
// person must be able to say what unit the number is in.
func (l *lowerer) takeUnit(n, partner *node) *node {
	if partner.t.Unit.Symbol() == "" {
		return l.badAt(n, CodeUnit, fmt.Sprintf("%s would be in %s, a unit without a name", l.text(n), partner.t.Unit),
			"compare values whose unit has a name")
	}
	return adopt(n, Type{Class: ClassNumber, Unit: partner.t.Unit})
}

func (l *lowerer) unlike(a, b quantity.Unit, loc file.Location, what string) *node {
	text := fmt.Sprintf("%s have unlike units: %s and %s", what, unitText(a), unitText(b))
	hint := ""
	switch {
	case a.Dim == b.Dim && a.Point != b.Point:
		return l.bad(loc, CodeTemperature, text, "one is a temperature, the other a difference of temperatures")
	case a.Dim == b.Dim:
		hint = fmt.Sprintf("the same on another scale: 1 of the first is %.6g of the second", a.Scale/b.Scale)
	case a.Plain() && b.Symbol() == "%", b.Plain() && a.Symbol() == "%":
		hint = "part(x) makes a plain number of a percentage"
	}
	return l.bad(loc, CodeUnit, text, hint)
}

// adopt gives a bare number, or what is built of bare numbers, its type.
func adopt(n *node, t Type) *node {
	c := *n
	c.t = Type{Class: t.Class, Unit: t.Unit}
	switch n.op {
	case opCond:
		c.kids = []*node{n.kids[0], adopt(n.kids[1], t), adopt(n.kids[2], t)}
	case opNeg:
		c.kids = []*node{adopt(n.kids[0], t)}
	case opAdd, opSub:
		c.kids = []*node{adopt(n.kids[0], t), adopt(n.kids[1], t)}
	}
	return &c
}

// fit brings n to the type t, converting scale where the unit is declared.
func (l *lowerer) fit(n *node, t Type, what string) *node {
	if n.op == opBad {
		return n
	}
	if t.Class == ClassYesNo {
		if n.t.Class != ClassYesNo {
			return l.badAt(n, CodeType, fmt.Sprintf("%s must be yes or no, and %s is %s", what, l.text(n), n.t.is()), "")
		}
		return n
	}
	switch {
	case n.t.Class == classBare:
		return adopt(n, t)
	case n.t.Class != ClassNumber:
		return l.badAt(n, CodeType, fmt.Sprintf("%s must be %s, and %s is %s", what, inUnit(t.Unit), l.text(n), n.t.is()), "")
	case n.t.Unit.Same(t.Unit):
		return n
	case n.t.Unit.Like(t.Unit):
		r := branch(opScale, Type{Class: ClassNumber, Unit: t.Unit}, file.Location{From: n.from, To: n.to}, n)
		r.num = n.t.Unit.Scale / t.Unit.Scale
		return r
	}
	hint := ""
	if n.t.Unit.Dim == t.Unit.Dim {
		hint = "one is a temperature, the other a difference of temperatures"
	} else if t.Unit.Plain() && n.t.Unit.Symbol() == "%" {
		hint = "part(x) makes a plain number of a percentage"
	}
	return l.badAt(n, CodeUnit, fmt.Sprintf("%s must be %s, and %s is %s", what, inUnit(t.Unit), l.text(n), inUnit(n.t.Unit)), hint)
}
