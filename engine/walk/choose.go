package walk

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
)

// choice is what the branches of a step come to with what is known.
type choice struct {
	settled bool
	branch  int // settled: the branch taken; else the first that is open
	verdict formula.Verdict
	vals    []formula.Val
	d       formula.Decision
	cond    *graph.Condition // what decided: the branch's own condition, or that of its better reading
}

func isStop(g *graph.Graph, t graph.Target) bool {
	f := g.Findings[t.Finding]
	return f != nil && f.Stop != graph.NoStop
}

// choose evaluates the branches of a step. With asked, everything the step asks
// for has been asked, and a branch into stop-work that is not certainly false is
// taken: close and not known count as unsafe.
func (s *State) choose(g *graph.Graph, st *graph.Step, place string, asked bool) choice {
	for i, b := range st.Then {
		if b.If == nil {
			return choice{settled: true, branch: i}
		}
		cond, d, v := s.decideBranch(g, b, place)
		if !asked && s.early(g, st, b.If, place) {
			return choice{branch: i, verdict: formula.NotSettled, vals: v, d: d, cond: cond}
		}
		switch d.Verdict {
		case formula.CertainlyFalse:
			continue
		case formula.CertainlyTrue:
			return choice{settled: true, branch: i, verdict: d.Verdict, vals: v, d: d, cond: cond}
		}
		return choice{settled: asked && isStop(g, b.To), branch: i, verdict: d.Verdict, vals: v, d: d, cond: cond}
	}
	// Only a step whose last branch has a condition gets here; the loader
	// refuses those.
	return choice{branch: len(st.Then) - 1}
}

// decideBranch judges a branch by its condition, or where that is too close to
// call, by its better reading as far as that is known.
func (s *State) decideBranch(g *graph.Graph, b graph.Branch, place string) (*graph.Condition, formula.Decision, []formula.Val) {
	d, v := s.decide(g, b.If, place)
	if !open(d.Verdict) || b.Better == nil || b.Better.If == nil {
		return b.If, d, v
	}
	if d2, v2 := s.decide(g, b.Better.If, place); d2.Verdict != formula.NotSettled {
		return b.Better.If, d2, v2
	}
	return b.If, d, v
}

// open says that a verdict is too close to call.
func open(v formula.Verdict) bool { return v == formula.Close || v == formula.Undecided }

// early says that a condition asks whether something is known that the step has
// still to ask for.
func (s *State) early(g *graph.Graph, st *graph.Step, c *graph.Condition, place string) bool {
	for _, id := range c.Known {
		if !slices.Contains(st.Ask, id) {
			continue
		}
		if !s.now.has(s.key(g.Readings[id], place)) {
			return true
		}
	}
	return false
}

// open lists the branches of a step that are not certainly false, up to and
// with the first that is certainly true.
func (s *State) open(g *graph.Graph, st *graph.Step, place string) []int {
	var out []int
	for i, b := range st.Then {
		if b.If == nil {
			return append(out, i)
		}
		_, d, _ := s.decideBranch(g, b, place)
		switch {
		case s.early(g, st, b.If, place):
			out = append(out, i)
		case d.Verdict == formula.CertainlyTrue:
			return append(out, i)
		case d.Verdict != formula.CertainlyFalse:
			out = append(out, i)
		}
	}
	return out
}

// weight of a target is the sum of the weights of the findings behind it that
// are not refuted.
func (s *State) weight(g *graph.Graph, t graph.Target) float64 {
	if t.Finding != "" {
		if s.refuted[t.Finding] {
			return 0
		}
		return g.Findings[t.Finding].Often.Weight()
	}
	w := 0.0
	for _, f := range g.Reach(t.Step) {
		if !s.refuted[f] {
			w += g.Findings[f].Often.Weight()
		}
	}
	return w
}

// leaveOpen decides where to go from a step that could not be settled: the
// likeliest target that is still possible. The others become places still to
// try, likeliest first.
func (s *State) leaveOpen(g *graph.Graph, st *graph.Step, c choice) (graph.Target, []graph.Target) {
	idx := s.open(g, st, s.cur.place)
	var targets []graph.Target
	for _, i := range idx {
		t := st.Then[i].To
		if !slices.Contains(targets, t) {
			targets = append(targets, t)
		}
	}
	first := targets[0]
	switch {
	case c.verdict != formula.NotSettled: // a close call: the side of the middle values
		first = s.likelierSide(g, st, c.branch)
	case st.Unknown != nil:
		first = *st.Unknown
	default:
		best := -1.0
		for _, t := range targets {
			if w := s.weight(g, t); w > best {
				first, best = t, w
			}
		}
	}
	rest := slices.DeleteFunc(targets, func(t graph.Target) bool { return t == first })
	slices.SortStableFunc(rest, func(a, b graph.Target) int {
		wa, wb := s.weight(g, a), s.weight(g, b)
		switch {
		case wa > wb:
			return -1
		case wa < wb:
			return 1
		}
		return 0
	})
	return first, rest
}

// likelierSide follows the branches from the open one on, each decided by its
// middle values.
func (s *State) likelierSide(g *graph.Graph, st *graph.Step, from int) graph.Target {
	for _, b := range st.Then[from:] {
		if b.If == nil {
			return b.To
		}
		_, d, _ := s.decideBranch(g, b, s.cur.place)
		if d.Verdict == formula.CertainlyTrue || d.Verdict != formula.CertainlyFalse && d.Likelier {
			return b.To
		}
	}
	return st.Then[len(st.Then)-1].To
}
