package drill

import (
	"fmt"
	"strconv"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
)

// Block is some text with a role, as the chat prints it: "say", "ask", "where",
// "caution", "result", "detail" or "hint". Hang is a word that stands before it.
type Block struct {
	Role  string
	Hang  string
	Lines []string
}

func say(lines ...string) Block    { return Block{Role: "say", Lines: lines} }
func ask(lines ...string) Block    { return Block{Role: "ask", Lines: lines} }
func where(lines ...string) Block  { return Block{Role: "where", Lines: lines} }
func hint(lines ...string) Block   { return Block{Role: "hint", Lines: lines} }
func result(lines ...string) Block { return Block{Role: "result", Lines: lines} }
func gap() Block                   { return Block{Role: "say", Lines: []string{""}} }

// Drill is one hidden trouble and one trainee. It is not safe for use by several
// goroutines.
type Drill struct {
	g       *graph.Graph
	c       Case
	level   Level
	style   quantity.Style
	about   []string
	rig     Rig
	symptom string   // the complaint at hand
	usual   []string // what would be noticed on the sound rig too

	stand  stand
	places []place
	read   *match.Index // of readings
	acts   []Act
	calls  []*graph.Finding
	mended map[string]bool // faults that are no more
	unsafe []Stop
	vain   int // repairs that mended nothing
	resets int
	hints  int
	list   []choice // what the numbers of the last list stand for
	ended  bool
	gaveUp bool
	left   bool    // it was left before its end
	lie    float64 // part by which the meter showed too much at the start
	danger bool    // danger was looked for before the first act
}

// Act is one thing the trainee did, with its cost.
type Act struct {
	Reading string // "" for what was done to the rig
	Place   string
	Answer  simrig.Answer
	Say     string // in words
	Minutes float64

	after bool // something had been mended before
}

// Options of a drill.
type Options struct {
	Graph *graph.Graph
	Case  Case
	Level Level
	Style quantity.Style
	About []string // lines about the rig, said before the story
}

// New begins a drill. An error says that the rig can't be solved.
func New(o Options) (*Drill, error) {
	r, err := o.Case.rig()
	if err != nil {
		return nil, fmt.Errorf("the rig of this drill can't be solved: %w", err)
	}
	usual, err := usually(o.Case.Make)
	if err != nil {
		return nil, fmt.Errorf("the rig of this drill can't be solved: %w", err)
	}
	d := &Drill{
		symptom: o.Case.Symptom, usual: usual,
		g: o.Graph, c: o.Case, level: o.Level, style: o.Style, about: o.About, rig: r,
		places: placesOf(o.Case.Sys), read: readingIndex(o.Graph), mended: map[string]bool{},
	}
	if l, ok := r.(liar); ok {
		d.lie = l.Lie()
	}
	return d, nil
}

// Begin tells the complaint.
func (d *Drill) Begin() []Block {
	out := []Block{say(practiceOnly), say(fmt.Sprintf("Level %d: %s.", d.level.N, d.level.Say))}
	if len(d.about) > 0 {
		out = append(out, say(d.about...))
	}
	return append(out, gap(), say("The customer says:"), where(d.story()), gap(), ask(whatNow), hint(typeHelp))
}

// Begun says whether anything was done, tried or called, or the drill given up. One
// that was left before that says nothing about the trainee.
func (d *Drill) Begun() bool {
	return len(d.acts)+len(d.calls)+len(d.unsafe) > 0 || d.gaveUp && !d.left
}

// story is the complaint in the customer's words; where nobody has put it into
// words, in those of the knowledge.
func (d *Drill) story() string { return storyOf(d.g, d.rig, d.symptom) }

func storyOf(g *graph.Graph, r Rig, symptom string) string {
	s := r.Story()
	if x := g.Symptoms[symptom]; x != nil {
		s = strings.Replace(s, simrig.NoWords, upper(stopped(x.Label)), 1)
	}
	return s
}

// Ended says that the drill is over.
func (d *Drill) Ended() bool { return d.ended }

