package check

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"hotlug/engine/graph"
	"hotlug/engine/pattern"
	"hotlug/engine/shape"
)

// How long what is read at a prompt may be. A question of more than two lines, or
// a sentence of more than thirty words, is read twice (practice).
const (
	mostAskRunes      = 240
	mostSentenceWords = 32
)

// plainer are words that people with a meter in their hands don't use, and what
// they say instead.
var plainer = map[string]string{
	"utilise": "use", "utilize": "use", "terminate": "end", "commence": "begin", "prior to": "before", "subsequent": "next",
	"in order to": "to", "approximately": "about", "additional": "more", "sufficient": "enough", "insufficient": "too little",
	"facilitate": "help", "indicate": "show", "obtain": "get", "perform": "do", "verify": "check", "ensure": "see that",
	"regarding": "about", "via": "by", "malfunction": "fault", "component": "part", "please": "nothing: just say it",
	"complies": "check the local rule", "compliant": "check the local rule", "simply": "nothing: leave it out", "obviously": "nothing: leave it out",
	"amperage": "amps", "voltage": "volts", "polarity is reversed": "plus and minus are swapped", "de-energise": "switch off and prove dead", "ascertain": "find out",
	"upon": "on", "thereof": "of it", "e.g.": "for example", "i.e.": "that is",
}

// colourAlone finds a thing told apart by its colour and nothing else.
var (
	colourAlone = pattern.Of(`(?i)\b(red|green|yellow|blue|orange|amber|white|black|brown)\s+(wire|wires|cable|cables|light|lights|lamp|lamps|led|leds|zone|area|figure|figures|button)\b`)
	colourLabel = pattern.Of(`(?i)^(a |the |it is |is )?(solid |steady |flashing |blinking )?(red|green|yellow|blue|orange|amber|white|black|brown)( (light|lamp|led|wire|cable))?\.?$`)
	sentenceEnd = pattern.Of(`[.?;:](\s|$)`)
	plainWords  = pattern.Of(`(?i)\b(` + strings.Join(quoted(sortedKeys(plainer)), "|") + `)`)
)

func quoted(words []string) []string {
	var out []string
	for _, w := range words {
		q := regexp.QuoteMeta(w)
		if !strings.HasSuffix(w, ".") {
			q += `\b`
		}
		out = append(out, q)
	}
	return out
}

// texts reports texts that are hard to read at a prompt.
func (c *checker) texts() {
	for _, id := range c.g.ReadingOrder {
		r := c.g.Readings[id]
		own := r.Like == "" || c.g.Readings[r.Like].Ask != r.Ask
		if own && !strings.HasSuffix(r.Ask, "?") {
			c.bad("no-question", r.Place, "end it with a question mark", "what %s asks is no question", id)
		}
		if n := utf8.RuneCountInString(r.Ask); own && n > mostAskRunes {
			c.warn("long-question", r.Place, "put the how of it under how", "%s asks with %d characters, and %d are the most", id, n, mostAskRunes)
		}
		if own {
			c.text(r.Place, "the question of "+id, r.Ask)
			c.text(r.Place, "the name of "+id, r.Name)
			c.text(r.Place, "the why of "+id, r.Why)
			for _, h := range r.How {
				c.text(r.Place, "the how of "+id, h)
			}
		}
		for _, o := range r.Options {
			if colourLabel.MatchString(o.Label) {
				c.bad("colour-alone", r.Place, "say what it means, or where it stands", "an answer of %s is only a colour: %s", id, o.Label)
				continue
			}
			c.text(r.Place, "an answer of "+id, o.Label)
		}
	}
	for _, id := range sortedKeys(c.g.States) {
		c.text(c.g.States[id].At, "the state "+id, c.g.States[id].Name+". "+c.g.States[id].Say)
	}
	for _, id := range sortedKeys(c.g.Meters) {
		c.text(c.g.Meters[id].At, "the meter setting "+id, c.g.Meters[id].Say)
	}
	for _, id := range sortedKeys(c.g.Actions) {
		a := c.g.Actions[id]
		for _, t := range append([]string{a.Say}, a.How...) {
			c.text(a.At, "the action "+id, t)
		}
	}
	for _, id := range c.g.CautionOrder {
		c.text(c.g.Cautions[id].At, "the caution "+id, c.g.Cautions[id].Say)
	}
	for _, id := range c.g.SymptomOrder {
		c.text(c.g.Symptoms[id].At, "the complaint "+id, c.g.Symptoms[id].Label)
	}
	for _, id := range c.g.StepOrder {
		c.text(c.g.Steps[id].At, "the why of "+id, c.g.Steps[id].Why)
	}
	for _, l := range c.g.Laws {
		c.text(l.At, "the law "+l.ID, l.Because)
	}
	for _, id := range c.g.FindingOrder {
		c.findingTexts(c.g.Findings[id])
	}
}

func (c *checker) findingTexts(f *graph.Finding) {
	for _, t := range []string{f.Cause, f.Because.Or, f.Lesson, f.HandTo} {
		c.text(f.At, "the finding "+f.ID, t)
	}
	at := f.Because.At
	if at == (shape.Place{}) {
		at = f.At
	}
	c.text(at, "the evidence of "+f.ID, whole(f.Because))
	for _, l := range f.Fix {
		c.text(l.At, "the fix of "+f.ID, whole(l.Say))
		c.text(l.At, "the fix of "+f.ID, l.Say.Or)
	}
	if f.Prove != nil {
		c.text(f.Prove.At, "the proof of "+f.ID, f.Prove.Say)
	}
}

// whole is a text with its names as they are written.
func whole(t graph.Text) string {
	var b strings.Builder
	for _, p := range t.Parts {
		switch {
		case p.Place:
			b.WriteString("{place}")
		case p.Name != "":
			b.WriteString("{" + p.Name + "}")
		default:
			b.WriteString(p.Literal)
		}
	}
	return b.String()
}

func (c *checker) text(at shape.Place, what, text string) {
	if text == "" {
		return
	}
	if strings.ContainsAny(text, "!¡！") {
		c.bad("exclamation-mark", at, "end it with a full stop", "%s shouts: it has an exclamation mark", what)
	}
	if m := colourAlone.FindStringIndex(text); m != nil && !strings.HasPrefix(text[m[1]:], " end") { // wire ends are looked at for their colour
		c.bad("colour-alone", at, "say where it goes or what is written on it as well", "%s tells a thing by its colour alone: %s", what, text[m[0]:m[1]])
	}
	for _, m := range plainWords.FindAllString(text, -1) {
		c.warn("plain-words", at, "say "+plainer[strings.ToLower(m)], "%s says %q", what, m)
	}
	for _, s := range sentenceEnd.Split(text, -1) {
		if n := len(strings.Fields(s)); n > mostSentenceWords {
			c.warn("long-sentence", at, "make two of it", "%s has a sentence of %d words, and %d are the most", what, n, mostSentenceWords)
		}
	}
}
