package term

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Safe makes text that came from outside (typed, or out of a file) fit to print:
// control characters, marks that turn the direction of writing or hide, and wrong
// bytes become U+FFFD, a tab becomes a space. Newlines stay; see [SafeLine].
func Safe(s string) string {
	if isSafe(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	s = strings.ReplaceAll(s, "\r\n", "\n")
	for _, r := range s { // wrong bytes come as U+FFFD
		switch {
		case r == '\t':
			r = ' '
		case !harmless(r):
			r = utf8.RuneError
		}
		b.WriteRune(r)
	}
	return b.String()
}

// SafeLine is [Safe] for what must stay on one line: newlines become spaces.
func SafeLine(s string) string {
	return strings.ReplaceAll(Safe(s), "\n", " ")
}

func isSafe(s string) bool {
	for i, r := range s {
		if r == '\t' || !harmless(r) {
			return false
		}
		if r == utf8.RuneError {
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				return false
			}
		}
	}
	return true
}

// harmless says whether a terminal shows a character and does nothing else.
func harmless(r rune) bool {
	switch {
	case r == '\n':
		return true
	case r < 0x20, r >= 0x7f && r < 0xa0: // C0, DEL, C1
		return false
	case r < 0xa0:
		return true
	case r == '\u200c', r == '\u200d': // joiners: some scripts need them to be read at all
		return true
	case r == '\u2028', r == '\u2029': // ends of line that not everybody takes for one
		return false
	}
	return !unicode.Is(unicode.Cf, r) && !unicode.Is(unicode.Co, r)
}

// clean is the last guard before the output: [Safe] but for the colour codes of
// a Palette.
func clean(s string) string {
	if isSafe(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	for s != "" {
		i := strings.IndexByte(s, '\x1b')
		if i < 0 {
			b.WriteString(Safe(s))
			break
		}
		b.WriteString(Safe(s[:i]))
		s = s[i:]
		n := ownCode(s)
		if n == 0 {
			b.WriteRune(utf8.RuneError)
			n = 1
		} else {
			b.WriteString(s[:n])
		}
		s = s[n:]
	}
	return b.String()
}

// ownCode is the length of a Palette's code at the start of s, 0 if there is none.
func ownCode(s string) int {
	if strings.HasPrefix(s, reset) {
		return len(reset)
	}
	for _, c := range codes {
		if strings.HasPrefix(s, c) {
			return len(c)
		}
	}
	return 0
}
