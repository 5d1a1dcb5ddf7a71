package walk_test

import (
	"testing"
	"time"

	"hotlug/engine/walk"
)

const resuming = `
steps:
  one:
    ask: [kind, volts]
    then: [{if: kind == 'red' and volts > 50, go: burnt}, {go: two}]
  two:
    ask: [seen, kind, volts]
    then: [{if: seen and kind == 'red' and volts > 20, go: burnt}, {go: three}]
  three:
    do: push
    ask: [lit]
    then: [{if: lit, go: loose}, {go: sound}]
findings:` + ends

var monday = time.Date(2024, 3, 4, 16, 0, 0, 0, time.UTC)

func TestALongBreakOpensAllButFacts(t *testing.T) {
	g := sheet(t, resuming)
	half := func(t *testing.T) *play {
		p := begin(t, g).say("kind", "red")
		e := p.answer("volts", "40 V")
		e.At = monday
		return p.do(e).wants(walk.WantAnswer, "seen")
	}
	t.Run("the next day", func(t *testing.T) {
		p := half(t).do(walk.Event{Kind: walk.EvResumed, At: monday.Add(18 * time.Hour)})
		if !p.p.Danger {
			t.Fatalf("the walk wants %s, not the danger question", asks(p.p))
		}
		p.say("danger_now", "no").say("seen", "yes").wants(walk.WantAnswer, "volts") // the kind is a fact
	})
	t.Run("after lunch", func(t *testing.T) {
		half(t).do(walk.Event{Kind: walk.EvResumed, At: monday.Add(time.Hour)}).say("seen", "yes").wants(walk.WantFix, "burnt")
	})
	t.Run("back is the answer before the break", func(t *testing.T) {
		half(t).do(walk.Event{Kind: walk.EvResumed, At: monday.Add(time.Hour)}).do(walk.Event{Kind: walk.EvBack}).wants(walk.WantAnswer, "volts")
	})
}

func TestRefold(t *testing.T) {
	g := sheet(t, resuming)
	p := begin(t, g).say("kind", "red").say("volts", "40 V").say("seen", "no").done().say("lit", "yes").wants(walk.WantFix, "loose")
	t.Run("on the same knowledge", func(t *testing.T) {
		s, n := walk.Refold(g, walk.Setup{}, p.s.Events())
		if why := differs(g, s, p.s); n != len(p.s.Events()) || why != "" {
			t.Errorf("%d of %d events were taken, and the state differs in %q", n, len(p.s.Events()), why)
		}
	})
	t.Run("on knowledge that asks for more", func(t *testing.T) {
		other := sheet(t, `
steps:
  one:
    ask: [kind, dead]
    then: [{if: kind == 'red' and dead, go: burnt}, {go: two}]
  two:
    do: push
    ask: [lit, seen]
    then: [{if: lit and not seen, go: loose}, {go: sound}]
findings:`+ends)
		s, n := walk.Refold(other, walk.Setup{}, p.s.Events())
		if n != 3 || asks(s.Prompt()) != "ask dead" {
			t.Fatalf("%d events were taken and the walk wants %s; want 3, and what is new", n, asks(s.Prompt()))
		}
		q := &play{t: t, g: other, s: s}
		q.say("dead", "no").wants(walk.WantAnswer, "seen") // lit was read after the action; seen before it
		if h := q.s.Held(); len(h) != 2 {
			t.Errorf("held are %v, want the volts and what was seen", h)
		}
	})
}

func TestASecondFaultThatTheFirstFixMendsIsNotTold(t *testing.T) {
	g := sheet(t, `
values:
  next_rated: {is: rated * 4, unit: A, label: next size}
steps:
  one:
    ask: [rated, lit]
    then: [{if: lit, go: two}, {go: two}]
    also: [{if: rated < 15, finding: thin}]
  two:
    ask: [volts]
    then: [{if: volts > 20, go: small}, {go: sound}]
findings:
  small:
    cause: It is too small.
    unsafe: 2
    sets: {rated: next_rated}
    prove: {ask: [volts], if: volts < 20}
  thin: {cause: It is thin., unsafe: 1}
  sound: {cause: It is sound.}
`)
	p := begin(t, g).say("rated", "10 A").say("lit", "yes").say("volts", "40 V").wants(walk.WantFix, "small")
	q := *p
	p.done().say("volts", "5 V").ends(walk.Found, "small proven")
	q.notDone().wants(walk.WantFix, "thin")
}
