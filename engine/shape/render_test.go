package shape

import (
	"strings"
	"testing"
)

func TestRender(t *testing.T) {
	at := Place{File: "kb/a.yaml", Line: 3, Col: 5}
	for _, c := range []struct {
		name string
		p    Problem
		want string
	}{
		{"all of it", Problem{Code: "unknown-target", Text: "No step has this name.", Hint: "Did you mean b?", At: at,
			Source: "go: bb", Width: 2, Notes: []Note{
				{At: Place{File: "kb/b.yaml", Line: 1, Col: 1}, Text: "b is here", Source: "b: x", Width: 1},
				{At: Place{File: "kb/b.yaml", Line: 2, Col: 1}, Text: "without a caret", Source: "c: x"},
				{Text: "without a place"},
			}}, `kb/a.yaml:3:5: error: No step has this name. [unknown-target]
    go: bb
        ^^
  kb/b.yaml:1:1: note: b is here
    b: x
    ^
  kb/b.yaml:2:1: note: without a caret
    c: x
  note: without a place
  hint: Did you mean b?`},
		{"warning", Problem{Code: "x", Text: "T.", At: at, Source: "12345", Width: 1}.AsWarning(),
			"kb/a.yaml:3:5: warning: T. [x]\n    12345\n        ^"},
		{"whole file", FileProblem("empty-file", "kb/a.yaml", "It is empty.", ""),
			"kb/a.yaml: error: It is empty. [empty-file]"},
		{"tabs", Problem{Code: "x", Text: "T.", At: at, Source: "a\tb\tcd", Width: 2},
			"kb/a.yaml:3:5: error: T. [x]\n    a   b   cd\n            ^^"},
		{"wide runes", Problem{Code: "x", Text: "T.", At: at, Source: "日本: 語 x", Width: 1},
			"kb/a.yaml:3:5: error: T. [x]\n    日本: 語 x\n          ^^"},
		{"marks over letters", Problem{Code: "x", Text: "T.", At: at, Source: "e\u0301: x", Width: 1},
			"kb/a.yaml:3:5: error: T. [x]\n    e\u0301: x\n       ^"},
		{"behind the end", Problem{Code: "x", Text: "T.", At: Place{File: "f", Line: 1, Col: 9}, Source: "abc", Width: 4},
			"f:1:9: error: T. [x]\n    abc\n       ^"},
		{"wider than the line", Problem{Code: "x", Text: "T.", At: Place{File: "f", Line: 1, Col: 2}, Source: "abc", Width: 9},
			"f:1:2: error: T. [x]\n    abc\n     ^^"},
		{"no width", Problem{Code: "x", Text: "T.", At: Place{File: "f", Line: 1, Col: 2}, Source: "abc"},
			"f:1:2: error: T. [x]\n    abc\n     ^"},
		{"empty line", Problem{Code: "x", Text: "T.", At: Place{File: "f", Line: 1, Col: 1}, Width: 1},
			"f:1:1: error: T. [x]\n    \n    ^"},
		{"control characters", Problem{Code: "x", Text: "\x1b[31mT.", At: Place{File: "f\x1b", Line: 1, Col: 2}, Source: "\x1bbc", Width: 1, Hint: "\x07"},
			"f\ufffd:1:2: error: \ufffd[31mT. [x]\n    \ufffdbc\n     ^\n  hint: \ufffd"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Render(c.p); got != c.want {
				t.Errorf("shows\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// Of a long line only the part around the caret is shown, and the caret stands
// under its rune.
func TestRenderOfLongLines(t *testing.T) {
	for _, c := range []struct {
		name          string
		before, after int
	}{
		{"long before", 300, 3}, {"long behind", 3, 300}, {"long both ways", 300, 300},
		{"very long before", 100_000, 3}, {"very long behind", 3, 100_000}, {"very long both ways", 100_000, 100_000},
	} {
		t.Run(c.name, func(t *testing.T) {
			line := strings.Repeat("a", c.before) + "X" + strings.Repeat("b", c.after)
			shown := strings.Split(Render(Problem{At: Place{"f", 1, c.before + 1}, Source: line, Width: 1}), "\n")
			if len(shown) != 3 {
				t.Fatalf("there are %d lines", len(shown))
			}
			if i, j := strings.Index(shown[1], "X"), strings.Index(shown[2], "^"); i < 0 || i != j {
				t.Errorf("the caret stands at %d, the rune at %d:\n%s\n%s", j, i, shown[1], shown[2])
			}
			if n := len(shown[1]); n > maxColumns+10 {
				t.Errorf("the line is %d wide", n)
			}
		})
	}
}

func TestSort(t *testing.T) {
	p := func(file string, line, col int, code string) Problem {
		return Problem{Code: code, At: Place{file, line, col}}
	}
	problems := []Problem{p("b", 1, 1, "x"), p("a", 2, 1, "x"), p("a", 1, 2, "x"), p("a", 1, 1, "y"), p("a", 1, 1, "x"), p("a", 0, 0, "z")}
	Sort(problems)
	var got []string
	for _, p := range problems {
		got = append(got, p.At.String()+" "+p.Code)
	}
	if s, want := strings.Join(got, ", "), "a z, a:1:1 x, a:1:1 y, a:1:2 x, a:2:1 x, b:1:1 x"; s != want {
		t.Errorf("the order is %s, want %s", s, want)
	}
}

func TestWithLeavesTheOriginalAlone(t *testing.T) {
	p := Problem{}.With(Note{Text: "a"})
	b, c := p.With(Note{Text: "b"}), p.With(Note{Text: "c"})
	if len(p.Notes) != 1 || b.Notes[1].Text != "b" || c.Notes[1].Text != "c" {
		t.Errorf("the notes are %v, %v, %v", p.Notes, b.Notes, c.Notes)
	}
}

func TestHasErrors(t *testing.T) {
	warning := Problem{}.AsWarning()
	if HasErrors(nil) || HasErrors([]Problem{warning}) || !HasErrors([]Problem{warning, {}}) {
		t.Error("warnings and errors are mixed up")
	}
}

func TestProblemIn(t *testing.T) {
	n := value(t, "v: a > bee\n")
	p := ProblemIn("unknown-name", n, 4, 3, "Nothing is called bee.", "")
	if got, want := Render(p), "f.yaml:1:8: error: Nothing is called bee. [unknown-name]\n    v: a > bee\n           ^^^"; got != want {
		t.Errorf("shows\n%s\nwant\n%s", got, want)
	}
}
