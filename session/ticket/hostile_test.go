package ticket_test

import (
	"encoding/json"
	"html"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"hotlug/session/ticket"
)

// hostile are texts that somebody may type or write into a rig file to make a
// ticket say what was never found.
var hostile = map[string]string{
	"HTML":               `<script>alert(1)</script><img src=x onerror=y><!-- --></td>&lt;`,
	"Markdown structure": "# PROVEN\n\n## Findings\n---\n> quote\n- item\n1. one\n```\ncode\n```\n    code\n===\n[a](b) ![c](d) **bold** _it_ ~~no~~ $x$",
	"a table":            "| a | b |\n| --- | --- |\n| \\| | \\\\| |",
	"backticks":          "`` ` ``` \\` `",
	"control":            "\x00\x1b[31mred\x1b]0;title\x07\b\b\b\u009b1m\u0085\r\nline\u2028line\u2029\x7f",
	"bidi and hidden":    "abc\u202egnp.\u202c \u2066x\u2069 \u200b\u200e\ufeff\u00ad\U000e0041 \ue000",
	"links and names":    "http://x.example www.x.example HTTPS://x mailto:a@b.example @someone ftp://x",
	"a cell's own mark":  "\x00| <b>",
	"wrong bytes":        "\xff\xfe|\xc0\xaf<",
	"a list's beginning": "- 1. + = 2) #",
	"very long":          strings.Repeat("|*`<", 2000),
	"only blanks":        " \n\t \u2028",
}

// filled is a ticket of which every text is the given one, but for the few that
// the program alone sets.
func filled(text string) ticket.Ticket {
	var t ticket.Ticket
	fill(reflect.ValueOf(&t).Elem(), text)
	t.Summary.Verdict, t.Proving.Result = ticket.VerdictLikely, ticket.NotPassed
	t.Outcome, t.Created = "found", time.Date(2026, 3, 1, 9, 30, 0, 0, time.UTC)
	for i := range t.Findings {
		t.Findings[i].Status = "likely"
	}
	t.Drawing = nil
	for i := range t.Photos {
		t.Photos[i].Data = nil // no part of the JSON
	}
	t.StopWork.Status = "handed-over"
	t.StillPossible[0].Status = "possible"
	return t
}

func fill(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fill(v.Index(i), text)
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), text)
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(v.Field(i), text)
			}
		}
	}
}

// plainMarks are the characters that begin something in Markdown or HTML, where
// no backslash stands before them.
var plainMarks = regexp.MustCompile("(^|[^\\\\])((?:\\\\\\\\)*)([`*_\\[\\]<>~$])")

// cells counts the columns of a table's row.
func cells(line string) int {
	n := 0
	for i, r := range line {
		if r != '|' {
			continue
		}
		back := 0
		for back < i && line[i-1-back] == '\\' {
			back++
		}
		if back%2 == 0 {
			n++
		}
	}
	return n - 1
}

// outline is what a ticket is made of, without what stands in it: the first
// character of each line, its columns, and its marks.
func outline(md string) []string {
	var out []string
	for l := range strings.Lines(md) {
		l = strings.TrimSuffix(l, "\n")
		kind := ""
		for _, begin := range []string{"### ", "## ", "# ", "- **", "- ", "| ", "|", "---", "1. ", "2. "} {
			if strings.HasPrefix(l, begin) {
				kind = begin
				break
			}
		}
		if strings.HasPrefix(l, "|") {
			kind += strings.Repeat("|", cells(l))
		}
		if l == "" {
			kind = "blank"
		}
		out = append(out, kind)
	}
	return out
}

func TestHostileMarkdown(t *testing.T) {
	want := outline(markdown(t, filled("x")))
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			got := markdown(t, filled(text))
			s := outline(got)
			if len(s) != len(want) {
				t.Fatalf("%d lines, want %d", len(s), len(want))
			}
			for i, l := range strings.Split(strings.TrimSuffix(got, "\n"), "\n") {
				if s[i] != want[i] {
					t.Errorf("line %d is %q, want %q: %.200q", i+1, s[i], want[i], l)
				}
				l = inCode.ReplaceAllString(l, "code")
				l = strings.NewReplacer("**How sure:**", "", "**Made safe:**", "", "**Asked of you:**", "", "**Who may do it:**", "", "**LIKELY**", "").Replace(l)
				if m := plainMarks.FindString(l); m != "" {
					t.Errorf("line %d has %q: %.200q", i+1, m, l)
				}
				if strings.Contains(strings.ReplaceAll(l, "&amp;", ""), "&lt;") {
					t.Errorf("line %d: what was typed as text would be read as a sign: %.200q", i+1, l)
				}
			}
			onlyShown(t, got)
		})
	}
}

// inCode are the ticket's own ids and formulas.
var inCode = regexp.MustCompile("(^|[^\\\\])`[^`|]*`")

// onlyShown demands that nothing is in a text that acts on a terminal or hides.
func onlyShown(t *testing.T, s string) {
	t.Helper()
	for i, r := range s {
		if r != '\n' && (unicode.IsControl(r) || unicode.In(r, unicode.Co, unicode.Zl, unicode.Zp) || unicode.Is(unicode.Cf, r) && r != '\u200c' && r != '\u200d') {
			t.Fatalf("%U at byte %d", r, i)
		}
	}
}

func TestHostileJSON(t *testing.T) {
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			want := filled(text)
			got := inJSON(t, want)
			onlyShown(t, got)
			if i := strings.IndexAny(got, "<>&"); i >= 0 {
				t.Errorf("%q at byte %d", got[i], i)
			}
			var back ticket.Ticket
			if err := json.Unmarshal([]byte(got), &back); err != nil {
				t.Fatal(err)
			}
			if text := strings.ToValidUTF8(text, "\ufffd"); text == want.Words && !reflect.DeepEqual(back, want) {
				t.Error("what was typed is not all there")
			}
		})
	}
}

