package main

import (
	"io/fs"
	"path/filepath"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
	"hotlug/kb"
)

// mostRigFile is far more than any rig's description needs.
const mostRigFile = 256 << 10

// rigSource is the bytes of a rig file: a demo rig by its name ("hut-01"), or a
// file by its path. Relative paths start at dir.
func rigSource(name, dir string) (string, []byte, error) {
	if !strings.ContainsAny(name, `/\.`) {
		file := "rigs/" + name + ".yaml"
		if b, err := fs.ReadFile(kb.Files, file); err == nil {
			return builtIn + "/" + file, b, nil
		}
		return "", nil, badInputf("there is no demo rig %s; there are %s. A file is named with its ending, as in my-rig.yaml",
			quote(name), strings.Join(demoRigs(), ", "))
	}
	path := name
	if !filepath.IsAbs(path) {
		path = filepath.Join(dir, path)
	}
	b, err := readCapped(path, mostRigFile)
	return path, b, err
}

// demoRigs lists the names of the built-in rigs.
func demoRigs() []string {
	var names []string
	files, err := fs.Glob(kb.Files, "rigs/*.yaml")
	if err != nil {
		return nil
	}
	for _, f := range files {
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".yaml"))
	}
	return names
}

// loadRig reads a rig by name or path.
func loadRig(name, dir string) (*rig.Rig, error) {
	file, src, err := rigSource(name, dir)
	if err != nil {
		return nil, err
	}
	r, problems := rig.Read(file, src)
	if !graph.Sound(problems) {
		return nil, exit(exitBadInput, &problemsError{"the rig file", problems})
	}
	return r, nil
}

// rigFacts turns a rig into the facts of a walk.
func rigFacts(g *graph.Graph, r *rig.Rig) ([]walk.Event, []shape.Problem) {
	facts, problems := r.Facts(vocabulary(g))
	var out []walk.Event
	for _, f := range facts {
		out = append(out, walk.FromFile(f.Reading, f.Place, f.Text, f.Given))
	}
	return out, problems
}

// vocabulary is the readings of the knowledge in their order.
func vocabulary(g *graph.Graph) []*reading.Reading {
	var all []*reading.Reading
	for _, id := range g.ReadingOrder {
		all = append(all, g.Readings[id])
	}
	return all
}
