package graph

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

func (l *loader) buildReadings() {
	state := map[string]int{} // 1 being built, 2 built
	var build func(e *entry)
	build = func(e *entry) {
		state[e.id] = 1
		var like *reading.Reading
		if n := e.nodes[0].Get("like"); n != nil && l.known("reading", n, l.readings) {
			if state[n.Text()] == 1 {
				l.bad("circle", n, e.id+" is like itself, by way of "+n.Text(), "let one of them stand on its own")
			} else {
				if state[n.Text()] == 0 {
					build(l.readings.byID[n.Text()])
				}
				like = l.g.Readings[n.Text()]
			}
		}
		l.g.Readings[e.id] = l.reading(e, like)
		state[e.id] = 2
	}
	for _, e := range l.readings.all() {
		if state[e.id] == 0 {
			build(e)
		}
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
	for _, n := range e.nodes[1:] {
		if f := n.Get("like"); f != nil && f.Text() != e.nodes[0].Get("like").Text() {
			l.lowers(f, "leave it out here, or define a reading of another name", "like of %s can't be changed by an overlay", e.id)
		}
	}
	str := func(to *string, field string) {
		if n := e.get(field); n != nil {
			*to = n.Text()
		}
	}
	held := e.guarded() || r.Hazard != "" || len(r.Cautions) > 0 // by the reading that it is like
	if held || e.id == dangerReading {
		r.Name, r.Ask = l.stays(e, "name", r.Name), l.stays(e, "ask", r.Ask)
		r.Why, r.How = e.saidOver(r.Why, "why"), e.linesOver(r.How, "how")
	}
	if held { // another setting of the meter, or another metal, is another reading
		for _, field := range []string{"meter", "from", "to", "at"} {
			l.stays(e, field, "")
		}
	}
	if !held && e.id != dangerReading {
		str(&r.Name, "name")
		str(&r.Ask, "ask")
		str(&r.Why, "why")
		if n := e.get("how"); n != nil {
			r.How = texts(listOf(n))
		}
	}
	str(&r.Stand, "stand")
	l.placeClass(e.get("over"))
	str(&r.Over, "over")
	str(&r.At, "at")
	r.Hazard = l.stays(e, "hazard", r.Hazard)
	str(&r.Rig, "rig")
	r.Class = reading.Class(l.stays(e, "class", string(r.Class)))
	r.Holds = holdsOf(e, r)
	if n := e.get("minutes"); n != nil {
		r.Minutes, _ = n.Float()
	}
	for i, n := range e.nodes {
		if f := n.Get("sizes"); f != nil {
			yes, _ := f.Bool()
			r.Sizes = yes || i > 0 && r.Sizes
		}
	}
	if n := e.get("meter"); n != nil && l.known("meter setting", n, l.meters) {
		r.Meter = n.Text()
		r.Shows = l.g.Meters[r.Meter].Unit
	}
	if n := e.get("from"); n != nil && l.known("point", n, l.points) {
		r.From = n.Text()
	}
	if n := e.get("to"); n != nil && l.known("point", n, l.points) {
		r.To = n.Text()
	}
	if e.nodes[0].Get("state") != nil {
		r.State = nil
	}
	r.State = join(r.State, l.ids("state", e.joined("state"), l.states))
	r.Cautions = join(r.Cautions, l.ids("caution", e.joined("cautions"), l.cautions))
	r.Formerly = texts(e.joined("formerly"))
	l.answerOf(e, r)
	return r
}

// join is a and what of b is not in it, in a slice of its own.
func join(a, b []string) []string {
	out := slices.Clone(a)
	for _, s := range b {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// placeClass reports a class of places that no rig has.
func (l *loader) placeClass(n *shape.Node) {
	if n == nil || slices.Contains(reading.PlaceClasses, n.Text()) {
		return
	}
	hint := "the classes are " + strings.Join(reading.PlaceClasses, ", ")
	if near := l.near(n.Text(), reading.PlaceClasses); near != "" {
		hint = "did you mean " + near + "?"
	}
	l.bad("unknown-class", n, "there is no class of places called "+n.Text(), hint)
}

// mostOptions is as many answers as formulas can tell apart.
const mostOptions = 64

// answersIn are the kinds of answer that a node gives.
func answersIn(n *shape.Node) []reading.Answer {
	var out []reading.Answer
	if n.Get("kind") != nil {
		out = append(out, reading.Number)
	}
	if yes, ok := n.Get("yes_no").Bool(); yes || n.Get("yes_no") != nil && !ok {
		out = append(out, reading.YesNo)
	}
	if n.Get("choices") != nil {
		out = append(out, reading.Choice)
	}
	return out
}

// answerOf reads what kind of answer the reading has, and its ranges.
func (l *loader) answerOf(e *entry, r *reading.Reading) {
	base := e.nodes[0]
	switch given := answersIn(base); {
	case len(given) > 1:
		l.bad("two-answers", e.top(), e.id+" has more than one of kind, yes_no and choices", "keep one")
	case len(given) == 1:
		r.Answer = given[0]
	case base.Get("like") == nil:
		l.bad("no-answer", e.top(), e.id+" has no kind, no yes_no and no choices", "say what kind of answer it has")
	}
	for _, n := range e.nodes[1:] {
		for _, a := range answersIn(n) {
			if a != r.Answer {
				l.lowers(n, "define a reading of another name", "an overlay can't change what kind of answer %s has", e.id)
			}
		}
	}
	if n := base.Get("kind"); n != nil {
		if k, ok := l.kind(n); r.Kind.ID != k.ID || !ok { // the ranges of the like one are of another kind
			r.Kind, r.Possible, r.Plausible = k, reading.Range{}, reading.Range{}
		}
	}
	l.stays(e, "kind", r.Kind.ID)
	if base.Get("choices") != nil {
		r.Options = nil
	}
	for _, n := range e.all("choices") { // an overlay adds answers and words
		r.Options = l.options(n, r.Options)
	}
	if len(r.Options) > mostOptions {
		l.bad("too-many-choices", e.top(), fmt.Sprintf("%s has %d answers to choose from, and formulas tell %d apart", e.id, len(r.Options), mostOptions),
			"ask in two questions")
	}
	l.ranges(e, r)
}

func (l *loader) kind(n *shape.Node) (quantity.Kind, bool) {
	k, ok := quantity.KindByID(n.Text())
	if !ok {
		var ids []string
		for _, k := range quantity.Kinds() {
			ids = append(ids, k.ID)
		}
		hint := "the kinds are " + strings.Join(ids, ", ")
		if near := l.near(n.Text(), ids); near != "" {
			hint = "did you mean " + near + "?"
		}
		l.bad("unknown-kind", n, "there is no kind of quantity called "+n.Text(), hint)
	}
	return k, ok
}

// ranges reads what is possible and plausible. An overlay may narrow what is
// possible, and not widen it; what is plausible is only asked back.
func (l *loader) ranges(e *entry, r *reading.Reading) {
	for i, n := range e.nodes {
		if f := n.Get("scales"); f != nil {
			scales, _ := f.Bool()
			if i > 0 && scales && !r.Scales && r.Possible.Set {
				l.lowers(f, "leave it out", "scales would widen what is possible for %s on 24 and 48 V", e.id)
				scales = false
			}
			r.Scales = scales
		}
		if f := n.Get("possible"); f != nil {
			to := l.rangeOf(f, r.Kind)
			if i > 0 && to.Set && r.Possible.Set && !(r.Possible.Has(to.Lo) && r.Possible.Has(to.Hi)) {
				l.lowers(f, "give a range inside that of the layer below", "what is possible for %s can be narrowed by an overlay, and not widened", e.id)
				continue
			}
			r.Possible = to
		}
	}
	if n := e.get("plausible"); n != nil {
		r.Plausible = l.rangeOf(n, r.Kind)
	}
	if e.get("possible") == nil && e.get("kind") != nil && r.Answer == reading.Number && r.Kind.ID != "" && !r.Possible.Set {
		l.bad("no-range", e.top(), e.id+" says nothing of what is possible", "add possible: [lowest, highest]")
	}
}

// options reads the answers of n on top of those of a layer below.
func (l *loader) options(n *shape.Node, below []reading.Option) []reading.Option {
	out := slices.Clone(below)
	at := func(id string) *reading.Option {
		for i := range out {
			if out[i].ID == id {
				return &out[i]
			}
		}
		out = append(out, reading.Option{ID: id, Label: id})
		return &out[len(out)-1]
	}
	for _, i := range n.Items() {
		at(i.Text())
	}
	for _, p := range n.Pairs() {
		o := at(p.Key.Text())
		if x := p.Value.Get("label"); x != nil {
			o.Label = x.Text()
		}
		o.Says = join(o.Says, texts(listOf(p.Value.Get("says"))))
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
	if !l.fitName(e) {
		return
	}
	if r.Answer == reading.Number && r.Kind.ID == "" {
		l.spoil(e.id)
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
