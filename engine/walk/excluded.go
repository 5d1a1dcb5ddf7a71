package walk

import (
	"strings"

	"hotlug/engine/formula"
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
		if v.step.ID == g.DangerStep {
			continue
		}
		taken := map[string]bool{}
		for _, t := range append([]graph.Target{v.to}, v.rest...) {
			taken[t.Finding] = true
			for _, f := range g.Reach(t.Step) {
				taken[f] = true
			}
		}
		for i, b := range v.step.Then {
			by := ""
			for _, id := range append([]string{b.To.Finding}, g.Reach(b.To.Step)...) {
				f := g.Findings[id]
				if f == nil || taken[id] || skip[id] || f.Stop != graph.NoStop {
					continue
				}
				if by == "" {
					if by = v.against(s, g, i); by == "" {
						break // nothing spoke against it
					}
				}
				skip[id] = true
				out = append(out, Excluded{f, by})
			}
		}
	}
	return out
}

// against says what spoke against branch i when the step was left: the readings
// that made it false, or else those that led to the branch taken. It is "" when
// the step was left open and the branch with it.
func (v visit) against(s *State, g *graph.Graph, i int) string {
	then := *s
	then.now, then.was = v.now, v.was
	if b := v.step.Then[i]; b.If != nil {
		if c, d, vals := then.decideBranch(g, b, v.place); d.Verdict == formula.CertainlyFalse {
			return because(s, g, c, vals)
		}
	}
	if !v.settled {
		return ""
	}
	return v.why(s, g)
}

func because(s *State, g *graph.Graph, c *graph.Condition, vals []formula.Val) string {
	var texts []string
	for _, r := range c.F.Because(vals, s.shower(g)) {
		texts = append(texts, r.Text)
	}
	return strings.Join(texts, "; ")
}

// why says what led to the branch taken: the branch's own reasons, or for the
// last branch, the readings that made those before it false.
func (v visit) why(s *State, g *graph.Graph) string {
	if v.cond != nil {
		return because(s, g, v.cond, v.vals)
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
