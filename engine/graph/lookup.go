package graph

import (
	"cmp"
	"math/bits"
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
func (g *Graph) Reach(step string) []string {
	var out []string
	for i, set := range g.reach[step] {
		for ; set != 0; set &= set - 1 {
			out = append(out, g.FindingOrder[i*64+bits.TrailingZeros64(set)])
		}
	}
	return out
}

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
	g.reach = map[string][]uint64{}
	index := map[string]int{}
	for i, id := range g.FindingOrder {
		index[id] = i
	}
	var walk func(id string) []uint64
	walk = func(id string) []uint64 {
		if set, ok := g.reach[id]; ok || g.Steps[id] == nil {
			return set
		}
		set := make([]uint64, (len(g.FindingOrder)+63)/64)
		g.reach[id] = set
		for _, t := range g.Steps[id].Targets() {
			if f := g.Findings[t.Finding]; f != nil && f.Stop == NoStop {
				set[index[f.ID]/64] |= 1 << (index[f.ID] % 64)
			}
			for i, more := range walk(t.Step) {
				set[i] |= more
			}
		}
		return set
	}
	for id := range g.Steps {
		walk(id)
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
