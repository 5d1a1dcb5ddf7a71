package shape

import "hotlug/engine/pattern"

// Form is what a node may be.
type Form int

const (
	FormText       Form = iota // a text for people
	FormID                     // a name of something, after a Pattern
	FormExpression             // a formula, written so that errors can point into it
	FormBool                   // true or false
	FormInt                    // a whole number
	FormNumber                 // a number
	FormQuantity               // a number with its unit: 12 V
	FormWord                   // one of fixed words
	FormList                   // a list of Item
	FormTable                  // a map from free keys to Item
	FormMap                    // a map with named Fields
	FormEither                 // one of several shapes
)

// Shape describes what a node may be: one row of the table that Check and
// JSONSchema use. Make shapes with the functions below; fields may be set
// afterwards, also to the shape itself for what is recursive.
type Shape struct {
	Form Form
	// Noun names what this is in a problem: "a step". Empty: told by the form.
	Noun string
	// Name makes it a definition of its own in the JSON Schema. Recursive shapes
	// get one if they have none.
	Name string
	// Doc says what it is for, for editors.
	Doc string
	// Empty says that nothing after the colon is as good as leaving it out.
	Empty bool

	MaxLen  int      // of texts, ids and expressions, in runes
	Loose   bool     // texts: 12 and true without quotes are texts too
	Pattern *Pattern // of ids, and of the keys of a table
	Words   []string // of FormWord
	Bounds  *Bounds  // of numbers; nil for any

	Item     *Shape // of lists and tables
	Min, Max int    // how many items; Max 0 for any number

	Fields []Field
	// OneOf are groups of fields: of each group exactly one must be given.
	OneOf [][]string

	// Either are the alternatives of FormEither. The first whose kind of node
	// fits and that has the fewest problems counts.
	Either []*Shape
}

// Field is a named field of a map.
type Field struct {
	Name     string
	Shape    *Shape
	Required bool
	// Unless names fields of which one given makes this one not required.
	Unless []string
	// Doc says what the field means here; empty: the Doc of its Shape.
	Doc string
}

// Bounds are the least and the most that a number may be.
type Bounds struct{ Least, Most float64 }

// Pattern is a form of ids: a regular expression that JSON Schema knows too, and
// words for it.
type Pattern struct {
	re   *pattern.Pattern
	Says string // "small letters, digits ..."
}

// NewPattern makes a pattern; expr is anchored with ^ and $ and must compile.
func NewPattern(expr, says string) *Pattern {
	return &Pattern{re: pattern.Of(expr), Says: says}
}

const idExpr = `[a-z][a-z0-9]*([_-][a-z0-9]+)*`

var (
	// IDPattern is the form of all ids: holder_drop_v, main-fuse, hut-01.
	IDPattern = NewPattern(`^`+idExpr+`$`,
		"small letters and digits, beginning with a letter, words joined by - or _")
	// RefPattern is an id, or one in another sheet: joints/holder-drop.
	RefPattern = NewPattern(`^`+idExpr+`(/`+idExpr+`)?$`,
		"an id, or sheet/id for one in another sheet")
	// PathPattern is a way into a file: battery.chemistry.
	PathPattern = NewPattern(`^`+idExpr+`(\.`+idExpr+`)*$`,
		"field names joined by dots")
)

// Must is a field that has to be given.
func Must(name string, s *Shape, doc string) Field {
	return Field{Name: name, Shape: s, Required: true, Doc: doc}
}

// May is a field that may be left out.
func May(name string, s *Shape, doc string) Field {
	return Field{Name: name, Shape: s, Doc: doc}
}

// MustUnless is a field that has to be given unless one of others is.
func MustUnless(name string, s *Shape, doc string, others ...string) Field {
	return Field{Name: name, Shape: s, Required: true, Doc: doc, Unless: others}
}

// Text is a text for people, up to so many runes (0: a paragraph).
func Text(maxLen int) *Shape {
	if maxLen == 0 {
		maxLen = maxTextRunes
	}
	return &Shape{Form: FormText, MaxLen: maxLen}
}

// LooseText is a text that may also be written as an unquoted number, true or
// false; Node.Text gives it as written.
func LooseText(maxLen int) *Shape {
	s := Text(maxLen)
	s.Loose = true
	return s
}

// ID is the id of something.
func ID() *Shape { return IDLike(IDPattern) }

// Ref is an id, or one in another sheet.
func Ref() *Shape { return IDLike(RefPattern) }

// IDLike is an id after a pattern.
func IDLike(p *Pattern) *Shape { return &Shape{Form: FormID, MaxLen: maxIDRunes, Pattern: p} }

// Expression is a formula.
func Expression() *Shape { return &Shape{Form: FormExpression, MaxLen: maxExpressionRunes} }

// Bool is true or false.
func Bool() *Shape { return &Shape{Form: FormBool} }

// Int is a whole number.
func Int(least, most int) *Shape {
	return &Shape{Form: FormInt, Bounds: &Bounds{float64(least), float64(most)}}
}

// Number is a number without a unit.
func Number(least, most float64) *Shape {
	return &Shape{Form: FormNumber, Bounds: &Bounds{least, most}}
}

// Quantity is a number and a unit, as in "12 V"; which units there are is not
// known here.
func Quantity() *Shape { return &Shape{Form: FormQuantity, MaxLen: maxIDRunes} }

// Word is one of fixed words.
func Word(words ...string) *Shape { return &Shape{Form: FormWord, Words: words} }

// ListOf is a list, of at least one item.
func ListOf(item *Shape) *Shape { return &Shape{Form: FormList, Item: item, Min: 1} }

// AnyListOf is a list that may be empty.
func AnyListOf(item *Shape) *Shape { return &Shape{Form: FormList, Item: item} }

// PairOf is a list of two.
func PairOf(item *Shape) *Shape { return &Shape{Form: FormList, Item: item, Min: 2, Max: 2} }

// TableOf is a map from ids to values, in the order of the file.
func TableOf(value *Shape) *Shape { return &Shape{Form: FormTable, Pattern: IDPattern, Item: value} }

// MapOf is a map with named fields.
func MapOf(fields ...Field) *Shape { return &Shape{Form: FormMap, Fields: fields} }

// Either is one of several shapes.
func Either(shapes ...*Shape) *Shape { return &Shape{Form: FormEither, Either: shapes} }

// OneOrMore is one thing or a list of them; read it with Node.Each.
func OneOrMore(item *Shape) *Shape { return Either(item, ListOf(item)) }

// As sets the noun and the documentation, and gives the shape again.
func (s *Shape) As(noun, doc string) *Shape {
	s.Noun, s.Doc = noun, doc
	return s
}

// Named sets the name of its definition in the JSON Schema.
func (s *Shape) Named(name string) *Shape {
	s.Name = name
	return s
}

// ExactlyOne adds a group of fields of which exactly one must be given.
func (s *Shape) ExactlyOne(fields ...string) *Shape {
	s.OneOf = append(s.OneOf, fields)
	return s
}

// kind is the kind of node a form is written as.
func (f Form) kind() Kind {
	switch f {
	case FormList:
		return List
	case FormTable, FormMap:
		return Map
	}
	return Scalar
}
