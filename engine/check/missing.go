package check

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// words reports a line of a finding in which a value may be missing, and that has
// no words for then. Any reading can be answered with "don't know", so a value is
// sure to be there only if the needs of every step that leads to the finding make
// it so.
func (c *checker) words(f *graph.Finding, t graph.Text, what string) {
	named := slices.IndexFunc(t.Parts, func(p graph.Part) bool { return p.Name != "" })
	if named < 0 {
		if t.Or != "" {
			c.warn("other-words-unused", t.At, "leave them out", "%s has no value that could be missing, and other words for then", what)
		}
		return
	}
	if t.Or != "" {
		return
	}
	sure := c.sure(f)
	for _, p := range t.Parts {
		if p.Name == "" || p.Value == nil {
			continue
		}
		for _, ref := range p.Value.Refs() {
			if !sure[ref] {
				c.bad("no-other-words", t.At, "add the words to use then (because_or, or)", "%s can't be said when %s is not known", what, p.Name)
				return
			}
		}
	}
}

// sure lists what is known whenever a finding is reached.
func (c *checker) sure(f *graph.Finding) map[formula.Ref]bool {
	if len(f.Says) > 0 {
		return nil // danger words lead there from anywhere
	}
	var out map[formula.Ref]bool
	edge := func(conds ...*graph.Condition) {
		known := map[formula.Ref]bool{}
		for _, x := range conds {
			if x != nil {
				for _, ref := range x.F.MustKnow(true) {
					known[ref] = true
				}
			}
		}
		if out == nil {
			out = known
			return
		}
		for ref := range out {
			if !known[ref] {
				delete(out, ref)
			}
		}
	}
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		for _, t := range s.Targets() {
			if t.Finding == f.ID {
				if s.Unknown != nil && s.Unknown.Finding == f.ID {
					edge() // also taken where the needs are not met
				}
				edge(s.Needs)
			}
		}
		for _, a := range s.Also {
			if a.Finding == f.ID { // recorded only when certain
				edge(s.Needs, a.If)
			}
		}
	}
	for _, id := range c.g.FindingOrder {
		for _, t := range c.g.Findings[id].Onward() {
			if t.Finding == f.ID {
				edge()
			}
		}
	}
	return out
}

// inVain reports questions of a step whose answer nothing behind it uses.
func (c *checker) inVain() {
	uses := map[string]map[string]bool{} // by target: what it and all behind it use
	add := func(to map[string]bool, fs ...*formula.Formula) {
		for _, f := range fs {
			if f != nil {
				for _, r := range f.Refs() {
					to[r.Name] = true
				}
			}
		}
	}
	ofCond := func(to map[string]bool, x *graph.Condition) {
		if x != nil {
			add(to, x.F)
		}
	}
	finding := func(to map[string]bool, id string) {
		f := c.g.Findings[id]
		if f == nil {
			return
		}
		for _, t := range append([]graph.Text{f.Because}, says(f)...) {
			for _, p := range t.Parts {
				add(to, p.Value)
			}
		}
		for _, w := range f.Working {
			add(to, c.g.Values[w].Is)
		}
		for _, s := range f.Sets {
			add(to, s.F)
		}
		if f.Prove != nil {
			ofCond(to, f.Prove.If)
		}
	}
	f := &flow{g: c.g}
	f.sort()
	for _, id := range slices.Backward(f.order) {
		s := c.g.Steps[id]
		to := map[string]bool{}
		for _, x := range conds(s) {
			ofCond(to, x)
		}
		for _, t := range s.Targets() {
			for name := range uses[t.Step] {
				to[name] = true
			}
			finding(to, t.Finding)
		}
		for _, a := range s.Also {
			finding(to, a.Finding)
		}
		uses[id] = to
		for _, a := range s.Ask {
			if r := c.g.Readings[a]; !to[a] && r.Like == "" && r.Class != reading.Fact && len(s.Then) > 1 {
				c.warn("asked-in-vain", s.At, "leave it out of ask", "%s asks for %s, and nothing from there on uses it", id, a)
			}
		}
	}
}

func says(f *graph.Finding) []graph.Text {
	var out []graph.Text
	for _, l := range f.Fix {
		out = append(out, l.Say)
	}
	return out
}
