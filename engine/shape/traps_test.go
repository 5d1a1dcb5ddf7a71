package shape

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// value reads "v: ..." and gives the node of v; the text must be free of problems.
func value(t *testing.T, src string) *Node {
	t.Helper()
	n, problems := Parse("f.yaml", []byte(src))
	for _, p := range problems {
		t.Fatalf("%q: %s", src, p.Error())
	}
	return n.Get("v")
}

// codes reads a file and gives the codes of its problems with their places.
func codes(src string) string {
	_, problems := Parse("f.yaml", []byte(src))
	var out []string
	for _, p := range problems {
		out = append(out, fmt.Sprintf("%s %d:%d", p.Code, p.At.Line, p.At.Col))
	}
	return strings.Join(out, ", ")
}

// What YAML and its library do silently, and what is made of it here.
func TestTrapsOfWriting(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"tag swallows a condition", "v: !charger_on\n", "tag 1:4"},
		{"tag with a space swallows the sign", "v: ! charger_on\n", "tag 1:4"},
		{"core tag", "v: !!float 3\n", "tag 1:4"},
		{"tag on a list", "v: !x [a]\n", "tag 1:4"},
		{"tag on a key", "!x v: a\n", "tag 1:1"},
		{"tag in braces, which eats the brace", "v:\n  - {if: [!x]}\n", "syntax 2:3"},
		{"hash cuts a text", "v: lug #2\n", "cut-by-hash 1:8"},
		{"hash cuts a text in a list", "v: [a, lug #2\n  , b]\n", "cut-by-hash 1:12"},
		{"question mark and colon", "u: x\nv: a ? b : c\n", "syntax 2:1"},
		{"brackets before a sign", "u: x\nv: [a] == b\n", "syntax 2:1"},
		{"bad indentation", "u:\n  w: 1\n v: 2\n", "syntax 3:2"},
		{"second document", "v: 1\n---\nw: 2\n", "second-document 2:1"},
		{"empty second document", "v: 1\n---\n", "second-document 2:1"},
		{"broken second document", "v: 1\n---\nw: [\n", "syntax 3:1"},
		{"document that ends", "---\nv: 1\n...\n", ""},
		{"empty file", "", "empty-file 0:0"},
		{"only comments", "# a\n", "empty-file 0:0"},
		{"only a dash line", "---\n", "empty-file 0:0"},
		{"byte order mark", "\ufeffv: 1\n", ""},
		{"carriage returns", "v: 1\r\nw: 2\r\n", ""},
		{"byte order mark inside", "v: a\ufeffb\n", "control-character 1:5"},
		{"line separator", "v: a\u2028w: b\n", "control-character 1:5"},
		{"next line sign", "v: a\u0085w: b\n", "control-character 1:5"},
		{"zero width space", "v: a\u200bb\n", "control-character 1:5"},
		{"escape by name", "v: \"\\e[31m\"\n", "control-character 1:4"},
		{"escape by number", "v: \"\\x1b[31m\"\n", "control-character 1:4"},
		{"carriage return by name", "v: \"a\\rb\"\n", "control-character 1:4"},
		{"turned writing by number", "v: \"\\u202e\"\n", "control-character 1:4"},
		{"escape in a key", "\"\\e\": 1\n", "control-character 1:1"},
		{"duplicate key", "v: 1\nw: 2\nv: 3\n", "duplicate-key 3:1"},
		{"duplicate key in quotes", "v: 1\n'v': 3\n", "duplicate-key 2:1"},
		{"anchor", "v: &a 1\n", "anchor 1:4"},
		{"alias", "v: &a 1\nw: *a\n", "anchor 1:4, alias 2:4"},
		{"alias to nothing", "u: x\nv: *a\n", "alias 2:4"},
		{"alias to itself", "v: &a [*a]\n", "anchor 1:4"},
		{"merge key", "v: {<<: {a: 1}}\n", "merge-key 1:5"},
		{"directive", "%YAML 1.2\n---\nv: 1\n", "syntax 1:1"},
		{"number as key", "1: a\n", "bad-key 1:1"},
		{"yes or no as key", "true: a\n", "bad-key 1:1"},
		{"nothing as key", "~: a\n", "bad-key 1:1"},
		{"no key", ": a\n", "syntax 1:1"},
		{"list as key", "? [a]\n: b\n", "bad-key 1:3"},
		{"tab before a field", "v:\n\tw: 1\n", "syntax 2:2"},
		{"not UTF-8", "v: \xff\n", "not-utf-8 1:4"},
		{"UTF-16", "\xff\xfev\x00", "not-utf-8 1:1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := codes(c.src); got != c.want {
				t.Errorf("%q gives %q, want %q", c.src, got, c.want)
			}
		})
	}
}

