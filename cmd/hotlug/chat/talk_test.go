package chat

import (
	"cmp"
	"context"
	"errors"
	"io"
	"io/fs"
	"strings"
	"sync"
	"testing"
	"time"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/walk"
	"hotlug/kb"
)

// typist is the Line of somebody who types given lines. What was shown before
// each of them is kept apart.
type typist struct {
	lines    []string
	shown    []string // before the first line, after each, and the rest
	terminal bool
	width    int // 80 unless set
	wait     func()
}

func (l *typist) ReadLine(string) (string, error) {
	if l.wait != nil {
		l.wait()
	}
	l.shown = append(l.shown, "")
	if len(l.lines) == 0 {
		return "", io.EOF
	}
	text := l.lines[0]
	l.lines = l.lines[1:]
	return text, nil
}

func (l *typist) Print(text string) error {
	if len(l.shown) == 0 {
		l.shown = []string{""}
	}
	l.shown[len(l.shown)-1] += text
	return nil
}

func (l *typist) Width() int       { return cmp.Or(l.width, 80) }
func (l *typist) IsTerminal() bool { return l.terminal }

// after is what was shown after line i.
func (l *typist) after(i int) string { return l.shown[i+1] }

// diary is a Recorder that can fail.
type diary struct {
	events []walk.Event
	notes  []string
	photos []string
	fails  error
}

func (d *diary) Event(e walk.Event) error { d.events = append(d.events, e); return d.fails }
func (d *diary) Photo(path, about string, _ time.Time) (Attached, error) {
	switch path {
	case "/home/x/smoke.jpg", "my lug.png":
		d.photos = append(d.photos, path+" for "+about)
		return Attached{File: "photo-1.jpg", Width: 40, Height: 30}, nil
	case "page.jpg":
		return Attached{}, &NoPhotoError{What: "it is neither a JPEG nor a PNG picture"}
	}
	return Attached{}, &NoPhotoError{What: "there is no such file", Missing: true}
}

func (d *diary) Note(text string, _ time.Time) error {
	d.notes = append(d.notes, text)
	return d.fails
}
func (d *diary) Said(Concluded, time.Time) error { return d.fails }
func (d *diary) ID() string                      { return "1nb5w2q-7tm" }

var loaded = sync.OnceValues(func() (*graph.Graph, error) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		return nil, errors.New("the knowledge has problems")
	}
	return g, nil
})

func knowledge(t testing.TB) *graph.Graph {
	t.Helper()
	g, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// talk runs a chat over lines and gives it with its line and diary.
func talk(t *testing.T, rigName string, lines ...string) (*Chat, *typist, *diary) {
	t.Helper()
	l, d := &typist{lines: lines}, &diary{}
	o := options(t, rigName)
	o.Line, o.Rec = l, d
	return run(t, o), l, d
}

func options(t *testing.T, rigName string) Options {
	t.Helper()
	at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	o := Options{Graph: knowledge(t), Clock: func() time.Time { at = at.Add(time.Second); return at }}
	if rigName != "" {
		useRig(t, rigName, &o)
	}
	return o
}

func run(t *testing.T, o Options) *Chat {
	t.Helper()
	c := New(o)
	if _, err := c.Run(context.Background()); err != nil && !errors.Is(err, ErrLeft) {
		t.Fatal(err)
	}
	return c
}

func useRig(t *testing.T, name string, o *Options) {
	t.Helper()
	src, err := fs.ReadFile(kb.Files, "rigs/"+name+".yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, problems := rig.Read(name, src)
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	var all []*reading.Reading
	for _, id := range o.Graph.ReadingOrder {
		all = append(all, o.Graph.Readings[id])
	}
	facts, _ := r.Facts(all)
	for _, f := range facts {
		e := walk.Event{Kind: walk.EvFact, Reading: f.Reading.ID, Place: f.Place, Text: f.Text, Choice: f.Choice, Origin: walk.File}
		if f.Reading.Answer == reading.Number {
			v := f.Value
			e.Value = &v
		}
		o.Facts = append(o.Facts, e)
	}
	o.Setup.Places = r.Places
}

// moments bring the chat to each kind of prompt.
var moments = []struct {
	name  string
	rig   string
	lines string
	kind  walk.PromptKind
	asks  string // reading asked for, "" if none
}{
	{"the complaint", "", "", walk.WantComplaint, ""},
	{"the danger question", "", "hot fuse holder", walk.WantAnswer, "danger_now"},
	{"which danger", "", "hot fuse holder; not sure", walk.WantAnswer, "danger_what"},
	{"a choice", "", "hot fuse holder; no", walk.WantAnswer, "trouble_spot"},
	{"yes or no", "", "hot fuse holder; no; fuse holder; 7", walk.WantAnswer, "browned"},
	{"a number", "", "hot fuse holder; no; fuse holder; 7; no", walk.WantAnswer, "full_load_a"},
	{"an odd value", "", "hot fuse holder; no; fuse holder; 7; no; 0.2 A", walk.WantSure, "full_load_a"},
	{"which place", "hut-02", "hot fuse holder; no; fuse holder", walk.WantPlace, ""},
	{"something to do", "hut-02", "hot fuse holder; no; fuse holder; 2; 7; no; no", walk.WantDone, ""},
	{"the usual places", "", "hot fuse holder; no; lug; don't know; no; no; 7.0 mV; 60; 52", walk.WantPlaces, ""},
	{"a close call", "hut-01", "screw terminal is hot; no; screw terminal; bright; no; no; done; 10.2 mV; 40; 20; 50", walk.WantCloseCall, ""},
	{"a finding", "hut-01", "it isn't charging; no; solar switch off", walk.WantFix, ""},
	{"a proof", "hut-01", "it isn't charging; no; solar switch off; done", walk.WantAnswer, "controller_stage"},
	{"no fault", "hut-01", "it isn't charging; no; everything is on; standby; no shadow at all", walk.WantFix, ""},
}

func split(lines string) []string {
	if lines == "" {
		return nil
	}
	return strings.Split(lines, "; ")
}

// asked is the reading that the chat asks for, "" if none.
func (c *Chat) asked() string {
	if r := c.state.Prompt().Reading; r != nil {
		return r.ID
	}
	return ""
}

// The first question does not wait for the knowledge, and the answer to it does.
func TestAsksWhileTheKnowledgeLoads(t *testing.T) {
	g := knowledge(t)
	l := &typist{lines: []string{"hot fuse holder", "no"}}
	o := options(t, "")
	asked := ""
	o.Graph, o.Line, o.Rec = nil, l, &diary{}
	o.Later = func() (*graph.Graph, error) {
		asked = strings.Join(l.shown, "")
		return g, nil
	}
	run(t, o)
	if !strings.Contains(asked, "What is wrong?") || strings.Contains(asked, "I take it as") {
		t.Errorf("when it waited for the knowledge, it had said:\n%s", asked)
	}
	all := strings.Join(l.shown, "")
	if strings.Count(all, "What is wrong?") != 1 || !strings.Contains(all, "I take it as") {
		t.Errorf("it did not go on with that line:\n%s", all)
	}
}
