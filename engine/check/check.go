package check

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// Graph looks over the knowledge and returns what is wrong with it, sorted.
// reserved are words that the chat takes for itself, so that no choice may use
// them.
func Graph(g *graph.Graph, reserved []string) []shape.Problem {
	return Look(g, reserved).Problems
}

type checker struct {
	g        *graph.Graph
	problems []shape.Problem
	waived   []Waived
	notes    []Note

	ranges   *ranges
	constant map[*graph.Condition]bool // conditions that are the same whatever is read
	names    wordCounter
	free     *formula.Scope
	left     int // pieces of a range that may still be looked at
}

// noPlace is the place of what belongs to the knowledge as a whole.
var noPlace shape.Place

func (c *checker) bad(code string, at shape.Place, hint, format string, a ...any) {
	c.problems = append(c.problems, shape.Problem{Code: code, Text: fmt.Sprintf(format, a...), Hint: hint, At: at, Source: c.g.Line(at), Width: 1})
}

// reach reports steps that no symptom and findings that no step leads to. That
// every step leads to a finding follows from what the loader checks: each has a
// last branch, and there is no circle.
func (c *checker) reach() {
	steps := map[string]bool{}
	findings := map[string]bool{}
	var visit func(t graph.Target)
	visit = func(t graph.Target) {
		if t.Finding != "" {
			if f := c.g.Findings[t.Finding]; f != nil && !findings[t.Finding] {
				findings[t.Finding] = true
				for _, t := range f.Onward() {
					visit(t)
				}
			}
			return
		}
		s := c.g.Steps[t.Step]
		if s == nil || steps[t.Step] {
			return
		}
		steps[t.Step] = true
		for _, to := range s.Targets() {
			visit(to)
		}
		for _, a := range s.Also {
			visit(graph.Target{Finding: a.Finding})
		}
	}
	visit(graph.Target{Step: c.g.DangerStep})
	for _, w := range c.g.DangerWords {
		findings[w.Stop] = true
	}
	for _, id := range c.g.SymptomOrder {
		visit(graph.Target{Step: c.g.Symptoms[id].Start})
	}
	for _, id := range c.g.StepOrder {
		if !steps[id] {
			c.bad("never-reached", c.g.Steps[id].At, "let a symptom or a step lead to it, or delete it", "nothing leads to the step %s", id)
		}
	}
	for _, id := range c.g.FindingOrder {
		if !findings[id] {
			c.bad("never-reached", c.g.Findings[id].At, "let a step lead to it, or delete it", "no step leads to the finding %s", id)
		}
	}
}

// steps reports names that a step's conditions use and that it does not ask
// for. Facts may stand without being asked again.
func (c *checker) steps() {
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		conds := []*graph.Condition{s.Until}
		for _, b := range s.Then {
			conds = append(conds, b.If)
		}
		for _, cond := range conds {
			if cond == nil {
				continue
			}
			for _, name := range c.unasked(cond.F, s.Ask) {
				c.bad("not-asked", cond.At, "add it to ask", "%s uses %s and does not ask for it", id, name)
			}
		}
		better := map[*graph.Better][]*graph.Condition{}
		for _, b := range s.Then {
			if b.Better != nil {
				better[b.Better] = append(better[b.Better], b.If)
			}
		}
		for b, conds := range better {
			c.better(s.ID, s.Ask, b, conds...)
		}
		if s.Do == "" && len(s.Ask) == 0 && len(s.Then) > 1 {
			c.bad("asks-nothing", s.At, "name the readings that its conditions use", "%s branches and asks for nothing", id)
		}
	}
}

// better reports a better reading that could not settle its close call: of all
// the conditions that it is for. what is the step or the proof; it asks for ask.
func (c *checker) better(what string, ask []string, b *graph.Better, conds ...*graph.Condition) {
	if b.If != nil {
		for _, name := range c.unasked(b.If.F, slices.Concat(ask, b.Ask)) {
			c.bad("not-asked", b.If.At, "add it to ask", "the better reading of %s uses %s and does not ask for it", what, name)
		}
		return
	}
	for _, x := range conds {
		if slices.ContainsFunc(x.F.Refs(), func(r formula.Ref) bool {
			return slices.Contains(b.Ask, r.Name) && c.g.Readings[r.Name].Answer == reading.Number
		}) {
			return
		}
	}
	c.bad("better-decides-nothing", b.At, "ask for a number of the condition, or add if:", "the better reading of %s is no number of its condition", what)
}

// unasked lists the readings of f that are not in ask. Facts of the rig count
// as asked when they stand in its file.
func (c *checker) unasked(f *formula.Formula, ask []string) []string {
	var out []string
	for _, ref := range f.Refs() {
		if slices.Contains(ask, ref.Name) || slices.Contains(out, ref.Name) || ref.Form == formula.Was {
			continue
		}
		if r := c.g.Readings[ref.Name]; r != nil && r.Class == reading.Fact {
			continue
		}
		out = append(out, ref.Name)
	}
	return out
}

