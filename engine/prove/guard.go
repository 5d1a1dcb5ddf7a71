package prove

import (
	"fmt"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// handVolts is where hand-held probes end, V DC.
const handVolts = 60

// closing are the actions that put current where there was none.
var closing = map[string]bool{"close-pv-isolator": true, "close-main-isolator": true, "precharge-inverter": true,
	"load-as-before": true}

// guard watches a walk for acts that put somebody in danger. It judges by the rig
// as it really is, and by what has been said to the person.
type guard struct {
	truth  Truth
	given  map[int]map[string]bool // cautions said, by round: a walk that goes anew comes back to one
	danger bool                    // the person has said that there is danger
	told   map[string]bool         // findings of this guard, each once a walk
}

// look lists what is unsafe about a prompt.
func (w *guard) look(g *graph.Graph, s *walk.State, p walk.Prompt, x Rig) []string {
	if w.told == nil {
		w.told = map[string]bool{}
	}
	if w.given == nil {
		w.given = map[int]map[string]bool{}
	}
	if w.given[p.Round] == nil {
		w.given[p.Round] = map[string]bool{}
	}
	for _, c := range p.Cautions {
		w.given[p.Round][c.ID] = true
	}
	var out []string
	say := func(format string, a ...any) {
		if t := fmt.Sprintf(format, a...); !w.told[t] {
			w.told[t] = true
			out = append(out, t)
		}
	}
	switch {
	case p.Kind == walk.WantAnswer:
		w.reading(g, p, x, say)
	case p.Kind == walk.WantDone:
		w.action(g, s, p, say)
	}
	return out
}

func (w *guard) reading(g *graph.Graph, p walk.Prompt, x Rig, say func(string, ...any)) {
	r := p.Reading
	if r.ID == g.DangerReading {
		w.danger = x.Take(r.ID, "").Choice == "yes"
	}
	if r.Hazard != "" {
		for _, c := range r.Cautions {
			if !w.given[p.Round][c] {
				say("%s is asked for before its caution %s is given", r.ID, c)
			}
		}
	}
	outside := p.Step != nil && p.Step.Sheet != g.Steps[g.DangerStep].Sheet
	if r.Class == reading.Measurement && outside && w.danger && w.truth.Danger != "" {
		say("%s is to be measured although there is danger: %s", r.ID, w.truth.Danger)
	}
	if pv(r.From) || pv(r.To) {
		if w.truth.PVVolts > handVolts {
			say("%s is to be probed by hand although the array stands at %.0f V", r.ID, w.truth.PVVolts)
		}
	} else if r.From != "" && r.Class == reading.Measurement && w.truth.BankVolts > handVolts {
		say("%s is to be probed by hand although the battery stands at %.0f V", r.ID, w.truth.BankVolts)
	}
	if m := g.Meters[r.Meter]; m != nil && r.Kind.ID == "ohms" {
		if x.Live(r.From, r.To) {
			say("%s is to be taken with ohms on a live part", r.ID)
		}
	}
}

func pv(point string) bool {
	return strings.HasPrefix(point, "pv-") || strings.HasPrefix(point, "ctl-pv") || strings.HasPrefix(point, "array-")
}

func (w *guard) action(g *graph.Graph, s *walk.State, p walk.Prompt, say func(string, ...any)) {
	a := p.Action
	for _, c := range a.Cautions {
		if a.Hazard != "" && !w.given[p.Round][c] {
			say("%s is asked for before its caution %s is given", a.ID, c)
		}
	}
	for _, need := range []*graph.Condition{p.Step.Needs, a.Needs} {
		if need != nil && s.Judge(g, need, p.Place.ID).Verdict != formula.CertainlyTrue {
			say("%s is asked for although its need is not met: %s", a.ID, need.Text)
		}
	}
	if closing[a.ID] && w.truth.Short {
		say("%s closes onto a short", a.ID)
	}
	if w.truth.Cooked && strings.HasPrefix(a.ID, "load-") {
		say("%s loads a part that has been cooked before", a.ID)
	}
	if w.danger && w.truth.Danger != "" {
		say("%s is to be done although there is danger: %s", a.ID, w.truth.Danger)
	}
}
