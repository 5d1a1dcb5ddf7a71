package check

import (
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// answers says over which systems a condition can be true, and false, with every
// name anything that it can be.
func (c *checker) answers(x *graph.Condition) (yes, no []int) {
	f := c.ranges.cond(x)
	for sys := range c.ranges.systems {
		cells := make([]cell, len(f.vars))
		for i, v := range f.vars {
			cells[i] = c.ranges.full[sys][v]
		}
		y, n := false, false
		for u := range uint(1) << min(len(f.known), mostKnown) {
			a, b := c.ranges.can(f, cells, u)
			y, n = y || a, n || b
		}
		if y && n && len(f.known) == 0 {
			y, n = c.firm(f, sys, cells)
		}
		if y {
			yes = append(yes, sys)
		}
		if n {
			no = append(no, sys)
		}
	}
	return yes, no
}

// firm looks harder at a condition that limits leave open: points show both
// answers, or halving proves one.
func (c *checker) firm(f *form, sys int, cells []cell) (yes, no bool) {
	p := pointer{r: c.ranges}
	if p.find(sys, &state{}, []wish{{f, true}}) != nil && p.find(sys, &state{}, []wish{{f, false}}) != nil {
		return true, true
	}
	n := newNarrower(c.ranges)
	if _, yes = n.narrow(f, true, cells); !yes {
		return false, true
	}
	if _, no = n.narrow(f, false, cells); !no {
		return true, false
	}
	for i := range cells {
		f.buf[i] = c.ranges.val(cells[i], false)
	}
	switch f.f.Decide(f.buf).Verdict {
	case formula.CertainlyTrue:
		return true, false
	case formula.CertainlyFalse:
		return false, true
	}
	return true, true
}

// proves reports conditions that are the same whatever the readings are.
func (c *checker) proves() {
	c.constant = map[*graph.Condition]bool{}
	judge := func(x *graph.Condition, what string) {
		if x == nil || len(x.F.Refs()) == 0 {
			return
		}
		yes, no := c.answers(x)
		all := len(c.ranges.systems)
		switch {
		case len(yes) == 0:
			c.constant[x] = true
			c.badCond("condition-never-true", x, "mend the limit or the range of the reading: "+c.allOf(x), "%s can't be true, whatever is read", what)
		case len(no) == 0:
			c.constant[x] = true
			c.badCond("condition-always-true", x, "mend the limit or the range of the reading: "+c.allOf(x), "%s is always true, whatever is read", what)
		case len(yes) < all:
			c.note("true-on-some-systems", x.At, "%s can't be true on a system of %s V", what, c.others(yes))
		case len(no) < all:
			c.note("false-on-some-systems", x.At, "%s is always true on a system of %s V", what, c.others(no))
		}
	}
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		judge(s.Needs, "what "+id+" needs")
		judge(s.Until, "the end of the row of places")
		for _, b := range s.Then {
			judge(b.If, "this branch")
		}
		for _, a := range s.Also {
			judge(a.If, "this second fault")
		}
	}
	for _, l := range c.g.Laws {
		judge(l.Holds, "the law "+l.ID)
	}
	for _, id := range sortedKeys(c.g.Actions) {
		judge(c.g.Actions[id].Needs, "what "+id+" needs")
	}
	for _, id := range c.g.FindingOrder {
		if p := c.g.Findings[id].Prove; p != nil {
			judge(p.If, "the proof of "+id)
		}
	}
}

// others lists the systems that are not in the list.
func (c *checker) others(in []int) string {
	var out []string
	for i, v := range c.ranges.systems {
		if !slices.Contains(in, i) {
			out = append(out, plain(v))
		}
	}
	return strings.Join(out, " and ")
}

// allOf says what the names of a condition can be.
func (c *checker) allOf(x *graph.Condition) string {
	var parts []string
	for _, v := range c.ranges.cond(x).vars {
		low := c.ranges.full[0][v]
		high := c.ranges.full[len(c.ranges.systems)-1][v]
		low.lo, low.hi = min(low.lo, high.lo), max(low.hi, high.hi)
		parts = append(parts, c.ranges.refs[v].String()+" is "+c.ranges.sayCell(low))
	}
	return strings.Join(parts, ", ")
}

