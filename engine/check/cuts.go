package check

import (
	"math"
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/pattern"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

// cuts reports limits that a meter can't tell apart, and limits in volts that
// should grow with the system.
func (c *checker) cuts() {
	c.names = wordCounter{c.g, map[string]map[string]int{}}
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		counts := map[string]int{}
		for _, b := range s.Then {
			if b.If != nil {
				for name, n := range c.names.of(b.If.Text) {
					counts[name] += n
				}
			}
		}
		for _, name := range sortedKeys(counts) {
			r := c.g.Readings[name]
			if r == nil || r.Answer != reading.Number || !r.Possible.Set {
				continue
			}
			if counts[name] > 1 {
				c.closeCuts(s, r)
			}
		}
		for _, x := range conds(s) {
			c.scaling(x)
		}
	}
	for _, id := range c.g.FindingOrder {
		if p := c.g.Findings[id].Prove; p != nil {
			c.scaling(p.If)
		}
	}
}

// scaling looks at a condition for each number that it is about.
func (c *checker) scaling(x *graph.Condition) {
	for _, name := range sortedKeys(c.names.of(x.Text)) {
		if r := c.g.Readings[name]; r != nil && r.Answer == reading.Number && r.Possible.Set {
			c.unscaled(x, r)
		}
	}
}

// wordCounter counts how often names stand in a text, its worked values put in.
type wordCounter struct {
	g    *graph.Graph
	seen map[string]map[string]int
}

var nameOrWord = pattern.Of(`'[^']*'|"[^"]*"|[a-z_][a-z0-9_]*`)

func (w wordCounter) of(text string) map[string]int {
	if m, ok := w.seen[text]; ok {
		return m
	}
	m := map[string]int{}
	for _, name := range nameOrWord.FindAllString(text, -1) {
		if v := w.g.Values[name]; v != nil {
			for k, n := range w.of(v.Text) {
				m[k] += n
			}
			continue
		}
		m[name]++
	}
	w.seen[text] = m
	return m
}

// stretch is a part of a reading's range in which a step takes one branch.
type stretch struct {
	lo, hi float64
	branch int
}

// settings are samples of what the other names of a step's conditions can be.
const settings = 4

// closeCuts reports a branch that is taken in a stretch which is narrower than
// two errors of the meter that the reading is taken with.
func (c *checker) closeCuts(s *graph.Step, r *reading.Reading) {
	m, ok := meterClass(c.g, r)
	if !ok {
		return
	}
	sys := 0
	v, ok := c.ranges.index[formula.Ref{Name: r.ID}]
	if !ok {
		return
	}
	p := pointer{r: c.ranges}
	for k := range settings {
		at := map[int]cell{}
		for _, b := range s.Then {
			if b.If == nil {
				continue
			}
			for i, o := range c.ranges.cond(b.If).vars {
				if _, have := at[o]; !have {
					at[o] = p.pick(c.ranges.full[sys][o], k, i+len(at))
				}
			}
		}
		whole := c.ranges.full[sys][v]
		gain, abs := m.Error(r.Kind, 0, 0)
		least := max(abs+gain*math.Abs(whole.lo), (whole.hi-whole.lo)*1e-7) / 8
		var all []stretch
		c.left = mostSplits
		c.split(s, v, at, whole.lo, whole.hi, least, &all)
		for i := 1; i+1 < len(all); i++ {
			x := all[i]
			if x.branch < 0 || all[i-1].branch < 0 || all[i+1].branch < 0 {
				continue
			}
			gain, abs := m.Error(r.Kind, x.lo, 0)
			err := abs + gain*math.Abs(x.lo)
			if x.hi-x.lo >= 2*err {
				continue
			}
			unit := r.Kind.Unit.String()
			code := s.Then[x.branch]
			c.warn("close-cuts", code.At, "move the limits apart, or ask for a reading that shows the difference",
				"%s takes branch %d only from %s = %s %s to %s %s, and %s may be off by %s %s there", s.ID, x.branch+1,
				r.ID, plain(x.lo), unit, plain(x.hi), unit, m.Name, plain(err), unit)
			return
		}
	}
}

// mostSplits bounds the pieces of one range, for conditions without an answer.
const mostSplits = 500

