package chat

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/pattern"
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

// proven says what a proof has shown.
func proven(t walk.Told) string {
	if t.Finding.NoFault {
		return fmt.Sprintf(provenSound, lowerFirst(t.Finding.Cause))
	}
	return fmt.Sprintf(provenLine, lowerFirst(t.Finding.Cause))
}

// sayFound prints a finding whole: cause, evidence, working, what to do, what
// to be careful of, how to prove it.
func (c *Chat) sayFound(t walk.Told) {
	var out []Block
	if c.toldBesides(t) && !t.Finding.NoFault {
		out = append(out, Block{Role: Say, Lines: []string{secondFault}})
	}
	out = append(out, Block{Role: Result, Lines: []string{headline(t)}})
	if t.Place.Name != "" {
		out = append(out, Block{Role: Detail, Lines: []string{"At " + t.Place.Name + "."}})
	}
	if t.Because != "" {
		out = append(out, Block{Role: Detail, Lines: []string{t.Because}})
	}
	for _, x := range c.state.Turns(c.g, t) {
		out = append(out, Block{Role: Detail, Lines: []string{x.Say}})
	}
	for _, s := range t.Odd {
		out = append(out, Block{Role: Detail, Lines: []string{fmt.Sprintf(oddButSure, lowerFirst(s))}})
	}
	for _, s := range t.Close {
		out = append(out, Block{Role: Detail, Lines: []string{fmt.Sprintf(closeOn, lowerFirst(s))}})
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
	c.keepTold(t)
}

// toldBesides says whether another finding was told that still counts.
func (c *Chat) toldBesides(t walk.Told) bool {
	c.shown[t.Finding.ID] = true
	return slices.ContainsFunc(c.state.Told(), func(x walk.Told) bool {
		return x.Finding != t.Finding && x.Status != walk.IsRefuted && c.shown[x.Finding.ID]
	})
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
		w.Numbers = apartBy(ofTwo.ReplaceAllStringFunc(w.Numbers, largerOf))
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
var lawful = pattern.Of(`[a-z]+_[a-z_]*\(|\?`)

// ofTwo is the larger or the smaller of two, and nothing else.
var ofTwo = pattern.Of(`^(max|min)\(([^(),]+), ([^(),]+)\)$`)

func largerOf(s string) string {
	m := ofTwo.FindStringSubmatch(s)
	which := map[string]string{"max": "larger", "min": "smaller"}[m[1]]
	return fmt.Sprintf("the %s of %s and %s", which, m[2], m[3])
}

// differs is the size of a difference, and nothing else.
var differs = pattern.Of(`^abs\((-?[\d.]+)( [^ ()]+) - (-?[\d.]+)( [^ ()]+)\)$`)

// apartBy writes the size of a difference as the larger less the smaller.
func apartBy(s string) string {
	m := differs.FindStringSubmatch(s)
	if m == nil || m[2] != m[4] {
		return s
	}
	a, err1 := strconv.ParseFloat(m[1], 64)
	b, err2 := strconv.ParseFloat(m[3], 64)
	switch {
	case err1 != nil || err2 != nil || b < 0:
		return s
	case a < b:
		return m[3] + m[4] + " - " + m[1] + m[2]
	}
	return m[1] + m[2] + " - " + m[3] + m[4]
}

// figure is a quantity, or a choice in quotes, that was put into a working.
var figure = pattern.Of(`-?\d[\d./]* ?(?:[mkµ]?(?:V|A|Ω|W|Wh|Ah|F|J)\b|Ω|mΩ|mm²|°[CF]|AWG(?: \([^)]*\))?|K\b|%|min\b|h\b|s\b)`)

// putIn lists the quantities in a working, each once.
func putIn(numbers string) string {
	var out []string
	for _, f := range figure.FindAllString(numbers, -1) {
		if !slices.Contains(out, f) && !strings.HasPrefix(f, "0 ") {
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
var nameInLaw = pattern.Of(`\b[a-z]{2,}(_[a-z]+)+`)

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
	return match.Numbered(lines)
}

func (c *Chat) sayEnd(p walk.Prompt) {
	switch p.Outcome {
	case walk.Stopped:
		c.sayStop(*p.Finding)
		c.keepTold(*p.Finding)
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
	head := fmt.Sprintf(stopHead, t.Finding.Cause)
	if c.lastEvent().Kind == walk.EvNotKnown {
		head = fmt.Sprintf(stopUnsure, lowerFirst(t.Finding.Cause))
	}
	c.print(Block{Role: Result, Lines: []string{head}})
	if len(t.Fix) > 0 {
		c.print(Block{Role: Detail, Hang: "Do", Lines: fixLines(t)})
	}
	c.print(c.cautions(t.Cautions)...)
	if t.Finding.HandTo != "" {
		c.print(Block{Role: Detail, Hang: "Next", Lines: []string{t.Finding.HandTo}})
	}
}

// mostCauses is how many causes the end of a walk names.
const mostCauses = 8

// sayHandedOver tells what is somebody else's work, with what they want to know.
func (c *Chat) sayHandedOver(p walk.Prompt) {
	for _, t := range p.Findings {
		if t.Status != walk.IsHandedOver || t.Finding.Stop == graph.StopWalk {
			continue
		}
		c.print(Block{Role: Result, Lines: []string{headline(*t)}})
		if t.Because != "" {
			c.print(Block{Role: Detail, Lines: []string{t.Because}})
		}
		if len(t.Fix) > 0 {
			c.print(Block{Role: Detail, Hang: "Do", Lines: fixLines(*t)})
		}
		c.print(c.cautions(t.Cautions)...)
		if t.Finding.HandTo != "" {
			c.print(Block{Role: Detail, Hang: "Next", Lines: []string{t.Finding.HandTo}})
		}
		c.keepTold(*t)
		c.gap()
	}
}

func (c *Chat) sayNarrowed(p walk.Prompt) {
	c.sayHandedOver(p)
	if len(p.Possible) == 0 {
		c.print(Block{Role: Result, Lines: []string{narrowedNone}})
	} else {
		c.print(Block{Role: Result, Lines: []string{narrowedHead}})
		var causes []string
		for _, x := range p.Possible[:min(mostCauses, len(p.Possible))] {
			causes = append(causes, x.Finding.Cause)
		}
		c.print(Block{Role: Detail, Lines: match.Numbered(causes)})
		if more := len(p.Possible) - len(causes); more > 0 {
			c.print(Block{Role: Detail, Lines: []string{fmt.Sprintf("and %d more, less likely; the ticket lists them", more)}})
		}
	}
	if p.Best != nil {
		c.print(Block{Role: Say, Lines: []string{bestNext(p.Best)}})
	}
	c.sayClosed()
}

// bestNext tells the reading that would split what is possible best, with its
// place and what has to be switched for it.
func bestNext(b *walk.BestNext) string {
	say := "What would tell them apart best: " + b.Reading.Name
	if b.Place.Name != "" {
		say += ", at " + b.Place.Name
	}
	if b.Stand != "" {
		say += " (at the " + b.Stand + ")"
	}
	if len(b.States) > 0 {
		var states []string
		for _, s := range b.States {
			states = append(states, s.Name)
		}
		say += ", with " + strings.Join(states, " and ")
	}
	return say + "."
}

// sayClosed lists the places that were not entered.
func (c *Chat) sayClosed() {
	closed := c.state.ClosedPlaces()
	if len(closed) == 0 {
		return
	}
	b := Block{Role: Detail, Hang: "Left out"}
	for _, x := range closed {
		l := upper(x.Reason) + "."
		if x.Who == graph.Electrician {
			l += " That is work for a licensed electrician."
		}
		if l = strings.ReplaceAll(l, "..", "."); !slices.Contains(b.Lines, l) {
			b.Lines = append(b.Lines, l)
		}
	}
	c.print(b)
}

func (c *Chat) sayProven(p walk.Prompt) {
	c.sayHandedOver(p)
	for _, t := range p.Findings {
		switch {
		case t.Status == walk.IsProven:
			c.print(Block{Role: Result, Lines: []string{proven(*t)}})
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
