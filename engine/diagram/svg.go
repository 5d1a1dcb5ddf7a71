package diagram

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Measures of an SVG, in its own units. One half of the ladder is as wide as a
// phone, so that its letters come out there in their own size.
const (
	halfWide  = 340
	between   = 24 // between two halves
	margin    = 8
	spineAt   = 8  // from a half's edge
	laneAt    = 46 // from a half's edge
	wordsAt   = 68 // from a half's edge
	letter    = 12 // height of letters
	letterW   = 7.3
	lineTall  = 15
	partTall  = 28
	titleTall = 36
	headTall  = 34 // of the bars' names
)

// style is what an SVG looks like. It follows the reader's choice of light or
// dark, and paper is light. Colour only ever repeats what a shape or a word says.
const style = `.hotlug-diagram{--ink:#1c2126;--quiet:#545d66;--ground:#ffffff;--red:#ab1f17;--good:#1a6a3a;--bad:#ab1f17;--open:#7a4f00;color-scheme:light dark}
@media (prefers-color-scheme:dark){.hotlug-diagram{--ink:#e6e9ec;--quiet:#a9b2ba;--ground:#15181b;--red:#ff8d84;--good:#7fd998;--bad:#ff8d84;--open:#f0c35a}}
@media print{.hotlug-diagram{--ink:#000000;--quiet:#333333;--ground:#ffffff;--red:#8a0f09;--good:#0f4d28;--bad:#8a0f09;--open:#5c3b00}}
.hotlug-diagram text{font:12px ui-monospace,Menlo,Consolas,"DejaVu Sans Mono",monospace;fill:var(--ink);white-space:pre}
.hotlug-diagram .quiet{fill:var(--quiet)}.hotlug-diagram .head{font-weight:700}.hotlug-diagram .value{font-weight:700}
.hotlug-diagram .ground{fill:var(--ground)}.hotlug-diagram .onink{fill:var(--ground);font-weight:700}.hotlug-diagram .onred{fill:var(--red);font-weight:700}
.hotlug-diagram .wire,.hotlug-diagram .body,.hotlug-diagram .thick,.hotlug-diagram .bar,.hotlug-diagram .thin{fill:none;stroke:var(--ink);stroke-width:1.6;stroke-linecap:round;stroke-linejoin:round}
.hotlug-diagram .body{fill:var(--ground)}.hotlug-diagram .thick{stroke-width:4.5;stroke-linecap:butt}.hotlug-diagram .bar{stroke-width:6}.hotlug-diagram .thin{stroke-width:1.2}
.hotlug-diagram .dots{stroke-dasharray:2 4}.hotlug-diagram .ink{fill:var(--ink);stroke:var(--ink)}
.hotlug-diagram .red{fill:var(--ground);stroke:var(--red);stroke-width:1.8}
.hotlug-diagram .good{fill:none;stroke:var(--good);stroke-width:1.8}.hotlug-diagram .bad{fill:none;stroke:var(--bad);stroke-width:1.8}.hotlug-diagram .open{fill:none;stroke:var(--open);stroke-width:1.8}`

// SVG is the whole drawing with its marks, as one self-contained picture: no
// script, no font and no address from elsewhere. It has a title and, as its
// description, what [Layout.Describe] says. It scales to the width it is given.
func (l *Layout) SVG(marks []Mark) []byte {
	s := &sheet{l: l, marks: marks}
	wide, tall := s.draw()
	id := plainID(l.opt.ID)
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" class="hotlug-diagram" role="img" aria-labelledby="%s-title %s-desc" viewBox="0 0 %s %s" width="100%%" style="max-width:%spx">`,
		id, id, num(wide), num(tall), num(wide*1.25))
	fmt.Fprintf(&out, "\n<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", id, escaped("One-line diagram of "+l.name()), id, escaped(l.Describe(marks)))
	fmt.Fprintf(&out, "<style>%s</style>\n<rect class=\"ground\" width=\"%s\" height=\"%s\"/>\n", style, num(wide), num(tall))
	out.Write(s.lines.Bytes())
	out.Write(s.over.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes()
}

// plainID is an id that needs no quoting anywhere.
func plainID(s string) string {
	s = strings.Trim(strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			return r
		}
		return '-'
	}, s), "-")
	if s == "" {
		return "diagram"
	}
	return s
}

// draw draws all of it, and gives how wide and tall that is.
func (s *sheet) draw() (wide, tall float64) {
	rungs, placed := s.l.marked(s.marks)
	at := slices.IndexFunc(rungs, func(g rung) bool { return g.free })
	if at < 0 {
		at = len(rungs)
	}
	columns := min(max(s.l.opt.Abreast, 1), 2)
	wide = float64(columns*halfWide + (columns-1)*between + 2*margin)
	bottom := s.ladder(rungs[:at], columns, margin)
	if at < len(rungs) {
		bottom = s.ladder(rungs[at:], columns, bottom)
	}
	s.left = margin
	return wide, s.foot(placed, wide-2*margin, bottom+10) + margin
}

// rect is room that something takes on a sheet.
type rect struct {
	x, y, w, h float64
	what       string
}

// sheet is an SVG that is being drawn. Lines lie below all else.
type sheet struct {
	l           *Layout
	marks       []Mark
	left        float64
	lines, over bytes.Buffer
	taken       []rect
}

