package walk

import (
	"time"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// longBreak is the break after which everything but facts is read anew: sun,
// loads and charge are other ones the next day.
const longBreak = 8 * time.Hour

// resumed opens all takes but facts when the last one is from another day.
func (n *State) resumed(g *graph.Graph, e Event) {
	n.given = map[string]bool{} // whoever comes back is warned anew
	var last time.Time
	for _, t := range n.takes {
		if t.At.After(last) {
			last = t.At
		}
	}
	if last.IsZero() || e.At.IsZero() || e.At.Sub(last) < longBreak {
		return
	}
	for _, on := range n.now {
		if r := g.Readings[n.takes[on.take].Reading]; r != nil && r.Holds != reading.ForGood && n.takes[on.take].Origin != File {
			n.lapse(on.key)
		}
	}
	n.newSitting(g)
	n.asked++ // the danger question is no longer fresh
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
		rest.held = inRounds(events[i:], s.opened)
		rest.supply(g)
		return &rest, i
	}
	return s, len(events)
}

// inRounds notes with each event what had opened its round, opened to begin with,
// and leaves out what is never given again.
func inRounds(events []Event, opened string) []Event {
	var out []Event
	for _, e := range events {
		switch e.Kind {
		case EvDanger, EvBack, EvChange, EvResumed, EvAgain:
			continue
		}
		e.opened = opened
		out = append(out, e)
		switch {
		case e.Kind != EvDone || e.Action == ConfirmPlaces:
		case e.Finding != "":
			opened = byFix(e.Finding)
		case e.Action != "":
			opened = byAction(e.Action)
		}
	}
	return out
}

// What a round was opened by.
func byFix(finding string) string   { return "fix " + finding }
func byAction(action string) string { return "do " + action }
