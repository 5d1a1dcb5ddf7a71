package prove

import (
	"math"
	"slices"
)

// measure is what an order of questions is judged by.
type measure int

const (
	byQuestions measure = iota
	byMinutes
)

// price is what an option costs, times the weight of its rows.
func (o option) price(m measure) float64 {
	if m == byMinutes {
		return o.minutes
	}
	return o.questions
}

// Cost is what an order of questions costs on the mean.
type Cost struct {
	Questions float64 `json:"questions"`
	Minutes   float64 `json:"minutes"`
}

// best is the option that tells most for its price. Where what would tell most is
// not permitted yet, what opens the way to it is asked if nothing else tells.
func (g *game) best(n node, m measure) (option, bool) {
	var top option
	rate, found := 0.0, false
	for _, o := range g.options(n) {
		r := o.gain * g.weight(n) / max(1e-9, o.price(m))
		r = max(r, 1e-9) // what only opens a way, rather than nothing
		if r > rate*(1+1e-9) {
			top, rate, found = o, r, true
		}
	}
	return top, found
}

// greedy always asks what tells most for its price. Weights are not divided out.
func (g *game) greedy(n node, m measure) Cost {
	if g.settled(n) {
		return Cost{}
	}
	key := n.key() + string(rune('a'+m))
	if c, ok := g.memo[key]; ok {
		return c
	}
	var c Cost
	if o, ok := g.best(n, m); ok {
		c = Cost{o.questions, o.minutes}
		for _, p := range o.parts {
			x := g.greedy(p, m)
			c.Questions += x.Questions
			c.Minutes += x.Minutes
		}
	}
	g.memo[key] = c
	return c
}

// lookedAt is how many options of a node are followed to their ends.
const lookedAt = 6

// ahead is greedy that looks ahead: of the few options that tell most for their
// price it takes that whose greedy end is the cheapest.
func (g *game) ahead(n node) float64 {
	if g.settled(n) {
		return 0
	}
	opts := slices.Clone(g.options(n))
	slices.SortStableFunc(opts, func(a, b option) int {
		ra, rb := a.gain/max(1e-9, a.questions), b.gain/max(1e-9, b.questions)
		switch {
		case ra > rb:
			return -1
		case ra < rb:
			return 1
		}
		return 0
	})
	best := math.Inf(1)
	var take option
	for i, o := range opts {
		if i >= lookedAt && o.gain > 1e-9 {
			continue
		}
		v := o.questions
		for _, p := range o.parts {
			v += g.greedy(p, byQuestions).Questions
		}
		if v < best-1e-12 {
			best, take = v, o
		}
	}
	if math.IsInf(best, 1) {
		return 0
	}
	v := take.questions
	for _, p := range take.parts {
		v += g.ahead(p)
	}
	return min(v, best)
}

// search is for the exact optimum in questions, by trying all orders but those that
// are seen to be no better: the value of a node is nothing where a finding is right
// for all its rows, else that of the best option with what is then left.
type search struct {
	g    *game
	memo map[string]limits
	most int // options that may still be looked at
}

// limits are what a value lies between; the same where it is exact.
type limits struct{ lo, hi float64 }

// optimum is what no order of questions can undercut, and what one is known to
// reach; equal if all could be tried.
func (g *game) optimum(most int) limits {
	s := &search{g: g, memo: map[string]limits{}, most: most}
	return s.value(g.root())
}

// least is a bound: a node that is not settled costs at least one question.
func (s *search) least(n node) float64 {
	if s.g.settled(n) {
		return 0
	}
	return s.g.weight(n)
}

func (s *search) value(n node) limits {
	if s.g.settled(n) {
		return limits{}
	}
	n.stand = "" // costs no question
	key := n.key()
	if v, ok := s.memo[key]; ok {
		return v
	}
	opts := s.g.options(n)
	if len(opts) == 0 {
		return limits{} // nothing tells these apart
	}
	type try struct {
		o  option
		lo float64
	}
	tries := make([]try, len(opts))
	for i, o := range opts {
		tries[i] = try{o, o.questions}
		for _, p := range o.parts {
			tries[i].lo += s.least(p)
		}
	}
	slices.SortStableFunc(tries, func(a, b try) int {
		switch {
		case a.lo < b.lo:
			return -1
		case a.lo > b.lo:
			return 1
		case a.o.gain > b.o.gain:
			return -1
		}
		return 0
	})
	v := limits{math.Inf(1), s.g.greedy(n, byQuestions).Questions}
	for _, x := range tries {
		if x.lo >= v.hi-1e-12 {
			v.lo = min(v.lo, x.lo)
			break
		}
		if s.most--; s.most < 0 {
			v.lo = min(v.lo, x.lo)
			break // the others are no lower
		}
		c := limits{x.o.questions, x.o.questions}
		rest := x.lo - x.o.questions
		for _, p := range x.o.parts {
			rest -= s.least(p)
			pv := s.value(p)
			c.lo, c.hi = c.lo+pv.lo, c.hi+pv.hi
			if c.lo+rest >= v.hi-1e-12 {
				c.lo, c.hi = c.lo+rest, math.Inf(1)
				break
			}
		}
		v.lo, v.hi = min(v.lo, c.lo), min(v.hi, c.hi)
	}
	v.lo = min(v.lo, v.hi)
	if v.hi-v.lo < 1e-9 || s.most >= 0 {
		if s.most >= 0 {
			v.lo = v.hi // all others were seen to be no better
		}
		s.memo[key] = v
	}
	return v
}
