package graph_test

import (
	"flag"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

var update = flag.Bool("update", false, "write the golden files anew")

// base is the small whole knowledge in testdata/base, to be changed by a test.
func base(t testing.TB) fstest.MapFS {
	t.Helper()
	return folder("testdata/base")
}

// folder is a folder of testdata, read into memory.
func folder(name string) fstest.MapFS {
	out := fstest.MapFS{}
	dir := os.DirFS(name)
	err := fs.WalkDir(dir, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(dir, path)
		out[path] = &fstest.MapFile{Data: b}
		return err
	})
	if err != nil {
		panic(err)
	}
	return out
}

// change exchanges a piece of a file for another, which has to be there once.
func change(t testing.TB, m fstest.MapFS, file, from, to string) {
	t.Helper()
	f := m[file]
	if f == nil {
		t.Fatalf("there is no file %s in testdata/base", file)
	}
	s := string(f.Data)
	if n := strings.Count(s, from); n != 1 {
		t.Fatalf("%q stands %d times in %s, want once", from, n, file)
	}
	m[file] = &fstest.MapFile{Data: []byte(strings.Replace(s, from, to, 1))}
}

// load loads layers; the first is called kb, the next fleet.
func load(layers ...fs.FS) (*graph.Graph, []shape.Problem) {
	names := []string{"kb", "fleet", "depot"}
	var ls []graph.Layer
	for i, l := range layers {
		ls = append(ls, graph.Layer{Name: names[i], FS: l})
	}
	return graph.Load(electric.Table(), ls...)
}

// good loads layers that must have no problem at all.
func good(t testing.TB, layers ...fs.FS) *graph.Graph {
	t.Helper()
	g, problems := load(layers...)
	if len(problems) > 0 {
		t.Fatalf("want no problem, got\n%s", shown(problems))
	}
	return g
}

func shown(problems []shape.Problem) string {
	var b strings.Builder
	for _, p := range problems {
		b.WriteString(shape.Render(p) + "\n")
	}
	return b.String()
}

func codes(problems []shape.Problem) []string {
	var out []string
	for _, p := range problems {
		out = append(out, p.Code)
	}
	return out
}

// files makes a layer of files given as name, text, name, text.
func files(nameText ...string) fstest.MapFS {
	m := fstest.MapFS{}
	for i := 0; i < len(nameText); i += 2 {
		m[nameText[i]] = &fstest.MapFile{Data: []byte(nameText[i+1])}
	}
	return m
}
