package diagram

import (
	"slices"
	"strconv"
	"strings"
)

// The least and the usual width of one ladder in text. Below the least no name
// stands beside its part.
const (
	leastText  = 30
	twoAbreast = 76
)

// pen draws rows as text.
type pen struct {
	g       glyphs
	width   int
	bars    bool // drawn as bars and not as joints
	marks   []Mark
	oneLine bool // names are cut rather than wrapped
}

const lane0 = 5 // column of the plus lane; the minus lane is as far from the other edge

func (p pen) at(x lane) int {
	if x == plusLane {
		return lane0
	}
	return p.width - 1 - lane0
}

// Text is the whole drawing in lines of at most width columns. From 76 columns on
// two halves of it stand side by side. Marks that have no place on the drawing are
// listed below it.
func (l *Layout) Text(marks []Mark, width int) []string {
	width = max(width, leastText)
	rungs, placed := l.marked(marks)
	p := l.pen(marks, width)
	var out []string
	if width >= twoAbreast {
		p.width = (min(width, 92) - 2) / 2
		left, right := halves(rungs, func(g rung) float64 { return float64(len(p.rung(g)) + 1) })
		a, b := p.ladder(l, left), p.ladder(l, right)
		for i := range max(len(a), len(b)) {
			both := blank(2*p.width + 2)
			if i < len(a) {
				both.put(0, a[i])
			}
			if i < len(b) {
				both.put(p.width+2, b[i])
			}
			out = append(out, both.String())
		}
	} else {
		out = p.ladder(l, rungs)
	}
	if slices.ContainsFunc(marks, func(m Mark) bool { return m.From != "" || m.To != "" }) {
		out = append(out, "")
		out = append(out, under(probeNote, width)...)
	}
	if l.note != "" {
		out = append(out, "")
		out = append(out, under("Earth: "+l.note, width)...)
	}
	for i, m := range marks {
		if !placed[i] {
			head, label := m.says()
			out = append(out, under(number(i)+"  "+strings.TrimSpace(label+" "+head), width)...)
		}
	}
	return out
}

// probeNote explains the two ends of a reading.
const probeNote = "(1+) is where the red probe stood for reading 1, and (1-) where the black one did."

// under wraps a text with its second line and those after it indented.
func under(s string, width int) []string {
	out := wrap(s, width-2)
	for i := 1; i < len(out); i++ {
		out[i] = "  " + out[i]
	}
	return out
}

func (l *Layout) pen(marks []Mark, width int) pen {
	p := pen{g: ascii, width: width, bars: l.bars, marks: marks}
	if l.opt.BoxDrawing {
		p.g = lines
	}
	if !p.bars {
		p.g.bar = p.g.v
		p.g.barRight, p.g.barLeft = p.g.allRight, p.g.allLeft
	}
	return p
}

// ladder draws rungs below each other, with the bars' names at their head.
func (p pen) ladder(l *Layout, rungs []rung) []string {
	if len(rungs) == 0 {
		return nil
	}
	var out []string
	if !rungs[0].free {
		head := blank(p.width)
		minus := clip(l.bar(minusLane), p.width/2-1)
		head.put(0, clip(l.bar(plusLane), p.width/2-1))
		head.put(p.width-columns(minus), minus)
		out = append(out, head.String())
	}
	for _, g := range rungs {
		gap := blank(p.width)
		if !g.free {
			p.spines(gap)
		}
		out = append(out, gap.String())
		out = append(out, p.rung(g)...)
	}
	return out
}

func (p pen) rung(g rung) []string {
	var out []string
	for _, r := range g.rows {
		out = append(out, p.row(r, g.free)...)
	}
	return out
}

func (p pen) spines(l line) {
	l.put(0, p.g.bar)
	l.put(p.width-1, p.g.bar)
}

