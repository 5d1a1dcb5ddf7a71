package prove

import (
	"context"
	"runtime/debug"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/kb"
)

// BenchmarkWalks is complete walks of the built-in knowledge on two workers, with
// all that is solved for them; walks/s is what counts.
func BenchmarkWalks(b *testing.B) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		b.Fatal(problems)
	}
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as `hotlug kb prove` runs
	walks := 0
	for b.Loop() {
		rep, err := Prove(context.Background(), g, Simulated(g, 1, false), Options{Plan: Plan{Seed: 1, Rigs: 2}, Workers: 2})
		if err != nil {
			b.Fatal(err)
		}
		walks += rep.Walks
	}
	b.ReportMetric(float64(walks)/b.Elapsed().Seconds(), "walks/s")
}
