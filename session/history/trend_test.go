package history

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"hotlug/engine/quantity"
)

var day0 = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)

// points are readings a month apart, each off by so much at most.
func points(off float64, values ...float64) []Point {
	var out []Point
	for i, v := range values {
		out = append(out, Point{When: day0.AddDate(0, i, 0), Session: string(rune('a' + i)), Value: v, Error: off})
	}
	return out
}

func sameDay(p []Point) []Point {
	for i := range p {
		p[i].When = day0.Add(time.Duration(i) * time.Hour)
	}
	return p
}

func freshAt(i int, p []Point) []Point {
	p[i].Fresh = true
	return p
}

func TestTrend(t *testing.T) {
	for _, c := range []struct {
		name string
		kind Kind
		sysV float64
		pts  []Point
		want Verdict
	}{
		{"nothing", Joint, 12, nil, TooFew},
		{"once", Joint, 12, points(0.01e-3, 0.1e-3), TooFew},
		{"twice, tenfold", Joint, 12, points(0.01e-3, 0.1e-3, 1e-3), TooFew},
		{"three times on one day", Joint, 12, sameDay(points(0.01e-3, 0.1e-3, 0.3e-3, 0.9e-3)), TooFew},
		{"grows threefold in three", Joint, 12, points(0.01e-3, 0.1e-3, 0.2e-3, 0.3e-3), Worse},
		{"grows by a third", Joint, 12, points(0.01e-3, 0.3e-3, 0.35e-3, 0.4e-3), Steady},
		{"grows by just over half", Joint, 12, points(0.001e-3, 0.20e-3, 0.25e-3, 0.301e-3), Worse},
		{"doubles, within the meters' errors", Joint, 12, points(0.06e-3, 0.1e-3, 0.15e-3, 0.2e-3), Steady},
		{"the same all the time", Joint, 12, points(0.01e-3, 0.2e-3, 0.2e-3, 0.2e-3, 0.2e-3), Steady},
		{"nought all the time", Joint, 12, points(0.01e-3, 0, 0, 0), Steady},
		{"from nought to much", Joint, 12, points(0.01e-3, 0, 0.4e-3, 0.9e-3), Worse},
		{"gets better", Joint, 12, points(0.01e-3, 0.9e-3, 0.4e-3, 0.1e-3), Steady},
		{"one slip among steady ones", Joint, 12, points(0.01e-3, 0.2e-3, 0.2e-3, 2e-3, 0.21e-3, 0.2e-3), Steady},
		{"a slip at the end of steady ones", Joint, 12, points(0.01e-3, 0.2e-3, 0.19e-3, 0.2e-3, 0.2e-3, 2e-3), Steady},
		{"grows, with one slip", Joint, 12, points(0.01e-3, 0.1e-3, 0.2e-3, 0.02e-3, 0.4e-3, 0.5e-3), Worse},
		{"up and down", Joint, 12, points(0.01e-3, 0.1e-3, 0.5e-3, 0.1e-3, 0.5e-3), Steady},
		{"mended in between", Joint, 12, freshAt(3, points(0.01e-3, 0.1e-3, 0.5e-3, 2e-3, 0.1e-3, 0.1e-3, 0.1e-3)), Steady},
		{"just mended", Joint, 12, freshAt(3, points(0.01e-3, 0.1e-3, 0.5e-3, 2e-3, 0.1e-3)), TooFew},
		{"a holder grows", Holder, 12, points(0.003, 0.06, 0.09, 0.14), Worse},
		{"rest volts fall", Rest, 12, points(0.02, 12.8, 12.6, 12.4), Worse},
		{"rest volts fall a little", Rest, 12, points(0.02, 12.80, 12.75, 12.70), Steady},
		{"rest volts fall as much on 48 V, which is a quarter of it", Rest, 48, points(0.08, 51.2, 51.0, 50.8), Steady},
		{"rest volts rise", Rest, 12, points(0.02, 12.4, 12.6, 12.8), Steady},
		{"capacity falls by a fifth", Capacity, 12, points(0.5, 200, 180, 160), Worse},
		{"capacity falls by a twentieth", Capacity, 12, points(0.5, 200, 195, 190), Steady},
		{"capacity grows", Capacity, 12, points(0.5, 160, 180, 200), Steady},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := Series{Kind: c.kind, SysV: c.sysV, Unit: ohm, Name: "the lug", Points: c.pts}
			if got := s.Trend().Verdict; got != c.want {
				t.Errorf("%q, want %q: %+v", got, c.want, s.Trend())
			}
			if warned := s.Warning(quantity.Style{}) != ""; warned != (c.want == Worse) {
				t.Errorf("a warning is %v for %q", warned, c.want)
			}
		})
	}
}

// The line goes through points that lie on one, whatever one slip among them is.
func TestTrendLine(t *testing.T) {
	for _, slip := range []float64{-1, 0, 3, 1e6} {
		pts := points(0.01, 1, 2, 3, 4, 5, 6, 7, 8)
		for i := range pts {
			pts[i].When = day0.AddDate(0, 0, 30*i)
		}
		pts[4].Value = slip
		tr := (&Series{Kind: Joint, Points: pts}).Trend()
		if math.Abs(tr.From-1) > 0.2 || math.Abs(tr.To-8) > 0.2 {
			t.Errorf("with a slip of %g the line goes from %g to %g, want 1 to 8", slip, tr.From, tr.To)
		}
	}
}

// What is read of one steady joint again and again, within the meters' errors, is
// no trend.
func TestNoTrendInErrors(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	for range 2000 {
		off := 0.02e-3
		var v []float64
		for range 3 + random.IntN(12) {
			v = append(v, 0.2e-3+off*(2*random.Float64()-1))
		}
		s := Series{Kind: Joint, Points: points(off, v...)}
		if s.Trend().Verdict == Worse {
			t.Fatalf("%v is called worse: %+v", v, s.Trend())
		}
	}
}

func TestWarning(t *testing.T) {
	s := Series{Kind: Joint, Name: "the lug on the plus post", Unit: ohm, Points: points(0.01e-3, 0.1e-3, 0.2e-3, 0.3e-3, 0.4e-3)}
	w := s.Warning(quantity.Style{ASCII: true})
	for _, want := range []string{"GROWS: the lug on the plus post", "from 0.1 mohm to 0.4 mohm in 3 months, on 4 days", "Switch off"} {
		if !strings.Contains(w, want) {
			t.Errorf("%q is not said: %s", want, w)
		}
	}
}

func TestSpan(t *testing.T) {
	const day = 24 * time.Hour
	for _, c := range []struct {
		d    time.Duration
		want string
	}{{0, "1 day"}, {5 * day, "5 days"}, {21 * day, "3 weeks"}, {92 * day, "3 months"}, {365 * day, "12 months"}, {1100 * day, "3 years"}} {
		if got := span(c.d); got != c.want {
			t.Errorf("%v is %q, want %q", c.d, got, c.want)
		}
	}
}
