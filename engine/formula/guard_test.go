package formula

import (
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/expr-lang/expr/parser/operator"
)

// The borrowed parser is pinned: a new version may bring new kinds of nodes or
// tokens, and each must be looked at before it is let in.
const pinned = "expr@v1.17.8"

// nodeKinds are all kinds of nodes of the pinned parser, each with a text that
// brings it, and whether the language has it.
var nodeKinds = map[string]struct {
	src     string
	allowed bool
}{
	"IdentifierNode":         {"display_lit", true},
	"IntegerNode":            {"load_a > 3", true},
	"FloatNode":              {"load_a > 3.5", true},
	"BoolNode":               {"display_lit ? true : false", true},
	"StringNode":             {"chemistry == 'lfp'", true},
	"UnaryNode":              {"not display_lit", true},
	"BinaryNode":             {"display_lit and sun_steady", true},
	"CallNode":               {"next_fuse(load_a) > 3", true},
	"BuiltinNode":            {"max(load_a, pv_a) > 3", true},
	"ConditionalNode":        {"display_lit ? sun_steady : display_lit", true},
	"ArrayNode":              {"chemistry in ['lfp']", true},
	"NilNode":                {"nil", false},
	"BytesNode":              {"chemistry == b'lfp'", false},
	"ConstantNode":           {"", false}, // made by the optimizer only
	"ChainNode":              {"load_a?.b > 3", false},
	"MemberNode":             {"load_a[1] > 3", false},
	"SliceNode":              {"load_a[1:2] > 3", false},
	"PredicateNode":          {"all([1], # > 1)", false},
	"PointerNode":            {"all([1], # > 1)", false},
	"VariableDeclaratorNode": {"let x = 1; display_lit", false},
	"SequenceNode":           {"display_lit; sun_steady", false},
	"MapNode":                {"{'a': 1}", false},
	"PairNode":               {"{'a': 1}", false},
}

func sourceOf(t *testing.T, pkg string) map[string]*ast.File {
	t.Helper()
	p, err := build.Import(pkg, ".", build.FindOnly)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(filepath.ToSlash(p.Dir), pinned) {
		t.Fatalf("the parser is at %s; it is pinned to %s, and another version must be looked through first", p.Dir, pinned)
	}
	files := map[string]*ast.File{}
	names, err := os.ReadDir(p.Dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if strings.HasSuffix(n.Name(), ".go") && !strings.HasSuffix(n.Name(), "_test.go") {
			f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, n.Name()), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			files[n.Name()] = f
		}
	}
	return files
}

func TestNodeKindsArePinned(t *testing.T) {
	var got []string
	for _, f := range sourceOf(t, "github.com/expr-lang/expr/ast") {
		for name, o := range f.Scope.Objects {
			if o.Kind == ast.Typ && strings.HasSuffix(name, "Node") && name != "Node" {
				got = append(got, name)
			}
		}
	}
	sort.Strings(got)
	var want []string
	for k := range nodeKinds {
		want = append(want, k)
	}
	sort.Strings(want)
	if !slices.Equal(got, want) {
		t.Errorf("node kinds of the parser\n%v\nlisted here\n%v", got, want)
	}
	s := corpusScope()
	for kind, n := range nodeKinds {
		if n.src == "" {
			continue
		}
		if f, ps := Compile(n.src, s, WantYesNo()); (f != nil) != n.allowed {
			t.Errorf("%s: %q allowed %v, want %v: %v", kind, n.src, f != nil, n.allowed, ps)
		}
	}
}

func TestTokensArePinned(t *testing.T) {
	var got []string
	for o := range operator.Binary {
		got = append(got, o)
	}
	for o := range operator.Unary {
		got = append(got, o)
	}
	sort.Strings(got)
	got = slices.Compact(got)
	want := strings.Fields("! != % && * ** + - .. / < <= == > >= ?? ^ and contains endsWith in matches not or startsWith | ||")
	if !slices.Equal(got, want) {
		t.Errorf("operators of the parser\n%v\nlisted here\n%v", got, want)
	}
	for o := range operators {
		if instead[o] != "" {
			t.Errorf("%s is allowed and has a text for being refused", o)
		}
	}
	for _, o := range got {
		if !operators[o] && instead[o] == "" {
			t.Errorf("%s is refused without a word on what to write", o)
		}
	}
	kinds := 0
	for _, f := range sourceOf(t, "github.com/expr-lang/expr/parser/lexer") {
		for _, o := range f.Scope.Objects {
			if o.Kind == ast.Con {
				if v, ok := o.Decl.(*ast.ValueSpec); ok {
					if id, ok := v.Type.(*ast.Ident); ok && id.Name == "Kind" {
						kinds++
					}
				}
			}
		}
	}
	if kinds != 7 {
		t.Errorf("the lexer has %d kinds of tokens, and 7 were looked at", kinds)
	}
}

