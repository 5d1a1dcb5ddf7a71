package transcripts

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hotlug/cmd/hotlug/chat"
	"hotlug/cmd/hotlug/term"
	"hotlug/engine/drill"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/rig"
	"hotlug/engine/walk"
	"hotlug/kb"
)

// lesson is one transcript of practice: a drill, or a chat on a simulated rig.
type lesson struct {
	archive
	practice bool
	rig      string
	fault    string
	seed     uint64
	level    int
}

func TestDrills(t *testing.T) {
	all := lessons(t)
	if len(all) < 3 {
		t.Errorf("there are %d transcripts of practice; a drill, one with an unsafe act and a practice chat are the least", len(all))
	}
	for _, l := range all {
		t.Run(strings.TrimSuffix(filepath.Base(l.file), ".txtar"), func(t *testing.T) {
			text, outcome := taught(t, l, goldenWidth)
			if *update {
				l.rewrite(t, text, outcome)
				return
			}
			if len(strings.Fields(l.comment)) < 8 {
				t.Error("its head does not say what it guards")
			}
			if d := firstDifference(l.hotlug, text); d != "" {
				t.Errorf("Hotlug says something else (go test ./transcripts -run Drills -update writes it anew):\n%s", d)
			}
			if d := firstDifference(l.outcome, outcome); d != "" {
				t.Errorf("the outcome is another:\n%s", d)
			}
			for _, line := range strings.Split(text, "\n") {
				if strings.HasPrefix(line, "> ") {
					continue
				}
				for _, u := range ugly {
					if u.re.MatchString(line) {
						t.Errorf("%s: %s", u.what, line)
					}
				}
			}
		})
	}
}

// The same seed gives the same drill, word for word; at 40 columns the same words
// are said.
func TestDrillsAgain(t *testing.T) {
	for _, l := range lessons(t) {
		t.Run(strings.TrimSuffix(filepath.Base(l.file), ".txtar"), func(t *testing.T) {
			first, _ := taught(t, l, goldenWidth)
			second, _ := taught(t, l, goldenWidth)
			if d := firstDifference(first, second); d != "" {
				t.Errorf("the second time it goes otherwise:\n%s", d)
			}
			narrow, _ := taught(t, l, 40)
			if !slices.Equal(strings.Fields(first), strings.Fields(narrow)) {
				t.Error("at 40 columns other words are said")
			}
		})
	}
}

func lessons(t *testing.T) []lesson {
	t.Helper()
	var all []lesson
	for _, a := range archives(t, "drills/*.txtar") {
		l := lesson{archive: a, level: 1}
		for _, is := range a.setup {
			var err error
			switch is[0] {
			case "practice":
				l.practice = is[1] == "yes"
			case "rig":
				l.rig = is[1]
			case "fault":
				l.fault = is[1]
			case "seed":
				l.seed, err = strconv.ParseUint(is[1], 10, 64)
			case "level":
				l.level, err = strconv.Atoi(is[1])
			default:
				t.Fatalf("%s: the setup has no %q; it has practice, rig, fault, seed and level", l.file, is[0])
			}
			if err != nil {
				t.Fatalf("%s: %s: %v", l.file, is[0], err)
			}
		}
		all = append(all, l)
	}
	return all
}

// taught runs a lesson at a width and gives all that was shown, and the outcome.
func taught(t *testing.T, l lesson, width int) (text, outcome string) {
	t.Helper()
	g := knowledge(t)
	level, err := drill.LevelOf(l.level)
	if err != nil {
		t.Fatal(err)
	}
	c, err := drill.Compose(drill.Order{Graph: g, Rigs: rigsOf(t, l.rig), Seed: l.seed, Wish: drill.Wish{Level: level, Fault: l.fault}})
	if err != nil {
		t.Fatal(err)
	}
	line := &script{say: slices.Clone(l.say), width: width}
	defer func() {
		if len(line.say) > 0 {
			t.Errorf("%s: nobody asked any more as %q was to be typed", l.file, line.say[0])
		}
	}()
	if l.practice {
		return practised(t, g, c, line)
	}
	d, err := drill.New(drill.Options{Graph: g, Case: c, Level: level, About: []string{c.Sys.About}})
	if err != nil {
		t.Fatal(err)
	}
	err = chat.Exchange(context.Background(), line, term.Palette{}, blocksOf(d.Begin()), func(text string) ([]chat.Block, bool) {
		b := d.Hear(text)
		return blocksOf(b), d.Ended()
	})
	if err != nil {
		t.Fatalf("%s: %v\n%s", l.file, err, line.shown.String())
	}
	s := d.Score("2026-05-04", l.seed)
	return line.shown.String(), fmt.Sprintf("right: %v\nhidden: %s\ncalled: %s\nunsafe: %s\nreadings: %d\nminutes: %.0f\n",
		s.Right, strings.Join(s.Faults, " "), strings.Join(s.Called, " "), strings.Join(s.Unsafe, " "), s.Readings, s.Minutes)
}

func practised(t *testing.T, g *graph.Graph, c drill.Case, line *script) (text, outcome string) {
	t.Helper()
	guide, err := drill.NewGuide(g, c, quantity.Style{})
	if err != nil {
		t.Fatal(err)
	}
	clock := &clock{at: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)}
	o := chat.Options{Graph: g, Funcs: electric.Table(), Line: line, Clock: clock.now, Facts: c.Facts,
		About: []string{"This is practice."},
		Setup: walk.Setup{Places: c.Sys.Places}, Practice: guide}
	state, err := chat.New(o).Run(context.Background())
	if err != nil && !errors.Is(err, chat.ErrLeft) {
		t.Fatalf("%v\n%s", err, line.shown.String())
	}
	return line.shown.String(), outcomeOf(state, err, &keep{})
}

func blocksOf(in []drill.Block) []chat.Block {
	var out []chat.Block
	for _, b := range in {
		out = append(out, chat.Block{Role: chat.Role(b.Role), Hang: b.Hang, Lines: b.Lines})
	}
	return out
}

// rigsOf is the demo rig of this name; a rig made by chance for none.
func rigsOf(t *testing.T, name string) []*rig.Rig {
	t.Helper()
	if name == "" {
		return nil
	}
	src, err := fs.ReadFile(kb.Files, "rigs/"+name+".yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, problems := rig.Read(name, src)
	if !graph.Sound(problems) {
		t.Fatalf("the rig %s: %v", name, problems)
	}
	return []*rig.Rig{r}
}
