package drill

import (
	"fmt"
	"slices"

	"hotlug/engine/walk"
)

// shortWay is the shortest way found by taking each time the reading that rules
// out most for its minutes, among those that the trainee or the knowledge took. It
// ends when only suspects of one finding are left, or nothing rules out more.
func (d *Drill) shortWay(own Path, all []*suspect) []Block {
	found, err := d.c.rig()
	if err != nil {
		return nil
	}
	keys := d.keys(own)
	left := slices.Clone(all)
	var steps []string
	cost := 0.0
	for len(findings(left)) > 1 {
		best, top := -1, 0.0
		var kept []*suspect
		for i, k := range keys {
			a := found.Take(k.Reading, k.Place)
			now := slices.DeleteFunc(slices.Clone(left), func(s *suspect) bool { return !s.allows(k, a) })
			if len(now) == 0 || len(now) == len(left) {
				continue
			}
			gain := float64(len(left)-len(now)) / max(d.g.Readings[k.Reading].Minutes, 0.5)
			if gain > top {
				best, top, kept = i, gain, now
			}
		}
		if best < 0 {
			break
		}
		k := keys[best]
		keys = slices.Delete(keys, best, best+1)
		left = kept
		r := d.g.Readings[k.Reading]
		cost += r.Minutes
		steps = append(steps, d.named(r, k.Place))
	}
	if len(steps) == 0 || len(steps) >= own.Readings && own.Right {
		return nil
	}
	lines := append([]string{fmt.Sprintf("%s, %s, for somebody who knows what to look for.", count(len(steps), "reading"), minutes(cost))}, steps...)
	return []Block{{Role: "detail", Hang: "Short way", Lines: lines}}
}

// keys are the readings to choose from, each once.
func (d *Drill) keys(own Path) []walk.Key {
	keys := slices.Clone(own.Asked)
	for _, a := range d.acts {
		k := walk.Key{Reading: a.Reading, Place: a.Place}
		if a.Reading != "" && a.Reading != d.g.DangerReading && !slices.Contains(keys, k) {
			keys = append(keys, k)
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
