package transcripts_test

import (
	"math"
	"strings"
	"testing"

	"hotlug/session/ticket"
)

// Among the cases each kind of chart is drawn, and every number on it is one that
// can be drawn; the same is told in words and as a table.
func TestCharts(t *testing.T) {
	g := builtIn(t)
	drawn := map[string]int{}
	over := 0
	for _, f := range caseFiles(t) {
		for _, c := range f.cases {
			x := ticket.Make(g, walkCase(t, g, c, false), ticket.About{})
			for _, ch := range x.Charts {
				drawn[ch.ID]++
				if ch.Say == "" || len(ch.Bars) == 0 && len(ch.Lines) == 0 {
					t.Errorf("%s/%s: %s shows nothing", f.name, c.name, ch.ID)
				}
				var all []float64
				for _, b := range ch.Bars {
					all = append(all, b.Value)
					if b.Limit != nil {
						all = append(all, *b.Limit)
					}
					if b.Over {
						over++
					}
					if b.Over != strings.Contains(b.Verdict, "over") && !strings.Contains(b.Verdict, "above") {
						t.Errorf("%s/%s: %s: %q", f.name, c.name, b.Name, b.Verdict)
					}
				}
				for _, l := range ch.Lines {
					for _, p := range l.Points {
						all = append(all, p.X, p.Y)
					}
					if len(l.Points) != len(ch.Lines[0].Points) {
						t.Errorf("%s/%s: the lines of %s are not of one length", f.name, c.name, ch.ID)
					}
				}
				for _, v := range all {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Errorf("%s/%s: %s has %v", f.name, c.name, ch.ID, v)
					}
				}
			}
		}
	}
	for _, id := range []string{"chart-drops", "chart-heat", "chart-precharge", "chart-rest"} {
		if drawn[id] == 0 {
			t.Errorf("no case has a %s: %v", id, drawn)
		}
	}
	if over == 0 {
		t.Error("nothing is over its limit in any case")
	}
	t.Log(drawn, over)
	for _, id := range ticket.ChartReadings() {
		if g.Readings[id] == nil && g.Values[id] == nil {
			t.Errorf("a chart goes by %s, which the knowledge does not have", id)
		}
	}
}
