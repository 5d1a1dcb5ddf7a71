package walk_test

import (
	"slices"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// lawful is a small knowledge with laws between its readings.
func lawful(t *testing.T) *graph.Graph {
	return load(t, map[string]string{
		"laws.yaml": `laws:
  part: {of: [more, shot], holds: it <= volts + 1, because: A part is no more than the whole., sources: [practice]}
  rating: {holds: amps_on <= 1.2 * rated, because: It holds back what is above., sources: [practice]}
`,
		"sheets/a.yaml": `sheet: a
steps:
  one:
    ask: [rated, volts, more, amps_on]
    then:
      - {if: more > 5 and amps_on > 3, go: burnt}
      - {go: sound}
findings:` + ends,
	})
}

func TestALawIsAskedBackOnce(t *testing.T) {
	g := lawful(t)
	p := begin(t, g).say("rated", "10 A").say("volts", "12.9 V")
	p.do(p.answer("more", "95 V")).wants(walk.WantSure, "more")
	o := p.p.Odd
	if want := "More volts (95 V) and volts (12.9 V) do not fit together: a part is no more than the whole."; o.Say != want {
		t.Fatalf("it says %q, want %q", o.Say, want)
	}
	if !slices.Contains(o.Suggest, 9.5) || o.Law == nil {
		t.Fatalf("likely meant is %v by law %v, want 9.5 among it", o.Suggest, o.Law)
	}
	at := p.s
	t.Run("another value that fits", func(t *testing.T) {
		p.s = at
		p.do(p.answer("more", "9.5 V")).wants(walk.WantAnswer, "amps_on").say("amps_on", "5 A").told("burnt likely")
		if odd := p.s.Told()[0].Odd; len(odd) > 0 {
			t.Errorf("told with odd values %q", odd)
		}
	})
	t.Run("sure, and kept and marked", func(t *testing.T) {
		p.s = at
		p.do(walk.Event{Kind: walk.EvSure}).say("amps_on", "5 A").told("burnt likely")
		if odd := p.s.Told()[0].Odd; len(odd) != 1 || odd[0] != o.Say {
			t.Errorf("told with odd values %q, want %q", odd, o.Say)
		}
	})
	t.Run("typed once more it is confirmed", func(t *testing.T) {
		p.s = at
		p.do(p.answer("more", "95 V")).wants(walk.WantAnswer, "amps_on")
		if why := differs(g, p.s, again(t, g, walk.Setup{}, p.s.Events())); why != "" {
			t.Errorf("walked again it differs in %s", why)
		}
	})
	t.Run("not known after all", func(t *testing.T) {
		p.s = at
		p.do(p.answer("more", "?")).wants(walk.WantAnswer, "amps_on")
	})
}

// Where no slip of the answer fits, another reading of the law may be the one that
// was mistyped.
func TestTheOtherReadingMayBeTheSlip(t *testing.T) {
	g := load(t, map[string]string{
		"laws.yaml": "laws:\n  part: {holds: volts <= more + 1, because: A part is no more than the whole., sources: [practice]}\n",
		"sheets/a.yaml": `sheet: a
steps:
  one:
    ask: [more, volts]
    then: [{if: more > 5 or volts > 3, go: burnt}, {go: sound}]
findings:` + ends,
	})
	p := begin(t, g).say("more", "0.012 V")
	p.do(p.answer("volts", "9 V")).wants(walk.WantSure, "volts")
	o := p.p.Odd
	if len(o.Suggest) != 0 || o.Other == nil || o.Other.Reading.ID != "more" || o.Other.Meant != 12 {
		t.Fatalf("it is odd by %+v, want another reading, 12 V", o)
	}
}

func TestLawsThatSayNothing(t *testing.T) {
	t.Run("with a reading that is not known", func(t *testing.T) {
		begin(t, lawful(t)).say("rated", "10 A").say("volts", "?").say("more", "95 V").wants(walk.WantAnswer, "amps_on")
	})
	t.Run("within the meter's error", func(t *testing.T) {
		begin(t, lawful(t)).say("rated", "10 A").say("volts", "12.9 V").say("more", "13.95 V").wants(walk.WantAnswer, "amps_on")
	})
}
