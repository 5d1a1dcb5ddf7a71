package walk

import (
	"fmt"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// Start is the state before anything has been said.
func Start(g *graph.Graph, setup Setup) *State {
	s := &State{
		setup: setup, visited: map[seen]bool{}, guessed: map[seen]bool{},
		refuted: map[string]bool{}, given: map[string]bool{}, round: 1, sitting: 1, fresh: -1,
		placesOK: len(setup.Places) > 0,
	}
	s.setup.fromFile = s.placesOK
	if !s.placesOK {
		s.setup.Places = g.StandardPath
	}
	s.prompt = Prompt{Kind: WantComplaint, Round: 1}
	return s
}

// Step applies one event. An event that does not fit the prompt leaves the
// state as it was, but for Prompt().Refused, which says why.
func Step(g *graph.Graph, s *State, e Event) (*State, Prompt) {
	switch e.Kind {
	case EvBack:
		return s.back()
	case EvChange:
		return s.change(g, e)
	}
	if n := s.otherwise(g, e); n != nil {
		return n, n.prompt
	}
	n, refused := s.apply(g, e)
	if refused != "" {
		r := *s
		r.prompt.Refused = refused
		return &r, r.prompt
	}
	n.supply(g)
	return n, n.prompt
}

// apply is Step for everything but going back.
func (s *State) apply(g *graph.Graph, e Event) (*State, string) {
	n := s.clone()
	n.prompt.Refused = ""
	e.opened = n.opened
	n.log = append(n.log, &e)
	why := n.take(g, e)
	if why != "" {
		return nil, why
	}
	n.advance(g)
	return n, ""
}

// take changes n by the event, or says why it does not fit.
func (n *State) take(g *graph.Graph, e Event) string {
	p := n.prompt
	switch e.Kind {
	case EvFact:
		return n.takeFact(g, e)
	case EvDanger:
		return n.interrupt(g, e)
	case EvComplaint:
		if p.Kind != WantComplaint {
			return "The complaint has been taken already."
		}
		sy := g.Symptoms[e.Symptom]
		if sy == nil {
			return fmt.Sprintf("There is no symptom called %q.", e.Symptom)
		}
		if e.Finding != "" && g.Findings[e.Finding] == nil {
			return fmt.Sprintf("There is no finding called %q.", e.Finding)
		}
		n.symptom, n.words = sy.ID, e.Words
		n.enter(g, try{to: graph.Target{Step: sy.Start}})
		if n.fresh == n.asked { // it was asked and answered a moment ago
			break
		}
		start := n.cur
		n.saved, n.behind = &start, e.Finding
		n.enterDanger(g)
	case EvAnswer, EvNotKnown:
		return n.takeAnswer(g, e)
	case EvSure:
		if p.Kind != WantSure {
			return "There is no value to confirm."
		}
		o := *n.cur.doubt
		o.At = e.At
		n.cur.doubt, n.cur.doubtLaw = nil, nil
		last := n.log[len(n.log)-1] // the change of another answer gives it again by its key
		last.Reading, last.Place = p.Reading.ID, p.Place.ID
		n.record(g, p.Reading, o, n.cur.doubtAt, true)
		n.markOdd(p.Odd)
	case EvAgain:
		return n.again(g, e)
	case EvGoOn:
		if p.Kind != WantCloseCall {
			return "There is no close call to decide."
		}
		n.cur.goOn = true
		n.log[len(n.log)-1].decided = n.decides()
	case EvBetter:
		if p.Kind != WantCloseCall || p.Close.Better == nil {
			return "No better reading is known here."
		}
		n.log[len(n.log)-1].decided = n.decides()
		n.takeBetter(g, p.Close)
	case EvDone, EvNotDone:
		return n.takeDone(g, e)
	case EvResumed:
		n.prev = n.prev.prev // going back means the answer before the break
		n.resumed(g, e)
	case EvAt:
		if p.Kind != WantPlace {
			return "It is not asked which place is meant."
		}
		if e.Place != "" && !slices.ContainsFunc(p.Places, func(x reading.PlaceOnRig) bool { return x.ID == e.Place }) {
			return fmt.Sprintf("The rig has no such place as %q.", e.Place)
		}
		n.comeTo(e.Place)
	default:
		return fmt.Sprintf("An event of kind %q is not known.", e.Kind)
	}
	return ""
}

func (n *State) takeFact(g *graph.Graph, e Event) string {
	r := g.Readings[e.Reading]
	if r == nil {
		return fmt.Sprintf("There is no reading called %q.", e.Reading)
	}
	if why := n.fits(g, r, e); why != "" {
		return why
	}
	n.put(g, r, n.factKey(r, e.Place), e, len(n.log)-1, false)
	return ""
}

// factKey files a fact from a rig file: at its place if it belongs to one.
func (n *State) factKey(r *reading.Reading, place string) Key {
	k := n.key(r, place)
	if place != "" && k.Place == "" {
		k.Place = place
	}
	return k
}

// fits says why an answer cannot be one of reading r, or "".
func (n *State) fits(g *graph.Graph, r *reading.Reading, e Event) string {
	switch r.Answer {
	case reading.YesNo:
		if e.Choice != "yes" && e.Choice != "no" {
			return "The answer is yes or no."
		}
	case reading.Choice:
		if r.OptionByID(e.Choice) < 0 {
			return fmt.Sprintf("%q is none of the answers to choose from.", e.Choice)
		}
	default:
		if e.Value == nil {
			return "A number is needed."
		}
		v := *e.Value
		rg := n.scaleRange(g, r, r.Possible)
		if v != v || !rg.Has(v) {
			return fmt.Sprintf("%s can't be: it lies between %s and %s.", n.show(r, v), n.show(r, rg.Lo), n.show(r, rg.Hi)) + n.meant(g, r, v)
		}
	}
	return ""
}

func (n *State) takeAnswer(g *graph.Graph, e Event) string {
	p := n.prompt
	if p.Kind != WantAnswer && p.Kind != WantSure {
		return "Nothing is asked that this answers."
	}
	r := p.Reading
	if e.Reading != r.ID || e.Place != p.Place.ID {
		return fmt.Sprintf("What is asked is %s.", r.Name)
	}
	same := p.Kind == WantSure && e.Kind == EvAnswer && e.Value != nil && *e.Value == p.Odd.Value
	n.dropOdd()
	at := len(n.log) - 1
	if e.Kind == EvNotKnown {
		n.record(g, r, e, at, false)
		return ""
	}
	if why := n.fits(g, r, e); why != "" {
		return why
	}
	if same { // typed once more, it is confirmed
		n.record(g, r, e, at, true)
		n.markOdd(p.Odd)
		return ""
	}
	if r.Answer == reading.Number {
		law, odd := n.asksBack(g, r, e)
		if odd {
			o := e
			n.cur.doubt, n.cur.doubtAt, n.cur.doubtLaw = &o, at, law
			return ""
		}
	}
	n.record(g, r, e, at, false)
	return ""
}

// markOdd notes with the take that was just put what is odd about it.
func (n *State) markOdd(o *Odd) { n.takes[len(n.takes)-1].Odd = o.Say }

// dropOdd forgets an odd answer that was not confirmed.
func (n *State) dropOdd() {
	if n.cur.doubt != nil {
		n.stale = append(n.stale, n.cur.doubtAt)
		n.cur.doubt, n.cur.doubtLaw = nil, nil
	}
}

// asksBack says whether a number breaks a law, or is out of its usual range.
func (n *State) asksBack(g *graph.Graph, r *reading.Reading, e Event) (*graph.Law, bool) {
	law := n.broken(g, r, n.taken(g, r, e))
	return law, law != nil || !n.scaleRange(g, r, r.Plausible).Has(*e.Value)
}

// record files an answer at the place at hand. at is its index in the log.
func (n *State) record(g *graph.Graph, r *reading.Reading, e Event, at int, sure bool) {
	if n.cur.mode == atRetake {
		n.retaken(e, at)
		return
	}
	n.asked++
	if r.ID == g.DangerReading {
		n.fresh = n.asked
	}
	if e.Kind == EvNotKnown && n.cur.finer != nil && n.recall(g, n.key(r, n.cur.place)) {
		return
	}
	if e.Kind != EvNotKnown { // for what was not taken the rig was not set up
		n.sit(g, r)
	}
	if b := n.cur.finer; b != nil && e.Meter == "" && slices.Contains(b.Ask, r.ID) {
		if m := g.Meters[b.Meter]; m != nil {
			e.Meter = m.Class
			noted := *n.log[at] // the walk may come to it without the close call
			noted.Meter = m.Class
			n.log[at] = &noted
		}
	}
	n.put(g, r, n.key(r, n.cur.place), e, at, sure)
}

// sit opens a new sitting when r needs the rig to stand otherwise than what was
// asked since the last one began.
func (n *State) sit(g *graph.Graph, r *reading.Reading) {
	excludes := func(a, b string) bool {
		st := g.States[a]
		return st != nil && slices.Contains(st.Excludes, b)
	}
	if slices.ContainsFunc(r.State, func(id string) bool {
		return slices.ContainsFunc(n.states, func(other string) bool { return excludes(id, other) || excludes(other, id) })
	}) {
		n.newSitting(g)
	}
	for _, id := range r.State {
		if !slices.Contains(n.states, id) {
			n.states = append(n.states, id)
		}
	}
}

func (n *State) newSitting(g *graph.Graph) {
	n.sitting++
	n.states = nil
	n.lapseTogether(g)
}

// lapseTogether opens what holds only together and was taken in a sitting before
// this one. What this step has asked for itself stays: a step that wants the rig
// in two states compares them, and would else ask for both for ever.
func (n *State) lapseTogether(g *graph.Graph) {
	for _, on := range n.now {
		r := g.Readings[n.takes[on.take].Reading]
		if r != nil && r.Holds == reading.Together && on.take < n.cur.from && n.takes[on.take].Sitting < n.sitting {
			n.lapse(on.key)
		}
	}
}

// lapse opens a take: it no longer stands, and is what the reading was.
func (n *State) lapse(k Key) {
	if i, ok := n.now.get(k); ok {
		if n.takes[i].Known {
			n.was = n.was.with(k, i)
		}
		n.now = n.now.without(k)
	}
}

func (n *State) put(g *graph.Graph, r *reading.Reading, k Key, e Event, at int, sure bool) {
	t := &Take{
		Reading: r.ID, Place: k.Place, Round: n.round, Sitting: n.sitting, Known: e.Kind != EvNotKnown,
		Reason: e.Reason, Text: e.Text, Digit: e.Step, About: e.About, Meter: e.Meter, Origin: e.Origin,
		Sure: sure, Again: e.Again, At: e.At, event: at,
	}
	switch {
	case !t.Known:
	case r.Answer == reading.Number:
		t.Value = *e.Value
	case r.Answer == reading.Choice:
		t.Choice = r.OptionByID(e.Choice)
	case e.Choice == "yes":
		t.Choice = 1
	}
	if t.Meter == "" {
		t.Meter = meterOf(g, r)
	}
	if t.Origin == "" {
		t.Origin = Read
		if r.Class == reading.Fact {
			t.Origin = Said
		}
	}
	n.takes = append(n.takes, t)
	n.now = n.now.with(k, len(n.takes)-1)
}

func meterOf(g *graph.Graph, r *reading.Reading) string {
	if m := g.Meters[r.Meter]; m != nil && m.Class != "" && m.Class != "none" {
		return m.Class
	}
	return "eye"
}

// again opens a take that was odd or close, so that it is asked anew.
func (n *State) again(g *graph.Graph, e Event) string {
	switch n.prompt.Kind {
	case WantSure:
		n.dropOdd()
		return ""
	case WantCloseCall:
		for _, k := range n.prompt.Close.Readings {
			if k.Reading == e.Reading || e.Reading == "" {
				n.forget(n.key(g.Readings[k.Reading], n.cur.place))
				if e.Reading != "" {
					return ""
				}
			}
		}
		if e.Reading == "" {
			return ""
		}
		return "That reading is not one of those that decide here."
	}
	return "There is nothing to take again here; `change` takes back an earlier answer."
}

func (n *State) takeDone(g *graph.Graph, e Event) string {
	noted := n.log[len(n.log)-1] // with its key, whether or not it was given
	switch n.prompt.Kind {
	case WantPlaces:
		noted.Action = ConfirmPlaces
		if e.Kind == EvDone {
			n.placesOK = true
			return ""
		}
		n.closeHere(g, n.cur.step, "the rig does not have these places", graph.Helper)
	case WantDone:
		a := n.prompt.Action
		if e.Action != "" && e.Action != a.ID {
			return "Another thing is to be done now: " + a.Say
		}
		noted.Action = a.ID
		if e.Kind == EvDone {
			n.cur.done = true
			n.nextRound(g, byAction(a.ID), n.cur.step.Ask, a.Touches, n.cur.place)
			return ""
		}
		reason := e.Reason
		if reason == "" {
			reason = "it was not done"
		}
		n.closeHere(g, n.cur.step, reason, a.Who)
	case WantFix:
		t := &n.told[n.cur.told]
		if e.Finding != "" && e.Finding != t.Finding.ID {
			return "Another fix is in question now: " + t.Finding.Cause
		}
		noted.Finding = t.Finding.ID
		if e.Kind == EvNotDone {
			t.Pending = true
			n.cur.mode = atEnd
			return ""
		}
		n.fixed(g, t)
	default:
		return "Nothing is waiting to be done."
	}
	return ""
}

// nextRound ends a round: the readings named, those at the places touched and
// all that hold only together are open again.
func (n *State) nextRound(g *graph.Graph, by string, opened, touches []string, place string) {
	n.round++
	n.opened = by
	n.asked++ // the rig has changed: the danger question is no longer fresh
	n.cur.from = len(n.takes)
	n.given = map[string]bool{}
	n.visited = map[seen]bool{}
	if n.cur.mode == atStep {
		n.visited[n.cur.seen()] = true // it is being walked, and not to be entered once more
	}
	for _, id := range opened {
		if r := g.Readings[id]; r != nil && r.Holds != reading.ForGood {
			n.lapse(n.key(r, place))
		}
	}
	for _, on := range n.now {
		r := g.Readings[n.takes[on.take].Reading]
		if r == nil || r.Holds == reading.ForGood {
			continue
		}
		if slices.Contains(touches, on.key.Place) || on.key.Place != "" && slices.Contains(touches, n.classOf(on.key.Place)) ||
			r.Over != "" && slices.Contains(touches, r.Over) {
			n.lapse(on.key)
		}
	}
	n.newSitting(g)
}
