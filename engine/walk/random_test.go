package walk_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// mostEvents is more than any walk of the knowledge takes that is answered at
// every prompt.
const mostEvents = 200

var hut = []reading.PlaceOnRig{
	{ID: "main-fuse", Class: "fuse", Name: "the main fuse", Like: "bolted"},
	{ID: "fridge-fuse", Class: "fuse", Name: "the fuse of the fridge", Like: "blade"},
	{ID: "post-pos", Class: "joint", Name: "the lug on the plus post", Like: "post"},
	{ID: "post-neg", Class: "joint", Name: "the lug on the minus post", Like: "post"},
	{ID: "bus-pos", Class: "joint", Name: "the lug on the plus bar", Like: "bar"},
}

// dice makes events that fit the prompt, out of numbers below n.
type dice func(n int) int

// reply answers the prompt: with values all over the possible range, often near
// the edges that decide, with don't-knows and with later.
func (d dice) reply(g *graph.Graph, s *walk.State) walk.Event {
	p := s.Prompt()
	switch p.Kind {
	case walk.WantComplaint:
		return walk.Event{Kind: walk.EvComplaint, Symptom: g.SymptomOrder[d(len(g.SymptomOrder))]}
	case walk.WantSure:
		if d(3) == 0 {
			return d.value(g, s, p)
		}
		return walk.Event{Kind: walk.EvSure}
	case walk.WantCloseCall:
		if p.Close.Better != nil && d(2) == 0 {
			return walk.Event{Kind: walk.EvBetter}
		}
		return walk.Event{Kind: walk.EvGoOn}
	case walk.WantPlace:
		if i := d(len(p.Places) + 1); i < len(p.Places) {
			return walk.Event{Kind: walk.EvAt, Place: p.Places[i].ID}
		}
		return walk.Event{Kind: walk.EvAt}
	case walk.WantDone, walk.WantFix, walk.WantPlaces:
		if d(4) == 0 {
			return walk.Event{Kind: walk.EvNotDone, Reason: "not now"}
		}
		return walk.Event{Kind: walk.EvDone}
	}
	if p.Reading == nil {
		return walk.Event{Kind: walk.EvDone}
	}
	if p.Danger {
		e := walk.Event{Kind: walk.EvAnswer, Reading: p.Reading.ID, Choice: "no"}
		if d(20) == 0 {
			e.Choice = "yes"
		}
		return e
	}
	if d(5) == 0 {
		return walk.Event{Kind: walk.EvNotKnown, Reading: p.Reading.ID, Place: p.Place.ID, Reason: "no way to tell"}
	}
	return d.value(g, s, p)
}

func (d dice) value(g *graph.Graph, s *walk.State, p walk.Prompt) walk.Event {
	r := p.Reading
	e := walk.Event{Kind: walk.EvAnswer, Reading: r.ID, Place: p.Place.ID}
	switch r.Answer {
	case reading.YesNo:
		e.Choice = []string{"no", "yes"}[d(2)]
	case reading.Choice:
		e.Choice = r.Options[d(len(r.Options))].ID
	default:
		rg := r.Plausible
		if !rg.Set || d(6) == 0 {
			rg = r.Possible
		}
		part := float64(d(1001)) / 1000
		if d(2) == 0 { // most limits stand low in the range
			part *= part * part
		}
		v := rg.Lo + part*(rg.Hi-rg.Lo)
		if t, ok := s.Stands(g.SystemVolts, ""); r.Scales && ok && t.Known {
			v *= t.Value / 12
		}
		e.Value, e.Step, e.About = &v, (rg.Hi-rg.Lo)*float64(d(3))/1000, d(12) == 0
	}
	return e
}

// stir is an event that does not answer what is asked, or answers it oddly.
func (d dice) stir(g *graph.Graph, s *walk.State) walk.Event {
	switch d(7) {
	case 0:
		return walk.Event{Kind: walk.EvBack}
	case 1:
		e := walk.Event{Kind: walk.EvChange}
		if takes := s.Takes(); len(takes) > 0 {
			e.Reading = takes[d(len(takes))].Reading
		}
		return e
	case 2:
		e := walk.Event{Kind: walk.EvDanger, Words: "smoke"}
		if d(2) == 0 {
			e.Finding = g.DangerWords[d(len(g.DangerWords))].Stop
		}
		return e
	case 3:
		return walk.Event{Kind: walk.EvAgain}
	case 4:
		id := g.ReadingOrder[d(len(g.ReadingOrder))]
		e := d.value(g, s, walk.Prompt{Reading: g.Readings[id]})
		e.Kind = walk.EvFact
		if places := s.Places(); d(2) == 0 {
			e.Place = places[d(len(places))].ID
		}
		return e
	case 5:
		e := dice.reply(d, g, s)
		e.Reading, e.Action, e.Finding = "no-such", "no-such", "no-such"
		return e
	}
	return walk.Event{Kind: walk.EventKind([]string{"go-on", "sure", "done", "answer", "at", "nonsense"}[d(6)]), Place: "nowhere"}
}

func seeded(seed uint64) dice { return rand.New(rand.NewPCG(seed, 7)).IntN }

func setup(seed uint64) walk.Setup {
	if seed%2 == 0 {
		return walk.Setup{}
	}
	return walk.Setup{Places: hut}
}

