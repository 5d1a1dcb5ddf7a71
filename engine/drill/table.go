package drill

import (
	"math"
	"slices"

	"hotlug/engine/reading"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// suspect is one way in which the rig could be wrong and bring this complaint: a
// fault at a site, tried at several severities. The sound rig is one too.
type suspect struct {
	finding string // id, "" for the sound rig
	rigs    []Rig
	spans   map[walk.Key]span
}

// span is what a suspect can answer to a reading.
type span struct {
	lo, hi  float64
	choices []string
	unknown bool
}

// Limits on how much is tried after a drill: it must not keep anybody waiting.
const (
	mostSites    = 4
	mostSuspects = 90
)

// tries are the severities and chances at which a suspect is tried.
var tries = [][2]float64{{0.1, 0.15}, {0.9, 0.85}}

// suspects lists what could bring the complaint on this rig.
func (d *Drill) suspects() []*suspect {
	out := []*suspect{d.suspect("", nil)}
	for _, f := range d.c.Faults {
		found := findingOf(d.g, f.ID)
		if found == nil || f.Unlisted || !slices.Contains(f.Shown, d.c.Symptom) {
			continue
		}
		for i, at := range sitesOf(f, d.c.Sys) {
			if i == mostSites || len(out) == mostSuspects {
				break
			}
			var sets []simrig.Set
			for _, t := range tries {
				sets = append(sets, simrig.Set{Fault: f.ID, At: at, Severity: severity(f, t[0]), Chance: t[1]})
			}
			if s := d.suspect(found.ID, sets); len(s.rigs) > 0 {
				out = append(out, s)
			}
		}
	}
	return out
}

func (d *Drill) suspect(finding string, sets []simrig.Set) *suspect {
	s := &suspect{finding: finding, spans: map[walk.Key]span{}}
	each := [][]simrig.Set{nil}
	if sets != nil {
		each = each[:0]
		for _, x := range sets {
			each = append(each, []simrig.Set{x})
		}
	}
	for _, x := range each {
		if r, err := d.c.Make(x, "exact"); err == nil {
			r.Complain(d.c.Symptom)
			s.rigs = append(s.rigs, r)
		}
	}
	return s
}

// answers is what a suspect can answer at a key.
func (s *suspect) answers(k walk.Key) span {
	if sp, ok := s.spans[k]; ok {
		return sp
	}
	sp := span{lo: math.Inf(1), hi: math.Inf(-1)}
	for _, r := range s.rigs {
		a := r.Take(k.Reading, k.Place)
		switch {
		case !a.Known:
			sp.unknown = true
		case a.Choice != "":
			sp.choices = append(sp.choices, a.Choice)
		default:
			sp.lo, sp.hi = min(sp.lo, a.True), max(sp.hi, a.True)
		}
	}
	s.spans[k] = sp
	return sp
}

// allows says whether a suspect could have given an answer. Numbers are allowed
// the meter's error and a tenth, since severities lie between those tried.
func (s *suspect) allows(k walk.Key, a simrig.Answer) bool {
	sp := s.answers(k)
	switch {
	case !a.Known:
		return true // nothing is concluded from what could not be had
	case a.Choice != "":
		return sp.unknown || slices.Contains(sp.choices, a.Choice)
	}
	slack := 0.1*math.Abs(a.Value) + 2*a.Digit + math.Abs(a.Value-a.True)
	return sp.unknown || a.Value >= sp.lo-slack && a.Value <= sp.hi+slack
}

// worth goes through the trainee's readings in order and says of each how many
// suspects it has ruled out. What was read after a repair speaks of another rig.
func (d *Drill) worth(all []*suspect) []int {
	left := slices.Clone(all)
	out := make([]int, len(d.acts))
	for i, a := range d.acts {
		if a.Reading == "" || a.after {
			out[i] = 1
			continue
		}
		k := walk.Key{Reading: a.Reading, Place: a.Place}
		kept := remaining(left, k, a.Answer)
		out[i] = len(left) - len(kept)
		if len(kept) > 0 { // two faults at once can contradict every single one
			left = kept
		}
	}
	return out
}

// toldNothing lists the readings that ruled nothing out. What the knowledge takes
// too is no waste: it may be wanted for a figure, or for the proof.
func (d *Drill) toldNothing(worth []int, own Path) []string {
	var out []string
	for i, a := range d.acts {
		if a.Reading == "" || worth[i] > 0 || a.Reading == d.g.DangerReading || d.g.Readings[a.Reading].Class == reading.Fact {
			continue
		}
		if a.Reading == "meter_difference_v" || slices.ContainsFunc(own.Asked, func(k walk.Key) bool {
			k = d.same(k)
			return k.Reading == a.Reading && (k.Place == "" || k.Place == a.Place)
		}) {
			continue
		}
		out = append(out, a.Say)
	}
	if len(out) > 0 {
		out = append([]string{"These readings ruled out nothing that was still possible:"}, out...)
	}
	return out
}
