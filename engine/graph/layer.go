package graph

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"hotlug/engine/shape"
)

// Layer is a folder of knowledge. Name stands before file names in messages.
type Layer struct {
	Name string
	FS   fs.FS
}

// entry is one thing with an id, as the layers describe it: the built-in node
// first, then those of the overlays.
type entry struct {
	id    string
	sheet string
	key   *shape.Node // where its id stands
	nodes []*shape.Node
}

// get is the field as the last layer that has it gives it.
func (e *entry) get(field string) *shape.Node {
	for i := len(e.nodes) - 1; i >= 0; i-- {
		if n := e.nodes[i].Get(field); n != nil {
			return n
		}
	}
	return nil
}

// all lists the field of every layer that has it.
func (e *entry) all(field string) []*shape.Node {
	var out []*shape.Node
	for _, n := range e.nodes {
		if f := n.Get(field); f != nil {
			out = append(out, f)
		}
	}
	return out
}

// joined lists the words of a list field over all layers: what an overlay gives
// is added, nothing is taken away.
func (e *entry) joined(field string) []*shape.Node {
	var out []*shape.Node
	for _, l := range e.all(field) {
		for _, n := range listOf(l) {
			if !slices.ContainsFunc(out, func(o *shape.Node) bool { return o.Text() == n.Text() }) {
				out = append(out, n)
			}
		}
	}
	return out
}

func (e *entry) text(field string) string {
	if n := e.get(field); n != nil {
		return n.Text()
	}
	return ""
}

// top is the node that messages about the whole entry point at.
func (e *entry) top() *shape.Node { return e.key }

// listOf is the items of a list, or the node itself where one word stands
// instead of a list.
func listOf(n *shape.Node) []*shape.Node {
	switch {
	case n == nil || n.Kind() == shape.Null:
		return nil
	case n.Kind() == shape.List:
		return n.Items()
	}
	return []*shape.Node{n}
}

// table is entries by id, in the order of the files.
type table struct {
	byID  map[string]*entry
	order []string
}

func newTable() *table { return &table{byID: map[string]*entry{}} }

func (t *table) all() []*entry {
	out := make([]*entry, len(t.order))
	for i, id := range t.order {
		out[i] = t.byID[id]
	}
	return out
}

// section is one table of a file, on its way into the loader's.
type section struct {
	node          *shape.Node
	item          *shape.Shape // what an entry is, required fields and all
	layer         int
	prefix, sheet string
}

// add takes the entries of a section. Within one layer an id may stand once, and
// what stands in one sheet is changed in an overlay's sheet of that name only, so
// that a name taken twice by chance does not change another sheet's finding.
func (t *table) add(l *loader, s section) {
	for _, p := range s.node.Pairs() {
		id := s.prefix + p.Key.Text()
		e := t.byID[id]
		switch {
		case e == nil:
			e = &entry{id: id, sheet: s.sheet, key: p.Key}
			if s.layer > 0 {
				l.complete(t, p, s.item)
			}
			t.byID[id] = e
			t.order = append(t.order, id)
		case l.layerOf[e.nodes[len(e.nodes)-1]] == s.layer || e.sheet != s.sheet:
			l.twice(p.Key, e.key, id)
			continue
		}
		e.nodes = append(e.nodes, p.Value)
		l.layerOf[p.Value] = s.layer
	}
}

// readLayers reads the named files of all layers into the loader's tables.
func (l *loader) readLayers(layers []Layer, names func(fs.FS) []string) {
	h := sha256.New()
	for i, ly := range layers {
		own := sha256.New()
		files := names(ly.FS)
		if len(files) == 0 {
			l.problem(shape.FileProblem("no-knowledge", ly.Name, "the folder holds no file of knowledge",
				"it takes "+strings.Join(fileNames, ", ")+" and sheets/*.yaml"))
		}
		l.strayFiles(ly)
		for _, f := range parseAll(ly, files) {
			if f.err != nil {
				l.problem(shape.Problem{Code: "unreadable-file", Text: "the file can't be read: " + f.err.Error(), At: shape.Place{File: f.name}})
				l.lost = true
				continue
			}
			stamp(io.MultiWriter(h, own), i, f.file, f.src)
			l.g.lines[f.name] = strings.Split(strings.ReplaceAll(string(f.src), "\r\n", "\n"), "\n")
			l.readFile(f, i)
		}
		l.g.Layers = append(l.g.Layers, LayerHash{ly.Name, shortHash(own)})
	}
	l.g.Hash = shortHash(h)
}

// stamp hashes a file. Layer, name and length go in so that moving text between
// files shows.
func stamp(w io.Writer, layer int, file string, src []byte) {
	fmt.Fprintf(w, "%d %q %d\n%s", layer, file, len(src), src)
}

