package ticket

import (
	"slices"
	"strings"

	"hotlug/engine/walk"
)

// verdicts tells for each take, by its index among the walk's takes, what it
// showed: the reason of the first branch that names it, from the step that asked
// for it on; of a proof's reading, how the proof came out. It is "" for what
// decided nothing.
func (m maker) verdicts() []string {
	takes := m.s.Takes()
	out := make([]string, len(takes))
	visits := m.s.Trail(m.g)
	at := m.askedAt(takes, visits)
	for i, k := range takes {
		if say := m.proofOf(takes, i); say != "" {
			out[i] = say
			continue
		}
		if at[i] < 0 {
			continue
		}
		name, shown := m.g.NameOf(k.Reading), m.s.Shown(m.g, k)
		for _, v := range visits[at[i]:] {
			// Of several takes of one reading, the reason tells the value it means.
			another := strings.Contains(v.Why, name+" (") && !strings.Contains(v.Why, name+" ("+shown+")")
			if strings.Contains(v.Why, name) && !another {
				out[i] = v.Why
				break
			}
		}
		if out[i] == name+": "+shown { // that stands in the next column
			out[i] = ""
		}
	}
	return out
}

// askedAt is the index of the visit that each take was asked in, -1 for none.
func (m maker) askedAt(takes []walk.Take, visits []walk.Visit) []int {
	out := make([]int, len(takes))
	v, n := 0, 0
	for i, k := range takes {
		out[i] = -1
		if k.Origin == walk.File || k.Origin == walk.Worked {
			continue
		}
		for v < len(visits) && n == len(visits[v].Asked) {
			v, n = v+1, 0
		}
		if v < len(visits) {
			out[i] = v
			n++
		}
	}
	return out
}

// proofOf says how the proof came out that take i was read for, "" if for none.
func (m maker) proofOf(takes []walk.Take, i int) string {
	k := takes[i]
	for _, t := range m.s.Told() {
		p := t.Finding.Prove
		if p == nil || t.Pending || k.Round != t.Round+1 || !slices.Contains(p.Ask, k.Reading) {
			continue
		}
		if slices.ContainsFunc(takes[:i], func(b walk.Take) bool {
			return b.Reading == k.Reading && b.Place == k.Place && b.Round == k.Round
		}) {
			continue
		}
		switch t.Status {
		case walk.IsProven:
			return "proves the fix of " + t.Finding.ID
		case walk.IsRefuted:
			return "the fix of " + t.Finding.ID + " did not change it: not the cause, or not the only one"
		case walk.IsClose:
			return "too close to call whether the fix of " + t.Finding.ID + " did it"
		}
	}
	return ""
}
