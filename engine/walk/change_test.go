package walk_test

import (
	"testing"

	"hotlug/engine/walk"
)

const changing = `
steps:
  one:
    ask: [kind]
    then: [{if: kind == 'red', go: two}, {go: three}]
  two:
    ask: [volts, seen]
    then: [{if: volts > 20 and seen, go: burnt}, {go: three}]
  three:
    ask: [seen, lit]
    then: [{if: lit, go: loose}, {go: sound}]
findings:
  burnt: {cause: Burnt., fix: [{do: mend}], prove: {ask: [volts], if: volts < 5}}
  loose: {cause: Loose., fix: [{do: mend}], prove: {ask: [volts], if: volts < 5}}
  sound: {cause: Sound.}
`

func change(id string) walk.Event { return walk.Event{Kind: walk.EvChange, Reading: id} }

func TestChangeGivesTheOtherAnswersByTheirKeys(t *testing.T) {
	g := sheet(t, changing)
	p := begin(t, g).say("kind", "red").say("volts", "40 V").say("seen", "no").say("lit", "yes").wants(walk.WantFix, "loose")
	from := p.s
	p.do(change("seen")).wants(walk.WantAnswer, "seen").say("seen", "yes").wants(walk.WantFix, "burnt")
	if h := p.s.Held(); len(h) != 1 || h[0].Reading != "lit" {
		t.Errorf("held are %v, want the lamp, which is no longer asked for", h)
	}
	t.Run("back undoes the change", func(t *testing.T) {
		q := *p
		q.do(walk.Event{Kind: walk.EvBack}).wants(walk.WantAnswer, "seen").do(walk.Event{Kind: walk.EvBack})
		if why := differs(g, q.s, from); why != "" {
			t.Errorf("it is not the walk before the change: %s", why)
		}
	})
	t.Run("the kept answer is given when it is asked for after all", func(t *testing.T) {
		p := &play{t: t, g: g, s: from}
		p.do(change("kind")).say("kind", "blue").wants(walk.WantFix, "loose")
	})
	t.Run("what was never asked can't be changed", func(t *testing.T) {
		p := &play{t: t, g: g, s: from}
		p.refuses(change("more"), "not been answered")
	})
}

func TestChangeForgetsWhatWasTakenAgain(t *testing.T) {
	g := sheet(t, changing)
	t.Run("an odd value", func(t *testing.T) {
		p := begin(t, g).say("kind", "red")
		p.do(p.answer("volts", "90 V")).do(walk.Event{Kind: walk.EvAgain}).say("volts", "40 V").say("seen", "yes")
		p.do(change("volts")).wants(walk.WantAnswer, "volts").say("volts", "3.0 V").wants(walk.WantAnswer, "lit")
	})
	t.Run("an odd value that was confirmed", func(t *testing.T) {
		p := begin(t, g).say("kind", "red")
		p.do(p.answer("volts", "90 V")).do(walk.Event{Kind: walk.EvSure}).say("seen", "yes").wants(walk.WantFix, "burnt")
		p.do(change("volts"))
		p.do(p.answer("volts", "95 V")).wants(walk.WantSure, "volts") // the old "sure" was for another value
		p.s = p.s.Before().Before()
		p.do(change("kind")).say("kind", "red").wants(walk.WantFix, "burnt") // and is kept where the value is
	})
	t.Run("a close call", func(t *testing.T) {
		p := begin(t, g).say("kind", "red").say("volts", "20.05 V").say("seen", "yes").wants(walk.WantCloseCall, "")
		p.do(walk.Event{Kind: walk.EvAgain, Reading: "volts"}).say("volts", "20.04 V").do(walk.Event{Kind: walk.EvGoOn}).wants(walk.WantFix, "burnt")
		q := *p
		q.do(change("volts")).wants(walk.WantAnswer, "volts").say("volts", "20.03 V").wants(walk.WantCloseCall, "")
		p.do(change("kind")).say("kind", "red").wants(walk.WantFix, "burnt").told("burnt close")
	})
	t.Run("the answer to a danger word", func(t *testing.T) {
		p := begin(t, g).do(walk.Event{Kind: walk.EvDanger, Finding: "fire"}).say("danger_now", "no").say("kind", "red").say("volts", "40 V")
		p.do(change("kind")).wants(walk.WantAnswer, "kind")
		if h := p.s.Held(); len(h) != 1 || h[0].Reading != "volts" {
			t.Errorf("held are %v, want the volts alone", h)
		}
	})
}

