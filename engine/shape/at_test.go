package shape

import (
	"strings"
	"testing"
)

func TestAtFindsTheRune(t *testing.T) {
	for _, c := range []struct {
		name, src     string
		offset, width int
		line, col, w  int
		style         bool // may be an expression
	}{
		{"plain", "v: a > bee\n", 4, 3, 1, 8, 3, true},
		{"plain, first rune", "v: a > bee\n", 0, 1, 1, 4, 1, true},
		{"plain, behind the end", "v: a > bee\n", 7, 1, 1, 11, 1, true},
		{"plain, far behind the end", "v: a > bee\n", 99, 5, 1, 11, 1, true},
		{"plain, before the beginning", "v: a > bee\n", -1, 1, 1, 4, 1, true},
		{"plain, width cut to the text", "v: a > bee # c\n", 4, 99, 1, 8, 3, true},
		{"plain, runes of several bytes", "vé: {v: é > ü}\n", 4, 1, 1, 13, 1, true},
		{"plain in braces", "x: {v: a > b}\n", 4, 1, 1, 12, 1, true},
		{"single quotes", "v: 'a > b'\n", 4, 1, 1, 9, 1, true},
		{"double quotes", "v: \"a > b\"\n", 4, 1, 1, 9, 1, true},
		{"double quotes with quotes inside", "v: \"a == 'b'\"\n", 5, 3, 1, 10, 3, true},
		{"single quotes with doubled quotes", "v: 'a == ''b'''\n", 5, 3, 1, 4, 12, false},
		{"double quotes with an escape", "v: \"a \\x3e b\"\n", 4, 1, 1, 4, 10, false},
		{"quotes over two lines", "v: 'a\n  > b'\n", 2, 1, 1, 4, 2, false},
		{"plain over two lines", "v: a >\n  b\n", 4, 1, 1, 4, 3, false},
		{"block, first line", "v: |\n  a > 1\n    and b\n", 4, 1, 2, 7, 1, true},
		{"block, second line", "v: |\n  a > 1\n    and b\n", 12, 1, 3, 9, 1, true},
		{"block, width cut to the line", "v: |\n  a > 1\n    and b\n", 4, 9, 2, 7, 1, true},
		{"block, end of the first line", "v: |\n  a > 1\n  and b\n", 5, 1, 2, 8, 1, true},
		{"block, behind the end", "v: |\n  a > 1\n  b\n", 99, 1, 3, 4, 1, true},
		{"block without its last line end", "v: |-\n  a > 1", 4, 1, 2, 7, 1, true},
		{"block with its blank lines kept", "v: |+\n  a > 1\n\n", 4, 1, 2, 7, 1, true},
		{"block with a comment at the sign", "v: | # c\n  a > 1\n", 4, 1, 2, 7, 1, true},
		{"block that begins blank", "v: |\n\n  a > 1\n", 5, 1, 3, 7, 1, true},
		{"block with its indentation given", "v: |2\n    a > 1\n", 6, 1, 2, 9, 1, true},
		{"folded", "v: >\n  a > 1\n", 4, 1, 1, 4, 1, false},
		{"list", "v: [a, b]\n", 1, 1, 1, 4, 1, false},
		{"nothing", "v:\n", 1, 1, 1, 1, 1, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			root, problems := Parse("f.yaml", []byte(c.src))
			if len(problems) > 0 {
				t.Fatal(problems[0].Error())
			}
			n := root.Get("v")
			for _, p := range root.Pairs() {
				if inner := p.Value.Get("v"); inner != nil {
					n = inner
				}
			}
			at, source, width := n.At(c.offset, c.width)
			if want := (Place{"f.yaml", c.line, c.col}); at != want || width != c.w {
				t.Errorf("is at %v, %d wide; want %v, %d wide", at, width, want, c.w)
			}
			if want := strings.Split(c.src, "\n")[c.line-1]; source != want {
				t.Errorf("shows %q, want %q", source, want)
			}
			if got := n.IsExpressionStyle(); got != c.style {
				t.Errorf("may be an expression: %v, want %v", got, c.style)
			}
		})
	}
}

func TestNodeIsSafeWithoutOne(t *testing.T) {
	var n *Node
	if n.Get("a").Get("b").Text() != "" || n.Key("a") != nil || n.Kind() != Null || n.Items() != nil ||
		n.Each() != nil || n.Texts() != nil || n.Source() != "" || n.Place() != (Place{}) || n.IsExpressionStyle() {
		t.Error("a nil node is not like nothing")
	}
	if at, source, width := n.At(3, 3); at != (Place{}) || source != "" || width != 1 {
		t.Errorf("At gives %v %q %d", at, source, width)
	}
	if p := NewProblem("x", n, "Text.", ""); p.Error() != ": error: Text. [x]" {
		t.Errorf("the problem is %q", p.Error())
	}
}

func TestOneOrMoreIsReadWithEach(t *testing.T) {
	for src, want := range map[string]string{"v: a": "a", "v: [a, b]": "a b", "v:": "", "v: []": ""} {
		if got := strings.Join(value(t, src).Texts(), " "); got != want {
			t.Errorf("%q gives %q, want %q", src, got, want)
		}
	}
}
