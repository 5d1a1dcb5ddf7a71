package walk_test

import (
	"testing"

	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

const hotSteps = `
steps:
  one:
    ask: [volts]
    then: [{if: volts > 50, go: burnt}, {go: two}]
  two:
    danger: true
    do: push
    ask: [seen]
    then: [{if: seen, go: burnt}, {go: three}]
  three:
    danger: true
    ask: [lit]
    then: [{if: lit, go: loose}, {go: four}]
  four:
    danger: true
    ask: [more]
    then: [{if: more > 5, go: loose}, {go: sound}]
findings:` + ends

func TestEveryWalkBeginsWithTheDangerQuestion(t *testing.T) {
	g := sheet(t, hotSteps)
	for _, c := range []struct {
		answer string
		kind   walk.PromptKind
		what   string
	}{{"no", walk.WantAnswer, "volts"}, {"yes", walk.WantAnswer, "what"}, {"?", walk.WantAnswer, "what"}} {
		t.Run(c.answer, func(t *testing.T) {
			p := &play{t: t, g: g, s: walk.Start(g, walk.Setup{})}
			p.do(walk.Event{Kind: walk.EvComplaint, Symptom: "warm"})
			if !p.p.Danger {
				t.Error("the first question is not marked as the danger question")
			}
			p.say("danger_now", c.answer).wants(c.kind, c.what)
		})
	}
}

func TestDangerIsAskedAgainBeforeHotStepsNotTwiceInARow(t *testing.T) {
	g := sheet(t, hotSteps)
	p := begin(t, g).say("volts", "20 V").wants(walk.WantAnswer, "danger_now").say("danger_now", "no")
	p.wants(walk.WantDone, "push").done().say("seen", "no").say("danger_now", "no").say("lit", "no").say("danger_now", "no")
	p.say("more", "1 V").wants(walk.WantFix, "sound")

	t.Run("fresh from the start", func(t *testing.T) {
		g := sheet(t, "steps:\n  one:\n    danger: true\n    ask: [seen]\n    then: [{if: seen, go: burnt}, {go: sound}]\nfindings:"+ends)
		begin(t, g).wants(walk.WantAnswer, "seen")
	})
	t.Run("what was done in between makes it stale", func(t *testing.T) {
		g := sheet(t, `
steps:
  one:
    do: push
    then: [{go: two}]
  two:
    danger: true
    ask: [seen]
    then: [{if: seen, go: burnt}, {go: sound}]
findings:`+ends)
		begin(t, g).done().wants(walk.WantAnswer, "danger_now").say("danger_now", "no").wants(walk.WantAnswer, "seen")
	})
}

// Whatever is asked, a danger word brings the question, and "no" brings back
// exactly what was asked.
func TestADangerWordInterruptsAndResumes(t *testing.T) {
	closeCall := sheet(t, "steps:\n  one:\n    ask: [volts]\n    then: [{if: volts > 20, go: burnt}, {go: sound}]\nfindings:"+`
  burnt: {cause: Burnt., fix: [{do: mend}], prove: {ask: [more], if: more < 5}}
  sound: {cause: Sound.}
`)
	places := sheet(t, overFuses)
	for _, c := range []struct {
		name string
		at   func(t *testing.T) *play
		want walk.PromptKind
	}{
		{"at a question", func(t *testing.T) *play { return begin(t, closeCall) }, walk.WantAnswer},
		{"at an odd value", func(t *testing.T) *play {
			p := begin(t, closeCall)
			return p.do(p.answer("volts", "90 V"))
		}, walk.WantSure},
		{"at a close call", func(t *testing.T) *play { return begin(t, closeCall).say("volts", "20.05 V") }, walk.WantCloseCall},
		{"at a fix", func(t *testing.T) *play { return begin(t, closeCall).say("volts", "40 V") }, walk.WantFix},
		{"at a proof", func(t *testing.T) *play { return begin(t, closeCall).say("volts", "40 V").done() }, walk.WantAnswer},
		{"at the list of places", func(t *testing.T) *play { return begin(t, places) }, walk.WantPlaces},
		{"among places", func(t *testing.T) *play { return begin(t, places).done().at("f1", "fuse_v", "1 V") }, walk.WantAnswer},
		{"before the complaint", func(t *testing.T) *play {
			return &play{t: t, g: closeCall, s: walk.Start(closeCall, walk.Setup{})}
		}, walk.WantComplaint},
	} {
		word := walk.Event{Kind: walk.EvDanger, Words: "smoke", Finding: "fire"}
		t.Run(c.name+", no", func(t *testing.T) {
			p := c.at(t)
			before := p.s.Prompt()
			p.do(word)
			if !p.p.Danger {
				t.Fatalf("the walk wants %s, not the danger question", asks(p.p))
			}
			p.say("danger_now", "no")
			after := p.s.Prompt()
			before.Cautions, after.Cautions = nil, nil // given already
			if after.Kind != c.want || unlike(view{Prompt: before}, view{Prompt: after}) != "" {
				t.Errorf("it goes on with %s, and had asked %s", asks(after), asks(before))
			}
		})
		for _, answer := range []string{"yes", "?"} {
			t.Run(c.name+", "+answer, func(t *testing.T) {
				p := c.at(t).do(word).say("danger_now", answer)
				if told := p.s.Told(); p.s.Outcome() != walk.Stopped || told[len(told)-1].Finding.ID != "fire" {
					t.Errorf("it ended %q with %v, want the stop behind the word", p.s.Outcome(), told)
				}
			})
		}
	}
}

func TestAVaguerWordTakesNothingBack(t *testing.T) {
	g := sheet(t, hotSteps)
	p := begin(t, g).do(walk.Event{Kind: walk.EvDanger, Finding: "leak"}).do(walk.Event{Kind: walk.EvDanger})
	p.say("danger_now", "yes").ends(walk.Stopped, "leak handed over")
}

func TestDangerTwiceInOneRound(t *testing.T) {
	g := sheet(t, hotSteps)
	smell := walk.Event{Kind: walk.EvDanger, Words: "hot smell"}
	p := begin(t, g).do(smell).say("danger_now", "yes").say("what", "none-of-these")
	p.wants(walk.WantAnswer, "volts") // back to where it stood
	p.do(smell).say("danger_now", "yes")
	p.wants(walk.WantAnswer, "what")                          // asked anew, though it was answered in this round
	p.say("what", "?").ends(walk.Stopped, "fire handed over") // not sure counts as the worst
}

func TestADangerWordWithAnUnknownStopIsRefused(t *testing.T) {
	g := sheet(t, hotSteps)
	p := &play{t: t, g: g, s: walk.Start(g, walk.Setup{})}
	p.refuses(walk.Event{Kind: walk.EvDanger, Finding: "no-such"}, "no finding called")
	begin(t, g).refuses(walk.Event{Kind: walk.EvDanger, Finding: "no-such"}, "no finding called")
}

func TestAlsoIntoStopWorkStops(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [seen]
    then: [{if: seen, go: burnt}, {go: sound}]
    also: [{if: seen, finding: fire}]
findings:`+ends)
	begin(t, g, reading.PlaceOnRig{ID: "x", Class: "fuse"}).say("seen", "yes")
	p := begin(t, g).say("seen", "yes")
	if p.s.Outcome() != walk.Stopped {
		t.Errorf("the outcome is %q, want stopped", p.s.Outcome())
	}
}
