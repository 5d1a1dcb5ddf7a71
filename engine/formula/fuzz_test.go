package formula

import (
	"testing"
	"unicode/utf8"
)

// Whatever is typed, compiling ends without harm, problems lie inside the text,
// and what compiles can be used in every way.
func FuzzCompile(f *testing.F) {
	for _, src := range corpus {
		f.Add(src)
	}
	for _, src := range []string{"", "!x", "a ?? b", "let x = 1; x", "1..3", "'", "load_a > 1 // x", "mean(drop_v) > was(drop_v)",
		"known(load_a)", "ampacity(wire_mm2, 'free') > 3", "((((", "\xff", "load_a ≥ 3", "-(-(-load_a)) > 3", "display_lit ? 1 : 2"} {
		f.Add(src)
	}
	s := corpusScope()
	f.Fuzz(func(t *testing.T, src string) {
		c, ps := Compile(src, s, WantAny())
		if (c == nil) == (len(ps) == 0) {
			t.Fatalf("%q: formula %v and problems %v", src, c != nil, ps)
		}
		n := utf8.RuneCountInString(src)
		for _, p := range ps {
			if p.From < 0 || p.To < p.From || p.From > n || p.To > max(n, 1) || p.Text == "" || p.Code == "" {
				t.Fatalf("%q: %+v", src, p)
			}
		}
		if c == nil {
			return
		}
		vals := c.Anything()
		_, _ = c.Eval(vals)
		c.Working("id", "label", vals, Shower{})
		c.Said(vals, Shower{})
		c.ActOn(vals)
		if c.Type().Class == ClassYesNo {
			if d := c.Decide(vals); d.Verdict == Close {
				t.Fatalf("%q is close with nothing known", src)
			}
			c.Because(vals, Shower{})
			c.Wanted(vals, Shower{})
			c.MustKnow(true)
		}
	})
}
