package check

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// flow walks every path from every symptom at once: it carries down the steps
// what the branches taken so far imply. Every reading is taken to have a true
// value; what a person does not know leaves the way by `unknown:` open, on which
// nothing is learned. After a failed proof nothing is taken as known either.
type flow struct {
	r     *ranges
	n     *narrower
	g     *graph.Graph
	order []string // steps, each before those it leads to
	live  map[string]bits64
	reset map[string]bool // steps at which a new sitting may begin

	taken   map[*graph.Condition]bool // branches that some path takes
	entered map[string]bool
	passed  map[string]bool // steps whose needs some path fulfils
	last    map[string]bool // steps whose last branch some path takes
	also    map[*graph.Condition]bool
	unmet   map[unmet]*point // actions of a fix whose needs a path does not fulfil
	joined  map[string]bool  // steps at which paths were taken together
	states  int              // states walked
	barred  int              // branches that a state can't take
	at      map[string][]*state
	visit   func(sys int, step string, states []*state) // sees what came to each step, if set
	points  pointer
	shown   map[graph.Branch]*point // a point at which a branch is taken
	tried   map[graph.Branch]int
}

// unmet is an action of a finding's fix.
type unmet struct{ finding, action string }

// mostStates is how many different states are carried into one step; more are
// taken together to one that holds them all.
const mostStates = 40

// state is what a path implies: the cells that differ from all that is possible.
type state struct{ cells []cell }

func (s *state) get(v int, full []cell) cell {
	if i, ok := slices.BinarySearchFunc(s.cells, v, func(c cell, v int) int { return c.v - v }); ok {
		return s.cells[i]
	}
	return full[v]
}

// with is the state with cells changed.
func (s *state) with(changed, full []cell) *state {
	n := &state{cells: slices.Clone(s.cells)}
	for _, c := range changed {
		i, ok := slices.BinarySearchFunc(n.cells, c.v, func(a cell, v int) int { return a.v - v })
		switch {
		case ok && c == full[c.v]:
			n.cells = slices.Delete(n.cells, i, i+1)
		case ok:
			n.cells[i] = c
		case c != full[c.v]:
			n.cells = slices.Insert(n.cells, i, c)
		}
	}
	return n
}

// without is the state with everything forgotten that drop names.
func (s *state) without(drop func(v int) bool) *state {
	if !slices.ContainsFunc(s.cells, func(c cell) bool { return drop(c.v) }) {
		return s
	}
	return &state{cells: slices.DeleteFunc(slices.Clone(s.cells), func(c cell) bool { return drop(c.v) })}
}

type bits64 []uint64

func (b bits64) has(i int) bool { return i/64 < len(b) && b[i/64]>>(i%64)&1 == 1 }
func (b *bits64) set(i int) {
	for len(*b) <= i/64 {
		*b = append(*b, 0)
	}
	(*b)[i/64] |= 1 << (i % 64)
}
func (b *bits64) join(o bits64) {
	for len(*b) < len(o) {
		*b = append(*b, 0)
	}
	for i, w := range o {
		(*b)[i] |= w
	}
}

func newFlow(r *ranges) *flow {
	f := &flow{r: r, g: r.g, unmet: map[unmet]*point{}, live: map[string]bits64{}, reset: map[string]bool{},
		taken: map[*graph.Condition]bool{}, entered: map[string]bool{}, passed: map[string]bool{}, last: map[string]bool{},
		also: map[*graph.Condition]bool{}, shown: map[graph.Branch]*point{}, tried: map[graph.Branch]int{}, joined: map[string]bool{}}
	f.points = pointer{r: r}
	f.sort()
	f.lives()
	f.sittings()
	return f
}

// conds are all conditions of a step.
func conds(s *graph.Step) []*graph.Condition {
	var out []*graph.Condition
	for _, b := range s.Then {
		out = append(out, b.If)
	}
	for _, a := range s.Also {
		out = append(out, a.If)
	}
	out = append(out, s.Needs, s.Until)
	return slices.DeleteFunc(out, func(c *graph.Condition) bool { return c == nil })
}

// sort lists the steps so that each stands before those it leads to. They form
// no circle, which the loader has checked.
func (f *flow) sort() {
	done := map[string]bool{}
	var visit func(id string)
	visit = func(id string) {
		if done[id] || f.g.Steps[id] == nil {
			return
		}
		done[id] = true
		for _, t := range f.g.Steps[id].Targets() {
			visit(t.Step)
		}
		f.order = append(f.order, id)
	}
	for _, id := range f.g.StepOrder {
		visit(id)
	}
	slices.Reverse(f.order)
}