// Everything that was typed stays readable, word for word, in every format.
func TestTextStaysReadable(t *testing.T) {
	x := filled("x")
	x.Words = "12,6 V at 5 % – Ω µ ± ½ « café » 漢字 👍🏽 नमस्\u200dते it's 3/4 (ok); a-b"
	if got := markdown(t, x); !strings.Contains(got, "| In their words | "+x.Words+" |\n") {
		t.Errorf("%q is not in the Markdown as it was typed", x.Words)
	}
	if got := plainText(t, x); !strings.Contains(got, "- In their words: "+x.Words+"\n") {
		t.Errorf("%q is not in the text as it was typed", x.Words)
	}
	if got := html.UnescapeString(page(t, x)); !strings.Contains(got, "<td>"+x.Words+"</td>") {
		t.Errorf("%q is not in the page as it was typed", x.Words)
	}
}

// tags are the marks of a page, without the text that they may hold.
var tags = regexp.MustCompile(`<[^>]*>`)

// A page has the same marks whatever stands in it, and asks nothing of anybody.
func TestHostileHTML(t *testing.T) {
	want := tags.FindAllString(page(t, filled("x")), -1)
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			got := page(t, filled(text+"."))
			onlyShown(t, got)
			marks := tags.FindAllString(got, -1)
			if !slices.Equal(marks, want) {
				for i := range min(len(marks), len(want)) {
					if marks[i] != want[i] {
						t.Fatalf("mark %d is %.200q, want %q", i, marks[i], want[i])
					}
				}
				t.Fatalf("%d marks, want %d", len(marks), len(want))
			}
			if s := tags.ReplaceAllString(got, ""); strings.ContainsAny(s, "<>") {
				t.Error("a mark is left open")
			}
		})
	}
}

// A page loads nothing: no address stands in it, no script, no form.
func TestPageLoadsNothing(t *testing.T) {
	got := page(t, filled("x"))
	for _, bad := range []string{"http:", "https:", "//", "<script", "<link", "<iframe", "<form", "<object", "<embed", "url(", "@import", "@font-face", "onload", "onerror", "srcset"} {
		if strings.Contains(got, bad) {
			t.Errorf("the page has %q", bad)
		}
	}
}

// Plain text has the same lines whatever stands in it.
func TestHostileText(t *testing.T) {
	begin := func(s string) (out []string) {
		for l := range strings.Lines(s) {
			mark := l[:min(2, len(l))]
			if mark != "- " && mark != "  " && mark != "1." && mark != "2." {
				mark = ""
			}
			out = append(out, mark)
		}
		return out
	}
	want := begin(plainText(t, filled("x")))
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			got := plainText(t, filled(text+"."))
			onlyShown(t, got)
			if begun := begin(got); !slices.Equal(begun, want) {
				t.Errorf("%d lines that begin with %q, want %d with %q", len(begun), begun, len(want), want)
			}
		})
	}
}

// What must be in every ticket is there, or it is said why not.
func TestNothingIsLeftBlank(t *testing.T) {
	for name, x := range map[string]ticket.Ticket{"empty": {}, "no complaint": stories[4].told(t), "stopped": stories[1].told(t), "narrowed": stories[3].told(t)} {
		t.Run(name, func(t *testing.T) {
			got := markdown(t, x)
			for _, want := range []string{"- **How sure:** ", "- **Made safe:** ", "- **Asked of you:** ", "- **Who may do it:** ",
				"| Complaint | ", "| In their words | ", "| Outcome | ", "| Rig | ", "| Begun | ", "| Last answer | "} {
				_, after, ok := strings.Cut(got, "\n"+want)
				line, _, _ := strings.Cut(after, "\n")
				if !ok || strings.Trim(line, " |-") == "" {
					t.Errorf("%q is not filled: %q", want, line)
				}
				if strings.HasPrefix(line, "not known") && !strings.HasPrefix(line, "not known: ") {
					t.Errorf("%q gives no reason: %q", want, line)
				}
			}
			for _, section := range []string{"## Findings", "## System", "## Readings in order", "## How it went", "## Not known", "## Excluded", "## Still possible"} {
				_, after, ok := strings.Cut(got, "\n"+section+"\n\n")
				if line, _, _ := strings.Cut(after, "\n"); !ok || line == "" || strings.HasPrefix(line, "## ") {
					t.Errorf("%s is empty", section)
				}
			}
			for _, n := range x.NotKnown {
				if n.Reason == "" {
					t.Errorf("%s is not known for no reason", n.Reading)
				}
			}
		})
	}
}

// Every row has as many cells as its table's head.
func TestTablesAreWhole(t *testing.T) {
	for _, s := range stories {
		t.Run(s.name, func(t *testing.T) {
			columns := 0
			for l := range strings.Lines(markdown(t, s.told(t))) {
				switch {
				case !strings.HasPrefix(l, "|"):
					columns = 0
				case columns == 0:
					columns = cells(l)
				case cells(l) != columns:
					t.Errorf("%d cells under %d: %s", cells(l), columns, l)
				}
			}
		})
	}
}

func FuzzMarkdown(f *testing.F) {
	for _, text := range hostile {
		if len(text) < 1000 {
			f.Add(text)
		}
	}
	want := len(outline(markdown(f, filled("x"))))
	f.Fuzz(func(t *testing.T, text string) {
		text += "." // fields without any text are left out
		got := markdown(t, filled(text))
		onlyShown(t, got)
		if n := strings.Count(got, "\n"); n != want {
			t.Errorf("%d lines, want %d", n, want)
		}
	})
}
