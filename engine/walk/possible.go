package walk

import (
	"cmp"
	"math"
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// onTheWay is a step that can still be on it, and the place at hand there.
type onTheWay struct {
	step  *graph.Step
	place string
	last  *visit // when it was last left, nil if it has not been
}

// reachable lists the steps that can still be on the way and the findings that
// are not excluded, each with the step it hangs on. Where a step was left, what
// its readings said then counts, though they may have lapsed since.
func (s *State) reachable(g *graph.Graph) (steps []onTheWay, via map[string]string) {
	via = map[string]string{}
	done := map[string]bool{}
	left := map[string]*visit{}
	for i := range s.trail {
		left[s.trail[i].step.ID] = &s.trail[i]
	}
	var walk func(id, place string)
	follow := func(t graph.Target, from, place string) {
		switch {
		case t.Finding != "":
			f := g.Findings[t.Finding]
			if _, ok := via[t.Finding]; !ok && f.Stop == graph.NoStop && !s.refuted[t.Finding] {
				via[t.Finding] = from
			}
		case t.Step != "":
			walk(t.Step, place)
		}
	}
	walk = func(id, place string) {
		if done[id] {
			return
		}
		done[id] = true
		st, v := g.Steps[id], left[id]
		if v != nil {
			steps = append(steps, onTheWay{st, v.place, v})
			follow(v.to, id, v.place)
			for _, t := range v.rest {
				follow(t, id, v.place)
			}
			return
		}
		steps = append(steps, onTheWay{step: st, place: place})
		open := s.open(g, st, place)
		for _, i := range open {
			follow(st.Then[i].To, id, place)
		}
		if st.Unknown != nil && len(open) > 1 {
			follow(*st.Unknown, id, place)
		}
	}
	if sy := g.Symptoms[s.symptom]; sy != nil {
		walk(sy.Start, "")
	}
	for _, v := range s.trail {
		walk(v.step.ID, v.place)
	}
	for _, f := range []*frame{&s.cur, s.saved} {
		if f != nil && f.mode == atStep && f.step.ID != g.DangerStep {
			walk(f.step.ID, f.place)
		}
	}
	for _, t := range s.todo {
		follow(t.to, t.from, t.place)
	}
	return steps, via
}

// Possible lists the findings that nothing known excludes, likeliest first.
func (s *State) Possible(g *graph.Graph) []Possible { return s.rank(g) }

// rank orders what is still possible: by how often each is the cause, by how
// likely the answers so far are where it is, those that the walk came to before
// those it did not.
func (s *State) rank(g *graph.Graph) []Possible {
	_, via := s.reachable(g)
	said := s.said(g)
	var out []Possible
	top := math.Inf(-1)
	for _, id := range g.FindingOrder {
		f := g.Findings[id]
		from, ok := via[id]
		status := IsPossible
		for _, t := range s.told {
			if t.Finding == f {
				status, ok = t.Status, true
			}
		}
		if !ok || status == IsRefuted || f.Stop != graph.NoStop {
			continue
		}
		w := math.Log(f.Often.Weight()*math.Pow(10, float64(statusRank[status]-1))) + said.of(g, id)
		out = append(out, Possible{Finding: f, Status: status, Share: w, Via: from})
		top = max(top, w)
	}
	total := 0.0
	for i := range out {
		out[i].Share = math.Exp(out[i].Share - top)
		total += out[i].Share
	}
	for i := range out {
		out[i].Share /= total
	}
	slices.SortStableFunc(out, func(a, b Possible) int { return cmp.Compare(b.Share, a.Share) })
	return out
}

// Of a finding that is a guess: how many times as likely another cause must be, and
// from how many answers on that says anything.
const (
	muchLikelier = 2
	enoughSaid   = 5
)

// guess says that a finding is one guess among several: a step on the way to it was
// left open, and the answers so far are much likelier where another is the cause. A
// reading of its own speaks for it, and others speak against it. Of findings that
// were never counted nothing is said.
func (s *State) guess(g *graph.Graph, f *graph.Finding) bool {
	odds := g.Odds()
	if !odds.Knows(f.ID) || !slices.ContainsFunc(s.trail, func(v visit) bool { return !v.settled && !v.close }) {
		return false
	}
	said := s.said(g)
	own, top := said.of(g, f.ID), math.Inf(-1)
	_, via := s.reachable(g)
	for id := range via {
		o := g.Findings[id]
		if s.refuted[id] || !odds.Knows(id) {
			continue
		}
		if x := said.of(g, id); slices.Contains(f.Alike, id) || slices.Contains(o.Alike, f.ID) {
			own = max(own, x)
		} else {
			top = max(top, x)
		}
	}
	if f.NoFault { // that nothing is wrong is said only where nothing else is likelier
		return top > own
	}
	return len(said) >= enoughSaid && top > own+math.Log(muchLikelier)
}

// said is what has been answered, as the odds count it.
type said []struct {
	reading string
	bucket  int
}

// said lists the last answer to each reading; of a reading at several places, the
// highest.
func (s *State) said(g *graph.Graph) said {
	odds := g.Odds()
	if odds == nil {
		return nil
	}
	volts := 12.0
	if t, ok := s.Stands(g.SystemVolts, ""); ok && t.Known {
		volts = t.Value
	}
	last := map[string]*Take{}
	var order []string
	for _, t := range s.takes {
		r := g.Readings[t.Reading]
		if !t.Known || r == nil || odds.Buckets(r.ID) == 0 {
			continue
		}
		o := last[r.ID]
		switch {
		case o == nil:
			order = append(order, r.ID)
		case o.Place != t.Place && o.Value > t.Value:
			continue
		}
		last[r.ID] = t
	}
	var out said
	for _, id := range order {
		r, t := g.Readings[id], last[id]
		v := t.Value
		if r.Scales {
			v *= 12 / volts
		}
		out = append(out, struct {
			reading string
			bucket  int
		}{id, odds.Bucket(r, v, t.Choice)})
	}
	return out
}

// of is the logarithm of how likely what was said is where a finding is the cause.
func (x said) of(g *graph.Graph, finding string) float64 {
	sum := 0.0
	for _, y := range x {
		if p, ok := g.Odds().Likely(y.reading, finding, y.bucket); ok {
			sum += math.Log(p)
		}
	}
	return sum
}

// Minutes that going to another place and bringing the rig into another state cost.
const (
	goMinutes  = 1
	setMinutes = 2
)

// BestNext is the reading, not had so far, that divides what is possible most
// evenly for the minutes it costs from where the person and the rig now stand. A
// place that is closed is none to send anybody to.
func (s *State) BestNext(g *graph.Graph) *BestNext {
	steps, _ := s.reachable(g)
	shares := map[string]float64{}
	for _, p := range s.rank(g) {
		shares[p.Finding.ID] = p.Share
	}
	stand := s.standing(g)
	var best *BestNext
	top := 0.0
	for _, w := range steps {
		st := w.step
		open := s.open(g, st, w.place)
		if len(open) < 2 || w.last != nil && w.last.settled || s.shut(g, w) {
			continue
		}
		missing := s.missing(g, w)
		if missing == nil {
			continue
		}
		minutes := max(missing.Minutes, 0.5)
		if missing.Stand != "" && stand != "" && missing.Stand != stand {
			minutes += goMinutes
		}
		states := s.toSet(g, missing)
		minutes += setMinutes * float64(len(states))
		if gain := parted(g, st, open, shares) / minutes; gain > top {
			top, best = gain, &BestNext{Reading: missing, Step: st, Minutes: missing.Minutes, States: states}
			if missing.Stand != stand {
				best.Stand = missing.Stand
			}
			if k := s.key(missing, w.place); k.Place != "" {
				best.Place = s.placeByID(k.Place)
			}
		}
	}
	return best
}

// parted is the bits by which the branches of a step part what is possible, times
// the share of it that lies behind them.
func parted(g *graph.Graph, st *graph.Step, open []int, shares map[string]float64) float64 {
	var parts []float64
	sum := 0.0
	for _, i := range open {
		to := st.Then[i].To
		x := shares[to.Finding]
		for _, f := range g.Reach(to.Step) {
			x += shares[f]
		}
		parts = append(parts, x)
		sum += x
	}
	bits := 0.0
	for _, x := range parts {
		if x > 0 {
			bits -= x / sum * math.Log2(x/sum)
		}
	}
	return bits * sum
}

// standing is where the person took the last reading that has to be taken
// somewhere, "" if there was none.
func (s *State) standing(g *graph.Graph) string {
	for _, t := range slices.Backward(s.takes) {
		if r := g.Readings[t.Reading]; r != nil && r.Stand != "" && t.Known && t.Origin == Read {
			return r.Stand
		}
	}
	return ""
}

// toSet lists the states that a reading needs and the rig is not in.
func (s *State) toSet(g *graph.Graph, r *reading.Reading) []*reading.State {
	var out []*reading.State
	for _, id := range r.State {
		if st := g.States[id]; st != nil && !slices.Contains(s.states, id) {
			out = append(out, st)
		}
	}
	return out
}

// missing is the first reading that the step asks for and that is not known.
func (s *State) missing(g *graph.Graph, w onTheWay) *reading.Reading {
	for _, id := range w.step.Ask {
		r := g.Readings[id]
		k := s.key(r, w.place)
		if t, ok := s.Stands(k.Reading, k.Place); !ok || !t.Known {
			return r
		}
	}
	return nil
}

// shut says that a step was closed, or is to anyone without a licence.
func (s *State) shut(g *graph.Graph, w onTheWay) bool {
	for _, c := range s.closed {
		if c.Step == w.step.ID {
			return true
		}
	}
	if w.step.Needs == nil {
		return false
	}
	d, _ := s.decide(g, w.step.Needs, w.place)
	return d.Verdict == formula.CertainlyFalse
}
