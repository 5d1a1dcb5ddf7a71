package prove

import (
	"cmp"
	"slices"

	"hotlug/engine/graph"
)

// Priced is what the knowledge asks after one complaint, beside the reference on
// the same cases.
type Priced struct {
	Symptom         string  `json:"symptom"`
	Cases           int     `json:"cases"`
	Weight          float64 `json:"weight"` // faults
	Questions       float64 `json:"questions"`
	Minutes         float64 `json:"minutes"`
	GreedyQuestions float64 `json:"greedy_questions"`
	GreedyMinutes   float64 `json:"greedy_minutes"`
	GreedyRight     float64 `json:"greedy_right"`
	BoundQuestions  float64 `json:"bound_questions"`
	BoundMinutes    float64 `json:"bound_minutes"`
	BestMinutes     float64 `json:"best_minutes,omitempty"` // exact optimum, 0 where it is too dear to find
}

// WorstStep is a place where the knowledge asks dearer than it could.
type WorstStep struct {
	Step    string  `json:"step"`
	Lost    float64 `json:"lost_minutes"` // a walk, over all walks of its complaints
	Visits  int     `json:"visits"`
	Bits    float64 `json:"bits_per_minute"`
	Best    float64 `json:"best_bits_per_minute"`
	Instead string  `json:"instead"` // what would tell most there, as a rule
}

// price compares the knowledge with the reference, complaint by complaint, and
// finds where it is dear.
func price(t *Table, g *graph.Graph, most int) (out []Priced, worst []WorstStep, noGain Part) {
	dear := map[string]*dearness{}
	idle, asked := 0, 0
	for _, sy := range g.SymptomOrder {
		rows := rowsOf(t.Rows, sy)
		if len(rows) == 0 {
			continue
		}
		p := t.plan(rows, t.reach(g, sy))
		x := Priced{Symptom: sy, Cases: len(rows), Weight: p.all}
		for _, r := range rows {
			q, m := r.run.diagnosing()
			x.Questions += q * r.Weight / p.all
			x.Minutes += m * r.Weight / p.all
		}
		c := p.greedy()
		x.GreedyQuestions, x.GreedyMinutes, x.GreedyRight = c.Questions, c.Minutes, c.Right
		x.BoundQuestions, x.BoundMinutes = p.bound()
		if v, ok := p.optimum(most); ok {
			x.BestMinutes = v
		}
		out = append(out, x)
		for _, r := range rows {
			i, n := p.follow(r, dear)
			idle, asked = idle+i, asked+n
		}
	}
	return out, worstOf(dear, len(t.Rows)), wilson(idle, asked)
}

// reach is what the knowledge may ask after a complaint: the reference gets the
// same questions, and no others.
func (t *Table) reach(g *graph.Graph, symptom string) set {
	may, seen, onward := make(set, t.words), map[string]bool{}, map[string]bool{}
	var follow func(to graph.Target)
	follow = func(to graph.Target) {
		if f := g.Findings[to.Finding]; f != nil && !onward[f.ID] {
			onward[f.ID] = true
			for _, t := range f.Onward() {
				follow(t)
			}
		}
		st := g.Steps[to.Step]
		if st == nil || seen[st.ID] {
			return
		}
		seen[st.ID] = true
		for _, id := range st.Ask {
			if i, ok := t.index[id]; ok {
				may.add(i)
			}
		}
		for _, b := range st.Then {
			follow(b.To)
		}
		if st.Unknown != nil {
			follow(*st.Unknown)
		}
	}
	follow(graph.Target{Step: g.Symptoms[symptom].Start})
	return may
}

func rowsOf(rows []*Row, symptom string) []*Row {
	return slices.DeleteFunc(slices.Clone(rows), func(r *Row) bool { return r.Symptom != symptom })
}

// diagnosing counts what a run asked to find the cause: not the danger sheet, and
// nothing after the first finding.
func (r *Run) diagnosing() (questions, minutes float64) {
	for _, a := range r.asked {
		if !a.Told && !a.Proof && !a.gate {
			questions++
			minutes += a.Minutes
		}
	}
	return questions, minutes
}

type dearness struct {
	lost, bits, best, minutes float64
	visits                    int
	instead                   counter
}

// follow goes along one walk and compares each step with the best that could have
// been asked there. It counts questions that told nothing.
func (p *plan) follow(r *Row, dear map[string]*dearness) (idle, asked int) {
	t, left := p.t, p.rows
	has := make(set, t.words)
	stand := ""
	for _, v := range visits(r.run) {
		ask, minutes := make(set, t.words), 0.0
		n := 0
		for _, a := range v {
			if i, ok := t.index[a.Reading]; ok && !has.has(i) {
				ask.add(i)
				n++
			}
			minutes += a.Minutes
		}
		then := has.with(ask)
		gain := t.gain(left, has, then)
		best, rate := p.best(left, has, stand)
		asked += n
		if n > 0 && len(t.split(left, has, then)) == 1 {
			idle += n
		}
		d := dear[v[0].Step]
		if d == nil {
			d = &dearness{instead: counter{}}
			dear[v[0].Step] = d
		}
		d.visits++
		d.bits += gain
		d.minutes += minutes
		d.best += rate
		if rate > 0 {
			d.lost += max(0, minutes-gain/rate)
			d.instead.add(t.names(best, has), r.Case)
		} else {
			d.lost += minutes
			d.instead.add("nothing more", r.Case)
		}
		for _, part := range t.split(left, has, then) {
			if slices.Contains(part, r) {
				left = part
				break
			}
		}
		has = then
		for _, a := range v {
			if i, ok := t.index[a.Reading]; ok && t.Questions[i].Stand != "" {
				stand = t.Questions[i].Stand
			}
		}
	}
	return idle, asked
}

// names lists what is asked.
func (t *Table) names(ask, has set) string {
	out := ""
	for i, q := range t.Questions {
		if ask != nil && ask.has(i) && !has.has(i) {
			if out != "" {
				out += ", "
			}
			out += q.Reading
		}
	}
	return out
}

// visits are the questions of a run by the step that asked them, up to the first
// finding.
func visits(r *Run) [][]Asked {
	var out [][]Asked
	last := ""
	for _, a := range r.asked {
		if a.Told || a.Proof || a.gate {
			continue
		}
		if len(out) == 0 || a.Step != last {
			out = append(out, nil)
			last = a.Step
		}
		out[len(out)-1] = append(out[len(out)-1], a)
	}
	return out
}

// mostWorst is how many steps the list of what to do next has.
const mostWorst = 10

func worstOf(dear map[string]*dearness, walks int) []WorstStep {
	var out []WorstStep
	for id, d := range dear {
		w := WorstStep{Step: id, Lost: d.lost / float64(max(1, walks)), Visits: d.visits, Best: d.best / float64(d.visits)}
		if d.minutes > 0 {
			w.Bits = d.bits / d.minutes
		}
		if l := d.instead.list(); len(l) > 0 {
			w.Instead = l[0].What
		}
		out = append(out, w)
	}
	slices.SortFunc(out, func(a, b WorstStep) int {
		return cmp.Or(cmp.Compare(b.Lost, a.Lost), cmp.Compare(a.Step, b.Step))
	})
	return out[:min(len(out), mostWorst)]
}
