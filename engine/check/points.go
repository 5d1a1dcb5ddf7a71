package check

import (
	"math"
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
)

// point is one value for each of some names.
type point struct {
	sys   int
	cells []cell
}

// pointer looks for points: limits prove that something can't be, and a point
// shows that it can.
type pointer struct {
	r      *ranges
	seed   uint64
	thrown bool // no points are laid, all are thrown
}

// wish is a condition and what it is to come to.
type wish struct {
	x    *form
	want bool
}

const (
	mostPoints    = 250 // tried for one branch in one state
	mostTries     = 3   // states in which a branch is tried
	patternPoints = 20  // the first points are laid, the others thrown
)

// random is the next number from 0 to 1 of a row that is the same on every run.
func (p *pointer) random() float64 {
	p.seed = p.seed*6364136223846793005 + 1442695040888963407
	return float64(p.seed>>11) / (1 << 53)
}

// find looks for a point of the state at which all wishes come true, nil if none
// was found.
func (p *pointer) find(sys int, s *state, wishes []wish) *point {
	var vars []int
	for _, w := range wishes {
		for _, v := range w.x.vars {
			if !slices.Contains(vars, v) {
				vars = append(vars, v)
			}
		}
	}
	full := p.r.full[sys]
	box := make([]cell, len(vars))
	at := map[int]int{}
	for i, v := range vars {
		box[i] = s.get(v, full)
		at[v] = i
	}
	try := make([]cell, len(vars))
	first := 0
	if p.thrown {
		first = patternPoints
	}
	for k := first; k < mostPoints; k++ {
		for i, c := range box {
			try[i] = p.pick(c, k, i)
		}
		if slices.ContainsFunc(wishes, func(w wish) bool { return !p.holds(w, try, at) }) {
			continue
		}
		return &point{sys, slices.Clone(try)}
	}
	return nil
}

// holds says that a wish certainly comes true at a point, all of it known.
func (p *pointer) holds(w wish, try []cell, at map[int]int) bool {
	cells := make([]cell, len(w.x.vars))
	for i, v := range w.x.vars {
		cells[i] = try[at[v]]
	}
	yes, no := p.r.can(w.x, cells, 0)
	return yes != no && yes == w.want
}

// pick is a point of a cell: for the first k at its ends and in its middle, later
// anywhere, more often near the ends.
func (p *pointer) pick(c cell, k, i int) cell {
	if p.r.types[c.v].Class != formula.ClassNumber {
		o := options(c.words)
		n := k + i
		if k >= patternPoints {
			n = int(p.random() * float64(len(o)))
		}
		c.words = 1 << uint(o[n%len(o)])
		return c
	}
	lo, hi := c.lo, c.hi
	if math.IsInf(lo, 0) {
		lo = min(-1000, hi-1000)
	}
	if math.IsInf(hi, 0) {
		hi = max(1000, lo+1000)
	}
	var x float64
	share := [...]float64{0.5, 1, 0, 0.1, 0.9, 0.02, 0.3, 0.7, 0.001, 0.99}
	switch {
	case k < 2*len(share) && k < patternPoints:
		j := k
		if k >= len(share) { // each name another
			j = k + 3*i
		}
		x = lo + share[j%len(share)]*(hi-lo)
	default:
		u := p.random()
		switch r := p.random(); {
		case r < 0.3:
			u = math.Pow(u, 6)
		case r < 0.5:
			u = 1 - math.Pow(u, 6)
		}
		x = lo + u*(hi-lo)
		if r := p.random(); r < 0.5 { // figures as people type them, if they fit
			if y := rounded(x); lo <= y && y <= hi {
				x = y
			}
		}
	}
	c.lo, c.hi = x, x
	return c
}

func rounded(x float64) float64 {
	if x == 0 {
		return 0
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-1)
	return math.Round(x/unit) * unit
}

// show looks for a point at which branch i of a step is taken in a state.
func (f *flow) show(sys int, st *graph.Step, i int, s *state) {
	b := st.Then[i]
	if f.shown[b] != nil || f.tried[b] >= mostTries {
		return
	}
	f.tried[b]++
	if p := f.points.find(sys, s, f.wishes(st, i)); p != nil {
		f.shown[b] = p
	}
}

// wishes are what must hold for branch i of a step to be taken.
func (f *flow) wishes(st *graph.Step, i int) []wish {
	var out []wish
	if st.Needs != nil {
		out = append(out, wish{f.r.cond(st.Needs), true})
	}
	for j, b := range st.Then[:i+1] {
		if b.If != nil {
			out = append(out, wish{f.r.cond(b.If), j == i})
		}
	}
	return out
}

// say puts a point into words: "holder_drop_v = 0.05 V, load_a = 0 A".
func (r *ranges) say(p *point) string {
	var parts []string
	for _, c := range p.cells {
		parts = append(parts, r.refs[c.v].String()+" = "+r.sayCell(c))
	}
	if len(r.systems) > 1 && p.sys > 0 && !slices.ContainsFunc(p.cells, func(c cell) bool { return r.refs[c.v].Name == r.g.SystemVolts }) {
		parts = append(parts, r.g.SystemVolts+" = "+plain(r.systems[p.sys])+" V")
	}
	return strings.Join(parts, ", ")
}

// sayCell is the value of a name at a point.
func (r *ranges) sayCell(c cell) string {
	t := r.types[c.v]
	switch t.Class {
	case formula.ClassYesNo:
		return map[uint64]string{1: "no", 2: "yes", 3: "yes or no"}[c.words]
	case formula.ClassChoice:
		var words []string
		for _, o := range options(c.words) {
			words = append(words, t.Options[o])
		}
		return strings.Join(words, " or ")
	}
	unit := ""
	if !t.Unit.Plain() {
		unit = " " + t.Unit.String()
	}
	if c.lo == c.hi {
		return plain(c.lo) + unit
	}
	return plain(c.lo) + " to " + plain(c.hi) + unit
}
