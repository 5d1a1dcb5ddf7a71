package prove

import (
	"math"
	"slices"
	"strings"
)

// Rules of the reference: it stops when one finding covers this part of what is
// still possible, or when nothing tells more than so many bits.
const (
	enough   = 0.95
	leastBit = 0.02
)

// Cost is what an order of questions costs on the mean over the rows.
type Cost struct {
	Questions float64 `json:"questions"`
	Minutes   float64 `json:"minutes"`
	Right     float64 `json:"right"` // part of the rows whose finding it comes to
}

// plan is a table cut down to the rows of one complaint, ready to be searched.
type plan struct {
	t     *Table
	rows  []*Row
	tests []set // what can be asked together: the readings of a feature
	all   float64
	found map[string]found // what is best, by what is known and left
}

type found struct {
	ask  set
	rate float64
}

// plan keeps to the questions of may.
func (t *Table) plan(rows []*Row, may set) *plan {
	p := &plan{t: t, rows: rows, found: map[string]found{}}
	seen := map[string]bool{}
	for _, f := range t.Features {
		if k := f.reads.key(); !seen[k] && f.reads.within(may) {
			seen[k] = true
			p.tests = append(p.tests, f.reads)
		}
	}
	for _, r := range rows {
		p.all += r.Weight
	}
	return p
}

// covered is the largest part of rows that one finding would be right for.
func covered(rows []*Row) float64 {
	by, sum := map[string]float64{}, 0.0
	for _, r := range rows {
		sum += r.Weight
		for _, f := range r.Covers {
			by[f] += r.Weight
		}
	}
	top := 0.0
	for _, w := range by {
		top = max(top, w)
	}
	if sum == 0 {
		return 1
	}
	return top / sum
}

// entropy of the labels of rows, in bits.
func entropy(rows []*Row) float64 {
	var labels []string // in the order of the rows, so that sums come out the same every time
	by, sum := map[string]float64{}, 0.0
	for _, r := range rows {
		if _, ok := by[r.Label]; !ok {
			labels = append(labels, r.Label)
		}
		by[r.Label] += r.Weight
		sum += r.Weight
	}
	h := 0.0
	for _, l := range labels {
		if p := by[l] / sum; p > 0 {
			h -= p * math.Log2(p)
		}
	}
	return h
}

func weight(rows []*Row) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.Weight
	}
	return sum
}

// split parts rows by the features that come to be known when what is known grows
// from has to then, in the order of their first rows.
func (t *Table) split(rows []*Row, has, then set) [][]*Row {
	var fresh []int
	for i, f := range t.Features {
		if f.reads.within(then) && !f.reads.within(has) {
			fresh = append(fresh, i)
		}
	}
	at := map[string]int{}
	var out [][]*Row
	key := make([]byte, len(fresh))
	for _, r := range rows {
		for k, i := range fresh {
			key[k] = byte(r.Bins[i])
		}
		j, ok := at[string(key)]
		if !ok {
			j = len(out)
			at[string(key)] = j
			out = append(out, nil)
		}
		out[j] = append(out[j], r)
	}
	return out
}

// gain of asking: entropy before less entropy after, in bits.
func (t *Table) gain(rows []*Row, has, then set) float64 {
	parts := t.split(rows, has, then)
	if len(parts) < 2 {
		return 0
	}
	sum, after := weight(rows), 0.0
	for _, p := range parts {
		after += weight(p) / sum * entropy(p)
	}
	return entropy(rows) - after
}

// cost of asking what ask has and has does not: questions, minutes, and where the
// person then stands.
func (t *Table) cost(rows []*Row, has, ask set, stand string) (questions, minutes float64, end string) {
	for i, q := range t.Questions {
		if !ask.has(i) || has.has(i) {
			continue
		}
		times := 0.0
		for _, r := range rows {
			times += r.Times[i] * r.Weight
		}
		times /= weight(rows)
		questions += times
		minutes += times * q.Minutes
		if q.Stand != "" && q.Stand != stand {
			if stand != "" {
				minutes += standMinutes
			}
			stand = q.Stand
		}
	}
	return questions, minutes, stand
}

// greedy always asks what tells most for its minutes.
func (p *plan) greedy() Cost {
	return p.ask(p.rows, make(set, p.t.words), "").over(p.all)
}

func (c Cost) over(all float64) Cost {
	if all == 0 {
		return Cost{}
	}
	return Cost{c.Questions / all, c.Minutes / all, c.Right / all}
}

