package shape

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"hotlug/engine/pattern"
)

// What the library says of a syntax error, and what it means to a person.
var syntaxWords = []struct{ says, text, hint string }{
	{"mapping values are not allowed", "a colon stands where no field can begin",
		"A text that holds a colon and a space goes in quotes; else look at the indentation."},
	{"did not find expected key", "a field was expected",
		"Fields of one map begin in one column; a text that begins with a quote, [ or { goes in quotes as a whole."},
	{"did not find expected '-' indicator", "another item of the list was expected",
		"Items of one list begin in one column, and a field after the list stands further left."},
	{"found character that cannot start any token", "a text begins with a character that it cannot begin with",
		"Put the text in quotes; indent with spaces, not with tabs."},
	{"found a tab character", "a tab stands in the indentation", "Indent with spaces."},
	{"could not find expected ':'", "a line is neither a field nor an item of a list",
		"Put a colon and a space after the field's name, or indent the line as part of the text above."},
	{"found unexpected end of stream", "a quote is not closed", "Close it."},
	{"block sequence entries are not allowed", "an item of a list stands where none can begin",
		"A list begins on the line after its field's name; a text that begins with - goes in quotes."},
	{"did not find expected ',' or ']'", "a list in brackets is not closed, or a comma is missing", "Put in the , or ]."},
	{"did not find expected ',' or '}'", "a map in braces is not closed, or a comma is missing", "Put in the , or }."},
	{"exceeded max depth", "it is nested too deep", "Look for brackets that are not closed."},
	{"found unknown escape character", "a quoted text holds a \\ that means nothing",
		"Use single quotes, or write \\\\ for a \\."},
	{"did not find expected alphabetic or numeric character", "a text begins with a * or &",
		"A text that begins with a sign goes in quotes."},
	{"did not find expected node content", "a value was expected", "A text that begins with a sign goes in quotes."},
}

var (
	libraryLine   = pattern.Of(`^line (\d+): `)
	leadingMark   = pattern.Of(`[:,\[-] *!`)
	unknownAnchor = pattern.Of(`^unknown anchor '(.*)' referenced$`)
)

// syntaxError reports a file that is not well-formed. The library gives a line
// only, and at times that of the construct around; so the line is searched for.
func (s *source) syntaxError(src []byte, says string) {
	says = strings.TrimPrefix(says, "yaml: ")
	line := 1
	if m := libraryLine.FindStringSubmatch(says); m != nil {
		line, _ = strconv.Atoi(m[1])
		says = says[len(m[0]):]
	}
	if m := unknownAnchor.FindStringSubmatch(says); m != nil {
		s.unknownAlias(m[1])
		return
	}
	if len(src) <= maxNearLineBytes {
		line = s.nearLine(line)
	}
	line, _ = s.clamp(line, 1)
	text, hint := "it says: "+says, "Look at the quotes, the brackets and the indentation."
	for _, w := range syntaxWords {
		if strings.Contains(says, w.says) {
			text, hint = w.text, w.hint
			break
		}
	}
	raw := s.line(line)
	switch {
	case strings.Contains(raw, " ? ") && strings.Contains(raw, " : "):
		hint = "A formula with ? and : goes in quotes, or in a | block."
	case leadingMark.MatchString(raw):
		hint = "In a condition write not instead of !; a text that begins with ! goes in quotes."
	}
	body := strings.TrimSpace(raw)
	col := utf8.RuneCountInString(raw[:len(raw)-len(strings.TrimLeft(raw, " \t"))]) + 1
	p := s.problem("syntax", line, col, utf8.RuneCountInString(body),
		fmt.Sprintf("This is not well-formed YAML near line %d: %s.", line, clean(text)), hint)
	if above := line - 1; above >= 1 {
		p = p.With(Note{At: Place{File: s.name, Line: above, Col: 1}, Text: "the line above", Source: s.line(above)})
	}
	s.list.add(p)
}

// unfinished are the errors of a file that ends too early, within quotes or
// brackets.
var unfinished = pattern.Of(`unexpected end of stream|expected ',' or|expected node content`)

// nearLine is the first line after which no beginning of the file is well-formed
// any more. Beginnings that end within quotes or brackets are not well-formed
// either; so after halving it looks a little ahead for one that is.
func (s *source) nearLine(fallback int) int {
	const ahead = 25 // longer texts in quotes or brackets are rare
	tries := 80      // each try reads the file; after that the line is a guess
	fault := func(n int) string {
		if tries--; tries < 0 {
			return "no more tries"
		}
		return decodeFault([]byte(strings.Join(s.lines[:n], "\n") + "\n"))
	}
	good, bad := 0, len(s.lines)
	why := fault(bad)
	if why == "" {
		return fallback
	}
	for {
		for bad-good > 1 {
			mid := (good + bad) / 2
			if f := fault(mid); f == "" {
				good = mid
			} else {
				bad, why = mid, f
			}
		}
		next := 0
		if unfinished.MatchString(why) {
			for n := bad + 1; n <= min(bad+ahead, len(s.lines)-1) && next == 0; n++ {
				if fault(n) == "" {
					next = n
				}
			}
		}
		if next == 0 {
			return bad
		}
		good, bad, why = next, len(s.lines), ""
	}
}

// unknownAlias reports an alias to nothing: most often a text that begins with *.
func (s *source) unknownAlias(name string) {
	for i, line := range s.lines {
		if at := strings.Index(line, "*"+name); at >= 0 {
			s.list.add(s.problem("alias", i+1, utf8.RuneCountInString(line[:at])+1, 1+utf8.RuneCountInString(name),
				shown("*"+name)+" is an alias, which these files do without.",
				"Write out what it stands for; a text that begins with * goes in quotes."))
			return
		}
	}
	s.list.add(s.problem("alias", 1, 1, 1, shown("*"+name)+" is an alias, which these files do without.",
		"Write out what it stands for; a text that begins with * goes in quotes."))
}
