package walk

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

// mostCautions is how many cautions stand before one question; more are not read.
const mostCautions = 3

// warn puts the cautions with a prompt that have not been given this round.
func (n *State) warn(g *graph.Graph, p *Prompt) {
	var ids []string
	switch {
	case p.Action != nil:
		ids = slices.Clone(p.Action.Cautions)
	case p.Reading != nil && p.Kind == WantAnswer:
		ids = slices.Clone(p.Reading.Cautions)
		for _, st := range p.Reading.State {
			if s := g.States[st]; s != nil {
				ids = append(ids, s.Cautions...)
			}
		}
	}
	for _, c := range g.Precedence(ids) {
		if n.given[c.ID] {
			continue
		}
		if len(p.Cautions) == mostCautions {
			break
		}
		n.given[c.ID] = true
		p.Cautions = append(p.Cautions, c)
	}
}

// warnAnew puts all cautions of the prompt with it, whatever was given on the way:
// what was asked there was answered without being shown.
func (n *State) warnAnew(g *graph.Graph) {
	n.given = map[string]bool{}
	n.prompt.Cautions = nil
	n.warn(g, &n.prompt)
}

// ifOdd turns a question into one about its odd answer, if there is one that
// waits to be confirmed.
func (n *State) ifOdd(g *graph.Graph, p Prompt) Prompt {
	if n.cur.doubt == nil {
		return p
	}
	r := p.Reading
	if p.Kind != WantAnswer || r.ID != n.cur.doubt.Reading || p.Place.ID != n.cur.doubt.Place {
		n.dropOdd() // a fact that came in has answered the question otherwise
		return p
	}
	t, law, l := n.taken(g, r, *n.cur.doubt), n.cur.doubtLaw, n.limitsOf(g, r)
	p.Kind = WantSure
	p.Odd = &Odd{Value: t.Value, Say: n.oddSays(g, r, t, law), Lo: l.PlausibleLo, Hi: l.PlausibleHi, Suggest: n.meantBy(g, r, t), Law: law}
	if law != nil && len(p.Odd.Suggest) == 0 {
		p.Odd.Other = n.otherSlip(g, r, t, law)
	}
	return p
}

// limitsOf are the possible and the plausible range of a reading.
func (n *State) limitsOf(g *graph.Graph, r *reading.Reading) quantity.Limits {
	pl, po := n.scaleRange(g, r, r.Plausible), n.scaleRange(g, r, r.Possible)
	if !pl.Set {
		pl = po
	}
	return quantity.Limits{PossibleLo: po.Lo, PossibleHi: po.Hi, PlausibleLo: pl.Lo, PlausibleHi: pl.Hi}
}

// meant asks back what an impossible value may have been meant to be, or is "".
func (n *State) meant(g *graph.Graph, r *reading.Reading, v float64) string {
	var out []string
	for _, x := range quantity.Slips(v, r.Kind, n.limitsOf(g, r)) {
		out = append(out, n.show(r, x))
	}
	if len(out) == 0 {
		return ""
	}
	return " Did you mean " + strings.Join(out[:min(2, len(out))], " or ") + "?"
}

func (n *State) closeCall(g *graph.Graph, st *graph.Step, c choice) *CloseCall {
	b := st.Then[c.branch]
	cc := n.closeOf(g, c.cond, c.vals)
	if cc.branch = c.branch; n.cur.tried>>uint(c.branch)&1 == 0 {
		cc.Better = b.Better
	}
	cc.Likelier, _ = n.leaveOpen(g, st, c)
	cc.Other = b.To
	if cc.Other == cc.Likelier {
		for _, i := range n.open(g, st, n.cur.place) {
			if t := st.Then[i].To; t != cc.Likelier {
				cc.Other = t
				break
			}
		}
	}
	return cc
}

// widthOf is how wide a value is, for telling which reading to take again.
type widthOf struct {
	key   Key
	width float64
}

func (n *State) closeOf(g *graph.Graph, c *graph.Condition, v []Val) *CloseCall {
	cc := &CloseCall{Condition: c.Text, Reasons: c.F.Because(v, n.shower(g)), Say: n.sentence(g, c, v)}
	var w []widthOf
	for i, ref := range c.F.Refs() {
		r := g.Readings[ref.Name]
		if ref.Form != formula.Here || r.Answer != reading.Number || r.Class == reading.Fact {
			continue
		}
		scale := max(v[i].Mid, -v[i].Mid)
		if scale > 0 {
			w = append(w, widthOf{Key{r.ID, n.key(r, n.cur.place).Place}, (v[i].Hi - v[i].Lo) / scale})
		}
	}
	slices.SortStableFunc(w, func(a, b widthOf) int { return cmp.Compare(b.width, a.width) })
	for _, x := range w {
		cc.Readings = append(cc.Readings, x.key)
	}
	return cc
}

// sentence is a close call in one sentence, with the numbers.
func (n *State) sentence(g *graph.Graph, c *graph.Condition, v []Val) string {
	all := c.F.Because(v, n.shower(g))
	var texts []string
	for _, r := range all {
		if r.Close {
			texts = append(texts, r.Text)
		}
	}
	if len(texts) == 0 { // limits that only halving could tell apart
		for _, r := range all {
			texts = append(texts, r.Text)
		}
	}
	return upperFirst(strings.Join(texts, ", and ")) + "."
}

// takeBetter opens the readings that settle a close call better.
func (n *State) takeBetter(g *graph.Graph, c *CloseCall) {
	n.cur.finer = c.Better
	n.cur.tried |= 1 << uint(c.branch)
	for _, id := range c.Better.Ask {
		r := g.Readings[id]
		if k := n.key(r, n.cur.place); r.Class != reading.Fact {
			n.forget(k)
		}
	}
}

// forget takes away a take that is to be read anew, as if it had never been.
func (n *State) forget(k Key) {
	if i, ok := n.now.get(k); ok {
		n.stale = append(n.stale, n.takes[i].event)
		n.now = n.now.without(k)
	}
}

// recall lets the take stand again that was forgotten for a better one which could
// not be had, if there is one.
func (n *State) recall(g *graph.Graph, k Key) bool {
	for i := len(n.takes) - 1; i >= n.cur.from; i-- {
		if t := n.takes[i]; t.Known && n.key(g.Readings[t.Reading], t.Place) == k {
			n.now = n.now.with(k, i)
			n.stale = slices.DeleteFunc(slices.Clone(n.stale), func(at int) bool { return at == t.event })
			return true
		}
	}
	return false
}

// decides names the close call at hand: the condition, where, and the readings
// that leave it open. With other readings it is another call.
func (n *State) decides() string {
	c := n.prompt.Close
	s := n.cur.place + "|" + c.Condition
	for _, k := range c.Readings {
		if i, ok := n.now.get(k); ok {
			s += fmt.Sprintf("|%s@%s=%v", k.Reading, k.Place, n.takes[i].Value)
		}
	}
	return s
}

// ended is the last prompt of a walk.
func (n *State) ended(g *graph.Graph) Prompt {
	p := Prompt{Kind: Ended, Outcome: n.outcome, Round: n.round}
	for i := range n.told {
		t := n.told[i]
		p.Findings = append(p.Findings, &t)
		if t.Finding.Stop == graph.StopWalk {
			p.Finding = &t
			p.Cautions = t.Cautions
		}
	}
	if n.outcome != Stopped {
		p.Possible = n.Possible(g)
		if n.outcome == Narrowed {
			p.Best = n.BestNext(g)
		}
	}
	return p
}