// lives finds for each step the names that it or a later step turns on; what else
// a path implies need not be carried there.
func (f *flow) lives() {
	needed := map[string]bits64{}
	for _, id := range f.g.FindingOrder {
		var b bits64
		for _, l := range f.g.Findings[id].Fix {
			if a := f.g.Actions[l.Action]; a != nil && a.Needs != nil {
				for _, v := range f.r.cond(a.Needs).vars {
					b.set(v)
				}
			}
		}
		needed[id] = b
	}
	for _, id := range slices.Backward(f.order) {
		var b bits64
		s := f.g.Steps[id]
		for _, c := range conds(s) {
			for _, v := range f.r.cond(c).vars {
				b.set(v)
			}
			if x := f.r.free(c); x != nil {
				for _, v := range x.vars {
					b.set(v)
				}
			}
		}
		for _, t := range s.Targets() {
			b.join(f.live[t.Step])
			b.join(needed[t.Finding])
		}
		f.live[id] = b
	}
}

// sittings finds the steps that ask for the rig to stand otherwise than a step
// before them, so that what holds only together is open again.
func (f *flow) sittings() {
	before := map[string]map[string]bool{}
	for _, id := range f.order {
		s := f.g.Steps[id]
		own := map[string]bool{}
		for _, a := range s.Ask {
			for _, st := range f.g.Readings[a].State {
				own[st] = true
			}
		}
		all := before[id]
		if all == nil {
			all = map[string]bool{}
		}
		for st := range own {
			for other := range all {
				f.reset[id] = f.reset[id] || f.excludes(st, other)
			}
			for other := range own {
				f.reset[id] = f.reset[id] || f.excludes(st, other)
			}
		}
		for _, t := range s.Targets() {
			if t.Step == "" {
				continue
			}
			if before[t.Step] == nil {
				before[t.Step] = map[string]bool{}
			}
			for st := range own {
				before[t.Step][st] = true
			}
			for st := range all {
				before[t.Step][st] = true
			}
		}
	}
}

func (f *flow) excludes(a, b string) bool {
	x, y := f.g.States[a], f.g.States[b]
	return x != nil && slices.Contains(x.Excludes, b) || y != nil && slices.Contains(y.Excludes, a)
}

// roots are the steps at which a walk can begin with nothing implied.
func (f *flow) roots() []string {
	out := []string{f.g.DangerStep}
	for _, id := range f.g.SymptomOrder {
		out = append(out, f.g.Symptoms[id].Start)
	}
	for _, id := range f.g.FindingOrder {
		for _, t := range f.g.Findings[id].Onward() {
			if t.Step != "" {
				out = append(out, t.Step)
			}
		}
	}
	return out
}

// run walks the paths of all systems.
func (f *flow) run() {
	for sys := range f.r.systems {
		f.n = newNarrower(f.r)
		f.at = map[string][]*state{}
		for _, id := range f.roots() {
			f.arrive(sys, graph.Target{Step: id}, &state{})
		}
		for _, id := range f.order {
			for _, s := range f.at[id] {
				f.states++
				f.step(sys, f.g.Steps[id], s)
			}
			if f.visit != nil {
				f.visit(sys, id, f.at[id])
			}
			delete(f.at, id)
		}
	}
}

// arrive adds a state to those that come to a step.
func (f *flow) arrive(sys int, t graph.Target, s *state) {
	if t.Finding != "" {
		f.found(sys, f.g.Findings[t.Finding], s)
	}
	if t.Step == "" || f.g.Steps[t.Step] == nil {
		return
	}
	live := f.live[t.Step]
	s = s.without(func(v int) bool { return !live.has(v) })
	have := f.at[t.Step]
	for _, o := range have {
		if slices.Equal(o.cells, s.cells) {
			return
		}
	}
	if len(have) >= mostStates {
		f.joined[t.Step] = true
		have = []*state{f.together(sys, append(have, s))}
		f.at[t.Step] = have
		return
	}
	f.at[t.Step] = append(have, s)
}