// row draws a row in one line or several.
func (p pen) row(r row, free bool) []string {
	var out []line
	next := func(on [2]bool) line {
		l := blank(p.width)
		if !free {
			p.spines(l)
		}
		for x := range lane(2) {
			if on[x] {
				l.put(p.at(x), p.g.v)
			}
		}
		out = append(out, l)
		return l
	}
	switch r.kind {
	case titleRow, leaveRow:
		p.toBars(next([2]bool{}), r)
	case partRow:
		p.part(next, r)
	case pointRow:
		for _, t := range r.tags {
			p.tag(next, r, t)
		}
	case unitsRow:
		p.units(next(both(r.up, r.down)), r)
		for _, s := range r.more {
			l := next(r.down)
			l.centre(p.width/2, clip(s, p.at(minusLane)-lane0-3))
		}
	case boxRow:
		p.box(next, r)
	case noteRow:
		on := both(r.up, r.down)
		on[r.lane] = true
		l := next([2]bool{})
		for x := range lane(2) {
			if on[x] {
				l.put(p.at(x), p.g.more)
			}
		}
		from, to := p.room(r)
		p.words(l, r.lane, clip(r.name, to-from), from, to)
	}
	texts := make([]string, len(out))
	for i, l := range out {
		texts[i] = l.String()
	}
	return texts
}

func both(a, b [2]bool) [2]bool { return [2]bool{a[0] || b[0], a[1] || b[1]} }

// room is where a row's words stand: from a column up to another.
func (p pen) room(r row) (from, to int) {
	on := both(r.up, r.down)
	from, to = lane0+3, p.at(minusLane)-2
	if r.lane == plusLane && !on[minusLane] {
		to = p.width - 2
	}
	if r.lane == minusLane && !on[plusLane] {
		from = 2
	}
	return from, to
}

// toBars draws the lines from the bars to the lanes, and a title between them.
func (p pen) toBars(l line, r row) {
	left, right := p.at(plusLane), p.at(minusLane)
	if r.bars[plusLane] {
		l.put(0, p.g.barRight)
		l.fill(1, left, p.g.h)
		l.put(left, pick(r.kind == titleRow, p.g.downLeft, p.g.upLeft))
	}
	if r.bars[minusLane] {
		l.put(p.width-1, p.g.barLeft)
		l.fill(right+1, p.width-1, p.g.h)
		l.put(right, pick(r.kind == titleRow, p.g.downRight, p.g.upRight))
	}
	from, to := lane0+3, p.width-2
	if r.bars[minusLane] {
		to = right - 2
	}
	l.put(from, clip(strings.ToUpper(r.name), to-from))
}

