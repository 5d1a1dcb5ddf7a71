package prove

import (
	"maps"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// Verdict says what a run was worth.
type Verdict string

// Verdicts.
const (
	Right      Verdict = "right"       // the first finding told is the fault's
	InGroup    Verdict = "in group"    // it is one that the fault's finding says it can't be told from
	StopRight  Verdict = "right stop"  // work was stopped, and there was danger
	StopWrong  Verdict = "wrong stop"  // work was stopped, and there was none
	Wrong      Verdict = "wrong"       // another fault was told first
	WrongPlace Verdict = "wrong place" // the right fault at a place where it is not
	SaidSound  Verdict = "said sound"  // it was told first that nothing is wrong
	InList     Verdict = "in list"     // nothing was told, and the cause is among the three likeliest
	NotInList  Verdict = "not in list" // nothing was told, and it is not among them
	NoneNamed  Verdict = "none named"  // of a rig without a listed fault, no fault was named
	Failure    Verdict = "failure"     // the walk did not end, or the rig could not be solved
)

// Good says whether a verdict counts as right first or within the stated group.
func (v Verdict) Good() bool { return v == Right || v == InGroup || v == StopRight || v == NoneNamed }

// judge knows which finding explains which fault.
type judge struct {
	g           *graph.Graph
	faults      map[string]*simrig.Fault
	shown       map[string][]string // findings by fault
	alike       map[string][]string // findings that those say they can't be told from, both ways
	dangerSheet string
	gates       map[string]bool // readings that only stop work, or let it go on
	inDanger    map[string]bool // readings of the danger sheet
}

func newJudge(g *graph.Graph, faults []*simrig.Fault) *judge {
	j := &judge{g: g, faults: map[string]*simrig.Fault{}, shown: map[string][]string{}, alike: map[string][]string{}}
	if st := g.Steps[g.DangerStep]; st != nil {
		j.dangerSheet = st.Sheet
	}
	for _, f := range faults {
		j.faults[f.ID] = f
	}
	j.gates, j.inDanger = gates(g), map[string]bool{}
	for _, st := range g.Steps {
		for _, id := range st.Ask {
			if st.Sheet == j.dangerSheet {
				j.inDanger[id] = true
			}
		}
	}
	near := map[string][]string{}
	for _, id := range g.FindingOrder {
		f := g.Findings[id]
		for _, x := range f.Shows {
			j.shown[x] = append(j.shown[x], id)
		}
		for _, a := range f.Alike {
			near[id] = append(near[id], a)
			near[a] = append(near[a], id)
		}
	}
	for fault, ids := range j.shown {
		for _, id := range ids {
			for _, a := range near[id] {
				if !slices.Contains(ids, a) && !slices.Contains(j.alike[fault], a) {
					j.alike[fault] = append(j.alike[fault], a)
				}
			}
		}
	}
	return j
}

// gates are the readings that steps ask for nothing but to stop work: no branch to
// anything else rests on them, so they tell no cause from another.
func gates(g *graph.Graph) map[string]bool {
	stops, tells := map[string]bool{}, map[string]bool{}
	for _, st := range g.Steps {
		for _, b := range st.Then {
			if b.If == nil {
				continue
			}
			f := g.Findings[b.To.Finding]
			for _, ref := range b.If.F.Refs() {
				if f != nil && f.Stop != graph.NoStop {
					stops[ref.Name] = true
				} else {
					tells[ref.Name] = true
				}
			}
		}
	}
	maps.DeleteFunc(stops, func(id string, _ bool) bool { return tells[id] || g.Readings[id] == nil })
	return stops
}

// stops says that a reading is asked for nothing but to stop work.
func (j *judge) stops(reading string) bool {
	return j.gates[reading] || j.inDanger[reading]
}

func (j *judge) fault(id string) *simrig.Fault { return j.faults[id] }

// homeless lists the faults of the catalogue that no finding shows although they
// are not meant to be unlisted, and what findings show that is no fault.
func (j *judge) homeless() (faults, shows []string) {
	for id, f := range j.faults {
		if !f.Unlisted && len(j.shown[id]) == 0 {
			faults = append(faults, id)
		}
	}
	for id := range j.shown {
		if j.faults[id] == nil {
			shows = append(shows, id)
		}
	}
	slices.Sort(faults)
	slices.Sort(shows)
	return faults, shows
}

// inDanger says whether work is rightly stopped on a rig whatever its fault is.
func inDanger(t Truth) bool {
	return t.Danger != "" || t.Melts || t.PVVolts > handVolts || t.BankVolts > handVolts
}

// justStop says that a first finding only closed a place that is dangerous
// indeed: the hunt goes on.
func (j *judge) justStop(n *Named, t Truth) bool {
	f := j.g.Findings[n.Finding]
	return f.Stop == graph.StopPlace && inDanger(t)
}

// verdict scores a finished run.
func (j *judge) verdict(r *Run, t Truth) {
	r.Verdict = j.score(r, t)
}

func (j *judge) score(r *Run, t Truth) Verdict {
	if r.Err != "" {
		return Failure
	}
	if r.First == nil {
		switch r.Kind {
		case Healthy, Unlisted:
			return NoneNamed
		}
		top := r.Possible[:min(3, len(r.Possible))]
		for _, s := range r.Sets {
			for _, id := range top {
				if slices.Contains(j.shown[s.Fault], id) || slices.Contains(j.alike[s.Fault], id) {
					return InList
				}
			}
		}
		return NotInList
	}
	f := j.g.Findings[r.First.Finding]
	for _, s := range r.Sets {
		switch {
		case slices.Contains(j.shown[s.Fault], f.ID):
			if j.misplaced(r, s) {
				return WrongPlace
			}
			return Right
		case slices.Contains(j.alike[s.Fault], f.ID):
			return InGroup
		}
	}
	switch {
	case f.Stop != graph.NoStop && inDanger(t):
		return StopRight
	case f.Stop != graph.NoStop:
		return StopWrong
	case f.NoFault && (r.Kind == Healthy || r.Kind == Unlisted):
		return NoneNamed
	case f.NoFault:
		return SaidSound
	case r.First.Status == walk.IsClose && (r.Kind == Healthy || r.Kind == Unlisted):
		return NoneNamed // too close to call is no naming
	}
	return Wrong
}

// misplaced says that the finding was told at another place of the rig than the
// fault's, of the same kind.
func (j *judge) misplaced(r *Run, s simrig.Set) bool {
	return r.First.Place != "" && s.At != "" && r.First.Place != s.At &&
		r.classes[s.At] != "" && r.classes[s.At] == r.classes[r.First.Place]
}