// found looks whether the needs of the actions in a finding's fix can be unmet.
func (f *flow) found(sys int, x *graph.Finding, s *state) {
	for _, l := range x.Fix {
		a := f.g.Actions[l.Action]
		if a == nil || a.Needs == nil || f.unmet[unmet{x.ID, a.ID}] != nil {
			continue
		}
		if no := f.narrow(sys, a.Needs, false, s); no != nil {
			p := f.points.find(sys, no, []wish{{f.r.cond(a.Needs), false}})
			if p == nil {
				p = &point{sys: sys}
			}
			f.unmet[unmet{x.ID, a.ID}] = p
		}
	}
}

// together is the state that holds all of several.
func (f *flow) together(sys int, all []*state) *state {
	full := f.r.full[sys]
	out := &state{}
	for _, c := range all[0].cells {
		for _, o := range all[1:] {
			d := o.get(c.v, full)
			c.lo, c.hi, c.words = min(c.lo, d.lo), max(c.hi, d.hi), c.words|d.words
		}
		if c != full[c.v] {
			out.cells = append(out.cells, c)
		}
	}
	return out
}

// narrow is the state in which the condition is want, nil if that can't be.
func (f *flow) narrow(sys int, c *graph.Condition, want bool, s *state) *state {
	if s = f.narrowForm(sys, f.r.cond(c), want, s); s == nil {
		return nil
	}
	if x := f.r.free(c); x != nil {
		return f.narrowForm(sys, x, want, s)
	}
	return s
}

func (f *flow) narrowForm(sys int, x *form, want bool, s *state) *state {
	full := f.r.full[sys]
	cells := make([]cell, len(x.vars))
	for i, v := range x.vars {
		cells[i] = s.get(v, full)
	}
	left, ok := f.n.narrow(x, want, cells)
	if !ok {
		return nil
	}
	return s.with(left, full)
}

// forget is the state without what a name that drop names goes into, by itself or
// in a worked value.
func (f *flow) forget(s *state, drop func(ref formula.Ref, r *reading.Reading) bool) *state {
	return s.without(func(v int) bool {
		ref := f.r.refs[v]
		if r := f.g.Readings[ref.Name]; r != nil {
			return drop(ref, r)
		}
		val, ok := f.g.Scope.ValueOf(ref.Name)
		return ok && slices.ContainsFunc(val.Refs(), func(in formula.Ref) bool {
			r := f.g.Readings[in.Name]
			return r != nil && drop(in, r)
		})
	})
}

// enter is what is left of a state as a step is entered, before its questions.
func (f *flow) enter(st *graph.Step, s *state) *state {
	touched := []string{}
	if a := f.g.Actions[st.Do]; a != nil {
		touched = a.Touches
	}
	return f.forget(s, func(ref formula.Ref, r *reading.Reading) bool {
		switch {
		case ref.Form != formula.Here, f.reset[st.ID] && r.Holds == reading.Together, (st.Each != "" || st.Which != "") && placed(r):
			return true
		case st.Do == "" || r.Holds == reading.ForGood:
			return false
		}
		return r.Holds == reading.Together || slices.Contains(st.Ask, r.ID) ||
			slices.Contains(touched, r.At) || r.Over != "" && slices.Contains(touched, r.Over)
	})
}

// placed says that a reading belongs to the place at hand.
func placed(r *reading.Reading) bool {
	return r.Over != "" || len(r.Rig) > 6 && r.Rig[:6] == "place."
}

// step takes one state through one step.
func (f *flow) step(sys int, st *graph.Step, s *state) {
	f.entered[st.ID] = true
	if st.Unknown != nil {
		f.arrive(sys, *st.Unknown, f.enter(st, s))
	}
	s = f.enter(st, s)
	if st.Needs != nil {
		if s = f.narrow(sys, st.Needs, true, s); s == nil {
			return
		}
	}
	f.passed[st.ID] = true
	for _, a := range st.Also {
		if a.If == nil || f.narrow(sys, a.If, true, s) != nil {
			f.also[a.If] = true
		}
	}
	for i, b := range st.Then {
		if b.If == nil {
			f.last[st.ID] = true
			f.show(sys, st, i, s)
			if st.Each != "" {
				s = f.forget(s, func(_ formula.Ref, r *reading.Reading) bool { return placed(r) })
			}
			f.arrive(sys, b.To, s)
			return
		}
		if yes := f.narrow(sys, b.If, true, s); yes != nil {
			f.taken[b.If] = true
			f.show(sys, st, i, yes)
			f.arrive(sys, b.To, yes)
		} else {
			f.barred++
		}
		if s = f.narrow(sys, b.If, false, s); s == nil {
			return
		}
	}
}
