package ticket_test

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
	"hotlug/session/ticket"
)

var update = flag.Bool("update", false, "rewrite the tickets in testdata")

// knowledge is the small whole knowledge in testdata/kb, so that these tests
// don't change with every word of the built-in one.
func knowledge(t testing.TB) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: os.DirFS("testdata/kb")})
	for _, p := range problems {
		if p.Severity == shape.Error {
			t.Fatal(shape.Render(p))
		}
	}
	g.Version = "1.0"
	return g
}

const rigFile = `format: 1
name: hut-77
battery: {chemistry: lfp, system_v: 24 V}
places:
  - {id: post-pos, class: joint, name: the lug on the plus post, like: post}
  - {id: main, class: joint, name: the lug of the main fuse, like: stud}
`

var day = time.Date(2026, 3, 1, 9, 30, 0, 0, time.UTC)

// A story is a walk told line by line: "reading text" answers, "? reading" does
// not know, "done" does what is wanted, "later" leaves it, "nothing else" does
// neither to the end.
type story struct {
	name, rig string
	us        bool
	lines     []string
	about     ticket.About
}

var stories = []story{
	{name: "proven", rig: rigFile, lines: []string{
		"danger_now no", "load_a 42 A", "holder_hot no", "holder_drop_v 180 mV", "done", "holder_drop_v 12 mV", "load_a 42.0 A",
	}, about: ticket.About{Session: "1nb5w2q-7tm", Program: "1.0", Rig: "hut-77", Created: day,
		Notes: []ticket.Note{{Text: "the cover was already off", When: day.Add(90 * time.Second)}}}},
	{name: "stopped", lines: []string{"danger_now yes", "danger_what smoke"},
		about: ticket.About{Session: "1nb5w2q-7tn", Program: "1.0", Created: day, Began: "0a1b2c3d"}},
	{name: "refuted-then-loose-lug", rig: rigFile, us: true, lines: []string{
		"danger_now no", "load_a 42 A", "holder_hot no", "holder_drop_v 180 mV", "done", "holder_drop_v 170 mV",
		"done", "joint_drop_v 2 mV", "done", "joint_drop_v 90 mV", "later",
	}, about: ticket.About{Program: "1.0", Rig: "hut-77", Unused: []string{"chemistry"}}},
	{name: "narrowed", lines: []string{"danger_now no", "nothing else"},
		about: ticket.About{Session: "1nb5w2q-7tp", Program: "1.0", Created: day}},
	{name: "no-complaint", lines: nil, about: ticket.About{Session: "1nb5w2q-7tq", Program: "1.0", Created: day,
		Notes: []ticket.Note{{Text: "nobody was there"}}}},
}

// told walks a story and gives its ticket.
func (s story) told(t testing.TB) ticket.Ticket {
	t.Helper()
	g := knowledge(t)
	setup := walk.Setup{Style: quantity.Style{US: s.us}}
	var facts []walk.Event
	if s.rig != "" {
		r, problems := rig.Read("rig.yaml", []byte(s.rig))
		if len(problems) > 0 {
			t.Fatal(shape.Render(problems[0]))
		}
		setup.Places = r.Places
		facts = append(facts, walk.Event{Kind: walk.EvFact, Reading: "chemistry", Choice: "lfp", Text: "lfp", Origin: walk.File})
	}
	w := walk.Start(g, setup)
	now := day
	do := func(e walk.Event) {
		t.Helper()
		now = now.Add(time.Minute)
		e.At = now
		n, p := walk.Step(g, w, e)
		if p.Refused != "" {
			t.Fatalf("%s: %+v: %s", s.name, e, p.Refused)
		}
		w = n
	}
	for _, e := range facts {
		do(e)
	}
	if s.lines != nil {
		do(walk.Event{Kind: walk.EvComplaint, Symptom: "melted-holder", Words: "my fuse thing | is *melting*"})
	}
	for _, l := range s.lines {
		p := w.Prompt()
		what, text, _ := strings.Cut(l, " ")
		switch what {
		case "nothing":
			for w.Outcome() == walk.Running {
				switch p := w.Prompt(); p.Kind {
				case walk.WantAnswer:
					do(walk.Event{Kind: walk.EvNotKnown, Reading: p.Reading.ID, Place: p.Place.ID, Reason: "no meter at hand"})
				case walk.WantFix:
					do(walk.Event{Kind: walk.EvNotDone, Finding: p.Finding.Finding.ID, Reason: "left for later"})
				case walk.WantPlaces:
					do(walk.Event{Kind: walk.EvDone, Action: walk.ConfirmPlaces})
				case walk.WantDone:
					do(walk.Event{Kind: walk.EvNotDone, Action: p.Action.ID, Reason: "no tools at hand"})
				default:
					t.Fatalf("%s: the walk wants %v", s.name, p.Kind)
				}
			}
		case "done", "later":
			e := walk.Event{Kind: walk.EvDone}
			if what == "later" {
				e = walk.Event{Kind: walk.EvNotDone, Reason: "left for later"}
			}
			switch p.Kind {
			case walk.WantFix:
				e.Finding = p.Finding.Finding.ID
			case walk.WantDone:
				e.Action = p.Action.ID
			default:
				t.Fatalf("%s: %s: the walk wants %v, and nothing to be done", s.name, l, p.Kind)
			}
			do(e)
		case "?":
			do(walk.Event{Kind: walk.EvNotKnown, Reading: text, Place: p.Place.ID, Reason: "no meter at hand"})
		default:
			e, err := walk.Typed(g.Readings[what], text)
			if err != nil {
				t.Fatal(err)
			}
			e.Place = p.Place.ID
			do(e)
		}
	}
	a := s.about
	kept := ticket.WalkOf(setup, w.Events())
	if a.Began == "" {
		a.Began = g.Hash
	}
	x := ticket.Make(g, w, a)
	x.Walk = &kept
	return x
}

func retold(g *graph.Graph, w ticket.Walk, a ticket.About) ticket.Ticket {
	t, _, _ := ticket.Retell(g, w, a)
	return t
}

func written(t testing.TB, write func(io.Writer, ticket.Ticket) error, x ticket.Ticket) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, x); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func markdown(t testing.TB, x ticket.Ticket) string { return written(t, ticket.Markdown, x) }
func inJSON(t testing.TB, x ticket.Ticket) string   { return written(t, ticket.JSON, x) }
func page(t testing.TB, x ticket.Ticket) string     { return written(t, ticket.HTML, x) }

func plainText(t testing.TB, x ticket.Ticket) string {
	return written(t, func(w io.Writer, x ticket.Ticket) error { return ticket.Text(w, x, ticket.NoWrap) }, x)
}

// TestGolden compares whole tickets; -update writes them anew.
func TestGolden(t *testing.T) {
	for _, s := range stories {
		x := s.told(t)
		for ending, got := range map[string]string{".md": markdown(t, x), ".json": inJSON(t, x), ".txt": plainText(t, x), ".html": page(t, x)} {
			t.Run(s.name+ending, func(t *testing.T) {
				path := filepath.Join("testdata", s.name+ending)
				if *update {
					if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
						t.Fatal(err)
					}
				}
				want, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				if got != string(want) {
					t.Errorf("the ticket is not that in %s:\n%s", path, got)
				}
			})
		}
	}
}