func pick[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

// part draws a part's sign with its name beside it.
func (p pen) part(next func([2]bool) line, r row) {
	from, to := p.room(r)
	words := wrap(strings.Join(append([]string{r.name}, r.more...), ", "), to-from)
	if p.oneLine {
		words = []string{clip(strings.Join(append([]string{r.name}, r.more...), ", "), to-from)}
	}
	for i, w := range words {
		on := r.down
		if i == 0 {
			on = both(r.up, r.down)
		}
		l := next(on)
		if i == 0 {
			sign := p.g.sign(r.sym)
			l.put(p.at(r.lane)-columns(sign)/2, sign)
		}
		p.words(l, r.lane, w, from, to)
	}
	for _, t := range r.tags {
		p.tag(next, r, t)
	}
}

func (p pen) words(l line, x lane, w string, from, to int) {
	if x == plusLane {
		l.put(from, w)
		return
	}
	l.put(to-columns(w), w)
}

// tag draws a mark in its lane: its tag, and what was read beside it.
func (p pen) tag(next func([2]bool) line, r row, t tag) {
	open, shut := "(", ")"
	if p.probes(t) {
		open, shut = "[", "]"
	}
	sign := open + t.text + shut
	from, to := p.room(r)
	if r.lane == plusLane {
		from = max(from, lane0+columns(sign)/2+2)
	} else {
		to = min(to, p.at(minusLane)-columns(sign)/2-1)
	}
	var words []string
	switch {
	case p.probes(t):
		words = []string{"probe"}
	case t.full:
		head, label := p.marks[t.mark].says()
		words = wrap(head, to-from)
		if label != "" {
			words = append(words, wrap(label, to-from)...)
		}
	default:
		words = []string{""}
	}
	for i, w := range words {
		l := next(pick(r.kind == partRow, r.down, both(r.up, r.down)))
		if i == 0 {
			l.put(p.at(r.lane)-columns(sign)/2, sign)
		}
		p.words(l, r.lane, w, from, to)
	}
}

// probes says whether a tag stands for a probe that is to be set, and not for
// something that was read.
func (p pen) probes(t tag) bool { return t.mark >= len(p.marks) }

// units draws batteries or panels in a row from lane to lane.
func (p pen) units(l line, r row) {
	left, right := p.at(plusLane), p.at(minusLane)
	l.fill(left, right+1, p.g.h)
	l.put(left, corner(r.up[plusLane], r.down[plusLane], p.g.upRight, p.g.downRight, p.g.allRight, p.g.h))
	l.put(right, corner(r.up[minusLane], r.down[minusLane], p.g.upLeft, p.g.downLeft, p.g.allLeft, p.g.h))
	room := right - left - 1
	words := p.unitSigns(r.units, room)
	x := left + 1 + max(0, (room-columns(words)+1)/2)
	l.put(x, clip(words, room))
}

// unitSigns are the units of a row as signs with their names, as long as there is
// room for: the names, the numbers, the numbers close together, or the first and
// the last.
func (p pen) unitSigns(units []string, room int) string {
	digits := make([]string, len(units))
	for i, u := range units {
		digits[i] = u[strings.LastIndexByte(u, ' ')+1:]
	}
	signs := func(names []string, pad, dots string) string {
		var out []string
		for i, n := range names {
			if i > 0 && dots != "" {
				out = append(out, dots)
			}
			out = append(out, p.g.unitLeft+"+"+pad+n+pad+"-"+p.g.unitRight)
		}
		return strings.Join(out, p.g.h)
	}
	for _, s := range []string{signs(units, " ", ""), signs(digits, " ", ""), signs(digits, "", "")} {
		if columns(s) <= room-2 {
			return s
		}
	}
	return signs([]string{digits[0], digits[len(digits)-1]}, "", "..")
}

// corner is the sign where a line across meets a lane.
func corner(up, down bool, goesUp, goesDown, goesBoth, neither string) string {
	switch {
	case up && down:
		return goesBoth
	case up:
		return goesUp
	case down:
		return goesDown
	}
	return neither
}

// box draws what gives or takes current, its terminals in its frame.
func (p pen) box(next func([2]bool) line, r row) {
	left, right := lane0-2, p.at(minusLane)+2
	border := func(l line, a, b string, plus, minus string) {
		l.fill(left, right+1, p.g.h)
		l.put(left, a)
		l.put(right, b)
		if plus != "" {
			l.put(p.at(plusLane)-1, "(+)")
		}
		if minus != "" {
			l.put(p.at(minusLane)-1, "(-)")
		}
	}
	border(next([2]bool{}), p.g.boxUpLeft, p.g.boxUpRight, r.ends[0], r.ends[1])
	room := right - left - 4
	for _, s := range append([]string{r.name}, r.more...) {
		for _, w := range wrap(s, room) {
			l := next([2]bool{})
			l.put(left, p.g.v)
			l.put(right, p.g.v)
			l.centre(p.width/2, w)
			if p.oneLine {
				break
			}
		}
	}
	border(next([2]bool{}), p.g.boxDownLeft, p.g.boxDownRight, r.ends[2], r.ends[3])
}

// counted is a number of things in words: "one part", "7 parts".
func counted(n int, noun string) string {
	if n == 1 {
		return "one " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
