package diagram

import (
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/rig"
)

// chemistries are what the kinds of battery are called on a drawing.
var chemistries = map[string]string{"lfp": "LFP", "flooded": "flooded lead", "agm": "AGM", "gel": "gel", "other-lithium": "lithium"}

// battery lays the way from the plus bar to the bank, its strings below each
// other, and the way from there to the minus bar.
func (b *builder) battery() {
	s := b.l.sys
	series, parallel := max(1, s.Battery.Series), max(1, s.Battery.Parallel)
	title := "battery"
	if series*parallel > 1 {
		title = "batteries"
	}
	b.begin(title, plusLane)
	plus, minus := s.StringEnds(0)
	down := b.chain("battery", false, rig.BusPos, plus)
	b.run(plusLane, down, "")
	b.reach(plusLane, down, plus)
	for i := range parallel {
		plus, minus = s.StringEnds(i)
		r := row{kind: unitsRow, sym: symBattery, a: plus, b: minus, units: numbered("battery", i*series, series, series*parallel)}
		if i == 0 {
			r.more = b.bank()
		}
		if i == parallel-1 {
			b.add(r, minusLane)
			b.point(minusLane, minus)
			break
		}
		b.add(r, plusLane, minusLane)
		b.point(minusLane, minus)
		nextPlus, nextMinus := s.StringEnds(i + 1)
		for _, side := range []struct {
			lane     lane
			from, to string
		}{{plusLane, plus, nextPlus}, {minusLane, minus, nextMinus}} {
			links := b.chain("battery", side.lane == minusLane, side.from, side.to)
			b.run(side.lane, links, "")
			b.reach(side.lane, links, side.to)
		}
		b.drop() // it comes once more, below the batteries that it belongs to
	}
	up := b.chain("battery", true, minus, rig.BusNeg)
	b.run(minusLane, up, "")
	b.leave(minusLane, up, rig.BusNeg)
}

// bank is what is known of the bank as a whole.
func (b *builder) bank() []string {
	s := b.l.sys
	var out []string
	if s.Volts > 0 {
		out = append(out, number64(s.Volts)+" V")
	}
	if s.Battery.Ah > 0 {
		out = append(out, number64(s.Battery.Ah)+" Ah")
	}
	if c := chemistries[s.Battery.Chemistry]; c != "" {
		out = append(out, c)
	}
	if len(out) == 0 {
		return nil
	}
	return []string{strings.Join(out, " ")}
}

// numbered are the names of some units of a row: "battery 3", or "battery" where
// there is only one.
func numbered(noun string, first, n, all int) []string {
	if all == 1 {
		return []string{noun}
	}
	var out []string
	for i := range n {
		out = append(out, noun+" "+strconv.Itoa(first+i+1))
	}
	return out
}

// controller lays the way from the bars to the controller, and on to the array.
func (b *builder) controller() {
	s := b.l.sys
	b.begin("solar controller", plusLane, minusLane)
	plus := b.chain("controller", false, rig.BusPos, rig.CtlBatPos)
	b.run(plusLane, plus, "controller")
	b.reach(plusLane, plus, rig.CtlBatPos)
	minus := b.chain("controller", true, rig.BusNeg, rig.CtlBatNeg)
	b.run(minusLane, minus, "controller")
	b.reach(minusLane, minus, rig.CtlBatNeg)
	var more []string
	if t := s.Controller.Type; t != "" {
		more = append(more, strings.ToUpper(clean(t)))
	}
	b.box("controller", more, [4]string{rig.CtlBatPos, rig.CtlBatNeg, rig.CtlPVPos, rig.CtlPVNeg})

	plus = b.chain("array", false, rig.CtlPVPos, rig.ArrayPos)
	b.run(plusLane, plus, "")
	b.reach(plusLane, plus, rig.ArrayPos)
	minus = b.chain("array", true, rig.CtlPVNeg, rig.ArrayNeg)
	b.run(minusLane, minus, "")
	b.reach(minusLane, minus, rig.ArrayNeg)
	series, parallel := max(1, s.Array.Series), max(1, s.Array.Parallel)
	for i := range parallel {
		r := row{kind: unitsRow, sym: symModule, a: rig.ArrayPos, b: rig.ArrayNeg, units: numbered("panel", i*series, series, series*parallel)}
		if i == parallel-1 {
			b.add(r)
			break
		}
		b.add(r, plusLane, minusLane)
	}
}

// inverter lays the way to the inverter and back.
func (b *builder) inverter() {
	s := b.l.sys
	if s.Inverter.Watts == 0 {
		return
	}
	var more, runs []string
	if s.Inverter.Watts > unknownWatts {
		more = append(more, number64(s.Inverter.Watts)+" W")
	}
	for _, x := range s.Loads {
		if x.AC {
			runs = append(runs, short(x.Name, ""))
		}
	}
	if len(runs) > 0 {
		more = append(more, "runs "+list(runs))
	}
	b.consumer("inverter", "inverter", more, rig.InvPos, rig.InvNeg)
}

// load lays the way to a load and back.
func (b *builder) load(x rig.Load) {
	name := short(x.Name, "")
	if name == "" {
		name = spelled(x.ID)
	}
	b.consumer(x.ID, name, nil, rig.LoadPos(x.ID), rig.LoadNeg(x.ID))
}

// consumer lays a rung with a box at its end, and the frame beside it, which shows
// where somebody measures to it.
func (b *builder) consumer(circuit, name string, more []string, plus, minus string) {
	b.begin(name, plusLane)
	down := b.chain(circuit, false, rig.BusPos, plus)
	b.run(plusLane, down, name)
	b.reach(plusLane, down, plus)
	b.box(name, more, [4]string{plus, "", "", minus})
	b.frame(frameAt(circuit))
	up := b.chain(circuit, true, minus, rig.BusNeg)
	b.run(minusLane, up, name)
	b.leave(minusLane, up, rig.BusNeg)
}

// frameAt is the point on the bare frame beside a load.
func frameAt(circuit string) string { return "chassis@" + circuit }

// frame puts the bare frame beside the minus lane, joined to nothing there.
func (b *builder) frame(point string) {
	b.add(row{kind: partRow, lane: plusLane, sym: symEarth, name: "bare frame", said: "the bare frame", a: point, with: point}, b.off(plusLane)...)
	b.add(row{kind: pointRow, lane: plusLane, point: point}, b.off(plusLane)...)
}

// others lays what is left: parts of the rig's own that lie on no rung.
func (b *builder) others() {
	if len(b.left) == 0 {
		return
	}
	b.rungs = append(b.rungs, rung{title: "further parts"})
	b.on = [2]bool{}
	b.add(row{kind: titleRow, name: "further parts"})
	for len(b.left) > 0 {
		p := b.left[0]
		links := b.chain(p.Circuit, p.Minus, p.A)
		b.add(row{kind: noteRow, lane: plusLane, name: "from " + spelled(p.A)}, plusLane)
		b.run(plusLane, links, p.Circuit)
		b.add(row{kind: noteRow, lane: plusLane, name: "to " + spelled(links[len(links)-1].into)})
	}
}

// parts are the ids of all parts in the drawing, in its order.
func (l *Layout) parts() []string {
	var out []string
	for _, g := range l.rungs {
		for _, r := range g.rows {
			if r.id != "" {
				out = append(out, r.id)
			}
		}
	}
	return slices.Clip(out)
}