// branches reports what the paths show: branches that none takes, steps that
// none enters, questions that decide nothing.
func (c *checker) branches() {
	f := newFlow(c.ranges)
	f.run()
	for _, id := range c.g.FindingOrder {
		for _, l := range c.g.Findings[id].Fix {
			if p := f.unmet[unmet{id, l.Action}]; p != nil {
				c.bad("action-needs-unmet", l.At, "lead here only where it holds: "+c.g.Actions[l.Action].Needs.Text,
					"the fix of %s does %s, and a path leads here on which its needs are not met: %s", id, l.Action, c.ranges.say(p))
			}
		}
	}
	before := f.askedBefore()
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		c.unasking(s)
		switch {
		case !f.entered[id]:
			continue // nothing leads to it, or no path can: told there
		case !f.passed[id]:
			if !c.constant[s.Needs] {
				c.badCond("needs-never-met", s.Needs, "look at the branches that lead here, or at the condition", "on no path to %s can this be so", id)
			}
			continue
		}
		whole := c.dead(f, s)
		if !whole {
			c.decides(f, s, before[id])
		}
		if f.joined[id] {
			c.note("paths-taken-together", s.At, "more than %d kinds of paths lead to %s; they were taken as one that holds them all", mostStates, id)
		}
		for _, a := range s.Also {
			if a.If != nil && !f.also[a.If] && !c.constant[a.If] {
				c.badCond("also-contradicts-path", a.If, "look at the branches that lead here", "on no path to %s can this second fault be so", id)
			}
		}
	}
	c.note("paths", noPlace, "%d kinds of paths were walked through %s; %d times a branch was ruled out by what the path implies",
		f.states, count(len(c.g.StepOrder), "step"), f.barred)
	c.longest(f)
}

// dead reports the branches of a step that no path takes, and notes those of
// which it is not known. It says whether it reported any.
func (c *checker) dead(f *flow, s *graph.Step) bool {
	found := false
	for i, b := range s.Then {
		switch {
		case b.If == nil && !f.last[s.ID]:
			if i > 0 {
				c.note("last-branch-only-in-doubt", b.At, "the last branch of %s is taken only when something is not known: those above hold all that can be read", s.ID)
			}
		case b.If != nil && c.constant[b.If]:
			found = true
		case b.If != nil && !f.taken[b.If]:
			found = true
			c.deadBranch(f, s, i)
		case b.If != nil && sameAbove(s, i) >= 0: // limits of two readings held against each other don't show it
			found = true
			c.badCond("branch-covered", b.If, "take it out, or mend its condition", "branch %d of %s has the same condition and stands above", sameAbove(s, i)+1, s.ID)
		case f.shown[b] == nil:
			c.note("undecided", b.At, "limits leave open whether branch %d of %s is ever taken, and no example was found", i+1, s.ID)
		}
	}
	return found
}

// sameAbove is a branch above with the same condition, or -1.
func sameAbove(s *graph.Step, i int) int {
	return slices.IndexFunc(s.Then[:i], func(o graph.Branch) bool {
		return o.If != nil && strings.Join(strings.Fields(o.If.Text), " ") == strings.Join(strings.Fields(s.Then[i].If.Text), " ")
	})
}

func (c *checker) deadBranch(f *flow, s *graph.Step, i int) {
	b := s.Then[i]
	for sys := range c.ranges.systems {
		f.n = newNarrower(c.ranges)
		st := &state{}
		for _, o := range s.Then[:i] {
			if st != nil {
				st = f.narrow(sys, o.If, false, st)
			}
		}
		if st == nil || f.narrow(sys, b.If, true, st) == nil {
			continue
		}
		c.badCond("branch-contradicts-path", b.If, "look at the branches that lead to "+s.ID+", or take it out",
			"no path to %s leaves this possible%s", s.ID, c.pathExample(f, b.If))
		return
	}
	c.badCond("branch-covered", b.If, "put it before the branch that covers it, or take it out",
		"the branches above take all that this one could%s", c.coverExample(f, s, i))
}

