package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the test binary be hotlug itself: where it is started under that
// name, or with asHotlug in its environment, it runs the program.
func TestMain(m *testing.M) {
	if os.Getenv(asHotlug) != "" {
		dropRights()
		main()
	}
	testscript.Main(m, map[string]func(){"hotlug": main})
}

const asHotlug = "HOTLUG_TEST_RUN"

// hotlug is a command that runs the program with a data folder of its own.
func hotlug(t testing.TB, data string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self, args...)
	c.Env = append(os.Environ(), asHotlug+"=1", "XDG_DATA_HOME="+data, "HOME="+data, "TERM=dumb")
	return c
}

// TestScripts runs testdata/script/*.txt: each is a user's way through commands.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup:               scriptHome,
		Cmds:                scriptCommands,
	})
}

func scriptHome(e *testscript.Env) error {
	e.Setenv("HOME", filepath.Join(e.WorkDir, "home"))
	e.Setenv("XDG_DATA_HOME", filepath.Join(e.WorkDir, "data"))
	e.Setenv("TERM", "dumb")
	e.Setenv("TZ", "UTC")
	e.Setenv("ESC", "\x1b")
	return os.MkdirAll(filepath.Join(e.WorkDir, "home"), 0o700)
}

// scriptCommands are the scripts' own commands.
var scriptCommands = map[string]func(ts *testscript.TestScript, neg bool, args []string){
	"exitcode":  scriptExitCode,
	"json":      scriptJSON,
	"harmless":  scriptHarmless,
	"sessionid": scriptSessionID,
	"mode":      scriptMode,
	"flip":      scriptFlip,
	"tear":      scriptTear,
	"lines":     scriptLines,
}

// exitcode N PROGRAM ARGS... runs a program that must end with that code.
func scriptExitCode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exitcode N program args...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var left *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &left):
		got = left.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// json FILE PATH [WANT] looks a value up, as in findings.0.id; a last count is the
// length of a list, and findings[worn-holder] is the entry with that id or
// reading. Without WANT it must only be there. With ! it must not.
func scriptJSON(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: json file path [want]")
	}
	var v any
	if err := json.Unmarshal([]byte(ts.ReadFile(args[0])), &v); err != nil {
		ts.Fatalf("%s is no JSON: %v", args[0], err)
	}
	got, ok := dig(v, strings.ReplaceAll(strings.ReplaceAll(args[1], "[", "."), "]", ""))
	same := ok && (len(args) == 2 || fmt.Sprint(got) == args[2])
	if same == neg {
		ts.Fatalf("%s is %v (there: %v)", args[1], got, ok)
	}
}

func dig(v any, path string) (any, bool) {
	for part := range strings.SplitSeq(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			y, ok := x[part]
			if !ok {
				return nil, false
			}
			v = y
		case []any:
			i, err := strconv.Atoi(part)
			switch {
			case part == "count":
				return len(x), true
			case err != nil:
				i = slices.IndexFunc(x, func(e any) bool {
					m, _ := e.(map[string]any)
					return m["id"] == part || m["reading"] == part
				})
			}
			if i < 0 || i >= len(x) {
				return nil, false
			}
			v = x[i]
		default:
			return nil, false
		}
	}
	return v, true
}

// harmless FILE... has nothing in it that a terminal acts upon.
func scriptHarmless(ts *testscript.TestScript, neg bool, args []string) {
	for _, f := range args {
		for i, r := range ts.ReadFile(f) {
			if bad := r != '\n' && (r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || unicode.Is(unicode.Cf, r)); bad {
				ts.Fatalf("%s has %U at byte %d", f, r, i)
			}
		}
	}
}

// sessionid VARIABLE [FOLDER] sets a variable to the id of the only session there.
func scriptSessionID(ts *testscript.TestScript, neg bool, args []string) {
	dir := filepath.Join(ts.Getenv("XDG_DATA_HOME"), "hotlug", "sessions")
	if len(args) == 2 {
		dir = ts.MkAbs(args[1])
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.jsonl"))
	ts.Check(err)
	if len(files) != 1 {
		ts.Fatalf("%d sessions in %s, want 1", len(files), dir)
	}
	ts.Setenv(args[0], strings.TrimSuffix(filepath.Base(files[0]), ".jsonl"))
}

// mode FILE PERMISSIONS compares a file's permissions.
func scriptMode(ts *testscript.TestScript, neg bool, args []string) {
	i, err := os.Stat(ts.MkAbs(args[0]))
	ts.Check(err)
	if got := fmt.Sprintf("%04o", i.Mode().Perm()); got != args[1] {
		ts.Fatalf("%s has mode %s, want %s", args[0], got, args[1])
	}
}

// flip FILE WORD turns the first letter of a word in a file into another, as a
// failing disk does.
func scriptFlip(ts *testscript.TestScript, neg bool, args []string) {
	path := ts.MkAbs(args[0])
	b, err := os.ReadFile(path)
	ts.Check(err)
	i := strings.Index(string(b), args[1])
	if i < 0 {
		ts.Fatalf("%q is not in %s", args[1], args[0])
	}
	b[i] ^= 1
	ts.Check(os.WriteFile(path, b, 0o600))
}

// tear FILE cuts a file's last line in the middle, as a lost battery does.
func scriptTear(ts *testscript.TestScript, neg bool, args []string) {
	path := ts.MkAbs(args[0])
	b, err := os.ReadFile(path)
	ts.Check(err)
	last := strings.LastIndexByte(strings.TrimRight(string(b), "\n"), '\n')
	ts.Check(os.WriteFile(path, b[:(last+len(b))/2], 0o600))
}

// lines FILE MOST has no line with more characters.
func scriptLines(ts *testscript.TestScript, neg bool, args []string) {
	most, err := strconv.Atoi(args[1])
	ts.Check(err)
	for l := range strings.Lines(ts.ReadFile(args[0])) {
		if n := len([]rune(strings.TrimRight(l, "\n"))); n > most {
			ts.Fatalf("a line of %d characters: %s", n, l)
		}
	}
}
