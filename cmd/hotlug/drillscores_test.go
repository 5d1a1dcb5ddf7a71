package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/drill"
)

func TestTraineeNames(t *testing.T) {
	a := &app{dataDir: t.TempDir(), err: &bytes.Buffer{}}
	for name, file := range map[string]string{
		"robin": "robin.jsonl", "Robin  Two": "robin-two.jsonl", "r2": "r2.jsonl",
		"": "", "../x": "", "a/b": "", `a\b`: "", ".": "", "-x": "", "con": "", "COM1": "", "a.b": "", "ä": "", "x\x00": "", strings.Repeat("x", 41): "",
	} {
		t.Run(name, func(t *testing.T) {
			b, err := a.openScores(name)
			switch {
			case file == "" && err == nil:
				t.Errorf("%q is taken as %s", name, b.path)
			case file != "" && err != nil:
				t.Error(err)
			case file != "" && b.path != filepath.Join(a.dataDir, "drills", file):
				t.Errorf("it becomes %s", b.path)
			}
		})
	}
}

// A file that ends anywhere loses no more than its last line, and goes on.
func TestScoresTornAtEveryByte(t *testing.T) {
	a := &app{dataDir: t.TempDir(), err: &bytes.Buffer{}}
	b, err := a.openScores("robin")
	if err != nil {
		t.Fatal(err)
	}
	score := func(fault string) drill.Score {
		return drill.Score{Date: "2026-05-04", Level: 1, Faults: []string{fault}}
	}
	for _, f := range []string{"first", "second"} {
		if err := b.add(score(f)); err != nil {
			t.Fatal(err)
		}
	}
	whole, err := os.ReadFile(b.path)
	if err != nil {
		t.Fatal(err)
	}
	one := bytes.IndexByte(whole, '\n') + 1
	for cut := range len(whole) + 1 {
		if err := os.WriteFile(b.path, whole[:cut], 0o600); err != nil {
			t.Fatal(err)
		}
		if err := b.add(score("third")); err != nil {
			t.Fatal(err)
		}
		got, err := b.read()
		if err != nil {
			t.Fatal(err)
		}
		want := []string{"first", "second", "third"}
		switch {
		case cut < one:
			want = want[2:]
		case cut < len(whole):
			want = []string{"first", "third"}
		}
		var faults []string
		for _, s := range got {
			faults = append(faults, s.Faults...)
		}
		if !slices.Equal(faults, want) {
			t.Fatalf("cut at %d: %v, want %v", cut, faults, want)
		}
	}
}

func TestScoresSpoiltLine(t *testing.T) {
	var told bytes.Buffer
	a := &app{dataDir: t.TempDir(), err: &told}
	b, err := a.openScores("robin")
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := b.add(drill.Score{Date: "2026-05-04", Faults: []string{"x"}}); err != nil {
			t.Fatal(err)
		}
	}
	src, err := os.ReadFile(b.path)
	if err != nil {
		t.Fatal(err)
	}
	src[0] = 'x'
	if err := os.WriteFile(b.path, src, 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := b.read()
	if err != nil || len(got) != 1 {
		t.Errorf("%d scores, %v", len(got), err)
	}
	if !strings.Contains(told.String(), "1 line of ") {
		t.Errorf("it says %q", told.String())
	}
}
