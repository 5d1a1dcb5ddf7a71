package kb_test

import (
	"slices"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/kb"
)

// toldAs are causes known to the trade that the knowledge has no finding of its
// own for: which finding tells them, and why that is enough.
var toldAs = []struct{ cause, finding, why string }{
	{"a controller's own cold limit holds the charge off", "cold-block-battery", "the same cold, the same fix: the limit is right, the battery is warmed"},
	{"a controller's solar input is shorted inside", "controller-failed", "it is found by full amps and no volts, and ends at the maker all the same"},
	{"a solar plug is open inside", "pv-lead-broken", "which plug it is shows only when the lead is followed, and that is its fix"},
	{"a fuse was never fitted", "link-left-off", "an empty holder is an empty holder, and the question who emptied it is asked"},
	{"a nut does not press on its lug", "washer-in-path", "seen at the same look, mended by the same stack: lug on metal, washer, nut"},
	{"a solar plug was parted under load", "current-still-flowing", "how it was parted is known by the arc, and the plug is looked at after it"},
	{"a relay or contactor has welded shut", "switch-welded", "something that can't open any more is one danger, whoever closes it"},
	{"a live part touched the frame", "tool-bridged", "the same flash and the same marks: something touched where it should not"},
	{"two devices count the same current", "percent-from-volts", "the walk begins with the one gauge that is believed; what a second one adds up is no fault of the rig"},
	{"small loads go uncounted for weeks", "zero-drift", "a count that creeps while all is off is corrected in the same setting"},
}

func TestEveryMergedCauseHasItsFinding(t *testing.T) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	for _, x := range toldAs {
		if !slices.Contains(g.FindingOrder, x.finding) || x.why == "" {
			t.Errorf("%s: the knowledge has no finding %q for it, or no reason stands here", x.cause, x.finding)
		}
	}
}
