package walk

import (
	"math"
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// which asks which of the rig's places is meant, if there is more than one. A
// rig without a file has no places to choose from.
func (n *State) which(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	if !n.setup.fromFile {
		return base, false
	}
	places := n.placesOf(st.Which)
	switch len(places) {
	case 0:
		return base, false
	case 1:
		n.comeTo(places[0].ID)
		return base, false
	}
	base.Kind, base.Places = WantPlace, places
	return base, true
}

// comeTo makes the place that is meant the one at hand. Where the step was walked
// there in this round already, it is left.
func (n *State) comeTo(place string) {
	n.cur.place = place
	k := seen{n.cur.step.ID, place}
	if place != n.cur.entry && n.visited[k] {
		n.cur.mode = atEnd
	}
	n.visited[k] = true
}

// pickPlace makes the place at hand the one at which a branch with a condition
// holds, or may hold; of several the one that reads highest. If there is none,
// no place is odd and the place at hand is as before.
func (n *State) pickPlace(g *graph.Graph, st *graph.Step) {
	for pass := range 2 {
		best, top := "", math.Inf(-1)
		for _, p := range n.cur.places {
			c := n.choose(g, st, p, true)
			if st.Then[c.branch].If == nil || !c.settled && pass == 0 {
				continue
			}
			if v := n.first(g, st, p); best == "" || v > top {
				best, top = p, v
			}
		}
		if best != "" {
			n.cur.place, n.cur.odd = best, true
			return
		}
	}
	n.cur.place = n.cur.before
}

// first is what the first number that the step asks for reads at a place.
func (n *State) first(g *graph.Graph, st *graph.Step, place string) float64 {
	for _, id := range st.Ask {
		r := g.Readings[id]
		if i, ok := n.now.get(n.key(r, place)); ok && n.takes[i].Known && r.Answer == reading.Number {
			return n.takes[i].Value
		}
	}
	return math.Inf(-1)
}

// openPlaces lists the places that the step goes over.
func (n *State) openPlaces(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	if !n.placed(g, st.Needs) { // the same at every place
		if p, waits, ok := n.meets(g, st, st.Needs, graph.Electrician, base); !ok {
			return p, waits
		}
	}
	if !n.placesOK {
		base.Kind, base.Places = WantPlaces, n.placesOf(st.Each)
		return base, true
	}
	n.cur.places = []string{}
	for _, p := range n.placesOf(st.Each) {
		n.cur.places = append(n.cur.places, p.ID)
	}
	if len(n.cur.places) == 0 {
		n.closeHere(g, st, "the rig has no place of this kind", graph.Helper)
		return base, false
	}
	n.cur.before, n.cur.place = n.cur.place, n.cur.places[0]
	return base, false
}

// placed says whether a condition rests on something that differs from place to
// place.
func (n *State) placed(g *graph.Graph, c *graph.Condition) bool {
	return c != nil && slices.ContainsFunc(c.F.Refs(), func(ref formula.Ref) bool {
		r := g.Readings[ref.Name]
		return r.Over != "" || strings.HasPrefix(r.Rig, "place.")
	})
}

// askPlaces asks at each place in turn, for a step that compares places needs
// all of them.
func (n *State) askPlaces(g *graph.Graph, st *graph.Step, base Prompt) (Prompt, bool) {
	for n.cur.at < len(n.cur.places) && !n.cur.stopped {
		base.Place = n.at()
		p, waits, ok := n.ready(g, st, base)
		switch {
		case waits || n.cur.mode == atEnd:
			return p, waits
		case !ok:
			continue // closed, and the next one is at hand
		}
		if p, waits := n.askFor(g, st.Ask, base); waits {
			return p, true
		}
		if st.Until != nil {
			if d, _ := n.decide(g, st.Until, n.cur.place); d.Verdict == formula.CertainlyTrue {
				n.cur.stopped, n.cur.odd = true, true
				break
			}
		}
		n.cur.at++
		n.placeAt(g, st)
	}
	if !n.cur.odd {
		return base, false
	}
	return n.askFor(g, st.Ask, base) // only what was opened again
}

// placeAt makes the place whose turn it is the one at hand, or after the last
// the one that a branch speaks of.
func (n *State) placeAt(g *graph.Graph, st *graph.Step) {
	if n.cur.at < len(n.cur.places) {
		n.cur.place, n.cur.done = n.cur.places[n.cur.at], false
		return
	}
	n.pickPlace(g, st)
}

func (n *State) at() reading.PlaceOnRig {
	if n.cur.place == "" {
		return reading.PlaceOnRig{}
	}
	return n.placeByID(n.cur.place)
}

func (n *State) placesOf(class string) []reading.PlaceOnRig {
	var out []reading.PlaceOnRig
	for _, p := range n.setup.Places {
		if p.Class == class {
			out = append(out, p)
		}
	}
	return out
}
