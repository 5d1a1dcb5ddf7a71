package chat

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// headline is the certainty in one word, then the cause.
func headline(t walk.Told) string {
	word := strings.ToUpper(string(t.Status))
	switch t.Status {
	case walk.IsClose:
		word = "TOO CLOSE TO CALL, but more likely"
	case walk.IsHandedOver:
		word = "HANDED OVER"
	}
	if t.Finding.NoFault && t.Status == walk.IsLikely {
		word = "LIKELY NO FAULT"
	}
	return word + ": " + lowerFirst(t.Finding.Cause)
}

// sayFound prints a finding whole: cause, evidence, working, what to do, what
// to be careful of, how to prove it.
func (c *Chat) sayFound(t walk.Told) {
	var out []Block
	if t.Second {
		out = append(out, Block{Role: Say, Lines: []string{secondFault}})
	}
	out = append(out, Block{Role: Result, Lines: []string{headline(t)}})
	if t.Place.Name != "" {
		out = append(out, Block{Role: Detail, Lines: []string{"At " + t.Place.Name + "."}})
	}
	if t.Because != "" {
		out = append(out, Block{Role: Detail, Lines: []string{t.Because}})
	}
	c.print(out...)
	if w := workingLines(t); len(w) > 0 {
		c.gap()
		c.print(Block{Role: Detail, Hang: "Working", Lines: w})
	}
	if len(t.Fix) > 0 {
		c.gap()
		c.print(Block{Role: Detail, Hang: "Do", Lines: fixLines(t)})
	}
	if len(t.Cautions) > 0 {
		c.gap()
		c.print(c.cautions(t.Cautions)...)
	}
	c.print(Block{Role: Detail, Hang: "Rules", Lines: []string{lawFirst}})
	if t.Proof != "" {
		c.gap()
		c.print(Block{Role: Detail, Hang: "Prove it", Lines: []string{t.Proof}})
	}
	if t.Finding.Lesson != "" {
		c.gap()
		c.print(Block{Role: Detail, Hang: "Remember", Lines: []string{t.Finding.Lesson}})
	}
	if c.rec != nil {
		// For reading only; the events are what counts.
		_ = c.rec.Said(Concluded{Text: headline(t), Finding: t.Finding.ID, Status: string(t.Status)}, c.clock())
	}
}

// workingLines show how the numbers came about: what is computed, with the
// numbers put in, and the result. A law of the trade shows what it went by; the
// law itself is said by `why`.
func workingLines(t walk.Told) []string {
	var lines []string
	for _, w := range t.Working {
		if !w.Known {
			continue // the ticket says what was missing
		}
		result := w.Result
		if std, ok := strings.CutPrefix(result, "next standard: "); ok {
			result = std + ", the next standard size"
		}
		switch from := putIn(w.Numbers); {
		case w.Numbers == "" || w.Numbers == w.Result:
			lines = append(lines, fmt.Sprintf("%s: %s", w.Label, result))
		case lawful.MatchString(w.Numbers) && from != "":
			lines = append(lines, fmt.Sprintf("%s: %s, from %s", w.Label, result, from))
		case lawful.MatchString(w.Numbers):
			lines = append(lines, fmt.Sprintf("%s: %s", w.Label, result))
		default:
			lines = append(lines, fmt.Sprintf("%s: %s = %s", w.Label, w.Numbers, result))
		}
	}
	return lines
}

// lawful finds a law of the trade in a working: a call by its name.
var lawful = regexp.MustCompile(`[a-z]+_[a-z_]*\(|\?`)

// figure is a quantity, or a choice in quotes, that was put into a working.
var figure = regexp.MustCompile(`-?\d[\d.]* ?(?:[mkµ]?(?:V|A|Ω|W|Wh|Ah|F|J)\b|Ω|mΩ|mm²|°[CF]|AWG(?: \d+)?|K\b|%|min\b|h\b|s\b)`)

