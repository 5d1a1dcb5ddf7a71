package transcripts

import (
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hotlug/cmd/hotlug/chat"
	"hotlug/cmd/hotlug/term"
	"hotlug/engine/diagram"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/walk"
	"hotlug/kb"
	"hotlug/session/ticket"
)

var update = flag.Bool("update", false, "write what Hotlug says and the outcome of every transcript anew")

// The sections of a transcript, in their order. setup may be left out.
const (
	partSetup   = "setup"
	partSay     = "say"
	partHotlug  = "hotlug"
	partOutcome = "outcome"
)

// goldenWidth is the width at which the whole conversation is kept.
const goldenWidth = 80

// story is one transcript: what is typed under which circumstances.
type story struct {
	archive
	rig     string // a demo rig, "" for none
	symptom string // an id given beforehand, "" to ask
	style   quantity.Style
}

func TestTranscripts(t *testing.T) {
	for _, s := range stories(t) {
		t.Run(strings.TrimSuffix(s.file, ".txtar"), func(t *testing.T) {
			text, outcome := told(t, s, goldenWidth)
			if *update {
				s.rewrite(t, text, outcome)
				return
			}
			if d := firstDifference(s.hotlug, text); d != "" {
				t.Errorf("Hotlug says something else (go test ./transcripts -update writes it anew):\n%s", d)
			}
			if d := firstDifference(s.outcome, outcome); d != "" {
				t.Errorf("the outcome is another:\n%s", d)
			}
		})
	}
}

// At any width the same words are said, and no line is longer than the width.
func TestOtherWidths(t *testing.T) {
	for _, s := range stories(t) {
		golden, _ := told(t, s, goldenWidth)
		for _, width := range []int{40, 120} {
			t.Run(fmt.Sprintf("%s at %d", strings.TrimSuffix(s.file, ".txtar"), width), func(t *testing.T) {
				text, _ := told(t, s, width)
				if !slices.Equal(strings.Fields(golden), strings.Fields(text)) {
					t.Error("other words are said")
				}
				for _, l := range strings.Split(text, "\n") {
					if term.Columns(l) > width && !strings.HasPrefix(l, "> ") {
						t.Errorf("wider than %d columns: %s", width, l)
					}
				}
			})
		}
	}
}

// ugly is what no printed line may have.
var ugly = []struct {
	what string
	re   *regexp.Regexp
}{
	{"an exclamation mark", regexp.MustCompile(`!`)},
	{"a double full stop", regexp.MustCompile(`[^.]\.\.( |$)`)},
	{"a space before a full stop or comma", regexp.MustCompile(` [.,;:?](\s|$)`)},
	{"an open brace", regexp.MustCompile(`[{}]`)},
	{"a name of the code", regexp.MustCompile(`[a-z]_[a-z]`)},
	{"an escape code", regexp.MustCompile("\x1b")},
	{"a percentage of certainty", regexp.MustCompile(`(?i)\d+ ?% (likely|sure|certain)`)},
	{"Go's way of printing", regexp.MustCompile(`%![a-z(]|<nil>|NaN|[-+]Inf`)},
}

var word = regexp.MustCompile(`[\pL']+`)

func TestReadsClean(t *testing.T) {
	for _, s := range stories(t) {
		t.Run(strings.TrimSuffix(s.file, ".txtar"), func(t *testing.T) {
			text, _ := told(t, s, goldenWidth)
			for _, l := range strings.Split(text, "\n") {
				if strings.HasPrefix(l, "> ") {
					continue
				}
				for _, u := range ugly {
					if u.re.MatchString(l) {
						t.Errorf("%s: %s", u.what, l)
					}
				}
				if strings.TrimRight(l, " ") != l {
					t.Errorf("a space at the end: %q", l)
				}
			}
			if strings.Contains(text, "\n\n\n") {
				t.Error("two empty lines, one after the other")
			}
			last := ""
			for _, w := range strings.Fields(text) {
				if w == last && word.FindString(w) == w {
					t.Errorf("%q is said twice in a row", w)
				}
				last = w
			}
		})
	}
}