func escaped(s string) string {
	var b strings.Builder
	// A strings.Builder takes whatever is written to it.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}

func num(v float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0")
}

func (s *sheet) x(of lane) float64 {
	if of == plusLane {
		return s.left + laneAt
	}
	return s.left + halfWide - laneAt
}

func (s *sheet) spine(of lane) float64 {
	if of == plusLane {
		return s.left + spineAt
	}
	return s.left + halfWide - spineAt
}

func (s *sheet) wire(class string, points ...float64) {
	var d strings.Builder
	for i := 0; i+1 < len(points); i += 2 {
		fmt.Fprintf(&d, "%s%s %s", pick(i == 0, "M", "L"), num(points[i]), num(points[i+1]))
	}
	fmt.Fprintf(&s.lines, "<path class=\"%s\" d=\"%s\"/>\n", class, d.String())
}

// shape draws something over the lines and takes its room.
func (s *sheet) shape(what string, x, y, w, h float64, format string, a ...any) {
	fmt.Fprintf(&s.over, format+"\n", a...)
	s.taken = append(s.taken, rect{x, y, w, h, what})
}

// words writes a line of text; anchor is start, middle or end at x.
func (s *sheet) words(class, anchor string, x, y float64, text string) {
	if text == "" {
		return
	}
	fmt.Fprintf(&s.over, "<text class=\"%s\" text-anchor=\"%s\" x=\"%s\" y=\"%s\">%s</text>\n", class, anchor, num(x), num(y+4), escaped(text))
	w := float64(columns(text)) * letterW
	left := map[string]float64{"start": x, "middle": x - w/2, "end": x - w}[anchor]
	s.taken = append(s.taken, rect{left, y - letter/2, w, letter, "words " + text})
}

// ladder draws rungs in one column or two, from a height on, and gives where it
// ends. Either all of them hang between the bars, or none.
func (s *sheet) ladder(rungs []rung, columns int, top float64) float64 {
	columnsOf := [][]rung{rungs}
	if columns == 2 {
		left, right := halves(rungs, s.rungTall)
		if columnsOf = [][]rung{left, right}; len(left) == 0 || len(right) == 0 {
			columnsOf = [][]rung{rungs}
		}
	}
	free := rungs[0].free
	y := top
	if !free {
		y += headTall
	}
	bottom := y
	var ends [2]float64 // where each half's bars end
	for i, h := range columnsOf {
		s.left = float64(margin + i*(halfWide+between))
		ends[i] = s.half(h, y)
		bottom = max(bottom, ends[i]+6)
		if free {
			continue
		}
		s.words("head", "start", s.left, top+8, s.l.bar(plusLane))
		s.words("head", "end", s.left+halfWide, top+8, s.l.bar(minusLane))
		for x := range lane(2) {
			s.wire(s.barClass(), s.spine(x), y-8, s.spine(x), ends[i])
		}
	}
	if len(columnsOf) == 2 && !free {
		bottom = s.join(ends, top)
	}
	return bottom
}

// half draws some rungs below each other, and gives where they end.
func (s *sheet) half(rungs []rung, y float64) float64 {
	for _, g := range rungs {
		for _, r := range g.rows {
			s.row(r, y)
			y += s.tall(r)
		}
		y += 14
	}
	return y - 8
}

// rungTall is the height of a rung with the gap below it.
func (s *sheet) rungTall(g rung) float64 {
	tall := 14.0
	for _, r := range g.rows {
		tall += s.tall(r)
	}
	return tall
}

// barClass is how the bars are drawn: thick, or as a wire where there are none.
func (s *sheet) barClass() string {
	if s.l.bars {
		return "bar"
	}
	return "wire"
}

// join draws that the bars of two halves are the same: plus over the top, minus
// round the foot, so that they do not cross.
func (s *sheet) join(ends [2]float64, top float64) (bottom float64) {
	at := func(half int, x lane) float64 {
		s.left = float64(margin + half*(halfWide+between))
		return s.spine(x)
	}
	high, low := top+20, max(ends[0], ends[1])+8
	s.wire(s.barClass(), at(0, plusLane), high+10, at(0, plusLane), high, at(1, plusLane), high, at(1, plusLane), high+10)
	s.wire(s.barClass(), at(0, minusLane), ends[0]-1, at(0, minusLane), low, at(1, minusLane), low, at(1, minusLane), ends[1]-1)
	return low + 6
}

// foot writes what stands below the drawing: how to read it, how the rig is
// earthed, and marks that have no place on it.
func (s *sheet) foot(placed []bool, wide, y float64) float64 {
	put := func(x float64, text string) {
		for _, w := range wrap(text, int((s.left+wide-x)/letterW)) {
			s.words("quiet", "start", x, y, w)
			y += lineTall
		}
		y += 6
	}
	y += lineTall / 2
	for _, m := range s.marks {
		if m.From != "" || m.To != "" {
			put(s.left, probeNote)
			break
		}
	}
	if s.l.note != "" {
		s.earth(s.left+12, y)
		put(s.left+32, "Earth: "+s.l.note)
	}
	for i, m := range s.marks {
		if !placed[i] {
			head, label := m.says()
			put(s.left, number(i)+"  "+strings.TrimSpace(label+" "+head))
		}
	}
	return y
}
