// Package engine_test holds the rooms of the project apart: who may import whom,
// and what the engine may never touch.
package engine_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "hotlug/"

// mayImport are the rooms of the project and those that each may use. A room is
// a folder with Go files; a new one is entered here. Tests may use all rooms.
var mayImport = map[string]string{
	"kb":              "",
	"engine/quantity": "",
	"engine/pattern":  "",
	"engine/shape":    "engine/pattern",
	"engine/match":    "engine/pattern",
	"engine/formula":  "engine/quantity",
	"engine/electric": "engine/formula engine/quantity",
	"engine/circuit":  "engine/electric engine/formula engine/quantity",
	"engine/reading":  "engine/pattern engine/quantity engine/shape",
	"engine/rig":      "engine/electric engine/quantity engine/reading engine/shape",
	"engine/graph":    "engine/formula engine/pattern engine/quantity engine/reading engine/shape",
	"engine/check":    "engine/formula engine/graph engine/pattern engine/quantity engine/reading engine/shape",
	"engine/diagram":  "engine/reading engine/rig",
	"engine/simrig":   "engine/circuit engine/electric engine/quantity engine/reading engine/rig",
	"engine/prove":    "engine/circuit engine/formula engine/graph engine/quantity engine/reading engine/rig engine/shape engine/simrig engine/walk",
	"engine/drill":    "engine/graph engine/match engine/pattern engine/prove engine/quantity engine/reading engine/rig engine/simrig engine/walk",
	"engine/calc":     "engine/formula engine/pattern engine/quantity engine/shape",
	"engine/walk":     "engine/formula engine/graph engine/quantity engine/reading engine/shape",
	"session":         "engine/walk session/photo",
	"session/photo":   "",
	"session/history": "engine/graph engine/quantity engine/reading engine/rig engine/shape engine/walk session",
	"session/ticket":  "engine/diagram engine/electric engine/graph engine/pattern engine/quantity engine/reading engine/rig engine/walk",
	"cmd/hotlug/term": "",
	"cmd/hotlug/chat": "cmd/hotlug/term engine/calc engine/diagram engine/formula engine/graph engine/match engine/pattern engine/quantity engine/reading engine/walk session/ticket",
	"cmd/hotlug":      everything,
	"engine":          "",
	"transcripts":     "",
}

const everything = "everything"

// fenced are the libraries from outside, each with the rooms that may use it, in
// tests too. A library that is not listed may be used nowhere.
var fenced = map[string]string{
	"gopkg.in/yaml.v3":                "engine/shape",
	"github.com/expr-lang/expr":       "engine/formula",
	"github.com/kljensen/snowball":    "engine/match",
	"github.com/chzyer/readline":      "cmd/hotlug/term",
	"golang.org/x/image":              "session/photo",
	"golang.org/x/term":               "cmd/hotlug/term",
	"golang.org/x/sys":                "cmd/hotlug cmd/hotlug/term", // a terminal of its own, in tests
	"github.com/rivo/uniseg":          "cmd/hotlug/term engine/diagram",
	"github.com/spf13/cobra":          "cmd/hotlug",
	"github.com/adrg/xdg":             "session",
	"github.com/gofrs/flock":          "session",
	"github.com/rogpeppe/go-internal": "cmd/hotlug transcripts", // whole conversations, in tests
	"gonum.org/v1/gonum":              "engine/circuit engine/prove",
}

// impure are what the engine may not import: disk, clock, printing, chance. Time
// is let into the walk, as data in its events.
var impure = map[string]string{
	"os": "", "log": "", "syscall": "", "unsafe": "", "plugin": "", "crypto/rand": "", "io/ioutil": "", "runtime": "",
	"time": "engine/walk",
}

// impureCalls are what the engine may not call of the packages it may import.
var impureCalls = map[string]string{
	"fmt":          "Print Printf Println Scan Scanf Scanln",
	"time":         "Now Since Until Sleep After AfterFunc Tick NewTimer NewTicker Local LoadLocation",
	"math/rand":    globalRand,
	"math/rand/v2": globalRand,
}

// globalRand are the functions that take chance from a source nobody handed in.
const globalRand = "ExpFloat64 Float32 Float64 Int Int31 Int31n Int32 Int32N Int63 Int63n Int64 Int64N IntN Intn N NormFloat64 Perm Read Seed " +
	"Shuffle Uint Uint32 Uint32N Uint64 Uint64N UintN"

// Rules, by the name of the test that stands for each.
const (
	rooms   = "rooms"
	fences  = "fences"
	purity  = "purity"
	offline = "offline"
)

