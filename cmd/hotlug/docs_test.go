package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// The pages in docs are what the commands say of themselves.
func TestDocsGolden(t *testing.T) {
	t.Setenv(unitsEnv, "")
	want := map[string]string{}
	write := func(folder string, tree func(*cobra.Command, string) error) {
		dir := t.TempDir()
		root := newRoot(&app{})
		root.DisableAutoGenTag = true
		if err := tree(root, dir); err != nil {
			t.Fatal(err)
		}
		files, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			b, err := os.ReadFile(filepath.Join(dir, f.Name()))
			if err != nil {
				t.Fatal(err)
			}
			want[filepath.Join("docs", folder, f.Name())] = string(b)
		}
	}
	// A real date would make the pages of every build differ.
	begun := time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC)
	write("man", func(c *cobra.Command, dir string) error {
		return doc.GenManTree(c, &doc.GenManHeader{Title: "HOTLUG", Section: "1", Source: "Hotlug", Manual: "Hotlug", Date: &begun}, dir)
	})
	write("help", doc.GenMarkdownTree)
	if len(want) < 30 {
		t.Fatalf("only %d pages came out", len(want))
	}
	if *rewriting {
		if err := os.RemoveAll("docs"); err != nil {
			t.Fatal(err)
		}
		for name, text := range want {
			if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	there, err := filepath.Glob("docs/*/*")
	if err != nil {
		t.Fatal(err)
	}
	if names := slices.Sorted(maps.Keys(want)); !slices.Equal(there, names) {
		t.Errorf("docs holds\n%s\nand should hold\n%s", strings.Join(there, "\n"), strings.Join(names, "\n"))
	}
	for name, text := range want {
		if b, _ := os.ReadFile(name); string(b) != text {
			t.Errorf("%s is not what its command says; `go test ./cmd/hotlug -run Golden -update` writes it anew", name)
		}
	}
}
