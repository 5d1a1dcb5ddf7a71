package rig

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/electric"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// loadsShape is the list of consumers in a rig file.
func loadsShape() *shape.Shape {
	return shape.AnyListOf(shape.MapOf(
		shape.Must("id", shape.ID(), "short name; its fuse is called <id>-fuse"),
		shape.May("name", shape.Text(80), "what people call it, as in: the fridge"),
		shape.May("watts", shape.LooseText(60), "what it draws when it runs"),
		shape.May("ac", shape.Word("yes", "no"), "whether the inverter feeds it"),
		shape.May("plug", shape.Word("socket", "heavy", "small"), "the plug in its way, if there is one"),
		shape.May("switch", shape.Word("yes", "no"), "whether it has a switch in its way"),
	).Named("load"))
}

// partsShape is the list of parts in a rig file: more about parts of the standard
// plan, or parts of the person's own.
func partsShape() *shape.Shape {
	return shape.ListOf(shape.MapOf(
		shape.Must("id", shape.ID(), "name of the part"),
		shape.May("name", shape.Text(120), "what people call it"),
		shape.May("kind", shape.Word(partKinds()...), "what it is; for a part that is not in the standard plan"),
		shape.May("from", pointShape(), "point at which current comes in"),
		shape.May("to", pointShape(), "point at which it goes out"),
		shape.May("circuit", shape.ID(), "battery, controller, array, inverter or the id of a load"),
		shape.May("side", shape.Word("plus", "minus"), "which side it is on"),
		shape.May("rating", shape.LooseText(60), "amps printed on it"),
		shape.May("wire", shape.LooseText(60), "copper area"),
		shape.May("length", shape.LooseText(60), "length, one way"),
		shape.May("run", shape.Word(electric.Lays()...), "how the wire lies where it is hottest"),
		shape.May("full_load", shape.LooseText(60), "largest steady amps"),
		shape.May("mark", shape.LooseText(60), "temperature marked on the sheath"),
		shape.May("style", shape.ID(), "how it is made"),
	).Named("part"))
}

func pointShape() *shape.Shape { return shape.IDLike(shape.PathPattern) }

func partKinds() []string {
	var out []string
	for _, k := range []PartKind{Wire, Joint, Screw, Splice, Fuse, Breaker, Isolator, Switch, Plug, PVPlug, Shunt} {
		out = append(out, string(k))
	}
	return out
}

// SystemOf turns a rig file into a system: what the file and its facts say, the
// rest by [Plan]. facts are those of [Rig.Facts]; they count where the file's
// words are another way to say a thing. Problems are nonsense in the figures, with
// their place in the file; with none of severity Error the system can be used.
func SystemOf(r *Rig, facts []Fact) (*System, []shape.Problem) {
	b := &builder{s: &System{Name: r.Name, About: r.About, Story: r.Story, Earth: r.Earthing, Kind: r.Kind}, wishes: map[string]*Part{}}
	given := map[string]reading.Given{}
	for _, f := range facts {
		given[f.Reading.Rig+" "+f.Place] = f.Given
	}
	for _, w := range r.facts {
		if name, ok := strings.CutPrefix(w.path, "place."); ok {
			b.place(name, w)
			continue
		}
		if f, ok := fieldAt(w.path); ok {
			b.field(f, w.node, given[w.path+" "])
		}
	}
	for _, p := range r.Places {
		w := b.wish(p.ID)
		w.Name = p.Name
		if slices.Contains(styles, p.Like) {
			w.Style = p.Like
		}
	}
	b.s.Places = slices.Clone(r.Places)
	b.volts(r)
	b.loads(r)
	nodes := b.parts(r)
	for _, id := range b.order {
		b.s.Parts = append(b.s.Parts, *b.wishes[id])
	}
	b.guess(r)
	Plan(b.s)
	b.points(nodes)
	b.lost(r)
	return b.s, b.problems
}

// builder gathers a system.
type builder struct {
	s        *System
	wishes   map[string]*Part
	order    []string
	problems []shape.Problem
}

func (b *builder) wish(id string) *Part {
	if b.wishes[id] == nil {
		b.wishes[id] = &Part{ID: id}
		b.order = append(b.order, id)
	}
	return b.wishes[id]
}

func (b *builder) wrong(code string, n *shape.Node, text, hint string) {
	b.problems = append(b.problems, shape.NewProblem(code, n, text, hint))
}

