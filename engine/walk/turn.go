package walk

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// Turn is a reading that decided for a finding, and the value at which it would
// have decided otherwise, with everything else as it was.
type Turn struct {
	Reading *reading.Reading
	Value   float64 // as read, in the unit of the reading's kind
	At      float64 // in the same unit
	Say     string  // "Volts across the fuse holder: 180 mV. Below 133 mV it would not have been this."
}

// mostTurns is how many deciding readings are told of a finding.
const mostTurns = 2

// Turns lists the readings that decided for a finding, the nearest to its turn
// first. It is empty where no measured number decided, or none could have turned it.
func (s *State) Turns(g *graph.Graph, t Told) []Turn {
	v := s.ledTo(t)
	if v == nil {
		return nil
	}
	then := *s
	then.now, then.was = v.now, v.was
	taken := slices.IndexFunc(v.step.Then, func(b graph.Branch) bool { return b.To == v.to })
	var out []Turn
	done := map[Key]bool{}
	for _, b := range v.step.Then {
		if b.If == nil {
			continue
		}
		for _, ref := range b.If.F.Refs() {
			r := g.Readings[ref.Name]
			k := then.key(r, v.place)
			i, ok := then.now.get(k)
			if done[k] || !ok || r.Answer != reading.Number || r.Class == reading.Fact || ref.Form != formula.Here || !s.takes[i].Known {
				continue
			}
			done[k] = true
			x := s.takes[i].Value
			at, ok := then.turnsAt(g, v, k, taken, x, then.scaleRange(g, r, r.Possible))
			if !ok {
				continue
			}
			side := "Below"
			if at > x {
				side = "Above"
			}
			out = append(out, Turn{r, x, at, fmt.Sprintf("%s: %s. %s %s it would not have been this.",
				upperFirst(r.Name), s.Shown(g, *s.takes[i]), side, s.show(r, at))})
		}
	}
	slices.SortStableFunc(out, func(a, b Turn) int {
		return cmp.Compare(math.Abs(a.At-a.Value)/max(math.Abs(a.Value), 1e-9), math.Abs(b.At-b.Value)/max(math.Abs(b.Value), 1e-9))
	})
	return out[:min(mostTurns, len(out))]
}

// ledTo is the visit from which the walk came to a finding, nil if none settled it.
func (s *State) ledTo(t Told) *visit {
	for i := len(s.trail) - 1; i >= 0; i-- {
		if v := &s.trail[i]; v.to.Finding == t.Finding.ID && v.round <= t.Round {
			return v
		}
	}
	return nil
}

// looks is into how many parts the way from a value to the end of its range is
// divided to find where a branch turns, and halvings how often the part is halved.
const (
	looks    = 24
	halvings = 40
)

// turnsAt is the value of what is filed under k, nearest to x, at which the step
// takes another branch, all other values being their middles.
func (s *State) turnsAt(g *graph.Graph, v *visit, k Key, taken int, x float64, rg reading.Range) (float64, bool) {
	if !rg.Set || s.branchAt(g, v, k, x) != taken {
		return 0, false
	}
	best, found := 0.0, false
	for _, end := range []float64{rg.Lo, rg.Hi} {
		near := x
		for i := 1; i <= looks; i++ {
			p := float64(i) / looks
			far := x + (end-x)*p*p*p // most turns lie near
			if s.branchAt(g, v, k, far) == taken {
				near = far
				continue
			}
			for range halvings {
				if mid := near + (far-near)/2; s.branchAt(g, v, k, mid) == taken {
					near = mid
				} else {
					far = mid
				}
			}
			if edge := math.Abs(rg.Hi-rg.Lo) * 1e-6; far-rg.Lo < edge || rg.Hi-far < edge {
				break // it only turns where nothing can be read any more
			}
			if !found || math.Abs(far-x) < math.Abs(best-x) {
				best, found = far, true
			}
			break
		}
	}
	return best, found
}

// branchAt is the branch that the step takes by middle values, with x under k; -1
// if a condition has no answer there.
func (s *State) branchAt(g *graph.Graph, v *visit, k Key, x float64) int {
	for i, b := range v.step.Then {
		if b.If == nil {
			return i
		}
		refs := b.If.F.Refs()
		vals := s.values(g, b.If.F, v.place)
		for j := range vals {
			r := g.Readings[refs[j].Name]
			switch {
			case r.Answer != reading.Number || vals[j].Unknown:
			case refs[j].Form == formula.Here && s.key(r, v.place) == k:
				vals[j] = formula.Exact(x)
			default:
				vals[j] = formula.Exact(vals[j].Mid)
			}
		}
		switch d := b.If.F.Decide(vals); {
		case d.Err != nil:
			return -1
		case d.Verdict == formula.CertainlyTrue:
			return i
		case d.Verdict != formula.CertainlyFalse:
			return -1
		}
	}
	return -1
}
