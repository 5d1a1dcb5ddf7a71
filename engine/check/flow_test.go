package check

import (
	"slices"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// rigs is how many rigs with readings thrown are walked on each system.
const rigs = 4000

// A rig whose readings are thrown is walked by a table of the conditions alone:
// at every step it comes to, what the paths imply must hold its values, and the
// branch that it takes must be one that some path takes. So nothing that can be
// is ever called impossible.
func TestNothingPossibleIsRuledOut(t *testing.T) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	for _, p := range problems {
		if p.Severity == shape.Error {
			t.Fatal(shape.Render(p))
		}
	}
	r := newRanges(g)
	f := newFlow(r)
	came := make([]map[string][]*state, len(r.systems))
	for i := range came {
		came[i] = map[string][]*state{}
	}
	f.visit = func(sys int, step string, states []*state) { came[sys][step] = states }
	f.run()
	steps := 0
	for sys := range r.systems {
		p := pointer{r: r, seed: uint64(sys)}
		for k := range rigs {
			rig := map[int]cell{}
			id := g.Symptoms[g.SymptomOrder[k%len(g.SymptomOrder)]].Start
			for id != "" {
				steps++
				if !holds(r, sys, came[sys][id], rig) {
					t.Fatalf("on %g V, %s is reached with values that the paths rule out: %s", r.systems[sys], id, r.say(pointOf(sys, rig)))
				}
				id = next(t, f, &p, sys, g.Steps[id], rig)
			}
		}
	}
	t.Logf("%d steps walked", steps)
	if steps < 3*rigs {
		t.Errorf("only %d steps were walked", steps)
	}
}

func pointOf(sys int, rig map[int]cell) *point {
	p := &point{sys: sys}
	for _, c := range rig {
		p.cells = append(p.cells, c)
	}
	return p
}

// at is the value of a name on a rig; one that was not looked at before is thrown.
func (p *pointer) at(sys, v int, rig map[int]cell) cell {
	c, ok := rig[v]
	if !ok {
		c = p.pick(p.r.full[sys][v], patternPoints, v)
		rig[v] = c
	}
	return c
}

// holds says that one of the states has all values of the rig that were looked at.
func holds(r *ranges, sys int, states []*state, rig map[int]cell) bool {
	for _, s := range states {
		all := true
		for _, c := range s.cells {
			x, ok := rig[c.v]
			if val, worked := r.g.Scope.ValueOf(r.refs[c.v].Name); worked {
				x, ok = worth(r, sys, c.v, val, rig)
			}
			const hair = 1e-9 // worked values are the same up to rounding
			switch {
			case !ok:
			case r.types[c.v].Class == formula.ClassNumber:
				slack := hair * max(1, x.hi, -x.lo)
				all = all && c.lo-slack <= x.lo && x.hi <= c.hi+slack
			default:
				all = all && c.words&x.words == x.words
			}
		}
		if all {
			return true
		}
	}
	return false
}

// worth is a worked value on a rig, if all that it needs was looked at.
func worth(r *ranges, sys, v int, val *formula.Formula, rig map[int]cell) (cell, bool) {
	x := r.form(val, nil)
	vals := make([]formula.Val, len(x.vars))
	for i, in := range x.vars {
		c, ok := rig[in]
		if !ok {
			return cell{}, false
		}
		vals[i] = r.val(c, false)
	}
	out, err := val.Eval(vals)
	if err != nil {
		return cell{}, false
	}
	return cell{v: v, lo: out.Lo, hi: out.Hi}, true
}

// next is the step that a rig goes on to, "" at an end. What the step does or
// asks for anew is thrown again.
func next(t *testing.T, f *flow, p *pointer, sys int, st *graph.Step, rig map[int]cell) string {
	t.Helper()
	all := &state{}
	for _, c := range rig {
		all.cells = append(all.cells, c)
	}
	slices.SortFunc(all.cells, func(a, b cell) int { return a.v - b.v })
	clear(rig)
	for _, c := range f.enter(st, all).cells {
		rig[c.v] = c
	}
	answer := func(x *form) (yes, no bool) {
		cells := make([]cell, len(x.vars))
		for i, v := range x.vars {
			cells[i] = p.at(sys, v, rig)
		}
		return f.r.can(x, cells, 0)
	}
	if st.Needs != nil {
		if yes, no := answer(f.r.cond(st.Needs)); !yes || no {
			return ""
		}
	}
	for _, b := range st.Then {
		if b.If == nil {
			if !f.last[st.ID] {
				t.Fatalf("%s is left by its last branch, which no path takes: %s", st.ID, f.r.say(pointOf(sys, rig)))
			}
			return b.To.Step
		}
		yes, no := answer(f.r.cond(b.If))
		switch {
		case yes && no:
			return "" // outside what it holds for
		case yes:
			if !f.taken[b.If] {
				t.Fatalf("%s is left by %s, which no path takes: %s", st.ID, b.If.Text, f.r.say(pointOf(sys, rig)))
			}
			return b.To.Step
		}
	}
	return ""
}