// Hear takes a typed line and says what comes of it.
func (d *Drill) Hear(text string) []Block {
	text = strings.TrimSpace(text)
	if text == "" {
		return []Block{ask(whatNow)}
	}
	if n, ok := d.number(text); ok {
		return d.choose(n)
	}
	if word := plain(text); len(d.list) == 1 && (word == "yes" || word == "y") {
		return d.choose(0)
	}
	d.list = nil
	if out, ok := d.command(text); ok {
		return out
	}
	if out, ok := d.stops(text); ok {
		return out
	}
	if out, ok := d.repairs(text); ok {
		return out
	}
	return d.works(text)
}

// command does what the line asks for if it is a command.
func (d *Drill) command(text string) ([]Block, bool) {
	if what, ok := cutCall(text); ok {
		return d.call(what), true
	}
	switch plain(text) {
	case "help", "?", "commands", "help me", "what now", "what can i do", "what can i ask", "what next", "i don't know", "i dont know", "no idea":
		return helpBlocks(), true
	case "so far", "sofar", "status":
		return d.soFar(), true
	case "wait", "wait an hour", "wait a bit", "wait a while":
		return []Block{say(waitFor)}, true
	case "yes", "no", "ok", "okay", "done", "thanks", "thank you":
		return []Block{ask(whatNow)}, true
	case "story", "again", "what is wrong", "what's wrong", "complaint":
		return []Block{say("The customer says:"), where(d.story())}, true
	case "places":
		return []Block{say("This rig has:"), where(match.Numbered(d.placeNames(""))...)}, true
	case "hint":
		return d.hint(), true
	case "fix", "mend", "repair", "fix it", "mend it":
		return d.fix(), true
	case "end":
		if len(d.calls) == 0 {
			return []Block{say(callFirst)}, true
		}
		return d.end(), true
	case "give up", "giveup":
		d.gaveUp = true
		return d.end(), true
	case "quit", "exit", "leave", "bye":
		d.ended, d.gaveUp, d.left = true, true, true
		if !d.Begun() {
			return []Block{say(leftAtOnce)}, true
		}
		return []Block{say(leftOpen)}, true
	}
	return nil, false
}

// works operates the rig as the line says, then takes the reading it asks for.
func (d *Drill) works(text string) []Block {
	ops, rest := d.operations(text)
	var out []Block
	for _, o := range ops {
		b, stop := d.operate(o)
		out = append(out, b...)
		if stop {
			return out
		}
	}
	if rest == "" {
		return out
	}
	if id := d.otherNamed(rest); id != "" {
		return append(out, d.other(id)...)
	}
	return append(out, d.measure(rest)...)
}

// choice is one line of a list, by its number.
type choice = func() []Block

// number is the line of the last list that a typed number stands for.
func (d *Drill) number(text string) (i int, ok bool) {
	n, err := strconv.Atoi(text)
	return n - 1, err == nil && n >= 1 && n <= len(d.list)
}

// choose does what a line of the last list stands for.
func (d *Drill) choose(i int) []Block {
	c := d.list[i]
	d.list = nil
	return c()
}

// done notes an act and its cost.
func (d *Drill) done(a Act) {
	a.after = len(d.mended) > 0
	d.acts = append(d.acts, a)
}

// Minutes is what the trainee has spent.
func (d *Drill) Minutes() float64 {
	sum := 0.0
	for _, a := range d.acts {
		sum += a.Minutes
	}
	return sum
}

// Readings is how many the trainee has taken, facts and danger not counted.
func (d *Drill) Readings() int {
	n := 0
	for _, a := range d.acts {
		if a.Reading != "" && a.Reading != d.g.DangerReading && d.g.Readings[a.Reading].Class != reading.Fact {
			n++
		}
	}
	return n
}

func (d *Drill) soFar() []Block {
	var lines []string
	for _, a := range d.acts {
		lines = append(lines, a.Say)
	}
	if len(lines) == 0 {
		return []Block{say(nothingYet), ask(whatNow)}
	}
	out := []Block{say("So far:"), where(match.Numbered(lines)...), say(d.spent())}
	if s := d.stand.words(); s != "" {
		out = append(out, say("The rig: "+s+"."))
	}
	for _, f := range d.calls {
		out = append(out, say("You call: "+lower(f.Cause)))
	}
	return out
}

func (d *Drill) spent() string {
	return fmt.Sprintf("%s, %s.", count(d.Readings(), "reading"), minutes(d.Minutes()))
}