// putIn lists the quantities in a working, each once.
func putIn(numbers string) string {
	var out []string
	for _, f := range figure.FindAllString(numbers, -1) {
		if !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	if len(out) < 2 {
		return strings.Join(out, "")
	}
	return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}

// lawLines are the laws behind a finding's working, for `why`.
func lawLines(t walk.Told) []string {
	var lines []string
	for _, w := range t.Working {
		if !w.Known || !strings.ContainsAny(w.Law, "=·/%") {
			continue
		}
		lines = append(lines, fmt.Sprintf("%s: %s", upper(w.Label), nameInLaw.ReplaceAllStringFunc(w.Law, func(s string) string {
			return strings.ReplaceAll(s, "_", " ")
		})))
	}
	return lines
}

// nameInLaw is the name of another law inside one.
var nameInLaw = regexp.MustCompile(`\b[a-z]{2,}(_[a-z]+)+`)

func fixLines(t walk.Told) []string {
	var lines []string
	for _, f := range t.Fix {
		l := f.Say
		switch f.Who {
		case graph.Electrician:
			l += " (For a licensed electrician.)"
		case graph.Maker:
			l += " (For the maker or a repairer.)"
		}
		lines = append(lines, l)
	}
	return numbered(lines)
}

func (c *Chat) sayEnd(p walk.Prompt) {
	switch p.Outcome {
	case walk.Stopped:
		c.sayStop(*p.Finding)
	case walk.Narrowed:
		c.sayNarrowed(p)
	default:
		c.sayProven(p)
	}
	if c.rec != nil {
		_ = c.rec.Said(Concluded{Text: "the walk ended", Outcome: string(p.Outcome)}, c.clock())
	}
	c.saved()
}

func (c *Chat) sayStop(t walk.Told) {
	c.print(Block{Role: Result, Lines: []string{fmt.Sprintf(stopHead, t.Finding.Cause)}})
	if len(t.Fix) > 0 {
		c.print(Block{Role: Detail, Hang: "Do", Lines: fixLines(t)})
	}
	c.print(c.cautions(t.Cautions)...)
	if t.Finding.HandTo != "" {
		c.print(Block{Role: Detail, Hang: "Next", Lines: []string{t.Finding.HandTo}})
	}
}

func (c *Chat) sayNarrowed(p walk.Prompt) {
	if len(p.Possible) == 0 {
		c.print(Block{Role: Result, Lines: []string{narrowedNone}})
	} else {
		c.print(Block{Role: Result, Lines: []string{narrowedHead}})
		var causes []string
		for _, x := range p.Possible {
			causes = append(causes, x.Finding.Cause)
		}
		c.print(Block{Role: Detail, Lines: numbered(causes)})
	}
	if p.Best != nil {
		c.print(Block{Role: Say, Lines: []string{"What would tell them apart best: " + p.Best.Reading.Name + "."}})
	}
	c.sayClosed()
}

// sayClosed lists the places that were not entered.
func (c *Chat) sayClosed() {
	closed := c.state.ClosedPlaces()
	if len(closed) == 0 {
		return
	}
	b := Block{Role: Detail, Hang: "Closed"}
	for _, x := range closed {
		l := upper(x.Reason) + "."
		if x.Who == graph.Electrician {
			l += " That is work for a licensed electrician."
		}
		b.Lines = append(b.Lines, strings.ReplaceAll(l, "..", "."))
	}
	c.print(b)
}

func (c *Chat) sayProven(p walk.Prompt) {
	for _, t := range p.Findings {
		switch {
		case t.Status == walk.IsProven:
			c.print(Block{Role: Result, Lines: []string{fmt.Sprintf(provenLine, lowerFirst(t.Finding.Cause))}})
		case t.Pending:
			c.print(Block{Role: Result, Lines: []string{headline(*t)}}, Block{Role: Detail, Lines: []string{laterPending}})
		}
	}
	c.sayClosed()
}

func lowerFirst(s string) string {
	if len(s) > 1 && (s[1] == ' ' || s[1] >= 'a' && s[1] <= 'z') {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
