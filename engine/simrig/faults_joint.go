package simrig

import (
	"math"
	"slices"

	"hotlug/engine/rig"
)

// loaded says whether a part carries the current of loads, and enough of it for
// its copper that one bad contact can make it hot.
func loaded(s *rig.System, p rig.Part) bool {
	if slices.Contains([]string{"array", "controller"}, p.Circuit) || isLink(p) {
		return false
	}
	return runs(s, p) >= 3 && mostVolts*runs(s, p)*rth(&Part{Part: p}) >= 70
}

// mostVolts is the most that one contact drops: copper melts at 0.43 V.
const mostVolts = 0.42

// loadedAt are the sites at those of the ids that are loaded.
func loadedAt(ids ...string) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool { return slices.Contains(ids, p.ID) && loaded(s, p) })
}

// ofKind are the sites at the loaded parts of a kind.
func ofKind(kinds ...rig.PartKind) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool { return slices.Contains(kinds, p.Kind) && loaded(s, p) })
}

// runs is the amps that a part carries when all runs that people run: what the
// loads draw and no more than a bank's protection lets through. The sun is seldom
// that of the label.
func runs(sys *rig.System, x rig.Part) float64 {
	// Loads take their watts: at the bank's own volts, a tenth above the nominal
	// ones, that is fewer amps.
	high := restAt(sys, sys.Battery.Charge) / sys.Volts
	dc := 0.0
	for _, l := range sys.Loads {
		if !l.AC {
			dc += sys.Amps(l) / high
		}
	}
	amps, trip := x.FullA, 0.9*sys.Battery.TripA
	if trip <= 0 {
		trip = math.Inf(1)
	}
	const sun = 0.75 // of the label's
	switch load, ok := sys.Load(x.Circuit); {
	case ok && !load.AC:
		amps = min(amps, sys.Amps(load)/high)
	case x.Circuit == "battery":
		amps = min(amps, max(dc+sys.InverterAmps()/high, sun*sys.ChargeAmps()), trip)
	case x.Circuit == "inverter":
		amps = min(amps/high, trip-dc)
	case x.Circuit == "array":
		amps *= sun
	}
	return max(amps, 1)
}

// badOhm is the contact resistance that warms a part by kelvin over its own wire
// when all runs, but no less than least and no more than most volts there. It is drawn in kelvin as a contact is complained of for its heat: the
// same ohms are nothing at 3 A and a fire at 100 A.
func badOhm(p *Plant, x *Part, kelvin, least, most float64) float64 {
	amps := runs(p.Sys, x.Part)
	return max(within(kelvin/(rth(x)*amps), least, most)/amps, least/max(x.FullA, 1))
}

// cooked browns a part that has been so hot that its plastic shows it.
func cooked(x *Part, kelvin, chance float64) { x.Browned = kelvin > 75 && chance > 0.5 }

