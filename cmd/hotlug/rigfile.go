package main

import (
	"io/fs"
	"os"
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

// rigsEnv names the folder of rig files when --rigs does not.
const rigsEnv = "HOTLUG_RIGS"

// finder finds a rig by what somebody calls it: a rig of the user's folder, a demo
// rig, or the path of a file. All commands look the same way.
type finder struct {
	from string // where relative paths begin
	rigs string // the user's folder, "" for none
}

// finder looks in the user's folder too. Where that is not known, demo rigs and
// paths are found all the same.
func (a *app) finder(from string) finder {
	dir, err := a.rigsDir()
	if err != nil {
		dir = ""
	}
	return finder{from: from, rigs: dir}
}

// rigsDir is the folder of the user's rig files: --rigs, or the environment's, or
// rigs among the user's data.
func (a *app) rigsDir() (string, error) {
	for _, dir := range []string{a.rigs, os.Getenv(rigsEnv)} {
		if dir == "" {
			continue
		}
		abs, err := filepath.Abs(dir)
		if err != nil {
			return "", badInputf("the folder of rigs can't be used: %v", err)
		}
		if i, err := os.Stat(abs); err == nil && !i.IsDir() {
			return "", badInputf("%s is no folder, so no rigs are in it. Name another with --rigs DIR", quote(abs))
		}
		return abs, nil
	}
	return a.dataFolder("rigs")
}

// rigPath is the file of the user's rig of that name, which is safe as a file's.
func (f finder) rigPath(id string) string { return filepath.Join(f.rigs, id+rigSuffix) }

const rigSuffix = ".yaml"

// own lists the names of the user's rigs. Files whose names no rig can have are
// left out.
func (f finder) own() []string {
	var names []string
	list, err := os.ReadDir(f.rigs)
	if err != nil {
		return nil
	}
	for _, e := range list {
		if name, ok := strings.CutSuffix(e.Name(), rigSuffix); ok && isFileName(name) {
			names = append(names, name)
		}
	}
	return names
}

func isFileName(name string) bool {
	id, ok := fileName(name)
	return ok && id == name
}

// isPath says whether a rig is named by a path and not by its name.
func isPath(name string) bool { return strings.ContainsAny(name, `/\.`) }

// source is the bytes of a rig file, and what the file is called.
func (f finder) source(name string) (string, []byte, error) {
	if isPath(name) {
		path := name
		if !filepath.IsAbs(path) {
			path = filepath.Join(f.from, path)
		}
		b, err := readCapped(path, mostRigFile)
		return path, b, err
	}
	if id, ok := fileName(name); ok && f.rigs != "" {
		if _, err := os.Lstat(f.rigPath(id)); err == nil {
			b, err := readCapped(f.rigPath(id), mostRigFile)
			return f.rigPath(id), b, err
		}
	}
	file := "rigs/" + name + rigSuffix
	if b, err := fs.ReadFile(kb.Files, file); err == nil {
		return builtIn + "/" + file, b, nil
	}
	own := f.own()
	if len(own) == 0 {
		return "", nil, badInputf("there is no demo rig %s; there are %s. A file is named with its ending, as in my-rig.yaml",
			quote(name), strings.Join(demoRigs(), ", "))
	}
	return "", nil, badInputf("there is no rig %s in %s, and no demo rig of that name; `hotlug rigs list` lists yours, and a file is named with its ending, as in my-rig.yaml%s",
		quote(name), f.rigs, nearest(name, append(own, demoRigs()...)))
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

// load reads a rig by name or path.
func (f finder) load(name string) (*rig.Rig, error) {
	file, src, err := f.source(name)
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
