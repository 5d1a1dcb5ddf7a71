package chat

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// command does what a typed command asks for.
func (c *Chat) command(line string, forced bool) heard {
	name, rest, ok := commandOf(line)
	if line == "" { // a colon by itself
		name, ok = "help", true
	}
	if !ok {
		if forced && isNotKnown(line) {
			return c.hear(line)
		}
		c.print(Block{Role: Say, Lines: []string{fmt.Sprintf("`%s` is no command. %s", clip(line), typeHelp)}})
		return stays
	}
	switch name {
	case "why":
		c.why()
	case "how":
		c.how()
	case "where":
		c.whereIs()
	case "back":
		return c.back()
	case "change":
		return c.change(rest)
	case "note":
		c.note(rest)
	case "photo":
		c.photo(rest)
	case "so far":
		c.soFar()
	case "help":
		c.help()
	case "list":
		if c.state.Prompt().Kind == walk.WantComplaint {
			c.listSymptoms()
			return stays
		}
		c.say() // with all that there is to choose from
		return stays
	case "stop":
		return c.stop()
	case "quit":
		return left
	case "again":
		c.say()
		return stays
	}
	c.remind()
	return stays
}

// clip is a typed line, short enough to be repeated inside a sentence.
func clip(line string) string {
	if r := []rune(term.SafeLine(line)); len(r) > 30 {
		return string(r[:30]) + "..."
	}
	return term.SafeLine(line)
}

// remind asks the question at hand once more, without its cautions.
func (c *Chat) remind() {
	p := c.state.Prompt()
	c.gap()
	switch p.Kind {
	case walk.WantComplaint:
		c.print(Block{Role: Ask, Lines: []string{whatIsWrong}})
	case walk.WantAnswer:
		c.print(Block{Role: Ask, Lines: []string{p.Reading.Ask}})
		c.print(c.choiceBlock(p)...)
	case walk.WantSure:
		c.sayOdd(p)
	case walk.WantCloseCall:
		c.print(Block{Role: Hint, Lines: []string{closeHintFor(p)}})
	case walk.WantDone:
		c.print(Block{Role: Ask, Lines: []string{p.Action.Say}}, Block{Role: Hint, Lines: []string{doDone}})
	case walk.WantPlaces:
		c.sayPlaces(p)
	case walk.WantPlace:
		c.sayWhich(p)
	case walk.WantFix:
		c.print(Block{Role: Ask, Lines: []string{headline(*p.Finding)}}, Block{Role: Hint, Lines: []string{fixHint(p)}})
	}
}

func (c *Chat) why() {
	p := c.state.Prompt()
	var lines []string
	switch {
	case p.Kind == walk.WantFix:
		lines = append(lines, p.Finding.Because)
		if laws := lawLines(*p.Finding); len(laws) > 0 {
			c.print(Block{Role: Say, Lines: lines}, Block{Role: Where, Hang: "Laws", Lines: laws})
			return
		}
	case p.Kind == walk.WantComplaint:
		lines = append(lines, "What you notice tells me where to begin.")
	case p.Kind == walk.WantSure:
		lines = append(lines, "A slip in a number sends the hunt the wrong way, so I ask once.")
	case p.Kind == walk.WantCloseCall && p.Proof:
		lines = append(lines, "A meter is never exact. Within its error the reading could fall on either side, so it does not prove the fix, nor that it failed.")
	case p.Kind == walk.WantCloseCall:
		lines = append(lines, "A meter is never exact. Within its error the reading could fall on either side, and the two sides lead to different causes.")
	case p.Kind == walk.WantDone:
		lines = append(lines, "The next reading means something only after this is done.")
	case p.Kind == walk.WantPlace:
		lines = append(lines, "The rig file knows the fuse, the wire and the current of each place, so I need not ask you.")
	case p.Kind == walk.WantPlaces:
		lines = append(lines, "Like parts under the same current should read alike. I need to know which parts you have, to compare them.")
	case p.Reading != nil:
		if p.Step != nil && p.Step.Why != "" {
			lines = append(lines, p.Step.Why)
		}
		if p.Reading.Why != "" {
			lines = append(lines, p.Reading.Why)
		}
		if p.Proof {
			lines = append(lines, "The same reading as before, at the same place, shows whether the fix has worked.")
		}
	}
	if len(lines) == 0 {
		lines = []string{nothingHelps}
	}
	c.print(Block{Role: Say, Lines: lines})
}

