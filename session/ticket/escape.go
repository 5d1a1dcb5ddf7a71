package ticket

import (
	"fmt"
	"strings"
	"unicode"

	"hotlug/engine/pattern"
)

// code is Markdown in fixed type: ids and formulas.
func code(s string) string {
	if s == "" {
		return ""
	}
	var b strings.Builder
	for _, r := range s {
		if !hidden(r) && r != '`' && r != '|' && r != '\n' && r != '\t' {
			b.WriteRune(r)
		}
	}
	return "`" + b.String() + "`"
}

// text makes outside text harmless in Markdown: one line, no structure, no HTML,
// no links, nothing hidden.
func text(s string) string {
	var b strings.Builder
	for _, r := range strings.TrimSpace(s) {
		switch {
		case r == '\n' || r == '\t' || r == '\u2028' || r == '\u2029':
			b.WriteByte(' ')
		case hidden(r):
		case strings.ContainsRune("\\`*_[]<>#|~$", r):
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '&':
			b.WriteString("&amp;")
		case r == '@':
			b.WriteString("&#64;") // or readers call somebody of that name
		default:
			b.WriteRune(r)
		}
	}
	return linkish.ReplaceAllStringFunc(b.String(), func(s string) string {
		last := len(s) - 1
		return fmt.Sprintf("%s&#%d;", s[:last], s[last])
	})
}

// linkish is what readers of Markdown make links of by themselves.
var linkish = pattern.Of(`(?i)\b(https?|ftp|mailto|xmpp|www)([:.])`)

// opening is [text] where it begins a line, so that it can't begin a list, a rule
// or a heading.
func opening(s string) string {
	t := text(s)
	digits := strings.TrimLeft(t, "0123456789")
	switch {
	case t == "":
		return t
	case strings.ContainsRune("-+=", rune(t[0])):
		return "\\" + t
	case digits != t && digits != "" && (digits[0] == '.' || digits[0] == ')'):
		return t[:len(t)-len(digits)] + "\\" + digits
	}
	return t
}

// hidden says whether a character does something else than show: it controls a
// terminal, turns the direction of writing, or can't be seen. Joiners stay, since
// some scripts need them to be read at all.
func hidden(r rune) bool {
	switch {
	case r == '\n', r == '\t', r == '\u200c', r == '\u200d':
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Zl, unicode.Zp)
}