// field reads one figure of a section.
func (b *builder) field(f field, n *shape.Node, g reading.Given) {
	if g.Choice != "" || g.Digit != 0 {
		if !b.set(f.at(b.s), f.kind, g.Choice, g.Value/f.unit()) {
			b.wrong("bad-figure", n, f.path+" can't be "+n.Text(), "write a whole number")
		}
		return
	}
	b.read(f.path, f.kind, f.at(b.s), n, f.lo, f.hi, f.unit(), f.says)
}

// set puts a value where it belongs.
func (b *builder) set(at any, kind, word string, v float64) bool {
	switch at := at.(type) {
	case *float64:
		*at = v
	case *int:
		if v != float64(int(v)) {
			return false
		}
		*at = int(v)
	case *bool:
		*at = word == "yes"
	case *string:
		*at = word
	}
	return true
}

// read reads what a node says of a kind, and puts it where it belongs.
func (b *builder) read(path, kind string, at any, n *shape.Node, lo, hi, per float64, words []string) {
	text := n.Text()
	switch kind {
	case "text":
		b.set(at, kind, text, 0)
		return
	case "word":
		word := strings.ToLower(text)
		if !slices.Contains(words, word) {
			b.wrong("bad-figure", n, fmt.Sprintf("%s can't be %s", path, text), "write one of "+strings.Join(words, ", "))
			return
		}
		b.set(at, kind, word, 0)
		return
	case "yes-no":
		word := map[string]string{"yes": "yes", "true": "yes", "no": "no", "false": "no"}[strings.ToLower(text)]
		if word == "" {
			b.wrong("bad-figure", n, fmt.Sprintf("%s can't be %s", path, text), "write yes or no")
			return
		}
		b.set(at, kind, word, 0)
		return
	}
	k, _ := quantity.KindByID(kind)
	v, err := quantity.Read(text, k)
	if err != nil {
		b.wrong("bad-figure", n, fmt.Sprintf("%s: %s", path, err), "write a number of "+k.Name+", with its unit")
		return
	}
	if v.Value < lo || v.Value > hi {
		b.wrong("impossible-figure", n, fmt.Sprintf("%s can't be %s", path, text), strings.TrimSpace(fmt.Sprintf("it is from %g to %g %s", lo, hi, k.Unit.Symbol())))
		return
	}
	if !b.set(at, kind, "", v.Value/per) {
		b.wrong("bad-figure", n, fmt.Sprintf("%s can't be %s", path, text), "write a whole number")
	}
}

// place reads a fact of a place into the part of the same id.
func (b *builder) place(name string, w written) { b.partField(w.place, name, w.node) }

func (b *builder) partField(id, name string, n *shape.Node) {
	for _, f := range placeFields {
		if f.name == name {
			b.read(id+"."+name, f.kind, f.at(b.wish(id)), n, f.lo, f.hi, 1, electric.Lays())
		}
	}
}

// volts sees to it that the bank is one of the three that a plan is for.
func (b *builder) volts(r *Rig) {
	if v := b.s.Volts; v != 0 && v != 12 && v != 24 && v != 48 {
		b.wrong("impossible-figure", r.nodeOf("battery.system_v"), fmt.Sprintf("a bank of %g V can't be simulated", v), "write 12 V, 24 V or 48 V")
		b.s.Volts = 0
	}
}

// loads reads the consumers.
func (b *builder) loads(r *Rig) {
	for _, n := range r.loads.Items() {
		l := Load{ID: n.Get("id").Text(), Name: n.Get("name").Text(), AC: n.Get("ac").Text() == "yes", Plug: n.Get("plug").Text(), Switch: n.Get("switch").Text() == "yes"}
		if _, twice := b.s.Load(l.ID); twice {
			b.wrong("defined-twice", n.Get("id"), "there are two loads called "+l.ID, "give one of them another id")
			continue
		}
		if slices.Contains(taken, l.ID) {
			b.wrong("taken-name", n.Get("id"), "a load can't be called "+l.ID+": a part of every rig is called so", "give it another id")
			continue
		}
		if w := n.Get("watts"); w != nil {
			b.read("the watts of "+l.ID, "watts", &l.Watts, w, 0.01, 30000, 1, nil)
		}
		if l.AC && b.s.Inverter.Watts == 0 {
			b.wrong("no-inverter", n.Get("ac"), l.ID+" is fed by the inverter, and there is none", "give the watts of the inverter, or leave ac out")
		}
		b.s.Loads = append(b.s.Loads, l)
	}
}

