package check

import (
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// laws reports a law that names a reading nobody is asked for, and one that holds
// between no numbers.
func (c *checker) laws() {
	asked := map[string]bool{}
	ask := func(ids []string) {
		for _, id := range ids {
			asked[graph.Base(c.g.Readings[id])] = true
		}
	}
	need := func(x *graph.Condition) { // what a need rests on is asked too
		if x != nil {
			for _, ref := range x.F.Refs() {
				ask([]string{ref.Name})
			}
		}
	}
	for _, a := range c.g.Actions {
		need(a.Needs)
	}
	for _, s := range c.g.Steps {
		ask(s.Ask)
		need(s.Needs)
		for _, b := range s.Then {
			if b.Better != nil {
				ask(b.Better.Ask)
			}
		}
	}
	for _, f := range c.g.Findings {
		if f.Prove != nil {
			ask(f.Prove.Ask)
		}
	}
	for _, l := range c.g.Laws {
		for _, name := range l.Names {
			if r := c.g.Readings[name]; r.Class != reading.Fact && !asked[graph.Base(r)] {
				c.bad("law-of-unasked", l.At, "leave it out, or let a step ask for it", "the law %s is about %s, and no step asks for it", l.ID, name)
			}
		}
		if !slices.ContainsFunc(l.Names, func(name string) bool { return c.g.Readings[name].Answer == reading.Number }) {
			c.bad("law-without-number", l.At, "leave it to a branch", "the law %s holds between no numbers, and only a number is mistyped", l.ID)
		}
	}
}
