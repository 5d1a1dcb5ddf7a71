package walk_test

import (
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// rankSheet cannot be settled: what parts the findings is not to be had.
const rankSheet = `
sheet: a
steps:
  one:
    ask: [lit, seen, volts]
    then:
      - {if: lit and volts > 20, go: bulb}
      - {if: volts > 10, go: two}
      - {go: wire}
  two:
    ask: [seen]
    then:
      - {if: not seen, go: fine}
      - {go: burnt}
findings:
  bulb: {cause: The bulb., often: rare, because: It is., fix: [{say: Mend it.}], prove: {ask: [lit], if: lit}}
  wire: {cause: The wire., often: common, because: It is., fix: [{say: Mend it.}], prove: {ask: [lit], if: lit}}
  burnt: {cause: It burnt., often: rare, because: It is., fix: [{say: Mend it.}], prove: {ask: [lit], if: lit}}
  fine: {cause: Nothing., often: rare, because: It is., no_fault: true, prove: {ask: [lit], if: lit}}
`

func first(g *graph.Graph, s *walk.State) string {
	if p := s.Possible(g); len(p) > 0 {
		return p[0].Finding.ID
	}
	return ""
}

// Without odds what is common comes first; with them what fits the answers.
func TestRank(t *testing.T) {
	for _, c := range []struct {
		name, odds, want string
	}{
		{"no odds", "", "wire"},
		{"a lamp that is lit speaks for the bulb", "reading lit\n - 55\n bulb 09\n wire 90\n", "bulb"},
		{"of another reading", "reading amps_on\n - 55\n bulb 09\n wire 90\n", "wire"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"sheets/a.yaml": rankSheet[1:]}
			if c.odds != "" {
				files["odds.txt"] = c.odds
			}
			p := begin(t, load(t, files)).say("lit", "yes")
			if got := first(p.g, p.s); got != c.want {
				t.Errorf("the first of what is possible is %s, want %s", got, c.want)
			}
		})
	}
}

// On a way on which something could not be told, that nothing is wrong is firm only
// where the answers are not likelier with another cause.
func TestGuessIsNotFirm(t *testing.T) {
	for _, c := range []struct {
		name, odds string
		want       walk.Status
	}{
		{"no odds", "", walk.IsLikely}, // a reading of its own speaks for it
		{"the answers fit it", "reading lit\n - 55\n burnt 90\n fine 09\n", walk.IsLikely},
		{"the answers fit another", "reading lit\n - 55\n bulb 09\n fine 90\n", walk.IsPossible},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"sheets/a.yaml": rankSheet[1:]}
			if c.odds != "" {
				files["odds.txt"] = c.odds
			}
			g := load(t, files)
			p := begin(t, g).say("lit", "yes").say("seen", "no")
			p.do(walk.Event{Kind: walk.EvNotKnown, Reading: "volts", Reason: "no meter"})
			got := walk.Status("")
			for _, x := range p.s.Told() {
				if x.Finding.ID == "fine" {
					got = x.Status
				}
			}
			if got != c.want {
				t.Errorf("that nothing is wrong is %q, want %s", got, c.want)
			}
		})
	}
}

// The best reading is told with where it is taken and how the rig must stand, and
// costs the way there.
func TestBestNextKnowsWhereThePersonStands(t *testing.T) {
	const text = `sheet: a
steps:
  one:
    ask: [volts]
    then:
      - {if: volts > 20, go: near}
      - {go: far}
    unknown: near
  near:
    ask: [amps_on]
    then:
      - {if: amps_on > 5, go: bulb}
      - {go: wire}
  far:
    ask: [amps_off]
    then:
      - {if: amps_off > 5, go: burnt}
      - {go: wire}
findings:
  bulb: {cause: The bulb., often: common, because: It is., fix: [{say: Mend it.}], prove: {ask: [lit], if: lit}}
  wire: {cause: The wire., often: common, because: It is., fix: [{say: Mend it.}], prove: {ask: [lit], if: lit}}
  burnt: {cause: It burnt., often: common, because: It is., fix: [{say: Mend it.}], prove: {ask: [lit], if: lit}}
`
	g := load(t, map[string]string{"sheets/a.yaml": text})
	p := begin(t, g)
	p.do(walk.Event{Kind: walk.EvNotKnown, Reading: "volts", Reason: "no meter"})
	b := p.s.BestNext(g)
	if b == nil || len(b.States) != 1 && b.Reading.ID != "volts" {
		t.Fatalf("the best next is %+v", b)
	}
	p.s.Possible(g)
	g.Readings["volts"].Minutes = 30
	if b = p.s.BestNext(g); b == nil || b.Reading.ID == "volts" || len(b.States) != 1 {
		t.Errorf("with volts of half an hour the best next is %+v", b)
	}
}