// taken are the ids of parts that a load's ways may not collide with.
var taken = []string{"main", "controller", "inverter", "bat-pos", "bat-neg", "main-pos-a", "main-pos-b", "ctl-pos", "ctl-neg", "ctl-pos-bus",
	"pv-pos", "pv-neg", "pv-pos-ctl", "pv-neg-ctl", "inv-pos", "inv-neg", "link-pos", "link-neg", "shunt", "post-pos", "post-neg", "array", "bus-pos", "bus-neg", "pv-isolator", "main-isolator", "battery"}

// parts reads the list of parts into wishes. It gives the nodes of those that
// lie between points of the person's own choice.
func (b *builder) parts(r *Rig) map[string]*shape.Node {
	nodes := map[string]*shape.Node{}
	for _, n := range r.parts.Items() {
		id := n.Get("id").Text()
		if nodes[id] != nil {
			b.wrong("defined-twice", n.Get("id"), "there are two parts called "+id, "give one of them another id")
			continue
		}
		nodes[id] = n
		w := b.wish(id)
		for _, p := range n.Pairs() {
			switch text := p.Value.Text(); p.Key.Text() {
			case "name":
				w.Name = text
			case "kind":
				w.Kind = PartKind(text)
			case "from":
				w.A = text
			case "to":
				w.B = text
			case "circuit":
				w.Circuit = text
			case "side":
				w.Minus = text == "minus"
			default:
				b.partField(id, p.Key.Text(), p.Value)
			}
		}
	}
	return nodes
}

// guess takes from the list of places what the sections leave out: a fuse called
// fridge-fuse belongs to a load called fridge.
func (b *builder) guess(r *Rig) {
	for _, p := range r.Places {
		id, ok := strings.CutSuffix(p.ID, "-fuse")
		if !ok || p.Class != "fuse" {
			continue
		}
		if id == "inverter" {
			b.s.Inverter.Fused = true
		}
		if r.loads != nil || slices.Contains(taken, id) {
			continue
		}
		l := Load{ID: id, Name: strings.TrimPrefix(p.Name, "the fuse holder of "), Watts: b.wish(p.ID).FullA * max(b.s.Volts, 12)}
		if l.Name == p.Name {
			l.Name = ""
		}
		b.s.Loads = append(b.s.Loads, l)
	}
}

// points finds parts that hang in the air.
func (b *builder) points(nodes map[string]*shape.Node) {
	known := map[string]bool{PostPos: true, PostNeg: true, BusPos: true, BusNeg: true}
	for _, p := range b.s.Parts {
		if nodes[p.ID] == nil || nodes[p.ID].Get("from") == nil && nodes[p.ID].Get("to") == nil {
			known[p.A], known[p.B] = true, true
		}
	}
	for _, p := range b.s.Parts {
		n := nodes[p.ID]
		for _, side := range []string{"from", "to"} {
			at := n.Get(side)
			if at == nil || known[at.Text()] {
				continue
			}
			var all []string
			for k := range known {
				all = append(all, k)
			}
			hint := "take a point of the standard plan, such as bus-pos or post-neg"
			if near := shape.DidYouMean(at.Text(), all); near != "" {
				hint = "did you mean " + near + "?"
			}
			b.wrong("unknown-point", at, fmt.Sprintf("%s lies at %s, and no other part does", p.ID, at.Text()), hint)
		}
	}
}

// lost finds wishes and places that no part stands for.
func (b *builder) lost(r *Rig) {
	var ids []string
	for _, p := range b.s.Parts {
		ids = append(ids, p.ID)
	}
	for _, n := range r.parts.Items() {
		id := n.Get("id")
		if x, ok := b.s.Part(id.Text()); ok && x.Kind != "" {
			continue
		}
		hint := "give its kind, from and to"
		if near := shape.DidYouMean(id.Text(), ids); near != "" {
			hint = "did you mean " + near + "?"
		}
		b.wrong("unknown-part", id, "the standard plan has no part "+id.Text(), hint)
	}
	for _, n := range r.places.Items() {
		id := n.Get("id")
		if class := n.Get("class").Text(); class != "fuse" && class != "joint" {
			continue
		}
		if _, ok := b.s.Part(id.Text()); !ok {
			b.problems = append(b.problems, shape.NewProblem("unplaced", id, "no part of the simulated rig is "+id.Text(), "readings there can't be simulated").AsWarning())
		}
	}
}

// nodeOf is the node of a fact, for a problem.
func (r *Rig) nodeOf(path string) *shape.Node {
	for _, w := range r.facts {
		if w.path == path {
			return w.node
		}
	}
	return nil
}

// figure writes a number so that it reads back the same.
func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