// reading is the reading that the prompt is about, nil if none.
func (c *Chat) reading() *reading.Reading {
	p := c.state.Prompt()
	if p.Kind == walk.WantCloseCall && p.Close.Better != nil {
		return c.g.Readings[p.Close.Better.Ask[0]]
	}
	if p.Kind == walk.WantCloseCall && len(p.Close.Readings) > 0 {
		return c.g.Readings[p.Close.Readings[0].Reading]
	}
	return p.Reading
}

func (c *Chat) how() {
	p := c.state.Prompt()
	var how []string
	r := c.reading()
	switch {
	case p.Kind == walk.WantComplaint:
		c.print(Block{Role: Say, Lines: []string{howToComplain}})
		return
	case p.Action != nil:
		how = p.Action.How
	case p.Kind == walk.WantFix:
		for _, f := range p.Finding.Fix {
			how = append(how, f.Say)
			how = append(how, f.How...)
		}
	case r != nil:
		how = r.How
	}
	if len(how) == 0 && r != nil {
		c.whereIs()
		return
	}
	if len(how) == 0 {
		c.print(Block{Role: Say, Lines: []string{nothingToShow}})
		return
	}
	c.print(Block{Role: Where, Lines: match.Numbered(how)})
	if r != nil {
		c.print(c.cautions(c.g.Precedence(r.Cautions))...)
	}
}

func (c *Chat) back() heard {
	if !c.do(walk.Event{Kind: walk.EvBack}) {
		c.print(Block{Role: Say, Lines: []string{c.state.Prompt().Refused}})
		c.remind()
		return stays
	}
	c.print(Block{Role: Say, Lines: []string{undone}})
	c.say()
	return moved
}

// change finds the earlier answer that the words mean. The complaint is one of
// them, and the only one as long as nothing else was answered.
func (c *Chat) change(words string) heard {
	if c.state.Symptom() == "" {
		c.print(Block{Role: Say, Lines: []string{"Nothing has been answered yet."}})
		c.remind()
		return stays
	}
	entries := c.answered()
	id := ""
	if i, err := strconv.Atoi(words); err == nil && i >= 1 && i <= len(entries) {
		id = entries[i-1].ID
	} else if slices.ContainsFunc(entries, func(e match.Entry) bool { return e.ID == words }) {
		id = words
	} else if words != "" {
		if hits := match.New(entries).Find(words); len(hits) > 0 {
			id = hits[0].ID
		}
	} else if !c.toldAnything() {
		return c.restart()
	}
	if t, ok := c.takenOver(id); ok {
		return c.anew(t)
	}
	switch id {
	case "":
		c.listAnswered(entries)
		return stays
	case theComplaint:
		return c.restart()
	}
	if !c.do(walk.Event{Kind: walk.EvChange, Reading: id}) {
		c.print(Block{Role: Say, Lines: []string{c.state.Prompt().Refused}})
		c.remind()
		return stays
	}
	if len(c.state.Held()) > 0 {
		c.print(Block{Role: Say, Lines: []string{heldBack}})
	}
	c.say()
	return moved
}

// theComplaint stands for it among the answers that can be changed.
const theComplaint = "complaint"

// answered lists what has been answered, the latest first, and the complaint.
func (c *Chat) answered() []match.Entry {
	var entries []match.Entry
	seen := map[string]bool{}
	takes := c.state.Takes()
	for i := len(takes) - 1; i >= 0; i-- {
		t := takes[i]
		r := c.g.Readings[t.Reading]
		if seen[t.Reading] || t.Reading == c.g.DangerReading {
			continue
		}
		seen[t.Reading] = true
		entries = append(entries, match.Entry{ID: r.ID, Label: r.Name, Says: []string{r.Ask}})
	}
	return append(entries, match.Entry{ID: theComplaint, Label: "what is wrong", Says: []string{"the complaint", "the symptom"}})
}

// toldAnything says whether the person has answered anything after the complaint
// but the danger question.
func (c *Chat) toldAnything() bool {
	return slices.ContainsFunc(c.state.Takes(), func(t walk.Take) bool {
		return t.Origin != walk.File && t.Reading != c.g.DangerReading
	})
}