// pathExample is a value at which a condition holds, for telling that no path
// gets there.
func (c *checker) pathExample(f *flow, x *graph.Condition) string {
	for sys := range c.ranges.systems {
		if p := f.points.find(sys, &state{}, []wish{{c.ranges.cond(x), true}}); p != nil {
			return "; it would take " + c.ranges.say(p)
		}
	}
	return ""
}

// coverExample is a value at which branch i holds, and where it goes instead.
func (c *checker) coverExample(f *flow, s *graph.Step, i int) string {
	want := wish{c.ranges.cond(s.Then[i].If), true}
	for sys := range c.ranges.systems {
		for j := i - 1; j >= 0; j-- {
			if p := f.points.find(sys, &state{}, append(f.wishes(s, j), want)); p != nil {
				return "; " + c.ranges.say(p) + " goes to " + s.Then[j].To.String()
			}
		}
	}
	return ""
}

// decides reports a step that asks something new and has one way on whatever the
// answer is.
func (c *checker) decides(f *flow, s *graph.Step, before map[string]bool) {
	ways := 0
	for _, b := range s.Then {
		if b.If != nil && f.taken[b.If] || b.If == nil && f.last[s.ID] {
			ways++
		}
	}
	if ways != 1 || len(s.Then) < 2 {
		return
	}
	for _, id := range s.Ask {
		if r := c.g.Readings[id]; r.Class != reading.Fact && !before[id] {
			c.bad("question-decides-nothing", s.At, "leave the step out, or mend its conditions", "%s asks for %s, and the path so far implies where it leads", s.ID, id)
			return
		}
	}
}

// unasking reports questions that are never put: the step is settled before.
func (c *checker) unasking(s *graph.Step) {
	if s.Each == "" && len(s.Ask) > 0 && len(s.Then) > 0 && s.Then[0].If == nil {
		c.bad("question-never-asked", s.At, "give it a branch that turns on the answer, or leave ask out",
			"%s has one way on, so %s is never asked for", s.ID, strings.Join(s.Ask, ", "))
	}
}

// askedBefore lists, by step, what a step before it may have asked for.
func (f *flow) askedBefore() map[string]map[string]bool {
	out := map[string]map[string]bool{}
	for _, id := range f.order {
		if out[id] == nil {
			out[id] = map[string]bool{}
		}
		s := f.g.Steps[id]
		for _, t := range s.Targets() {
			if t.Step == "" {
				continue
			}
			if out[t.Step] == nil {
				out[t.Step] = map[string]bool{}
			}
			for a := range out[id] {
				out[t.Step][a] = true
			}
			for _, a := range s.Ask {
				out[t.Step][a] = true
			}
		}
	}
	return out
}

// longest notes the longest path in questions, and warns of one that nobody would
// walk to its end.
const mostQuestions = 40

func (c *checker) longest(f *flow) {
	type way struct {
		asks    map[string]bool
		minutes float64
		next    string
	}
	ways := map[string]way{}
	for _, id := range slices.Backward(f.order) {
		s := c.g.Steps[id]
		best := way{asks: map[string]bool{}}
		for _, t := range s.Targets() {
			if w, ok := ways[t.Step]; ok && len(w.asks) > len(best.asks) {
				best = way{w.asks, w.minutes, t.Step}
			}
		}
		w := way{map[string]bool{}, best.minutes, best.next}
		for a := range best.asks {
			w.asks[a] = true
		}
		for _, a := range s.Ask {
			if !w.asks[a] {
				w.asks[a] = true
				w.minutes += c.g.Readings[a].Minutes
			}
		}
		ways[id] = w
	}
	for _, id := range c.g.SymptomOrder {
		sy := c.g.Symptoms[id]
		w := ways[sy.Start]
		c.note("longest-path", sy.At, "the longest path from %s asks %s and takes %s minutes", id, count(len(w.asks), "question"), plain(w.minutes))
		if len(w.asks) > mostQuestions {
			c.warn("long-path", sy.At, "part the steps, or ask what splits them first", "a path from %s asks %d questions, and more than %d are too many", id, len(w.asks), mostQuestions)
		}
	}
}