// split cuts a range where the branch taken changes; between cuts it is certain.
func (c *checker) split(s *graph.Step, v int, at map[int]cell, lo, hi, least float64, out *[]stretch) {
	if c.left--; c.left < 0 {
		return
	}
	x := c.ranges.full[0][v]
	x.lo, x.hi = lo, hi
	at[v] = x
	branch, certain := len(s.Then)-1, true
	for i, b := range s.Then {
		if b.If == nil {
			break
		}
		f := c.ranges.cond(b.If)
		cells := make([]cell, len(f.vars))
		for j, o := range f.vars {
			cells[j] = at[o]
		}
		yes, no := c.ranges.can(f, cells, 0)
		if yes && no {
			certain = false
			break
		}
		if yes {
			branch = i
			break
		}
	}
	switch mid := lo + (hi-lo)/2; {
	case certain:
		c.add(out, stretch{lo, hi, branch})
	case hi-lo > least && mid > lo && mid < hi:
		c.split(s, v, at, lo, mid, least, out)
		c.split(s, v, at, mid, hi, least, out)
	default: // a cut lies in here
		if n := len(*out); n > 0 {
			(*out)[n-1].hi = mid
		}
	}
}

func (c *checker) add(out *[]stretch, x stretch) {
	n := len(*out)
	if n > 0 && (*out)[n-1].branch == x.branch {
		(*out)[n-1].hi = x.hi
		return
	}
	*out = append(*out, x)
}

// meterClass is the meter that a reading is taken with, if it is one.
func meterClass(g *graph.Graph, r *reading.Reading) (quantity.Meter, bool) {
	m := g.Meters[r.Meter]
	if m == nil || m.Class == "none" || r.Class == reading.Fact {
		return quantity.Meter{}, false
	}
	return quantity.MeterByID(m.Class)
}

// smallVolts is up to where a limit in volts may be the same on every system:
// what a joint, a fuse or a sign may have does not grow with the battery.
const smallVolts = 1.5

// unscaled reports a limit in plain volts of a reading that grows with the system.
func (c *checker) unscaled(x *graph.Condition, r *reading.Reading) {
	if !r.Scales || !r.Kind.Unit.Same(quantity.MustUnit("V")) || len(c.ranges.systems) < 2 {
		return
	}
	for _, ref := range x.F.Refs() {
		o := c.g.Readings[ref.Name]
		if ref != (formula.Ref{Name: r.ID}) && o != nil && o.Answer == reading.Number {
			return // it is held against another reading, which may grow too
		}
	}
	f := c.ranges.cond(x)
	i := slices.Index(f.vars, c.ranges.index[formula.Ref{Name: r.ID}])
	if i < 0 || f.f.Refs()[i].Form != formula.Here {
		return
	}
	p := pointer{r: c.ranges}
	for k := range settings {
		cells := make([]cell, len(f.vars))
		for j, v := range f.vars {
			cells[j] = p.pick(c.ranges.full[len(volts)-1][v], k, j)
		}
		full := c.ranges.full[len(volts)-1][f.vars[i]]
		can := func(lo, hi float64) (bool, bool) {
			cells[i].lo, cells[i].hi = lo, hi
			return c.ranges.can(f, cells, 0)
		}
		if cut, ok := firstCut(full.lo, -smallVolts, can); ok {
			c.volts(x, r, cut)
			return
		}
		if cut, ok := firstCut(smallVolts, full.hi, can); ok {
			c.volts(x, r, cut)
			return
		}
	}
}

func (c *checker) volts(x *graph.Condition, r *reading.Reading, cut float64) {
	c.warnCond("volts-not-scaled", x, "write the limit for 12 V times "+c.g.SystemVolts+" / 12, or hold it against a reading that grows too",
		"%s grows with the system, and %s V is the same limit on 12, 24 and 48 V", r.ID, plain(cut))
}

// firstCut is where an answer changes between lo and hi.
func firstCut(lo, hi float64, can func(lo, hi float64) (yes, no bool)) (float64, bool) {
	if lo >= hi {
		return 0, false
	}
	if yes, no := can(lo, hi); yes != no {
		return 0, false
	}
	y, n := can(lo, lo)
	if y == n {
		return 0, false
	}
	for range 60 {
		m := lo + (hi-lo)/2
		if m <= lo || m >= hi {
			break
		}
		if a, b := can(lo, m); a == y && b == n {
			lo = m
		} else {
			hi = m
		}
	}
	if a, b := can(hi, hi); a == b || a == y {
		return 0, false
	}
	return lo, true
}
