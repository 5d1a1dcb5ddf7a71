package graph

import (
	"cmp"
	"slices"

	"hotlug/engine/shape"
)

// Precedence sorts cautions by rank, without doubles and unknown ids.
func (g *Graph) Precedence(ids []string) []*Caution {
	var out []*Caution
	for _, id := range ids {
		if c := g.Cautions[id]; c != nil && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b *Caution) int { return cmp.Compare(a.Rank, b.Rank) })
	return out
}

// Line is the line of a knowledge file at a place, "" if there is none.
func (g *Graph) Line(at shape.Place) string {
	if l := g.lines[at.File]; at.Line >= 1 && at.Line <= len(l) {
		return l[at.Line-1]
	}
	return ""
}

// Reach lists the findings that can be reached from a step, in the order of the
// files, those that end work left out.
func (g *Graph) Reach(step string) []string { return g.reach[step] }

// NameOf is what a reading or worked value is called in a sentence.
func (g *Graph) NameOf(id string) string {
	if r := g.Readings[id]; r != nil {
		return r.Name
	}
	if v := g.Values[id]; v != nil {
		return v.Label
	}
	return id
}

// WordOf is the label of an option of a reading.
func (g *Graph) WordOf(reading, option string) string {
	r := g.Readings[reading]
	if r == nil {
		return option
	}
	if i := r.OptionByID(option); i >= 0 {
		return r.Options[i].Label
	}
	return option
}

// computeReach fills g.reach; the steps form no cycle, which the loader has
// checked.
func (g *Graph) computeReach() {
	g.reach = map[string][]string{}
	var walk func(id string) map[string]bool
	memo := map[string]map[string]bool{}
	walk = func(id string) map[string]bool {
		if m, ok := memo[id]; ok {
			return m
		}
		m := map[string]bool{}
		memo[id] = m
		st := g.Steps[id]
		if st == nil {
			return m
		}
		for _, t := range st.Targets() {
			if f := g.Findings[t.Finding]; f != nil && f.Stop == NoStop {
				m[f.ID] = true
			}
			if t.Step != "" {
				for f := range walk(t.Step) {
					m[f] = true
				}
			}
		}
		return m
	}
	for id := range g.Steps {
		m := walk(id)
		for _, f := range g.FindingOrder {
			if m[f] {
				g.reach[id] = append(g.reach[id], f)
			}
		}
	}
}

// Targets lists where a step can lead.
func (s *Step) Targets() []Target {
	var out []Target
	for _, b := range s.Then {
		out = append(out, b.To)
	}
	if s.Unknown != nil {
		out = append(out, *s.Unknown)
	}
	return out
}
