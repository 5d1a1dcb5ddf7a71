package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// rewrite is its own flag where no other file of this package has -update.
var rewriting = flag.Bool("update", false, "rewrite the files that tests keep: schemas, pages of help")

// schemas are the JSON Schemas of all files that people write, by file name.
func schemas() map[string][]byte {
	out := map[string][]byte{}
	shapes := graph.Shapes()
	shapes["rig"], shapes["answers"] = rig.Shape(), answersShape()
	for name, s := range shapes {
		out[name+".json"] = shape.JSONSchema(s, "Hotlug: "+name)
	}
	return out
}

const schemaDir = "../../kb/schema"

// The schemas in kb/schema are those of the shapes that the loaders use.
func TestSchemasAreThoseOfTheShapes(t *testing.T) {
	want := schemas()
	if *rewriting {
		if err := os.MkdirAll(schemaDir, 0o755); err != nil {
			t.Fatal(err)
		}
		for name, b := range want {
			if err := os.WriteFile(filepath.Join(schemaDir, name), b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(want)) {
		have, err := os.ReadFile(filepath.Join(schemaDir, name))
		if err != nil {
			t.Errorf("%v; go test ./cmd/hotlug -run Schemas -update writes it", err)
			continue
		}
		if !bytes.Equal(have, want[name]) {
			t.Errorf("kb/schema/%s is not that of the shape any more; go test ./cmd/hotlug -run Schemas -update writes it", name)
		}
	}
	files, err := filepath.Glob(filepath.Join(schemaDir, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if want[filepath.Base(f)] == nil {
			t.Errorf("kb/schema/%s is the schema of nothing", filepath.Base(f))
		}
	}
}

// modelineOf is the first line that makes editors complete and check a file.
func modelineOf(file string) string {
	schema := strings.TrimSuffix(path.Base(file), ".yaml")
	up := "schema/"
	if dir := path.Dir(file); dir != "." {
		schema, up = strings.TrimSuffix(dir, "s"), "../schema/"
	}
	return "# yaml-language-server: $schema=" + up + schema + ".json"
}

// Every knowledge file begins with the line that names its schema.
func TestKnowledgeFilesNameTheirSchema(t *testing.T) {
	err := fs.WalkDir(kb.Files, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(file) != ".yaml" { // the odds are counted, and no editor's business
			return err
		}
		src, err := fs.ReadFile(kb.Files, file)
		if err != nil {
			return err
		}
		if first, _, _ := strings.Cut(string(src), "\n"); first != modelineOf(file) {
			t.Errorf("kb/%s begins with %q, want %q", file, first, modelineOf(file))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The knowledge, as it is shipped, is good by its schemas: editors mark nothing.
func TestKnowledgeFitsItsSchemas(t *testing.T) {
	all := map[string]map[string]any{}
	for name, b := range schemas() {
		var s map[string]any
		if err := json.Unmarshal(b, &s); err != nil {
			t.Fatal(err)
		}
		all[name] = s
	}
	err := fs.WalkDir(kb.Files, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(file) != ".yaml" { // the odds are counted, and no editor's business
			return err
		}
		src, err := fs.ReadFile(kb.Files, file)
		if err != nil {
			return err
		}
		n, _ := shape.Parse(file, src)
		s := all[path.Base(strings.TrimPrefix(modelineOf(file), "# yaml-language-server: $schema="))]
		v := validator{root: s}
		v.check(s, n, file)
		for _, e := range v.errors {
			t.Error(e)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A wrong word is wrong by the schema too.
func TestSchemasRefuse(t *testing.T) {
	for _, c := range []struct{ name, schema, src string }{
		{"a field that there is not", "values", "format: 1\nvalues: {a: {is: b, label: c, units: V}}"},
		{"a missing field", "values", "format: 1\nvalues: {a: {is: b}}"},
		{"a word that is none of the list", "states", "format: 1\nmeters: {a: {say: b, class: foot}}"},
		{"an id in capitals", "cautions", "format: 1\ncautions: {A: {say: b}}"},
		{"another format", "sources", "format: 2\nsources: {a: {say: b}}"},
		{"a number out of bounds", "sheet", "format: 1\nsheet: a\nfindings: {a: {cause: b, unsafe: 4}}"},
		{"two of which one is wanted", "sheet", "format: 1\nsheet: a\nfindings: {a: {cause: b, fix: [{do: c, say: d}]}}"},
		{"a text for a list", "rig", "format: 1\nplaces: none"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s map[string]any
			if err := json.Unmarshal(schemas()[c.schema+".json"], &s); err != nil {
				t.Fatal(err)
			}
			n, _ := shape.Parse("x.yaml", []byte(c.src))
			v := validator{root: s}
			v.check(s, n, "x.yaml")
			if len(v.errors) == 0 {
				t.Error("the schema takes it")
			}
		})
	}
}
