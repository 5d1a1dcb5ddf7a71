package walk_test

import (
	"testing"

	"hotlug/engine/walk"
)

// ends is what most small sheets end in.
const ends = `
  burnt: {cause: It is burnt., often: common}
  loose: {cause: It is loose., often: occasional}
  sound: {cause: It is sound., often: rare}
`

func TestAsksOnlyWhileNoBranchIsSettled(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [seen, volts, lit]
    then:
      - {if: seen, go: burnt}
      - {if: volts > 12, go: loose}
      - {if: lit, go: loose}
      - {go: sound}
findings:`+ends)
	t.Run("the first answer settles it", func(t *testing.T) {
		begin(t, g).say("seen", "yes").wants(walk.WantFix, "burnt").notDone().ends(walk.Found, "burnt likely pending")
	})
	t.Run("the second settles it", func(t *testing.T) {
		begin(t, g).say("seen", "no").say("volts", "20 V").wants(walk.WantFix, "loose")
	})
	t.Run("all are needed", func(t *testing.T) {
		begin(t, g).say("seen", "no").say("volts", "5 V").say("lit", "no").wants(walk.WantFix, "sound")
	})
}

func TestBranchesAreFirstMatchOnLimits(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [volts, more]
    then:
      - {if: volts > 20, go: burnt}
      - {if: more > 20, go: loose}
      - {go: sound}
findings:`+ends)
	t.Run("a later branch that is true waits for the one before", func(t *testing.T) {
		begin(t, g).say("volts", "30 V").wants(walk.WantFix, "burnt")
	})
	t.Run("certainly false lets the next one in", func(t *testing.T) {
		begin(t, g).say("volts", "10 V").say("more", "30 V").wants(walk.WantFix, "loose")
	})
	t.Run("not known leaves it open and the likelier is tried first", func(t *testing.T) {
		p := begin(t, g).say("volts", "?").say("more", "30 V")
		p.ends(walk.Narrowed, "burnt possible", "loose possible")
		if got := p.s.Prompt().Possible; len(got) != 2 || got[0].Finding.ID != "burnt" || got[0].Share <= got[1].Share {
			t.Errorf("possible are %v, want burnt before loose", got)
		}
		if b := p.s.Prompt().Best; b == nil || b.Reading.ID != "volts" {
			t.Errorf("the best next reading is %v, want volts", b)
		}
	})
}

func TestStopWorkIsTakenUnlessCertainlyFalse(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [volts]
    then:
      - {if: volts > 20, go: high}
      - {go: sound}
findings:
  high: {cause: Too high., stop: walk}
`+ends)
	for _, c := range []struct {
		name, answer string
		outcome      walk.Outcome
	}{
		{"true", "30 V", walk.Stopped}, {"close", "20.0 V", walk.Stopped}, {"not known", "?", walk.Stopped}, {"false", "10 V", walk.Running},
	} {
		t.Run(c.name, func(t *testing.T) {
			if p := begin(t, g).say("volts", c.answer); p.s.Outcome() != c.outcome {
				t.Errorf("the outcome is %q, want %q", p.s.Outcome(), c.outcome)
			}
		})
	}
}

func TestAsksOnceARound(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [seen, volts, kind]
    then:
      - {if: seen and volts > 90 and kind == 'red', go: burnt}
      - {go: two}
  two:
    do: push
    ask: [volts, seen, kind]
    then:
      - {if: volts > 12 and seen and kind == 'green', go: burnt}
      - {go: three}
  three:
    ask: [seen, volts, kind, lit]
    then:
      - {if: lit, go: loose}
      - {go: sound}
findings:`+ends)
	p := begin(t, g).say("seen", "yes").say("volts", "30 V").wants(walk.WantDone, "push").done()
	t.Run("what the step asks for is open after its action", func(t *testing.T) { p.wants(walk.WantAnswer, "volts") })
	if !p.p.Opened {
		t.Error("it does not say that the reading was answered before")
	}
	p.say("volts", "40 V").say("seen", "yes").say("kind", "blue")
	t.Run("a reading that stands is not asked again", func(t *testing.T) { p.wants(walk.WantAnswer, "lit") })
}

