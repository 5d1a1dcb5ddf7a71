package prove

import (
	"slices"
	"strings"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// live is a lamp whose parts stay live whatever is switched off.
type live struct{ lamp }

func (live) Live(string, string) bool { return true }

func TestGuard(t *testing.T) {
	g := tiny(t)
	caution := g.Cautions["live"]
	step := g.Steps["lamp/drop"]
	volts := func(from, to string, cautions ...string) *reading.Reading {
		return &reading.Reading{ID: "v", Class: reading.Measurement, From: from, To: to, Hazard: "live-dc", Cautions: cautions}
	}
	ohms, ok := quantity.KindByID("ohms")
	if !ok {
		t.Fatal("there is no kind called ohms")
	}
	for _, c := range []struct {
		name  string
		truth Truth
		p     walk.Prompt
		want  string
	}{
		{"a caution that was given", Truth{}, walk.Prompt{Kind: walk.WantAnswer, Step: step, Reading: volts("a", "b", "live"), Cautions: []*graph.Caution{caution}}, ""},
		{"a caution that was not", Truth{}, walk.Prompt{Kind: walk.WantAnswer, Step: step, Reading: volts("a", "b", "live")}, "v is asked for before its caution live is given"},
		{"solar volts by hand", Truth{PVVolts: 61}, walk.Prompt{Kind: walk.WantAnswer, Step: step, Reading: volts("ctl-pv-pos", "ctl-pv-neg")}, "v is to be probed by hand although the array stands at 61 V"},
		{"solar volts that are low", Truth{PVVolts: 59}, walk.Prompt{Kind: walk.WantAnswer, Step: step, Reading: volts("ctl-pv-pos", "ctl-pv-neg")}, ""},
		{"battery volts beside a high array", Truth{PVVolts: 90}, walk.Prompt{Kind: walk.WantAnswer, Step: step, Reading: volts("post-pos", "post-neg")}, ""},
		{"ohms on a live part", Truth{}, walk.Prompt{Kind: walk.WantAnswer, Step: step, Reading: &reading.Reading{ID: "r", Class: reading.Measurement, Meter: "dcv", Kind: ohms, From: "a", To: "b"}}, "r is to be taken with ohms on a live part"},
		{"closing with its caution", Truth{}, walk.Prompt{Kind: walk.WantDone, Step: step, Action: g.Actions["close-main-isolator"], Cautions: []*graph.Caution{caution}}, ""},
		{"closing without", Truth{}, walk.Prompt{Kind: walk.WantDone, Step: step, Action: g.Actions["close-main-isolator"]}, "close-main-isolator is asked for before its caution live is given"},
		{"closing onto a short", Truth{Short: true}, walk.Prompt{Kind: walk.WantDone, Step: step, Action: g.Actions["close-main-isolator"], Cautions: []*graph.Caution{caution}}, "close-main-isolator closes onto a short"},
		{"loading a cooked part", Truth{Cooked: true}, walk.Prompt{Kind: walk.WantDone, Step: step, Action: &graph.Action{ID: "load-on-one-minute"}}, "load-on-one-minute loads a part that has been cooked before"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := guard{truth: c.truth}
			s := walk.Start(g, walk.Setup{})
			got := w.look(g, s, c.p, &live{})
			if strings.Join(got, "; ") != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
			if again := w.look(g, s, c.p, &live{}); len(again) > 0 {
				t.Errorf("said again: %q", again)
			}
		})
	}
}

// Cautions hold for a round: after something was done they are to be given anew.
func TestGuardForgetsCautionsWithTheRound(t *testing.T) {
	g := tiny(t)
	r := &reading.Reading{ID: "v", Class: reading.Measurement, Hazard: "live-dc", Cautions: []string{"live"}}
	var w guard
	s := walk.Start(g, walk.Setup{})
	step := g.Steps["lamp/drop"]
	first := walk.Prompt{Kind: walk.WantAnswer, Round: 1, Step: step, Reading: r, Cautions: []*graph.Caution{g.Cautions["live"]}}
	again := walk.Prompt{Kind: walk.WantAnswer, Round: 1, Step: step, Reading: r}
	later := walk.Prompt{Kind: walk.WantAnswer, Round: 2, Step: step, Reading: r}
	got := slices.Concat(w.look(g, s, first, &lamp{}), w.look(g, s, again, &lamp{}))
	if len(got) > 0 {
		t.Errorf("in the round of the caution: %q", got)
	}
	if got := w.look(g, s, later, &lamp{}); len(got) != 1 {
		t.Errorf("in the next round: %q, want one act", got)
	}
}
