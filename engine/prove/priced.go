package prove

import (
	"cmp"
	"math"
	"slices"

	"hotlug/engine/graph"
)

// Priced is what the knowledge asks after one complaint, beside what the best order
// of the same questions on the same cases would ask. Cases that the knowledge gets
// wrong are left out on both sides.
type Priced struct {
	Symptom   string  `json:"symptom"`
	Cases     int     `json:"cases"`
	Weight    float64 `json:"weight"` // faults
	Questions float64 `json:"questions"`
	Minutes   float64 `json:"minutes"`
	// The optimum in questions lies between Least, which no order can undercut, and
	// Best, which one reaches. They are the same where it is exact.
	Best  float64 `json:"best_questions"`
	Least float64 `json:"least_questions"`
	Exact bool    `json:"exact"`
	// GreedyMinutes is what always asking what tells most for its minutes takes.
	GreedyMinutes   float64 `json:"greedy_minutes"`
	GreedyQuestions float64 `json:"greedy_questions"`
}

// DearStep is a step, and what asking there costs more than the best order would.
type DearStep struct {
	Step    string  `json:"step"`
	Visits  int     `json:"visits"`         // walks that pass
	Asked   int     `json:"asked"`          // questions asked there in all
	Lost    float64 `json:"lost_questions"` // of all walks: what it asks more than it saves
	PerWalk float64 `json:"lost_per_walk"`  // the same, on the mean of all walks
	Bits    float64 `json:"bits_per_minute"`
	Best    float64 `json:"best_bits_per_minute"` // of the best permitted question there
	Instead string  `json:"instead"`              // which that is, as a rule
	After   string  `json:"after"`                // complaint after which it costs most
	Order   string  `json:"order,omitempty"`      // the knowledge's reason why it stays
}

// price compares the knowledge with the best order, complaint by complaint, and
// finds where it is dear, dearest first.
func price(t *Table, g *graph.Graph, most int) (out []Priced, steps []DearStep, noGain Part) {
	dear := map[string]*dearness{}
	idle, asked, walks := 0, 0, 0.0
	for _, sy := range g.SymptomOrder {
		rows := rowsOf(t.Rows, sy)
		if !slices.ContainsFunc(rows, func(r *Row) bool { return !r.sound }) {
			continue
		}
		p := t.permits(g, sy)
		table := t.gameOf(g, rows, p)
		x := Priced{Symptom: sy, Weight: table.all}
		for _, r := range rows {
			if r.sound {
				continue
			}
			q, m := r.run.diagnosing()
			x.Cases++
			x.Questions += q * r.Weight / table.all
			x.Minutes += m * r.Weight / table.all
		}
		l := table.bracket(most)
		x.Least, x.Best = l.lo/table.all, l.hi/table.all
		x.Exact = x.Best-x.Least < 1e-9
		c := table.greedy(table.root(), byMinutes)
		x.GreedyMinutes, x.GreedyQuestions = c.Minutes/table.all, c.Questions/table.all
		out = append(out, x)
		walks += table.all
		for i, r := range rows {
			if !r.sound {
				a, b := table.follow(i, dear)
				idle, asked = idle+a, asked+b
			}
		}
	}
	return out, dearest(g, dear, walks), wilson(idle, asked)
}

// gameOf cuts the table down to rows of a complaint and to what the knowledge may
// ask and judges by after it.
func (t *Table) gameOf(g *graph.Graph, rows []*Row, p permits) *game {
	may, judged := make(set, t.words), map[string]bool{}
	for q, w := range p.ways {
		if len(w) > 0 {
			may.add(q)
			judged[t.Questions[q].Reading] = true // by its choice
		}
	}
	for _, id := range p.steps {
		st := g.Steps[id]
		for _, b := range st.Then {
			if b.If != nil {
				judged[b.If.Text] = true
			}
		}
		if st.Until != nil {
			judged[st.Until.Text] = true
		}
	}
	symptom := rows[0].Symptom
	other := slices.DeleteFunc(slices.Clone(t.Rows), func(r *Row) bool { return r.Symptom == symptom })
	return newGame(t, rows, other, may, p, judged)
}

