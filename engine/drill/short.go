package drill

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hotlug/engine/reading"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// shortWay is the shortest way found to what is hidden, of all readings that can be
// taken of the whole rig, at the part complained of, and where the trainee and the
// knowledge took some. Its meters are exact. It is found by taking each time the
// reading that rules out most, or most for its minutes, and leaving out afterwards
// what was not needed. Nothing is said of it if it does not end at what is hidden.
func (d *Drill) shortWay(own Path, all []*suspect) []Block {
	found, err := d.c.Make(d.c.Sets, "exact")
	if err != nil {
		return nil
	}
	found.Complain(d.c.Symptom)
	keys := d.keys(own, found.Focus())
	var best []walk.Key
	cost := 0.0
	for _, thrift := range []float64{1, 0.5, 0} {
		way := d.needed(found, all, d.narrowing(found, all, keys, thrift))
		if c := d.priceOf(way); len(way) > 0 && (best == nil || c < cost) {
			best, cost = way, c
		}
	}
	if best == nil {
		return nil
	}
	if len(best) >= own.Readings && cost >= own.Minutes && own.Right {
		return []Block{{Role: "detail", Hang: "Short way", Lines: []string{"I know none that is shorter than mine."}}}
	}
	to := ", for somebody who knows what to look for."
	if len(d.c.Sets) > 1 {
		to = ", to one of them, for somebody who knows what to look for."
	}
	lines := []string{fmt.Sprintf("%s, %s%s", count(len(best), "reading"), minutes(cost), to)}
	for _, k := range best {
		lines = append(lines, d.named(d.g.Readings[k.Reading], k.Place))
	}
	return []Block{{Role: "detail", Hang: "Short way", Lines: lines}}
}

// narrowing takes readings until only what is hidden is left of the suspects, each
// time the one that rules out most for its minutes to the power of thrift. nil if
// it does not get there.
func (d *Drill) narrowing(found Rig, all []*suspect, keys []walk.Key, thrift float64) []walk.Key {
	left, keys := all, slices.Clone(keys)
	var way []walk.Key
	var stood []string
	for len(findings(left)) > 1 {
		best, top := -1, 0.0
		var kept []*suspect
		for i, k := range keys {
			now := remaining(left, k, found.Take(k.Reading, k.Place))
			if len(now) == 0 || len(now) == len(left) {
				continue
			}
			price := max(minutesFor(d.g.Readings[k.Reading], stood), 0.5)
			if gain := float64(len(left)-len(now)) / math.Pow(price, thrift); gain > top {
				best, top, kept = i, gain, now
			}
		}
		if best < 0 {
			return nil
		}
		way, left = append(way, keys[best]), kept
		stood = d.g.Readings[keys[best].Reading].State
		keys = slices.Delete(keys, best, best+1)
	}
	if !d.isHidden(left[0].finding) {
		return nil
	}
	return way
}

// needed leaves out of a way what it does not need to end where it does.
func (d *Drill) needed(found Rig, all []*suspect, way []walk.Key) []walk.Key {
	for i := 0; i < len(way); {
		without := slices.Delete(slices.Clone(way), i, i+1)
		left := all
		for _, k := range without {
			left = remaining(left, k, found.Take(k.Reading, k.Place))
		}
		if len(findings(left)) == 1 {
			way = without
		} else {
			i++
		}
	}
	return way
}

// priceOf is what a way costs in minutes.
func (d *Drill) priceOf(way []walk.Key) float64 {
	cost := 0.0
	var stood []string
	for _, k := range way {
		r := d.g.Readings[k.Reading]
		cost += minutesFor(r, stood)
		stood = r.State
	}
	return cost
}

// remaining are the suspects that could have given an answer.
func remaining(left []*suspect, k walk.Key, a simrig.Answer) []*suspect {
	return slices.DeleteFunc(slices.Clone(left), func(s *suspect) bool { return !s.allows(k, a) })
}

// isHidden says whether a finding is that of something hidden here.
func (d *Drill) isHidden(finding string) bool {
	for _, s := range d.c.Sets {
		if f := findingOf(d.g, s.Fault); f != nil && f.ID == finding {
			return true
		}
	}
	return false
}

// minutesFor is what a reading costs where the rig stands in some states already.
func minutesFor(r *reading.Reading, stood []string) float64 {
	m := r.Minutes
	for _, state := range r.State {
		if !slices.Contains(stood, state) {
			m += bringMinutes(state)
		}
	}
	return m
}

// keys are the readings to choose from, each once.
func (d *Drill) keys(own Path, focus string) []walk.Key {
	var keys []walk.Key
	add := func(k walk.Key) {
		if k = d.same(k); k.Reading != "" && k.Reading != d.g.DangerReading && !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	for _, k := range own.Asked {
		add(k)
	}
	for _, a := range d.acts {
		add(walk.Key{Reading: a.Reading, Place: a.Place})
	}
	for _, id := range d.g.ReadingOrder {
		r := d.g.Readings[id]
		classes := classesOf(r)
		switch {
		case r.Class == reading.Fact, strings.Contains(id, "_after_"): // after something was done
		case classes == "":
			add(walk.Key{Reading: id})
		case slices.ContainsFunc(d.places, func(p place) bool { return p.id == focus && fits(p, classes) }):
			add(walk.Key{Reading: id, Place: focus})
		}
	}
	return keys
}

func findings(list []*suspect) map[string]bool {
	out := map[string]bool{}
	for _, s := range list {
		out[s.finding] = true
	}
	return out
}
