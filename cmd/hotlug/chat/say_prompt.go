package chat

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// say prints what the walk wants next.
func (c *Chat) say() {
	p := c.state.Prompt()
	c.gap()
	switch p.Kind {
	case walk.WantComplaint:
		c.print(Block{Role: Ask, Lines: []string{whatIsWrong}})
	case walk.WantAnswer:
		c.sayQuestion(p)
	case walk.WantSure:
		c.sayOdd(p)
	case walk.WantCloseCall:
		c.sayClose(p)
	case walk.WantDone:
		c.sayAction(p)
	case walk.WantPlaces:
		c.sayPlaces(p)
	case walk.WantPlace:
		c.sayWhich(p)
	case walk.WantFix:
		c.sayFound(*p.Finding)
		c.gap()
		c.print(Block{Role: Hint, Lines: []string{fixHint(p)}})
	case walk.Ended:
		c.sayEnd(p)
	}
}

// fixHint is what can be typed at a finding.
func fixHint(p walk.Prompt) string {
	if p.Finding.Finding.NoFault {
		return noFaultDone
	}
	return fixDone
}

// sayPlaces reads back the usual places of a rig that nothing is known of.
func (c *Chat) sayPlaces(p walk.Prompt) {
	c.print(Block{Role: Say, Lines: []string{placesListed}}, Block{Role: Where, Lines: match.Numbered(placeNames(p.Places))},
		Block{Role: Ask, Lines: []string{placesRight}}, Block{Role: Hint, Lines: []string{askYesNo}})
}

// sayWhich asks which of the rig's places is meant.
func (c *Chat) sayWhich(p walk.Prompt) {
	c.print(Block{Role: Ask, Lines: []string{whichPlace}}, Block{Role: Where, Lines: match.Numbered(placeNames(p.Places))}, Block{Role: Hint, Lines: []string{whichHint}})
}

func (c *Chat) sayQuestion(p walk.Prompt) {
	r := p.Reading
	var out []Block
	word := p.Danger && c.lastEvent().Kind == walk.EvDanger
	if p.Danger && !c.askedDanger() {
		out = append(out, Block{Role: Say, Lines: []string{beforeAll}})
	}
	switch {
	case word && c.askedDanger() || word && c.lastEvent().Words != "":
		out = append(out, Block{Role: Say, Lines: []string{heardDanger(c.lastEvent().Words)}})
	case p.Danger && c.askedDanger():
		out = append(out, Block{Role: Say, Lines: []string{dangerAgain}})
	}
	if rt := p.Retake; rt != nil {
		say := retakeEmpty
		if rt.Failed {
			say = retakeFailed
		}
		out = append(out, Block{Role: Say, Lines: []string{fmt.Sprintf(say, r.Name, c.state.Shown(c.g, rt.Was))}})
	}
	if p.Place.Name != "" {
		out = append(out, Block{Role: Say, Lines: []string{"At " + p.Place.Name + "."}})
	}
	// What the step has had done brings the rig into its state, and a proof says
	// itself how the rig must stand.
	switch {
	case p.Danger, p.Step != nil && p.Step.Do != "":
	case p.Proof && c.fixJustDone() && p.Finding.Finding.Prove.Say != "":
		out = append(out, Block{Role: Say, Lines: []string{"To prove it: " + lowerFirst(p.Finding.Finding.Prove.Say)}})
	default:
		if st := c.stateWords(r); st != "" {
			out = append(out, Block{Role: Say, Lines: []string{st}})
		}
	}
	out = append(out, Block{Role: Ask, Lines: []string{r.Ask}})
	if w := c.meterWords(p); w != "" {
		out = append(out, Block{Role: Where, Lines: []string{w}})
	}
	out = append(out, c.cautions(p.Cautions)...)
	out = append(out, c.choiceBlock(p)...)
	if p.Retake != nil {
		out = append(out, Block{Role: Hint, Lines: []string{retakeHint}})
	}
	c.print(out...)
}

// fixJustDone says that the last event was that a fix is done.
func (c *Chat) fixJustDone() bool {
	e := c.lastEvent()
	return e.Kind == walk.EvDone && e.Finding != ""
}

func (c *Chat) lastEvent() walk.Event {
	es := c.state.Events()
	if len(es) == 0 {
		return walk.Event{}
	}
	return es[len(es)-1]
}

// askedDanger says whether the danger question was answered before.
func (c *Chat) askedDanger() bool {
	return slices.ContainsFunc(c.state.Takes(), func(t walk.Take) bool { return t.Reading == c.g.DangerReading })
}

