package ticket

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"time"
)

// Schema is the JSON Schema (draft 2020-12) of a ticket. It is made from the very
// types that are written, so it can't say anything else; what each field means
// stands in schemadoc.go.
func Schema() []byte {
	defs := map[string]any{}
	root := schemaOf(reflect.TypeFor[Ticket](), defs)
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "Hotlug: a ticket, format 1"
	root["$defs"] = defs
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	_ = e.Encode(root) // maps, strings and numbers, which always encode
	return b.Bytes()
}

// schemaOf is the schema of a type; structs other than the root stand under $defs.
func schemaOf(t reflect.Type, defs map[string]any) map[string]any {
	switch t.Kind() {
	case reflect.Pointer:
		return schemaRef(t.Elem(), defs)
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": schemaRef(t.Elem(), defs)}
	}
	props := map[string]any{}
	required := []string{}
	for _, f := range reflect.VisibleFields(t) {
		name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		if !f.IsExported() || name == "" || name == "-" {
			continue
		}
		s := schemaRef(f.Type, defs)
		if doc := schemaDocs[t.Name()+"."+name]; doc != "" {
			s["description"] = doc
		}
		if words := schemaWords[t.Name()+"."+name]; words != nil {
			s["enum"] = words
		}
		props[name] = s
		if !strings.HasPrefix(rest, "omit") {
			required = append(required, name)
		}
	}
	slices.Sort(required)
	return map[string]any{"type": "object", "properties": props, "required": required, "additionalProperties": false}
}

func schemaRef(t reflect.Type, defs map[string]any) map[string]any {
	switch {
	case t.Kind() == reflect.Pointer:
		return schemaRef(t.Elem(), defs)
	case t == reflect.TypeFor[time.Time]():
		return map[string]any{"type": "string", "format": "date-time"}
	case t.Kind() != reflect.Struct:
		return schemaOf(t, defs)
	}
	if _, done := defs[t.Name()]; !done {
		defs[t.Name()] = true // it may hold itself
		defs[t.Name()] = schemaOf(t, defs)
	}
	return map[string]any{"$ref": "#/$defs/" + t.Name()}
}
