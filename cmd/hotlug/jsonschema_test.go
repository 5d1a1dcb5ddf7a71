package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"hotlug/engine/shape"
)

// validator holds a file against a JSON Schema, as an editor would: it knows the
// words of the standard that our schemas use, and no others.
type validator struct {
	root   map[string]any
	errors []string
}

func (v *validator) bad(at, format string, a ...any) {
	v.errors = append(v.errors, at+": "+fmt.Sprintf(format, a...))
}

// fits says that a node is good by a schema.
func (v *validator) fits(s map[string]any, n *shape.Node, at string) bool {
	w := validator{root: v.root}
	w.check(s, n, at)
	return len(w.errors) == 0
}

func (v *validator) check(s map[string]any, n *shape.Node, at string) {
	if ref, ok := s["$ref"].(string); ok {
		defs := v.root["$defs"].(map[string]any)
		s = defs[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
	}
	if t, ok := s["type"]; ok && !slices.ContainsFunc(list(t), func(t any) bool { return isType(t.(string), n) }) {
		v.bad(at, "want %v, got %s", t, n.Kind())
		return
	}
	if words, ok := s["enum"]; ok && !slices.ContainsFunc(list(words), func(w any) bool { return w == scalar(n) }) {
		v.bad(at, "%q is none of %v", n.Text(), words)
	}
	for _, key := range []string{"anyOf", "oneOf"} {
		if all, ok := s[key]; ok {
			fit := 0
			for _, one := range list(all) {
				if v.fits(one.(map[string]any), n, at) {
					fit++
				}
			}
			if fit == 0 || key == "oneOf" && fit > 1 {
				v.bad(at, "%d of %s fit", fit, key)
			}
		}
	}
	for _, one := range list(s["allOf"]) {
		v.check(one.(map[string]any), n, at)
	}
	switch n.Kind() {
	case shape.Map:
		v.object(s, n, at)
	case shape.List:
		v.count(s, "Items", len(n.Items()), at)
		if item, ok := s["items"].(map[string]any); ok {
			for i, x := range n.Items() {
				v.check(item, x, fmt.Sprintf("%s[%d]", at, i))
			}
		}
	case shape.Scalar:
		v.scalar(s, n, at)
	}
}

func (v *validator) object(s map[string]any, n *shape.Node, at string) {
	props, _ := s["properties"].(map[string]any)
	for _, name := range list(s["required"]) {
		if n.Get(name.(string)) == nil {
			v.bad(at, "%s is missing", name)
		}
	}
	v.count(s, "Properties", len(n.Pairs()), at)
	for _, p := range n.Pairs() {
		key := p.Key.Text()
		if names, ok := s["propertyNames"].(map[string]any); ok {
			v.scalar(names, p.Key, at+"."+key)
		}
		switch more := s["additionalProperties"].(type) {
		case map[string]any:
			if props[key] == nil {
				v.check(more, p.Value, at+"."+key)
			}
		case bool:
			if !more && props[key] == nil {
				v.bad(at, "%s is not a field", key)
			}
		}
		if prop, ok := props[key].(map[string]any); ok {
			v.check(prop, p.Value, at+"."+key)
		}
	}
}

func (v *validator) scalar(s map[string]any, n *shape.Node, at string) {
	text, isText := scalar(n).(string)
	if isText {
		length := float64(utf8.RuneCountInString(text))
		if least, ok := s["minLength"].(float64); ok && length < least {
			v.bad(at, "shorter than %v", least)
		}
		if most, ok := s["maxLength"].(float64); ok && length > most {
			v.bad(at, "longer than %v", most)
		}
		if p, ok := s["pattern"].(string); ok && !regexp.MustCompile(p).MatchString(text) {
			v.bad(at, "%q is not like %s", text, p)
		}
	}
	if x, ok := scalar(n).(float64); ok {
		if least, ok := s["minimum"].(float64); ok && x < least {
			v.bad(at, "less than %v", least)
		}
		if most, ok := s["maximum"].(float64); ok && x > most {
			v.bad(at, "more than %v", most)
		}
	}
}

func (v *validator) count(s map[string]any, of string, n int, at string) {
	if least, ok := s["min"+of].(float64); ok && float64(n) < least {
		v.bad(at, "%d, and %v are the least", n, least)
	}
	if most, ok := s["max"+of].(float64); ok && float64(n) > most {
		v.bad(at, "%d, and %v are the most", n, most)
	}
}

// scalar is a scalar as JSON has it.
func scalar(n *shape.Node) any {
	if b, ok := n.Bool(); ok {
		return b
	}
	if x, ok := n.Float(); ok {
		return x
	}
	return n.Text()
}

func isType(name string, n *shape.Node) bool {
	switch n.Kind() {
	case shape.Map:
		return name == "object"
	case shape.List:
		return name == "array"
	case shape.Null:
		return name == "null"
	}
	switch x := scalar(n).(type) {
	case bool:
		return name == "boolean"
	case float64:
		return name == "number" || name == "integer" && x == float64(int(x))
	}
	return name == "string"
}

// list is a JSON value as a list: nothing, one thing, or several.
func list(x any) []any {
	switch x := x.(type) {
	case nil:
		return nil
	case []any:
		return x
	}
	return []any{x}
}
