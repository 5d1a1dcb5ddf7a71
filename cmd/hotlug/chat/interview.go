package chat

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// Interview fills in the description of a rig, one question at a time. It is a
// fold over the lines that were taken as answers: given the same lines again, it
// stands where it stood, so that a draft is nothing but those lines.
type Interview struct {
	c    *Chat // reads answers as the chat does
	name string

	said   []string            // the lines that were taken
	keys   []string            // of the questions that they answered
	given  map[string]Answered // by key
	fuses  []reading.PlaceOnRig
	odd    string // an odd answer that waits to be typed again or called sure
	over   bool
	ended  bool // by the person, who wants the file as it is
	warned bool // a danger word was heard
}

// Answered is an answer of an interview; one that is not known has Known unset.
type Answered struct {
	Key     string
	Reading *reading.Reading // nil for what is no fact of the knowledge
	Place   string
	Known   bool
	Text    string // as typed
	reading.Given
}

// NewInterview begins one for a rig of that name, or goes on after the lines that
// were taken before. Lines that do not fit any more are left out from the first.
func NewInterview(g *graph.Graph, style quantity.Style, name string, said []string) *Interview {
	return newInterview(New(Options{Graph: g, Style: style}), name, said)
}

func newInterview(c *Chat, name string, said []string) *Interview {
	v := &Interview{c: c, name: name, given: map[string]Answered{}}
	for _, line := range said {
		q := v.next()
		if q.key == "" || !v.take(q, line) {
			break
		}
	}
	return v
}

// Said are the lines that were taken as answers.
func (v *Interview) Said() []string { return slices.Clone(v.said) }

// Over says whether nothing is left to ask, or the person has ended it.
func (v *Interview) Over() bool { return v.over || v.next().key == "" }

// Answers are those that are known, in the order in which they were asked.
func (v *Interview) Answers() []Answered {
	var out []Answered
	for _, k := range v.keys {
		if a := v.given[k]; a.Known {
			out = append(out, a)
		}
	}
	return out
}

// Begin is what is said first.
func (v *Interview) Begin() []Block {
	about := []string{fmt.Sprintf(interviewBegins, v.name)}
	if n := len(v.said); n > 0 {
		about = []string{fmt.Sprintf(interviewGoesOn, v.name, n)}
	}
	out := []Block{{Role: Say, Lines: about}, {Role: Hint, Lines: []string{interviewHow}}}
	return append(out, v.ask()...)
}

// ask puts the question at hand.
func (v *Interview) ask() []Block {
	q := v.next()
	if q.key == "" || v.over {
		return nil
	}
	out := []Block{{Role: Say, Lines: []string{""}}}
	if q.at != "" {
		out = append(out, Block{Role: Say, Lines: []string{"At " + q.at + "."}})
	}
	out = append(out, Block{Role: Ask, Lines: []string{q.reading.Ask}})
	if len(q.list) > 0 {
		out = append(out, Block{Role: Where, Lines: q.list})
	}
	out = append(out, v.c.cautions(v.cautions(q))...)
	switch {
	case q.free:
		out = append(out, Block{Role: Hint, Lines: []string{q.hint}})
	case q.reading.Answer == reading.YesNo:
		out = append(out, Block{Role: Hint, Lines: []string{askYesNo}})
	case q.reading.Answer == reading.Choice:
		out = append(out, v.c.choiceBlock(walk.Prompt{Reading: q.reading})...)
	}
	return out
}

// cautions are those of a question that none before it has had.
func (v *Interview) cautions(q question) []*graph.Caution {
	var out []*graph.Caution
	for _, id := range q.reading.Cautions {
		had := slices.ContainsFunc(v.keys, func(k string) bool {
			r := v.given[k].Reading
			return r != nil && slices.Contains(r.Cautions, id)
		})
		if c := v.c.g.Cautions[id]; c != nil && !had {
			out = append(out, c)
		}
	}
	return out
}

// Hear takes a typed line and says what comes of it.
func (v *Interview) Hear(text string) []Block {
	text = strings.TrimSpace(term.SafeLine(text))
	q := v.next()
	if text == "" || q.key == "" {
		return v.ask()
	}
	var out []Block
	if v.c.danger != nil && !v.warned && len(v.c.danger.In(text)) > 0 && !v.answers(q, text) {
		v.warned = true
		return append([]Block{{Role: Caution, Hang: "Careful", Lines: []string{interviewDanger}}}, v.ask()...)
	}
	if name, _, ok := commandOf(text); ok {
		return v.command(q, name)
	}
	if plain(text) == "done" {
		v.over, v.ended = true, true
		return []Block{{Role: Say, Lines: []string{interviewEnds}}}
	}
	if why := v.strange(q, text); why != "" {
		return []Block{{Role: Ask, Lines: []string{why}}, {Role: Hint, Lines: []string{sureHint}}}
	}
	if v.odd != "" && slices.Contains([]string{"sure", "i'm sure", "yes"}, plain(text)) {
		text = v.odd
	}
	if !v.take(q, text) {
		say, again := v.explain(q, text)
		return []Block{{Role: Say, Lines: []string{say}}, {Role: Hint, Lines: []string{again}}}
	}
	if a := v.given[q.key]; !a.Known && q.names {
		return v.ask()
	} else if !a.Known {
		out = append(out, Block{Role: Say, Lines: []string{leftOut}})
	} else if say := v.shown(a); !sameWords(say, text) && !q.free {
		out = append(out, Block{Role: Say, Lines: []string{upper(say) + "."}})
	}
	return append(out, v.ask()...)
}

