package walk_test

import (
	"testing"

	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

var fuses = []reading.PlaceOnRig{
	{ID: "f1", Class: "fuse", Name: "the first fuse", Like: "blade"},
	{ID: "f2", Class: "fuse", Name: "the second fuse", Like: "blade"},
	{ID: "f3", Class: "fuse", Name: "the third fuse", Like: "blade"},
}

const overFuses = `
steps:
  one:
    each: fuse
    ask: [fuse_v]
    then: [{if: fuse_v > 2 * others(fuse_v) and fuse_v > 1, go: bad}, {go: sound}]
findings:
  bad: {cause: A fuse holder is bad., because: "Across {place} there are {fuse_v}."}
  sound: {cause: It is sound.}
`

func TestEachGoesOverThePlaces(t *testing.T) {
	g := sheet(t, overFuses)
	t.Run("the odd one is found, wherever it stands", func(t *testing.T) {
		for _, volts := range [][3]string{{"9.0 V", "1.0 V", "1.0 V"}, {"1.0 V", "9.0 V", "1.0 V"}, {"1.0 V", "1.0 V", "9.0 V"}} {
			p := begin(t, g, fuses...)
			odd := ""
			for i, v := range volts {
				p.at(fuses[i].ID, "fuse_v", v)
				if v == "9.0 V" {
					odd = fuses[i].ID
				}
			}
			p.wants(walk.WantFix, "bad").told("bad@" + odd + " likely")
			if want := "Across " + p.p.Place.Name + " there are 9.0 V."; p.p.Finding.Because != want && p.p.Finding.Because != "Across "+p.p.Place.Name+" there are 9 V." {
				t.Errorf("the evidence reads %q, want %q", p.p.Finding.Because, want)
			}
		}
	})
	t.Run("none is odd: the last branch, likely", func(t *testing.T) {
		begin(t, g, fuses...).at("f1", "fuse_v", "1.0 V").at("f2", "fuse_v", "1.0 V").at("f3", "fuse_v", "1.0 V").
			wants(walk.WantFix, "sound").told("sound likely")
	})
	t.Run("one that can't be read may be the odd one", func(t *testing.T) {
		begin(t, g, fuses...).at("f1", "fuse_v", "1.0 V").at("f2", "fuse_v", "?").at("f3", "fuse_v", "1.0 V").
			ends(walk.Narrowed, "bad@f2 possible", "sound@f2 possible")
	})
}

func TestStandardPathIsConfirmed(t *testing.T) {
	g := sheet(t, overFuses)
	t.Run("yes", func(t *testing.T) {
		begin(t, g).wants(walk.WantPlaces, "f1 f2 f3").done().wants(walk.WantAnswer, "fuse_v@f1")
	})
	t.Run("no closes it", func(t *testing.T) {
		p := begin(t, g).wants(walk.WantPlaces, "f1 f2 f3").notDone().ends(walk.Narrowed)
		if c := p.s.ClosedPlaces(); len(c) != 1 || c[0].Reason == "" {
			t.Errorf("closed are %+v, want the step with a reason", c)
		}
	})
	t.Run("a rig without such places closes it", func(t *testing.T) {
		p := begin(t, g, reading.PlaceOnRig{ID: "j", Class: "joint", Name: "a joint"}).ends(walk.Narrowed)
		if c := p.s.ClosedPlaces(); len(c) != 1 {
			t.Errorf("closed are %+v, want the step", c)
		}
	})
}

func TestUntilEndsThePlaces(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    do: push
    each: fuse
    until: lit
    ask: [lit]
    then: [{if: lit, go: bad}, {go: sound}]
findings:
  bad: {cause: A fuse is bad.}
  sound: {cause: It is sound.}
`)
	p := begin(t, g, fuses...).wants(walk.WantDone, "push").done().say("lit", "no").wants(walk.WantDone, "push").done().say("lit", "yes")
	p.wants(walk.WantFix, "bad").told("bad@f2 likely")
	if p.s.Round() != 3 {
		t.Errorf("it is round %d, want 3: each action opens one", p.s.Round())
	}
	t.Run("an action not done closes its place only", func(t *testing.T) {
		p := begin(t, g, fuses...).notDone().done().say("lit", "no").done().say("lit", "yes").told("bad@f3 likely")
		if c := p.s.ClosedPlaces(); len(c) != 1 || c[0].Place != "f1" || c[0].Reason != "later" {
			t.Errorf("closed are %+v, want f1", c)
		}
	})
	t.Run("no action done leaves the step", func(t *testing.T) {
		p := begin(t, g, fuses...).notDone().notDone().notDone().ends(walk.Narrowed)
		if n := len(p.s.ClosedPlaces()); n != 3 {
			t.Errorf("%d places are closed, want 3", n)
		}
	})
}

func TestNeedsOfEachPlace(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    each: fuse
    needs: place_rated < 100
    ask: [fuse_v]
    then: [{if: fuse_v > 1, go: bad}, {go: sound}]
findings:
  bad: {cause: A fuse is bad.}
  sound: {cause: It is sound.}
`)
	p := begin(t, g, fuses...).at("f1", "place_rated", "10 A").at("f1", "fuse_v", "0.10 V").
		at("f2", "place_rated", "400 A").at("f3", "place_rated", "10 A").at("f3", "fuse_v", "5 V")
	p.told("bad@f3 likely")
	if c := p.s.ClosedPlaces(); len(c) != 1 || c[0].Place != "f2" || c[0].Who != "electrician" {
		t.Errorf("closed are %+v, want f2 for an electrician", c)
	}
}

