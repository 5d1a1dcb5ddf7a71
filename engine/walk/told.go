package walk

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

var statusRank = map[Status]int{IsPossible: 1, IsClose: 2, IsLikely: 3, IsProven: 4}

// arrive is what happens when a branch leads to a finding.
func (n *State) arrive(g *graph.Graph, f *graph.Finding) {
	place, status := n.cur.place, IsLikely
	switch {
	case n.cur.assumed || n.guess(g, f):
		status = IsPossible
	case n.cur.close:
		status = IsClose
	}
	n.cur.mode = atEnd
	switch f.Stop {
	case graph.StopWalk:
		n.find(g, f, place, IsHandedOver, false)
		n.outcome = Stopped
	case graph.StopPlace:
		n.find(g, f, place, IsHandedOver, false)
		n.closed = append(n.closed, Closed{Step: lastStep(n.trail), Place: place, Reason: f.Cause, Who: graph.Electrician})
	default:
		n.find(g, f, place, status, false)
	}
}

func lastStep(trail []visit) string {
	if len(trail) == 0 {
		return ""
	}
	return trail[len(trail)-1].step.ID
}

// find records a finding, once: a stronger status replaces a weaker one. A
// refuted finding stays refuted. It returns the index in n.told, or -1.
func (n *State) find(g *graph.Graph, f *graph.Finding, place string, status Status, second bool) int {
	if n.refuted[f.ID] {
		return -1
	}
	for i := range n.told {
		t := &n.told[i]
		switch {
		case t.Finding != f:
			continue
		case t.Place.ID != place && (f.Stop == graph.StopPlace || t.Status == IsProven): // each place is handed over, and mended
			continue
		}
		if statusRank[status] > statusRank[t.Status] {
			t.Status, t.Round, t.Place, t.Close = status, n.round, n.placeOrNone(place), n.cur.calls
			n.tell(g, i)
		}
		t.Second = t.Second && second
		return i
	}
	n.told = append(n.told, Told{Finding: f, Status: status, Place: n.placeOrNone(place), Round: n.round, Second: second, Close: n.cur.calls})
	n.tell(g, len(n.told)-1)
	return len(n.told) - 1
}

func (n *State) placeOrNone(id string) reading.PlaceOnRig {
	if id == "" {
		return reading.PlaceOnRig{}
	}
	return n.placeByID(id)
}

// untold is the most dangerous finding whose turn has not come yet, or -1.
// While the hunt goes on, second faults wait.
func (n *State) untold(hunting bool) int {
	best := -1
	for i, t := range n.told {
		if t.shown || statusRank[t.Status] < statusRank[IsClose] || t.Status == IsProven || hunting && t.Second {
			continue
		}
		if best < 0 || t.Finding.Unsafe > n.told[best].Finding.Unsafe {
			best = i
		}
	}
	return best
}

// tell puts a finding into words with the readings of the moment at which it was
// reached: what is done later changes them.
func (n *State) tell(g *graph.Graph, i int) {
	t := &n.told[i]
	f, place := t.Finding, t.Place.ID
	t.Working, t.Fix, t.Odd = nil, nil, nil
	for _, on := range n.now {
		if k := n.takes[on.take]; k.Odd != "" {
			t.Odd = append(t.Odd, k.Odd)
		}
	}
	t.Because = n.text(g, f.Because, place)
	for _, id := range f.Working {
		v := g.Values[id]
		t.Working = append(t.Working, v.Is.Working(id, v.Label, n.values(g, v.Is, place), n.shower(g)))
	}
	cautions := slices.Clone(f.Cautions)
	for _, l := range f.Fix {
		line := FixLine{Who: l.Who}
		if a := g.Actions[l.Action]; a != nil {
			line.Say, line.How = a.Say, a.How
			line.Who = graph.Stricter(l.Who, a.Who)
			cautions = append(cautions, a.Cautions...)
		} else {
			line.Say = n.text(g, l.Say, place)
		}
		t.Fix = append(t.Fix, line)
	}
	t.Cautions = g.Precedence(cautions)
	if f.Prove != nil {
		t.Proof = n.proofWords(g, f.Prove, place)
	}
}

func (n *State) proofWords(g *graph.Graph, p *graph.Proof, place string) string {
	w := p.If.F.Wanted(n.values(g, p.If.F, place), n.shower(g))
	if p.Say != "" {
		return p.Say + " " + w
	}
	return w
}

