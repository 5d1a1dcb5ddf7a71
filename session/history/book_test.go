package history_test

import (
	"io/fs"
	"math"
	"path/filepath"
	"testing"
	"time"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/walk"
	"hotlug/kb"
	"hotlug/session"
	"hotlug/session/history"
)

func knowledge(t *testing.T) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	return g
}

// visit is a session on hut 1: a complaint and answers, as a person types them.
type visit struct {
	day     int
	at      string // the place that is meant
	symptom string
	answers map[string]string
	after   map[string]map[string]string
}

func typed(t *testing.T, g *graph.Graph, answers map[string]string) map[string]walk.Event {
	t.Helper()
	out := map[string]walk.Event{}
	for id, text := range answers {
		e, err := walk.Typed(g.Readings[id], text)
		if err != nil {
			t.Fatal(err)
		}
		out[id] = e
	}
	return out
}

func kept(t *testing.T, store *session.Store, g *graph.Graph, v visit) {
	t.Helper()
	src, err := fs.ReadFile(kb.Files, "rigs/hut-01.yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, _ := rig.Read("hut-01.yaml", src)
	var all []*reading.Reading
	for _, id := range g.ReadingOrder {
		all = append(all, g.Readings[id])
	}
	facts, _ := r.Facts(all)
	a := walk.Answers{Symptom: v.symptom, Answers: typed(t, g, v.answers), At: v.at, After: map[string]map[string]walk.Event{}}
	for f, m := range v.after {
		a.After[f] = typed(t, g, m)
	}
	for _, f := range facts {
		a.Facts = append(a.Facts, walk.FromFile(f.Reading, f.Place, f.Text, f.Given))
	}
	s, unused, err := walk.Replay(g, walk.Setup{Places: r.Places}, a)
	if err != nil || len(unused) > 0 {
		t.Fatalf("%v; never asked for: %v", err, unused)
	}
	when := time.Date(2026, 3, 1+v.day, 9, 0, 0, 0, time.UTC)
	j, err := store.Create(session.Header{Created: when, Knowledge: session.Knowledge{Hash: g.Hash}, Rig: &session.Rig{Name: "hut-01", Path: "hut-01.yaml", Text: string(src)}})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	for i, e := range s.Events() {
		e.At = when.Add(time.Duration(i) * time.Second)
		if err := j.Event(e); err != nil {
			t.Fatal(err)
		}
	}
}

func holder(drop string) map[string]string {
	return map[string]string{"danger_now": "no", "trouble_spot": "fuse-holder", "fuse_look": "whole", "browned": "no", "holder_drop_v": drop, "load_a": "42.0 A"}
}

func TestOf(t *testing.T) {
	g := knowledge(t)
	store, err := session.Open(filepath.Join(t.TempDir(), "sessions"))
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []visit{
		{day: 0, at: "main-fuse", symptom: "hot-joint", answers: holder("110.0 mV")},
		{day: 30, at: "main-fuse", symptom: "hot-joint", answers: holder("150.0 mV")},
		{day: 60, at: "main-fuse", symptom: "hot-joint", answers: holder("210.0 mV")},
		{day: 60, at: "controller-fuse", symptom: "hot-joint", answers: map[string]string{
			"danger_now": "no", "trouble_spot": "fuse-holder", "fuse_look": "whole", "browned": "no", "holder_drop_v": "120.0 mV", "load_a": "17.0 A"}},
	} {
		kept(t, store, g, v)
	}
	h, err := history.Of(g, store, "HUT-01")
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Sessions) != 4 || len(h.Series) != 2 {
		t.Fatalf("%d sessions and %d series, want 4 and 2", len(h.Sessions), len(h.Series))
	}
	s := h.Series[0]
	if s.Kind != history.Holder || s.Place != "main-fuse" || s.Name != "the main fuse holder" || s.FullA != 95 || s.SysV != 12 {
		t.Errorf("the first series is %+v", s)
	}
	var got []float64
	for _, p := range s.Points {
		got = append(got, math.Round(1000*p.Value))
	}
	// 110 mV at 42 A are 249 mV at 95 A.
	if want := []float64{249, 339, 475}; len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("in millivolts at the largest current: %v, want %v", got, want)
	}
	// Largest errors of a hand meter on 110 mV and of a clamp on 42 A: 0.5 % + 3
	// counts and half a digit; 2.5 % + 5 counts, half a digit and half an amp.
	half := (0.00055+0.0003+0.00005)/42.0 + 0.110/42.0*(1.05+0.5+0.5+0.05)/42.0
	if e := s.Points[0].Error / 95; math.Abs(e-half) > 0.02*half {
		t.Errorf("it is off by %g ohm at most, want %g", e, half)
	}
	if v := s.Trend().Verdict; v != history.Worse {
		t.Errorf("it is %q, want worse: %+v", v, s.Trend())
	}

	// Mended on the next visit: the series begins anew with the proof.
	v := visit{day: 90, at: "main-fuse", symptom: "hot-joint", answers: holder("260.0 mV"), after: map[string]map[string]string{"worn-holder": {"holder_drop_v": "31.0 mV", "load_a": "42.0 A"}}}
	kept(t, store, g, v)
	if h, err = history.Of(g, store, "hut-01"); err != nil {
		t.Fatal(err)
	}
	s = h.Series[0]
	if len(s.Points) != 5 || !s.Points[4].Fresh || s.Points[3].Fresh || len(s.Now()) != 1 {
		t.Fatalf("after the fix the points are %+v", s.Points)
	}
	if w := s.Warning(quantity.Style{}); w != "" {
		t.Errorf("after the fix it still warns: %s", w)
	}
	if none, err := history.Of(g, store, "hut-02"); err != nil || len(none.Sessions) != 0 || len(none.Series) != 0 {
		t.Errorf("another rig has %+v, %v", none, err)
	}
}

// The readings that are followed are in the knowledge, and are of the kinds that
// they are taken for.
func TestFollowedReadingsExist(t *testing.T) {
	g := knowledge(t)
	for id, kind := range map[string]string{
		"joint_drop_v": "volts", "holder_drop_v": "volts", "battery_rest_v": "volts", "ah_to_cutoff": "amp-hours", "load_a": "amps", "main_lead_a": "amps",
		"full_load_a": "amps", "fuse_rating_a": "amps", "system_v": "volts", "battery_ah": "amp-hours",
	} {
		if r := g.Readings[id]; r == nil || r.Kind.ID != kind {
			t.Errorf("there is no reading %s of %s", id, kind)
		}
	}
}
