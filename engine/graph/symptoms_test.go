package graph_test

import (
	"slices"
	"testing"
	"testing/fstest"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/kb"
)

// What a shell is given to complete, and the hash that --version tells, are what
// the whole knowledge has.
func TestWithoutLoading(t *testing.T) {
	over := graph.Layer{Name: "mine", FS: fstest.MapFS{"symptoms.yaml": {Data: []byte(
		"format: 1\nsymptoms:\n  hot-joint: {label: A lug glows., says: [glowing lug]}\n  fan-howls: {label: The fan howls., start: joints/place, says: [loud fan]}\n")}}}
	layers := []graph.Layer{{Name: "kb", FS: kb.Files}, over}
	g, _ := graph.Load(electric.Table(), layers...)
	if h := graph.Hash(layers...); h != g.Hash {
		t.Errorf("the hash alone is %s, that of the knowledge %s", h, g.Hash)
	}
	var got []string
	for _, s := range graph.Symptoms(layers...) {
		got = append(got, s.ID)
		if w := g.Symptoms[s.ID]; w == nil || w.Label != s.Label || !slices.Equal(w.Says, s.Says) {
			t.Errorf("%s reads as %+v, and in the whole knowledge as %+v", s.ID, s, w)
		}
	}
	if !slices.Equal(got, g.SymptomOrder) {
		t.Errorf("got %v, want %v", got, g.SymptomOrder)
	}
}