// text puts values into a line. When one is not known, the line's other words
// are used.
func (n *State) text(g *graph.Graph, t graph.Text, place string) string {
	out := ""
	for _, p := range t.Parts {
		switch {
		case p.Place:
			name := n.placeOrNone(place).Name
			if name == "" {
				name = "this place"
			}
			out += name
		case p.Value != nil:
			v := n.values(g, p.Value, place)
			s, ok := p.Value.Said(v, n.shower(g))
			if !ok {
				return t.Or
			}
			out += s
		default:
			out += p.Literal
		}
	}
	return out
}

// fixed takes note that a fix was made: what it sets is set, a new round opens,
// and the proof is asked for.
func (n *State) fixed(g *graph.Graph, t *Told) {
	f, place := t.Finding, t.Place.ID
	t.Pending = true
	type setting struct {
		r *reading.Reading
		v float64
	}
	var set []setting
	for _, s := range f.Sets {
		if v, ok := s.F.ActOn(n.values(g, s.F, place)); ok {
			set = append(set, setting{g.Readings[s.Fact], v})
		}
	}
	var opened, touches []string
	if f.Prove != nil {
		opened = f.Prove.Ask
	}
	if place != "" {
		touches = append(touches, place)
	}
	for _, l := range f.Fix {
		if a := g.Actions[l.Action]; a != nil {
			touches = append(touches, a.Touches...)
		}
	}
	told := n.cur.told
	n.nextRound(g, byFix(f.ID), opened, touches, place)
	for _, s := range set {
		v := s.v
		n.put(g, s.r, n.key(s.r, place), Event{Kind: EvFact, Value: &v, Origin: Worked}, len(n.log)-1, false)
	}
	n.cur = frame{mode: atProof, told: told, place: place, from: len(n.takes)}
	if f.Prove == nil {
		t.Pending = false
		n.cur.mode = atEnd
	}
}

func (n *State) fixPrompt(g *graph.Graph) Prompt {
	t := n.told[n.cur.told]
	return Prompt{Kind: WantFix, Finding: &t, Round: n.round, Place: t.Place}
}

// runProof asks for the proof's readings and judges them.
func (n *State) runProof(g *graph.Graph) (Prompt, bool) {
	t := &n.told[n.cur.told]
	pr := t.Finding.Prove
	base := Prompt{Proof: true, Finding: t.copy(), Round: n.round, Place: t.Place}
	as := graph.Branch{If: pr.If, Better: pr.Better}
	for _, id := range pr.Ask {
		if _, d, _ := n.decideBranch(g, as, n.cur.place); d.Certain() {
			break
		}
		if p, waits := n.ask(g, id, base); waits {
			return p, true
		}
	}
	cond, d, v := n.decideBranch(g, as, n.cur.place)
	holds := d.Verdict == formula.CertainlyTrue
	switch d.Verdict {
	case formula.NotSettled:
		n.cur.mode = atEnd // pending: the proof could not be read
		return base, false
	case formula.Close, formula.Undecided:
		if !n.cur.goOn {
			if b := n.cur.finer; b != nil {
				if p, waits := n.askFor(g, b.Ask, base); waits {
					return p, true
				}
			}
			base.Kind, base.Close = WantCloseCall, n.closeOf(g, cond, v)
			if n.cur.tried == 0 {
				base.Close.Better = pr.Better
			}
			return base, true
		}
		if d.Likelier {
			t.Status, t.Close = IsClose, append(slices.Clip(t.Close), n.sentence(g, cond, v))
			n.cur.mode = atEnd
			return base, false
		}
	}
	if holds {
		t.Status, t.Pending = IsProven, false
		n.owe(t.Finding.Next, t, "") // a procedure goes on with the whole system
	} else {
		n.refute(t)
	}
	n.cur.mode = atEnd
	return base, false
}

// refute ends a finding whose proof failed. Where to go on then is its own word,
// if it has one, before the places still to try.
func (n *State) refute(t *Told) {
	t.Status, t.Pending = IsRefuted, false
	n.refuted[t.Finding.ID], n.failed = true, true
	n.owe(t.Finding.IfNot, t, t.Place.ID)
}

// owe puts a finding's own word on where to go on before the places still to try.
func (n *State) owe(to *graph.Target, t *Told, place string) {
	if to != nil {
		n.todo = append([]try{{to: *to, place: place, from: t.Finding.ID, owed: true}}, n.todo...)
	}
}

func (t Told) copy() *Told { return &t }