// bracket is between what the optimum in questions lies.
func (g *game) bracket(most int) limits {
	l := g.optimum(most)
	if l.hi-l.lo > 1e-9 {
		l.hi = max(l.lo, min(l.hi, g.ahead(g.root())))
	}
	return l
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
	lost, weight, bits, best, minutes float64
	visits, asked                     int
	instead, after                    counter
}

// follow goes along one walk and compares each step with the best that could have
// been asked there. What a step costs is what it asks, and what the best order
// would still have to ask after it, less what that would have had to ask before:
// over all walks these add up to what the knowledge asks too much. It counts
// questions that told nothing.
func (g *game) follow(row int, dear map[string]*dearness) (idle, asked int) {
	r := g.rows[row]
	n := g.root()
	for _, v := range visits(r.run) {
		ask, minutes := make(set, g.t.words), 0.0
		fresh := 0
		for _, a := range v {
			if i, ok := g.t.index[a.Reading]; ok && !n.has.has(i) {
				ask.add(i)
				fresh++
			}
			minutes += a.Minutes
		}
		then := n.has.with(ask)
		o := g.option(n, ask, g.split(n, then))
		best, _ := g.best(n, byMinutes)
		asked += fresh
		if fresh > 0 && len(o.parts) == 1 && o.parts[0].left == n.left {
			idle += fresh
		}
		d := dear[v[0].Step]
		if d == nil {
			d = &dearness{instead: counter{}, after: counter{}}
			dear[v[0].Step] = d
		}
		d.visits++
		d.asked += len(v)
		d.bits += o.gain
		d.minutes += minutes
		if best.minutes > 0 {
			d.best += best.gain * g.weight(n) / best.minutes
		}
		d.instead.add(cmp.Or(g.t.names(best.ask, n.has), "nothing more"), r.Case)
		next := o.parts[slices.IndexFunc(o.parts, func(p node) bool { return slices.Contains(p.rows, row) })]
		lost := float64(len(v)) + g.mean(next) - g.mean(n)
		d.lost += lost
		d.weight += lost * r.Weight
		for range int(math.Round(10 * max(0, lost))) {
			d.after.add(r.Symptom, r.Case)
		}
		for _, a := range v {
			if i, ok := g.t.index[a.Reading]; ok && g.t.Questions[i].Stand != "" {
				next.stand = g.t.Questions[i].Stand
			}
		}
		n = next
	}
	return idle, asked
}

// mean is what greedy asks at a node, on the mean of its rows.
func (g *game) mean(n node) float64 {
	if w := g.weight(n); w > 0 {
		n.stand = ""
		return g.greedy(n, byQuestions).Questions / w
	}
	return 0
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

// dearest are the steps of the knowledge, those that cost most first.
func dearest(g *graph.Graph, dear map[string]*dearness, walks float64) []DearStep {
	var out []DearStep
	for id, d := range dear {
		w := DearStep{Step: id, Lost: d.lost, PerWalk: d.weight / max(walks, 1e-9), Visits: d.visits, Asked: d.asked,
			Best: d.best / float64(d.visits)}
		if d.minutes > 0 {
			w.Bits = d.bits / d.minutes
		}
		if l := d.instead.list(); len(l) > 0 {
			w.Instead = l[0].What
		}
		if l := d.after.list(); len(l) > 0 {
			w.After = l[0].What
		}
		if st := g.Steps[id]; st != nil {
			w.Order = st.Order
		}
		out = append(out, w)
	}
	slices.SortFunc(out, func(a, b DearStep) int {
		return cmp.Or(cmp.Compare(b.PerWalk, a.PerWalk), cmp.Compare(a.Step, b.Step))
	})
	return out
}
