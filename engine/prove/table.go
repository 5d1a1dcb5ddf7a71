package prove

import (
	"math/bits"
	"slices"
	"strconv"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// set is a set of small numbers.
type set []uint64

func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }
func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) drop(i int)     { s[i/64] &^= 1 << (i % 64) }
func (s set) within(o set) bool {
	for i := range s {
		if s[i]&^o[i] != 0 {
			return false
		}
	}
	return true
}
func (s set) less(o set) set {
	out := slices.Clone(s)
	for i := range o {
		out[i] &^= o[i]
	}
	return out
}
func (s set) with(o set) set {
	out := slices.Clone(s)
	for i := range o {
		out[i] |= o[i]
	}
	return out
}
func (s set) len() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}
func (s set) key() string {
	b := make([]byte, 0, 17*len(s))
	for _, w := range s {
		b = strconv.AppendUint(append(b, ' '), w, 16)
	}
	return string(b)
}

// Feature is something that is known once its readings are: the answer to a
// question with choices, or whether a condition of the knowledge holds.
type Feature struct {
	Name  string
	reads set
}

// Question is a reading as the reference can ask for it.
type Question struct {
	Reading  string
	Minutes  float64
	Stand    string
	Lay      bool   // can't hurt anybody
	Class    string // of places over which it is taken, "" for none
	Measured bool
}

// Row is one case with all its answers, told apart as the knowledge does.
type Row struct {
	Case    string
	Label   string   // the finding that is its own
	Covers  []string // findings that would be right
	Weight  float64
	Bins    []int8    // by feature; 0 is not known
	Times   []float64 // by question: how often it has to be asked for the place to be found
	Symptom string
	run     *Run
	gates   []int8 // how it stands at each gate
	sound   bool   // a rig without a fault
}

// fault is what the row is a case of, "" for a sound rig.
func (r *Row) fault() string {
	if r.run == nil {
		return r.Label
	}
	return r.run.Fault
}

// Table is faults against questions.
type Table struct {
	Questions []Question
	Features  []Feature
	Rows      []*Row

	words int // of a set of questions
	index map[string]int
	gates []gate
	gate  map[string]int // by the condition's text
}

// newTable lays out the features of a knowledge.
func newTable(g *graph.Graph) *Table {
	t := &Table{index: map[string]int{}}
	for _, id := range g.ReadingOrder {
		r := g.Readings[id]
		if r.Class == reading.Fact && r.Rig != "" || id == g.DangerReading {
			continue // it stands in the rig's papers, or is asked first of all
		}
		hazard := r.Hazard != ""
		for _, st := range r.State {
			hazard = hazard || g.States[st] != nil && g.States[st].Hazard != ""
		}
		t.index[id] = len(t.Questions)
		t.Questions = append(t.Questions, Question{id, max(r.Minutes, 0.5), r.Stand, !hazard, r.Over, r.Class == reading.Measurement})
	}
	t.words = (len(t.Questions) + 63) / 64
	t.gatesOf(g)
	return t
}

// probe is a condition that a feature stands for.
type probe struct {
	cond  *graph.Condition
	read  *reading.Reading // or a question with choices
	class string           // of places at which it is judged
}

// probes lists the features of a knowledge: its choices and its conditions.
func (t *Table) probes(g *graph.Graph) []probe {
	var out []probe
	for i, q := range t.Questions {
		if r := g.Readings[q.Reading]; r.Answer != reading.Number {
			reads := make(set, t.words)
			reads.add(i)
			t.Features = append(t.Features, Feature{q.Reading, reads})
			out = append(out, probe{read: r, class: q.Class})
		}
	}
	seen := map[string]bool{}
	add := func(c *graph.Condition) {
		if c == nil || seen[c.Text] {
			return
		}
		seen[c.Text] = true
		reads, class := make(set, t.words), ""
		for _, ref := range c.F.Refs() {
			if ref.Form == formula.Was {
				return // of the round before, which is no question of now
			}
			i, ok := t.index[ref.Name]
			if !ok {
				continue
			}
			reads.add(i)
			if o := t.Questions[i].Class; o != "" {
				class = o
			}
		}
		if reads.len() == 0 || reads.len() == 1 && len(c.F.Refs()) == 1 && g.Readings[c.F.Refs()[0].Name].Answer != reading.Number {
			return // nothing to ask, or told by the choice itself
		}
		t.Features = append(t.Features, Feature{c.Text, reads})
		out = append(out, probe{cond: c, class: class})
	}
	for _, id := range g.StepOrder {
		st := g.Steps[id]
		if st.Sheet == g.Steps[g.DangerStep].Sheet {
			continue
		}
		for _, b := range st.Then {
			add(b.If)
		}
		add(st.Until)
	}
	return out
}

// row asks a rig everything, and tells its answers apart.
func (t *Table) row(g *graph.Graph, probes []probe, start *walk.State, b *Base, x Rig, run *Run) *Row {
	row := &Row{Case: run.Name(), Symptom: run.Symptom, run: run, Times: make([]float64, len(t.Questions))}
	byClass := map[string][]string{}
	for _, p := range b.Places {
		byClass[p.Class] = append(byClass[p.Class], p.ID)
	}
	focus := x.Focus()
	at := map[string]string{} // the place by class at which conditions are judged
	for class, ids := range byClass {
		if slices.Contains(ids, focus) {
			at[class] = focus
		}
	}
	var facts []walk.Event
	for i, q := range t.Questions {
		r := g.Readings[q.Reading]
		row.Times[i] = 1
		places := []string{""}
		if q.Class != "" && len(byClass[q.Class]) > 0 {
			if places = byClass[q.Class]; at[q.Class] == focus && focus != "" {
				places = []string{focus}
			} else {
				row.Times[i] = float64(len(places)+1) / 2
			}
		}
		top, best := 0.0, ""
		for _, p := range places {
			a := x.Take(r.ID, p)
			if !a.Known {
				continue
			}
			e := eventOf(r, p, a)
			e.Kind = walk.EvFact
			facts = append(facts, e)
			if r.Answer == reading.Number && (best == "" || a.Value > top) {
				top, best = a.Value, p
			}
		}
		if _, ok := at[q.Class]; !ok && q.Class != "" && best != "" {
			at[q.Class] = best
		}
	}
	s := walk.Know(g, start, facts)
	for _, p := range probes {
		row.Bins = append(row.Bins, bin(g, s, p, at[p.class]))
	}
	row.gates = t.passes(g, s, at)
	return row
}

// bin is what is known of a feature: 0 nothing, else its answer counted from 1.
func bin(g *graph.Graph, s *walk.State, p probe, place string) int8 {
	if p.cond == nil {
		t, ok := s.Stands(p.read.ID, place)
		if !ok {
			t, ok = s.Stands(p.read.ID, "")
		}
		if !ok || !t.Known {
			return 0
		}
		return int8(t.Choice + 1)
	}
	return verdictBin(s.Judge(g, p.cond, place))
}

// verdictBin is 2 for what holds, 1 for what does not, 0 for what nobody knows.
func verdictBin(d formula.Decision) int8 {
	switch {
	case d.Verdict == formula.NotSettled:
		return 0
	case d.Verdict == formula.CertainlyTrue, d.Verdict != formula.CertainlyFalse && d.Likelier:
		return 2
	}
	return 1
}
