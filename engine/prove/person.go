package prove

import (
	"math"
	"math/rand/v2"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
)

// person is who reads the rig and answers the walk. The plain one says what the rig
// shows; others err, do not know, or believe what is not so.
type person struct {
	// says is what the person says to a reading for the first time. Whoever is asked
	// again looks again and says what is so.
	says  func(q question) simrig.Answer
	meter string // class of the meter for volts, "" for what the knowledge takes it to be
	firm  bool   // says the same to whoever asks again: a belief, not a slip
}

// question is one reading as a person is asked for it.
type question struct {
	r     *reading.Reading
	place string
	round int // things done to the rig before
	shows simrig.Answer
	rig   Rig
}

// chance is what happens to an answer: the same in every walk of a case, whatever
// is asked before.
func (q question) chance(seed uint64, what string) *rand.Rand {
	return rand.New(rand.NewPCG(seedOf(seed, what+"|"+q.r.ID+"|"+q.place, q.round), 4))
}

// moved is a person whose meter of a class is off by as much as it may be: the gain
// the same way for all readings, the rest of each reading for itself.
func moved(g *graph.Graph, class string, seed uint64) *person {
	gain := map[string]float64{}
	chance := rand.New(rand.NewPCG(seedOf(seed, "gain", 0), 5))
	for _, m := range quantity.Meters() {
		gain[m.ID] = 2*chance.Float64() - 1
	}
	return &person{meter: class, firm: true, says: func(q question) simrig.Answer {
		a := q.shows
		m, ok := meterFor(g, q.r, class)
		if !ok || !a.Known || q.r.Answer != reading.Number || q.r.Class != reading.Measurement {
			return a
		}
		part, abs := m.Error(q.r.Kind, a.Value, 0)
		v := a.Value * (1 + gain[m.ID]*part)
		v += abs * (2*q.chance(seed, "move").Float64() - 1)
		if q.r.Possible.Set && q.r.Possible.Lo == 0 {
			v = math.Abs(v) // typed without its sign
		}
		if a.Digit > 0 {
			v = math.Round(v/a.Digit) * a.Digit
		}
		a.Value = v
		return a
	}}
}

// meterFor is the meter with which a person of a meter class takes a reading.
func meterFor(g *graph.Graph, r *reading.Reading, class string) (quantity.Meter, bool) {
	m := g.Meters[r.Meter]
	if m == nil {
		return quantity.Meter{}, false
	}
	id := m.Class
	if id == "hand" && class != "" {
		id = class
	}
	return quantity.MeterByID(id)
}

// slipping is a person who says a wrong number now and then: the point or the unit
// is off, the sign is, or the probes were at a neighbouring point.
func slipping(g *graph.Graph, part float64, seed uint64, note func(q question, slip string)) *person {
	return &person{says: func(q question) simrig.Answer {
		a := q.shows
		if !a.Known || q.r.Answer != reading.Number {
			return a
		}
		chance := q.chance(seed, "slip")
		if chance.Float64() >= part {
			return a
		}
		slip := "ten times"
		switch chance.IntN(6) {
		case 0:
			a.Value, a.Digit = 10*a.Value, 10*a.Digit
		case 1:
			slip = "a tenth"
			a.Value, a.Digit = a.Value/10, a.Digit/10
		case 2:
			slip = "a thousand times"
			a.Value, a.Digit = 1000*a.Value, 1000*a.Digit
		case 3:
			slip = "a thousandth"
			a.Value, a.Digit = a.Value/1000, a.Digit/1000
		case 4:
			slip = "the wrong sign"
			a.Value = -a.Value
		case 5:
			slip = "the wrong point"
			a = beside(g, q, chance)
		}
		if a.Value != q.shows.Value {
			note(q, slip)
		}
		return a
	}}
}

// beside is what the meter shows at a neighbouring point: the same reading at
// another place, or one of the same kind that shares a point with it.
func beside(g *graph.Graph, q question, chance *rand.Rand) simrig.Answer {
	var near []string
	for _, id := range g.ReadingOrder {
		r := g.Readings[id]
		if r != q.r && r.Kind == q.r.Kind && r.Class == reading.Measurement && q.r.From != "" &&
			(r.From == q.r.From || r.To == q.r.To || r.From == q.r.To || r.To == q.r.From) {
			near = append(near, id)
		}
	}
	for range near {
		a := q.rig.Take(near[chance.IntN(len(near))], q.place)
		if a.Known {
			return a
		}
	}
	return q.shows
}

// unsure is a person who can't tell a part of what is asked, but for what is asked
// only to stop work: not known, that stops it, and has to.
func unsure(gate func(reading string) bool, part float64, seed uint64) *person {
	return &person{firm: true, says: func(q question) simrig.Answer {
		if !gate(q.r.ID) && q.chance(seed, "unknown").Float64() < part {
			return simrig.Refuse("nobody can tell")
		}
		return q.shows
	}}
}

// without is a person who can't tell one reading, wherever it is asked.
func without(id string) *person {
	return &person{firm: true, says: func(q question) simrig.Answer {
		if q.r.ID == id {
			return simrig.Refuse("nobody can tell")
		}
		return q.shows
	}}
}

// belief is one thing that a person may have wrong for good.
type belief struct {
	name     string
	readings []string
	wrong    func(r *reading.Reading, a simrig.Answer, up bool) simrig.Answer
}

// times makes a number larger or smaller by a factor.
func times(by float64) func(*reading.Reading, simrig.Answer, bool) simrig.Answer {
	return func(_ *reading.Reading, a simrig.Answer, up bool) simrig.Answer {
		if up {
			a.Value *= by
		} else {
			a.Value /= by
		}
		return a
	}
}

// Sizes of what is believed wrongly: the next standard size of fuses and wires is
// about so much larger (practice); a bank is taken for one battery or for two; a
// charge setting is read from a neighbouring profile.
const (
	nextFuse    = 1.25
	nextWire    = 1.6
	otherBank   = 2
	nextVolts   = 2
	nextSetting = 1.05
)

var beliefs = []belief{
	{"chemistry", []string{"battery_chemistry"}, func(r *reading.Reading, a simrig.Answer, up bool) simrig.Answer {
		i := slices.IndexFunc(r.Options, func(o reading.Option) bool { return o.ID == a.Choice })
		step := 1
		if !up {
			step = len(r.Options) - 1
		}
		if i >= 0 {
			a.Choice = r.Options[(i+step)%len(r.Options)].ID
		}
		return a
	}},
	{"system volts", []string{"system_v"}, func(_ *reading.Reading, a simrig.Answer, up bool) simrig.Answer {
		if a.Value >= 48 || a.Value > 12 && !up {
			a.Value /= nextVolts
		} else {
			a.Value *= nextVolts
		}
		return a
	}},
	{"capacity", []string{"battery_ah"}, times(otherBank)},
	{"fuse rating", []string{"fuse_rating_a"}, times(nextFuse)},
	{"wire size", []string{"wire_mm2"}, times(nextWire)},
	{"a setting", []string{"absorb_set_v", "charge_limit_set_a", "shunt_set"}, times(nextSetting)},
}

// believing is a person who has one thing wrong for good.
func believing(b belief, seed uint64) *person {
	up := seed%2 == 0
	return &person{firm: true, says: func(q question) simrig.Answer {
		if q.shows.Known && slices.Contains(b.readings, q.r.ID) {
			return b.wrong(q.r, q.shows, up)
		}
		return q.shows
	}}
}
