package main

import (
	"errors"
	"io/fs"
	"os"
	"sync"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// builtIn is how the built-in knowledge is called in messages: the folder of
// the project that it comes from.
const builtIn = "kb"

// layers are the built-in knowledge and the folder laid over it, if any.
func (a *app) layers() ([]graph.Layer, error) {
	ls := []graph.Layer{{Name: builtIn, FS: kb.Files}}
	if a.kbDir == "" {
		return ls, nil
	}
	st, err := os.Stat(a.kbDir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, badInputf("there is no folder %s", quote(a.kbDir))
	case err != nil:
		return nil, badInputf("the folder %s can't be read: %v", quote(a.kbDir), err)
	case !st.IsDir():
		return nil, badInputf("%s is no folder; --kb takes a folder with readings.yaml, sheets and the like", quote(a.kbDir))
	}
	return append(ls, graph.Layer{Name: a.kbDir, FS: os.DirFS(a.kbDir)}), nil
}

// knowledge loads the graph, or fails with all its problems.
func (a *app) knowledge() (*graph.Graph, error) {
	ls, err := a.layers()
	if err != nil {
		return nil, err
	}
	g, problems := graph.Load(electric.Table(), ls...)
	if !graph.Sound(problems) {
		return nil, exit(exitKnowledge, &problemsError{"the knowledge", onlyErrors(problems)})
	}
	g.Version = version()
	return g, nil
}

// knowledgeBehind begins to load the knowledge and gives the way to wait for it,
// so that the first question need not.
func (a *app) knowledgeBehind() func() (*graph.Graph, error) {
	load := sync.OnceValues(a.knowledge)
	go load()
	return load
}

func onlyErrors(problems []shape.Problem) []shape.Problem {
	var out []shape.Problem
	for _, p := range problems {
		if p.Severity == shape.Error {
			out = append(out, p)
		}
	}
	return out
}

// unitsEnv sets the units for people who always want the same.
const unitsEnv = "HOTLUG_UNITS"

func defaultUnits() string {
	if u := os.Getenv(unitsEnv); u != "" {
		return u
	}
	return "metric"
}

// style is how quantities are printed, by --units.
func (a *app) style() (quantity.Style, error) {
	switch a.units {
	case "metric":
		return quantity.Style{}, nil
	case "us":
		return quantity.Style{US: true}, nil
	}
	return quantity.Style{}, usagef("--units (or %s) is metric or us, and not %s", unitsEnv, quote(a.units))
}

// readCapped reads a file that people give, up to a limit.
func readCapped(path string, most int64) ([]byte, error) {
	st, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, badInputf("there is no file %s", quote(path))
	case err != nil:
		return nil, badInputf("%s can't be read: %v", quote(path), err)
	case !st.Mode().IsRegular():
		return nil, badInputf("%s is no plain file", quote(path))
	case st.Size() > most:
		return nil, badInputf("%s is larger than %d KiB, which no file of this kind is", quote(path), most>>10)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, badInputf("%s can't be read: %v", quote(path), err)
	}
	return b, nil
}

// filesOf lists a folder that may not be there yet; what says what is kept in it.
func filesOf(dir, what string) ([]fs.DirEntry, error) {
	list, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, badInputf("the %s in %s can't be listed: %v", what, quote(dir), err)
	}
	return list, nil
}
