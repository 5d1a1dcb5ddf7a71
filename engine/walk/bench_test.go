package walk_test

import (
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// worn is what is found out about a worn fuse holder.
func worn(tb testing.TB, g *graph.Graph) walk.Answers {
	tb.Helper()
	a := walk.Answers{Symptom: "hot-joint", Answers: map[string]walk.Event{}, After: map[string]map[string]walk.Event{"worn-holder": {}}}
	typed := func(id, text string) walk.Event {
		e, err := walk.Typed(g.Readings[id], text)
		if err != nil {
			tb.Fatal(id, err)
		}
		return e
	}
	for id, text := range map[string]string{
		"danger_now": "no", "trouble_spot": "fuse-holder", "browned": "no", "full_load_a": "30 A", "wire_mm2": "10 mm2",
		"fuse_rating_a": "40 A", "holder_drop_v": "180 mV", "load_a": "20.0 A", "fuse_drop_v": "20 mV", "system_v": "12 V",
	} {
		a.Answers[id] = typed(id, text)
	}
	for id, text := range map[string]string{"holder_drop_v": "30.0 mV", "load_a": "20.0 A"} {
		a.After["worn-holder"][id] = typed(id, text)
	}
	return a
}

func TestHotJointToWornHolder(t *testing.T) {
	g := real()
	s, unused, err := walk.Replay(g, walk.Setup{}, worn(t, g))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Told() {
		if f.Finding.ID == "worn-holder" && f.Status == walk.IsProven {
			return
		}
	}
	t.Errorf("the outcome is %q with %v, unused %v; want a proven worn holder", s.Outcome(), s.Trail(g), unused)
}

func BenchmarkWholeWalk(b *testing.B) {
	g := real()
	a := worn(b, g)
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := walk.Replay(g, walk.Setup{}, a); err != nil {
			b.Fatal(err)
		}
	}
}

// middle is a state some way into the walk, and an answer to what it asks.
func middle(b *testing.B, g *graph.Graph) (*walk.State, walk.Event) {
	b.Helper()
	s, _, err := walk.Replay(g, walk.Setup{}, worn(b, g))
	if err != nil {
		b.Fatal(err)
	}
	events := s.Events()
	for i, e := range events {
		if e.Reading == "holder_drop_v" {
			return again(b, g, walk.Setup{}, events[:i]), e
		}
	}
	b.Fatal("the walk does not come to the holder")
	return nil, walk.Event{}
}

func BenchmarkStep(b *testing.B) {
	g := real()
	s, e := middle(b, g)
	b.ReportAllocs()
	for b.Loop() {
		if _, p := walk.Step(g, s, e); p.Refused != "" {
			b.Fatal(p.Refused)
		}
	}
}

func BenchmarkPossible(b *testing.B) {
	g := real()
	s, _ := middle(b, g)
	b.ReportAllocs()
	for b.Loop() {
		if len(s.Possible(g)) == 0 {
			b.Fatal("nothing is possible")
		}
	}
}