// goFile is one file, read.
type goFile struct {
	name string // engine/graph/load.go
	room string
	test bool
	ast  *ast.File
}

// breaches lists what a file does against a rule, a sentence each.
func breaches(f goFile, rule string) []string {
	var out []string
	say := func(format string, a ...any) { out = append(out, f.name+": "+fmt.Sprintf(format, a...)) }
	inEngine := strings.HasPrefix(f.room, "engine/") && !f.test
	if allowed, known := mayImport[f.room]; rule == rooms && !f.test {
		switch {
		case !known:
			say("%s is no room of the picture; enter it in mayImport with the rooms it may use", f.room)
			return out
		case f.room == "engine":
			say("%s itself holds this test only", f.room)
		}
		for _, imp := range imports(f) {
			own, ok := strings.CutPrefix(imp, module)
			if ok && allowed != everything && !has(allowed, own) {
				say("%s may not import %s", f.room, own)
			}
		}
	}
	for _, imp := range imports(f) {
		first, _, _ := strings.Cut(imp, "/")
		switch {
		case rule == offline && (imp == "net" || strings.HasPrefix(imp, "net/")):
			say("nothing may import %s: Hotlug works without a network", imp)
		case rule == fences && strings.Contains(first, "."):
			if where := fenceOf(imp); !has(where, f.room) {
				say("%s may not import %s", f.room, imp)
			}
		case rule == purity && inEngine:
			for bad, but := range impure {
				if (imp == bad || strings.HasPrefix(imp, bad+"/")) && !has(but, f.room) {
					say("the engine is pure, and %s may not import %s", f.room, imp)
				}
			}
		}
	}
	if rule == purity && inEngine {
		for _, call := range impureIn(f) {
			say("the engine is pure, and %s may not use %s", f.room, call)
		}
	}
	return out
}

func has(list, word string) bool { return slices.Contains(strings.Fields(list), word) }

// fenceOf is the rooms that may use a library.
func fenceOf(imp string) string {
	for lib, where := range fenced {
		if imp == lib || strings.HasPrefix(imp, lib+"/") {
			return where
		}
	}
	return ""
}

func imports(f goFile) []string {
	var out []string
	for _, s := range f.ast.Imports {
		if p, err := strconv.Unquote(s.Path.Value); err == nil {
			out = append(out, p)
		}
	}
	return out
}

// impureIn lists the uses of impureCalls, and of print and println.
func impureIn(f goFile) []string {
	as := map[string]string{} // local name to path
	for _, s := range f.ast.Imports {
		p, err := strconv.Unquote(s.Path.Value)
		if err != nil {
			continue
		}
		name := path.Base(strings.TrimSuffix(p, "/v2"))
		if s.Name != nil {
			name = s.Name.Name
		}
		as[name] = p
	}
	var out []string
	ast.Inspect(f.ast, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && has(impureCalls[as[x.Name]], n.Sel.Name) {
				out = append(out, as[x.Name]+"."+n.Sel.Name)
			}
		case *ast.CallExpr:
			if x, ok := n.Fun.(*ast.Ident); ok && (x.Name == "print" || x.Name == "println") {
				out = append(out, x.Name)
			}
		}
		return true
	})
	return out
}

// goFiles are all files of the module, hidden folders and testdata left out.
func goFiles(t *testing.T) []goFile {
	t.Helper()
	root := os.DirFS("..")
	var out []goFile
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && p != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return fs.SkipDir
		case d.IsDir() || path.Ext(p) != ".go":
			return nil
		}
		src, err := fs.ReadFile(root, p)
		if err != nil {
			return err
		}
		f, err := read(p, string(src))
		out = append(out, f)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func read(name, src string) (goFile, error) {
	f, err := parser.ParseFile(token.NewFileSet(), name, src, parser.SkipObjectResolution)
	return goFile{name: name, room: path.Dir(name), test: strings.HasSuffix(name, "_test.go"), ast: f}, err
}

func hold(t *testing.T, rule string) {
	t.Helper()
	for _, f := range goFiles(t) {
		for _, b := range breaches(f, rule) {
			t.Error(b)
		}
	}
}

func TestRoomsUseOnlyThoseBelow(t *testing.T)   { hold(t, rooms) }
func TestLibrariesStayFencedIn(t *testing.T)    { hold(t, fences) }
func TestEngineIsPure(t *testing.T)             { hold(t, purity) }
func TestNothingImportsTheNetwork(t *testing.T) { hold(t, offline) }

