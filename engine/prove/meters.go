package prove

import (
	"fmt"

	"hotlug/engine/formula"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// classes are the meters tried, the one that the target is for first: a meter that
// keeps to a good specification, one as most people have it, and a cheap one.
var classes = []string{"good", "hand", "cheap"}

// movedWalks is how many walks with moved readings go against one with exact ones.
const movedWalks = 2

// meters are the walks of a case with exact readings and with moved ones, for each
// class of meter.
func (t *trier) meters(c Case, b *Base, start *walk.State, symptom string) ([]result, error) {
	var out []result
	for _, class := range classes {
		m, _ := quantity.MeterByID(class)
		x := remember(func() (Rig, error) { return t.src.Exact(b, c.Sets, class) })
		x.symptom = symptom
		same := &person{meter: class, firm: true, says: func(q question) simrig.Answer { return q.shows }}
		exact := t.r.walkFrom(symptom, c, b, start, x, same)
		for n := range movedWalks {
			x.again()
			run := t.r.walkFrom(symptom, c, b, start, x, moved(t.g, class, seedOf(c.Seed, "moved", n)))
			res := t.result(m.Name+", moved", run)
			res.within = run.Within != ""
			if a, b := endOf(exact), endOf(run); a != b {
				res.changed = true
				res.cause = m.Name + ": " + c.Fault + ", " + a + " -> " + b
			} else {
				res.because(m.Name)
			}
			if res.within {
				res.cause = m.Name + ", firm within its error: " + run.First.Finding + " by " + run.Within
			}
			out = append(out, res)
		}
		if x.err != nil {
			return nil, x.err
		}
	}
	return out, nil
}

// endOf is what a walk came to, for comparing it with another of the same case.
func endOf(r *Run) string {
	if r.First == nil {
		return "a list"
	}
	return r.First.Finding + atPlace(r.First.Place)
}

// points is how many points within the limits of the readings a firm finding's
// condition is tried on.
const points = 16

// turned tries the condition on which a finding was told with readings moved within
// their errors, point by point and without the walk's own limits. It gives the
// condition if at some point it does not hold, "" if it always does.
func (w *walker) turned(t walk.Told) string {
	for _, v := range w.s.Trail(w.g) {
		st := w.g.Steps[v.Step]
		if v.Took != t.Finding.ID || v.Assumed || st == nil {
			continue
		}
		for _, b := range st.Then {
			if b.If == nil || b.To.Finding != t.Finding.ID || w.s.Judge(w.g, b.If, v.Place).Verdict != formula.CertainlyTrue {
				continue
			}
			for n := range points {
				s := walk.Know(w.g, w.s, w.within(n))
				if d := s.Judge(w.g, b.If, v.Place); d.Verdict == formula.CertainlyFalse {
					return b.If.Text
				}
			}
		}
	}
	return ""
}

// within are all readings that stand, moved to a point within their errors, and
// exact there.
func (w *walker) within(n int) []walk.Event {
	var out []walk.Event
	chance := question{r: &reading.Reading{}, round: n}.chance(w.run.Seed, "point")
	gain := map[string]float64{}
	for _, m := range quantity.Meters() {
		gain[m.ID] = 2*chance.Float64() - 1
	}
	for _, t := range w.s.Takes() {
		r := w.g.Readings[t.Reading]
		if !t.Known || r == nil || r.Answer != reading.Number || r.Class == reading.Fact {
			continue
		}
		m, ok := quantity.MeterByID(t.Meter)
		if !ok {
			continue
		}
		part, abs := m.Error(r.Kind, t.Value, t.Digit)
		v := t.Value*(1+gain[m.ID]*part) + abs*(2*chance.Float64()-1)
		out = append(out, walk.Event{Kind: walk.EvFact, Reading: t.Reading, Place: t.Place, Value: &v, Meter: "eye", Origin: walk.Read})
	}
	return out
}

// answerOf is a fact of the rig's papers as an answer.
func answerOf(f rig.Fact) simrig.Answer {
	return simrig.Answer{Known: true, Value: f.Value, Digit: f.Digit, Choice: f.Choice, True: f.Value}
}

// factOf is the fact with another answer.
func factOf(f rig.Fact, a simrig.Answer) rig.Fact {
	f.Value, f.Choice = a.Value, a.Choice
	f.Text = a.Choice
	if f.Reading.Answer == reading.Number {
		f.Text = fmt.Sprint(a.Value)
	}
	return f
}
