package main

import (
	"strings"
	"testing"
	"time"

	"hotlug/engine/quantity"
	"hotlug/session/history"
)

// A joint over months has its chart up to the day of the ticket; a joint read
// twice has none.
func TestTrendChart(t *testing.T) {
	day := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	s := &history.Series{Kind: history.Joint, Place: "post-neg", Name: "the lug on the minus post", Unit: quantity.MustUnit("ohm")}
	for i, mohm := range []float64{0.04, 0.06, 0.09, 0.13, 0.19} {
		s.Points = append(s.Points, history.Point{When: day.AddDate(0, i, 0), Value: mohm / 1000, Error: 0.002 / 1000})
	}
	c, ok := trendChart(s, s.Trend(), day.AddDate(0, 3, 0))
	if !ok || len(c.Lines) != 1 || len(c.Lines[0].Points) != 4 {
		t.Fatalf("%v %+v", ok, c)
	}
	if p := c.Lines[0].Points[3]; p.X < 91 || p.X > 93 || p.Y < 0.129 || p.Y > 0.131 || c.Unit != "mΩ" {
		t.Errorf("the last point is %+v %s", p, c.Unit)
	}
	if !strings.Contains(c.Say, "gets worse") || !strings.Contains(c.Say, "2026-03-01") {
		t.Errorf("it says %q", c.Say)
	}
	if _, ok := trendChart(s, s.Trend(), day.AddDate(0, 1, 0)); ok {
		t.Error("two readings are drawn as a trend")
	}
}