func TestTogetherReadings(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [amps_on, seen]
    then: [{if: amps_on > 100 and seen, go: burnt}, {go: two}]
  two:
    ask: [shot, amps_on]
    then: [{if: shot > 50 and amps_on > 1, go: burnt}, {go: three}]
  three:
    ask: [amps_off]
    then: [{if: amps_off > 100, go: burnt}, {go: four}]
  four:
    ask: [amps_on, seen]
    then: [{if: amps_on > 50 and seen, go: loose}, {go: sound}]
findings:`+ends)
	p := begin(t, g).say("amps_on", "200 A").say("seen", "no").say("shot", "60 V")
	// In one sitting amps_on stands for the second step.
	p.wants(walk.WantFix, "burnt")

	p = begin(t, g).say("amps_on", "2 A").say("shot", "10 V").say("amps_off", "1 A")
	t.Run("another state of the rig opens them", func(t *testing.T) { p.wants(walk.WantAnswer, "amps_on") })
	p.say("amps_on", "60 A")
	t.Run("the others stand", func(t *testing.T) { p.wants(walk.WantAnswer, "seen") })
	p.say("seen", "yes").wants(walk.WantFix, "loose")

	t.Run("a don't know sets up no state", func(t *testing.T) {
		begin(t, g).say("amps_on", "2 A").say("shot", "10 V").say("amps_off", "?").
			ends(walk.Narrowed, "burnt possible", "sound possible") // amps_on still stands
	})
}

func TestAStepThatWantsTwoStatesAsksEachOnce(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [amps_on, amps_off]
    then: [{if: amps_on - amps_off > 50, go: burnt}, {go: two}]
  two:
    ask: [amps_on, lit]
    then: [{if: amps_on > 3 and lit, go: loose}, {go: sound}]
findings:`+ends)
	p := begin(t, g).say("amps_on", "10 A").say("amps_off", "1 A")
	p.wants(walk.WantAnswer, "amps_on") // the second step's own: the load is off now
	p.say("amps_on", "10 A").say("lit", "yes").wants(walk.WantFix, "loose")
}

func TestNeedsUnmetCloseThePlace(t *testing.T) {
	text := func(unknown string) string {
		return `
steps:
  one:
    ask: [kind]
    then:
      - {if: kind == 'red', go: two}
      - {if: kind == 'green', go: by-eye}
      - {go: sound}
  two:
    needs: dead and not lit
    ask: [volts]
    then: [{if: volts > 12, go: burnt}, {go: sound}]` + unknown + `
  by-eye:
    ask: [seen]
    then: [{if: seen, go: loose}, {go: sound}]
findings:` + ends
	}
	for _, c := range []struct {
		name, unknown, dead string
		who                 string
		next                string
	}{
		{"by the other way", "\n    unknown: by-eye", "no", "electrician", "seen"},
		{"not known is not met", "\n    unknown: by-eye", "?", "helper", "lit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := begin(t, sheet(t, text(c.unknown))).say("kind", "red").say("dead", c.dead).wants(walk.WantAnswer, c.next)
			if c.dead == "?" {
				p.say("lit", "no").wants(walk.WantAnswer, "seen")
			}
			closed := p.s.ClosedPlaces()
			if len(closed) != 1 || closed[0].Step != "a/two" || closed[0].Reason == "" || string(closed[0].Who) != c.who {
				t.Fatalf("closed are %+v, want a/two with a reason, for a %s", closed, c.who)
			}
			p.say("seen", "yes")
			p.wants(walk.WantFix, "loose")
		})
	}
	t.Run("without another way the next place still to try", func(t *testing.T) {
		p := begin(t, sheet(t, text(""))).say("kind", "?") // the heaviest is two
		p.wants(walk.WantAnswer, "dead").say("dead", "no").wants(walk.WantAnswer, "seen").say("seen", "no")
		p.ends(walk.Narrowed, "sound possible")
		if b := p.s.Prompt().Best; b != nil && b.Step.ID == "a/two" {
			t.Error("the closed place is named as the best next")
		}
	})
}