func TestTrapsOfValues(t *testing.T) {
	for _, c := range []struct {
		src  string
		kind Kind
		text string
		b, i bool // whether it is taken for true or false, for a whole number
		f    bool // whether it is taken for a number
	}{
		{"v: yes", Scalar, "yes", false, false, false},
		{"v: on", Scalar, "on", false, false, false},
		{"v: True", Scalar, "True", false, false, false},
		{"v: true", Scalar, "true", true, false, false},
		{"v: false", Scalar, "false", true, false, false},
		{"v: 'true'", Scalar, "true", false, false, false},
		{"v: 010", Scalar, "010", false, false, false},
		{"v: 0x10", Scalar, "0x10", false, false, false},
		{"v: 0o10", Scalar, "0o10", false, false, false},
		{"v: 1_000", Scalar, "1_000", false, false, false},
		{"v: .nan", Scalar, ".nan", false, false, false},
		{"v: -.inf", Scalar, "-.inf", false, false, false},
		{"v: 3.5", Scalar, "3.5", false, false, true},
		{"v: 3.0", Scalar, "3.0", false, false, true},
		{"v: 1e3", Scalar, "1e3", false, false, true},
		{"v: 1e999", Scalar, "1e999", false, false, false},
		{"v: .5", Scalar, ".5", false, false, true},
		{"v: '12'", Scalar, "12", false, false, false},
		{"v: -12", Scalar, "-12", false, true, true},
		{"v: 99999999999999999999", Scalar, "99999999999999999999", false, false, true},
		{"v: 2024-01-01", Scalar, "2024-01-01", false, false, false},
		{"v: lug # 2", Scalar, "lug", false, false, false},
		{"v: lug#2", Scalar, "lug#2", false, false, false},
		{"v: 'lug #2'", Scalar, "lug #2", false, false, false},
		{"v: <<", Scalar, "<<", false, false, false},
		{"v: ''", Scalar, "", false, false, false},
		{"v:", Null, "", false, false, false},
		{"v: ~", Null, "", false, false, false},
		{"v: null", Null, "", false, false, false},
		{"v: {a}", Map, "", false, false, false},
		{"v: [a]", List, "", false, false, false},
		{"v: >\n  a\n  b\n\n", Scalar, "a b", false, false, false},
		{"v: |\n  a\n  b\n\n", Scalar, "a\nb", false, false, false},
	} {
		t.Run(c.src, func(t *testing.T) {
			n := value(t, c.src+"\n")
			_, b := n.Bool()
			_, i := n.Int()
			_, f := n.Float()
			if n.Kind() != c.kind || n.Text() != c.text || b != c.b || i != c.i || f != c.f {
				t.Errorf("is %v %q bool %v int %v float %v", n.Kind(), n.Text(), b, i, f)
			}
		})
	}
}

func TestCaps(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"bytes", strings.Repeat("#", MaxFileBytes+1), "too-big 0:0"},
		{"depth", strings.Repeat("[", MaxDepth+1) + strings.Repeat("]", MaxDepth+1), "too-deep 1:31"},
		{"depth allowed", strings.Repeat("[", MaxDepth-1) + "a" + strings.Repeat("]", MaxDepth-1), ""},
		{"depth of the library", strings.Repeat("[", 20000), "syntax 1:1"},
		{"length", "v: '" + strings.Repeat("x", MaxScalarRunes+1) + "'", "too-long 1:4"},
		{"length allowed", "v: '" + strings.Repeat("é", MaxScalarRunes) + "'", ""},
		{"nodes", strings.Repeat("- a\n", MaxNodes), "too-many-nodes 99999:3"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := codes(c.src); got != c.want {
				t.Errorf("gives %q, want %q", got, c.want)
			}
		})
	}
}

// A syntax error in a large file is found among texts over several lines, and in
// a time that a person does not notice much.
func TestSyntaxErrorInALargeFile(t *testing.T) {
	block := "  - why: 'a\n      b\n      c'\n    ask: [a,\n      b]\n"
	half := strings.Repeat(block, maxNearLineBytes/2/len(block)-20)
	src := "v:\n" + half + "  - x: y: z\n" + half
	start := time.Now()
	if got, want := codes(src), fmt.Sprintf("syntax %d:3", strings.Count(half, "\n")+2); got != want {
		t.Errorf("gives %q, want %q", got, want)
	}
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("took %v", took)
	}
}

// A reference to a reference to a reference stays as small as it is written.
func TestBombStaysSmall(t *testing.T) {
	var src strings.Builder
	src.WriteString("a0: &a0 [x, x]\n")
	for i := range 40 {
		fmt.Fprintf(&src, "a%d: &a%d [*a%d, *a%d]\n", i+1, i+1, i, i)
	}
	start := time.Now()
	if got := codes(src.String()); !strings.HasPrefix(got, "anchor 1:5, anchor 2:5") {
		t.Errorf("gives %q", got)
	}
	if took := time.Since(start); took > 2*time.Second {
		t.Errorf("took %v", took)
	}
}

func TestProblemsAreCounted(t *testing.T) {
	var src strings.Builder
	for range 2 * MaxProblems {
		src.WriteString("v: 1\n")
	}
	_, problems := Parse("f.yaml", []byte(src.String()))
	if len(problems) != MaxProblems+1 {
		t.Errorf("there are %d problems, want %d", len(problems), MaxProblems+1)
	}
	if last := problems[len(problems)-1]; last.Code != "more-problems" {
		t.Errorf("the last one is %q", last.Error())
	}
}

func TestOnlyOneFileImportsTheLibrary(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		library := `"gopkg.in/` + `yaml.v3"`
		if has := strings.Contains(string(src), library); has != (f == "yaml.go") {
			t.Errorf("%s imports the library: %v", f, has)
		}
	}
}
