package prove

import (
	"context"
	"flag"
	"os"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/kb"
)

var update = flag.Bool("update", false, "count the odds of the knowledge anew")

// oddsPath is where the odds of the built-in knowledge stand.
const oddsPath = "../../kb/odds.txt"

// oddsRigs and oddsSeed are of a population that nothing else is measured on.
const (
	oddsRigs = 20
	oddsSeed = 1125
)

// The odds are data that this test counts anew; without being told to it sees that
// they can be read, know most of what the knowledge knows, and stay small.
func TestOddsOfTheKnowledge(t *testing.T) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	if *update {
		src := Simulated(g, oddsSeed, false)
		b, err := Odds(context.Background(), g, src, Options{Plan: Plan{Seed: oddsSeed, Rigs: oddsRigs}, Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(oddsPath, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	b, err := os.ReadFile(oddsPath)
	if err != nil {
		t.Fatal(err)
	}
	o, err := graph.ReadOdds(b)
	if err != nil {
		t.Fatal(err)
	}
	if len(b) > 400_000 {
		t.Errorf("the odds take %d bytes, more than is worth embedding", len(b))
	}
	known, all := 0, 0
	for _, id := range g.ReadingOrder {
		if r := g.Readings[id]; r.Rig == "" && id != g.DangerReading {
			all++
			if o.Buckets(id) > 0 {
				known++
			}
		}
	}
	if known < all*3/4 {
		t.Errorf("of %d readings the odds know %d: count them anew with -update", all, known)
	}
}
