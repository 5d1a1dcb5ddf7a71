package simrig

import (
	"slices"
	"testing"

	"hotlug/engine/graph"
)

// notSimulated are the findings that no fault of the catalogue stands for, with
// the reason.
var notSimulated = map[string]string{
	"nothing-behind":         "it is told where nothing has sparked, or of a spark that has left nothing",
	"inverter-needs-battery": "every simulated rig has a battery that was joined once",
	"wrong-fuse-type":        "it works like the right one until it has to break a short, and no circuit shows what it would do then",
	"breaker-wrong-way":      "it works like one the right way round until it has to break a load, and no circuit shows where its arc goes",
	"it-does-charge":         "it is what a sound rig is told, and a sound rig has no fault",
	"rush-into-flat-battery": "the simulated rigs have no engine that charges them",
	"busbar-too-small":       "the bars of the simulated rigs have no resistance of their own",
	"poor-splice":            "no fault of the catalogue makes a splice of a load hot",
	"pv-plugs-alike":         "it is what is told on a sound rig",
}

// faultsByFinding are the ids in the findings' shows.
func faultsByFinding(g *graph.Graph) map[string][]string {
	by := map[string][]string{}
	for _, id := range g.FindingOrder {
		by[id] = g.Findings[id].Shows
	}
	return by
}

func TestEveryFaultHasItsFinding(t *testing.T) {
	shownBy := map[string][]string{}
	for finding, faults := range faultsByFinding(knowledge(t)) {
		for _, id := range faults {
			if _, ok := FaultByID(id); !ok {
				t.Errorf("finding %s shows the fault %q, which the catalogue does not have", finding, id)
			}
			shownBy[id] = append(shownBy[id], finding)
		}
	}
	for _, f := range Faults() {
		switch by := shownBy[f.ID]; {
		case f.Unlisted && len(by) > 0:
			t.Errorf("%s is unlisted, and yet %v shows it", f.ID, by)
		case !f.Unlisted && len(by) == 0:
			t.Errorf("%s is shown by no finding", f.ID)
		}
	}
}

// What is no fault is so on both sides: nothing is broken where the finding says
// so, and where the catalogue does.
func TestNoFaultOnBothSides(t *testing.T) {
	g := knowledge(t)
	for id, faults := range faultsByFinding(g) {
		for _, fault := range faults {
			if f, ok := FaultByID(fault); ok && f.NoFault != g.Findings[id].NoFault {
				t.Errorf("fault %s: no fault is %v in the catalogue and %v in finding %s", fault, f.NoFault, g.Findings[id].NoFault, id)
			}
		}
	}
}

func TestEveryFindingHasItsFault(t *testing.T) {
	g := knowledge(t)
	for id, faults := range faultsByFinding(g) {
		reason, excused := notSimulated[id]
		switch f := g.Findings[id]; {
		case f.Stop != graph.NoStop: // a stop ends the walk, whatever lies behind it
		case excused && (reason == "" || len(faults) > 0):
			t.Errorf("finding %s: is named as not simulated without a reason, or has faults after all", id)
		case !excused && len(faults) == 0:
			t.Errorf("finding %s: no fault of the catalogue stands for it", id)
		}
	}
	for id := range notSimulated {
		if !slices.Contains(g.FindingOrder, id) {
			t.Errorf("finding %s: is named as not simulated, and the knowledge does not have it", id)
		}
	}
}
