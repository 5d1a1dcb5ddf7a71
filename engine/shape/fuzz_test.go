package shape

import (
	"os"
	"strings"
	"testing"
)

// FuzzParse: nothing panics; every problem points into the file, or is one of
// the file as a whole; what is shown holds no hidden characters; and At finds each
// rune of each scalar that may be an expression.
func FuzzParse(f *testing.F) {
	raw, err := os.ReadFile(problemsFile)
	if err != nil {
		f.Fatal(err)
	}
	for _, c := range strings.Split(string(raw), "=== ")[1:] {
		_, rest, _ := strings.Cut(c, "\n")
		src, _, _ := strings.Cut(rest, "---8<---\n")
		f.Add([]byte(unseen.Replace(src)))
	}
	for _, s := range []string{"v: |2\n    a\n\n", "? |\n  k\n: v", "- - a\n  - 'b\n\n c'\n", "a: \"\\\n b\"", "{a: [}", "\"\\ud800\"",
		"%TAG ! x\n--- !a b", "a: # c\n- b", "|+\n\n\n", "a: b\u00a0\nc: \"\t\"", "a:\r\n  - b\rc"} {
		f.Add([]byte(s))
	}
	whole := map[string]bool{"empty-file": true, "too-big": true}
	f.Fuzz(func(t *testing.T, src []byte) {
		n, problems := Parse("f.yaml", src)
		if n == nil && len(problems) == 0 {
			t.Fatal("there is neither a node nor a problem")
		}
		problems = append(problems, Check(n, sheetShape())...)
		s, _ := newSource("f.yaml", src)
		for _, p := range problems {
			if p.Code == "" || p.Text == "" || p.Width < 1 {
				t.Errorf("incomplete: %#v", p)
			}
			if whole[p.Code] != (p.At.Line == 0) {
				t.Errorf("no place: %s", p.Error())
			}
			if p.At.Line > len(s.lines) || p.At.Line > 0 && (p.At.Col < 1 || p.At.Col > len([]rune(s.line(p.At.Line)))+1) {
				t.Errorf("outside the file: %s", p.Error())
			}
			if p.Source != s.line(p.At.Line) {
				t.Errorf("shows %q, the line is %q", p.Source, s.line(p.At.Line))
			}
			if r, found := firstHidden(Render(p)); found {
				t.Errorf("shows U+%04X: %q", r, Render(p))
			}
		}
		everyScalar(n, func(n *Node) {
			if !n.IsExpressionStyle() {
				return
			}
			for i, r := range []rune(n.text) {
				at, line, _ := n.At(i, 1)
				if r == '\n' {
					continue // stands behind the line
				}
				if got := []rune(line)[at.Col-1]; got != r {
					t.Errorf("rune %d of %q is %q at %v", i, n.text, got, at)
				}
			}
		})
	})
}

func everyScalar(n *Node, do func(*Node)) {
	if n.Kind() == Scalar {
		do(n)
	}
	for _, p := range n.Pairs() {
		do(p.Key)
		everyScalar(p.Value, do)
	}
	for _, i := range n.Items() {
		everyScalar(i, do)
	}
}
