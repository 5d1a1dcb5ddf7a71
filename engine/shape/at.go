package shape

import (
	"strings"
	"unicode/utf8"
)

// IsExpressionStyle tells whether a scalar is written so that every rune of it
// can be found again in the file: plain or quoted on one line without escapes,
// or a | block. Expressions have to be, so that an error can point into them.
func (n *Node) IsExpressionStyle() bool {
	return n.Kind() == Scalar && (n.inLine() || n.style == literal)
}

// inLine tells whether the text stands in the file as it is, on one line.
func (n *Node) inLine() bool {
	tail := n.tail()
	switch n.style {
	case plain:
		return n.text != "" && strings.HasPrefix(tail, n.text)
	case single, double:
		return len(tail) > 1 && strings.HasPrefix(tail[1:], n.text) &&
			strings.HasPrefix(tail[1+len(n.text):], tail[:1])
	}
	return false
}

// At maps width runes from the offset-th rune (from 0) of a scalar's text to
// their place in the file, with the line there and the width cut to that line.
// An offset behind the text gives the place just behind it. Where the text cannot
// be found again in the file (see IsExpressionStyle) it gives the node itself.
func (n *Node) At(offset, width int) (Place, string, int) {
	if n == nil {
		return Place{}, "", 1
	}
	if n.IsExpressionStyle() {
		if line, col, left, ok := n.find(max(offset, 0)); ok {
			return Place{File: n.src.name, Line: line, Col: col}, n.src.line(line), max(1, min(width, left))
		}
	}
	return n.Place(), n.Source(), max(n.width, 1)
}

// find gives the place of a rune of the text, and how many runes of the text are
// left on that line.
func (n *Node) find(offset int) (line, col, left int, ok bool) {
	if n.style != literal {
		length := utf8.RuneCountInString(n.text)
		offset = min(offset, length)
		col = n.col + offset
		if n.style != plain {
			col++ // the quote
		}
		return n.line, col, length - offset, true
	}
	// A block begins on the line after the sign; what its lines have in front of
	// the text is the indentation.
	lines := strings.Split(n.text, "\n")
	for i, text := range lines {
		length := utf8.RuneCountInString(text)
		if offset > length && i < len(lines)-1 {
			offset -= length + 1
			continue
		}
		raw := n.src.line(n.line + 1 + i)
		if !strings.HasSuffix(raw, text) {
			return 0, 0, 0, false
		}
		offset = min(offset, length)
		indent := utf8.RuneCountInString(raw) - length
		return n.line + 1 + i, indent + 1 + offset, length - offset, true
	}
	return 0, 0, 0, false
}

// measure is how many runes the caret spans under a node.
func (n *Node) measure() int {
	tail := n.tail()
	switch {
	case n.kind == Map && len(n.pairs) > 0 && !strings.HasPrefix(tail, "{"):
		return n.pairs[0].Key.width
	case n.kind == Map, n.kind == List:
		return 1
	case n.kind == Scalar && (n.style == literal || n.style == folded):
		return 1
	case n.kind == Scalar && n.inLine():
		width := utf8.RuneCountInString(n.text)
		if n.style != plain {
			width += 2
		}
		return width
	case n.kind == Scalar && n.style != plain:
		return utf8.RuneCountInString(quotedPart(tail))
	case n.kind == Null:
		return len(word(tail))
	}
	return utf8.RuneCountInString(strings.TrimRight(tail, " \t"))
}

// quotedPart is the quoted text that a line begins with, escapes and quotes and
// all; the whole line when it does not end there.
func quotedPart(tail string) string {
	for i := 1; i < len(tail); i++ {
		switch {
		case tail[0] == '"' && tail[i] == '\\':
			i++
		case tail[0] == '\'' && tail[i] == '\'' && strings.HasPrefix(tail[i+1:], "'"):
			i++
		case tail[i] == tail[0]:
			return tail[:i+1]
		}
	}
	return strings.TrimRight(tail, " \t")
}

// word is what a line begins with up to a space or a sign of a flow list.
func word(tail string) string {
	if i := strings.IndexAny(tail, " \t,]}"); i >= 0 {
		return tail[:i]
	}
	return tail
}
