package walk_test

import (
	"slices"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// mistaken is a knowledge in which a wrong first answer leads to a cause whose
// proof fails.
func mistaken(t *testing.T) *graph.Graph {
	return sheet(t, `
steps:
  one:
    ask: [lit]
    then: [{if: lit, go: two}, {go: three}]
  two:
    ask: [volts]
    then: [{if: volts > 20, go: burnt}, {go: sound}]
  three:
    ask: [seen]
    then: [{if: seen, go: loose}, {go: sound}]
findings:
  burnt: {cause: It is burnt., often: rare, fix: [{do: mend}], prove: {ask: [more], if: more > 50}}
  loose: {cause: It is loose., often: common, fix: [{do: mend}], prove: {ask: [more], if: more > 50}}
  sound: {cause: It is sound., often: rare}
`)
}

func TestTheOddAnswerIsTakenAgain(t *testing.T) {
	g := mistaken(t)
	p := begin(t, g).say("lit", "yes").say("volts", "30 V").wants(walk.WantFix, "burnt").done().say("more", "10 V")
	p.wants(walk.WantAnswer, "lit").told("burnt refuted") // it rules out the common cause
	if r := p.p.Retake; r == nil || !r.Failed || r.Was.Choice != 1 {
		t.Fatalf("it is asked as %+v", p.p.Retake)
	}
	at := p.s
	t.Run("it comes out otherwise, and the walk goes the other way", func(t *testing.T) {
		p.s = at
		p.say("lit", "no").wants(walk.WantAnswer, "seen").say("seen", "yes").wants(walk.WantFix, "loose").told("loose likely")
		if why := differs(g, p.s, again(t, g, walk.Setup{}, p.s.Events())); why != "" {
			t.Errorf("walked again it differs in %s", why)
		}
		back, _ := walk.Step(g, p.s, walk.Event{Kind: walk.EvBack})
		back, _ = walk.Step(g, back, walk.Event{Kind: walk.EvBack})
		if why := differs(g, at, back); why != "" {
			t.Errorf("going back to it, it differs in %s", why)
		}
	})
	for _, c := range []struct{ name, text string }{{"it says the same", "yes"}, {"it can't be had", "?"}} {
		t.Run(c.name, func(t *testing.T) {
			p.s = at
			p.say("lit", c.text).wants(walk.WantAnswer, "volts") // what else rules out, once each
			p.say("volts", "30 V").ends(walk.Narrowed, "burnt refuted")
			if why := differs(g, p.s, again(t, g, walk.Setup{}, p.s.Events())); why != "" {
				t.Errorf("walked again it differs in %s", why)
			}
		})
	}
}

// BenchmarkFailedProof is the dearest answer: a proof fails, and an answer is
// looked for that may have been wrong.
func BenchmarkFailedProof(b *testing.B) {
	g := real()
	a := worn(b, g)
	e, err := walk.Typed(g.Readings["holder_drop_v"], "180 mV")
	if err != nil {
		b.Fatal(err)
	}
	a.After["worn-holder"]["holder_drop_v"] = e
	s, _, err := walk.Replay(g, walk.Setup{}, a)
	if err != nil {
		b.Fatal(err)
	}
	events := s.Events()
	for i, e := range events {
		at := again(b, g, walk.Setup{}, events[:i])
		n, _ := walk.Step(g, at, e)
		if !slices.ContainsFunc(n.Told(), func(t walk.Told) bool { return t.Status == walk.IsRefuted }) {
			continue
		}
		b.ReportAllocs()
		for b.Loop() {
			walk.Step(g, at, e)
		}
		return
	}
	b.Fatal("the proof holds")
}