// findings reports findings that are not finished.
func (c *checker) findings() {
	for _, id := range c.g.FindingOrder {
		f := c.g.Findings[id]
		miss := func(what, hint string) {
			c.bad("unfinished-finding", f.At, hint, "the finding %s has no %s", id, what)
		}
		if len(f.Sources) == 0 {
			miss("source", "name a standard, a textbook, or practice")
		}
		c.words(f, f.Because, "the evidence")
		for _, l := range f.Fix {
			c.words(f, l.Say, "this line of the fix")
		}
		if len(f.Says) > 0 && f.Stop == graph.NoStop {
			c.bad("says-without-stop", f.At, "drop says, or stop work there", "the words of %s bring the danger question, and no work stops at it", id)
		}
		if f.Prove != nil && f.Stop != graph.NoStop {
			c.bad("proof-of-stop", f.Prove.At, "drop prove, or let a symptom of its own lead back", "work stops at %s, so its proof would never be asked for", id)
		}
		if f.Often == "" {
			miss("word on how often it is the cause", "add often: common, occasional or rare")
		}
		if len(f.Because.Parts) == 0 {
			miss("evidence", "add because")
		}
		if f.Lesson == "" {
			miss("lesson", "add one line to remember")
		}
		if len(f.Fix) == 0 && !f.NoFault {
			miss("fix", "add fix, or no_fault: true")
		}
		if f.Stop != graph.NoStop {
			if f.HandTo == "" {
				miss("word on who goes on", "add hand_to")
			}
			continue
		}
		if f.Prove == nil {
			miss("proof", "add prove with the readings and the condition that hold when it is mended")
		}
		if p := f.Prove; p != nil && p.Better != nil {
			c.better("the proof of "+id, p.Ask, p.Better, p.If)
		}
		if len(f.Cautions) == 0 && !f.NoFault && f.Unsafe > 0 {
			miss("caution", "name the cautions that go with its fix")
		}
	}
}

// readings reports choices that are commands, and hazards without a caution.
func (c *checker) readings(reserved []string) {
	for _, id := range c.g.ReadingOrder {
		r := c.g.Readings[id]
		if r.Class == reading.Measurement && len(r.How) == 0 {
			c.bad("no-how", r.Place, "say step by step how it is taken", "%s does not say how it is taken", id)
		}
		if r.Hazard != "" && len(r.Cautions) == 0 {
			c.bad("hazard-without-caution", r.Place, "name the caution that goes with it", "%s has the hazard %s and no caution", id, r.Hazard)
		}
		c.states(r)
		meant := map[string]string{}
		for _, o := range r.Options {
			for _, w := range append([]string{o.ID, o.Label}, o.Says...) {
				if other, ok := meant[strings.ToLower(w)]; ok && other != o.ID {
					c.bad("word-of-two-answers", r.Place, "leave it to one of them", "for %s %q means both %s and %s", id, w, other, o.ID)
				}
				meant[strings.ToLower(w)] = o.ID
				if slices.Contains(reserved, strings.ToLower(w)) {
					c.bad("choice-is-command", r.Place, "use another word", "an answer of %s is %q, which is a command of the chat", id, w)
				}
			}
		}
	}
	for _, id := range sortedKeys(c.g.States) {
		if s := c.g.States[id]; s.Hazard != "" && len(s.Cautions) == 0 {
			c.bad("hazard-without-caution", s.At, "name the caution that goes with it", "the state %s has the hazard %s and no caution", id, s.Hazard)
		}
	}
	for _, id := range sortedKeys(c.g.Actions) {
		if a := c.g.Actions[id]; a.Hazard != "" && len(a.Cautions) == 0 {
			c.bad("hazard-without-caution", a.At, "name the caution that goes with it", "the action %s has the hazard %s and no caution", id, a.Hazard)
		}
	}
}

// states reports a reading that needs states which cannot hold together.
func (c *checker) states(r *reading.Reading) {
	for i, a := range r.State {
		for _, b := range r.State[i+1:] {
			x, y := c.g.States[a], c.g.States[b]
			if slices.Contains(x.Excludes, b) || slices.Contains(y.Excludes, a) {
				c.bad("states-exclude", r.Place, "keep one of them", "%s needs both %s and %s, which exclude each other", r.ID, x.Name, y.Name)
			}
		}
	}
}

// used reports what nothing uses.
func (c *checker) used() {
	u := c.uses()
	warn := func(at shape.Place, what, id string) {
		c.problems = append(c.problems, shape.Problem{Code: "unused", Severity: shape.Warning, At: at, Source: c.g.Line(at), Width: 1,
			Text: fmt.Sprintf("nothing uses the %s %s", what, id), Hint: "use it or delete it"})
	}
	for _, id := range c.g.ReadingOrder {
		if !u["reading "+id] {
			warn(c.g.Readings[id].Place, "reading", id)
		}
	}
	for _, id := range c.g.ValueOrder {
		if v := c.g.Values[id]; v != nil && !u["value "+id] {
			warn(v.At, "worked value", id)
		}
	}
	for _, id := range c.g.CautionOrder {
		if !u["caution "+id] {
			warn(c.g.Cautions[id].At, "caution", id)
		}
	}
	for _, id := range sortedKeys(c.g.Sources) {
		if !u["source "+id] {
			warn(c.g.Sources[id].At, "source", id)
		}
	}
	for _, id := range sortedKeys(c.g.Actions) {
		if !u["action "+id] {
			warn(c.g.Actions[id].At, "action", id)
		}
	}
	for _, id := range sortedKeys(c.g.States) {
		if !u["state "+id] {
			warn(c.g.States[id].At, "state", id)
		}
	}
	for _, id := range sortedKeys(c.g.Meters) {
		if !u["meter "+id] {
			warn(c.g.Meters[id].At, "meter setting", id)
		}
	}
	for _, id := range sortedKeys(c.g.Points) {
		if !u["point "+id] {
			warn(c.g.Points[id].At, "point", id)
		}
	}
	var idle []string
	for _, f := range c.g.Scope.Funcs() {
		if !u["function "+f.Name] {
			idle = append(idle, f.Name)
		}
	}
	if len(idle) > 0 {
		c.note("functions-not-used", noPlace, "%d of %d functions are in no formula here and for the calculator only", len(idle), len(c.g.Scope.Funcs()))
	}
	c.inVain()
}
