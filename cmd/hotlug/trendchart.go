package main

import (
	"fmt"
	"time"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/session"
	"hotlug/session/history"
	"hotlug/session/ticket"
)

// mostTrends is how many trends a ticket shows: those that get worse first.
const mostTrends = 4

// trendCharts shows how the places that were read in a session read before, on the
// same rig. A place read on fewer days than a trend needs has no chart.
func trendCharts(g *graph.Graph, store *session.Store, rig string, t ticket.Ticket, until time.Time) []ticket.Chart {
	read := map[string]bool{"": false}
	for _, r := range t.Readings {
		read[r.Place] = true
	}
	h, err := history.Of(g, store, rig)
	if err != nil {
		return nil // the ticket is about this session; others may be unreadable
	}
	var worse, steady []ticket.Chart
	for _, s := range h.Series {
		tr := s.Trend()
		if tr.Verdict == history.TooFew || s.Place != "" && !read[s.Place] {
			continue
		}
		c, ok := trendChart(s, tr, until)
		switch {
		case !ok:
		case tr.Verdict == history.Worse:
			worse = append(worse, c)
		default:
			steady = append(steady, c)
		}
	}
	all := append(worse, steady...)
	return all[:min(len(all), mostTrends)]
}

// trendChart is one series since its place was last made new, up to a time.
func trendChart(s *history.Series, tr history.Trend, until time.Time) (ticket.Chart, bool) {
	pts := s.Now()
	for len(pts) > 0 && pts[len(pts)-1].When.After(until) {
		pts = pts[:len(pts)-1]
	}
	if len(pts) < 3 {
		return ticket.Chart{}, false
	}
	scale, unit := 1.0, s.Unit.String()
	switch {
	case unit == "ohm" || unit == "Ω":
		scale, unit = 1000, "mΩ"
	case unit == "V" && s.Kind == history.Holder:
		scale, unit = 1000, "mV"
	}
	since := pts[0].When
	line := ticket.ChartLine{Name: "as read"}
	for _, p := range pts {
		line.Points = append(line.Points, ticket.ChartPoint{X: p.When.Sub(since).Hours() / 24, Y: p.Value * scale})
	}
	first, last := pts[0], pts[len(pts)-1]
	end := line.Points[len(line.Points)-1]
	shown := s.Show(last.Value, quantity.Style{})
	c := ticket.Chart{ID: "chart-trend", Title: "Trend: " + s.Name, Unit: unit, XName: "since " + since.Format(time.DateOnly), XUnit: "days", YName: string(s.Kind),
		Lines:  []ticket.ChartLine{line},
		Points: []ticket.ChartMark{{Name: shown, X: end.X, XTo: end.X, Y: end.Y, YTo: end.Y}}}
	c.Say = fmt.Sprintf("%s on %s, %s on %s; it %s.", s.Show(first.Value, quantity.Style{}), since.Format(time.DateOnly), shown, last.When.Format(time.DateOnly),
		map[bool]string{true: "gets worse", false: "is steady"}[tr.Verdict == history.Worse])
	return c, true
}
