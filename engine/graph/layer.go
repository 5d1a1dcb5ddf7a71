package graph

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"path"
	"slices"
	"strings"

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

// add takes the entries of one map node. Within one layer an id may stand once.
func (t *table) add(l *loader, n *shape.Node, layer int, prefix, sheet string) {
	if n == nil {
		return
	}
	for _, p := range n.Pairs() {
		id := prefix + p.Key.Text()
		e := t.byID[id]
		if e == nil {
			e = &entry{id: id, sheet: sheet, key: p.Key}
			t.byID[id] = e
			t.order = append(t.order, id)
		} else if l.layerOf[e.nodes[len(e.nodes)-1]] == layer {
			l.twice(p.Key, e.key, id)
			continue
		}
		e.nodes = append(e.nodes, p.Value)
		l.layerOf[p.Value] = layer
	}
}

// readLayers reads all files of all layers into the loader's tables.
func (l *loader) readLayers(layers []Layer) {
	h := sha256.New()
	for i, ly := range layers {
		l.g.Layers = append(l.g.Layers, ly.Name)
		for _, f := range layerFiles(ly.FS) {
			src, err := fs.ReadFile(ly.FS, f)
			name := path.Join(ly.Name, f)
			if err != nil {
				l.problem(shape.Problem{Code: "unreadable-file", Text: "the file can't be read: " + err.Error(), At: shape.Place{File: name}})
				continue
			}
			// The name and length go in so that moving text between files shows.
			h.Write([]byte(f + "\x00"))
			h.Write(src)
			h.Write([]byte{0})
			l.g.lines[name] = strings.Split(strings.ReplaceAll(string(src), "\r\n", "\n"), "\n")
			l.readFile(name, f, src, i)
		}
	}
	l.g.Hash = hex.EncodeToString(h.Sum(nil))[:16]
}

// layerFiles lists the knowledge files of a layer in a fixed order.
func layerFiles(f fs.FS) []string {
	var out []string
	for _, n := range []string{"states.yaml", "cautions.yaml", "sources.yaml", "readings.yaml", "values.yaml", "symptoms.yaml"} {
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

const dangerFile = "sheets/danger.yaml"

func (l *loader) readFile(name, file string, src []byte, layer int) {
	n, problems := shape.Parse(name, src)
	l.problems = append(l.problems, problems...)
	if n == nil {
		return
	}
	l.problems = append(l.problems, shape.Check(n, shapeOf(file, layer > 0))...)
	switch file {
	case "states.yaml":
		l.states.add(l, n.Get("states"), layer, "", "")
		l.meters.add(l, n.Get("meters"), layer, "", "")
		l.points.add(l, n.Get("points"), layer, "", "")
		l.actions.add(l, n.Get("actions"), layer, "", "")
		if p := n.Get("standard_path"); p != nil {
			l.standardPath = p
		}
	case "cautions.yaml":
		l.cautions.add(l, n.Get("cautions"), layer, "", "")
	case "sources.yaml":
		l.sources.add(l, n.Get("sources"), layer, "", "")
	case "readings.yaml":
		l.readings.add(l, n.Get("readings"), layer, "", "")
	case "values.yaml":
		l.values.add(l, n.Get("values"), layer, "", "")
	case "symptoms.yaml":
		l.symptoms.add(l, n.Get("symptoms"), layer, "", "")
	default:
		sheet := strings.TrimSuffix(path.Base(file), ".yaml")
		if s := n.Get("sheet"); s != nil && s.Text() != sheet {
			l.bad("wrong-sheet", s, "the sheet is called "+s.Text()+", and its file "+path.Base(file), "give both the same name")
		}
		l.values.add(l, n.Get("values"), layer, "", sheet)
		l.steps.add(l, n.Get("steps"), layer, sheet+"/", sheet)
		l.findings.add(l, n.Get("findings"), layer, "", sheet)
	}
}
