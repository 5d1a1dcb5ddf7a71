package drill

import (
	"slices"
	"testing"
)

func TestDue(t *testing.T) {
	good := func(date string, faults ...string) Score {
		return Score{Date: date, Faults: faults, Right: true, Minutes: 10, Own: 10}
	}
	missed := func(date string, faults ...string) Score {
		return Score{Date: date, Faults: faults, Minutes: 10, Own: 10}
	}
	unsafe := good("2026-05-04", "worn")
	unsafe.Unsafe = []string{"hot-metal"}
	dearly := good("2026-05-04", "worn")
	dearly.Minutes = 60
	for _, c := range []struct {
		name   string
		scores []Score
		today  string
		want   []string
	}{
		{"nothing drilled", nil, "2026-05-04", nil},
		{"missed, on the same day", []Score{missed("2026-05-04", "worn")}, "2026-05-04", nil},
		{"missed, the day after", []Score{missed("2026-05-04", "worn")}, "2026-05-05", []string{"worn"}},
		{"right, the day after", []Score{good("2026-05-04", "worn")}, "2026-05-05", nil},
		{"right, three days after", []Score{good("2026-05-04", "worn")}, "2026-05-07", []string{"worn"}},
		{"right twice on one day counts once", []Score{good("2026-05-04", "worn"), good("2026-05-04", "worn")}, "2026-05-07", []string{"worn"}},
		{"right on two days", []Score{good("2026-05-04", "worn"), good("2026-05-07", "worn")}, "2026-05-13", nil},
		{"right on two days, a week after", []Score{good("2026-05-04", "worn"), good("2026-05-07", "worn")}, "2026-05-14", []string{"worn"}},
		{"missed after all, from the start", []Score{good("2026-05-04", "worn"), good("2026-05-07", "worn"), missed("2026-05-14", "worn")}, "2026-05-15", []string{"worn"}},
		{"right but unsafe is a miss", []Score{unsafe}, "2026-05-05", []string{"worn"}},
		{"right but dear is a miss", []Score{dearly}, "2026-05-05", []string{"worn"}},
		{"the lowest box first", []Score{good("2026-05-01", "worn"), missed("2026-05-03", "loose")}, "2026-05-04", []string{"loose", "worn"}},
		{"out of order", []Score{missed("2026-05-14", "worn"), good("2026-05-04", "worn")}, "2026-05-15", []string{"worn"}},
		{"both faults of a drill", []Score{missed("2026-05-04", "worn", "loose")}, "2026-05-05", []string{"worn", "loose"}},
		{"a date that is none", []Score{missed("yesterday", "worn")}, "2026-05-05", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Due(c.scores, c.today); !slices.Equal(got, c.want) {
				t.Errorf("due are %v, want %v", got, c.want)
			}
		})
	}
}

// Whatever was scored, each fault stands in one box, and none comes back on the
// day on which it was drilled.
func TestBoxesHold(t *testing.T) {
	var scores []Score
	days := []string{"2026-05-01", "2026-05-01", "2026-05-02", "2026-05-09", "2026-06-30", "2026-12-31"}
	for i := range 1 << len(days) {
		scores = scores[:0]
		for j, d := range days {
			scores = append(scores, Score{Date: d, Faults: []string{"worn"}, Right: i>>j&1 == 1})
		}
		boxes := Boxes(scores)
		if len(boxes) != 1 {
			t.Fatalf("%06b: %d boxes", i, len(boxes))
		}
		if b := boxes[0]; b.Box < 0 || b.Box >= len(boxDays) || b.Next <= b.Last {
			t.Errorf("%06b: box %d, last %s, next %s", i, b.Box, b.Last, b.Next)
		}
	}
}
