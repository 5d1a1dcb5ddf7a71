package chat

import (
	"maps"
	"slices"

	"hotlug/engine/walk"
)

// keepTold keeps that a finding was told, for reading only: the events are what
// counts. A finding that is shown again as it stands is kept once.
func (c *Chat) keepTold(t walk.Told) {
	if c.rec == nil || c.kept[t.Finding.ID] == t.Status {
		return
	}
	c.kept[t.Finding.ID] = t.Status
	_ = c.rec.Said(Concluded{Text: headline(t), Finding: t.Finding.ID, Status: string(t.Status)}, c.clock())
}

// keepChanges keeps what has become of the findings told before: proven, refuted,
// or taken back with an answer that led to them. Whoever lists sessions reads it
// there and need not walk them again.
func (c *Chat) keepChanges() {
	if c.rec == nil || len(c.kept) == 0 {
		return
	}
	stands := map[string]bool{}
	for _, t := range c.state.Told() {
		stands[t.Finding.ID] = true
		if _, told := c.kept[t.Finding.ID]; told {
			c.keepTold(t)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(c.kept)) {
		if !stands[id] {
			delete(c.kept, id)
			_ = c.rec.Said(Concluded{Text: "taken back: " + id, Finding: id, TakenBack: true}, c.clock())
		}
	}
}