// What is refused outright, each with its first problem.
func TestRefused(t *testing.T) {
	tests := map[string]string{
		"!display_lit":                          "! is not part of the language; write not",
		"display_lit && sun_steady":             "&& is not part of the language; write and",
		"display_lit || sun_steady":             "|| is not part of the language; write or",
		"display_lit ?? sun_steady":             "?? is not part of the language; ask with known(x), and give both answers with ? and :",
		"chemistry matches 'l.*'":               "matches is not part of the language; compare a choice with == or in",
		"chemistry contains 'l'":                "contains is not part of the language; compare a choice with == or in",
		"chemistry startsWith 'l'":              "startsWith is not part of the language; compare a choice with == or in",
		"chemistry not endsWith 'l'":            "endsWith is not part of the language; compare a choice with == or in",
		"let x = 3; load_a > x":                 "let is not part of the language; give the part a name as a worked value",
		"load_a in 1..3":                        ".. is not part of the language; for a range write low < x < high",
		"filter([load_a], # > 1)":               "filter is not a function",
		"[load_a] | sum()":                      "| is not part of the language; write the call as f(x)",
		"$env.load_a > 1":                       "$env is not part of the language",
		"load_a[0] > 1":                         "an index is not part of the language",
		"load_a.b > 1":                          ". is not part of the language; names have no parts here",
		"if display_lit {true} else {false}":    "if is not part of the language; write condition ? this : that",
		"load_a ** 2 > 1":                       "** is not part of the language; write ^ for a power",
		"load_a % 2 > 1":                        "% is not part of the language; percent is a unit here: leave the sign out, or write part(x) for a ratio",
		"+load_a > 1":                           "+ in front of a value is not part of the language",
		"now() > 1":                             "now is not a function",
		"len(chemistry) > 1":                    "len is not a function",
		"load_a > 0x10":                         "0x10 is not a number as it is written here; write it in plain digits with a point",
		"load_a > 1_000":                        "1_000 is not a number as it is written here; write it in plain digits with a point",
		"load_a > 99999999999999999999":         "a number is too large",
		"load_a > 1e400":                        "a number is too large",
		"load_a > 1 // so":                      "a formula has no comments; put it in the YAML, behind #",
		"load_a > /* so */ 1":                   "a formula has no comments; put it in the YAML, behind #",
		"chemistry == `lfp`":                    "a word stands in straight single quotes; write 'lfp'",
		"chemistry == 'laed'":                   "chemistry can't be 'laed'; it can be lfp, agm, gel or flooded",
		"display_lit ? true : nil":              "nil is not part of the language; whether something is known is asked with known(x)",
		"display_lit ? 1 : sun_steady":          "the two results of ? must be alike, and they are a number without unit and yes or no",
		"load_a > 3 ? display_lit : 'x'":        "the two results of ? must be alike, and they are yes or no and a word in quotes",
		"battery_rest_v + 0.1 == 0.3":           "== between numbers is never certain; write near(a, b, by), or a range: low < x < high",
		"next_fuse(display_lit ? 1 : 2) > true": "> compares numbers, and true is yes or no",
	}
	s := corpusScope()
	for src, want := range tests {
		_, ps := Compile(src, s, WantYesNo())
		if len(ps) == 0 {
			t.Errorf("%s compiles", src)
		} else if got := ps[0].Error(); got != want {
			t.Errorf("%s\n got %s\nwant %s", src, got, want)
		}
	}
}

func TestCaps(t *testing.T) {
	s := corpusScope()
	deep := func(n int) string { return strings.Repeat("(", n) + "display_lit" + strings.Repeat(")", n) }
	tests := []struct{ name, src, want string }{
		{"a million brackets", strings.Repeat("(", 1_000_000), "the formula has 1000000 bytes, and 1000 is the most; name a part of it as a worked value"},
		{"long", "display_lit" + strings.Repeat(" or display_lit", 80), "the formula has 1211 bytes, and 1000 is the most; name a part of it as a worked value"},
		{"51 brackets", deep(51), "brackets are nested deeper than 50; name a part of it as a worked value"},
		{"50 brackets", deep(50), ""},
		{"990 signs", strings.Repeat("-", 980) + "load_a > 1", ""},
		{"many nots", strings.Repeat("not ", 240) + "display_lit", ""},
		{"nested chains", chains(20), "the formula is too large once its worked values are put in; use fewer of them"},
	}
	for _, tt := range tests {
		f, ps := Compile(tt.src, s, WantYesNo())
		got := ""
		if len(ps) > 0 {
			got = ps[0].Error()
		}
		if got != tt.want || (f == nil) == (tt.want == "") {
			t.Errorf("%s: got %q, want %q", tt.name, got, tt.want)
		}
	}
}

// chains nests chained comparisons in the middles of others, so that written out
// the tree doubles with every level.
func chains(n int) string {
	x := "pv_a"
	for range n {
		x = "(1<" + x + "<9?pv_a:load_a)"
	}
	return "1<" + x + "<9"
}

// Worked values of worked values must not grow without bound either.
func TestWorkedValuesAreCapped(t *testing.T) {
	s := corpusScope()
	names := []string{"load_a"}
	for i := range 20 {
		last := names[len(names)-1]
		f, ps := Compile(last+" + "+last, s, num("A"))
		if ps != nil {
			if i < 8 || ps[0].Code != CodeTooLarge {
				t.Fatalf("at %d: %v", i, ps)
			}
			return
		}
		names = append(names, "v"+string(rune('a'+i)))
		s.Value(names[len(names)-1], f)
	}
	t.Error("twenty doublings went through")
}
