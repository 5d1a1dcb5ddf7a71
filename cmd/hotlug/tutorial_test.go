package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// tutorial is the file that teaches how a symptom is added, between two marks.
// This test does what it says, in order, and nothing else.
const tutorial = "../../DEVELOPERS.md"

// lesson is one thing that the tutorial has its reader do: write a file, change
// one, or run a command.
type lesson struct {
	file, text string
	diff       string
	command    []string
}

var named = regexp.MustCompile("(?s)[Tt]his is\\s+`([^`]+)`:\\s*$")

// lessons reads the tutorial: fenced YAML behind "this is `file`:", fenced diffs,
// and indented commands.
func lessons(t *testing.T, src string) []lesson {
	t.Helper()
	var out []lesson
	for {
		i := strings.Index(src, "\n```")
		text, rest := src, ""
		if i >= 0 {
			text, rest = src[:i+1], src[i+4:]
		}
		for l := range strings.Lines(text) {
			if c, ok := strings.CutPrefix(l, "    hotlug "); ok {
				out = append(out, lesson{command: strings.Fields(c)})
			}
		}
		if i < 0 {
			return out
		}
		kind, rest, _ := strings.Cut(rest, "\n")
		end := strings.Index(rest, "\n```")
		if end < 0 {
			t.Fatal("a block is opened and never closed")
		}
		body := rest[:end+1]
		switch kind {
		case "yaml":
			m := named.FindStringSubmatch(text)
			if m == nil {
				t.Fatalf("a block does not say which file it is:\n%s", body)
			}
			out = append(out, lesson{file: m[1], text: body})
		case "diff":
			out = append(out, lesson{diff: body})
		default:
			t.Fatalf("a block of kind %q", kind)
		}
		_, src, _ = strings.Cut(rest[end+1:], "\n")
		src = "\n" + src
	}
}

// patch makes the change of a diff in the one file that has its lines.
func patch(t *testing.T, dir, diff string) {
	t.Helper()
	var before, after string
	for l := range strings.Lines(diff) {
		switch l[0] {
		case '-':
			before += l[1:]
		case '+':
			after += l[1:]
		default:
			before, after = before+l[1:], after+l[1:]
		}
	}
	done := 0
	files, err := filepath.Glob(filepath.Join(dir, "mine", "sheets", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(src), before); n == 1 {
			done++
			if err := os.WriteFile(f, []byte(strings.Replace(string(src), before, after, 1)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	if done != 1 {
		t.Fatalf("the change fits %d files, want one:\n%s", done, diff)
	}
}

func TestTutorial(t *testing.T) {
	whole, err := os.ReadFile(tutorial)
	if err != nil {
		t.Fatal(err)
	}
	_, src, begun := strings.Cut(string(whole), "<!-- tutorial: walked by TestTutorial -->\n")
	src, _, ended := strings.Cut(src, "<!-- /tutorial -->")
	if !begun || !ended {
		t.Fatalf("%s has no tutorial between its marks", tutorial)
	}
	dir := t.TempDir()
	// What each command of the tutorial must come to, in its order.
	want := []struct {
		code int
		says []string
	}{
		{exitKnowledge, []string{"mine/sheets/fan.yaml:15:14: error: this branch can't be true", "the finding fan-worn has no lesson", "the knowledge has 2 problems"}},
		{exitDone, []string{"0 errors, 0 warnings"}},
		{exitDone, []string{`"fan/air" -> "fins-boxed-in"`}},
		{exitDone, []string{"fin_gap = no", "3 paths from fan-howls"}},
		{exitDone, []string{"from       fan/charge"}},
		{exitDone, []string{"The controller has no air", "hand's width free"}},
	}
	run := 0
	for _, l := range lessons(t, src) {
		switch {
		case l.file != "":
			path := filepath.Join(dir, filepath.FromSlash(l.file))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(l.text), 0o644); err != nil {
				t.Fatal(err)
			}
		case l.diff != "":
			patch(t, dir, l.diff)
		default:
			if run == len(want) {
				t.Fatalf("hotlug %s is one command more than expected", strings.Join(l.command, " "))
			}
			c := hotlug(t, t.TempDir(), l.command...)
			c.Dir = dir
			out, _ := c.CombinedOutput()
			if code := c.ProcessState.ExitCode(); code != want[run].code {
				t.Errorf("hotlug %s ends with %d, want %d:\n%s", strings.Join(l.command, " "), code, want[run].code, out)
			}
			for _, s := range want[run].says {
				if !strings.Contains(string(out), s) {
					t.Errorf("hotlug %s does not say %q:\n%s", strings.Join(l.command, " "), s, out)
				}
			}
			run++
		}
	}
	if run != len(want) {
		t.Errorf("the tutorial has %d commands, want %d", run, len(want))
	}
}