// jointFaults are lugs, posts, studs, bars and screws.
func jointFaults() []*Fault {
	face := func(look ...string) func(*Plant, string, float64, float64) {
		return on(func(p *Plant, x *Part, severity, chance float64) {
			x.FaceOhm, x.Look = badOhm(p, x, severity, 0.025, mostVolts), oneOf(chance, look...)
			cooked(x, severity, chance)
		})
	}
	loose := func(look ...string) func(*Plant, string, float64, float64) {
		return on(func(p *Plant, x *Part, severity, chance float64) {
			x.FaceOhm, x.Jumps = badOhm(p, x, severity, 0.025, mostVolts), true
			x.Look = oneOf(chance, look...)
			cooked(x, severity, chance)
		})
	}
	return []*Fault{
		{
			ID: "lug-loose", Name: "a lug is loose",
			Sites: ofKind(rig.Joint), Lo: 65, Hi: 115, Log: true, Unit: "K over its wire", Apply: loose("bright", "bright", "blued"),
			Seen: "The lug is blue.", Heard: "It crackles when the kettle is on.", Smelt: "Hot metal.",
			Repair: "The joint is brushed bright and tightened to its figure.",
			Shown:  []string{hotJoint}, Source: "Holm; NETA: 15 mV mended, 70 mV stop",
		},
		{
			ID: "lug-film", Name: "a film lies under a lug",
			Sites: ofKind(rig.Joint), Lo: 65, Hi: 115, Log: true, Unit: "K over its wire", Apply: face("green-or-white", "dull-film"),
			Seen:   "There is green or white fur at the joint.",
			Repair: "Both faces are brushed bright and bolted with a thin film of grease.",
			Shown:  []string{hotJoint}, Source: "Holm; NETA: tight and still hot",
		},
		{
			ID: "twin-lugs", Name: "two lugs side by side are both bad alike",
			Sites: loadedAt("main-fuse-bat", "main-isolator-bat"), Lo: 65, Hi: 90, Log: true, Unit: "K over the wire, each",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				other := p.Parts[x.ID[:len(x.ID)-len("bat")]+"bus"]
				for _, lug := range []*Part{x, other} {
					if lug != nil {
						lug.FaceOhm, lug.Look = badOhm(p, lug, severity, 0.025, mostVolts), "dull-film"
					}
				}
				p.Felt = x.ID
			}),
			Seen:   "Both ends of the part are hot alike.",
			Repair: "Both joints are brushed bright and bolted.",
			Shown:  []string{hotJoint}, Source: "Holm; NETA",
		},
		{
			ID: "crimp-bad", Name: "a lug is badly crimped",
			Sites: ofKind(rig.Joint), Lo: 65, Hi: 115, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				x.BarrelOhm, x.Look = badOhm(p, x, severity, 0.025, mostVolts), "barrel-loose"
				cooked(x, severity, chance)
			}),
			Seen:   "The sheath has shrunk back behind the lug.",
			Repair: "The lug is cut off and a new one pressed with its own die.",
			Shown:  []string{hotJoint}, Source: "UL 486; practice: above 10 mV at full current",
		},
		{
			ID: "washer-under-lug", Name: "a steel washer lies under a lug",
			Sites: ofKind(rig.Joint), Lo: 65, Hi: 100, Log: true, Unit: "K over its wire", Apply: face("washer-under-lug"),
			Seen:   "The joint was undone lately.",
			Repair: "The lug goes straight on the metal, washers under the nut.",
			Shown:  []string{hotJoint}, Source: "ABYC E-11; Holm",
		},
		{
			ID: "nut-not-pressing", Name: "the nut does not press on the lug",
			Sites: ofKind(rig.Joint), Lo: 65, Hi: 105, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				// Half of such lugs still sit snug enough for a steady reading.
				x.FaceOhm, x.Jumps, x.Look = badOhm(p, x, severity, 0.025, mostVolts), false, "not-clamped"
				cooked(x, severity, chance)
			}),
			Seen:   "The bolt is new and longer than the others.",
			Repair: "A bolt that does not end in its hole is fitted and tightened.",
			Shown:  []string{hotJoint}, Source: "ABYC E-11; practice",
		},
		{
			ID: "screw-loose", Name: "a wire sits loose in its screw terminal",
			Sites: ofKind(rig.Screw), Lo: 65, Hi: 115, Log: true, Unit: "K over its wire", Apply: loose("not-clamped", "bright", "blued"),
			Seen:   "The terminal is warm, and its screw turns.",
			Repair: "The wire is cut back, gets a ferrule and is tightened.",
			Shown:  []string{hotJoint}, Source: "IEC 60947-1; practice: above 20 mV at full current",
		},
		{
			ID: "strands-out", Name: "a few strands carry a wire's current in its screw terminal",
			Sites: ofKind(rig.Screw), Lo: 65, Hi: 100, Log: true, Unit: "K over its wire", Apply: face("strands-out"),
			Seen:   "Strands stand beside the screw.",
			Repair: "The wire is cut back and gets a ferrule of its own size.",
			Shown:  []string{hotJoint}, Source: "IEC 60947-1; UL 486",
		},
	}
}
