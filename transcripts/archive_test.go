package transcripts

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// archive is one conversation on file: how it was set up, what is typed, what
// Hotlug says to it, and how it ends.
type archive struct {
	file, comment string
	setup         [][2]string // keys with their values
	say           []string
	hotlug        string
	outcome       string
}

// archives reads the conversations whose files match a pattern.
func archives(t *testing.T, pattern string) []archive {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil {
		t.Fatal(err)
	}
	var all []archive
	for _, f := range files {
		a, err := txtar.ParseFile(f)
		if err != nil {
			t.Fatal(err)
		}
		x := archive{file: f, comment: string(a.Comment)}
		for _, part := range a.Files {
			text := string(part.Data)
			switch part.Name {
			case partSetup:
				for l := range strings.Lines(text) {
					if key, value, _ := strings.Cut(l, ":"); strings.TrimSpace(l) != "" {
						x.setup = append(x.setup, [2]string{strings.TrimSpace(key), strings.TrimSpace(value)})
					}
				}
			case partSay:
				x.say = strings.Split(strings.TrimRight(text, "\n"), "\n")
			case partHotlug:
				x.hotlug = text
			case partOutcome:
				x.outcome = text
			default:
				t.Fatalf("%s: there is no part called %s", f, part.Name)
			}
		}
		all = append(all, x)
	}
	return all
}

// rewrite puts what Hotlug says now, and how it ends now, into the file.
func (x archive) rewrite(t *testing.T, text, outcome string) {
	t.Helper()
	a, err := txtar.ParseFile(x.file)
	if err != nil {
		t.Fatal(err)
	}
	a.Files = slices.DeleteFunc(a.Files, func(f txtar.File) bool { return f.Name == partHotlug || f.Name == partOutcome })
	a.Files = append(a.Files, txtar.File{Name: partHotlug, Data: []byte(text)}, txtar.File{Name: partOutcome, Data: []byte(outcome)})
	if err := os.WriteFile(x.file, txtar.Format(a), 0o644); err != nil {
		t.Fatal(err)
	}
}