// Each story says in its head what it guards, and is named after its complaint.
func TestStories(t *testing.T) {
	all := stories(t)
	if len(all) < 18 {
		t.Errorf("there are %d stories; the four complaints need 18 at least", len(all))
	}
	complaints := map[string]int{"hot": 0, "nocharge": 0, "spark": 0, "percent": 0}
	for _, s := range all {
		if len(strings.Fields(s.comment)) < 8 {
			t.Errorf("%s: its head does not say what it guards", s.file)
		}
		c, _, ok := strings.Cut(s.file, "_")
		if _, known := complaints[c]; known {
			complaints[c]++
			continue
		}
		if _, err := os.Stat(filepath.Join("..", "kb", "sheets", c+".yaml")); !ok || err != nil {
			t.Errorf("%s: a file is named after its complaint (hot, nocharge, spark, percent) or after a sheet, then _, then its story", s.file)
		}
	}
	for c, n := range complaints {
		if n < 3 {
			t.Errorf("the complaint %s has %d stories", c, n)
		}
	}
}

func stories(t *testing.T) []story {
	t.Helper()
	var all []story
	for _, a := range archives(t, "*.txtar") {
		s := story{archive: a}
		for _, is := range a.setup {
			switch is[0] {
			case "rig":
				s.rig = is[1]
			case "symptom":
				s.symptom = is[1]
			case "units":
				s.style.US = is[1] == "us"
			default:
				t.Fatalf("%s: the setup has no %q; it has rig, symptom and units", s.file, is[0])
			}
		}
		all = append(all, s)
	}
	return all
}

// told runs a story at a width and gives all that was shown, and the outcome.
func told(t *testing.T, s story, width int) (text, outcome string) {
	t.Helper()
	text, outcome, _, _ = walked(t, s, width)
	return text, outcome
}

// walked is told, with the state that the conversation ended in and the walk as a
// session keeps it.
func walked(t *testing.T, s story, width int) (text, outcome string, state *walk.State, kept ticket.Walk) {
	t.Helper()
	g := knowledge(t)
	line := &script{say: slices.Clone(s.say), width: width}
	clock := &clock{at: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)}
	keep := &keep{}
	o := chat.Options{Graph: g, Line: line, Rec: keep, Clock: clock.now, Style: s.style, Symptom: s.symptom,
		Setup: walk.Setup{Style: s.style}}
	if s.rig != "" {
		useRig(t, g, s.rig, &o)
	}
	state, err := chat.New(o).Run(context.Background())
	if err != nil && !errors.Is(err, chat.ErrLeft) {
		t.Fatalf("%s: %v\n%s", s.file, err, line.shown.String())
	}
	if len(line.say) > 0 {
		t.Errorf("%s: nobody asked any more as %q was to be typed", s.file, line.say[0])
	}
	return line.shown.String(), outcomeOf(state, err, keep), state, ticket.WalkOf(o.Setup, keep.events)
}

// outcomeOf writes down how a conversation ended.
func outcomeOf(s *walk.State, err error, k *keep) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", cmp.Or(string(s.Outcome()), "left"))
	for _, f := range s.Told() {
		fmt.Fprintf(&b, "%s: %s", f.Finding.ID, f.Status)
		if f.Place.ID != "" {
			fmt.Fprintf(&b, ", at %s", f.Place.ID)
		}
		if f.Second {
			b.WriteString(", second fault")
		}
		if f.Pending {
			b.WriteString(", left for later")
		}
		b.WriteString("\n")
	}
	for _, c := range s.ClosedPlaces() {
		fmt.Fprintf(&b, "closed: %s\n", c.Step)
	}
	for _, n := range k.notes {
		fmt.Fprintf(&b, "note: %s\n", n)
	}
	return b.String()
}

