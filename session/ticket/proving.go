package ticket

import (
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// Proving is a system proved part by part, for a sheet that people sign.
type Proving struct {
	Result string   `json:"result"`        // passed, not passed or not finished
	Parts  []Part   `json:"parts"`         // in the order of the procedure
	Open   []string `json:"open"`          // what stands between it and a pass
	Hand   []string `json:"for_licensed"`  // what is left to a licensed person
	Begun  string   `json:"begun_at_step"` // the procedure's first step
}

// The results of a proving.
const (
	Passed      = "passed"
	NotPassed   = "not passed"
	NotFinished = "not finished"
)

// Part is one part of the procedure with its result.
type Part struct {
	Name   string `json:"name"`
	Result string `json:"result"`
	Say    string `json:"say,omitempty"` // the finding, or why there is no result
	Read   []Line `json:"read"`          // what was read, place by place
}

// The results of a part.
const (
	InOrder   = "in order"
	Mended    = "fault mended and proved"
	FaultOpen = "fault open"
	LeftOpen  = "left open"
	NotNeeded = "not needed"
	NotDone   = "not done"
)

// Line is what was read at one place, in words.
type Line struct {
	Place string `json:"place,omitempty"`
	Say   string `json:"say"`
}

// proving is the sheet of a walk that proves a system, nil for a hunt: a procedure
// is a complaint that begins in a sheet whose steps say what part they are.
func (m maker) proving(t *Ticket) *Proving {
	sy := m.g.Symptoms[m.s.Symptom()]
	if sy == nil || m.g.Steps[sy.Start] == nil {
		return nil
	}
	p := &Proving{Parts: []Part{}, Open: []string{}, Hand: []string{}, Begun: sy.Start}
	index := map[string]int{}
	var steps []*graph.Step
	for _, id := range m.g.StepOrder {
		if st := m.g.Steps[id]; st.Part != "" && st.Sheet == m.g.Steps[sy.Start].Sheet {
			index[id] = len(steps)
			steps = append(steps, st)
		}
	}
	if len(steps) == 0 {
		return nil
	}
	seen := m.seenParts(steps, index)
	for i, st := range steps {
		p.Parts = append(p.Parts, m.part(st, seen, i))
	}
	p.judge(m, seen)
	p.leave(t)
	return p
}

// partSeen is what the walk saw of one part.
type partSeen struct {
	visits []walk.Visit
	found  []string // ids of the findings that came of it
	away   bool     // the last visit led to another sheet and did not come back
	at     int      // where in the trail the part was first walked
	led    string   // what led to it from the step before
	sure   bool     // and that was no guess
}

// seenParts shares the trail out among the parts. What another sheet found on a
// way that began at a part belongs to that part.
func (m maker) seenParts(steps []*graph.Step, index map[string]int) []partSeen {
	seen := make([]partSeen, len(steps))
	at, led, sure := -1, "", true
	for n, v := range m.s.Trail(m.g) {
		st := m.g.Steps[v.Step]
		switch {
		case st == nil || v.Step == m.g.DangerStep:
			continue
		case st.Sheet == steps[0].Sheet:
			at = -1
			if i, ok := index[v.Step]; ok {
				at = i
				if len(seen[i].visits) == 0 {
					seen[i].at, seen[i].led, seen[i].sure = n, led, sure
				}
				seen[i].visits = append(seen[i].visits, v)
			}
			led, sure = v.Why, !v.Assumed
		}
		if at < 0 {
			continue
		}
		seen[at].away = false
		if m.g.Findings[v.Took] != nil {
			seen[at].found = append(seen[at].found, v.Took)
		} else if to := m.g.Steps[v.Took]; to != nil && to.Sheet != steps[0].Sheet {
			seen[at].away = true
		}
	}
	return seen
}

// passedOver says why part i was not walked although a later one was, in the words
// of the step that led past it, and whether that is certain; "" if none was.
func passedOver(seen []partSeen, i int) (why string, sure bool) {
	first := -1
	for j, s := range seen[i+1:] {
		if len(s.visits) > 0 && (first < 0 || s.at < seen[first].at) {
			first = i + 1 + j
		}
	}
	if first < 0 {
		return "", false
	}
	return orElse(seen[first].led, "what was known before"), seen[first].sure
}

func (m maker) part(st *graph.Step, all []partSeen, i int) Part {
	p := Part{Name: st.Part, Result: NotDone, Read: []Line{}}
	seen := all[i]
	if len(seen.visits) == 0 {
		switch why, sure := passedOver(all, i); {
		case sure:
			p.Result, p.Say = NotNeeded, why
		case why != "":
			p.Result, p.Say = LeftOpen, "not walked: "+why
		}
		return p
	}
	last := seen.visits[len(seen.visits)-1]
	p.Read = m.partRead(seen.visits)
	var open, mended, lacks []string
	for _, f := range m.s.Told() {
		if !slices.Contains(seen.found, f.Finding.ID) {
			continue
		}
		say := f.Finding.Cause
		if f.Place.Name != "" {
			say += " At " + f.Place.Name + "."
		}
		switch {
		case f.Status == walk.IsProven:
			mended = append(mended, say)
		case f.Status == walk.IsPossible:
			lacks = append(lacks, "possible: "+strings.TrimSuffix(say, "."))
		case f.Finding.NoFault && f.Status != walk.IsRefuted:
			lacks = append(lacks, strings.TrimSuffix(say, "."))
		case f.Status != walk.IsRefuted:
			open = append(open, say)
		}
	}
	for _, k := range last.Asked {
		if !k.Known {
			lacks = append(lacks, m.g.NameOf(k.Reading)+" not known: "+orElse(k.Reason, "no reason given"))
		}
	}
	switch {
	case len(open) > 0:
		p.Result, p.Say = FaultOpen, strings.Join(open, " ")
	case len(lacks) > 0 || last.Assumed || seen.away:
		p.Result, p.Say = LeftOpen, orElse(strings.Join(lacks, "; "), "the readings did not settle it")
	case len(mended) > 0:
		p.Result, p.Say = Mended, strings.Join(mended, " ")
	default:
		p.Result = InOrder
	}
	return p
}

// partRead lists what was read in a part's visits, the newest value of each
// reading, one line a place in the order of the walk.
func (m maker) partRead(visits []walk.Visit) []Line {
	type key struct{ place, reading string }
	say := map[key]string{}
	var places []string
	order := map[string][]string{} // by place, the readings in their order
	for _, v := range visits {
		for _, k := range v.Asked {
			if !k.Known {
				continue
			}
			at := key{k.Place, k.Reading}
			if _, again := say[at]; !again {
				order[k.Place] = append(order[k.Place], k.Reading)
			}
			if !slices.Contains(places, k.Place) {
				places = append(places, k.Place)
			}
			say[at] = m.s.Shown(m.g, k)
		}
	}
	var out []Line
	for _, place := range places {
		var all []string
		for _, id := range order[place] {
			all = append(all, m.g.NameOf(id)+": "+say[key{place, id}])
		}
		out = append(out, Line{Place: m.placeName(place), Say: strings.Join(all, "; ")})
	}
	return out
}

func (m maker) placeName(id string) string {
	for _, p := range m.s.Places() {
		if p.ID == id && id != "" {
			return p.Name
		}
	}
	return id // of a part of the rig that is no place, or nothing
}

// judge says how the whole came out. It is never kinder than its parts: a pass
// needs the finding that passes to be proven, and no part open.
func (p *Proving) judge(m maker, seen []partSeen) {
	passes, faults := false, false
	for _, f := range m.s.Told() {
		ofPart := slices.ContainsFunc(seen, func(s partSeen) bool { return slices.Contains(s.found, f.Finding.ID) })
		switch {
		case f.Finding.Passes:
			passes = passes || f.Status == walk.IsProven
		case f.Finding.Stop != graph.NoStop || !ofPart && (f.Status == walk.IsLikely || f.Status == walk.IsClose):
			faults = true
			p.Open = append(p.Open, f.Finding.Cause)
		}
	}
	var rest []string
	for _, x := range p.Parts {
		switch x.Result {
		case FaultOpen, LeftOpen:
			faults = faults || x.Result == FaultOpen
			p.Open = append(p.Open, x.Name+": "+x.Say)
		case NotDone:
			rest = append(rest, x.Name)
		}
	}
	if len(rest) > 0 {
		p.Open = append(p.Open, "not done yet: "+strings.Join(rest, "; "))
	}
	switch {
	case passes && len(p.Open) == 0:
		p.Result = Passed
	case faults || passes || m.s.Outcome() != walk.Running:
		p.Result = NotPassed
	default:
		p.Result = NotFinished
	}
	if len(p.Open) == 0 && p.Result != Passed {
		p.Open = append(p.Open, "the last reading of the procedure is still to come")
	}
}

// leave lists what is left to a licensed person.
func (p *Proving) leave(t *Ticket) {
	add := func(say string) {
		if say != "" && !slices.Contains(p.Hand, say) {
			p.Hand = append(p.Hand, say)
		}
	}
	for _, f := range t.Findings {
		for _, l := range f.Fix {
			if l.Who == string(graph.Electrician) {
				add(l.Say)
			}
		}
		add(f.HandTo)
	}
	for _, c := range t.Closed {
		if c.Who == string(graph.Electrician) {
			add(c.Reason)
		}
	}
}
