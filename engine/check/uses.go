package check

import (
	"maps"
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/pattern"
)

var word = pattern.Of(`[a-z_][a-z0-9_]*`)

// uses marks everything that something else refers to, as "reading load_a".
func (c *checker) uses() map[string]bool {
	u := map[string]bool{"reading " + c.g.DangerReading: true, "reading " + c.g.SystemVolts: true}
	all := func(what string, ids []string) {
		for _, id := range ids {
			u[what+" "+id] = true
		}
	}
	text := func(s string) {
		for _, n := range word.FindAllString(s, -1) {
			u["value "+n] = true
			if c.g.Readings[n] != nil {
				u["reading "+n] = true
			}
		}
	}
	cond := func(x *graph.Condition) {
		if x != nil {
			text(x.Text)
			refs(x.F, u)
		}
	}
	better := func(b *graph.Better) {
		if b != nil {
			all("reading", b.Ask)
			all("meter", []string{b.Meter})
			cond(b.If)
		}
	}
	line := func(t graph.Text) {
		for _, p := range t.Parts {
			if p.Name != "" {
				text(p.Name)
				refs(p.Value, u)
			}
		}
	}
	for _, r := range c.g.Readings {
		all("caution", r.Cautions)
		all("state", r.State)
		all("meter", []string{r.Meter})
		all("point", []string{r.From, r.To})
		if r.Like != "" {
			u["reading "+r.Like] = true
		}
	}
	for _, s := range c.g.States {
		all("caution", s.Cautions)
	}
	for _, a := range c.g.Actions {
		all("caution", a.Cautions)
		cond(a.Needs)
	}
	for _, v := range c.g.Values {
		text(v.Text)
		refs(v.Is, u)
	}
	for _, l := range c.g.Laws { // what only a law names is asked nowhere
		all("source", l.Sources)
		for _, n := range word.FindAllString(l.Holds.Text, -1) {
			u["value "+n] = true
		}
		for _, fn := range l.Holds.F.Funcs() {
			u["function "+fn.Name] = true
		}
	}
	for _, s := range c.g.Steps {
		all("reading", s.Ask)
		u["action "+s.Do] = true
		cond(s.Needs)
		cond(s.Until)
		for _, b := range s.Then {
			cond(b.If)
			better(b.Better)
		}
		for _, a := range s.Also {
			cond(a.If)
		}
	}
	for _, f := range c.g.Findings {
		all("caution", f.Cautions)
		all("source", f.Sources)
		all("value", f.Working)
		line(f.Because)
		for _, l := range f.Fix {
			u["action "+l.Action] = true
			line(l.Say)
		}
		for _, s := range f.Sets {
			u["reading "+s.Fact] = true
			text(s.To)
		}
		if f.Prove != nil {
			all("reading", f.Prove.Ask)
			cond(f.Prove.If)
			better(f.Prove.Better)
		}
	}
	return u
}

func refs(f *formula.Formula, u map[string]bool) {
	if f == nil {
		return
	}
	for _, r := range f.Refs() {
		u["reading "+r.Name] = true
	}
	for _, fn := range f.Funcs() {
		u["function "+fn.Name] = true
	}
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
