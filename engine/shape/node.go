package shape

import (
	"strconv"

	"hotlug/engine/pattern"
)

// Kind is what a node is.
type Kind int

const (
	Null   Kind = iota // nothing after the colon, or null
	Scalar             // a text, number, yes or no
	List
	Map
)

// String is the kind as in "a list".
func (k Kind) String() string {
	switch k {
	case Scalar:
		return "a text"
	case List:
		return "a list"
	case Map:
		return "a map"
	}
	return "nothing"
}

// style is how a scalar is written.
type style int

const (
	plain style = iota
	single
	double
	literal
	folded
)

// sense is what YAML takes a plain scalar for.
type sense int

const (
	isText sense = iota
	isBool
	isNumber
)

func (s sense) String() string {
	switch s {
	case isBool:
		return "yes or no"
	case isNumber:
		return "a number"
	}
	return "a text"
}

// Node is a read-only view of one thing in a file: a map, a list or a scalar
// with its place. All methods may be called on nil, which is like Null.
type Node struct {
	src   *source
	kind  Kind
	sense sense
	style style
	text  string
	line  int
	col   int
	off   int // col in bytes, from 0
	width int
	pairs []Pair
	items []*Node
	// refused nodes have been reported by Parse; Check says no more about them.
	refused bool
	// lost says that fields of this map were left out by Parse.
	lost bool
}

// Pair is one field of a map.
type Pair struct {
	Key   *Node // always a scalar
	Value *Node
}

// Kind is what the node is; Null for nil.
func (n *Node) Kind() Kind {
	if n == nil {
		return Null
	}
	return n.kind
}

// Place is where the node begins: of a quoted text the quote, of a block the |
// or >, of nothing the key it is missing behind. The zero Place for nil.
func (n *Node) Place() Place {
	if n == nil {
		return Place{}
	}
	return Place{File: n.src.name, Line: n.line, Col: n.col}
}

// Source is the line on which the node begins.
func (n *Node) Source() string {
	if n == nil {
		return ""
	}
	return n.src.line(n.line)
}

// tail is what stands on the node's line from its beginning on.
func (n *Node) tail() string { return n.src.line(n.line)[n.off:] }

// Text is a scalar as written, quotes and escapes undone, without the line ends
// that a block has at its end; "" for all other kinds.
func (n *Node) Text() string {
	if n == nil {
		return ""
	}
	return n.text
}

// Get is the value of a field, nil when the node is no map or has no such field.
func (n *Node) Get(key string) *Node {
	for _, p := range n.Pairs() {
		if p.Key.text == key {
			return p.Value
		}
	}
	return nil
}

// Key is the node of a field's name, nil when there is no such field.
func (n *Node) Key(key string) *Node {
	for _, p := range n.Pairs() {
		if p.Key.text == key {
			return p.Key
		}
	}
	return nil
}

// Pairs are the fields of a map in the order of the file, each key once; nil for
// all other kinds. The slice is not to be changed.
func (n *Node) Pairs() []Pair {
	if n == nil {
		return nil
	}
	return n.pairs
}

// Items are the items of a list; nil for all other kinds. The slice is not to be
// changed.
func (n *Node) Items() []*Node {
	if n == nil {
		return nil
	}
	return n.items
}

// Each gives the items of a list, the node itself for a scalar or map, nothing
// for Null: what a field that takes "one or a list" is read with.
func (n *Node) Each() []*Node {
	switch n.Kind() {
	case Null:
		return nil
	case List:
		return n.items
	}
	return []*Node{n}
}

// Texts are the texts of Each.
func (n *Node) Texts() []string {
	var out []string
	for _, i := range n.Each() {
		out = append(out, i.Text())
	}
	return out
}

// Bool is the value of true or false, written so and unquoted; ok is false for
// everything else, also for yes, on and True, which not all programs agree on.
func (n *Node) Bool() (value, ok bool) {
	if n.Kind() != Scalar || n.style != plain {
		return false, false
	}
	return n.text == "true", n.text == "true" || n.text == "false"
}

var (
	wholeNumber   = pattern.Of(`^[-+]?(0|[1-9][0-9]*)$`)
	decimalNumber = pattern.Of(`^[-+]?(0|[1-9][0-9]*)?(\.[0-9]+)?([eE][-+]?[0-9]{1,3})?$`)
)

// Int is the value of an unquoted whole number in plain digits; ok is false for
// everything else, also for 010 (eight to some programs), 1_000, 0x10 and 3.0.
func (n *Node) Int() (value int, ok bool) {
	if n.Kind() != Scalar || n.style != plain || !wholeNumber.MatchString(n.text) {
		return 0, false
	}
	v, err := strconv.Atoi(n.text)
	return v, err == nil
}

// Float is the value of an unquoted decimal number; ok is false for everything
// else, also for .nan, .inf, 010 and 1_000.
func (n *Node) Float() (value float64, ok bool) {
	if n.Kind() != Scalar || n.style != plain || !decimalNumber.MatchString(n.text) {
		return 0, false
	}
	v, err := strconv.ParseFloat(n.text, 64)
	return v, err == nil
}