func useRig(t *testing.T, g *graph.Graph, name string, o *chat.Options) {
	t.Helper()
	src, err := fs.ReadFile(kb.Files, "rigs/"+name+".yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, problems := rig.Read(name, src)
	if !graph.Sound(problems) {
		t.Fatalf("the rig %s: %v", name, problems)
	}
	var all []*reading.Reading
	for _, id := range g.ReadingOrder {
		all = append(all, g.Readings[id])
	}
	facts, problems := r.Facts(all)
	if !graph.Sound(problems) {
		t.Fatalf("the facts of %s: %v", name, problems)
	}
	o.Setup.Places = r.Places
	o.Drawing = func() *diagram.Layout {
		s, problems := rig.SystemOf(r, facts)
		if !graph.Sound(problems) {
			t.Fatalf("the system of %s: %v", name, problems)
		}
		return diagram.Lay(s, diagram.Options{})
	}
	for _, f := range facts {
		e := walk.Event{Kind: walk.EvFact, Reading: f.Reading.ID, Place: f.Place, Text: f.Text, Choice: f.Choice,
			About: f.About, Step: f.Digit, Origin: walk.File}
		if f.Reading.Answer == reading.Number {
			v := f.Value
			e.Value = &v
		}
		o.Facts = append(o.Facts, e)
	}
	o.About = []string{"Rig " + r.Name + ": " + r.About}
}

var knowledge = func() func(*testing.T) *graph.Graph {
	load := sync.OnceValues(func() (*graph.Graph, error) {
		g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
		if !graph.Sound(problems) {
			return nil, fmt.Errorf("the knowledge has problems: %v", problems)
		}
		return g, nil
	})
	return func(t *testing.T) *graph.Graph {
		t.Helper()
		g, err := load()
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
}()

// script is the Line of somebody who types what stands in a transcript.
type script struct {
	say   []string
	width int
	shown strings.Builder
}

func (s *script) ReadLine(prompt string) (string, error) {
	if len(s.say) == 0 {
		return "", io.EOF
	}
	text := s.say[0]
	s.say = s.say[1:]
	s.shown.WriteString(prompt + term.SafeLine(text) + "\n")
	return text, nil
}

func (s *script) Print(text string) error {
	s.shown.WriteString(term.Safe(text))
	return nil
}

func (s *script) Width() int       { return s.width }
func (s *script) IsTerminal() bool { return false }

// clock goes on by half a minute each time it is looked at.
type clock struct{ at time.Time }

func (c *clock) now() time.Time {
	c.at = c.at.Add(30 * time.Second)
	return c.at
}

// keep is a session that is kept nowhere.
type keep struct {
	events []walk.Event
	notes  []string
}

func (k *keep) Event(e walk.Event) error {
	k.events = append(k.events, e)
	return nil
}

func (k *keep) Note(text string, _ time.Time) error {
	k.notes = append(k.notes, text)
	return nil
}

func (k *keep) Photo(path, _ string, _ time.Time) (chat.Attached, error) {
	return chat.Attached{}, &chat.NoPhotoError{What: "there is no such file", Missing: true}
}

func (k *keep) Said(chat.Concluded, time.Time) error { return nil }

func (k *keep) ID() string {
	if len(k.events) == 0 {
		return ""
	}
	return "1nb5w2q-7tm"
}

// firstDifference shows the first line in which two texts differ, "" if none.
func firstDifference(want, got string) string {
	if want == got {
		return ""
	}
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(w), len(g)) {
		var a, b string
		if i < len(w) {
			a = w[i]
		}
		if i < len(g) {
			b = g[i]
		}
		if a != b || i >= len(w) || i >= len(g) {
			before := strings.Join(g[max(0, i-2):min(i, len(g))], "\n")
			return fmt.Sprintf("line %d\n%s\n  was: %s\n  now: %s", i+1, before, a, b)
		}
	}
	return "the end of the last line"
}