// Whatever is answered, the walk ends, and keeps its rules on the way.
func TestEveryWalkEnds(t *testing.T) {
	g := real()
	for _, symptom := range g.SymptomOrder {
		t.Run(symptom, func(t *testing.T) {
			longest := 0
			for seed := range uint64(80) {
				d := seeded(seed)
				s, _ := walk.Step(g, walk.Start(g, setup(seed)), walk.Event{Kind: walk.EvComplaint, Symptom: symptom})
				n := 0
				for ; s.Outcome() == walk.Running; n++ {
					if n == mostEvents {
						t.Fatalf("seed %d: after %d events the walk still wants %s", seed, n, asks(s.Prompt()))
					}
					next, p := walk.Step(g, s, d.reply(g, s))
					if p.Refused != "" {
						t.Fatalf("seed %d: %s was refused: %s", seed, asks(s.Prompt()), p.Refused)
					}
					s = next
				}
				longest = max(longest, n)
				if why := broken(g, s); why != "" {
					t.Fatalf("seed %d: %s", seed, why)
				}
			}
			if longest < 3 {
				t.Errorf("the longest walk took %d events: the answers reach nothing", longest)
			}
		})
	}
}

// broken says which rule of the walk a finished walk has broken, "" for none.
func broken(g *graph.Graph, s *walk.State) string {
	type at struct {
		step, place string
		round       int
	}
	entered := map[at]int{}
	for _, v := range s.Trail(g) {
		if v.Step == g.DangerStep || g.Steps[v.Step].Sheet == "danger" {
			continue // asked anew whenever there may be danger
		}
		k := at{v.Step, v.Place, v.Round}
		if entered[k]++; entered[k] > 1 && g.Steps[v.Step].Each == "" {
			return fmt.Sprintf("%s at %q was left twice in round %d", v.Step, v.Place, v.Round)
		}
	}
	refuted := map[string]bool{}
	for _, f := range s.Told() {
		id := f.Finding.ID + "@" + f.Place.ID
		if refuted[id] {
			return f.Finding.ID + " is told again after it was refuted"
		}
		refuted[id] = f.Status == walk.IsRefuted
	}
	out := map[string]bool{}
	for _, x := range s.Excluded(g) {
		if x.By == "" {
			return x.Finding.ID + " is excluded for no reason"
		}
		out[x.Finding.ID] = true
	}
	sum := 0.0
	for _, x := range s.Possible(g) {
		if out[x.Finding.ID] {
			return x.Finding.ID + " is both possible and excluded"
		}
		sum += x.Share
	}
	if p := s.Possible(g); len(p) > 0 && (sum < 0.999 || sum > 1.001) {
		return fmt.Sprintf("the shares of what is possible come to %v", sum)
	}
	sure := false
	for _, f := range s.Told() {
		sure = sure || f.Status == walk.IsLikely || f.Status == walk.IsProven
	}
	if (s.Outcome() == walk.Found) != sure && s.Outcome() != walk.Stopped {
		return fmt.Sprintf("the outcome is %q with %d findings", s.Outcome(), len(s.Told()))
	}
	return ""
}

// Going back is the state before; walking the events again is the same walk; a
// state that was looked at is never changed by what follows.
func TestStatesAreValues(t *testing.T) {
	g := real()
	for seed := range uint64(24) {
		d := seeded(seed + 1000)
		s := walk.Start(g, setup(seed))
		for n := range 120 {
			e := d.reply(g, s)
			if s.Outcome() != walk.Running || d(5) == 0 {
				e = d.stir(g, s)
			}
			before := see(g, s)
			next, p := walk.Step(g, s, e)
			if why := unlike(before, see(g, s)); why != "" {
				t.Fatalf("seed %d, event %d: %s changed %s of the state it was given", seed, n, e.Kind, why)
			}
			if p.Refused != "" {
				if why := unlike(before, see(g, next)); why != "" {
					t.Fatalf("seed %d, event %d: a refused %s changed %s", seed, n, e.Kind, why)
				}
				continue
			}
			if e.Kind != walk.EvBack && next.Symptom() != "" && s.Symptom() != "" {
				back, p := walk.Step(g, next, walk.Event{Kind: walk.EvBack})
				if p.Refused != "" {
					t.Fatalf("seed %d, event %d: no way back from %s: %s", seed, n, e.Kind, p.Refused)
				}
				if why := unlike(before, see(g, back)); why != "" {
					t.Fatalf("seed %d, event %d: back from %s differs in %s", seed, n, e.Kind, why)
				}
			}
			s = next
			if n%10 == 9 {
				if why := differs(g, s, again(t, g, setup(seed), s.Events())); why != "" {
					t.Fatalf("seed %d, event %d: walked again, the events differ in %s", seed, n, why)
				}
			}
		}
	}
}

// again walks the events from the start.
func again(t testing.TB, g *graph.Graph, setup walk.Setup, events []walk.Event) *walk.State {
	t.Helper()
	s := walk.Start(g, setup)
	for i, e := range events {
		n, p := walk.Step(g, s, e)
		if p.Refused != "" {
			t.Fatalf("walking again, event %d (%s %s) was refused: %s", i, e.Kind, e.Reading, p.Refused)
		}
		s = n
	}
	return s
}
