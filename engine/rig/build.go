package rig

import (
	"fmt"
	"slices"
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
	b := &builder{s: &System{Name: r.Name, About: r.About, Story: r.Story, Earth: r.Earthing, Kind: r.Kind, AmbientC: usualAmbient, ColdestC: usualColdest}, wishes: map[string]*Part{}, told: len(facts) > 0}
	given := map[string]reading.Given{}
	for _, f := range facts {
		given[f.Reading.Rig+" "+f.Place] = f.Given
	}
	cells := false
	for _, f := range inOrder {
		w, ok := r.fact(f.path)
		if ok {
			b.field(f, w.node, given[w.path+" "])
		}
		if f.path == "battery.system_v" {
			b.volts(w.node)
		}
		cells = cells || ok && f.path == "battery.cell_temp"
	}
	if !cells {
		b.s.Battery.CellC = b.s.AmbientC
	}
	b.places(r, given)
	b.loads(r)
	nodes := b.parts(r)
	b.guess(r)
	for _, id := range b.order {
		b.s.Parts = append(b.s.Parts, *b.wishes[id])
	}
	Plan(b.s)
	b.label(r)
	b.points(nodes)
	b.lost(r)
	return b.s, b.problems
}

// inOrder are the fields with the bank's volts first: others are judged by them.
var inOrder = func() []field {
	volts, _ := fieldAt("battery.system_v")
	return append([]field{volts}, slices.DeleteFunc(slices.Clone(fields), func(f field) bool { return f.path == volts.path })...)
}()

// builder gathers a system.
type builder struct {
	s        *System
	wishes   map[string]*Part
	order    []string
	problems []shape.Problem
	told     bool // what is wrong with the facts was told when they were read
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
	if f.scales {
		f.lo, f.hi = f.lo*max(1, b.s.twelves()), f.hi*max(1, b.s.twelves())
	}
	if f.asked && b.told {
		b.take(f.path, f.kind, f.at(b.s), n, g, f.unit())
		return
	}
	b.read(f.path, f.kind, f.at(b.s), n, f.lo, f.hi, f.unit(), f.says)
}

// take puts a fact where it belongs. What could not be read as one was told.
func (b *builder) take(path, kind string, at any, n *shape.Node, g reading.Given, per float64) {
	if g == (reading.Given{}) {
		return
	}
	if !b.set(at, kind, g.Choice, scaled(g.Value, 1/per)) {
		b.wrong("bad-figure", n, path+" can't be "+n.Text(), "write a whole number")
	}
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
	if !b.set(at, kind, "", scaled(v.Value, 1/per)) {
		b.wrong("bad-figure", n, fmt.Sprintf("%s can't be %s", path, text), "write a whole number")
	}
}

// places reads the facts of places into the parts of the same ids.
func (b *builder) places(r *Rig, given map[string]reading.Given) {
	for _, p := range r.Places {
		w := b.wish(p.ID)
		w.Name = p.Name
		if slices.Contains(styles, p.Like) {
			w.Style = p.Like
		}
	}
	b.s.Places = slices.Clone(r.Places)
	for _, w := range r.facts {
		name, ok := strings.CutPrefix(w.path, "place.")
		if !ok {
			continue
		}
		if b.told && slices.ContainsFunc(placeFields, func(f placeField) bool { return f.name == name && f.asked }) {
			for _, f := range placeFields {
				if f.name == name {
					b.take(w.path, f.kind, f.at(b.wish(w.place)), w.node, given[w.path+" "+w.place], 1)
				}
			}
			continue
		}
		b.partField(w.place, name, w.node)
	}
	// Length and lay written at a fuse or joint are those of the wire behind it.
	for _, p := range r.Places {
		at := b.wish(p.ID)
		if wire := wireBehind(p.ID); wire != "" {
			w := b.wish(wire)
			or(&w.Metres, at.Metres)
			or(&w.Lay, at.Lay)
		}
		at.Metres, at.Lay = 0, ""
	}
}

// wireBehind is the wire that a place's length and lay are about.
func wireBehind(place string) string {
	switch place {
	case "main-fuse", "main-fuse-bus":
		return "main-pos-a"
	case "main-fuse-bat", "post-pos":
		return "bat-pos"
	case "post-neg", "bus-neg-main":
		return "bat-neg"
	case "main-isolator-bat", "main-isolator-bus", "bus-pos-main":
		return "main-pos-b"
	case "controller-fuse":
		return "ctl-pos"
	case "inverter-fuse", "inv-lug-pos":
		return "inv-pos"
	case "inv-lug-neg":
		return "inv-neg"
	}
	if load, ok := strings.CutSuffix(place, "-fuse"); ok {
		return load
	}
	return ""
}

