package drill

import (
	"slices"
	"strings"

	"hotlug/engine/pattern"
)

// Score is how one drill went: one line of a trainee's file.
type Score struct {
	Date     string   `json:"date"` // 2026-05-04
	Seed     uint64   `json:"seed"`
	Level    int      `json:"level"`
	Rig      string   `json:"rig,omitempty"`
	Symptom  string   `json:"symptom"`
	Faults   []string `json:"faults"`
	Called   []string `json:"called,omitempty"`
	Right    bool     `json:"right"`
	GaveUp   bool     `json:"gave_up,omitempty"`
	Unsafe   []string `json:"unsafe,omitempty"` // rules
	Readings int      `json:"readings"`
	Minutes  float64  `json:"minutes"`
	Own      float64  `json:"own_minutes"` // of the knowledge's own path
	InVain   int      `json:"in_vain,omitempty"`
	Hints    int      `json:"hints,omitempty"`
}

// faultID is an id as the catalogue has them.
var faultID = pattern.Of(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// mostFaults is more than any drill hides.
const mostFaults = 8

// Sound says whether a score can be one of this program's: files are written by
// others too.
func (s Score) Sound() bool {
	_, dated := dayOf(s.Date)
	return dated && len(s.Faults) > 0 && len(s.Faults) <= mostFaults &&
		!slices.ContainsFunc(s.Faults, func(f string) bool { return len(f) > 64 || !faultID.MatchString(f) })
}

// Good says that a drill needs no repeat: right, nothing unsafe, and not much
// dearer than the knowledge's own path.
func (s Score) Good() bool {
	return s.Right && len(s.Unsafe) == 0 && (s.Own <= 0 || s.Minutes <= dear*s.Own+slackMinutes)
}

// Above these a right answer still comes back: times of the knowledge's own path,
// and minutes on top, so that a short path is not judged by one reading.
const (
	dear         = 1.5
	slackMinutes = 10
)

// boxDays is after how many days a fault comes back, by its box. A miss goes to
// box 0, each good drill on a later day one box up. Expanding gaps, from practice.
var boxDays = []int{1, 3, 7, 16, 35}

// Box is where a fault stands for a trainee.
type Box struct {
	Fault string
	Box   int
	Last  string // date of its latest drill
	Next  string // date from which it is due
}

// Boxes works out where each fault stands, in the order in which they fall due.
// Scores need not be in order of date; one whose date can't be read is left out.
func Boxes(scores []Score) []Box {
	scores = slices.Clone(scores)
	slices.SortStableFunc(scores, func(a, b Score) int { return strings.Compare(a.Date, b.Date) })
	at := map[string]*Box{}
	var order []string
	for _, s := range scores {
		day, ok := dayOf(s.Date)
		if !ok {
			continue
		}
		for _, f := range s.Faults {
			b := at[f]
			if b == nil {
				b = &Box{Fault: f, Box: -1}
				at[f] = b
				order = append(order, f)
			}
			switch {
			case !s.Good():
				b.Box = 0
			case b.Last != s.Date: // twice on one day is no proof of memory
				b.Box = min(b.Box+1, len(boxDays)-1)
				if b.Box == 0 {
					b.Box = 1 // right at the first sight
				}
			}
			b.Box = max(b.Box, 0)
			b.Last = s.Date
			b.Next = dateOf(day + boxDays[b.Box])
		}
	}
	var out []Box
	for _, f := range order {
		out = append(out, *at[f])
	}
	slices.SortStableFunc(out, func(a, b Box) int { return strings.Compare(a.Next, b.Next) })
	return out
}

// Due lists the faults that are to come back on a day (2026-05-04), those in the
// lowest box first. A drill dated after that day was dated by a clock gone wrong:
// its fault is due.
func Due(scores []Score, today string) []string {
	var due []Box
	for _, b := range Boxes(scores) {
		if b.Next <= today || b.Last > today {
			due = append(due, b)
		}
	}
	slices.SortStableFunc(due, func(a, b Box) int { return a.Box - b.Box })
	var out []string
	for _, b := range due {
		out = append(out, b.Fault)
	}
	return out
}
