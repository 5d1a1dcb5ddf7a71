package formula

import (
	"fmt"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser/lexer"

	"hotlug/engine/quantity"
)

// formWords are the calls that are no functions: they say which take of a
// reading is meant.
var formWords = wordSet("known was mean highest others")

// closing is the end of the bracket that opens at or behind rune offset from.
func (l *lowerer) closing(from int) int {
	depth := 0
	for _, t := range l.toks {
		if t.From < from || t.Kind != lexer.Bracket {
			continue
		}
		switch t.Value {
		case "(", "[":
			depth++
		default:
			if depth--; depth == 0 {
				return t.To
			}
		}
	}
	return from
}

func (l *lowerer) call(name string, args []ast.Node, loc file.Location) *node {
	whole := file.Location{From: loc.From, To: max(loc.To, l.closing(loc.From))}
	switch name {
	case "known":
		return l.known(args, loc, whole)
	case "was", "highest", "others":
		return l.form(name, args, loc, whole)
	case "mean":
		if len(args) == 1 {
			return l.form(name, args, loc, whole)
		}
	}
	f := l.scope.funcs[name]
	if f == nil {
		for _, a := range args {
			if a != nil {
				l.lower(a) // its own problems
			}
		}
		return l.unknownFunc(name, loc)
	}
	kids := make([]*node, len(args))
	ok := true
	for i, a := range args {
		kids[i] = l.lower(a)
		ok = ok && kids[i].op != opBad
	}
	if len(args) != len(f.Params) && !(f.More && len(args) >= len(f.Params) && len(args) <= maxArgs) {
		return l.bad(loc, CodeArgs, fmt.Sprintf("%s takes %s, and has %s", name, counted(len(f.Params), f.More), counted(len(args), false)),
			"write "+signature(f))
	}
	if !ok {
		return bad
	}
	n := l.typed(f, kids, loc)
	if n.op != opBad {
		n.from, n.to = min(n.from, whole.From), max(n.to, whole.To)
		if (name == "degC" || name == "kelvin") && kids[0].isConst() {
			c := *n
			c.op, c.val, c.kids, c.fn, c.size = opConst, kids[0].val, nil, nil, 1
			return &c
		}
	}
	return n
}

// typed checks the arguments of f and gives the call its unit.
func (l *lowerer) typed(f *Func, kids []*node, loc file.Location) *node {
	groups := map[int]quantity.Unit{}
	for i, k := range kids { // first those that bring a unit
		if g := f.param(i).Same; g > 0 && k.t.Class == ClassNumber {
			if _, has := groups[g]; !has {
				groups[g] = k.t.Unit
			}
		}
	}
	var tables [][]int8
	ok := true
	for i, k := range kids {
		p := f.param(i)
		what := fmt.Sprintf("value %d of %s", i+1, f.Name)
		if p.Choices != nil {
			if tables == nil {
				tables = make([][]int8, len(kids))
			}
			kids[i], tables[i] = l.chosen(k, p, what)
		} else {
			kids[i] = l.argument(k, p, groups, what)
		}
		ok = ok && kids[i].op != opBad
	}
	if !ok {
		return bad
	}
	t := Type{Class: ClassNumber, Unit: f.Result}
	if f.YesNo {
		t = Type{Class: ClassYesNo}
	} else if f.ResultSame != 0 {
		t.Unit = one
		if u, has := groups[f.ResultSame]; has {
			t.Unit = u
		}
	}
	n := branch(opCall, t, loc, kids...)
	n.fn, n.tables = f, tables
	return n
}

func (l *lowerer) argument(k *node, p Param, groups map[int]quantity.Unit, what string) *node {
	u := p.Unit
	if p.Same != 0 {
		u = one
		g := max(p.Same, -p.Same)
		if v, has := groups[g]; has {
			u = v
		}
		if p.Same < 0 {
			u = u.Difference()
		}
		if k.t.Class == ClassNumber && !k.t.Unit.Same(u) { // measured beside measured: no silent conversion
			return l.unlike(u, k.t.Unit, file.Location{From: k.from, To: k.to}, what+" and those before it")
		}
		if k.t.Class == classBare && u.Symbol() == "" {
			return l.takeUnit(k, &node{t: Type{Class: ClassNumber, Unit: u}})
		}
	} else if k.t.Class == ClassNumber && k.t.Unit.Like(u) && !k.t.Unit.Same(u) {
		return l.fit(k, Type{Class: ClassNumber, Unit: u}, what) // a parameter's unit is declared
	}
	return l.fit(k, Type{Class: ClassNumber, Unit: u}, what)
}

