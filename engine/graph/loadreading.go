package graph

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

func (l *loader) buildReadings() {
	done := map[string]bool{}
	var build func(e *entry, trail []string)
	build = func(e *entry, trail []string) {
		if done[e.id] {
			return
		}
		var like *reading.Reading
		if n := e.get("like"); n != nil && l.known("reading", n, l.readings) {
			if slices.Contains(trail, n.Text()) {
				l.bad("circle", n, e.id+" is like itself, by way of "+n.Text(), "let one of them stand on its own")
			} else {
				build(l.readings.byID[n.Text()], append(trail, e.id))
				like = l.g.Readings[n.Text()]
			}
		}
		done[e.id] = true
		l.g.Readings[e.id] = l.reading(e, like)
	}
	for _, e := range l.readings.all() {
		build(e, []string{e.id})
		l.g.ReadingOrder = append(l.g.ReadingOrder, e.id)
	}
	for _, e := range l.readings.all() {
		l.declare(e)
	}
}

// reading builds one reading on top of the one it is like, if any.
func (l *loader) reading(e *entry, like *reading.Reading) *reading.Reading {
	r := &reading.Reading{Holds: reading.ARound}
	if like != nil {
		*r = *like
		r.Like, r.Formerly, r.Over = like.ID, nil, ""
	}
	r.ID, r.Place = e.id, e.top().Place()
	if r.Like != "" && like == nil {
		r.Like = ""
	}
	str := func(to *string, field string) {
		if n := e.get(field); n != nil {
			*to = n.Text()
		}
	}
	str(&r.Name, "name")
	str(&r.Ask, "ask")
	str(&r.Why, "why")
	str(&r.Stand, "stand")
	str(&r.Over, "over")
	str(&r.At, "at")
	str(&r.Hazard, "hazard")
	str(&r.Rig, "rig")
	if n := e.get("how"); n != nil {
		r.How = texts(listOf(n))
	}
	if n := e.get("class"); n != nil {
		r.Class = reading.Class(n.Text())
		if r.Class == reading.Fact && e.get("holds") == nil {
			r.Holds = reading.ForGood
		}
	}
	if n := e.get("holds"); n != nil {
		r.Holds = reading.Holds(n.Text())
	}
	if n := e.get("minutes"); n != nil {
		r.Minutes, _ = n.Float()
	}
	if n := e.get("sizes"); n != nil {
		r.Sizes, _ = n.Bool()
	}
	if n := e.get("meter"); n != nil && l.known("meter setting", n, l.meters) {
		r.Meter = n.Text()
	}
	if n := e.get("from"); n != nil && l.known("point", n, l.points) {
		r.From = n.Text()
	}
	if n := e.get("to"); n != nil && l.known("point", n, l.points) {
		r.To = n.Text()
	}
	if n := e.get("state"); n != nil {
		r.State = l.ids("state", listOf(n), l.states)
	}
	r.Cautions = append(slices.Clone(r.Cautions), l.ids("caution", e.joined("cautions"), l.cautions)...)
	r.Formerly = texts(e.joined("formerly"))
	l.answerOf(e, r)
	return r
}

// answerOf reads what kind of answer the reading has, and its ranges.
func (l *loader) answerOf(e *entry, r *reading.Reading) {
	given := 0
	if n := e.get("kind"); n != nil {
		given++
		k, ok := quantity.KindByID(n.Text())
		if !ok {
			var ids []string
			for _, k := range quantity.Kinds() {
				ids = append(ids, k.ID)
			}
			hint := ""
			if near := shape.DidYouMean(n.Text(), ids); near != "" {
				hint = "did you mean " + near + "?"
			}
			l.bad("unknown-kind", n, "there is no kind of quantity called "+n.Text(), hint)
		}
		r.Answer, r.Kind = reading.Number, k
	}
	if n := e.get("yes_no"); n != nil {
		given++
		r.Answer = reading.YesNo
	}
	if n := e.get("choices"); n != nil {
		given++
		r.Answer, r.Options = reading.Choice, l.options(n)
	}
	switch {
	case given > 1:
		l.bad("two-answers", e.top(), e.id+" has more than one of kind, yes_no and choices", "keep one")
	case given == 0 && r.Like == "":
		l.bad("no-answer", e.top(), e.id+" has no kind, no yes_no and no choices", "say what kind of answer it has")
	}
	if n := e.get("scales"); n != nil {
		r.Scales, _ = n.Bool()
	}
	if n := e.get("possible"); n != nil {
		r.Possible = l.rangeOf(n, r.Kind)
	}
	if n := e.get("plausible"); n != nil {
		r.Plausible = l.rangeOf(n, r.Kind)
	}
	if r.Answer == reading.Number && r.Kind.ID != "" && !r.Possible.Set {
		l.bad("no-range", e.top(), e.id+" says nothing of what is possible", "add possible: [lowest, highest]")
	}
}

func (l *loader) options(n *shape.Node) []reading.Option {
	var out []reading.Option
	if n.Kind() == shape.List {
		for _, i := range n.Items() {
			out = append(out, reading.Option{ID: i.Text(), Label: i.Text()})
		}
		return out
	}
	for _, p := range n.Pairs() {
		o := reading.Option{ID: p.Key.Text(), Label: p.Key.Text()}
		if x := p.Value.Get("label"); x != nil {
			o.Label = x.Text()
		}
		o.Says = texts(listOf(p.Value.Get("says")))
		out = append(out, o)
	}
	return out
}

// rangeOf reads [lowest, highest], each a quantity of the kind.
func (l *loader) rangeOf(n *shape.Node, k quantity.Kind) reading.Range {
	items := n.Items()
	if len(items) != 2 || k.ID == "" {
		return reading.Range{}
	}
	var v [2]float64
	for i, it := range items {
		t, err := quantity.Read(it.Text(), k)
		if err != nil {
			l.bad("bad-quantity", it, err.Error(), "write a number with its unit, as in 12 V")
			return reading.Range{}
		}
		v[i] = t.Value
	}
	if v[0] >= v[1] {
		l.bad("empty-range", n, "the range ends before it begins", "write the lower end first")
		return reading.Range{}
	}
	return reading.Range{Lo: v[0], Hi: v[1], Set: true}
}

// declare makes the reading a name that formulas can use.
func (l *loader) declare(e *entry) {
	r := l.g.Readings[e.id]
	if formula.Reserved(e.id) {
		l.bad("reserved-name", e.key, e.id+" is a word of the formula language", "call it something else")
		return
	}
	t := formula.Type{Placed: r.Over != ""}
	switch r.Answer {
	case reading.YesNo:
		t.Class = formula.ClassYesNo
	case reading.Choice:
		t.Class = formula.ClassChoice
		for _, o := range r.Options {
			t.Options = append(t.Options, o.ID)
		}
	default:
		t.Class, t.Unit, t.Lo, t.Hi = formula.ClassNumber, r.Kind.Unit, r.Possible.Lo, r.Possible.Hi
		if r.Scales {
			t.Lo, t.Hi = min(t.Lo, 4*t.Lo), max(t.Hi, 4*t.Hi)
		}
	}
	l.g.Scope.Reading(e.id, t)
}