// command does what a command of the chat means here.
func (v *Interview) command(q question, name string) []Block {
	say := func(lines ...string) []Block {
		return append([]Block{{Role: Say, Lines: lines}}, v.ask()...)
	}
	switch name {
	case "back":
		if len(v.said) == 0 {
			return say("This is the first question.")
		}
		v.said = v.said[:len(v.said)-1]
		*v = *newInterview(v.c, v.name, v.said)
		return say(undone)
	case "why":
		return say(orElse(q.reading.Why, nothingHelps))
	case "how":
		if len(q.reading.How) > 0 {
			return append([]Block{{Role: Where, Lines: match.Numbered(q.reading.How)}}, v.ask()...)
		}
		return say(nothingToShow)
	case "so far", "list", "change":
		var lines []string
		for _, a := range v.Answers() {
			lines = append(lines, v.named(a)+": "+v.shown(a))
		}
		if len(lines) == 0 {
			return say(nothingToSay)
		}
		return append([]Block{{Role: Where, Lines: lines}}, v.ask()...)
	case "stop", "quit":
		v.over = true
		return []Block{{Role: Say, Lines: []string{""}}}
	}
	return say(interviewHow)
}

// Left says whether the person left in the middle; what was answered is kept.
func (v *Interview) Left() bool { return v.over && !v.ended }

// answers says whether a line is an answer to a question that is no free text.
func (v *Interview) answers(q question, text string) bool {
	_, ok := v.read(q, text)
	return ok && !q.free
}

// read reads a line as an answer.
func (v *Interview) read(q question, text string) (Answered, bool) {
	a := Answered{Key: q.key, Place: q.place, Text: text}
	if !q.own {
		a.Reading = q.reading
	}
	if isNotKnown(text) {
		return a, q.must == ""
	}
	if q.free {
		a.Text = text
		a.Known = a.Text != ""
		return a, a.Known && len(a.Text) <= mostText
	}
	e, ok := v.c.answerReading(walk.Prompt{Kind: walk.WantAnswer, Reading: q.reading}, text, true)
	if !ok || e.Kind != walk.EvAnswer {
		return a, ok
	}
	a.Known, a.Choice = true, e.Choice
	if e.Value != nil {
		a.Value, a.Digit, a.About = *e.Value, e.Step, e.About
		if !q.reading.Possible.Has(a.Value) {
			return a, false
		}
	}
	return a, true
}

// mostText is what a rig file's free lines hold.
const mostText = 400

// strange asks back what is unusual, once; typed again it is taken.
func (v *Interview) strange(q question, text string) string {
	a, ok := v.read(q, text)
	if !ok || !a.Known || q.reading.Answer != reading.Number || q.free || q.reading.Plausible.Has(a.Value) || plain(text) == plain(v.odd) {
		return ""
	}
	v.odd = text
	p := q.reading.Plausible
	return fmt.Sprintf("%s is unusual for %s: %s to %s would be usual.", v.shown(a), q.reading.Name, v.c.number(q.reading, p.Lo), v.c.number(q.reading, p.Hi))
}

// take takes a line as the answer to a question.
func (v *Interview) take(q question, text string) bool {
	a, ok := v.read(q, text)
	if !ok {
		return false
	}
	if q.names { // another fuse, or that there is none
		if isNo(text) || slices.Contains(noMore, plain(text)) {
			a.Known = false
		}
		if a.Known {
			p, ok := v.fuse(a.Text)
			if !ok {
				return false
			}
			a.Place = p.ID
			v.fuses = append(v.fuses, p)
		}
	}
	v.odd = ""
	v.said = append(v.said, text)
	v.keys = append(v.keys, q.key)
	v.given[q.key] = a
	return true
}

func (v *Interview) explain(q question, text string) (say, again string) {
	switch {
	case q.names && !isNotKnown(text):
		return interviewFuseName, q.hint
	case q.free && len(text) > mostText:
		return "That is too long for the file.", q.hint
	case q.free:
		return notAnAnswer, q.hint
	case q.must != "":
		if isNotKnown(text) {
			return q.must, typeHelp
		}
	}
	if a, _ := v.read(q, text); a.Known && q.reading.Answer == reading.Number {
		p := q.reading.Possible
		return fmt.Sprintf("%s can't be: it lies between %s and %s.", v.shown(a), v.c.number(q.reading, p.Lo), v.c.number(q.reading, p.Hi)), orDontKnow
	}
	return v.c.explainReading(walk.Prompt{Kind: walk.WantAnswer, Reading: q.reading}, text)
}

// shown is an answer as it was understood.
func (v *Interview) shown(a Answered) string {
	r := a.Reading
	switch {
	case r == nil && a.Choice != "":
		return a.Choice
	case r == nil:
		return a.Text
	case r.Answer == reading.Choice:
		return r.Options[r.OptionByID(a.Choice)].Label
	case r.Answer == reading.YesNo:
		return a.Choice
	}
	say := quantity.ShowTyped(a.Value, a.Digit, r.Kind.Unit, v.c.style)
	if a.About {
		say = "about " + say
	}
	return say
}

// named is what an answer is about.
func (v *Interview) named(a Answered) string {
	name := a.Key
	if a.Reading != nil {
		name = a.Reading.Name
	}
	if i := slices.IndexFunc(v.fuses, func(p reading.PlaceOnRig) bool { return p.ID == a.Place }); i >= 0 && a.Reading != nil {
		name += " at " + v.fuses[i].Name
	}
	return name
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
