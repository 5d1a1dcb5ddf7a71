package transcripts_test

import (
	"slices"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/walk"
)

// Each stop-work finding is reached by plain words of its own, whatever is asked
// at that moment and whatever the complaint was.
func TestEveryStopIsReachedByItsWordsFromAnywhere(t *testing.T) {
	g := builtIn(t)
	var all []string
	stop := map[string]string{}
	for _, w := range g.DangerWords {
		all = append(all, w.Words)
		stop[w.Words] = w.Stop
	}
	heard := match.NewPhrases(all)
	for _, id := range g.FindingOrder {
		if g.Findings[id].Stop == graph.NoStop {
			continue
		}
		words := slices.DeleteFunc(slices.Clone(all), func(w string) bool { return stop[w] != id })
		if len(words) == 0 {
			t.Errorf("%s: no words bring it", id)
			continue
		}
		for _, w := range words {
			if hits := heard.In(w); !slices.Contains(hits, w) {
				t.Errorf("%s: %q is not heard as a danger", id, w)
			}
		}
		for i, complaint := range g.SymptomOrder {
			place := standAt(t, g, complaint, i%5)
			place, p := walk.Step(g, place, walk.Event{Kind: walk.EvDanger, Words: words[0], Finding: id})
			if !p.Danger {
				t.Errorf("%s: %q at %s brings no danger question", id, words[0], complaint)
				continue
			}
			place, _ = walk.Step(g, place, walk.Event{Kind: walk.EvAnswer, Reading: g.DangerReading, Choice: "yes"})
			if !slices.ContainsFunc(place.Told(), func(x walk.Told) bool { return x.Finding.ID == id && x.Status == walk.IsHandedOver }) {
				t.Errorf("%s: after %q at %s it is not told; told were %v", id, words[0], complaint, place.Told())
			}
		}
	}
}

// standAt is a walk with this complaint, after so many questions to which nobody
// knew an answer.
func standAt(t *testing.T, g *graph.Graph, complaint string, questions int) *walk.State {
	t.Helper()
	s := walk.Start(g, walk.Setup{})
	s, p := walk.Step(g, s, walk.Event{Kind: walk.EvComplaint, Symptom: complaint})
	for n := 0; n <= questions && s.Outcome() == walk.Running && p.Kind == walk.WantAnswer; n++ {
		e := walk.Event{Kind: walk.EvNotKnown, Reading: p.Reading.ID, Place: p.Place.ID, Reason: "nobody knows"}
		if p.Danger {
			e = walk.Event{Kind: walk.EvAnswer, Reading: p.Reading.ID, Choice: "no"}
		}
		next, prompt := walk.Step(g, s, e)
		if prompt.Refused != "" {
			t.Fatalf("%s: %s", complaint, prompt.Refused)
		}
		if next.Outcome() != walk.Running {
			break
		}
		s, p = next, prompt
	}
	return s
}
