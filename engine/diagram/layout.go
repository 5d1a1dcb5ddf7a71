package diagram

import (
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/rig"
)

// Options of a drawing. The zero Options draw what is certain.
type Options struct {
	// Told says which figures of a part the rig file gives, by "main-fuse.rating"
	// and "main-fuse.wire". The plan fills in the others, and what is only planned
	// is not written on a drawing.
	Told map[string]bool
	// Area writes the copper area of a wire, given in mm²; nil writes mm².
	Area func(mm2 float64) string
	// BoxDrawing draws text with the lines of Unicode instead of plain ASCII.
	BoxDrawing bool
	// Abreast is how many halves of the ladder an SVG has side by side, 1 or 2. One
	// is for a phone.
	Abreast int
	// ID is what the ids inside an SVG begin with, so that two of them can stand on
	// one page; "diagram" by itself.
	ID string
}

// Layout is a rig laid out: which parts stand where, and what they are called.
type Layout struct {
	sys   *rig.System
	opt   Options
	rungs []rung
	bars  bool // there are bars; else the wires of each pole meet in one joint
	note  string
}

// Told collects what a rig file says of its parts, for [Options].
func Told(facts []rig.Fact) map[string]bool {
	out := map[string]bool{}
	for _, f := range facts {
		if field, ok := strings.CutPrefix(f.Reading.Rig, "place."); ok && f.Place != "" {
			out[f.Place+"."+field] = true
		}
	}
	return out
}

// unknownWatts are those of an inverter that nobody has described.
const unknownWatts = 1

// Standard is the rig that is drawn where no file describes one: what most
// systems have, with one load, and no figures.
func Standard() *rig.System {
	s := &rig.System{
		Volts: 12, Battery: rig.Battery{Series: 1, Parallel: 1}, Array: rig.Array{Series: 1, Parallel: 1},
		Inverter: rig.Inverter{Watts: unknownWatts}, Loads: []rig.Load{{ID: "load", Name: "the load", Watts: 50, Switch: true}},
	}
	rig.Plan(s)
	s.Volts, s.Battery.Ah, s.Battery.Chemistry, s.Controller.Type = 0, 0, "", ""
	return s
}

// Lay lays a planned system out. The system stays as it is and must not change as
// long as the layout is used.
func Lay(s *rig.System, o Options) *Layout {
	l := &Layout{sys: s, opt: o, bars: true, note: clean(s.Earth)}
	if p, ok := s.Part("bus-pos-main"); ok && p.Style != "" && p.Style != "bar" {
		l.bars = false
	}
	b := &builder{l: l, left: slices.Clone(s.Parts)}
	b.battery()
	b.controller()
	b.inverter()
	for _, x := range s.Loads {
		if !x.AC {
			b.load(x)
		}
	}
	b.others()
	l.rungs = b.rungs
	return l
}

// name is what the drawing is of.
func (l *Layout) name() string {
	if n := clean(l.sys.Name); n != "" {
		return n
	}
	return "a plain rig"
}

// bar is what the plus or minus bar is called.
func (l *Layout) bar(x lane) string {
	if l.bars {
		return [2]string{"plus bar", "minus bar"}[x]
	}
	return [2]string{"plus wires meet", "minus wires meet"}[x]
}

// figures are what the rig file says of a part, and of a shunt what its label does:
// "125 A", "35 mm²".
func (l *Layout) figures(p rig.Part) []string {
	switch {
	case p.Kind == rig.Wire:
		for _, q := range l.sys.Parts {
			if l.opt.Told[q.ID+".wire"] && q.MM2 == p.MM2 && q.Circuit == p.Circuit && q.Minus == p.Minus {
				return []string{l.area(p.MM2)}
			}
		}
	case p.RatedA > 0 && (p.Kind == rig.Shunt || l.opt.Told[p.ID+".rating"]):
		return []string{number64(p.RatedA) + " A"}
	}
	return nil
}

func (l *Layout) area(mm2 float64) string {
	if l.opt.Area != nil {
		return clean(l.opt.Area(mm2))
	}
	return number64(mm2) + " mm²"
}

func number64(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// symbolOf is how a kind of part is drawn.
func symbolOf(k rig.PartKind) symbol {
	switch k {
	case rig.Wire:
		return symWire
	case rig.Fuse:
		return symFuse
	case rig.Breaker:
		return symBreaker
	case rig.Isolator:
		return symIsolator
	case rig.Switch:
		return symSwitch
	case rig.Plug, rig.PVPlug:
		return symPlug
	case rig.Shunt:
		return symShunt
	}
	return symJoint
}
