package walk

import (
	"slices"
	"time"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// longBreak is the break after which everything but facts is read anew: sun,
// loads and charge are other ones the next day.
const longBreak = 8 * time.Hour

// resumed opens all takes but facts when the last one is from another day.
func (n *State) resumed(g *graph.Graph, e Event) {
	var last time.Time
	for _, t := range n.takes {
		if t.At.After(last) {
			last = t.At
		}
	}
	if last.IsZero() || e.At.IsZero() || e.At.Sub(last) < longBreak {
		return
	}
	for k, i := range n.now {
		if r := g.Readings[n.takes[i].Reading]; r != nil && r.Holds != reading.ForGood && n.takes[i].Origin != File {
			n.lapse(k)
		}
	}
	n.newSitting(g)
	n.given = map[string]bool{}
	if n.symptom != "" && n.cur.mode != atEnd && n.saved == nil && n.outcome == Running {
		at := n.cur
		n.saved = &at
		n.enterDanger(g)
	}
}

// Refold walks the events of a session again. On the knowledge that they were
// made with it comes to the same state. On other knowledge the walk may part
// from them: from the first event that does not fit, the answers are given when
// the walk asks for them. It returns how many events were taken in their order.
func Refold(g *graph.Graph, setup Setup, events []Event) (*State, int) {
	s := Start(g, setup)
	for i, e := range events {
		n, p := Step(g, s, e)
		if p.Refused == "" {
			s = n
			continue
		}
		rest := *s
		rest.prev = s
		rest.held = slices.DeleteFunc(slices.Clone(events[i:]), func(e Event) bool {
			return e.Kind == EvDanger || e.Kind == EvBack || e.Kind == EvChange || e.Kind == EvResumed
		})
		rest.supply(g)
		return &rest, i
	}
	return s, len(events)
}