func TestMeanAndHighestOverLikePlaces(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    each: fuse
    ask: [fuse_v]
    then:
      - {if: fuse_v > 8 and mean(fuse_v) > 3.5 and mean(fuse_v) < 4.5 and highest(fuse_v) > 8, go: bad}
      - {go: sound}
findings:
  bad: {cause: A fuse is bad.}
  sound: {cause: It is sound.}
`)
	// The fourth place is of another kind: it is not counted in.
	places := append(fuses[:3:3], reading.PlaceOnRig{ID: "f4", Class: "fuse", Name: "the big fuse", Like: "bolted"})
	begin(t, g, places...).at("f1", "fuse_v", "1.0 V").at("f2", "fuse_v", "9.0 V").at("f3", "fuse_v", "2.0 V").at("f4", "fuse_v", "7.0 V").
		told("bad@f2 likely")
}

func TestAReadingAtAFixedPlaceIsTheOneOfThatPlace(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    ask: [main_v]
    then: [{if: main_v > 5, go: bad}, {go: two}]
  two:
    each: fuse
    ask: [fuse_v]
    then: [{if: fuse_v > 5, go: bad}, {go: three}]
  three:
    do: push-fuses
    ask: [main_v]
    then: [{if: main_v > 5, go: bad}, {go: sound}]
findings:
  bad: {cause: A fuse is bad.}
  sound: {cause: It is sound.}
`)
	p := begin(t, g, fuses...).at("f1", "main_v", "0.10 V")
	// f1 has been read under its other name.
	p.at("f2", "fuse_v", "0.10 V").at("f3", "fuse_v", "0.10 V").done()
	p.wants(walk.WantAnswer, "main_v@f1") // its class was touched
	if _, ok := p.s.Stands("fuse_v", "f2"); ok {
		t.Error("a take at a place that was touched still stands")
	}
}

func TestWhichPlaceIsMeant(t *testing.T) {
	g := sheet(t, `
steps:
  one:
    which: fuse
    ask: [fuse_v]
    then: [{if: fuse_v > 5, go: bad}, {go: sound}]
findings:
  bad: {cause: A fuse is bad.}
  sound: {cause: It is sound.}
`)
	p := begin(t, g, fuses...).wants(walk.WantPlace, "f1 f2 f3")
	p.refuses(walk.Event{Kind: walk.EvAt, Place: "f9"}, "no such place")
	p.do(walk.Event{Kind: walk.EvAt, Place: "f2"}).at("f2", "fuse_v", "9 V").told("bad@f2 likely")
	begin(t, g, fuses...).do(walk.Event{Kind: walk.EvAt}).wants(walk.WantAnswer, "fuse_v")
	begin(t, g, fuses[1]).wants(walk.WantAnswer, "fuse_v@f2")
	begin(t, g).wants(walk.WantAnswer, "fuse_v")
}
