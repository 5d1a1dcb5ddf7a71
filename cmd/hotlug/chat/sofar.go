package chat

import (
	"fmt"
	"slices"

	"hotlug/engine/walk"
)

// How much of each list `so far` shows; the ticket has them whole.
const (
	mostPossible = 6
	mostExcluded = 6
)

// soFar says what is established, what is excluded and by which reading, and what
// is open.
func (c *Chat) soFar() {
	c.print(Block{Role: Say, Lines: []string{"So far:"}}, Block{Role: Where, Lines: c.established()})
	for _, t := range c.state.Told() {
		c.print(Block{Role: Where, Lines: []string{headline(t)}})
	}
	c.sayClosed()
	if c.state.Symptom() == "" {
		return
	}
	c.listed(ruledOut, c.ruledOut(), mostExcluded)
	var open []string
	for _, x := range c.state.Possible(c.g) {
		if !slices.ContainsFunc(c.state.Told(), func(t walk.Told) bool { return t.Finding == x.Finding }) {
			open = append(open, x.Finding.Cause)
		}
	}
	c.listed(stillPossible, open, mostPossible)
}

// ruledOut lists what ruled out causes, the latest first, each with the causes.
func (c *Chat) ruledOut() []string {
	var by []string
	causes := map[string][]string{}
	for _, x := range slices.Backward(c.state.Excluded(c.g)) {
		if causes[x.By] == nil {
			by = append(by, x.By)
		}
		causes[x.By] = append(causes[x.By], x.Finding.Cause)
	}
	var out []string
	for _, b := range by {
		l := causes[b][0]
		if more := len(causes[b]) - 1; more > 0 {
			l += fmt.Sprintf(" (And %d more.)", more)
		}
		out = append(out, l+" Because: "+b+".")
	}
	return out
}

// established lists what has been read and said.
func (c *Chat) established() []string {
	var lines []string
	fromFile := 0
	for _, t := range c.state.Takes() {
		if t.Origin == walk.File {
			fromFile++
			continue
		}
		if t.Reading == c.g.DangerReading {
			continue
		}
		l := fmt.Sprintf("%s: %s", upper(c.g.NameOf(t.Reading)), c.state.Shown(c.g, t))
		if t.Place != "" {
			l += " (" + c.placeName(t.Place) + ")"
		}
		switch {
		case t.Odd != "":
			l += ", odd but confirmed"
		case t.Again:
			l += ", taken again"
		}
		lines = append(lines, l)
	}
	if fromFile > 0 {
		lines = append(lines, fmt.Sprintf("and %d facts from the rig file", fromFile))
	}
	if len(lines) == 0 {
		lines = []string{nothingToSay}
	}
	return lines
}

// listed prints the first lines of a list under its head, and how many are left.
func (c *Chat) listed(head string, lines []string, most int) {
	if len(lines) == 0 {
		return
	}
	if more := len(lines) - most; more > 0 {
		lines = append(lines[:most:most], fmt.Sprintf("and %d more", more))
	}
	c.print(Block{Role: Say, Lines: []string{head}}, Block{Role: Where, Lines: lines})
}
