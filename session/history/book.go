package history

import (
	"slices"
	"strings"
	"time"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
	"hotlug/session"
)

// What is followed, by the readings' ids; a test holds them against the
// knowledge.
const (
	jointDrop  = "joint_drop_v"
	holderDrop = "holder_drop_v"
	restVolts  = "battery_rest_v"
	capacityAh = "ah_to_cutoff"
)

// amps are the readings of the current through what volts are taken across.
var amps = []string{"load_a", "main_lead_a"}

// The facts that series are held against.
const (
	fullLoad   = "full_load_a"
	fuseRating = "fuse_rating_a"
	systemV    = "system_v"
	chemistry  = "battery_chemistry"
	bankAh     = "battery_ah"
)

// Book gathers the series of one rig, a session at a time.
type Book struct {
	g      *graph.Graph
	series []*Series
	bank   map[string]string // what is known of the battery, by fact
}

// NewBook is a book without a session.
func NewBook(g *graph.Graph) *Book { return &Book{g: g, bank: map[string]string{}} }

// Add folds a session and keeps what it read. Sessions are added oldest first.
func (b *Book) Add(h session.Header, entries []session.Entry) {
	setup := walk.Setup{}
	names := map[string]string{}
	if h.Rig != nil {
		if r, problems := rig.Read(h.Rig.Path, []byte(h.Rig.Text)); r != nil && !shape.HasErrors(problems) {
			setup.Places = r.Places
		}
	}
	var events []walk.Event
	for _, e := range entries {
		if e.Event != nil {
			events = append(events, *e.Event)
		}
	}
	s, _ := walk.Refold(b.g, setup, events)
	for _, p := range s.Places() {
		names[p.ID] = p.Name
	}
	f := folded{g: b.g, h: h, takes: s.Takes(), mended: mended(s), names: names}
	fresh := b.otherBank(f)
	for i, t := range f.takes {
		if !t.Known || t.Origin == walk.File || t.Origin == walk.Worked {
			continue
		}
		switch t.Reading {
		case jointDrop, holderDrop:
			if t.Place == "" {
				continue // of which joint nobody knows
			}
			if a, ok := f.ampsAt(i); ok {
				b.keep(f, t, f.ohms(t, a))
			}
		case restVolts, capacityAh:
			b.keep(f, t, Point{When: f.when(t), Session: h.ID, Value: t.Value, Error: f.off(t), Fresh: fresh, round: t.Round})
		}
	}
}

// Series are the series in the order in which they were first read.
func (b *Book) Series() []*Series {
	for _, s := range b.series {
		s.finish()
	}
	return b.series
}

func (b *Book) keep(f folded, t walk.Take, p Point) {
	kind, unit := kindOf(t.Reading)
	i := slices.IndexFunc(b.series, func(s *Series) bool { return s.Kind == kind && s.Place == t.Place })
	if i < 0 {
		i = len(b.series)
		b.series = append(b.series, &Series{Kind: kind, Place: t.Place, Unit: unit})
	}
	s := b.series[i]
	s.Name = f.name(t)
	if a := f.fullAmps(t.Place); a > 0 {
		s.FullA = a
	}
	if v := f.fact(systemV, ""); v > 0 {
		s.SysV = v
	}
	s.add(p)
}

// otherBank says whether a session speaks of another battery than those before:
// a fact that both know differs.
func (b *Book) otherBank(f folded) bool {
	other := false
	for _, id := range []string{systemV, chemistry, bankAh} {
		for _, t := range f.takes {
			if !t.Known || t.Reading != id {
				continue
			}
			is := shown(b.g.Readings[id], t)
			other = other || b.bank[id] != "" && b.bank[id] != is
			b.bank[id] = is
		}
	}
	return other
}

func kindOf(id string) (Kind, quantity.Unit) {
	switch id {
	case jointDrop:
		return Joint, ohm
	case holderDrop:
		return Holder, ohm
	case restVolts:
		return Rest, volt
	}
	return Capacity, quantity.MustUnit("Ah")
}

