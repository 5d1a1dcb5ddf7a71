package shape

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
)

// JSONSchema writes a shape as a JSON Schema (draft 2020-12), for editors that
// complete and check the files while they are written. Fields stand in the order
// of the table; the same shape gives the same bytes. Named and recursive shapes
// stand under $defs.
func JSONSchema(s *Shape, title string) []byte {
	w := &schemaWriter{names: map[*Shape]string{}, taken: map[string]bool{}}
	w.find(s, map[*Shape]bool{}, map[*Shape]bool{})
	root := object{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", title}}
	root = append(root, w.shape(s, "")...)
	if len(w.order) > 0 {
		var defs object
		for _, d := range w.order {
			defs = append(defs, member{w.names[d], w.body(d, "")})
		}
		root = append(root, member{"$defs", defs})
	}
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	// The value is made of strings, numbers, slices and objects only, which
	// always encode.
	_ = encoder.Encode(root)
	return out.Bytes()
}

// object is a JSON object that keeps its order.
type object []member

type member struct {
	name  string
	value any
}

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := encoder.Encode(m.name); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := encoder.Encode(m.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

type schemaWriter struct {
	names map[*Shape]string // shapes under $defs
	taken map[string]bool
	order []*Shape
}

// find names the shapes that go under $defs: those with a name, and those that
// hold themselves.
func (w *schemaWriter) find(s *Shape, open, done map[*Shape]bool) {
	if s == nil {
		return
	}
	if s.Name != "" || open[s] {
		w.define(s)
	}
	if open[s] || done[s] {
		return
	}
	open[s] = true
	w.find(s.Item, open, done)
	for _, f := range s.Fields {
		w.find(f.Shape, open, done)
	}
	for _, e := range s.Either {
		w.find(e, open, done)
	}
	delete(open, s)
	done[s] = true
}

func (w *schemaWriter) define(s *Shape) {
	if w.names[s] != "" {
		return
	}
	base := s.Name
	if base == "" {
		base = "part"
	}
	name := base
	for i := 2; w.taken[name]; i++ {
		name = fmt.Sprintf("%s-%d", base, i)
	}
	w.taken[name] = true
	w.names[s] = name
	w.order = append(w.order, s)
}

// shape is a shape where it is used: a reference if it stands under $defs.
func (w *schemaWriter) shape(s *Shape, doc string) object {
	name := w.names[s]
	if name == "" {
		return w.body(s, doc)
	}
	var o object
	if doc != "" {
		o = append(o, member{"description", doc})
	}
	return append(o, member{"$ref", "#/$defs/" + name})
}

func (w *schemaWriter) body(s *Shape, doc string) object {
	var o object
	if doc == "" {
		doc = s.Doc
	}
	if doc != "" {
		o = append(o, member{"description", doc})
	}
	put := func(name string, value any) { o = append(o, member{name, value}) }
	types := func(names ...string) {
		if s.Empty {
			names = append(names, "null")
		}
		if len(names) == 1 {
			put("type", names[0])
			return
		}
		put("type", names)
	}
	length := func() {
		put("minLength", 1)
		if s.MaxLen > 0 {
			put("maxLength", s.MaxLen)
		}
	}
	switch s.Form {
	case FormText:
		if s.Loose {
			types("string", "number", "boolean")
		} else {
			types("string")
		}
		length()
	case FormExpression:
		types("string", "number", "boolean")
		length()
	case FormID:
		types("string")
		length()
		if s.Pattern != nil {
			put("pattern", s.Pattern.re.String())
		}
	case FormBool:
		types("boolean")
	case FormInt, FormNumber:
		types(map[Form]string{FormInt: "integer", FormNumber: "number"}[s.Form])
		if b := s.Bounds; b != nil {
			put("minimum", b.Least)
			put("maximum", b.Most)
		}
	case FormQuantity:
		types("string", "number")
		length()
	case FormWord:
		put("enum", enum(s.Words))
	case FormList:
		types("array")
		put("items", w.shape(s.Item, ""))
		w.counts(&o, s, "Items")
	case FormTable:
		types("object")
		if s.Pattern != nil {
			put("propertyNames", object{{"pattern", s.Pattern.re.String()}, {"maxLength", maxIDRunes}})
		}
		put("additionalProperties", w.shape(s.Item, ""))
		w.counts(&o, s, "Properties")
	case FormMap:
		types("object")
		o = append(o, w.fields(s)...)
	case FormEither:
		var choices []object
		for _, e := range s.Either {
			choices = append(choices, w.shape(e, ""))
		}
		put("anyOf", choices)
	}
	return o
}

// enum lists words as they may stand in a file: 1 without quotes is a number to
// an editor, and a word here.
func enum(words []string) []any {
	var out []any
	for _, word := range words {
		if n, err := strconv.Atoi(word); err == nil {
			out = append(out, n)
		}
		out = append(out, word)
	}
	return out
}

func (w *schemaWriter) counts(o *object, s *Shape, of string) {
	if s.Min > 0 {
		*o = append(*o, member{"min" + of, s.Min})
	}
	if s.Max > 0 {
		*o = append(*o, member{"max" + of, s.Max})
	}
}

func (w *schemaWriter) fields(s *Shape) object {
	var o, properties object
	var required []string
	var conditions []object
	for _, f := range s.Fields {
		properties = append(properties, member{f.Name, w.shape(f.Shape, f.Doc)})
		switch {
		case f.Required && len(f.Unless) == 0:
			required = append(required, f.Name)
		case f.Required:
			one := []object{requires(f.Name)}
			for _, other := range f.Unless {
				one = append(one, requires(other))
			}
			conditions = append(conditions, object{{"anyOf", one}})
		}
	}
	for _, group := range s.OneOf {
		var one []object
		for _, name := range group {
			one = append(one, requires(name))
		}
		conditions = append(conditions, object{{"oneOf", one}})
	}
	o = append(o, member{"properties", properties})
	if len(required) > 0 {
		o = append(o, member{"required", required})
	}
	if len(conditions) > 0 {
		o = append(o, member{"allOf", conditions})
	}
	return append(o, member{"additionalProperties", false})
}

func requires(name string) object { return object{{"required", []string{name}}} }
