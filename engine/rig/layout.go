package rig

import (
	"slices"
	"strconv"

	"hotlug/engine/reading"
)

// layoutPath is where a file says in a word how its bank is joined.
const layoutPath = "battery.layout"

// Layout is how the bank is joined, in the words of the question about it.
func (b Battery) Layout() string {
	switch {
	case b.Series > 1 && b.Parallel > 1:
		return "series-parallel"
	case b.Series > 1:
		return "series"
	case b.Parallel > 1:
		return "parallel"
	}
	return "single"
}

// layoutFacts answers how the bank is joined from how many batteries the file
// counts each way, so that nobody is asked what stands there in figures. A file
// that says it in a word, or counts one way only, is left as it is.
func (r *Rig) layoutFacts(readings []*reading.Reading) []Fact {
	counts := map[string]int{}
	for _, w := range r.facts {
		switch w.path {
		case layoutPath:
			return nil
		case "battery.series", "battery.parallel":
			n, err := strconv.Atoi(w.node.Text())
			if err != nil || n < 1 {
				return nil // told when the system is built
			}
			counts[w.path] = n
		}
	}
	i := slices.IndexFunc(readings, func(x *reading.Reading) bool { return x.Rig == layoutPath })
	if len(counts) < 2 || i < 0 {
		return nil
	}
	text := Battery{Series: counts["battery.series"], Parallel: counts["battery.parallel"]}.Layout()
	v, err := reading.Typed(readings[i], text)
	if err != nil {
		return nil // an overlay has other words for it
	}
	return []Fact{{Reading: readings[i], Text: text, Given: v}}
}