func (b *builder) partField(id, name string, n *shape.Node) {
	for _, f := range placeFields {
		if f.name == name {
			b.read(id+"."+name, f.kind, f.at(b.wish(id)), n, f.lo, f.hi, 1, electric.Lays())
		}
	}
}

// volts sees to it that the bank is one of the three that a plan is for.
func (b *builder) volts(n *shape.Node) {
	if v := b.s.Volts; v != 0 && v != 12 && v != 24 && v != 48 {
		b.wrong("impossible-figure", n, fmt.Sprintf("a bank of %g V can't be simulated", v), "write 12 V, 24 V or 48 V")
		b.s.Volts = 0
	}
}

// label finds what a module's label can't say, and settings that contradict.
func (b *builder) label(r *Rig) {
	s := b.s
	for _, x := range []struct {
		path      string
		wrong     bool
		text, say string
	}{
		{"array.module_vmp", s.Array.Vmp < 0.6*s.Array.Voc || s.Array.Vmp > 0.95*s.Array.Voc, "the best-point volts don't go with the open-circuit volts", "they are about 0.83 of them"},
		{"array.module_imp", s.Array.Imp < 0.8*s.Array.Isc || s.Array.Imp > 0.99*s.Array.Isc, "the best-point amps don't go with the short-circuit amps", "they are about 0.94 of them"},
		{"controller.float", s.Controller.FloatV > s.Controller.AbsorbV, "the float volts are above the absorption volts", "exchange them"},
	} {
		if w, ok := r.fact(x.path); ok && x.wrong {
			b.wrong("contradiction", w.node, x.path+" can't be "+w.node.Text()+": "+x.text, x.say)
		}
	}
}

// loads reads the consumers.
func (b *builder) loads(r *Rig) {
	for _, n := range named(r.loads) {
		l := Load{ID: n.Get("id").Text(), Name: n.Get("name").Text(), AC: n.Get("ac").Text() == "yes", Plug: n.Get("plug").Text(), Switch: n.Get("switch").Text() == "yes"}
		if _, twice := b.s.Load(l.ID); twice {
			b.wrong("defined-twice", n.Get("id"), "there are two loads called "+l.ID, "give one of them another id")
			continue
		}
		if !b.free(l.ID) {
			b.wrong("taken-name", n.Get("id"), "a load can't be called "+l.ID+": another part of the rig is called so", "give it another id")
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

// reserved are the ids of the parts of every rig, and the names of circuits.
var reserved = func() map[string]bool {
	s := &System{Battery: Battery{Parallel: 8}, Inverter: Inverter{Watts: 500, Fused: true}, Monitor: Monitor{Shunt: "100A-75mV"}}
	Plan(s)
	out := map[string]bool{"battery": true, "array": true, "controller": true, "inverter": true, "main": true}
	for _, p := range s.Parts {
		out[p.ID] = true
	}
	return out
}()

// free says whether a load can be called so: its parts are called like none of
// the rig's and of the loads before it.
func (b *builder) free(id string) bool {
	ids := map[string]bool{}
	for _, l := range b.s.Loads {
		for _, way := range wayIDs(l.ID) {
			ids[way] = true
		}
	}
	return !slices.ContainsFunc(wayIDs(id), func(way string) bool { return reserved[way] || ids[way] })
}

// wayIDs are the ids of the parts that a load can have.
func wayIDs(id string) []string {
	return []string{id, id + "-fuse", id + "-return", id + "-screw", id + "-plug", id + "-switch"}
}

// parts reads the list of parts into wishes. It gives the nodes of those that
// lie between points of the person's own choice.
func (b *builder) parts(r *Rig) map[string]*shape.Node {
	nodes := map[string]*shape.Node{}
	for _, n := range named(r.parts) {
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
		if r.loads != nil || !b.free(id) {
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
	for _, n := range named(r.parts) {
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
	for _, n := range named(r.places) {
		id := n.Get("id")
		if class := n.Get("class").Text(); class != "fuse" && class != "joint" {
			continue
		}
		if _, ok := b.s.Part(id.Text()); !ok {
			b.problems = append(b.problems, shape.NewProblem("unplaced", id, "no part of the simulated rig is "+id.Text(), "readings there can't be simulated").AsWarning())
		}
	}
}

// named are the items of a list that have an id; what has none was refused when
// the file was read.
func named(list *shape.Node) []*shape.Node {
	return slices.DeleteFunc(slices.Clone(list.Items()), func(n *shape.Node) bool { return n.Get("id").Text() == "" })
}

// fact is what the file says at a path of a section.
func (r *Rig) fact(path string) (written, bool) {
	for _, w := range r.facts {
		if w.path == path {
			return w, true
		}
	}
	return written{}, false
}