// The rules themselves: the smallest breach of each, beside what is allowed.
func TestRules(t *testing.T) {
	for _, c := range []struct{ name, rule, file, src, want string }{
		{"a room above", rooms, "engine/rig/x.go", `import "hotlug/engine/walk"`, "engine/rig/x.go: engine/rig may not import engine/walk"},
		{"a room below", rooms, "engine/rig/x.go", `import "hotlug/engine/reading"`, ""},
		{"a room above, in a test", rooms, "engine/rig/x_test.go", `import "hotlug/engine/graph"`, ""},
		{"a room that nobody knows", rooms, "engine/magic/x.go", ``, "engine/magic/x.go: engine/magic is no room of the picture; enter it in mayImport with the rooms it may use"},
		{"the command uses all", rooms, "cmd/hotlug/x.go", `import "hotlug/engine/check"`, ""},
		{"the data uses none", rooms, "kb/x.go", `import "hotlug/engine/shape"`, "kb/x.go: kb may not import engine/shape"},
		{"code beside this test", rooms, "engine/x.go", ``, "engine/x.go: engine itself holds this test only"},
		{"yaml in its room", fences, "engine/shape/x.go", `import "gopkg.in/yaml.v3"`, ""},
		{"yaml elsewhere", fences, "engine/graph/x.go", `import "gopkg.in/yaml.v3"`, "engine/graph/x.go: engine/graph may not import gopkg.in/yaml.v3"},
		{"yaml elsewhere, in a test", fences, "engine/graph/x_test.go", `import "gopkg.in/yaml.v3"`, "engine/graph/x_test.go: engine/graph may not import gopkg.in/yaml.v3"},
		{"a part of a library", fences, "engine/walk/x.go", `import "github.com/expr-lang/expr/ast"`, "engine/walk/x.go: engine/walk may not import github.com/expr-lang/expr/ast"},
		{"a library of nobody", fences, "cmd/hotlug/x.go", `import "example.org/x"`, "cmd/hotlug/x.go: cmd/hotlug may not import example.org/x"},
		{"commands in the chat", fences, "cmd/hotlug/chat/x.go", `import "github.com/spf13/cobra"`, "cmd/hotlug/chat/x.go: cmd/hotlug/chat may not import github.com/spf13/cobra"},
		{"the network", offline, "cmd/hotlug/x.go", `import "net/http"`, "cmd/hotlug/x.go: nothing may import net/http: Hotlug works without a network"},
		{"the network, in a test", offline, "kb/x_test.go", `import "net"`, "kb/x_test.go: nothing may import net: Hotlug works without a network"},
		{"no network", offline, "kb/x.go", `import "embed"`, ""},
		{"disk", purity, "engine/graph/x.go", `import "os"`, "engine/graph/x.go: the engine is pure, and engine/graph may not import os"},
		{"disk, by another name", purity, "engine/graph/x.go", `import o "os/exec"`, "engine/graph/x.go: the engine is pure, and engine/graph may not import os/exec"},
		{"disk, in a test", purity, "engine/graph/x_test.go", `import "os"`, ""},
		{"disk, outside of the engine", purity, "session/x.go", `import "os"`, ""},
		{"time", purity, "engine/graph/x.go", `import "time"`, "engine/graph/x.go: the engine is pure, and engine/graph may not import time"},
		{"time in the walk", purity, "engine/walk/x.go", "import \"time\"\nvar x time.Time", ""},
		{"the clock in the walk", purity, "engine/walk/x.go", "import \"time\"\nvar x = time.Now()", "engine/walk/x.go: the engine is pure, and engine/walk may not use time.Now"},
		{"printing", purity, "engine/walk/x.go", "import f \"fmt\"\nfunc x() { f.Println() }", "engine/walk/x.go: the engine is pure, and engine/walk may not use fmt.Println"},
		{"writing to what is handed in", purity, "engine/walk/x.go", "import (\"fmt\"; \"io\")\nfunc x(w io.Writer) { fmt.Fprintln(w) }", ""},
		{"printing without a package", purity, "engine/walk/x.go", "func x() { println(1) }", "engine/walk/x.go: the engine is pure, and engine/walk may not use println"},
		{"chance from nowhere", purity, "engine/walk/x.go", "import \"math/rand/v2\"\nvar x = rand.IntN(3)", "engine/walk/x.go: the engine is pure, and engine/walk may not use math/rand/v2.IntN"},
		{"chance that is handed in", purity, "engine/walk/x.go", "import \"math/rand/v2\"\nfunc x(r *rand.Rand) int { return r.IntN(3) }", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := read(c.file, "package x\n"+c.src)
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Join(breaches(f, c.rule), "\n"); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
