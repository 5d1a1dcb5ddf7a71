package ticket

import (
	"fmt"
	"slices"

	"hotlug/engine/graph"
)

// LeftOut stands where a redacted ticket leaves something out.
const LeftOut = "left out of this copy"

// Redact takes out of a walk, and of what stands beside it, all that somebody
// typed in words or wrote into a rig file: names, places, notes, what photos are
// called and when they were taken. Readings, times of answers and conclusions
// stay. It is done before the ticket is made, so that no sentence can hold what
// was left out.
func Redact(g *graph.Graph, w Walk, a About) (Walk, About) {
	ids := w.rename(g)
	out := Walk{Units: w.Units, Events: slices.Clone(w.Events)}
	for i, e := range out.Events {
		e.Words, e.Text = "", ""
		if e.Reason != "" && !slices.Contains(ownReasons, e.Reason) {
			e.Reason = LeftOut
		}
		if id, ok := ids[e.Place]; ok {
			e.Place = id
		}
		out.Events[i] = e
	}
	kinds := map[string]string{}
	for i, p := range w.Places {
		like := p.Like
		if like != "" {
			if kinds[like] == "" {
				kinds[like] = fmt.Sprintf("kind-%d", len(kinds)+1)
			}
			like = kinds[like]
		}
		out.Places = append(out.Places, Place{ID: ids[p.ID], Class: p.Class, Name: fmt.Sprintf("%s %d", p.Class, i+1), Like: like})
	}
	a.Rig, a.Notes, a.Redacted = "", nil, true
	a.Photos = slices.Clone(a.Photos)
	for i := range a.Photos {
		a.Photos[i] = a.Photos[i].redacted(i + 1)
	}
	return out, a
}

// ownReasons are the program's own words for why a reading is not known.
var ownReasons = []string{"the person does not know", "not given", "left for later"}

// rename gives each place of a rig a new id, but for those that the knowledge
// itself names: its readings are tied to them. Ids that only events name are
// names of the rig's too.
func (w Walk) rename(g *graph.Graph) map[string]string {
	own := map[string]bool{"": true}
	for _, p := range g.StandardPath {
		own[p.ID] = true
	}
	for _, r := range g.Readings {
		own[r.At] = true
	}
	for _, a := range g.Actions {
		for _, t := range a.Touches {
			own[t] = true
		}
	}
	ids := map[string]string{}
	name := func(id, class string) {
		switch _, done := ids[id]; {
		case done:
		case own[id]:
			ids[id] = id
		default:
			ids[id] = fmt.Sprintf("%s-%d", class, len(ids)+1)
		}
	}
	for _, p := range w.Places {
		name(p.ID, p.Class)
	}
	for _, e := range w.Events {
		name(e.Place, "place")
	}
	return ids
}
