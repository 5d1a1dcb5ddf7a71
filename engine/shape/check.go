package shape

import (
	"fmt"
	"slices"
	"strings"
)

// Check compares a node with a shape and gives everything that differs, in order
// of place. What Parse has refused already is passed over. A nil node gives
// nothing: Parse has said why there is none.
func Check(n *Node, s *Shape) []Problem {
	if n == nil {
		return nil
	}
	c := &checker{}
	c.node(n, s, owner{what: "The file"})
	Sort(c.problems)
	return c.problems
}

type checker struct{ list }

// owner is what a node belongs to: the key that points are made at, and how the
// node is called in a sentence.
type owner struct {
	key  *Node
	what string // `"ask"`, `An item of "ask"`
}

func (c *checker) report(code string, n *Node, text, hint string) {
	c.add(NewProblem(code, n, text, hint))
}

func (c *checker) node(n *Node, s *Shape, o owner) {
	switch {
	case n.refused, c.full:
		return
	case n.kind == Null:
		if !s.Empty {
			c.report("missing-value", n, o.what+" has no value.",
				"Give it "+s.wants()+", or take the line out if it may be left out.")
		}
		return
	case s.Form == FormEither:
		c.either(n, s, o)
		return
	case n.kind != s.Form.kind():
		c.wrongKind(n, s, o)
		return
	}
	switch s.Form {
	case FormMap:
		c.fields(n, s, o)
	case FormTable:
		c.table(n, s, o)
	case FormList:
		c.items(n, s, o)
	default:
		c.scalar(n, s, o)
	}
}

func (c *checker) wrongKind(n *Node, s *Shape, o owner) {
	hint := ""
	switch {
	case s.scalarIn() && n.kind == Map && n.isFlow('{'), s.scalarIn() && n.kind == List && n.isFlow('['):
		hint = "A text that begins with a bracket or brace goes in quotes."
	case s.scalarIn() && n.kind == Map:
		hint = "A text that holds a colon and a space goes in quotes."
	case s.Form == FormList:
		hint = "Write [a, b], or one item a line after a - and a space."
	case s.Form == FormTable, s.Form == FormMap:
		hint = "Write one field a line, as name: value, indented under its key."
	}
	c.report("wrong-kind", n, fmt.Sprintf("%s must be %s; here it is %s.", o.what, s.wants(), n.kind), hint)
}

// scalarIn tells whether a scalar would do.
func (s *Shape) scalarIn() bool {
	return slices.ContainsFunc(s.flat(nil), func(e *Shape) bool { return e.Form.kind() == Scalar })
}

func (n *Node) isFlow(sign byte) bool {
	return strings.HasPrefix(n.tail(), string(sign))
}

// either takes the alternative that fits best among those of the node's kind.
func (c *checker) either(n *Node, s *Shape, o owner) {
	var best []Problem
	found := false
	for _, e := range s.flat(nil) {
		if e.Form.kind() != n.kind {
			continue
		}
		try := &checker{}
		try.node(n, e, o)
		if !found || len(try.problems) < len(best) {
			best, found = try.problems, true
		}
	}
	if !found {
		c.wrongKind(n, s, o)
	}
	for _, p := range best {
		c.add(p)
	}
}

// flat gives the alternatives with those of alternatives in their place; a shape
// that is an alternative of itself adds nothing.
func (s *Shape) flat(seen []*Shape) []*Shape {
	if s.Form != FormEither {
		return []*Shape{s}
	}
	if slices.Contains(seen, s) {
		return nil
	}
	var out []*Shape
	for _, e := range s.Either {
		out = append(out, e.flat(append(seen, s))...)
	}
	return out
}

func (c *checker) fields(n *Node, s *Shape, o owner) {
	at := o.key
	if at == nil {
		at = n
	}
	names := s.fieldNames()
	for _, p := range n.pairs {
		if c.full {
			return
		}
		f := s.field(p.Key.text)
		if f == nil {
			c.unknownField(p.Key, s, names)
			continue
		}
		c.node(p.Value, f.Shape, owner{key: p.Key, what: shown(p.Key.text)})
	}
	if n.lost {
		return // what seems to be missing may be what Parse has left out
	}
	for _, f := range s.Fields {
		if f.Required && n.Key(f.Name) == nil && !slices.ContainsFunc(f.Unless, n.has) {
			hint := "Add " + f.Name + ", with " + f.Shape.wants() + "."
			if len(f.Unless) > 0 {
				hint += " It may be left out beside " + orList(f.Unless) + "."
			}
			c.report("missing-field", at, fmt.Sprintf("%s has no field %s.", o.what, shown(f.Name)), hint)
		}
	}
	for _, group := range s.OneOf {
		var given []*Node
		for _, name := range group {
			if k := n.Key(name); k != nil {
				given = append(given, k)
			}
		}
		switch {
		case len(given) == 0:
			c.report("missing-field", at, o.what+" needs one of the fields "+orList(group)+".", "")
		case len(given) > 1:
			slices.SortFunc(given, func(a, b *Node) int { return a.Place().Compare(b.Place()) })
			p := NewProblem("not-together", given[1], fmt.Sprintf("%s and %s do not go together.",
				shown(given[0].text), shown(given[1].text)), "Give one of them.")
			c.add(p.With(NoteAt(given[0], "the other one is here")))
		}
	}
}

func (c *checker) unknownField(key *Node, s *Shape, names []string) {
	text := shown(key.text) + " is not a field here."
	if s.Noun != "" {
		text = shown(key.text) + " is not a field of " + s.Noun + "."
	}
	hint := "There are: " + strings.Join(names, ", ") + "."
	if like := DidYouMean(key.text, names); like != "" {
		hint = "Did you mean " + like + "? " + hint
	}
	c.report("unknown-field", key, text, hint)
}

func (c *checker) table(n *Node, s *Shape, o owner) {
	if len(n.pairs) < s.Min {
		c.count(n, s, len(n.pairs), o)
	}
	for _, p := range n.pairs {
		if s.Pattern != nil {
			c.id(p.Key, s.Pattern, maxIDRunes)
		}
		c.node(p.Value, s.Item, owner{key: p.Key, what: shown(p.Key.text)})
	}
}

func (c *checker) items(n *Node, s *Shape, o owner) {
	if len(n.items) < s.Min || s.Max > 0 && len(n.items) > s.Max {
		c.count(n, s, len(n.items), o)
	}
	what := "An item"
	if o.key != nil {
		what = "An item of " + shown(o.key.text)
	}
	for _, item := range n.items {
		c.node(item, s.Item, owner{what: what})
	}
}

func (c *checker) count(n *Node, s *Shape, got int, o owner) {
	wanted := fmt.Sprintf("at least %d", s.Min)
	switch {
	case s.Min == s.Max:
		wanted = fmt.Sprint(s.Min)
	case s.Max > 0 && got > s.Max:
		wanted = fmt.Sprintf("at most %d", s.Max)
	}
	c.report("wrong-count", n, fmt.Sprintf("%s has %d items; it must have %s.", o.what, got, wanted), "")
}

func (s *Shape) field(name string) *Field {
	for i := range s.Fields {
		if s.Fields[i].Name == name {
			return &s.Fields[i]
		}
	}
	return nil
}

func (s *Shape) fieldNames() []string {
	var names []string
	for _, f := range s.Fields {
		names = append(names, f.Name)
	}
	return names
}

func (n *Node) has(name string) bool { return n.Key(name) != nil }

func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
