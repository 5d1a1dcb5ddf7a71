package walk

import (
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

// keyAt is what a take of r is filed under when place is the place at hand.
// A reading that is another one at a fixed place is filed under that other one,
// so that like places can be compared whatever the reading was called.
func keyAt(r *reading.Reading, place string, classOf func(string) string) Key {
	id := r.ID
	if r.At != "" {
		if r.Like != "" {
			id = r.Like
		}
		return Key{id, r.At}
	}
	if place == "" {
		return Key{id, ""}
	}
	if r.Over != "" && r.Over == classOf(place) || strings.HasPrefix(r.Rig, "place.") {
		return Key{id, place}
	}
	return Key{id, ""}
}

func (s *State) classOf(place string) string { return s.placeByID(place).Class }

func (s *State) key(r *reading.Reading, place string) Key { return keyAt(r, place, s.classOf) }

// scaleRange is the range of r with system volts allowed for.
func (s *State) scaleRange(g *graph.Graph, r *reading.Reading, rg reading.Range) reading.Range {
	if !r.Scales || !rg.Set {
		return rg
	}
	if t, ok := s.Stands(g.SystemVolts, ""); ok && t.Known {
		return rg.Times(t.Value / 12)
	}
	// The bank is 12, 24 or 48 V: the range that holds for all three.
	lo, hi := rg.Lo, rg.Hi
	return reading.Range{Lo: min(lo, 4*lo), Hi: max(hi, 4*hi), Set: true}
}

// value is what is known of reading name, in one of its forms, with place at
// hand.
func (s *State) value(g *graph.Graph, ref formula.Ref, place string) formula.Val {
	r := g.Readings[ref.Name]
	k := s.key(r, place)
	switch ref.Form {
	case formula.Was:
		if i, ok := s.was.get(k); ok && s.takes[i].Known {
			return s.measured(r, s.takes[i])
		}
		return s.unknown(g, r)
	case formula.Mean, formula.Highest, formula.Others:
		return s.overPlaces(g, r, ref.Form, k.Place)
	}
	if i, ok := s.now.get(k); ok && s.takes[i].Known {
		return s.measured(r, s.takes[i])
	}
	return s.unknown(g, r)
}

func (s *State) measured(r *reading.Reading, t *Take) formula.Val {
	switch r.Answer {
	case reading.YesNo:
		return formula.YesNo(t.Choice == 1)
	case reading.Choice:
		return formula.Choice(t.Choice)
	}
	if r.Class == reading.Fact && !t.About {
		return formula.Exact(t.Value)
	}
	m, ok := quantity.MeterByID(t.Meter)
	if !ok {
		m, _ = quantity.MeterByID("hand")
	}
	gain, abs := m.Error(r.Kind, t.Value, t.Digit)
	if t.About {
		abs += quantity.AboutError(t.Value)
	}
	return formula.Measured(t.Value, gain, abs, t.Meter)
}

func (s *State) unknown(g *graph.Graph, r *reading.Reading) formula.Val {
	switch r.Answer {
	case reading.YesNo:
		return formula.EitherWay()
	case reading.Choice:
		return formula.AnyOf(len(r.Options))
	}
	rg := s.scaleRange(g, r, r.Possible)
	return formula.NotKnown(rg.Lo, rg.Hi)
}

// overPlaces joins this round's takes of r at places like the one at hand.
func (s *State) overPlaces(g *graph.Graph, r *reading.Reading, form formula.Form, here string) formula.Val {
	like := s.placeByID(here)
	var sum formula.Val
	n := 0
	for _, p := range s.setup.Places {
		if p.Class != r.Over || p.Like != like.Like || form == formula.Others && p.ID == here {
			continue
		}
		i, ok := s.now.get(s.key(r, p.ID))
		if !ok || !s.takes[i].Known {
			continue
		}
		v := s.measured(r, s.takes[i])
		if n == 0 {
			sum = v
		} else if form == formula.Highest {
			sum.Lo, sum.Mid, sum.Hi = max(sum.Lo, v.Lo), max(sum.Mid, v.Mid), max(sum.Hi, v.Hi)
		} else {
			sum.Lo, sum.Mid, sum.Hi = sum.Lo+v.Lo, sum.Mid+v.Mid, sum.Hi+v.Hi
		}
		n++
	}
	if n == 0 {
		return s.unknown(g, r)
	}
	if form != formula.Highest {
		f := float64(n)
		sum.Lo, sum.Mid, sum.Hi = sum.Lo/f, sum.Mid/f, sum.Hi/f
	}
	return sum
}

// values puts what is known beside the names of a formula.
func (s *State) values(g *graph.Graph, f *formula.Formula, place string) []formula.Val {
	refs := f.Refs()
	v := make([]formula.Val, len(refs))
	for i, r := range refs {
		v[i] = s.value(g, r, place)
	}
	return v
}

func (s *State) decide(g *graph.Graph, c *graph.Condition, place string) (formula.Decision, []formula.Val) {
	v := s.values(g, c.F, place)
	return c.F.Decide(v), v
}

// Judge judges a condition with what is known at a place, "" for none.
func (s *State) Judge(g *graph.Graph, c *graph.Condition, place string) formula.Decision {
	d, _ := s.decide(g, c, place)
	return d
}
