package diagram

import (
	"strings"

	"github.com/rivo/uniseg"
)

// glyphs are the signs that text is drawn with.
type glyphs struct {
	v, h, bar, more            string // lines down and across, a bar, a stretch left out
	upRight, upLeft            string // corners, named by the two ways that they lead
	downRight, downLeft        string
	allRight, allLeft          string // tees
	barRight, barLeft          string // a line leaving a bar
	joint, gap                 string
	fuse, sw, breaker          string
	plug, shunt, earth         string
	boxUpLeft, boxUpRight      string
	boxDownLeft, boxDownRight  string
	unitLeft, unitRight, sunny string
}

var ascii = glyphs{
	v: "|", h: "-", bar: "#", more: "~",
	upRight: "+", upLeft: "+", downRight: "+", downLeft: "+", allRight: "+", allLeft: "+",
	barRight: "#", barLeft: "#",
	joint: "o", gap: "x", fuse: "[|]", sw: "/", breaker: "x/", plug: "(Y)", shunt: "[ ]", earth: "_|_",
	boxUpLeft: "+", boxUpRight: "+", boxDownLeft: "+", boxDownRight: "+", unitLeft: "[", unitRight: "]", sunny: "*",
}

var lines = glyphs{
	v: "│", h: "─", bar: "║", more: "┊",
	upRight: "└", upLeft: "┘", downRight: "┌", downLeft: "┐", allRight: "├", allLeft: "┤",
	barRight: "╟", barLeft: "╢",
	joint: "○", gap: "×", fuse: "[│]", sw: "╱", breaker: "×╱", plug: "(Y)", shunt: "[ ]", earth: "─┴─",
	boxUpLeft: "┌", boxUpRight: "┐", boxDownLeft: "└", boxDownRight: "┘", unitLeft: "[", unitRight: "]", sunny: "☼",
}

// signs are how a symbol is drawn in its lane.
func (g glyphs) sign(s symbol) string {
	switch s {
	case symFuse:
		return g.fuse
	case symSwitch, symIsolator:
		return g.sw
	case symBreaker:
		return g.breaker
	case symPlug:
		return g.plug
	case symShunt:
		return g.shunt
	case symEarth:
		return g.earth
	case symGap:
		return g.gap
	case symWire:
		return g.v
	}
	return g.joint
}

// line is one line of text by columns; a wide character has an empty cell behind
// it.
type line []string

func blank(width int) line {
	l := make(line, width)
	for i := range l {
		l[i] = " "
	}
	return l
}

// put writes a text from a column on. What does not fit is left out; a layout
// makes room before it writes.
func (l line) put(x int, s string) {
	state := -1
	for s != "" {
		var c string
		var w int
		c, s, w, state = uniseg.FirstGraphemeClusterInString(s, state)
		if w == 0 || x < 0 || x+w > len(l) {
			continue
		}
		l[x] = c
		for i := 1; i < w; i++ {
			l[x+i] = ""
		}
		x += w
	}
}

// centre writes a text around a column.
func (l line) centre(x int, s string) { l.put(x-columns(s)/2, s) }

// fill writes a sign from one column up to, not into, another.
func (l line) fill(from, to int, s string) {
	for x := from; x < to; x++ {
		l.put(x, s)
	}
}

func (l line) String() string { return strings.TrimRight(strings.Join(l, ""), " ") }
