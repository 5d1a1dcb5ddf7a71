package walk

import (
	"cmp"
	"math"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// reachable lists the steps that can still be on the way and the findings that
// are not excluded, each with the step it hangs on.
func (s *State) reachable(g *graph.Graph) (steps []string, via map[string]string) {
	via = map[string]string{}
	done := map[string]bool{}
	var walk func(id string)
	walk = func(id string) {
		if done[id] {
			return
		}
		done[id] = true
		steps = append(steps, id)
		st := g.Steps[id]
		follow := func(t graph.Target) {
			switch {
			case t.Finding != "":
				f := g.Findings[t.Finding]
				if _, ok := via[t.Finding]; !ok && f.Stop == graph.NoStop && !s.refuted[t.Finding] {
					via[t.Finding] = id
				}
			case t.Step != "":
				walk(t.Step)
			}
		}
		for _, i := range s.open(g, st, "") {
			follow(st.Then[i].To)
		}
		if st.Unknown != nil && len(s.open(g, st, "")) > 1 {
			follow(*st.Unknown)
		}
	}
	if sy := g.Symptoms[s.symptom]; sy != nil {
		walk(sy.Start)
	}
	for _, t := range s.todo {
		if t.to.Step != "" {
			walk(t.to.Step)
		} else if _, ok := via[t.to.Finding]; !ok && t.to.Finding != "" && !s.refuted[t.to.Finding] {
			via[t.to.Finding] = t.from
		}
	}
	return steps, via
}

// Possible lists the findings that nothing known excludes, likeliest first: by
// how often each is the cause, those that the walk came to before those it did
// not.
func (s *State) Possible(g *graph.Graph) []Possible {
	_, via := s.reachable(g)
	var out []Possible
	total := 0.0
	for _, id := range g.FindingOrder {
		f := g.Findings[id]
		from, ok := via[id]
		status := IsPossible
		for _, t := range s.told {
			if t.Finding == f {
				status = t.Status
			}
		}
		if !ok && statusRank[status] < statusRank[IsClose] || status == IsRefuted || f.Stop != graph.NoStop || f.NoFault && status == IsPossible && !ok {
			continue
		}
		w := f.Often.Weight() * math.Pow(10, float64(statusRank[status]-1))
		out = append(out, Possible{Finding: f, Status: status, Share: w, Via: from})
		total += w
	}
	for i := range out {
		out[i].Share /= total
	}
	slices.SortStableFunc(out, func(a, b Possible) int { return cmp.Compare(b.Share, a.Share) })
	return out
}

// BestNext is the reading, not had so far, whose step divides what is possible
// most evenly for the minutes it costs.
func (s *State) BestNext(g *graph.Graph) *BestNext {
	steps, _ := s.reachable(g)
	var best *BestNext
	top := 0.0
	for _, id := range steps {
		st := g.Steps[id]
		open := s.open(g, st, "")
		if len(open) < 2 {
			continue
		}
		var missing *reading.Reading
		for _, a := range st.Ask {
			r := g.Readings[a]
			if t, ok := s.Stands(s.key(r, "").Reading, s.key(r, "").Place); !ok || !t.Known {
				missing = r
				break
			}
		}
		if missing == nil {
			continue
		}
		var w []float64
		sum := 0.0
		for _, i := range open {
			x := s.weight(g, st.Then[i].To)
			w = append(w, x)
			sum += x
		}
		bits := 0.0
		for _, x := range w {
			if x > 0 {
				bits -= x / sum * math.Log2(x/sum)
			}
		}
		minutes := max(missing.Minutes, 0.5)
		if gain := bits * sum / minutes; gain > top {
			top, best = gain, &BestNext{Reading: missing, Step: st, Minutes: missing.Minutes}
		}
	}
	return best
}
