package check

import (
	"maps"
	"slices"

	"hotlug/engine/graph"
)

// Path is one way from a symptom to an end, on which everything asked is known.
type Path struct {
	Steps []PathStep
	End   graph.Target
	// Volts is the system of the example.
	Volts float64
	// Shown says that the values of the steps lead this way. Without it none were
	// found, and limits alone leave the path open.
	Shown bool
}

// PathStep is one step of a path: the branch taken, and the values that take it,
// those that were not given before.
type PathStep struct {
	Step   *graph.Step
	Branch int
	Values []Value
}

// Value is what a reading is in an example: "holder_drop_v", "0.18 V".
type Value struct{ Name, Text string }

// Paths lists the ways from a symptom on which everything is known, up to most of
// them, each with an example; more says that there are others. Ways that the
// readings of earlier steps rule out are left out.
func Paths(g *graph.Graph, symptom string, most int) (paths []Path, more bool) {
	sy := g.Symptoms[symptom]
	if sy == nil {
		return nil, false
	}
	w := &pathWalk{f: newFlow(newRanges(g)), most: most}
	w.narrowers = make([]*narrower, len(w.f.r.systems))
	start := make([]*state, len(w.f.r.systems))
	for i := range start {
		w.narrowers[i] = newNarrower(w.f.r)
		w.narrowers[i].known = true
		start[i] = &state{}
	}
	w.walk(sy.Start, start)
	return w.out, w.more
}

type pathWalk struct {
	f         *flow
	narrowers []*narrower
	most      int
	out       []Path
	more      bool
	trail     []PathStep
	states    [][]*state // by step of the trail: what is implied as its branch is taken
}

// each applies do to the state of each system that is still possible, and says
// whether one is left.
func (w *pathWalk) each(all []*state, do func(sys int, s *state) *state) ([]*state, bool) {
	out := make([]*state, len(all))
	left := false
	for sys, s := range all {
		if s == nil {
			continue
		}
		w.f.n = w.narrowers[sys]
		out[sys] = do(sys, s)
		left = left || out[sys] != nil
	}
	return out, left
}

func (w *pathWalk) walk(id string, all []*state) {
	st := w.f.g.Steps[id]
	all, ok := w.each(all, func(sys int, s *state) *state {
		s = w.f.enter(st, s)
		if st.Needs != nil {
			s = w.f.narrow(sys, st.Needs, true, s)
		}
		return s
	})
	if !ok {
		return
	}
	for i, b := range st.Then {
		yes, can := all, true
		if b.If != nil {
			yes, can = w.each(all, func(sys int, s *state) *state { return w.f.narrow(sys, b.If, true, s) })
		}
		if can {
			w.take(st, i, yes)
		}
		if b.If == nil || w.more {
			return
		}
		if all, ok = w.each(all, func(sys int, s *state) *state { return w.f.narrow(sys, b.If, false, s) }); !ok {
			return
		}
	}
}

func (w *pathWalk) take(st *graph.Step, i int, all []*state) {
	w.trail = append(w.trail, PathStep{Step: st, Branch: i})
	w.states = append(w.states, all)
	defer func() {
		w.trail = w.trail[:len(w.trail)-1]
		w.states = w.states[:len(w.states)-1]
	}()
	to := st.Then[i].To
	if to.Step != "" {
		w.walk(to.Step, all)
		return
	}
	if len(w.out) >= w.most {
		w.more = true
		return
	}
	w.out = append(w.out, w.example(to))
}

// mostStarts is how often an example is begun anew.
const mostStarts = 12

// example looks for values that take the trail, step by step.
func (w *pathWalk) example(to graph.Target) Path {
	p := Path{End: to, Steps: slices.Clone(w.trail)}
	for k := range mostStarts {
		w.f.points.thrown = k > 0
		for sys := range w.f.r.systems {
			if w.states[len(w.states)-1][sys] == nil {
				continue
			}
			if steps := w.along(sys, k < mostStarts/2); steps != nil {
				p.Steps, p.Shown, p.Volts = steps, true, w.f.r.systems[sys]
				return p
			}
		}
	}
	return p
}

// along picks values for each step of the trail in turn, usual ones if they are
// wanted; what was given stays until the step that opens it again.
func (w *pathWalk) along(sys int, usual bool) []PathStep {
	r := w.f.r
	given := map[int]cell{}
	steps := slices.Clone(w.trail)
	end := w.states[len(w.states)-1][sys]
	for k := range steps {
		st := steps[k].Step
		now := &state{cells: slices.SortedFunc(maps.Values(given), func(a, b cell) int { return a.v - b.v })}
		now = w.f.enter(st, now)
		given = map[int]cell{}
		for _, c := range now.cells {
			given[c.v] = c
		}
		wishes := w.f.wishes(st, steps[k].Branch)
		from := w.states[k][sys]
		var changed []cell
		for _, x := range wishes {
			for _, v := range x.x.vars {
				c, ok := given[v]
				if !ok { // what the end of the path implies holds here too, if it fits
					c = tighter(from.get(v, r.full[sys]), end.get(v, r.full[sys]))
					if usual {
						c = tighter(c, r.usual(sys, v))
					}
				}
				changed = append(changed, c)
			}
		}
		p := w.f.points.find(sys, from.with(changed, r.full[sys]), wishes)
		if p == nil {
			return nil
		}
		for _, c := range p.cells {
			if _, ok := given[c.v]; ok {
				continue
			}
			given[c.v] = c
			steps[k].Values = append(steps[k].Values, Value{r.refs[c.v].String(), r.sayCell(c)})
		}
	}
	return steps
}

// usual is what a reading usually is.
func (r *ranges) usual(sys, v int) cell {
	c := r.full[sys][v]
	x := r.g.Readings[r.refs[v].Name]
	if x == nil || !x.Plausible.Set || c.lo == c.hi {
		return c
	}
	c.lo, c.hi = x.Plausible.Lo, x.Plausible.Hi
	if x.Scales {
		c.lo, c.hi = c.lo*r.systems[sys]/12, c.hi*r.systems[sys]/12
	}
	return c
}

// tighter is what two cells have in common, or the first if that is nothing.
func tighter(a, b cell) cell {
	c := a
	c.lo, c.hi, c.words = max(a.lo, b.lo), min(a.hi, b.hi), a.words&b.words
	if c.lo > c.hi || a.words != 0 && c.words == 0 {
		return a
	}
	return c
}
