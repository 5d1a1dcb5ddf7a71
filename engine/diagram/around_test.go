package diagram

import (
	"regexp"
	"strings"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/kb"
)

func knowledge(t testing.TB) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	return g
}

// placesOf are the places at which a reading can be taken on a rig: none, and all
// of its class; of a reading without one, a place of each sort.
func placesOf(r *reading.Reading, s *rig.System) []string {
	out := []string{r.At}
	like := map[string]bool{}
	for _, p := range s.Places {
		if r.Over == p.Class || r.Over == "" && !like[p.Like] {
			out = append(out, p.ID)
		}
		like[p.Like] = true
	}
	return out
}

var (
	redTag   = regexp.MustCompile(`\[red\]`)
	blackTag = regexp.MustCompile(`\[black\]`)
)

// Every reading of the knowledge that has two points has them in the drawing, on
// every demo rig and without a rig file.
func TestAroundEveryReading(t *testing.T) {
	g := knowledge(t)
	n := 0
	for _, name := range demos(t) {
		s := demo(t, name)
		l := Lay(s, Options{})
		for _, id := range g.ReadingOrder {
			r := g.Readings[id]
			if r.From == "" || r.To == "" {
				continue
			}
			for _, at := range placesOf(r, s) {
				for _, width := range []int{40, 30} {
					if width != 40 && at != r.At {
						continue
					}
					n++
					e, ok := l.Around(r.From, r.To, at, width)
					if !ok {
						t.Errorf("%s at %q on %q: %s or %s is not on the drawing", id, at, name, r.From, r.To)
						continue
					}
					all := strings.Join(e.Lines, "\n")
					if len(redTag.FindAllString(all, -1)) != 1 || len(blackTag.FindAllString(all, -1)) != 1 {
						t.Errorf("%s at %q on %q: not one probe of each colour:\n%s", id, at, name, all)
					}
					if len(e.Lines) > mostAround {
						t.Errorf("%s at %q on %q: %d lines at %d columns:\n%s", id, at, name, len(e.Lines), width, all)
					}
					for _, line := range e.Lines {
						if columns(line) > width {
							t.Errorf("%s at %q on %q: %q is wider than %d", id, at, name, line, width)
						}
					}
					if !strings.Contains(strings.ToLower(e.Spoken), "red") || !strings.Contains(e.Spoken, "black") || strings.Contains(e.Spoken, "by itself") {
						t.Errorf("%s at %q on %q: said is %q", id, at, name, e.Spoken)
					}
				}
			}
		}
	}
	if n < 1000 {
		t.Errorf("only %d drawings were tried", n)
	}
}

// No point of the knowledge is without a place on a drawing, whether a reading uses
// it today or not.
func TestEveryPointIsKnown(t *testing.T) {
	l := Lay(Standard(), Options{})
	for id := range knowledge(t).Points {
		if _, ok := l.Around(id, id, "", 40); !ok {
			t.Errorf("the point %s stands on no drawing; it belongs in a rung, or among the generals", id)
		}
	}
}

func TestAroundUnknownPoints(t *testing.T) {
	if e, ok := Lay(Standard(), Options{}).Around("no-such-point", "post-neg", "", 40); ok {
		t.Errorf("a point that nobody knows is drawn:\n%s", strings.Join(e.Lines, "\n"))
	}
}

// Where it says which part is meant, the drawing shows that part and no other.
func TestAroundGolden(t *testing.T) {
	var b strings.Builder
	for _, c := range []struct{ rig, from, to, at string }{
		{"hut-01", "post-pos", "post-neg", ""},
		{"hut-01", "holder-in", "holder-out", "main-fuse"},
		{"hut-01", "fuse-tab-in", "fuse-tab-out", "fridge-fuse"},
		{"hut-01", "joint-a", "joint-b", "post-neg"},
		{"hut-01", "post-pos", "lug-palm", ""},
		{"hut-05", "post-pos", "post-neg", ""},
		{"hut-05", "way-out", "chassis", "cooler-fuse"},
		{"hut-05", "block-pos", "block-neg", ""},
		{"hut-02", "post-pos", "inv-pos", ""},
		{"hut-02", "pv-isolator-array", "pv-return", ""},
		{"hut-08", "inv-pos", "inv-neg", ""},
		{"", "bus-pos", "bus-neg", ""},
		{"", "way-out", "bus-neg", ""},
		{"", "relay-coil", "start-neg", ""},
		{"", "lead-plus", "lead-minus", ""},
		{"", "gap-a", "gap-b", ""},
	} {
		e, ok := Lay(demo(t, c.rig), Options{}).Around(c.from, c.to, c.at, 40)
		if !ok {
			t.Errorf("%+v is not found", c)
		}
		b.WriteString("== " + strings.TrimSpace(c.rig+" "+c.from+" "+c.to+" "+c.at) + "\n" + strings.Join(e.Lines, "\n") + "\n" + e.Spoken + "\n\n")
	}
	golden(t, "around.40.txt", b.String())
}
