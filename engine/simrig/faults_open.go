package simrig

import (
	"slices"

	"hotlug/engine/rig"
)

// Symptoms of the areas built so far.
const (
	noCharge      = "no-charge"
	sparked       = "spark-on-connecting"
	percentWrong  = "percentage-wrong"
	neverFull     = "never-reads-full"
	voltsDisagree = "volts-percent-disagree"
	hotJoint      = "hot-joint"
	meltedPlug    = "melted-plug"
)

// solarWay says whether a part lies on the way from the array to the battery.
func solarWay(p rig.Part) bool {
	return slices.Contains([]string{"array", "controller", "battery"}, p.Circuit) && (p.Circuit != "battery" || !isLink(p))
}

// isLink says whether a part lies between batteries side by side.
func isLink(p rig.Part) bool { return len(p.ID) > 5 && p.ID[:5] == "link-" }

// openFaults are the ways that are switched off, out, or left off: all of them
// can be seen.
func openFaults() []*Fault {
	return []*Fault{
		{
			ID: "main-isolator-off", Name: "the battery isolator is off",
			Sites:  named("main-isolator"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Open = true }),
			Seen:   "The handle of the battery isolator stands on off.",
			Repair: "The battery isolator is switched on.",
			Shown:  []string{noCharge, allIsDead}, Source: "practice",
		},
		{
			ID: "pv-isolator-off", Name: "the solar switch is off",
			Sites:  parts(func(_ *rig.System, p rig.Part) bool { return p.ID == "pv-isolator" && p.Kind == rig.Isolator }),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Open = true }),
			Seen:   "The lever of the solar switch stands on off.",
			Repair: "The solar switch is closed, the battery being on.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "breaker-off", Name: "a breaker between panels and battery is off",
			Sites:  parts(func(_ *rig.System, p rig.Part) bool { return p.Kind == rig.Breaker && solarWay(p) }),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Open = true }),
			Seen:   "The lever of a breaker stands on off.",
			Repair: "The breaker is switched on.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "breaker-tripped", Name: "a breaker between panels and battery has tripped",
			Sites:  parts(func(_ *rig.System, p rig.Part) bool { return p.Kind == rig.Breaker && solarWay(p) }),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Blown, x.Look = true, "breaker-tripped" }),
			Seen:   "The lever of a breaker stands in the middle.",
			Heard:  "Somebody heard it click yesterday.",
			Repair: "The breaker is reset once and holds.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "fuse-missing", Name: "a fuse on the way to the battery was not put back",
			Sites:  named("controller-fuse", "main-fuse"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Missing = true }),
			Seen:   "A fuse holder is empty.",
			Repair: "The marked fuse is put back.",
			Shown:  []string{noCharge, allIsDead}, Source: "practice",
		},
		{
			ID: "lead-off", Name: "a lead between controller and battery was not put back",
			Sites:  named("ctl-pos", "ctl-neg", "ctl-pos-bus", "bat-pos", "bat-neg"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Missing = true }),
			Seen:   "A lead hangs loose beside its screw.",
			Repair: "The lead is put back and tightened.",
			Shown:  []string{noCharge, allIsDead}, Source: "practice",
		},
		{
			ID: "pv-lead-off", Name: "a solar lead was not put back at the controller",
			Sites:  named("pv-pos-ctl", "pv-neg-ctl"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Missing = true }),
			Seen:   "A solar lead hangs loose between solar switch and controller.",
			Repair: "The lead is put back, in the dark and the switch open.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "panel-unplugged", Name: "a solar plug at the panels was not joined again",
			Sites: named("pv-plug-pos", "pv-plug-neg"),
			Apply: on(func(p *Plant, x *Part, _, _ float64) {
				x.Missing = true
				p.Array.Look = "some-not-connected"
			}),
			Seen:   "A plug hangs open below the panels.",
			Repair: "The plug is joined in the dark until it clicks.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "controller-fuse-blown", Name: "the controller's battery fuse has blown",
			Sites: named("controller-fuse"),
			Apply: on(func(_ *Plant, x *Part, _, chance float64) {
				x.Blown, x.Look = true, oneOf(chance, "clean-break", "clean-break", "black-splash")
			}),
			Seen:   "The wire in the controller's fuse is gone.",
			Repair: "A new fuse of the marked rating is fitted, the short being found first.",
			Shown:  []string{noCharge}, Source: "practice; NEC 690.9",
		},
		{
			ID: "controller-fuse-cracked", Name: "the controller's battery fuse is open though it looks whole",
			Sites:  named("controller-fuse"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Broken, x.Look = true, "whole" }),
			Repair: "A new fuse of the marked rating is fitted.",
			Shown:  []string{noCharge}, Source: "practice",
		},
	}
}
