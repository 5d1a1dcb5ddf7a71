package chat

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/diagram"
	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/quantity"
	"hotlug/engine/walk"
)

// Chat is one conversation.
type Chat struct {
	begin Options

	g      *graph.Graph
	line   Line
	rec    Recorder
	clock  func() time.Time
	style  quantity.Style
	colour term.Palette

	symptoms *match.Index
	danger   *match.Phrases
	stops    map[string]string // danger phrase -> stop-work behind it

	state *walk.State
	shown map[string]bool        // findings told so far
	kept  map[string]walk.Status // findings that were kept as told, each as it stood then
	list  []string               // what the numbers of the last list stand for
	lost  bool                   // the recorder has failed and the person knows

	drawing *diagram.Layout // laid once somebody asks where
}

// Options of a chat.
type Options struct {
	Graph *graph.Graph
	// Later waits for the graph where Graph is nil: the first question is asked
	// meanwhile.
	Later  func() (*graph.Graph, error)
	Funcs  []*formula.Func // what the calculator knows
	Line   Line
	Rec    Recorder
	Clock  func() time.Time
	Style  quantity.Style
	Colour term.Palette
	// State to go on from; a fresh walk otherwise.
	State *walk.State
	Setup walk.Setup
	// Symptom, when set, is the complaint; the person is not asked for one.
	Symptom string
	Facts   []walk.Event // from the rig file, before the complaint
	About   []string     // lines said after the greeting: the rig, the resumed session
	Known   []string     // a list after them: what the rig file says

	// Drawing lays the rig out, once a part of it is to be drawn; nil for a rig that
	// nobody has described.
	Drawing    func() *diagram.Layout
	NoDrawings bool // leave drawings out: what they show is said in words as well

	Practice Practice // stands for the rig, nil at a real one
}

// ErrLeft says that the person left before the walk ended.
var ErrLeft = errors.New("left before the end")

// Run talks until the walk ends or the person leaves (ErrLeft), and gives the
// last state of the walk.
func (c *Chat) Run(ctx context.Context) (*walk.State, error) {
	o := c.begin
	c.print(Block{Role: Say, Lines: []string{greeting}})
	if len(o.About) > 0 {
		c.print(Block{Role: Say, Lines: o.About})
	}
	if len(o.Known) > 0 {
		c.print(Block{Role: Say, Lines: []string{knownFromRig}}, Block{Role: Where, Lines: o.Known},
			Block{Role: Hint, Lines: []string{changeIfWrong}})
	}
	if o.Practice != nil {
		c.sayPractice()
	}
	var first *typed
	if c.g == nil {
		c.gap()
		c.print(Block{Role: Ask, Lines: []string{whatIsWrong}})
		first = c.read()
		g, err := o.Later()
		if err != nil {
			return nil, err
		}
		c.learn(g)
	}
	if c.state == nil {
		c.state = walk.Start(c.g, o.Setup)
		for _, e := range o.Facts {
			e.At = c.clock()
			if !c.do(e) {
				return c.state, fmt.Errorf("the rig file's %s can't be used: %s", e.Reading, c.state.Prompt().Refused)
			}
		}
		if o.Symptom != "" && !c.do(walk.Event{Kind: walk.EvComplaint, Symptom: o.Symptom, At: c.clock()}) {
			return c.state, errors.New(c.state.Prompt().Refused)
		}
	}
	err := c.talk(ctx, first)
	if o.Practice != nil {
		c.sayReveal()
	}
	return c.state, err
}

// New is a chat that has not begun.
func New(o Options) *Chat {
	c := &Chat{
		begin: o,
		line:  o.Line, rec: o.Rec, clock: o.Clock, style: o.Style, colour: o.Colour, state: o.State,
		stops: map[string]string{}, shown: map[string]bool{}, kept: map[string]walk.Status{},
	}
	if o.Graph != nil {
		c.learn(o.Graph)
	}
	if o.State != nil {
		for _, t := range o.State.Told() {
			c.kept[t.Finding.ID] = t.Status
		}
	}
	return c
}

// learn takes in the knowledge.
func (c *Chat) learn(g *graph.Graph) {
	c.g = g
	var entries []match.Entry
	for _, id := range c.g.SymptomOrder {
		s := c.g.Symptoms[id]
		entries = append(entries, match.Entry{ID: s.ID, Label: s.Label, Says: s.Says})
	}
	c.symptoms = match.New(entries)
	var words []string
	for _, w := range c.g.DangerWords {
		words = append(words, w.Words)
		c.stops[w.Words] = w.Stop
	}
	c.danger = match.NewPhrases(words)
}

