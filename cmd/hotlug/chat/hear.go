package chat

import (
	"fmt"
	"strconv"
	"strings"

	"hotlug/engine/calc"
	"hotlug/engine/match"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// heard says what came of a line.
type heard int

const (
	stays heard = iota // nothing changed; the prompt stands
	moved              // the walk went on
	left               // the person wants to leave
)

// hear works out what a typed line means and does it.
func (c *Chat) hear(text string) heard {
	text = strings.TrimSpace(text)
	if text == "" {
		c.say()
		return stays
	}
	if asked, lines := calc.Line(c.begin.Funcs, text, calc.Options{Style: c.style}); asked {
		c.print(Block{Role: Where, Lines: lines})
		c.remind()
		return stays
	}
	if c.practises(text) {
		return c.measure()
	}
	// A file may be called smoke.jpg, so this comes before danger words are heard.
	if name, path, ok := commandOf(strings.TrimPrefix(text, ":")); ok && name == "photo" && path != "" && c.attach(path) {
		c.remind()
		return stays
	}
	p := c.state.Prompt()
	if forced, ok := strings.CutPrefix(text, ":"); ok {
		return c.command(strings.TrimSpace(forced), true)
	}
	if p.Kind == walk.WantComplaint {
		if isCommand(text, true) {
			return c.command(text, false)
		}
		return c.complaint(text)
	}
	// An answer may hold a danger word ("burnt plug" as a choice); it is taken as
	// an answer only if it is one as a whole. Which danger it is, people say in
	// their own words.
	if e, ok := c.answer(p, text, c.whichDanger(p)); ok {
		return c.take(p, e)
	}
	if hits := c.danger.In(text); len(hits) > 0 && !p.Danger && !c.whichDanger(p) && !c.namesKind(p, text) {
		return c.ring(text, hits)
	}
	if isCommand(text, false) {
		return c.command(text, false)
	}
	if e, ok := c.answer(p, text, true); ok {
		return c.take(p, e)
	}
	c.explain(p, text)
	return stays
}

// safety says whether a prompt is one of those that ask for danger: what was
// typed before it stood there may not answer it.
func (c *Chat) safety(p walk.Prompt) bool {
	return p.Danger || p.Step != nil && p.Kind == walk.WantAnswer && p.Step.Sheet == c.g.Steps[c.g.DangerStep].Sheet
}

// whichDanger says whether the prompt asks which danger it is.
func (c *Chat) whichDanger(p walk.Prompt) bool {
	return c.safety(p) && p.Reading.Answer == reading.Choice
}

// namesKind says whether words such as wet or flooded only name one of the kinds
// that are asked for.
func (c *Chat) namesKind(p walk.Prompt, text string) bool {
	if p.Kind != walk.WantAnswer || p.Reading.Class != reading.Fact || p.Reading.Answer != reading.Choice {
		return false
	}
	_, ok := c.answer(p, text, true)
	return ok && match.NewChoices(optionsOf(p.Reading)).Only(text)
}

// ring brings the danger question at once.
func (c *Chat) ring(text string, hits []string) heard {
	e := walk.Event{Kind: walk.EvDanger, Words: text, Finding: c.behind(hits)}
	if !c.do(e) {
		c.refused()
		return stays
	}
	c.say()
	return moved
}

// behind is the stop-work behind danger words, if they agree on one.
func (c *Chat) behind(hits []string) string {
	stop := ""
	for _, h := range hits {
		s := c.stops[h]
		if stop != "" && s != stop {
			return ""
		}
		stop = s
	}
	return stop
}

// clearly is how much better than the next a symptom must fit to be taken
// without asking; what it was taken as is said, and `change` changes it.
const clearly = 1.4

// complaint finds the symptom that fits the words.
func (c *Chat) complaint(text string) heard {
	if i, err := strconv.Atoi(text); err == nil && i >= 1 && i <= len(c.list) {
		return c.chooseSymptom(c.list[i-1], text)
	}
	var hits []match.Hit
	if !isNotKnown(text) {
		hits = c.symptoms.Find(text)
	}
	if len(hits) > 0 && !hits[0].Hint && (len(hits) == 1 || hits[0].Score > clearly*hits[1].Score) {
		return c.chooseSymptom(hits[0].ID, text)
	}
	// Whatever else is wrong, danger is asked for first.
	if danger := c.danger.In(text); len(danger) > 0 {
		return c.ring(text, danger)
	}
	if len(hits) == 0 {
		if len(c.list) == len(c.g.SymptomOrder) { // it stands above
			c.print(Block{Role: Say, Lines: []string{noneFitsYet}})
			return stays
		}
		c.print(Block{Role: Say, Lines: []string{noneFits}})
		c.listSymptoms()
		return stays
	}
	c.list = nil
	var labels []string
	for _, h := range hits[:min(3, len(hits))] {
		c.list = append(c.list, h.ID)
		labels = append(labels, h.Label)
	}
	c.print(Block{Role: Ask, Lines: []string{whichOfThese}}, Block{Role: Where, Lines: match.Numbered(labels)},
		Block{Role: Hint, Lines: []string{"Type the number, other words, or `list` for all."}})
	return stays
}

func (c *Chat) chooseSymptom(id, words string) heard {
	c.list = nil
	hits := c.danger.In(words)
	if !c.do(walk.Event{Kind: walk.EvComplaint, Symptom: id, Words: words, Finding: c.behind(hits)}) {
		c.refused()
		return stays
	}
	if len(hits) > 0 && !c.state.Prompt().Danger { // it was asked a moment ago, and these words are new
		c.do(walk.Event{Kind: walk.EvDanger, Words: words, Finding: c.behind(hits)})
	}
	c.print(Block{Role: Say, Lines: []string{fmt.Sprintf(tookItAs, strings.TrimSuffix(lowerFirst(c.g.Symptoms[id].Label), ".")+".")}})
	c.say()
	return moved
}

func (c *Chat) listSymptoms() {
	c.list = nil
	var labels []string
	for _, id := range c.g.SymptomOrder {
		c.list = append(c.list, id)
		labels = append(labels, c.g.Symptoms[id].Label)
	}
	c.print(Block{Role: Where, Lines: match.Numbered(labels)}, Block{Role: Hint, Lines: []string{"Type the number, or other words."}})
}

// take hands the event of an answer to the walk, repeats what was understood,
// and says what comes next.
func (c *Chat) take(p walk.Prompt, e walk.Event) heard {
	before, agrees := len(c.state.Told()), c.state.Agrees(c.g, e)
	if !c.do(e) {
		c.refused()
		return stays
	}
	c.echo(p, e)
	switch asks := c.state.Prompt().Kind == walk.WantSure; {
	case p.Retake == nil || asks:
	case !agrees:
		c.print(Block{Role: Say, Lines: []string{otherwise}})
		c.say()
		return moved
	case e.Kind == walk.EvAnswer:
		c.print(Block{Role: Say, Lines: []string{asBefore}})
	}
	c.sayTakenOver(p, e)
	c.sayVerdicts(before)
	c.say()
	return moved
}

// echo repeats what was understood, with its unit.
func (c *Chat) echo(p walk.Prompt, e walk.Event) {
	switch e.Kind {
	case walk.EvAnswer:
		if c.state.Prompt().Kind == walk.WantSure {
			return
		}
		r := p.Reading
		var say string
		switch r.Answer {
		case reading.Number:
			say = quantity.ShowTyped(*e.Value, e.Step, r.Kind.Unit, c.style)
			if e.About {
				say = "About " + say
			}
		case reading.Choice:
			say = upper(r.Options[r.OptionByID(e.Choice)].Label)
		default:
			say = upper(e.Choice)
		}
		if !sameWords(say, e.Text) { // what was typed stands right above
			c.print(Block{Role: Say, Lines: []string{say + "."}})
		}
	case walk.EvAt:
		if e.Place != "" {
			c.print(Block{Role: Say, Lines: []string{upper(c.placeName(e.Place)) + "."}})
		}
	case walk.EvNotKnown:
		switch {
		case p.Retake != nil:
			c.print(Block{Role: Say, Lines: []string{stillStands}})
		case !c.safety(p):
			c.print(Block{Role: Say, Lines: []string{"Not known. I go on without it."}})
		}
	case walk.EvSure:
		c.print(Block{Role: Say, Lines: []string{"I take it so, and mark it."}})
	case walk.EvNotDone:
		if p.Kind == walk.WantDone {
			c.print(Block{Role: Say, Lines: []string{"Not done. I go on without it."}})
		}
	}
}

// sayVerdicts tells how a proof came out.
func (c *Chat) sayVerdicts(before int) {
	prev := c.state.Before()
	if prev == nil {
		return
	}
	old := prev.Told()
	for i, t := range c.state.Told() {
		if i >= len(old) || i >= before || t.Status == old[i].Status {
			continue
		}
		switch t.Status {
		case walk.IsProven:
			if c.state.Outcome() == walk.Running {
				c.gap()
				c.print(Block{Role: Result, Lines: []string{proven(t)}})
			}
		case walk.IsRefuted:
			c.gap()
			c.print(Block{Role: Result, Lines: []string{refutedLine}})
		}
	}
}

func (c *Chat) refused() {
	c.print(Block{Role: Say, Lines: []string{c.state.Prompt().Refused}})
	if k := c.state.Prompt().Kind; k == walk.WantAnswer {
		c.print(Block{Role: Ask, Lines: []string{c.state.Prompt().Reading.Ask}})
	}
}

// sameWords says whether what was typed is what is said, but for case, spaces and
// noughts at the end.
func sameWords(said, typed string) bool {
	if plain(said) == plain(typed) {
		return true
	}
	num, unit, ok := strings.Cut(said, " ")
	rest, has := strings.CutSuffix(strings.ToLower(strings.TrimSpace(typed)), strings.ToLower(unit))
	if !ok || !has {
		return false
	}
	a, err1 := strconv.ParseFloat(num, 64)
	b, err2 := strconv.ParseFloat(strings.TrimSpace(rest), 64)
	return err1 == nil && err2 == nil && a == b
}

func (c *Chat) number(r *reading.Reading, v float64) string {
	return quantity.Show(v, r.Kind.Unit, c.style)
}
