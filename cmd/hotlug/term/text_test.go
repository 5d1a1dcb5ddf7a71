package term

import (
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestSafe(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", "12.6 V, 4.3 mΩ, 漢字, 🔋", "12.6 V, 4.3 mΩ, 漢字, 🔋"},
		{"newline stays", "a\nb", "a\nb"},
		{"carriage return", "a\r\nb\rc", "a\nb\ufffdc"},
		{"tab", "a\tb", "a b"},
		{"escape", "\x1b[31mred\x1b[0m", "\ufffd[31mred\ufffd[0m"},
		{"bell, NUL, DEL", "\a\x00\x7f", "\ufffd\ufffd\ufffd"},
		{"C1", "\u009b31m\u0085", "\ufffd31m\ufffd"},
		{"turned writing", "a\u202eb\u2066c\u200fd\u061c", "a\ufffdb\ufffdc\ufffdd\ufffd"},
		{"hidden", "a\u200bb\ufeffc\u00add", "a\ufffdb\ufffdc\ufffdd"},
		{"line separators", "a\u2028b\u2029", "a\ufffdb\ufffd"},
		{"joiners stay", "a\u200db\u200c", "a\u200db\u200c"},
		{"tags", "a\U000e0041", "a\ufffd"},
		{"wrong bytes", "a\xffb\xc3", "a\ufffdb\ufffd"},
		{"the sign itself stays", "a\ufffdb", "a\ufffdb"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Safe(c.in); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
	if got := SafeLine("a\r\nb\nc"); got != "a b c" {
		t.Errorf("SafeLine gives %q", got)
	}
}

func TestCleanLeavesOwnColours(t *testing.T) {
	p := Colour(true)
	own := p.Paint("ask", "How many volts?") + "\n" + p.Paint("result", "LIKELY") + p.Paint("say", "plain")
	if got := clean(own); got != own {
		t.Errorf("got %q, want %q", got, own)
	}
	for in, want := range map[string]string{
		"\x1b[2J\x1b[1mx\x1b[0m": "\ufffd[2J\x1b[1mx\x1b[0m",
		"\x1b]0;title\a":         "\ufffd]0;title\ufffd",
		"\x1b":                   "\ufffd",
	} {
		if got := clean(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func FuzzSafe(f *testing.F) {
	f.Add("a\x1b[31m\u202e\xff\r\n")
	f.Fuzz(func(t *testing.T, s string) {
		got := Safe(s)
		if !utf8.ValidString(got) || Safe(got) != got {
			t.Errorf("%q becomes %q", s, got)
		}
		for _, r := range got {
			if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) {
				t.Errorf("%q keeps %U", s, r)
			}
		}
		left := strings.ReplaceAll(clean(s), reset, "")
		for _, c := range codes {
			left = strings.ReplaceAll(left, c, "")
		}
		if strings.Contains(left, "\x1b") {
			t.Errorf("%q keeps an escape of its own", s)
		}
	})
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		name, text  string
		width       int
		first, hang string
		want        []string
	}{
		{"short", "one two", 20, "", "", []string{"one two"}},
		{"empty", "", 20, "  ", "", []string{""}},
		{"breaks at spaces", "one two three", 8, "", "", []string{"one two", "three"}},
		{"just fits", "one two", 7, "", "", []string{"one two"}},
		{"indents", "one two three", 11, "Do  ", "    ", []string{"Do  one two", "    three"}},
		{"columns stay", "resistance   4.3 m", 40, "", "", []string{"resistance   4.3 m"}},
		{"spaces vanish at a break", "one    two", 6, "", "", []string{"one", "two"}},
		{"leading spaces stay", "  one two", 9, "", "", []string{"  one two"}},
		{"lines stay", "a\nb c", 3, "> ", "  ", []string{"> a", "  b", "  c"}},
		{"long word", "abcdefghij kl", 4, "", "", []string{"abcd", "efgh", "ij", "kl"}},
		{"long word after another", "ab cdefghij", 6, "", " ", []string{"ab", " cdefg", " hij"}},
		{"wide letters", "漢字漢字漢字", 5, "", "", []string{"漢字", "漢字", "漢字"}},
		{"joined letters stay together", "e\u0301e\u0301e\u0301", 2, "", "", []string{"e\u0301e\u0301", "e\u0301"}},
		{"number and unit", "about 180\u00a0mV there", 11, "", "", []string{"about", "180\u00a0mV", "there"}},
		{"no room at all", "ab", 0, "  ", "  ", []string{"  a", "  b"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Wrap(c.text, c.width, c.first, c.hang); !slices.Equal(got, c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func FuzzWrap(f *testing.F) {
	f.Add("Switch the load on again for one minute.\n  180 mV / 42 A = 4.3 mΩ 漢字", uint8(40))
	f.Add("a\xff\u202e🔋👩‍👩‍👧", uint8(3))
	f.Fuzz(func(t *testing.T, text string, w uint8) {
		text = Safe(text)
		width := int(w)%100 + 4
		lines := Wrap(text, width, "> ", "  ")
		for _, l := range lines {
			if Columns(l) > width {
				t.Errorf("%q at %d: line %q is %d wide", text, width, l, Columns(l))
			}
		}
		if got, want := letters(strings.Join(lines, ""), true), letters(text, false); got != want {
			t.Errorf("%q at %d: letters %q, want %q", text, width, got, want)
		}
	})
}

// letters are a text's characters without spaces and without the marker of the
// first line.
func letters(s string, marked bool) string {
	if marked {
		s = strings.TrimPrefix(s, ">")
	}
	return strings.NewReplacer(" ", "", "\n", "").Replace(s)
}

func TestColour(t *testing.T) {
	env := func(m map[string]string) func(string) string { return func(k string) string { return m[k] } }
	xterm := map[string]string{"TERM": "xterm"}
	for _, c := range []struct {
		name            string
		terminal, plain bool
		env             map[string]string
		want            bool
	}{
		{"terminal", true, false, xterm, true},
		{"pipe", false, false, xterm, false},
		{"--plain", true, true, xterm, false},
		{"NO_COLOR", true, false, map[string]string{"TERM": "xterm", "NO_COLOR": "1"}, false},
		{"NO_COLOR empty counts as unset", true, false, map[string]string{"TERM": "xterm", "NO_COLOR": ""}, true},
		{"TERM=dumb", true, false, map[string]string{"TERM": "dumb"}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := colourful(c.terminal, c.plain, env(c.env)); got != c.want {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
	if got := Colour(false).Paint("ask", "x") + (Palette{}).Paint("result", "y") + Colour(true).Paint("ask", ""); got != "xy" {
		t.Errorf("without colour: %q", got)
	}
	if got := Colour(true).Paint("hint", "x"); got != "\x1b[2mx\x1b[0m" {
		t.Errorf("with colour: %q", got)
	}
}

func TestComplete(t *testing.T) {
	c := completer{func(line string) []string { return []string{"change", "change volts", "Chart", "other", line} }}
	got, n := c.Do([]rune("CHxx"), 2)
	want := []string{"ange", "ange volts", "art"}
	var texts []string
	for _, g := range got {
		texts = append(texts, string(g))
	}
	if n != 2 || !slices.Equal(texts, want) {
		t.Errorf("got %q (%d), want %q", texts, n, want)
	}
	if got, _ := (completer{}).Do([]rune("x"), 1); len(got) != 0 {
		t.Errorf("without a callback: %q", got)
	}
}

func TestFilter(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", "12.6\r", "12.6\r"},
		{"NUL and Ctrl-Z", "\x00a\x1ab\x00\r", "ab\r"},
		{"too long", strings.Repeat("x", maxTyped+500) + "\rnext\r", strings.Repeat("x", maxTyped) + "\rnext\r"},
		{"editing keys work beyond the cap", strings.Repeat("x", maxTyped+5) + "\x7f\r", strings.Repeat("x", maxTyped) + "\x7f\r"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var b strings.Builder
			f := &filter{r: strings.NewReader(c.in)}
			p := make([]byte, 7)
			for {
				n, err := f.Read(p)
				b.Write(p[:n])
				if err != nil {
					break
				}
			}
			if b.String() != c.want {
				t.Errorf("got %.60q, want %.60q", b.String(), c.want)
			}
		})
	}
}
