package diagram

import (
	"slices"

	"hotlug/engine/rig"
)

// general is a stretch drawn without a rig's description: of parts that no rig
// file holds, or of one of several like parts where nobody knows which is meant.
type general struct {
	title  string
	points []string // of the vocabulary
	free   bool     // it does not hang between the rig's bars
	draw   func(*builder)
}

// generals are tried in this order.
var generals = []general{
	{"a joint", []string{"joint-b", "lug-palm", "lug-conductor"}, true, func(b *builder) {
		b.open("the wire")
		b.general(plusLane, symJoint, "crimp of the lug", "lug-conductor", "lug-palm")
		b.general(plusLane, symJoint, "this joint", "lug-palm", "joint-b")
		b.close("post, stud, bar or next wire")
	}},
	{"a fuse and its holder", []string{"holder-in", "holder-out", "fuse-tab-in", "fuse-tab-out"}, true, func(b *builder) {
		b.open("the wire going in")
		b.general(plusLane, symJoint, "contact of the holder", "holder-in", "fuse-tab-in")
		b.general(plusLane, symFuse, "fuse", "fuse-tab-in", "fuse-tab-out")
		b.general(plusLane, symJoint, "contact of the holder", "fuse-tab-out", "holder-out")
		b.close("the wire coming out")
	}},
	{"a wire", []string{"wire-near", "wire-far"}, true, func(b *builder) {
		b.open("where it begins")
		b.general(plusLane, symWire, "this wire", "wire-near", "wire-far")
		b.close("where it ends")
	}},
	{"a switch", []string{"switch-in", "switch-out"}, true, func(b *builder) {
		b.open("the wire going in")
		b.general(plusLane, symSwitch, "this switch", "switch-in", "switch-out")
		b.close("the wire coming out")
	}},
	{"a solar plug", []string{"pv-plug-a", "pv-plug-b"}, true, func(b *builder) {
		b.open("the panels")
		b.general(plusLane, symPlug, "this plug", "pv-plug-a", "pv-plug-b")
		b.close("the solar switch")
	}},
	{"the last joint", []string{"gap-a", "gap-b"}, true, func(b *builder) {
		b.open("the wire")
		b.general(plusLane, symGap, "open gap", "gap-a", "gap-b")
		b.close("post or stud")
	}},
	{"two leads", []string{"lead-plus", "lead-minus"}, true, func(b *builder) {
		b.add(row{kind: noteRow, name: "what they come from"}, plusLane, minusLane)
		b.add(row{kind: partRow, lane: plusLane, sym: symWire, name: "lead marked plus", said: "the lead marked plus", b: "lead-plus"}, plusLane, minusLane)
		b.add(row{kind: partRow, lane: minusLane, sym: symWire, name: "lead marked minus", said: "the lead marked minus", b: "lead-minus"}, plusLane, minusLane)
		b.point(plusLane, "lead-plus")
		b.point(minusLane, "lead-minus")
		b.add(row{kind: noteRow, name: "not joined yet"})
	}},
	{"a link between batteries", []string{"link-a", "link-b"}, true, func(b *builder) {
		b.open("one battery")
		b.general(plusLane, symWire, "the link with its two lugs", "link-a", "link-b")
		b.close("the next battery")
	}},
	{"one battery by itself", []string{"block-pos", "block-neg"}, true, single(symBattery, "this battery", "block-pos", "block-neg")},
	{"one panel by itself", []string{"module-pos", "module-neg"}, true, single(symModule, "this panel", "module-pos", "module-neg")},
	{"this wire and its load", []string{"way-in", "way-out", "load-pos", "load-neg", "chassis"}, false, func(b *builder) {
		b.feed(plusLane)
		b.point(plusLane, rig.BusPos)
		b.general(plusLane, symFuse, "its fuse in its holder", "way-in", "way-out")
		b.general(plusLane, symWire, "the wire out", "way-out", "load-pos")
		b.box("the appliance", nil, [4]string{"load-pos", "", "", "load-neg"})
		b.frame("chassis")
		b.general(minusLane, symWire, "the wire back", "load-neg", rig.BusNeg)
		b.leave(minusLane, nil, "")
	}},
	{"an inverter", []string{rig.InvPos, rig.InvNeg}, false, func(b *builder) {
		b.feed(plusLane)
		b.general(plusLane, symWire, "its plus wire", rig.BusPos, rig.InvPos)
		b.box("inverter", nil, [4]string{rig.InvPos, "", "", rig.InvNeg})
		b.general(minusLane, symWire, "its minus wire", rig.InvNeg, rig.BusNeg)
		b.leave(minusLane, nil, "")
	}},
	{"a 12 V converter", []string{"conv-out-pos", "conv-out-neg"}, true, func(b *builder) {
		b.add(row{kind: noteRow, name: "the bars"}, plusLane, minusLane)
		b.box("converter to 12 V", nil, [4]string{"conv-in-pos", "conv-in-neg", "conv-out-pos", "conv-out-neg"})
		b.add(row{kind: noteRow, name: "what runs on 12 V"})
	}},
	{"the mains charger", []string{"charger-out-pos", "charger-out-neg"}, true, func(b *builder) {
		b.box("mains charger", []string{"mains side: licensed people only"}, [4]string{"", "", "charger-out-pos", "charger-out-neg"})
		b.add(row{kind: noteRow, name: "to the bars"})
	}},
	{"the engine charger", []string{"dcdc-in-pos", "dcdc-in-neg"}, true, func(b *builder) {
		b.add(row{kind: noteRow, name: "the engine's battery"}, plusLane, minusLane)
		b.point(plusLane, "dcdc-in-pos")
		b.point(minusLane, "dcdc-in-neg")
		b.box("engine charger", nil, [4]string{"dcdc-in-pos", "dcdc-in-neg", "dcdc-out-pos", "dcdc-out-neg"})
		b.add(row{kind: noteRow, name: "to the bars"})
	}},
	{"the engine side", []string{"alt-out", "alt-case", "start-pos", "start-neg", "relay-start", "relay-house", "relay-coil"}, true, func(b *builder) {
		b.box("alternator", nil, [4]string{"", "", "alt-out", "alt-case"})
		b.general(plusLane, symWire, "its wire", "alt-out", "start-pos")
		b.general(minusLane, symWire, "engine block and frame", "alt-case", "start-neg")
		b.add(row{kind: unitsRow, sym: symBattery, units: []string{"starter battery"}, a: "start-pos", b: "start-neg"}, plusLane)
		b.general(plusLane, symWire, "wire", "start-pos", "relay-start")
		b.add(row{kind: partRow, lane: minusLane, sym: symWire, name: "control wire of the relay", said: "the control wire of the relay", b: "relay-coil", with: "relay-coil"}, plusLane)
		b.add(row{kind: pointRow, lane: minusLane, point: "relay-coil"}, plusLane)
		b.general(plusLane, symSwitch, "split relay or splitter", "relay-start", "relay-house")
		b.close("the house battery")
	}},
}

