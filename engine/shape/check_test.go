package shape

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// tree is a shape that holds itself, twice.
func tree() *Shape {
	t := MapOf(May("name", Text(0), "")).As("a tree", "")
	t.Fields = append(t.Fields, May("first", t, ""), May("rest", ListOf(t), ""))
	return t
}

func TestCheck(t *testing.T) {
	choices := Either(ListOf(ID()), TableOf(MapOf(Must("label", Text(0), "")).As("a choice", "")))
	loop := Either(Bool())
	loop.Either = append(loop.Either, loop)
	for _, c := range []struct {
		name  string
		shape *Shape
		src   string
		want  string // codes and places
	}{
		{"one or more: one", OneOrMore(ID()), "v: a", ""},
		{"one or more: more", OneOrMore(ID()), "v: [a, b]", ""},
		{"one or more: none", OneOrMore(ID()), "v: []", "wrong-count 1:4"},
		{"one or more: a map", OneOrMore(ID()), "v: {a: b}", "wrong-kind 1:4"},
		{"one or more: a bad one", OneOrMore(ID()), "v: [a, B!]", "bad-id 1:8"},
		{"list or table: list", choices, "v: [a, b]", ""},
		{"list or table: table", choices, "v: {a: {label: x}}", ""},
		{"list or table: bad table", choices, "v: {a: {lable: x}}", "missing-field 1:5, unknown-field 1:9"},
		{"list or table: text", choices, "v: a", "wrong-kind 1:4"},
		{"word or quantity: word", Either(Word("none"), Quantity()), "v: none", ""},
		{"word or quantity: quantity", Either(Word("none"), Quantity()), "v: 12 V", ""},
		{"word or quantity: neither", Either(Word("none"), Quantity()), "v: a b c", "not-a-choice 1:4"},
		{"alternatives in alternatives", Either(Either(Bool(), Int(1, 2)), OneOrMore(ID())), "v: [a, b]", ""},
		{"an alternative of itself", loop, "v: [a]", "wrong-kind 1:4"},
		{"recursive", tree(), "v: {first: {rest: [{name: a}, {first: {nmae: b}}]}}", "unknown-field 1:40"},
		{"empty list allowed", AnyListOf(ID()), "v: []", ""},
		{"nothing allowed", &Shape{Form: FormTable, Item: ID(), Empty: true}, "v:", ""},
		{"nothing not allowed", TableOf(ID()), "v:", "missing-value 1:1"},
		{"path", IDLike(PathPattern), "v: battery.chemistry", ""},
		{"reference", Ref(), "v: joints/holder-drop", ""},
		{"reference too deep", Ref(), "v: a/b/c", "bad-id 1:4"},
		{"id in capitals", ID(), "v: Main", "bad-id 1:4"},
		{"id that ends in a dash", ID(), "v: main-", "bad-id 1:4"},
		{"id that is true", ID(), "v: true", "bad-id 1:4"},
		{"id that is too long", ID(), "v: " + strings.Repeat("a", 65), "too-long 1:4"},
		{"formula that is a number", Expression(), "v: 0.005", ""},
		{"formula that is true", Expression(), "v: true", ""},
		{"formula in braces", Expression(), "v: {a}", "wrong-kind 1:4"},
		{"formula too long", Expression(), "v: " + strings.Repeat("a + ", 300) + "a", "too-long 1:4"},
		{"formula without text", Expression(), "v: ' '", "missing-value 1:4"},
		{"quantity without unit", Quantity(), "v: 12", ""},
		{"quantity below nothing", Quantity(), "v: -10 C", ""},
		{"quantity without space", Quantity(), "v: 500mA", ""},
		{"quantity with a comma", Quantity(), "v: 3,5 V", "not-a-quantity 1:4"},
		{"quantity of words", Quantity(), "v: some V", "not-a-quantity 1:4"},
		{"loose text: number", LooseText(9), "v: 12", ""},
		{"loose text: true", LooseText(9), "v: true", ""},
		{"text: a date is as written", Text(9), "v: 2024-1-1", ""},
		{"text: no is as written", Text(9), "v: no", ""},
		{"text: number", Text(9), "v: 12", "wrong-kind 1:4"},
		{"text: number in quotes", Text(9), "v: '12'", ""},
		{"number with a unit", Number(0, 9), "v: 5 min", "wrong-kind 1:4"},
		{"number on its bound", Number(0, 9), "v: 9", ""},
		{"number above", Number(0, 9), "v: 9.1", "out-of-range 1:4"},
		{"whole number cut", Int(0, 9), "v: 3.5", "wrong-kind 1:4"},
		{"refused by Parse already", Text(9), "v: !x a", ""},
		{"with a refused key", MapOf(Must("a", ID(), "")), "v: {<<: {a: b}}", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			n, _ := Parse("f.yaml", []byte(c.src))
			var got []string
			for _, p := range Check(n, MapOf(Must("v", c.shape, ""))) {
				got = append(got, fmt.Sprintf("%s %d:%d", p.Code, p.At.Line, p.At.Col))
			}
			if s := strings.Join(got, ", "); s != c.want {
				t.Errorf("%q gives %q, want %q", c.src, s, c.want)
			}
		})
	}
}

func TestCheckOfNothing(t *testing.T) {
	if got := Check(nil, ID()); got != nil {
		t.Errorf("gives %v", got)
	}
}

// A shape that holds itself has to end somewhere in its schema.
func TestJSONSchemaOfRecursiveShape(t *testing.T) {
	got := JSONSchema(MapOf(Must("root", tree(), "where it begins")), "Trees")
	var schema struct {
		Properties map[string]map[string]any `json:"properties"`
		Defs       map[string]struct {
			Properties map[string]map[string]any `json:"properties"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(got, &schema); err != nil {
		t.Fatal(err)
	}
	if ref := schema.Properties["root"]["$ref"]; ref != "#/$defs/part" {
		t.Errorf("the root is %v", schema.Properties["root"])
	}
	if ref := schema.Defs["part"].Properties["first"]["$ref"]; ref != "#/$defs/part" {
		t.Errorf("the part is %v", schema.Defs["part"])
	}
	if again := JSONSchema(MapOf(Must("root", tree(), "where it begins")), "Trees"); string(again) != string(got) {
		t.Error("the same shape gives another schema")
	}
}
