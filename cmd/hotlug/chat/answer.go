package chat

import (
	"strconv"
	"strings"

	"hotlug/engine/match"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// answer reads text as an answer to the prompt. Loosely, a number of the list
// and a unique beginning of a choice count too.
func (c *Chat) answer(p walk.Prompt, text string, loosely bool) (walk.Event, bool) {
	switch p.Kind {
	case walk.WantAnswer, walk.WantSure:
		return c.answerReading(p, text, loosely)
	case walk.WantDone, walk.WantFix, walk.WantPlaces:
		return c.answerDone(p, text)
	case walk.WantPlace:
		return answerPlace(p, text, loosely)
	case walk.WantCloseCall:
		switch plain(text) {
		case "again", "take it again", "once more":
			e := walk.Event{Kind: walk.EvAgain}
			if len(p.Close.Readings) > 0 {
				e.Reading = p.Close.Readings[0].Reading
			}
			return e, true
		case "better", "the better one", "yes, better":
			return walk.Event{Kind: walk.EvBetter}, p.Close.Better != nil
		case "go on", "go", "on", "goon", "likelier":
			return walk.Event{Kind: walk.EvGoOn}, true
		}
	}
	return walk.Event{}, false
}

func (c *Chat) answerReading(p walk.Prompt, text string, loosely bool) (walk.Event, bool) {
	r := p.Reading
	e := walk.Event{Kind: walk.EvAnswer, Reading: r.ID, Place: p.Place.ID, Text: text}
	if p.Kind == walk.WantSure {
		switch plain(text) {
		case "sure", "i'm sure", "im sure", "it is", "it really does", "really":
			return walk.Event{Kind: walk.EvSure, Reading: r.ID, Place: p.Place.ID}, true
		case "again", "no":
			return walk.Event{Kind: walk.EvAgain, Reading: r.ID, Place: p.Place.ID}, true
		}
		if isYes(text) { // yes to "did you mean", if that named one value
			if len(p.Odd.Suggest) != 1 {
				return e, false
			}
			v := p.Odd.Suggest[0]
			e.Value, e.Text = &v, c.number(r, v)
			return e, true
		}
	}
	if isNotKnown(text) || r.Answer == reading.YesNo && isUnsure(text) {
		return walk.Event{Kind: walk.EvNotKnown, Reading: r.ID, Place: p.Place.ID, Text: text, Reason: "the person does not know"}, true
	}
	switch r.Answer {
	case reading.YesNo:
		yes, ok := yesNo(text)
		if !ok && p.Danger && saysYesAtAll(text) {
			yes, ok = true, true
		}
		if !ok || c.safety(p) && !yes && len(c.danger.In(text)) > 0 {
			return e, false
		}
		e.Choice = "no"
		if yes {
			e.Choice = "yes"
		}
		return e, true
	case reading.Choice:
		opts := optionsOf(r)
		if i, err := strconv.Atoi(text); err == nil && loosely && !numeric(opts) && i >= 1 && i <= len(opts) {
			e.Choice = opts[i-1].ID
			return e, true
		}
		id, ok := match.Choose(opts, text, loosely)
		e.Choice = id
		return e, ok
	}
	t, err := reading.Typed(r, text)
	if err != nil {
		return e, false
	}
	v := t.Value
	e.Value, e.Step, e.About = &v, t.Digit, t.About
	return e, true
}

func optionsOf(r *reading.Reading) []match.Entry {
	opts := make([]match.Entry, len(r.Options))
	for i, o := range r.Options {
		opts[i] = match.Entry{ID: o.ID, Label: o.Label, Says: o.Says}
	}
	return opts
}

// numeric says whether an option is itself a number; those of the list then mean
// nothing.
func numeric(opts []match.Entry) bool {
	for _, o := range opts {
		for _, w := range append([]string{o.ID, o.Label}, o.Says...) {
			if _, err := strconv.ParseFloat(strings.TrimSpace(w), 64); err == nil {
				return true
			}
		}
	}
	return false
}

// answerPlace reads which place is meant; none is an answer too.
func answerPlace(p walk.Prompt, text string, loosely bool) (walk.Event, bool) {
	if isNo(text) || isNotKnown(text) || plain(text) == "none" {
		return walk.Event{Kind: walk.EvAt}, true
	}
	opts := make([]match.Entry, len(p.Places))
	for i, pl := range p.Places {
		opts[i] = match.Entry{ID: pl.ID, Label: pl.Name}
	}
	if i, err := strconv.Atoi(text); err == nil && loosely && !numeric(opts) && i >= 1 && i <= len(opts) {
		return walk.Event{Kind: walk.EvAt, Place: opts[i-1].ID}, true
	}
	id, ok := match.Choose(opts, text, loosely)
	return walk.Event{Kind: walk.EvAt, Place: id}, ok
}

func (c *Chat) answerDone(p walk.Prompt, text string) (walk.Event, bool) {
	e := walk.Event{}
	switch p.Kind {
	case walk.WantDone:
		e.Action = p.Action.ID
	case walk.WantFix:
		e.Finding = p.Finding.Finding.ID
	default:
		e.Action = walk.ConfirmPlaces
	}
	switch {
	case isDone(text):
		e.Kind = walk.EvDone
		return e, true
	case isLater(text):
		e.Kind, e.Reason = walk.EvNotDone, "not done: "+text
		if p.Kind == walk.WantDone {
			e.Reason = "not done: " + lowerFirst(strings.TrimSuffix(p.Action.Say, "."))
		}
		return e, true
	}
	return e, false
}