// mended are the rounds from which on each place is as a fix has left it.
func mended(s *walk.State) map[string][]int {
	done := map[string]bool{}
	for _, e := range s.Events() {
		if e.Kind == walk.EvDone && e.Finding != "" {
			done[e.Finding] = true
		}
	}
	out := map[string][]int{}
	for _, t := range s.Told() {
		if done[t.Finding.ID] && t.Place.ID != "" {
			out[t.Place.ID] = append(out[t.Place.ID], t.Round+1)
		}
	}
	return out
}

// folded is a session, walked again.
type folded struct {
	g      *graph.Graph
	h      session.Header
	takes  []walk.Take
	mended map[string][]int
	names  map[string]string
}

func (f folded) when(t walk.Take) time.Time {
	if t.At.IsZero() {
		return f.h.Created
	}
	return t.At
}

func (f folded) name(t walk.Take) string {
	if n := f.names[t.Place]; n != "" {
		return n
	}
	if t.Place != "" {
		return strings.ReplaceAll(t.Place, "-", " ")
	}
	return f.g.Readings[t.Reading].Name
}

// ampsAt is the current beside the volts of take i: the nearest before it in the
// same sitting, or else the first after it.
func (f folded) ampsAt(i int) (walk.Take, bool) {
	fits := func(t walk.Take) bool {
		return t.Known && t.Value > 0 && t.Sitting == f.takes[i].Sitting && slices.Contains(amps, t.Reading)
	}
	for k := i - 1; k >= 0; k-- {
		if fits(f.takes[k]) {
			return f.takes[k], true
		}
	}
	for _, t := range f.takes[i+1:] {
		if fits(t) {
			return t, true
		}
	}
	return walk.Take{}, false
}

// ohms divides volts by amps. The limits of both are added, not squared: they are
// largest errors.
func (f folded) ohms(v, a walk.Take) Point {
	r := v.Value / a.Value
	return Point{
		When: f.when(v), Session: f.h.ID, Value: r, Error: f.off(v)/a.Value + r*f.off(a)/a.Value, round: v.Round,
		Fresh: f.fresh(v),
	}
}

// fresh says whether a take is of the first round that was read at its place since
// it was mended: the proof may come some rounds later.
func (f folded) fresh(v walk.Take) bool {
	return slices.ContainsFunc(f.mended[v.Place], func(from int) bool {
		first := slices.IndexFunc(f.takes, func(t walk.Take) bool {
			return t.Known && t.Reading == v.Reading && t.Place == v.Place && t.Round >= from
		})
		return first >= 0 && f.takes[first].Round == v.Round
	})
}

// off is the most that a take is off, in the unit of its kind.
func (f folded) off(t walk.Take) float64 {
	r := f.g.Readings[t.Reading]
	m, _ := quantity.MeterByID(t.Meter)
	gain, abs := m.Error(r.Kind, t.Value, t.Digit)
	if t.About {
		abs += quantity.AboutError(t.Value)
	}
	return gain*max(t.Value, -t.Value) + abs
}

// fact is the last known value of a number, 0 if there is none.
func (f folded) fact(id, place string) float64 {
	for i := len(f.takes) - 1; i >= 0; i-- {
		if t := f.takes[i]; t.Known && t.Reading == id && t.Place == place {
			return t.Value
		}
	}
	return 0
}

// fullAmps is the largest current at a place: what is known of it, or four fifths
// of its fuse, as the knowledge takes it.
func (f folded) fullAmps(place string) float64 {
	if place == "" {
		return 0
	}
	if a := f.fact(fullLoad, place); a > 0 {
		return a
	}
	return 0.8 * f.fact(fuseRating, place)
}

func shown(r *reading.Reading, t walk.Take) string {
	if r.Answer == reading.Number {
		return quantity.ShowExact(t.Value, r.Kind.Unit, quantity.Style{})
	}
	return r.Options[t.Choice].ID
}
