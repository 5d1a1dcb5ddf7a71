package walk_test

import (
	"testing"

	"hotlug/engine/walk"
)

func TestProof(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [volts, seen]
    then:
      - {if: volts > 20, go: burnt}
      - {if: seen, go: loose}
      - {go: sound}
  after:
    ask: [seen]
    then: [{if: seen, go: loose}, {go: burnt}]
findings:
  burnt:
    cause: It is burnt.
    fix: [{do: mend}, {say: "It read {volts}."}]
    prove: {ask: [volts], if: volts < 0.5 * was(volts)}
    if_not: after
  loose: {cause: It is loose.}
  sound: {cause: It is sound.}
`)
	fix := begin(t, g).say("volts", "40 V").wants(walk.WantFix, "burnt")
	if f := fix.p.Finding; len(f.Fix) != 2 || f.Fix[1].Say != "It read 40 V." || f.Proof == "" || len(f.Cautions) != 1 {
		t.Errorf("the finding is told as %+v", f)
	}
	from := func() *play { p := *fix; return &p }
	t.Run("later leaves it pending", func(t *testing.T) { from().notDone().ends(walk.Found, "burnt likely pending") })
	t.Run("true proves it", func(t *testing.T) {
		p := from().done().wants(walk.WantAnswer, "volts")
		if !p.p.Proof || !p.p.Opened || p.s.Round() != 2 {
			t.Errorf("the proof is asked for as %+v", p.p)
		}
		p.say("volts", "3 V").ends(walk.Found, "burnt proven")
	})
	t.Run("false refutes it, and its own way on comes first", func(t *testing.T) {
		p := from().done().say("volts", "41 V").told("burnt refuted").wants(walk.WantAnswer, "seen")
		p.say("seen", "no").ends(walk.Narrowed, "burnt refuted") // never entered again
		if x := p.s.Excluded(g); len(x) == 0 || x[0].Finding.ID != "burnt" {
			t.Errorf("excluded are %v, want burnt first", x)
		}
	})
	t.Run("not known leaves it pending", func(t *testing.T) {
		from().done().say("volts", "?").ends(walk.Found, "burnt likely pending")
	})
	t.Run("another fix is not this one", func(t *testing.T) {
		from().refuses(walk.Event{Kind: walk.EvDone, Finding: "loose"}, "Another fix")
	})
}

// A procedure goes on behind a proof that held, and does not behind one that is
// left for later or fails.
func TestProcedureGoesOn(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [volts]
    then:
      - {if: volts > 20, go: burnt}
      - {go: two}
  two:
    ask: [seen]
    then: [{if: seen, go: loose}, {go: sound}]
findings:
  burnt:
    cause: It is burnt.
    fix: [{do: mend}]
    prove: {ask: [volts], if: volts < 5}
    next: two
  loose: {cause: It is loose.}
  sound: {cause: It is sound., no_fault: true}
`)
	fix := begin(t, g).say("volts", "40 V").wants(walk.WantFix, "burnt")
	from := func() *play { p := *fix; return &p }
	t.Run("proven", func(t *testing.T) {
		from().done().say("volts", "3 V").wants(walk.WantAnswer, "seen").say("seen", "no").told("burnt proven", "sound likely")
	})
	t.Run("left for later", func(t *testing.T) { from().notDone().ends(walk.Found, "burnt likely pending") })
	t.Run("refuted", func(t *testing.T) { from().done().say("volts", "30 V").ends(walk.Narrowed, "burnt refuted") })
}

func TestAFixSetsFacts(t *testing.T) {
	g := sheet(t, `
values:
  next_rated: {is: rated * 2, unit: A, label: next size}
steps:
  one:
    ask: [rated, volts]
    then: [{if: volts > 20 and rated < 15, go: small}, {go: sound}]
findings:
  small:
    cause: It is too small.
    sets: {rated: next_rated}
    prove: {ask: [volts, rated], if: volts < 20 and rated > 15}
  sound: {cause: It is sound.}
`)
	p := begin(t, g).say("rated", "10 A").say("volts", "40 V").done().say("volts", "5 V").ends(walk.Found, "small proven")
	if r, ok := p.s.Stands("rated", ""); !ok || r.Value != 20 || r.Origin != walk.Worked {
		t.Errorf("after the fix the rating is %+v, want 20 A, worked", r)
	}
}

func TestSecondFaultsComeAfterTheFirstInOrderOfDanger(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [seen, lit, volts]
    then: [{if: volts > 20, go: first}, {go: sound}]
    also:
      - {if: lit, finding: mild}
      - {if: seen, finding: grave}
findings:
  first: {cause: The first.}
  mild: {cause: Mild., unsafe: 1}
  grave: {cause: Grave., unsafe: 3}
  sound: {cause: It is sound.}
`)
	p := begin(t, g).say("seen", "yes").say("lit", "yes").say("volts", "40 V")
	// All are known by now: the gravest of them comes first.
	p.wants(walk.WantFix, "grave").notDone().wants(walk.WantFix, "mild").notDone().wants(walk.WantFix, "first").done()
	p.ends(walk.Found, "mild likely pending", "grave likely pending", "first likely")

	t.Run("one that is not certain is not recorded", func(t *testing.T) {
		begin(t, g).say("seen", "?").say("lit", "no").say("volts", "40 V").wants(walk.WantFix, "first").told("first likely")
	})
}

func TestSecondFaultsWaitWhileTheHuntGoesOn(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [seen, lit]
    then: [{if: lit, go: two}, {go: loose}]
    also: [{if: seen, finding: second}]
  two:
    ask: [volts]
    then: [{if: volts > 20, go: burnt}, {go: sound}]
findings:
  second: {cause: A second fault., unsafe: 3}
`+ends)
	p := begin(t, g).say("seen", "yes").say("lit", "?").wants(walk.WantAnswer, "volts").say("volts", "5 V")
	p.wants(walk.WantFix, "second").told("second likely", "sound possible", "loose possible")
	p.done().ends(walk.Found, "second likely", "sound possible", "loose possible")
}

func TestStopAtAPlaceHandsItOverAndGoesOn(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [lit]
    then: [{if: lit, go: two}, {go: three}]
  two:
    ask: [volts]
    then: [{if: volts > 50, go: high}, {go: burnt}]
  three:
    ask: [seen]
    then: [{if: seen, go: loose}, {go: sound}]
findings:
  high: {cause: Too high for the meter., stop: place, hand_to: An electrician.}
`+ends)
	p := begin(t, g).say("lit", "?").say("volts", "55 V").told("high handed over").wants(walk.WantAnswer, "seen")
	if c := p.s.ClosedPlaces(); len(c) != 1 || c[0].Step != "a/two" || c[0].Reason != "Too high for the meter." {
		t.Errorf("closed are %+v", c)
	}
	p.say("seen", "yes").wants(walk.WantFix, "loose")
}
