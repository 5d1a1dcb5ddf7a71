package term

import (
	"strings"

	"github.com/rivo/uniseg"
)

// leastRoom is how many columns of a word an indent leaves at least.
const leastRoom = 8

// Wrap breaks text into lines of at most so many columns: the first begins with
// first, the others with hang. Lines of the text stay lines. It breaks at spaces,
// which vanish there; elsewhere they stay as they are, so columns keep their
// place. A word that is wider than a line is broken between characters. A
// non-breaking space (U+00A0) holds a number and its unit together.
//
// The text must hold no colour codes: paint the lines afterwards.
func Wrap(text string, width int, first, hang string) []string {
	var out []string
	indent := first
	for _, line := range strings.Split(text, "\n") {
		out = append(out, wrapLine(line, width, indent, hang)...)
		indent = hang
	}
	return out
}

func wrapLine(text string, width int, first, hang string) []string {
	var out []string
	var b strings.Builder
	b.WriteString(first)
	at, begun := Columns(first), false
	flush := func() {
		out = append(out, strings.TrimRight(b.String(), " "))
		b.Reset()
		b.WriteString(hang)
		at, begun = Columns(hang), false
	}
	for text != "" {
		word := strings.TrimLeft(text, " ")
		space := text[:len(text)-len(word)]
		if i := strings.IndexByte(word, ' '); i >= 0 {
			word = word[:i]
		}
		text = text[len(space)+len(word):]
		if word == "" {
			break
		}
		w := Columns(word)
		if begun && at+len(space)+w > width {
			flush()
			space = ""
		}
		if !begun && len(out) > 0 {
			space = "" // what stood at the break
		}
		if !begun {
			// An indent of the text's own gives way where there is no room for it.
			space = space[:min(len(space), max(0, width-at-min(w, leastRoom)))]
		}
		b.WriteString(space)
		at += len(space)
		// A word that no line can hold is broken wherever a line ends.
		for state := -1; word != ""; {
			var g string
			var gw int
			if at+w <= width {
				g, gw, word = word, w, ""
			} else {
				g, word, gw, state = uniseg.FirstGraphemeClusterInString(word, state)
			}
			if begun && at+gw > width {
				flush()
			}
			b.WriteString(g)
			at, w, begun = at+gw, w-gw, true
		}
	}
	return append(out, strings.TrimRight(b.String(), " "))
}

// Columns is how many columns a text takes on screen, by the rules of Unicode for
// wide and joined characters.
func Columns(s string) int { return uniseg.StringWidth(s) }
