package shape

import (
	"strings"
	"unicode"
)

// Columns of the lines that Render shows.
const (
	tabStop    = 4
	maxColumns = 120 // a longer line is shown around its caret only
	leadColumn = 40  // what is kept before the caret of such a line
)

// Render is a problem as plain text: the sentence with its place, the line with
// a caret under it, the notes likewise, the hint. No newline at the end.
func Render(p Problem) string {
	var b strings.Builder
	b.WriteString(p.Error())
	if p.At.Line > 0 {
		excerpt(&b, p.Source, p.At.Col, max(p.Width, 1))
	}
	for _, n := range p.Notes {
		b.WriteString("\n  ")
		if n.At != (Place{}) {
			b.WriteString(n.At.String() + ": ")
		}
		b.WriteString("note: " + clean(n.Text))
		if n.At.Line > 0 {
			excerpt(&b, n.Source, n.At.Col, n.Width)
		}
	}
	if p.Hint != "" {
		b.WriteString("\n  hint: " + clean(p.Hint))
	}
	return b.String()
}

// excerpt writes a line of a file and, for a width above 0, a caret line.
func excerpt(b *strings.Builder, line string, col, width int) {
	line, col, cut := window(line, col)
	cells := layOut(line)
	start, from, to := 0, 0, 0 // first cell shown; caret from, to in columns
	at := func(i int) int {
		if i < len(cells) {
			return cells[i].column
		}
		if n := len(cells); n > 0 {
			return cells[n-1].column + cells[n-1].width + i - n
		}
		return i
	}
	col = min(max(col, 1), len(cells)+1)
	from, to = at(col-1), at(min(col-1+width, max(len(cells), col)))
	for start < len(cells) && start < col-1 && at(len(cells)) > maxColumns && from-at(start) > leadColumn {
		start++
	}
	shift := at(start)
	b.WriteString("\n    ")
	if start > 0 || cut {
		b.WriteString("...")
		shift -= 3
	}
	for _, c := range cells[start:] {
		if c.column-shift+c.width > maxColumns {
			b.WriteString("...")
			break
		}
		b.WriteString(c.text)
	}
	if width > 0 {
		to = min(to, shift+maxColumns)
		b.WriteString("\n    " + strings.Repeat(" ", from-shift) + strings.Repeat("^", max(to-from, 1)))
	}
}

// window cuts a very long line down to what is around a column, so that laying
// it out costs little; it gives the column in what is left.
func window(line string, col int) (string, int, bool) {
	if len(line) <= 16*maxColumns {
		return line, col, false
	}
	runes := []rune(line)
	col = min(max(col, 1), len(runes)+1)
	from := max(0, col-1-leadColumn)
	to := min(len(runes), col-1+2*maxColumns)
	return string(runes[from:to]), col - from, from > 0
}

// cell is one rune of a line as it stands on a screen.
type cell struct {
	text          string
	column, width int
}

func layOut(line string) []cell {
	cells := make([]cell, 0, len(line))
	column := 0
	for _, r := range line {
		c := cell{text: string(r), column: column, width: columns(r)}
		switch {
		case r == '\t':
			c.width = tabStop - column%tabStop
			c.text = strings.Repeat(" ", c.width)
		case r == '\n' || hidden(r):
			c.text, c.width = "\ufffd", 1
		}
		column += c.width
		cells = append(cells, c)
	}
	return cells
}

// wide are the blocks whose characters take two columns on a screen.
var wide = &unicode.RangeTable{
	R16: []unicode.Range16{
		{Lo: 0x1100, Hi: 0x115f, Stride: 1}, // Hangul initial letters
		{Lo: 0x2e80, Hi: 0x303e, Stride: 1}, // CJK radicals and signs
		{Lo: 0x3041, Hi: 0xa4cf, Stride: 1}, // kana, CJK, Yi
		{Lo: 0xac00, Hi: 0xd7a3, Stride: 1}, // Hangul
		{Lo: 0xf900, Hi: 0xfaff, Stride: 1}, // CJK for compatibility
		{Lo: 0xfe30, Hi: 0xfe6f, Stride: 1}, // CJK forms
		{Lo: 0xff00, Hi: 0xff60, Stride: 1}, // full-width forms
		{Lo: 0xffe0, Hi: 0xffe6, Stride: 1},
	},
	R32: []unicode.Range32{
		{Lo: 0x1f300, Hi: 0x1f64f, Stride: 1}, // pictures
		{Lo: 0x1f680, Hi: 0x1f6ff, Stride: 1},
		{Lo: 0x1f900, Hi: 0x1f9ff, Stride: 1},
		{Lo: 0x20000, Hi: 0x3fffd, Stride: 1}, // CJK extensions
	},
}

// columns is how many columns a rune takes on a screen: 0, 1 or 2.
func columns(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case unicode.Is(wide, r):
		return 2
	}
	return 1
}
