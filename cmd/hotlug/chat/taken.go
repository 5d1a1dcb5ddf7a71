package chat

import (
	"fmt"
	"strings"

	"hotlug/engine/walk"
)

// sayTakenOver reads back the facts that a fix is taken to have changed: what was
// really fitted may be another size, and the proof is judged by it.
func (c *Chat) sayTakenOver(p walk.Prompt, e walk.Event) {
	if p.Kind != walk.WantFix || e.Kind != walk.EvDone {
		return
	}
	for _, s := range p.Finding.Finding.Sets {
		t, ok := c.state.Stands(s.Fact, p.Place.ID)
		if ok && t.Origin == walk.Worked {
			name := c.g.NameOf(s.Fact)
			c.print(Block{Role: Say, Lines: []string{fmt.Sprintf(tookOver, name, c.state.Shown(c.g, t), strings.TrimPrefix(name, "the "))}})
		}
	}
}

// takenOver is a fact that a fix is taken to have changed.
func (c *Chat) takenOver(id string) (walk.Take, bool) {
	takes := c.state.Takes()
	for i := len(takes) - 1; i >= 0; i-- {
		if takes[i].Reading == id {
			return takes[i], takes[i].Origin == walk.Worked
		}
	}
	return walk.Take{}, false
}

// anew asks what a fact is now that a fix was taken to have changed. What was said
// of it before the fix stays as it was.
func (c *Chat) anew(t walk.Take) heard {
	r := c.g.Readings[t.Reading]
	c.print(Block{Role: Ask, Lines: []string{nowIs + " " + r.Ask}})
	text, err := c.line.ReadLine("> ")
	if err != nil {
		return left
	}
	if hits := c.danger.In(text); len(hits) > 0 {
		return c.ring(text, hits)
	}
	e, ok := c.answerReading(walk.Prompt{Kind: walk.WantAnswer, Reading: r}, text, true)
	if !ok || e.Kind != walk.EvAnswer {
		c.print(Block{Role: Say, Lines: []string{notAnAnswer}})
		c.remind()
		return stays
	}
	e.Kind, e.Place, e.Origin = walk.EvFact, t.Place, walk.Said
	if !c.do(e) {
		c.refused()
		return stays
	}
	t, _ = c.state.Stands(r.ID, t.Place)
	c.print(Block{Role: Say, Lines: []string{upper(c.g.NameOf(r.ID)) + ": " + c.state.Shown(c.g, t) + "."}})
	c.say()
	return moved
}
