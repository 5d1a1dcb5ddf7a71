package chat

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"hotlug/engine/match"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// explain says why a line is no answer.
func (c *Chat) explain(p walk.Prompt, text string) {
	say, again := notAnAnswer, typeHelp
	switch p.Kind {
	case walk.WantAnswer, walk.WantSure:
		say, again = c.explainReading(p, text)
	case walk.WantCloseCall:
		again = closeHintFor(p)
	case walk.WantDone:
		again = doDone
	case walk.WantFix:
		again = fixHint(p)
	case walk.WantPlaces:
		again = askYesNo
	case walk.WantPlace:
		again = whichHint
	}
	c.print(Block{Role: Say, Lines: []string{say}}, Block{Role: Hint, Lines: []string{again}})
}

func (c *Chat) explainReading(p walk.Prompt, text string) (say, again string) {
	r := p.Reading
	switch {
	case p.Danger:
		return "Is it so now?", askYesNoSure
	case r.Answer == reading.YesNo:
		return "I can't take that as yes or no.", askYesNo
	case r.Answer == reading.Choice:
		return c.explainChoice(r, text), eitherOr
	}
	say = fmt.Sprintf("A number is asked for, such as `%s`.", c.example(r))
	_, err := reading.Typed(r, text)
	var ask *quantity.AskBack
	if errors.As(err, &ask) && strings.ContainsAny(text, "0123456789") {
		say = ask.Say
		if len(ask.Suggest) > 0 && !strings.Contains(say, "?") {
			say += " Did you mean " + strings.Join(ask.Suggest, " or ") + "?"
		}
	}
	if p.Kind == walk.WantSure {
		return say, sureHint
	}
	return say, orDontKnow
}

// explainChoice says which options a line fits, if it fits several.
func (c *Chat) explainChoice(r *reading.Reading, text string) string {
	ids := match.NewChoices(optionsOf(r)).Loosely(text)
	if len(ids) < 2 || len(ids) > 4 {
		return "That is none of these."
	}
	var labels []string
	for _, id := range ids {
		labels = append(labels, r.Options[r.OptionByID(id)].Label)
	}
	return "That fits more than one: " + strings.Join(labels[:len(labels)-1], ", ") + " and " + labels[len(labels)-1] + "."
}

// example is an answer to a reading as one would type it.
func (c *Chat) example(r *reading.Reading) string {
	switch {
	case r.Meter == "dcmv":
		return "180 mV"
	case r.Kind.ID == "volts":
		return "12.6 V"
	case r.Kind.ID == "celsius" && c.style.US:
		return "130 F"
	case r.Kind.ID == "area" && c.style.US:
		return "10 AWG"
	}
	lo, hi := 0.0, 20.0
	if r.Plausible.Set {
		lo, hi = max(r.Plausible.Lo, 0), r.Plausible.Hi
	}
	return c.number(r, max(lo, math.Pow(10, math.Floor(math.Log10(max(1, (hi-lo)/2))))))
}