func (c *Chat) listAnswered(entries []match.Entry) {
	var said []string
	for _, e := range entries {
		last := strings.TrimSuffix(lowerFirst(c.g.Symptoms[c.state.Symptom()].Label), ".")
		if e.ID != theComplaint {
			last = c.lastSaid(e.ID)
		}
		said = append(said, e.Label+": "+last)
	}
	c.print(Block{Role: Say, Lines: []string{changeOld}}, Block{Role: Where, Lines: match.Numbered(said)},
		Block{Role: Hint, Lines: []string{"Type `change` and the number, as in `change 1`."}})
	c.remind()
}

// restart goes back to the complaint: `change` right after it means the
// complaint itself.
func (c *Chat) restart() heard {
	for c.state.Symptom() != "" {
		if !c.do(walk.Event{Kind: walk.EvBack}) {
			break
		}
	}
	c.print(Block{Role: Say, Lines: []string{complaintAnew}})
	c.say()
	return moved
}

func (c *Chat) lastSaid(id string) string {
	takes := c.state.Takes()
	for i := len(takes) - 1; i >= 0; i-- {
		if takes[i].Reading == id {
			return c.state.Shown(c.g, takes[i])
		}
	}
	return "nothing"
}

func (c *Chat) note(text string) {
	if text == "" {
		c.print(Block{Role: Say, Lines: []string{"Type `note` and what is to be written down."}})
		return
	}
	if c.rec != nil {
		if err := c.rec.Note(text, c.clock()); err != nil {
			c.print(Block{Role: Caution, Hang: "Careful", Lines: []string{fmt.Sprintf("The note could not be saved: %s", err)}})
			return
		}
	}
	c.print(Block{Role: Say, Lines: []string{noted}})
}

func (c *Chat) placeName(id string) string {
	for _, p := range c.state.Places() {
		if p.ID == id && p.Name != "" {
			return p.Name
		}
	}
	return id
}

func (c *Chat) help() {
	lines := []string{helpFirst}
	wide := 0
	for _, h := range c.helpRows() {
		wide = max(wide, len(h[0]))
	}
	b := Block{Role: Where}
	for _, h := range c.helpRows() {
		b.Lines = append(b.Lines, h[0]+strings.Repeat(" ", wide-len(h[0])+2)+h[1])
	}
	c.print(Block{Role: Say, Lines: lines}, b)
}

// stop asks whether the person wants to leave or something is wrong.
func (c *Chat) stop() heard {
	c.print(Block{Role: Ask, Lines: []string{leaveOrWrong}}, Block{Role: Hint, Lines: []string{leaveHint}})
	text, err := c.line.ReadLine("> ")
	if err != nil {
		return left
	}
	switch plain(text) {
	case "leave", "quit", "exit", "l":
		return left
	case "wrong", "something is wrong", "w", "yes":
		if c.state.Symptom() == "" {
			c.print(Block{Role: Say, Lines: []string{"Then say what is wrong, in your own words."}})
			return stays
		}
		return c.ring("", nil)
	}
	if hits := c.danger.In(text); len(hits) > 0 && c.state.Symptom() != "" {
		return c.ring(text, hits)
	}
	c.say()
	return stays
}

// answers lists what the question at hand can be answered with, for completion.
func (c *Chat) answers() []string {
	p := c.state.Prompt()
	var out []string
	switch p.Kind {
	case walk.WantComplaint:
		out = symptomWords(c.g)
	case walk.WantPlace:
		out = placeNames(p.Places)
	case walk.WantPlaces:
		out = []string{"yes", "no"}
	case walk.WantAnswer:
		switch p.Reading.Answer {
		case reading.YesNo:
			out = []string{"yes", "no"}
		case reading.Choice:
			for _, o := range p.Reading.Options {
				out = append(out, o.Label)
			}
		}
	}
	return out
}

// symptomWords are the labels of the symptoms as people type them.
func symptomWords(g *graph.Graph) []string {
	var out []string
	for _, id := range g.SymptomOrder {
		out = append(out, strings.ToLower(strings.TrimSuffix(g.Symptoms[id].Label, ".")))
	}
	return out
}
