package diagram

import (
	"slices"
	"strings"
)

// spot is a row of the drawing.
type spot struct{ rung, row int }

// marked is the layout with its marks on it: only the rows that are to be drawn,
// and each mark's tags on the rows where it stands. placed says which marks have
// found their place.
func (l *Layout) marked(marks []Mark) (rungs []rung, placed []bool) {
	var need []string
	type pair struct{ from, to string }
	at := make([]pair, len(marks))
	for i, m := range marks {
		if m.From == "" && m.To == "" {
			continue
		}
		at[i].from, at[i].to = l.ends(m.From, m.To, m.At)
		need = append(need, at[i].from, at[i].to)
	}
	full := l.with(need)
	rungs = full.copied()
	placed = make([]bool, len(marks))
	for i, m := range marks {
		if m.From == "" && m.To == "" {
			if s, ok := rowOf(rungs, m.At); ok {
				put(rungs, s, tag{number(i), 0, i, true})
				placed[i] = true
			}
			continue
		}
		from, to, ok := nearestPair(spots(rungs, at[i].from), spots(rungs, at[i].to))
		if ok {
			put(rungs, from, tag{number(i) + "+", 1, i, true})
			put(rungs, to, tag{number(i) + "-", -1, i, false})
			placed[i] = true
		}
	}
	for i := range rungs {
		rungs[i].rows = shown(rungs[i].rows)
	}
	return rungs, placed
}

// copied are the rungs with rows of their own, which can be marked.
func (l *Layout) copied() []rung {
	out := slices.Clone(l.rungs)
	for i := range out {
		out[i].rows = slices.Clone(out[i].rows)
	}
	return out
}

func put(rungs []rung, s spot, t tag) {
	r := &rungs[s.rung].rows[s.row]
	r.tags = append(slices.Clip(r.tags), t)
}

// shown are the rows that are to be drawn: points where they are marked, and what
// shows beside marks only.
func shown(rows []row) []row {
	tagged := map[string]bool{}
	for _, r := range rows {
		if r.kind == pointRow && len(r.tags) > 0 {
			tagged[r.point] = true
		}
	}
	for i, r := range rows {
		rows[i] = r.bare(func(p string) bool { return tagged[p] })
	}
	return slices.DeleteFunc(rows, func(r row) bool {
		return r.kind == pointRow && len(r.tags) == 0 || r.with != "" && !tagged[r.with]
	})
}

// bare is a fuse without its holder, once somebody measures at its own metal: the
// contacts of the holder stand beside it then.
func (r row) bare(marked func(point string) bool) row {
	if r.sym == symFuse && r.id != "" && (marked(r.a) || marked(r.b)) {
		r.name, r.said = strings.Replace(r.name, "fuse holder", "fuse", 1), strings.Replace(r.said, "fuse holder", "fuse", 1)
	}
	return r
}

// spots are the rows of a point: a bar is one in each rung.
func spots(rungs []rung, point string) []spot {
	var out []spot
	for i, g := range rungs {
		for j, r := range g.rows {
			if r.kind == pointRow && r.point == point {
				out = append(out, spot{i, j})
			}
		}
	}
	return out
}

// rowOf is the row of a part.
func rowOf(rungs []rung, id string) (spot, bool) {
	for i, g := range rungs {
		for j, r := range g.rows {
			if id != "" && r.id == id {
				return spot{i, j}, true
			}
		}
	}
	return spot{}, false
}

// nearestPair is the pair of spots that stand closest: in the same rung if that can
// be, else in the rungs that are least far apart.
func nearestPair(a, b []spot) (from, to spot, ok bool) {
	least := 0
	for _, x := range a {
		for _, y := range b {
			d := abs(x.rung-y.rung)*1000 + abs(x.row-y.row)
			if !ok || d < least {
				from, to, least, ok = x, y, d, true
			}
		}
	}
	return from, to, ok
}

func abs(n int) int { return max(n, -n) }