func (p *plan) ask(rows []*Row, has set, stand string) Cost {
	w := weight(rows)
	best, rate := p.best(rows, has, stand)
	if rate == 0 || covered(rows) >= enough {
		return Cost{Right: w * covered(rows)}
	}
	q, m, end := p.t.cost(rows, has, best, stand)
	then := has.with(best)
	total := Cost{Questions: q * w, Minutes: m * w}
	for _, part := range p.t.split(rows, has, then) {
		c := p.ask(part, then, end)
		total.Questions += c.Questions
		total.Minutes += c.Minutes
		total.Right += c.Right
	}
	return total
}

// best is what tells most for its minutes, and how much: bits per minute. rows are
// those that have the answers of the first of them to all that is known.
func (p *plan) best(rows []*Row, has set, stand string) (set, float64) {
	key := rows[0].Case + has.key() + stand
	f, ok := p.found[key]
	if !ok {
		f.ask, f.rate = p.look(rows, has, stand)
		p.found[key] = f
	}
	return f.ask, f.rate
}

func (p *plan) look(rows []*Row, has set, stand string) (set, float64) {
	var best set
	top := 0.0
	for _, ask := range p.tests {
		if ask.within(has) {
			continue
		}
		gain := p.t.gain(rows, has, has.with(ask))
		if gain < leastBit {
			continue
		}
		if _, m, _ := p.t.cost(rows, has, ask, stand); gain/m > top*(1+1e-9) {
			best, top = ask, gain/m
		}
	}
	return best, top
}

// bound is what no order of questions can fall below: the bits that the questions
// can tell at all, over the most that one question, or one minute, can.
func (p *plan) bound() (questions, minutes float64) {
	all := make(set, p.t.words)
	for _, ask := range p.tests {
		all = all.with(ask)
	}
	none := make(set, p.t.words)
	bits := p.t.gain(p.rows, none, all)
	perQ, perM := 0.0, 0.0
	for _, ask := range p.tests {
		n := float64(len(p.t.split(p.rows, none, ask)))
		if n < 2 {
			continue
		}
		q, m, _ := p.t.cost(p.rows, none, ask, "")
		perQ, perM = max(perQ, math.Log2(n)/q), max(perM, math.Log2(n)/m)
	}
	if perQ == 0 {
		return 0, 0
	}
	return bits / perQ, bits / perM
}

// huffman is the mean length of the shortest yes-no code of weights: no order of
// yes-no questions needs fewer on the mean (Huffman 1952).
func huffman(w []float64) float64 {
	w, all, sum := slices.Clone(w), 0.0, 0.0
	for _, x := range w {
		all += x
	}
	for len(w) > 1 {
		slices.SortFunc(w, func(a, b float64) int {
			switch {
			case a > b:
				return -1
			case a < b:
				return 1
			}
			return 0
		})
		n := len(w)
		w[n-2] += w[n-1]
		sum += w[n-2]
		w = w[:n-1]
	}
	if all == 0 {
		return 0
	}
	return sum / all
}

// optimum is the least mean minutes, by trying everything: the value of a set of
// rows is nothing where a finding covers it, else that of the best question and
// what is then left. ok is false when more than most rows would have to be looked
// at, counted anew for each question.
func (p *plan) optimum(most int) (minutes float64, ok bool) {
	o := &search{p: p, memo: map[string]float64{}, most: most}
	v := o.value(p.rows, make(set, p.t.words), "")
	if o.most < 0 || p.all == 0 {
		return 0, false
	}
	return v / p.all, true
}

type search struct {
	p    *plan
	memo map[string]float64
	most int
}

func (o *search) value(rows []*Row, has set, stand string) float64 {
	if covered(rows) >= enough {
		return 0
	}
	var b strings.Builder
	for _, r := range rows {
		b.WriteString(r.Case)
		b.WriteByte('|')
	}
	key := b.String() + has.key() + stand
	if v, ok := o.memo[key]; ok {
		return v
	}
	t, w := o.p.t, weight(rows)
	best := math.Inf(1)
	for _, ask := range o.p.tests {
		if ask.within(has) {
			continue
		}
		if o.most -= len(rows); o.most < 0 {
			return 0
		}
		then := has.with(ask)
		if t.gain(rows, has, then) < leastBit {
			continue
		}
		_, m, end := t.cost(rows, has, ask, stand)
		v := m * w
		for _, part := range t.split(rows, has, then) {
			if v >= best {
				break
			}
			v += o.value(part, then, end)
		}
		best = min(best, v)
		if o.most < 0 {
			return 0
		}
	}
	if math.IsInf(best, 1) {
		best = 0 // nothing tells these apart
	}
	o.memo[key] = best
	return best
}
