package history

import (
	"fmt"
	"math"
	"slices"
	"time"

	"hotlug/engine/quantity"
)

// Verdict says where a series goes. The words stand in JSON.
type Verdict string

const (
	TooFew Verdict = "too few" // fewer than three days: nothing can be said
	Steady Verdict = "steady"  // no more change than the meters' errors, or the good way, or too little to matter
	Worse  Verdict = "worse"   // grows, or for the battery falls, by the rule
)

// The rule, the same for all series but for what counts as much:
//
//   - Readings of three days at least since the place was last made new. Two make
//     a line through any two errors; twice on one day is one look.
//   - The line through them is Theil and Sen's: the median of the slopes of all
//     pairs. One reading that is far off does not turn it.
//   - Of all pairs three quarters go the bad way, so that ups and downs are no
//     trend.
//   - From its first day to its last the line changes by more than the meters'
//     errors at both ends.
//   - The change matters. A contact that has gained half its resistance makes half
//     as much heat again at the same current, and heat is what loosens it further
//     (Holm; practice). A rested battery that stands 0.15 V lower per 12 V has lost
//     some tenth of a lead battery's charge. A bank that gives a tenth less from one
//     test to a later one is ageing faster than a good one does in a year.
const (
	leastDays  = 3
	mostPairs  = 0.5 // the good pairs taken from the bad, as a share: three quarters are bad
	growsBy    = 1.5
	restFalls  = 0.15 // V per 12 V
	ahFalls    = 0.9
	mostPoints = 200 // newest; pairs grow with the square
	// capacityError is what a capacity test is off besides its counter: the amps and
	// the temperature of two tests are seldom the same (practice).
	capacityError = 0.03
)

// Trend is where a series goes.
type Trend struct {
	Verdict  Verdict
	From, To float64 // the line on the first and on the last day, in the unit of the series
	Since    time.Time
	Until    time.Time
	Days     int // on which it was read
}

// Trend works out where the series goes since its place was last made new.
func (s *Series) Trend() Trend {
	pts := s.Now()
	if len(pts) > mostPoints {
		pts = pts[len(pts)-mostPoints:]
	}
	t := Trend{Verdict: TooFew}
	if len(pts) == 0 {
		return t
	}
	t.Since, t.Until = pts[0].When, pts[len(pts)-1].When
	t.From, t.To = pts[0].Value, pts[len(pts)-1].Value
	t.Days = days(pts)
	if t.Days < leastDays {
		return t
	}
	slope, rising := theilSen(pts)
	at := func(p Point) float64 { return p.When.Sub(t.Since).Hours() }
	var rest, errs []float64
	for _, p := range pts {
		rest = append(rest, p.Value-slope*at(p))
		errs = append(errs, p.Error)
	}
	base := median(rest)
	t.From, t.To = base, base+slope*at(pts[len(pts)-1])
	t.Verdict = Steady
	if s.worse(t, rising, median(errs)) {
		t.Verdict = Worse
	}
	return t
}

// worse applies the rule. rising is the share of rising pairs less that of
// falling ones, off the error of one reading.
func (s *Series) worse(t Trend, rising, off float64) bool {
	change := t.To - t.From
	switch s.Kind {
	case Rest:
		return rising <= -mostPairs && -change > 2*off && -change > restFalls*max(1, s.SysV/12)
	case Capacity:
		return rising <= -mostPairs && -change > 2*max(off, capacityError*t.From) && t.To <= ahFalls*t.From
	}
	// A line that begins at nought, or below it by chance, begins at what the meter
	// can tell from nought.
	return rising >= mostPairs && change > 2*off && t.To >= growsBy*max(t.From, off)
}

// theilSen gives the median of the slopes of all pairs, per hour, and the share
// of pairs that rise less that of those that fall. Pairs of one moment have no
// slope.
func theilSen(pts []Point) (slope, rising float64) {
	var slopes []float64
	up, down := 0, 0
	for i, a := range pts {
		for _, b := range pts[i+1:] {
			dt := b.When.Sub(a.When).Hours()
			if dt <= 0 {
				continue
			}
			slopes = append(slopes, (b.Value-a.Value)/dt)
			switch {
			case b.Value > a.Value:
				up++
			case b.Value < a.Value:
				down++
			}
		}
	}
	if len(slopes) == 0 {
		return 0, 0
	}
	return median(slopes), float64(up-down) / float64(len(slopes))
}

func median(v []float64) float64 {
	v = slices.Clone(v)
	slices.Sort(v)
	n := len(v)
	if n == 0 {
		return math.NaN()
	}
	return (v[(n-1)/2] + v[n/2]) / 2
}

// days counts the days on which points were taken, by the calendar of UTC.
func days(pts []Point) int {
	seen := map[string]bool{}
	for _, p := range pts {
		seen[p.When.UTC().Format(time.DateOnly)] = true
	}
	return len(seen)
}

// Warning says in plain words that a series gets worse, and what to do; "" if it
// does not.
func (s *Series) Warning(style quantity.Style) string {
	t := s.Trend()
	if t.Verdict != Worse {
		return ""
	}
	change := fmt.Sprintf("from %s to %s in %s, on %d days", s.Show(t.From, style), s.Show(t.To, style), span(t.Until.Sub(t.Since)), t.Days)
	switch s.Kind {
	case Rest:
		return fmt.Sprintf("FALLS: the rested battery stands lower each time, %s. It is charged less each time, or it is losing capacity.", change)
	case Capacity:
		return fmt.Sprintf("FALLS: the battery gives less each time, %s. It is wearing out, or it is never charged full.", change)
	case Holder:
		return fmt.Sprintf("GROWS: %s loses more each time, %s. Its contacts are going: switch off, prove it dead and look before it gets hot.", s.Name, change)
	}
	return fmt.Sprintf("GROWS: %s has more resistance each time, %s. Switch off, prove it dead, clean and tighten it before it gets hot.", s.Name, change)
}

// Show writes a value of the series; of less than nothing, which only a line
// through points can be, it writes nothing.
func (s *Series) Show(v float64, style quantity.Style) string {
	return quantity.Show(max(v, 0), s.Unit, style)
}

func span(d time.Duration) string {
	const day = 24 * time.Hour
	count := func(n int, what string) string {
		if n == 1 {
			return "1 " + what
		}
		return fmt.Sprintf("%d %ss", n, what)
	}
	n := int(math.Round(d.Hours() / 24))
	switch {
	case n < 14:
		return count(max(n, 1), "day")
	case n < 61:
		return count(int(math.Round(float64(n)/7)), "week")
	case n < 730:
		return count(int(math.Round(float64(n)/30.44)), "month")
	}
	return count(int(math.Round(d.Hours()/day.Hours()/365.25)), "year")
}