// single is a unit drawn by itself.
func single(sym symbol, name, plus, minus string) func(*builder) {
	return func(b *builder) {
		b.on = [2]bool{true, true}
		b.point(plusLane, plus)
		b.point(minusLane, minus)
		b.add(row{kind: unitsRow, sym: sym, units: []string{name}, a: plus, b: minus})
	}
}

// open lets the plus lane come out of somewhere, close lets it end.
func (b *builder) open(from string) {
	b.add(row{kind: noteRow, lane: plusLane, name: from}, plusLane)
}

func (b *builder) close(into string) {
	b.add(row{kind: noteRow, lane: plusLane, name: into})
}

// feed makes the title a line from the bar.
func (b *builder) feed(x lane) {
	t := &b.rungs[len(b.rungs)-1].rows[0]
	t.bars[x], t.down[x], b.on[x] = true, true, true
}

// with is the layout and, below it, what has to be drawn in general so that all of
// these points are on it.
func (l *Layout) with(points []string) *Layout {
	out := *l
	out.rungs = slices.Clone(l.rungs)
	for _, p := range points {
		if out.has(p) {
			continue
		}
		i := slices.IndexFunc(generals, func(g general) bool { return slices.Contains(g.points, p) })
		if i < 0 {
			continue
		}
		g := generals[i]
		b := &builder{l: l, rungs: []rung{{title: g.title, free: g.free}}}
		b.add(row{kind: titleRow, name: g.title})
		g.draw(b)
		at := len(out.rungs)
		if !g.free { // it hangs between the bars, which end above what does not
			for at > 0 && out.rungs[at-1].free {
				at--
			}
		}
		out.rungs = slices.Insert(out.rungs, at, b.rungs[0])
	}
	return &out
}

// has says whether a point is on the drawing.
func (l *Layout) has(point string) bool {
	for _, g := range l.rungs {
		for _, r := range g.rows {
			if r.kind == pointRow && r.point == point {
				return true
			}
		}
	}
	return false
}
