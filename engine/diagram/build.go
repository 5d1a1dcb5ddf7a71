package diagram

import (
	"slices"
	"strings"

	"hotlug/engine/rig"
)

// builder lays rungs, one row after the other.
type builder struct {
	l     *Layout
	left  []rig.Part // not drawn yet
	rungs []rung
	on    [2]bool // lanes whose line goes on below the last row
}

// link is a part in a chain with the points at its two ends, as the chain goes.
type link struct {
	part       rig.Part
	from, into string
}

// chain follows the parts of one side of a circuit from a point on, as far as they
// go or to one of the stops. What it takes is drawn then and not again. Of several
// parts that leave a point, the first is followed.
func (b *builder) chain(circuit string, minus bool, from string, stops ...string) []link {
	var out []link
	at := from
	for {
		i := slices.IndexFunc(b.left, func(p rig.Part) bool {
			return p.Circuit == circuit && p.Minus == minus && (p.A == at || p.B == at)
		})
		if i < 0 {
			return out
		}
		p := b.left[i]
		b.left = slices.Delete(b.left, i, i+1)
		next := p.B
		if p.A != at {
			next = p.A
		}
		out = append(out, link{p, at, next})
		at = next
		if slices.Contains(stops, at) {
			return out
		}
	}
}

// begin starts a rung with a line to the bars for each of the lanes.
func (b *builder) begin(title string, lanes ...lane) *rung {
	b.rungs = append(b.rungs, rung{title: title})
	b.on = [2]bool{}
	r := row{kind: titleRow, name: title}
	for _, x := range lanes {
		r.bars[x] = true
	}
	b.add(r, lanes...)
	return &b.rungs[len(b.rungs)-1]
}

// add puts a row below the last; on are the lanes that go on below it.
func (b *builder) add(r row, on ...lane) {
	r.up = b.on
	b.on = [2]bool{}
	for _, x := range on {
		b.on[x] = true
	}
	r.down = b.on
	last := &b.rungs[len(b.rungs)-1]
	last.rows = append(last.rows, r)
}

// still are the lanes that are on, with one more.
func (b *builder) still(x lane) []lane {
	out := []lane{x}
	if other := 1 - x; b.on[other] {
		out = append(out, other)
	}
	return out
}

// off are the lanes that are on but for one.
func (b *builder) off(x lane) []lane {
	if other := 1 - x; b.on[other] {
		return []lane{other}
	}
	return nil
}

func (b *builder) point(x lane, id string) {
	b.add(row{kind: pointRow, lane: x, point: id}, b.still(x)...)
}

// drop takes the last row away again, a point.
func (b *builder) drop() {
	g := &b.rungs[len(b.rungs)-1]
	g.rows = g.rows[:len(g.rows)-1]
}

// lastPoint is the point that a lane has come to in this rung.
func (b *builder) lastPoint(x lane) string {
	rows := b.rungs[len(b.rungs)-1].rows
	for i := len(rows) - 1; i >= 0; i-- {
		if rows[i].kind == pointRow && rows[i].lane == x {
			return rows[i].point
		}
	}
	return ""
}

// general puts something that is no part of the plan into a lane.
func (b *builder) general(x lane, sym symbol, name, from, into string) {
	if b.lastPoint(x) != from {
		b.point(x, from)
	}
	b.add(row{kind: partRow, lane: x, sym: sym, name: name, said: the(name), a: from, b: into}, b.still(x)...)
	b.point(x, into)
}

// run puts a chain into a lane. In a rung called by a load's name, its parts need
// not say it again.
func (b *builder) run(x lane, links []link, rung string) {
	for i, k := range links {
		if i == 0 && b.lastPoint(x) != k.from {
			b.point(x, k.from)
		}
		if k.part.Name = clean(k.part.Name); k.part.Name == "" {
			k.part.Name = spelled(k.part.ID)
		}
		b.part(x, k, beside(short(k.part.Name, rung), k.part.Kind, links, i))
		b.point(x, k.into)
	}
}

// part puts a part into a lane. A lug has its crimp beside it and a fuse its two
// contacts, which show where somebody measures across them.
func (b *builder) part(x lane, k link, name string) {
	p := k.part
	r := row{kind: partRow, lane: x, sym: symbolOf(p.Kind), id: p.ID, name: name, said: the(p.Name), more: b.l.figures(p), a: k.from, b: k.into}
	inner := func(name, from, into, with string) {
		b.add(row{kind: partRow, lane: x, sym: symJoint, name: name, said: the(name), a: from, b: into, with: with}, b.still(x)...)
	}
	switch p.Kind {
	case rig.Joint:
		palm := p.ID + ".palm"
		if k.from == p.ID+".conductor" {
			inner("crimp of the lug", k.from, palm, palm)
			b.point(x, palm)
			r.a = palm
			b.add(r, b.still(x)...)
			return
		}
		r.b = palm
		b.add(r, b.still(x)...)
		b.point(x, palm)
		inner("crimp of the lug", palm, k.into, palm)
		return
	case rig.Fuse:
		ends := [2]string{p.ID + ".tab-in", p.ID + ".tab-out"}
		if k.from != p.A {
			ends[0], ends[1] = ends[1], ends[0]
		}
		inner("contact of the holder", k.from, ends[0], ends[0])
		b.point(x, ends[0])
		r.a, r.b = ends[0], ends[1]
		b.add(r, b.still(x)...)
		b.point(x, ends[1])
		inner("contact of the holder", ends[1], k.into, ends[1])
		return
	}
	b.add(r, b.still(x)...)
}

// reach makes sure that a lane has come to a point: where the rig's own parts lead
// elsewhere, that is said.
func (b *builder) reach(x lane, links []link, want string) {
	if len(links) > 0 && links[len(links)-1].into == want {
		return
	}
	if len(links) > 0 {
		b.add(row{kind: noteRow, lane: x, name: "to " + spelled(links[len(links)-1].into)}, b.off(x)...)
	}
	b.point(x, want)
}

// box puts what gives or takes current across both lanes; ends are as in a row.
func (b *builder) box(name string, more []string, ends [4]string) {
	var on []lane
	for x := range lane(2) {
		if ends[2+x] != "" {
			on = append(on, x)
		}
	}
	b.add(row{kind: boxRow, name: name, more: more, ends: ends}, on...)
	for _, x := range on {
		b.point(x, ends[2+x])
	}
}

// leave ends a rung with lines back to the bars. A lane that ends elsewhere says
// where.
func (b *builder) leave(x lane, links []link, bar string) {
	if len(links) > 0 && links[len(links)-1].into != bar {
		b.add(row{kind: noteRow, lane: x, name: "to " + spelled(links[len(links)-1].into)}, b.off(x)...)
		return
	}
	r := row{kind: leaveRow}
	r.bars[x] = true
	b.add(r, b.off(x)...)
}

// spelled is an id in plain words.
func spelled(id string) string {
	return clean(strings.Map(func(r rune) rune {
		if r == '-' || r == '.' || r == '_' {
			return ' '
		}
		return r
	}, id))
}