func TestChangeKeepsRoundsApart(t *testing.T) {
	g := sheet(t, changing)
	p := begin(t, g).say("kind", "red").say("volts", "40 V").say("seen", "yes").wants(walk.WantFix, "burnt").done().say("volts", "2 V").ends(walk.Found, "burnt proven")
	// The walk now comes to the other finding, whose fix nobody has made.
	p.do(change("seen")).say("seen", "no").say("lit", "yes").wants(walk.WantFix, "loose").done()
	p.wants(walk.WantAnswer, "volts") // the proof of the first fix proves nothing here
}

func TestFactsStandAndAreGivenAgain(t *testing.T) {
	g := sheet(t, changing)
	p := &play{t: t, g: g, s: walk.Start(g, walk.Setup{})}
	p.do(walk.Event{Kind: walk.EvFact, Reading: "kind", Choice: "red", Origin: walk.File})
	p.refuses(walk.Event{Kind: walk.EvFact, Reading: "kind", Choice: "mauve"}, "none of the answers")
	p.do(walk.Event{Kind: walk.EvComplaint, Symptom: "warm"}).say("danger_now", "no").wants(walk.WantAnswer, "volts")
	p.say("volts", "40 V").do(change("volts")).wants(walk.WantAnswer, "volts")
	if f, ok := p.s.Stands("kind", ""); !ok || f.Origin != walk.File {
		t.Errorf("after the change the fact is %+v", f)
	}
}

// A fact told after a fix counts from that fix on, also where the walk is walked again.
func TestFactToldAfterAFix(t *testing.T) {
	g := sheet(t, `
values:
  next_rated: {is: rated * 2, unit: A, label: next size}
steps:
  one:
    ask: [rated, volts, kind]
    then: [{if: volts > 20 and rated < 15 and kind == 'red', go: small}, {go: sound}]
findings:
  small:
    cause: It is too small.
    sets: {rated: next_rated}
    prove: {ask: [volts, rated], if: volts < 20 and rated > 15}
  sound: {cause: It is sound.}
`)
	v := 30.0
	p := begin(t, g).say("rated", "10 A").say("volts", "40 V").say("kind", "red").done()
	p.do(walk.Event{Kind: walk.EvFact, Reading: "rated", Value: &v, Origin: walk.Said}).wants(walk.WantAnswer, "volts")
	if r, ok := p.s.Stands("rated", ""); !ok || r.Value != 30 || r.Origin != walk.Said {
		t.Errorf("after the fix the rating is %+v, want 30 A as told", r)
	}
	p.do(change("kind")).say("kind", "red").wants(walk.WantAnswer, "volts") // the fix was made all the same
	if r, ok := p.s.Stands("rated", ""); !ok || r.Value != 30 {
		t.Errorf("walked again, the rating is %+v, want 30 A as told", r)
	}
	p.do(change("kind")).say("kind", "blue").wants(walk.WantFix, "sound")
	if r, ok := p.s.Stands("rated", ""); !ok || r.Value != 10 {
		t.Errorf("where no fix is made the rating is %+v, want 10 A as it was", r)
	}
}

func TestBackUndoesOneEvent(t *testing.T) {
	g := sheet(t, changing)
	p := begin(t, g)
	p.say("kind", "red").say("volts", "40 V")
	p.refuses(walk.Event{Kind: walk.EvAnswer, Reading: "nonsense"}, "What is asked is")
	p.do(walk.Event{Kind: walk.EvBack}).wants(walk.WantAnswer, "volts").do(walk.Event{Kind: walk.EvBack}).wants(walk.WantAnswer, "kind")
	s := walk.Start(g, walk.Setup{})
	if _, pr := walk.Step(g, s, walk.Event{Kind: walk.EvBack}); pr.Refused == "" {
		t.Error("there is a way back from the start")
	}
}

func TestReplayDoesNotUseUpWhatItIsGiven(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [seen]
    then: [{if: seen, go: burnt}, {go: two}]
  two:
    do: push
    ask: [seen]
    then: [{if: seen, go: loose}, {go: sound}]
findings:`+ends)
	yes := walk.Event{Kind: walk.EvAnswer, Reading: "seen", Choice: "yes"}
	no := walk.Event{Kind: walk.EvAnswer, Reading: "seen", Choice: "no"}
	a := walk.Answers{Symptom: "warm",
		Answers: map[string]walk.Event{"danger_now": {Kind: walk.EvAnswer, Reading: "danger_now", Choice: "no"}, "seen": no, "more": no},
		Later:   map[string][]walk.Event{"seen": {yes, no}}}
	for n := range 2 {
		s, unused, err := walk.Replay(g, walk.Setup{}, a)
		if err != nil {
			t.Fatal(err)
		}
		if told := s.Told(); len(told) != 1 || told[0].Finding.ID != "loose" {
			t.Errorf("replay %d told %v, want loose", n+1, told)
		}
		if len(unused) != 1 || unused[0] != "more" {
			t.Errorf("replay %d left %v unused, want more", n+1, unused)
		}
	}
}