// Hash is the hash that the knowledge of these layers has once it is loaded,
// without loading it. Files that can't be read are left out.
func Hash(layers ...Layer) string {
	h := sha256.New()
	for i, ly := range layers {
		for _, f := range layerFiles(ly.FS) {
			if src, err := fs.ReadFile(ly.FS, f); err == nil {
				stamp(h, i, f, src)
			}
		}
	}
	return shortHash(h)
}

// shortHash is enough of a hash to tell versions of the knowledge apart.
func shortHash(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil))[:16] }

// fileNames are the files of a layer besides its sheets, in the order in which
// they are read.
var fileNames = []string{"states.yaml", "cautions.yaml", "sources.yaml", "readings.yaml", "values.yaml", "laws.yaml", symptomsFile}

// strayFiles reports files that look like knowledge and would not be read: a
// caution in cautions.yml is one that nobody sees.
func (l *loader) strayFiles(ly Layer) {
	for _, pattern := range []string{"*.yaml", "*.yml", "sheets/*.yml"} {
		files, err := fs.Glob(ly.FS, pattern)
		if err != nil {
			continue
		}
		for _, f := range files {
			if slices.Contains(fileNames, f) {
				continue
			}
			hint := "the files are " + strings.Join(fileNames, ", ") + " and sheets/*.yaml"
			if near := shape.DidYouMean(f, fileNames); near != "" {
				hint = "did you mean " + near + "?"
			}
			l.problem(shape.FileProblem("stray-file", path.Join(ly.Name, f), "nothing reads a file of this name", hint))
		}
	}
}

// layerFiles lists the knowledge files of a layer in a fixed order.
func layerFiles(f fs.FS) []string {
	var out []string
	for _, n := range fileNames {
		if _, err := fs.Stat(f, n); err == nil {
			out = append(out, n)
		}
	}
	sheets, err := fs.Glob(f, "sheets/*.yaml")
	if err != nil {
		return out
	}
	slices.Sort(sheets)
	// The danger sheet stands first: its findings come before all others.
	slices.SortStableFunc(sheets, func(a, b string) int {
		if (a == dangerFile) != (b == dangerFile) {
			if a == dangerFile {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	return append(out, sheets...)
}

const (
	dangerFile   = "sheets/danger.yaml"
	symptomsFile = "symptoms.yaml"
)

// parsed is a file of a layer, read and parsed.
type parsed struct {
	name, file string // with the layer's name, and without
	src        []byte
	node       *shape.Node
	problems   []shape.Problem
	err        error
}

// parseAll parses the files of a layer side by side: YAML is the larger part of
// loading, and no file's parsing knows of another's.
func parseAll(ly Layer, files []string) []parsed {
	out := make([]parsed, len(files))
	var wg sync.WaitGroup
	for i, f := range files {
		wg.Go(func() {
			p := parsed{name: path.Join(ly.Name, f), file: f}
			if p.src, p.err = fs.ReadFile(ly.FS, f); p.err == nil {
				p.node, p.problems = shape.Parse(p.name, p.src)
			}
			out[i] = p
		})
	}
	wg.Wait()
	return out
}

func (l *loader) readFile(f parsed, layer int) {
	n, file := f.node, f.file
	l.fromShape(f.problems)
	if n == nil {
		l.lost = l.lost || len(f.problems) > 0
		return
	}
	l.fromShape(shape.Check(n, shapeOf(file, layer > 0)))
	full := fileShape(file)
	sheet, prefix := "", ""
	if strings.HasPrefix(file, "sheets/") {
		sheet = strings.TrimSuffix(path.Base(file), ".yaml")
		prefix = sheet + "/"
		if s := n.Get("sheet"); s != nil && s.Text() != sheet {
			l.bad("wrong-sheet", s, "the sheet is called "+s.Text()+", and its file "+path.Base(file), "give both the same name")
		}
	}
	for _, part := range []struct {
		name, prefix string
		into         *table
	}{
		{"states", "", l.states}, {"meters", "", l.meters}, {"points", "", l.points}, {"actions", "", l.actions},
		{"cautions", "", l.cautions}, {"sources", "", l.sources}, {"readings", "", l.readings}, {"values", "", l.values},
		{"laws", "", l.laws}, {"symptoms", "", l.symptoms}, {"steps", prefix, l.steps}, {"findings", "", l.findings},
	} {
		if f := fieldOf(full, part.name); f != nil {
			part.into.add(l, section{n.Get(part.name), f.Shape.Item, layer, part.prefix, sheet})
		}
	}
	if p := n.Get("standard_path"); p != nil && fieldOf(full, "standard_path") != nil {
		l.standardPath = p
	}
}

func fieldOf(s *shape.Shape, name string) *shape.Field {
	for i := range s.Fields {
		if s.Fields[i].Name == name {
			return &s.Fields[i]
		}
	}
	return nil
}