// chosen is an argument that takes one of a few words: the word itself, or a
// choice, whose options are matched with the words by id.
func (l *lowerer) chosen(k *node, p Param, what string) (*node, []int8) {
	index := func(id string) int8 {
		for i, c := range p.Choices {
			if c == id {
				return int8(i)
			}
		}
		return -1
	}
	switch k.t.Class {
	case classWord:
		i := index(k.text)
		if i < 0 {
			hint := didYouMean(k.text, p.Choices)
			if hint == "" {
				hint = "it can be " + listWords(p.Choices)
			}
			return l.badAt(k, CodeChoice, fmt.Sprintf("%s can't be '%s'", what, k.text), hint), nil
		}
		c := *k
		c.op, c.t, c.val = opConst, Type{Class: ClassChoice, Options: p.Choices}, Choice(int(i))
		return &c, nil
	case ClassChoice:
		table := make([]int8, len(k.t.Options))
		some := false
		for i, o := range k.t.Options {
			table[i] = index(o)
			some = some || table[i] >= 0
		}
		if !some {
			return l.badAt(k, CodeChoice, fmt.Sprintf("%s shares no option with %s", l.text(k), what), "it can be "+listWords(p.Choices)), nil
		}
		return k, table
	}
	return l.badAt(k, CodeType, fmt.Sprintf("%s must be a choice, and %s is %s", what, l.text(k), k.t.is()), "it can be "+listWords(p.Choices)), nil
}

// form is was(x), mean(x), highest(x) or others(x).
func (l *lowerer) form(word string, args []ast.Node, loc, whole file.Location) *node {
	form := map[string]Form{"was": Was, "mean": Mean, "highest": Highest, "others": Others}[word]
	id, ok := oneName(args)
	if !ok {
		hint := "write " + word + "(x) with the name of a reading"
		if word == "mean" {
			hint = "write mean(x) with a reading taken at several places, or mean(a, b)"
		}
		return l.bad(loc, CodeArgs, word+" takes the name of one reading", hint)
	}
	t, isReading := l.scope.readings[id.Value]
	if !isReading {
		if _, isValue := l.scope.values[id.Value]; isValue {
			return l.bad(id.Location(), CodeArgs, word+" takes a reading, and "+id.Value+" is a worked value", "use it on the readings inside")
		}
		return l.unknownName(id.Value, id.Location())
	}
	if form != Was {
		if !t.Placed {
			hint := "give it `over:` with a class of places"
			if form == Mean {
				hint = "for the middle of several values write mean(a, b)"
			}
			return l.bad(id.Location(), CodeArgs, id.Value+" is taken at one place only, so "+word+" says nothing", hint)
		}
		if t.Class != ClassNumber {
			return l.bad(id.Location(), CodeType, fmt.Sprintf("%s compares numbers, and %s is %s", word, id.Value, t.is()), "")
		}
	}
	n := l.name(id.Value, form, id.Location())
	n.from, n.to = whole.From, whole.To
	return n
}

// known asks whether a reading is known, or all readings of a worked value.
func (l *lowerer) known(args []ast.Node, loc, whole file.Location) *node {
	yes := Type{Class: ClassYesNo}
	if len(args) == 1 {
		if c, ok := args[0].(*ast.CallNode); ok { // known(was(x))
			if id, ok := c.Callee.(*ast.IdentifierNode); ok && formWords[id.Value] {
				return l.knownRef(l.lower(c), whole)
			}
		}
		if b, ok := args[0].(*ast.BuiltinNode); ok && b.Name == "mean" && len(b.Arguments) == 1 {
			return l.knownRef(l.lower(b), whole)
		}
	}
	id, ok := oneName(args)
	if !ok {
		return l.bad(loc, CodeArgs, "known takes the name of one reading or worked value", "write known(x)")
	}
	k := l.lower(id)
	if k.op != opValue {
		return l.knownRef(k, whole)
	}
	var all *node
	seen := map[int]bool{}
	k.each(func(n *node) {
		if n.op != opRef || seen[n.slot] {
			return
		}
		seen[n.slot] = true
		one := l.knownRef(n, whole)
		if all == nil {
			all = one
		} else {
			all = branch(opAnd, yes, whole, all, one)
		}
	})
	if all == nil {
		all = leaf(opConst, yes, whole)
		all.val = truth(true)
	}
	return all
}

func (l *lowerer) knownRef(k *node, whole file.Location) *node {
	if k.op != opRef {
		return bad
	}
	n := leaf(opKnown, Type{Class: ClassYesNo}, whole)
	n.slot, n.text = k.slot, k.text
	return n
}

func oneName(args []ast.Node) (*ast.IdentifierNode, bool) {
	if len(args) != 1 {
		return nil, false
	}
	id, ok := args[0].(*ast.IdentifierNode)
	return id, ok
}

func counted(n int, more bool) string {
	s := fmt.Sprintf("%d values", n)
	switch {
	case n == 0:
		s = "no value"
	case n == 1:
		s = "1 value"
	}
	if more {
		s += " or more"
	}
	return s
}

// signature is how a function is called: "near(a, b, by)".
func signature(f *Func) string {
	names := make([]string, len(f.Params))
	for i, p := range f.Params {
		names[i] = p.Name
	}
	s := strings.Join(names, ", ")
	if f.More {
		s += ", ..."
	}
	return f.Name + "(" + s + ")"
}

// listWords is "a, b or c".
func listWords(w []string) string {
	switch len(w) {
	case 0:
		return "nothing"
	case 1:
		return w[0]
	}
	return strings.Join(w[:len(w)-1], ", ") + " or " + w[len(w)-1]
}
