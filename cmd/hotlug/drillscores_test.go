package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
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

// A file that ends anywhere loses no drill but the torn one, which is told, and no
// byte at all; and it goes on.
func TestScoresTornAtEveryByte(t *testing.T) {
	var told bytes.Buffer
	a := &app{dataDir: t.TempDir(), err: &told}
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
		if now, err := os.ReadFile(b.path); err != nil || !bytes.HasPrefix(now, whole[:cut]) {
			t.Fatalf("cut at %d: what was there is no more (%v)", cut, err)
		}
		told.Reset()
		got, err := b.read()
		if err != nil {
			t.Fatal(err)
		}
		want := []string{"first", "second", "third"}
		switch {
		case cut < one-1:
			want = want[2:]
		case cut < len(whole)-1:
			want = []string{"first", "third"}
		}
		torn := cut > 0 && cut < one-1 || cut > one && cut < len(whole)-1
		if got := strings.Contains(told.String(), "can't be read"); got != torn {
			t.Fatalf("cut at %d it says %q", cut, told.String())
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
	if !strings.Contains(told.String(), "line 1 of ") {
		t.Errorf("it says %q", told.String())
	}
}

// What others have written into the file neither gets through to the screen nor
// stops a drill.
func TestScoresHostile(t *testing.T) {
	const good = `{"date":"2026-05-04","seed":1,"level":1,"symptom":"hot-joint","faults":["worn"],"right":true,"readings":1,"minutes":1,"own_minutes":1}`
	for _, c := range []struct {
		name, line string
	}{
		{"no JSON", "}{"},
		{"no object", `["worn"]`},
		{"another kind", strings.Replace(good, `"seed":1`, `"seed":-1`, 1)},
		{"no faults", strings.Replace(good, `["worn"]`, `[]`, 1)},
		{"a fault that moves the cursor", strings.Replace(good, "worn", `\u001b[2J`, 1)},
		{"a fault that is a path", strings.Replace(good, "worn", "../../x", 1)},
		{"a fault without end", strings.Replace(good, "worn", strings.Repeat("x", 70), 1)},
		{"a hundred faults", strings.Replace(good, `"worn"`, strings.Repeat(`"worn",`, 99)+`"worn"`, 1)},
		{"a date that is none", strings.Replace(good, "2026-05-04", "2026-02-30", 1)},
		{"deep", strings.Repeat("[", 20000)},
		{"wrong bytes", "\xff\xfe\x00"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var told bytes.Buffer
			a := &app{dataDir: t.TempDir(), err: &told}
			b, err := a.openScores("robin")
			if err != nil {
				t.Fatal(err)
			}
			if err := b.ready(); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(b.path, []byte(good+"\n"+c.line+"\n"+good+"\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			got, err := b.read()
			if err != nil || len(got) != 2 {
				t.Errorf("%d scores, %v", len(got), err)
			}
			if !strings.Contains(told.String(), "line 2 of ") || strings.Contains(told.String(), "\x1b") {
				t.Errorf("it says %q", told.String())
			}
		})
	}
}

// Only a plain file is a file of scores: what a link leads to stays as it is.
func TestScoresNoPlainFile(t *testing.T) {
	for name, lay := range map[string]func(path, other string) error{
		"a link":     func(path, other string) error { return os.Symlink(other, path) },
		"a dead end": func(path, other string) error { return os.Symlink(other+"-none", path) },
		"a folder":   func(path, _ string) error { return os.Mkdir(path, 0o700) },
	} {
		t.Run(name, func(t *testing.T) {
			a := &app{dataDir: t.TempDir(), err: &bytes.Buffer{}}
			b, err := a.openScores("robin")
			if err != nil {
				t.Fatal(err)
			}
			other := filepath.Join(t.TempDir(), "other")
			if err := os.WriteFile(other, []byte("mine"), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := os.MkdirAll(filepath.Dir(b.path), 0o700); err != nil {
				t.Fatal(err)
			}
			if err := lay(b.path, other); err != nil {
				t.Fatal(err)
			}
			_, readErr := b.read()
			for what, err := range map[string]error{"reading": readErr, "a look before": b.ready(), "adding": b.add(drill.Score{})} {
				if err == nil || !strings.Contains(err.Error(), "is no plain file") {
					t.Errorf("%s: %v", what, err)
				}
			}
			if src, err := os.ReadFile(other); err != nil || string(src) != "mine" {
				t.Errorf("the other file holds %q, %v", src, err)
			}
			if _, err := os.Lstat(other + "-none"); err == nil {
				t.Error("a file was made where the link leads")
			}
		})
	}
}

// Two drills that end at the same time are both kept, each on its line.
func TestScoresAtOnce(t *testing.T) {
	a := &app{dataDir: t.TempDir(), err: &bytes.Buffer{}}
	b, err := a.openScores("robin")
	if err != nil {
		t.Fatal(err)
	}
	if err := b.ready(); err != nil {
		t.Fatal(err)
	}
	const each = 20
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range each {
				if err := b.add(drill.Score{Date: "2026-05-04", Faults: []string{"worn"}}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	got, err := b.read()
	if err != nil || len(got) != 4*each {
		t.Errorf("%d scores, %v; want %d", len(got), err, 4*each)
	}
}

// Without --data the scores lie beside the sessions, among the user's data.
func TestScoresPlace(t *testing.T) {
	data := t.TempDir()
	t.Setenv("XDG_DATA_HOME", data)
	a := &app{err: &bytes.Buffer{}}
	b, err := a.openScores("robin")
	if err != nil {
		t.Fatal(err)
	}
	if want := filepath.Join(data, "hotlug", "drills", "robin.jsonl"); b.path != want {
		t.Errorf("they lie in %s, want %s", b.path, want)
	}
}
