package formula

import (
	"errors"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/parser/lexer"
)

// Formula is a compiled formula. It never changes.
type Formula struct {
	src   string
	root  *node
	refs  []Ref
	types []Type // of refs
	uses  []int  // how often each ref occurs, written out
}

// Compile reads src, checks it against the scope and against what is wanted,
// and returns either a formula or all problems of the text, sorted by place.
func Compile(src string, s *Scope, want Want) (*Formula, []Problem) {
	if ps := capped(src); ps != nil {
		return nil, ps
	}
	toks, ps, lexErr := tokens(src)
	l := &lowerer{scope: s, src: []rune(src), toks: toks, ps: ps, refused: len(ps) > 0,
		slots: map[Ref]int{}, memo: map[ast.Node]*node{}}
	if lexErr != nil {
		l.ps = append(l.ps, syntaxProblem(lexErr, src, toks))
		l.namesOnly()
		return nil, tidy(l.ps)
	}
	tree, err := parser.Parse(src)
	if err != nil {
		var fe *file.Error
		if errors.As(err, &fe) && !l.refused { // behind a refused token the parser only stumbles
			l.ps = append(l.ps, syntaxProblem(fe, src, toks))
		} else if !l.refused {
			l.ps = append(l.ps, Problem{Code: CodeSyntax, To: 1, Text: "this can't be read"})
		}
		l.namesOnly()
		return nil, tidy(l.ps)
	}
	root := l.result(l.lower(tree.Node), want)
	if len(l.ps) > 0 || root.op == opBad {
		if len(l.ps) == 0 { // it uses a worked value that has problems of its own
			l.ps = append(l.ps, l.broken)
		}
		return nil, tidy(l.ps)
	}
	f := &Formula{src: src, root: root, refs: l.refs, types: l.types, uses: make([]int, len(l.refs))}
	root.each(func(n *node) {
		if n.op == opRef {
			f.uses[n.slot]++
		}
	})
	return f, nil
}

// result fits the whole formula to what is wanted.
func (l *lowerer) result(n *node, want Want) *node {
	switch {
	case n.op == opBad:
		return n
	case n.t.Class == classWord:
		return l.badAt(n, CodeType, "a word alone says nothing", "compare a choice with it: name == '"+n.text+"'")
	case want.set:
		return l.fit(n, want.t, want.what)
	case n.t.Class == classBare:
		return adopt(n, Type{Class: ClassNumber, Unit: one})
	}
	return n
}

// namesOnly checks the names of a text that could not be parsed.
func (l *lowerer) namesOnly() {
	for i, t := range l.toks {
		if t.Kind != lexer.Identifier || t.Value == "true" || t.Value == "false" || t.Value == "nil" {
			continue
		}
		if i > 0 && l.toks[i-1].Value == "let" {
			return // names of its own follow
		}
		if i+1 < len(l.toks) && l.toks[i+1].Value == "(" {
			if l.scope.funcs[t.Value] == nil && !formWords[t.Value] {
				l.unknownFunc(t.Value, t.Location)
			}
		} else if _, ok := l.scope.TypeOf(t.Value); !ok {
			if _, known := l.scope.values[t.Value]; !known {
				l.unknownName(t.Value, t.Location)
			}
		}
	}
}

// Refs lists what the formula needs from outside, each once. Vals given to Eval
// and the others are parallel to it.
func (f *Formula) Refs() []Ref { return append([]Ref(nil), f.refs...) }

// RefType is the type of ref i.
func (f *Formula) RefType(i int) Type { return f.types[i] }

// Anything is the Vals of a walk in which nothing is known yet.
func (f *Formula) Anything() []Val {
	v := make([]Val, len(f.types))
	for i, t := range f.types {
		v[i] = t.Anything()
	}
	return v
}

// Type is the type of the result.
func (f *Formula) Type() Type { return f.root.t }

// String is the text that was compiled.
func (f *Formula) String() string { return f.src }

// Funcs lists the functions that the formula calls, directly or in its worked
// values, each once, in the order of the text.
func (f *Formula) Funcs() []*Func {
	var out []*Func
	seen := map[string]bool{}
	f.root.each(func(n *node) {
		if n.op == opCall && !seen[n.fn.Name] {
			seen[n.fn.Name] = true
			out = append(out, n.fn)
		}
	})
	return out
}
