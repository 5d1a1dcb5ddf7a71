package shape

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// testdata/problems.txt holds cases: a line "=== name", the file, a line "---",
// the problems as they are shown. "\x" escapes for bytes that an editor would not
// show stand as <U+202E>, <TAB>, <CR>.
const problemsFile = "testdata/problems.txt"

var unseen = strings.NewReplacer("<TAB>", "\t", "<CR>", "\r", "<U+202E>", "\u202e", "<U+FEFF>", "\ufeff",
	"<ESC>", "\x1b", "<FF>", "\xff")

func TestProblemsAreShown(t *testing.T) {
	raw, err := os.ReadFile(problemsFile)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for _, c := range strings.Split(string(raw), "=== ")[1:] {
		name, rest, _ := strings.Cut(c, "\n")
		src, want, _ := strings.Cut(rest, "---8<---\n")
		got := showAll(unseen.Replace(src))
		out.WriteString("=== " + name + "\n" + src + "---8<---\n" + got + "\n")
		if *update {
			continue
		}
		t.Run(name, func(t *testing.T) {
			if want := strings.TrimSuffix(want, "\n"); got != want {
				t.Errorf("shown:\n%s\nwant:\n%s", got, want)
			}
		})
	}
	if *update {
		if err := os.WriteFile(problemsFile, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// showAll reads a sheet and renders all that is wrong with it.
func showAll(src string) string {
	n, problems := Parse("kb/sheets/joints.yaml", []byte(src))
	problems = append(problems, Check(n, sheetShape())...)
	Sort(problems)
	var b strings.Builder
	for _, p := range problems {
		b.WriteString(Render(p) + "\n")
	}
	return b.String()
}

func TestJSONSchemaGolden(t *testing.T) {
	const file = "testdata/sheet.schema.json"
	got := JSONSchema(sheetShape(), "A sheet")
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Errorf("the schema is\n%s\nwant\n%s", got, want)
	}
}
