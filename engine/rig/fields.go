package rig

import (
	"slices"
	"strings"
)

// field is one figure of a [System] that stands in a section of a rig file. Some
// of them are facts that a question is about as well; the rest is what only a
// circuit needs.
type field struct {
	path string
	kind string // kind of quantity, or yes-no, word, or text
	at   func(*System) any
	lo   float64 // what is sensible at all, in the unit of the kind
	hi   float64
	per  float64  // of the kind's unit in one of the System's; 0 is 1
	says []string // words, for kind word

	scales bool // lo and hi are for a 12 V bank
	asked  bool // a question is about it, so that [Rig.Facts] reads it
}

// Kinds of rig.
var rigKinds = []string{"hut", "van", "boat", "trailer"}

var chemistryWords = []string{"lfp", "flooded", "agm", "gel", "other-lithium"}

// fields are all figures of the sections, in the order in which they are written.
var fields = []field{
	{path: "site.ambient", kind: "celsius", at: func(s *System) any { return &s.AmbientC }, lo: -40, hi: 70},

	{path: "battery.chemistry", kind: "word", at: func(s *System) any { return &s.Battery.Chemistry }, says: chemistryWords, asked: true},
	{path: "battery.system_v", kind: "volts", at: func(s *System) any { return &s.Volts }, lo: 12, hi: 48, asked: true},
	{path: "battery.capacity", kind: "amp-hours", at: func(s *System) any { return &s.Battery.Ah }, lo: 1, hi: 5000, asked: true},
	{path: "battery.series", kind: "count", at: func(s *System) any { return &s.Battery.Series }, lo: 1, hi: 24},
	{path: "battery.parallel", kind: "count", at: func(s *System) any { return &s.Battery.Parallel }, lo: 1, hi: 8},
	{path: "battery.charge", kind: "percent", at: func(s *System) any { return &s.Battery.Charge }, lo: 1, hi: 100},
	{path: "battery.cell_temp", kind: "celsius", at: func(s *System) any { return &s.Battery.CellC }, lo: -30, hi: 60},
	{path: "battery.bms_trip", kind: "amps", at: func(s *System) any { return &s.Battery.TripA }, lo: 1, hi: 5000},
	{path: "battery.bms_delay", kind: "seconds", at: func(s *System) any { return &s.Battery.TripS }, lo: 0.001, hi: 600},
	{path: "battery.app", kind: "yes-no", at: func(s *System) any { return &s.Battery.App }},

	{path: "array.module_voc", kind: "volts", at: func(s *System) any { return &s.Array.Voc }, lo: 1, hi: 150, asked: true},
	{path: "array.module_isc", kind: "amps", at: func(s *System) any { return &s.Array.Isc }, lo: 0.05, hi: 40, asked: true},
	{path: "array.module_vmp", kind: "volts", at: func(s *System) any { return &s.Array.Vmp }, lo: 1, hi: 140},
	{path: "array.module_imp", kind: "amps", at: func(s *System) any { return &s.Array.Imp }, lo: 0.05, hi: 40},
	{path: "array.cells", kind: "count", at: func(s *System) any { return &s.Array.Cells }, lo: 12, hi: 144},
	{path: "array.bypass", kind: "count", at: func(s *System) any { return &s.Array.Bypass }, lo: 1, hi: 6},
	{path: "array.series", kind: "count", at: func(s *System) any { return &s.Array.Series }, lo: 1, hi: 30, asked: true},
	{path: "array.parallel", kind: "count", at: func(s *System) any { return &s.Array.Parallel }, lo: 1, hi: 30, asked: true},
	{path: "array.breaker", kind: "yes-no", at: func(s *System) any { return &s.Array.Breaker }},
	{path: "array.coldest", kind: "celsius", at: func(s *System) any { return &s.ColdestC }, lo: -60, hi: 40, asked: true},

	{path: "controller.type", kind: "word", at: func(s *System) any { return &s.Controller.Type }, says: []string{"pwm", "mppt"}, asked: true},
	{path: "controller.rated", kind: "amps", at: func(s *System) any { return &s.Controller.RatedA }, lo: 1, hi: 300, asked: true},
	{path: "controller.pv_limit", kind: "volts", at: func(s *System) any { return &s.Controller.PVLimitV }, lo: 15, hi: 1000, asked: true},
	{path: "controller.absorb", kind: "volts", at: func(s *System) any { return &s.Controller.AbsorbV }, lo: 13, hi: 16.5, scales: true},
	{path: "controller.float", kind: "volts", at: func(s *System) any { return &s.Controller.FloatV }, lo: 12.8, hi: 15, scales: true},
	{path: "controller.limit", kind: "amps", at: func(s *System) any { return &s.Controller.LimitA }, lo: 0, hi: 300},
	{path: "controller.own", kind: "watts", at: func(s *System) any { return &s.Controller.OwnW }, lo: 0.01, hi: 50},
	{path: "controller.efficiency", kind: "percent", at: func(s *System) any { return &s.Controller.Eta }, lo: 50, hi: 100, per: 100},
	{path: "controller.starts_at", kind: "volts", at: func(s *System) any { return &s.Controller.StartV }, lo: 1, hi: 13, scales: true},
	{path: "controller.margin", kind: "volts", at: func(s *System) any { return &s.Controller.MarginV }, lo: 0.1, hi: 20},
	{path: "controller.auto_volts", kind: "yes-no", at: func(s *System) any { return &s.Controller.AutoV }},
	{path: "controller.sensor", kind: "yes-no", at: func(s *System) any { return &s.Controller.Sensor }},

	{path: "inverter.rated", kind: "watts", at: func(s *System) any { return &s.Inverter.Watts }, lo: 10, hi: 30000, asked: true},
	{path: "inverter.idle", kind: "watts", at: func(s *System) any { return &s.Inverter.IdleW }, lo: 0.1, hi: 300},
	{path: "inverter.efficiency", kind: "percent", at: func(s *System) any { return &s.Inverter.Eta }, lo: 50, hi: 100, per: 100},
	{path: "inverter.low_cut", kind: "volts", at: func(s *System) any { return &s.Inverter.LowV }, lo: 8, hi: 13, scales: true},
	{path: "inverter.high_cut", kind: "volts", at: func(s *System) any { return &s.Inverter.HighV }, lo: 14, hi: 17.5, scales: true},
	{path: "inverter.capacitance", kind: "farads", at: func(s *System) any { return &s.Inverter.Farad }, lo: 1e-5, hi: 1},
	{path: "inverter.fused", kind: "yes-no", at: func(s *System) any { return &s.Inverter.Fused }},

	{path: "monitor.shunt", kind: "text", at: func(s *System) any { return &s.Monitor.Shunt }, asked: true},
	{path: "monitor.capacity", kind: "amp-hours", at: func(s *System) any { return &s.Monitor.Ah }, lo: 1, hi: 5000},
	{path: "monitor.full_v", kind: "volts", at: func(s *System) any { return &s.Monitor.FullV }, lo: 12.8, hi: 16, scales: true},
	{path: "monitor.tail", kind: "percent", at: func(s *System) any { return &s.Monitor.TailPct }, lo: 0.1, hi: 20},
	{path: "monitor.efficiency", kind: "percent", at: func(s *System) any { return &s.Monitor.Efficiency }, lo: 50, hi: 100},
	{path: "monitor.peukert", kind: "ratio", at: func(s *System) any { return &s.Monitor.Peukert }, lo: 1, hi: 1.6},
}