// typed is what came of waiting for a line.
type typed struct {
	text  string
	err   error
	stood time.Time // since when the question stood there
}

func (c *Chat) read() *typed {
	t := typed{stood: c.clock()}
	t.text, t.err = c.line.ReadLine("> ")
	return &t
}

// talk goes on until the walk ends; first is a line that was typed already, nil
// for none.
func (c *Chat) talk(ctx context.Context, first *typed) error {
	if first == nil {
		c.say()
	}
	for c.state.Outcome() == walk.Running {
		if err := ctx.Err(); err != nil {
			c.leave()
			return err
		}
		t := first
		if first = nil; t == nil {
			t = c.read()
		}
		text, err := t.text, t.err
		switch {
		case err == nil && c.tooSoon(t.stood):
			c.print(Block{Role: Say, Lines: []string{tooSoon}})
			c.say()
			continue
		case errors.Is(err, io.EOF):
			c.leave()
			return ErrLeft
		case errors.Is(err, term.ErrTooLong):
			c.print(Block{Role: Hint, Lines: []string{"That line is too long to be an answer. " + typeHelp}})
			c.say()
			continue
		case err != nil: // Ctrl-C, or the terminal is gone
			c.leave()
			return err
		}
		if c.hear(text) == left {
			c.leave()
			return ErrLeft
		}
	}
	return nil
}

// typedAhead is the time in which nobody reads a question and answers it.
const typedAhead = 300 * time.Millisecond

// tooSoon says that a line at a terminal was typed, or pasted, before the safety
// question that it would answer could be read. From a pipe or a file every line
// is.
func (c *Chat) tooSoon(stood time.Time) bool {
	return c.line.IsTerminal() && c.safety(c.state.Prompt()) && c.clock().Sub(stood) < typedAhead
}

// do takes an event, keeps it, and says whether it was accepted. It is kept
// before anything about it is printed.
func (c *Chat) do(e walk.Event) bool {
	if e.At.IsZero() {
		e.At = c.clock()
	}
	at := c.state.Prompt()
	n, p := walk.Step(c.g, c.state, e)
	if p.Refused != "" {
		c.state = n
		return false
	}
	c.state = n
	if c.begin.Practice != nil {
		c.begin.Practice.Took(at, e)
	}
	if c.rec != nil {
		if err := c.rec.Event(e); err != nil && !c.lost {
			c.lost = true
			c.print(Block{Role: Caution, Hang: "Careful", Lines: []string{fmt.Sprintf(notKept, err)}})
		}
		c.keepChanges()
	}
	return true
}

func (c *Chat) print(blocks ...Block) {
	text := layout(blocks, c.line.Width(), c.colour)
	// A terminal that is gone shows at the next read; there is nothing to do here.
	_ = c.line.Print(text)
}

func (c *Chat) gap() { _ = c.line.Print("\n") }

func (c *Chat) leave() {
	c.gap()
	safe := leaveSafe
	if c.state.Outcome() == walk.Running && c.safety(c.state.Prompt()) {
		safe = dangerLeft
	}
	c.print(Block{Role: Say, Lines: []string{safe}})
	c.saved()
}

func (c *Chat) saved() {
	if c.rec == nil || c.rec.ID() == "" || c.lost {
		return
	}
	id := c.rec.ID()
	lines := []string{fmt.Sprintf(savedAs, id, id)}
	if c.state.Outcome() == walk.Running || c.pending() {
		lines = append(lines, fmt.Sprintf(resumeWith, id))
	}
	c.print(Block{Role: Say, Lines: lines})
}

func (c *Chat) pending() bool {
	for _, t := range c.state.Told() {
		if t.Pending {
			return true
		}
	}
	return false
}

// Complete lists what the line so far could become: commands and the answers of
// the question at hand.
func (c *Chat) Complete(line string) []string {
	low := strings.ToLower(strings.TrimLeft(line, " "))
	var out []string
	add := func(w string) {
		if strings.HasPrefix(w, low) {
			out = append(out, w)
		}
	}
	if c.begin.Practice != nil {
		add(measureWord)
	}
	if c.state == nil { // the knowledge is on its way
		if g, err := c.begin.Later(); err == nil {
			for _, w := range symptomWords(g) {
				add(w)
			}
		}
	} else {
		for _, w := range c.answers() {
			add(strings.ToLower(w))
		}
	}
	for _, k := range commandWords() {
		add(k)
	}
	return out
}
