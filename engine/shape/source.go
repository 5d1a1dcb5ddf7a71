package shape

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// source is a file cut into lines, for showing them.
type source struct {
	name  string
	lines []string
	list  *list
}

// list collects problems up to MaxProblems.
type list struct {
	problems []Problem
	full     bool
}

func (l *list) add(p Problem) {
	if l.full {
		return
	}
	if len(l.problems) >= MaxProblems {
		l.full = true
		l.problems = append(l.problems, Problem{
			Code: "more-problems", At: p.At, Source: p.Source, Width: p.Width,
			Text: fmt.Sprintf("There are more than %d problems; the rest is not shown.", MaxProblems),
			Hint: "Mend the ones above first.",
		})
		return
	}
	l.problems = append(l.problems, p)
}

// line is the text of a line, "" outside the file.
func (s *source) line(n int) string {
	if s == nil || n < 1 || n > len(s.lines) {
		return ""
	}
	return s.lines[n-1]
}

// clamp moves a place that lies behind the end of the file to its last line.
func (s *source) clamp(line, col int) (int, int) {
	if line > len(s.lines) {
		line = len(s.lines)
		col = utf8.RuneCountInString(s.line(line)) + 1
	}
	return max(line, 1), max(col, 1)
}

// problem is a problem at a place of this file.
func (s *source) problem(code string, line, col, width int, text, hint string) Problem {
	line, col = s.clamp(line, col)
	return Problem{
		Code: code, Text: text, Hint: hint,
		At:     Place{File: s.name, Line: line, Col: col},
		Source: s.line(line), Width: max(width, 1),
	}
}

var byteOrderMark = []byte("\xef\xbb\xbf")

// newSource strips the byte order mark, turns CRLF into LF and cuts the lines.
// It gives the bytes to read on with.
func newSource(name string, src []byte) (*source, []byte) {
	src = bytes.TrimPrefix(src, byteOrderMark)
	src = bytes.ReplaceAll(src, []byte("\r\n"), []byte("\n"))
	text := strings.TrimSuffix(string(src), "\n")
	return &source{name: name, lines: strings.Split(text, "\n"), list: &list{}}, src
}

// hidden tells whether a rune has no business in a text that reaches a terminal:
// control characters, characters that turn the direction of writing, invisible
// ones, and line ends that only some programs see. The two joiners are left in,
// scripts need them.
func hidden(r rune) bool {
	switch r {
	case '\n', '\t', '\u200c', '\u200d':
		return false
	}
	if ' ' <= r && r <= '~' { // nearly all of a file; the tables below are slow
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co)
}

func firstHidden(text string) (rune, bool) {
	for _, r := range text {
		if hidden(r) {
			return r, true
		}
	}
	return 0, false
}

func hiddenText(r rune) string {
	what := "a hidden character"
	switch {
	case unicode.Is(unicode.Cc, r):
		what = "a control character"
	case r == '\u061c', r == '\u200e', r == '\u200f',
		'\u202a' <= r && r <= '\u202e', '\u2066' <= r && r <= '\u2069':
		what = "a character that turns the direction of writing"
	}
	return fmt.Sprintf("Here stands %s, U+%04X.", what, r)
}

const hiddenHint = "Take it out: it can make a text look like another one on a screen."

// checkCharacters reports bytes that are not UTF-8 and hidden characters, in
// comments too. It tells whether the file may be read on.
func (s *source) checkCharacters() bool {
	ok := true
	for i, line := range s.lines {
		col := 0
		for j, r := range line {
			col++
			if r == utf8.RuneError {
				if _, n := utf8.DecodeRuneInString(line[j:]); n == 1 {
					s.list.add(s.problem("not-utf-8", i+1, col, 1,
						"This line is not UTF-8.", "Save the file as UTF-8."))
					ok = false
					break // the rest of such a line would repeat it
				}
			}
			if hidden(r) {
				s.list.add(s.problem("control-character", i+1, col, 1, hiddenText(r), hiddenHint))
				ok = false
			}
		}
	}
	return ok
}

// shown is a word of a file as it may stand in a sentence: without hidden
// characters and not too long.
func shown(word string) string {
	word = strings.Join(strings.Fields(clean(word)), " ")
	const most = 40
	if runes := []rune(word); len(runes) > most {
		word = string(runes[:most]) + "..."
	}
	return `"` + word + `"`
}

// clean puts a replacement for each hidden character.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if hidden(r) {
			return utf8.RuneError
		}
		return r
	}, text)
}