// unit is how many of the kind's unit are one of the System's.
func (f field) unit() float64 {
	if f.per == 0 {
		return 1
	}
	return f.per
}

// fieldAt is the field of a path.
func fieldAt(path string) (field, bool) {
	i := slices.IndexFunc(fields, func(f field) bool { return f.path == path })
	if i < 0 {
		return field{}, false
	}
	return fields[i], true
}

// placeField is a figure of a place or part.
type placeField struct {
	name, kind string
	at         func(*Part) any
	lo, hi     float64
	asked      bool
}

// placeFields are the figures that a part is built by.
var placeFields = []placeField{
	{"rating", "amps", func(p *Part) any { return &p.RatedA }, 0.1, 1000, true},
	{"wire", "area", func(p *Part) any { return &p.MM2 }, 0.2, 300, true},
	{"length", "metres", func(p *Part) any { return &p.Metres }, 0.01, 200, false},
	{"run", "word", func(p *Part) any { return &p.Lay }, 0, 0, false},
	{"full_load", "amps", func(p *Part) any { return &p.FullA }, 0.1, 1000, true},
	{"mark", "celsius", func(p *Part) any { return &p.MarkC }, 60, 250, false},
	{"style", "text", func(p *Part) any { return &p.Style }, 0, 0, false},
}

// styles are the words for how a part is made that a place's `like` can say.
var styles = []string{"blade-holder", "bolted-holder", "post", "post-clamp", "stud", "bar", "link", "inverter-stud"}

// built says whether a path of a rig file is one that the circuit is built by.
func built(path string) bool {
	if name, ok := strings.CutPrefix(path, "place."); ok {
		return name == "length" || name == "run"
	}
	_, ok := fieldAt(path)
	return ok
}

// builtPaths are all such paths.
func builtPaths() []string {
	out := []string{"place.length", "place.run"}
	for _, f := range fields {
		out = append(out, f.path)
	}
	return out
}
