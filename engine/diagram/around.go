package diagram

import (
	"slices"
	"strings"

	"hotlug/engine/rig"
)

// mostAround is how many lines the part of a drawing around two probes has at
// most: more would push the question off a small screen.
const mostAround = 12

// mostWide is how wide it gets where there is more room: lanes far apart are hard
// to follow, and the same words stand on a small screen and a large one.
const mostWide = 38

// Excerpt is the part of a drawing around the two points of a reading.
type Excerpt struct {
	Lines []string
	// Spoken says in a sentence or two what the lines show, for whoever does not
	// see them.
	Spoken string
}

// Around draws the part of the rig around the points from, for the red probe, and
// to, for the black one, at a place ("" where the reading has none), in at most 12
// lines of at most width columns and never more than 38. It is false for points
// that no drawing knows.
func (l *Layout) Around(from, to, at string, width int) (Excerpt, bool) {
	width = min(max(width, leastText), mostWide)
	full, red, black, ok := l.find(from, to, at)
	if !ok {
		return Excerpt{}, false
	}
	spoken := full.spoken(red, black)
	rungs := full.copied()
	put(rungs, red, tag{"red", 1, 0, true})
	put(rungs, black, tag{"black", -1, 0, true})
	near := []rung{rungs[red.rung]}
	if black.rung != red.rung {
		near = []rung{rungs[min(red.rung, black.rung)], rungs[max(red.rung, black.rung)]}
	}
	for i := range near {
		near[i].rows = shown(near[i].rows)
	}
	p := l.pen(nil, width)
	lines := p.excerpt(near)
	if len(lines) > mostAround {
		p.oneLine = true
		lines = p.excerpt(near)
	}
	return Excerpt{lines, spoken}, true
}

// find is where two points stand, on the layout with what has to be drawn for them.
func (l *Layout) find(from, to, at string) (full *Layout, red, black spot, ok bool) {
	a, b := l.ends(from, to, at)
	full = l.with([]string{a, b})
	red, black, ok = nearestPair(spots(full.rungs, a), spots(full.rungs, b))
	return full, red, black, ok
}

// strip is all rows of a drawing below each other, with the lines of each.
type strip struct {
	row   row
	free  bool
	first bool // of its rung
	lines []string
}

// excerpt draws the rows around the tags, with a line of dots for what is left out
// between them.
func (p pen) excerpt(rungs []rung) []string {
	var all []strip
	for _, g := range rungs {
		for i, r := range g.rows {
			all = append(all, strip{r, g.free, i == 0, p.row(r, g.free)})
		}
	}
	keep := make([]bool, len(all))
	var order []int // rows in the order in which they are wished for
	for i, s := range all {
		if len(s.row.tags) > 0 {
			keep[i] = true
			order = append(order, i)
		}
	}
	tags := len(order)
	for _, i := range order[:tags] { // what is above and below in the same lane
		order = append(order, beyond(all, i, -1), beyond(all, i, 1))
	}
	for _, i := range order[:tags] { // the title of the rung
		for i > 0 && !all[i].first {
			i--
		}
		order = append(order, i)
	}
	for d := 1; d < mostAround; d++ {
		for _, i := range order[:tags] {
			order = append(order, i-d, i+d)
		}
	}
	lines := p.kept(all, keep)
	for _, i := range order {
		if i < 0 || i >= len(all) || keep[i] {
			continue
		}
		keep[i] = true
		more := p.kept(all, keep)
		if len(more) > mostAround {
			keep[i] = false
			continue
		}
		lines = more
	}
	return lines
}

// beyond is the next row above or below a tag that its lane leads to, -1 for none.
func beyond(all []strip, i, step int) int {
	x := all[i].row.lane
	for j := i + step; j >= 0 && j < len(all); j += step {
		if r := all[j].row; r.kind != partRow && r.kind != pointRow && r.kind != noteRow || r.lane == x {
			return j
		}
		if all[j].first {
			break
		}
	}
	return -1
}

// kept draws the rows that are kept. Between two rungs stands an empty line, and
// where rows are left out one with dots.
func (p pen) kept(all []strip, keep []bool) []string {
	var out []string
	last := -1
	for i, s := range all {
		if !keep[i] {
			continue
		}
		if i > 0 && i != last+1 && (last >= 0 || !s.first) {
			out = append(out, p.dots(all[i-1], s.free || last >= 0 && all[last].free))
		} else if s.first && last >= 0 {
			out = append(out, p.dots(strip{}, s.free || all[last].free))
		}
		out = append(out, s.lines...)
		last = i
	}
	if last >= 0 && last < len(all)-1 && !all[last+1].first {
		out = append(out, p.dots(strip{row: row{down: all[last].row.down}}, all[last].free))
	}
	return out
}