func TestAnActionWhoseNeedIsUnmetIsNotDone(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    do: only-dead
    ask: [volts]
    then: [{if: volts > 12, go: burnt}, {go: sound}]
findings:`+ends)
	p := begin(t, g).say("dead", "no")
	p.ends(walk.Narrowed)
	if c := p.s.ClosedPlaces(); len(c) != 1 || c[0].Who != "maker" {
		t.Errorf("closed are %+v, want one for the maker", c)
	}
	begin(t, g).say("dead", "yes").wants(walk.WantDone, "only-dead").done().say("volts", "20 V").wants(walk.WantFix, "burnt")
}

func TestAssumedPath(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [lit]
    then: [{if: lit, go: two}, {go: sound}]
    unknown: three
  two:
    ask: [seen]
    then: [{if: seen, go: burnt}, {go: loose}]
  three:
    ask: [rated, kind]
    then: [{if: rated > 10, go: two}, {go: loose}]
findings:`+ends)
	t.Run("a reading of its own makes it likely", func(t *testing.T) {
		begin(t, g).say("lit", "?").say("rated", "20 A").say("seen", "yes").wants(walk.WantFix, "burnt").told("burnt likely")
	})
	t.Run("facts alone, or the last branch, leave it possible", func(t *testing.T) {
		begin(t, g).say("lit", "?").say("rated", "20 A").say("seen", "no").ends(walk.Narrowed, "loose possible", "sound possible")
	})
}

func TestCloseCall(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [volts]
    then: [{if: volts > 20, go: burnt}, {go: sound}]
findings:`+ends)
	p := begin(t, g).say("volts", "20.05 V").wants(walk.WantCloseCall, "")
	c := p.p.Close
	if c.Condition != "volts > 20" || c.Likelier.Finding != "burnt" || c.Other.Finding != "sound" || len(c.Readings) != 1 || len(c.Reasons) == 0 {
		t.Fatalf("the close call is %+v", c)
	}
	at := p.s
	t.Run("going on takes the likelier side", func(t *testing.T) {
		p.s = at
		p.do(walk.Event{Kind: walk.EvGoOn}).wants(walk.WantFix, "burnt").told("burnt close")
	})
	t.Run("taken again it is asked anew", func(t *testing.T) {
		p.s = at
		p.do(walk.Event{Kind: walk.EvAgain, Reading: "volts"}).say("volts", "30 V").wants(walk.WantFix, "burnt").told("burnt likely")
	})
	t.Run("another reading is not taken again", func(t *testing.T) {
		p.s = at
		p.refuses(walk.Event{Kind: walk.EvAgain, Reading: "more"}, "not one of those")
	})
}

func TestOddAndImpossibleValues(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [volts]
    then: [{if: volts > 20, go: burnt}, {go: sound}]
findings:`+ends)
	p := begin(t, g)
	p.refuses(p.answer("volts", "400 V"), "can't be")
	p.do(p.answer("volts", "80 V")).wants(walk.WantSure, "volts")
	if o := p.p.Odd; o == nil || o.Value != 80 || o.Hi != 60 {
		t.Fatalf("the odd value is %+v", o)
	}
	at := p.s
	t.Run("sure", func(t *testing.T) {
		p.s = at
		p.do(walk.Event{Kind: walk.EvSure}).wants(walk.WantFix, "burnt")
		if takes := p.s.Takes(); !takes[len(takes)-1].Sure {
			t.Error("the take is not marked as confirmed")
		}
	})
	t.Run("again", func(t *testing.T) {
		p.s = at
		p.do(walk.Event{Kind: walk.EvAgain}).say("volts", "8.0 V").wants(walk.WantFix, "sound")
	})
	t.Run("another value at once", func(t *testing.T) {
		p.s = at
		p.do(p.answer("volts", "8.0 V")).wants(walk.WantFix, "sound")
		if n := len(p.s.Takes()); n != 2 {
			t.Errorf("there are %d takes, want the danger answer and one", n)
		}
	})
}

func TestCautionsAreGivenOnceARound(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [seen, amps_on]
    then: [{if: seen and amps_on > 90, go: burnt}, {go: two}]
  two:
    do: push
    ask: [seen]
    then: [{if: seen, go: burnt}, {go: sound}]
findings:`+ends)
	p := begin(t, g)
	given := func() int { return len(p.s.Prompt().Cautions) }
	if given() != 1 {
		t.Errorf("%d cautions with the first question, want 1", given())
	}
	p.say("seen", "yes")
	if given() != 0 {
		t.Errorf("the caution is given a second time in the round")
	}
	p.say("amps_on", "2 A").done()
	if given() != 1 {
		t.Errorf("after the action %d cautions, want 1", given())
	}
}