// stateWords says how the rig must stand, when it does not follow from what was
// asked before.
func (c *Chat) stateWords(r *reading.Reading) string {
	var w []string
	for _, id := range r.State {
		if s := c.g.States[id]; s != nil && s.Say != "" && !c.standing(id) {
			w = append(w, s.Say)
		}
	}
	return strings.Join(w, " ")
}

// standing says whether the rig was brought into that state already: for another
// reading of this round, with nothing asked since that excludes it.
func (c *Chat) standing(state string) bool {
	takes := c.state.Takes()
	for i := len(takes) - 1; i >= 0; i-- {
		t := takes[i]
		if t.Round != c.state.Round() || t.Sitting != takes[len(takes)-1].Sitting {
			return false
		}
		if r := c.g.Readings[t.Reading]; slices.Contains(r.State, state) {
			return true
		}
	}
	return false
}

func (c *Chat) meterWords(p walk.Prompt) string {
	r := p.Reading
	m := c.g.Meters[r.Meter]
	if p.Better != nil && p.Better.Meter != "" {
		m = c.g.Meters[p.Better.Meter]
	}
	if m == nil || r.Class != reading.Measurement {
		return ""
	}
	return m.Say
}

// probes says where the two probes go.
func (c *Chat) probes(r *reading.Reading) string {
	a, b := c.g.Points[r.From], c.g.Points[r.To]
	if a == nil || b == nil {
		return ""
	}
	return fmt.Sprintf("Red probe on %s, black probe on %s.", a.Name, b.Name)
}

func (c *Chat) cautions(list []*graph.Caution) []Block {
	if len(list) == 0 {
		return nil
	}
	b := Block{Role: Caution, Hang: "Careful"}
	for _, x := range list {
		b.Lines = append(b.Lines, x.Say)
	}
	return []Block{b}
}

func (c *Chat) choiceBlock(p walk.Prompt) []Block {
	r := p.Reading
	c.list = nil
	switch r.Answer {
	case reading.YesNo:
		if p.Danger {
			return []Block{{Role: Hint, Lines: []string{askYesNoSure}}}
		}
		return []Block{{Role: Hint, Lines: []string{askYesNo}}}
	case reading.Choice:
		var labels []string
		for _, o := range r.Options {
			labels = append(labels, o.Label)
		}
		if !numeric(optionsOf(r)) {
			labels = match.Numbered(labels)
		}
		return []Block{{Role: Where, Lines: labels}}
	}
	return nil
}

func (c *Chat) sayOdd(p walk.Prompt) {
	c.list = nil
	show := func(v float64) string { return c.number(p.Reading, v) }
	say := p.Odd.Say
	var meant []string
	for _, v := range p.Odd.Suggest {
		meant = append(meant, show(v))
	}
	if len(meant) > 0 {
		say += " Did you mean " + strings.Join(meant[:min(2, len(meant))], " or ") + "?"
	}
	if o := p.Odd.Other; o != nil {
		say += fmt.Sprintf(otherSlip, c.number(o.Reading, o.Value), o.Reading.Name, c.number(o.Reading, o.Meant))
	}
	c.print(Block{Role: Ask, Lines: []string{say}}, Block{Role: Hint, Lines: []string{sureHint}})
}

func (c *Chat) sayClose(p walk.Prompt) {
	out := []Block{{Role: Result, Lines: []string{"TOO CLOSE TO CALL."}}, {Role: Detail, Lines: []string{p.Close.Say}}}
	switch {
	case p.Close.Better != nil:
		out = append(out, Block{Role: Say, Lines: []string{p.Close.Better.Say}})
	case len(p.Close.Readings) > 0:
		if r := c.g.Readings[p.Close.Readings[0].Reading]; r != nil {
			out = append(out, Block{Role: Say, Lines: []string{fmt.Sprintf(steadier, r.Name)}})
		}
	}
	c.print(append(out, Block{Role: Hint, Lines: []string{closeHintFor(p)}})...)
}

// closeHintFor is what can be typed at a close call.
func closeHintFor(p walk.Prompt) string {
	if p.Close.Better != nil {
		return betterHint
	}
	return closeHint
}

func (c *Chat) sayAction(p walk.Prompt) {
	out := []Block{{Role: Ask, Lines: []string{p.Action.Say}}}
	if len(p.Action.How) > 0 {
		out = append(out, Block{Role: Where, Lines: match.Numbered(p.Action.How)})
	}
	out = append(out, c.cautions(p.Cautions)...)
	out = append(out, Block{Role: Hint, Lines: []string{doDone}})
	c.print(out...)
}

func placeNames(places []reading.PlaceOnRig) []string {
	var out []string
	for _, p := range places {
		out = append(out, p.Name)
	}
	return out
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
