package walk

import (
	"strings"

	"hotlug/engine/graph"
)

// Excluded is a finding that the readings rule out, and by what.
type Excluded struct {
	Finding *graph.Finding
	By      string // the comparisons that led away from it
}

// Excluded lists what could have been the cause of the symptom and is ruled
// out, each by the step that led away from it or by its failed proof.
func (s *State) Excluded(g *graph.Graph) []Excluded {
	_, open := s.reachable(g)
	skip := map[string]bool{}
	for f := range open {
		skip[f] = true
	}
	var out []Excluded
	for _, t := range s.told {
		if t.Status == IsRefuted {
			out = append(out, Excluded{t.Finding, "its proof did not hold"})
		}
		skip[t.Finding.ID] = true
	}
	for _, v := range s.trail {
		if v.to.CarryOn {
			continue
		}
		taken := map[string]bool{v.to.Finding: true}
		for _, f := range g.Reach(v.to.Step) {
			taken[f] = true
		}
		by := v.why(s, g)
		for _, to := range v.step.Targets() {
			for _, id := range append([]string{to.Finding}, g.Reach(to.Step)...) {
				f := g.Findings[id]
				if f == nil || taken[id] || skip[id] || v.assumed || f.Stop != graph.NoStop {
					continue
				}
				skip[id] = true
				out = append(out, Excluded{f, by})
			}
		}
	}
	return out
}

// why says what led to the branch taken: the branch's own reasons, or for the
// last branch, the readings that made those before it false.
func (v visit) why(s *State, g *graph.Graph) string {
	if v.cond != nil {
		var texts []string
		for _, r := range v.cond.F.Because(v.vals, s.shower(g)) {
			texts = append(texts, r.Text)
		}
		return strings.Join(texts, "; ")
	}
	var said []string
	for _, t := range v.asked(s) {
		said = append(said, g.NameOf(t.Reading)+": "+s.Shown(g, t))
	}
	if len(said) == 0 {
		return "what was known before"
	}
	return strings.Join(said, "; ")
}