// dots is a line for what is left out below a row.
func (p pen) dots(above strip, free bool) string {
	l := blank(p.width)
	if !free {
		p.spines(l)
	}
	for x := range lane(2) {
		if above.row.down[x] {
			l.put(p.at(x), p.g.more)
		}
	}
	return l.String()
}

// edge is something that current goes through between two points.
type edge struct {
	a, b  string // "" for an end that leads nowhere
	name  string // "" for what shows only beside a mark
	along bool   // it stays on one pole
}

// edges are the ways between the points of a drawing. What shows only beside a mark
// has a name only if that mark is among the points given.
func (l *Layout) edges(marked ...string) []edge {
	var out []edge
	for _, g := range l.rungs {
		for _, r := range g.rows {
			switch r.kind {
			case partRow:
				name := r.bare(func(p string) bool { return slices.Contains(marked, p) }).said
				if r.with != "" && !slices.Contains(marked, r.with) {
					name = ""
				}
				out = append(out, edge{r.a, r.b, name, true})
			case unitsRow:
				name := the(r.units[0])
				if n := len(r.units); n > 1 {
					name += " to " + r.units[n-1][strings.LastIndexByte(r.units[n-1], ' ')+1:]
				}
				out = append(out, edge{r.a, r.b, name, false})
			case boxRow:
				for i, a := range r.ends {
					for _, b := range r.ends[i+1:] {
						if a != "" && b != "" {
							out = append(out, edge{a, b, the(r.name), false})
						}
					}
				}
			}
		}
	}
	return out
}

// the is a name as it is spoken of.
func the(name string) string {
	first, _, _ := strings.Cut(name, " ")
	if slices.Contains([]string{"the", "this", "its", "one", "two", "a", "an"}, first) {
		return name
	}
	if last := name[strings.LastIndexByte(name, ' ')+1:]; last != name && strings.Trim(last, "0123456789") == "" {
		return name // "battery 2" is a name of its own
	}
	return "the " + name
}

// spoken says where two points are: between what each stands, and what lies
// between the two where that is one way only.
func (l *Layout) spoken(red, black spot) string {
	from, to := l.rungs[red.rung].rows[red.row], l.rungs[black.rung].rows[black.row]
	es := l.edges(from.point, to.point)
	r, b := l.stands(es, from.point), l.stands(es, to.point)
	say := "Red stands " + r + ", black " + b + "."
	if part, at := strings.CutPrefix(r, "at "); at && r == b {
		return "Red and black stand on either side of " + part + "."
	}
	if from.lane == to.lane {
		es = slices.DeleteFunc(es, func(e edge) bool { return !e.along })
	}
	way, ok := path(es, from.point, to.point)
	switch {
	case !ok, len(way) == 0, from.lane != to.lane && len(way) > 1:
	case len(way) <= 4:
		say += " Between the probes: " + list(way) + "."
	default:
		say += " Between the probes: " + counted(len(way), "part") + ", from " + way[0] + " to " + way[len(way)-1] + "."
	}
	return say
}

// stands says between what a point stands.
func (l *Layout) stands(es []edge, point string) string {
	for x, bar := range []string{rig.BusPos, rig.BusNeg} {
		switch {
		case point != bar:
		case l.bars:
			return "on the " + l.bar(lane(x))
		default:
			return "where the " + l.bar(lane(x))
		}
	}
	var names []string
	for _, e := range es {
		for _, far := range [][2]string{{e.a, e.b}, {e.b, e.a}} {
			if far[0] != point {
				continue
			}
			name := e.name
			for _, f := range es { // what has no name lies inside of what comes next
				if name == "" && far[1] != "" && f.name != "" && (f.a == far[1] || f.b == far[1]) {
					name = f.name
				}
			}
			if name != "" && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	switch len(names) {
	case 0:
		return "by itself, at the " + spelled(point)
	case 1:
		return "at " + names[0]
	case 2:
		return "between " + list(names)
	}
	return "where " + list(names) + " meet"
}

// path is the shortest way from one point to another, by the names along it.
func path(es []edge, from, to string) ([]string, bool) {
	type step struct {
		at   string
		back int
		name string
	}
	queue := []step{{from, -1, ""}}
	seen := map[string]bool{from: true}
	for i := 0; i < len(queue); i++ {
		if queue[i].at == to {
			var names []string
			for j := i; j >= 0; j = queue[j].back {
				if queue[j].name != "" {
					names = append(names, queue[j].name)
				}
			}
			slices.Reverse(names)
			return names, true
		}
		for _, e := range es {
			for _, x := range [][2]string{{e.a, e.b}, {e.b, e.a}} {
				if x[0] == queue[i].at && x[1] != "" && !seen[x[1]] {
					seen[x[1]] = true
					queue = append(queue, step{x[1], i, e.name})
				}
			}
		}
	}
	return nil, false
}
