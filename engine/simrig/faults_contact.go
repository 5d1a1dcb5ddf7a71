package simrig

import (
	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// plugLimitOhm is from where a plug of a style counts as worn (practice; IEC 60512).
func plugLimitOhm(style string) float64 {
	switch style {
	case "socket":
		return 0.050
	case "heavy":
		return 0.0006
	}
	return 0.005
}

// wornPlug is the ohms of a plug that warms by kelvin and is plainly worn.
func wornPlug(p *Plant, x *Part, kelvin float64) float64 {
	return max(badOhm(p, x, kelvin, 0, 0.8), 1.4*plugLimitOhm(x.Style))
}

// contactFaults are plugs, switches and breakers.
func contactFaults() []*Fault {
	return []*Fault{
		{
			ID: "plug-worn", Name: "the contacts of a plug are weak",
			Sites: ofKind(rig.Plug), Lo: 65, Hi: 95, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				x.FaceOhm, x.Look = wornPlug(p, x, severity), "dull-film"
			}),
			Seen:   "The plug is hot, and what it feeds stutters when it is moved.",
			Repair: "Both halves are renewed by a plug for twice the current.",
			Shown:  []string{hotJoint, meltedPlug}, Source: "IEC 60512; practice",
		},
		{
			ID: "plug-melted", Name: "a plug has burnt its contacts and melted",
			Sites: ofKind(rig.Plug), Lo: 75, Hi: 160, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				x.FaceOhm, x.Look, x.Browned = wornPlug(p, x, severity), "blued", true
			}),
			Seen: "The plug is brown and has sunk.", Smelt: "It smells of burnt plastic.",
			Repair: "Both halves are renewed, and the wires cut back to bright copper.",
			Shown:  []string{meltedPlug, hotJoint}, Source: "IEC 60512; practice",
		},
		{
			ID: "pv-plug-burnt", Name: "a solar plug burns up inside",
			Sites: named("pv-plug-pos", "pv-plug-neg"), Lo: 0.06, Hi: 0.5, Log: true, Unit: "ohm",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				x.FaceOhm, x.Browned = severity, true
				if chance < 0.7 {
					p.Array.Look = "plug-burnt"
				}
			}),
			Seen: "A solar plug is charred.", Smelt: "Burnt plastic below the panels.",
			Repair: "Both halves are cut off and renewed, of one make.",
			Shown:  []string{meltedPlug}, Source: "IEC 62548; practice: a sound pair has below half a thousandth of an ohm",
		},
		{
			ID: "breaker-contacts", Name: "a breaker's contacts are burnt",
			Sites: parts(func(_ *rig.System, p rig.Part) bool { return p.Kind == rig.Breaker && p.FullA >= 8 }),
			Lo:    65, Hi: 115, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				least := 0.2
				if v, err := electric.BreakerDropLimit(x.FullA, within(x.RatedA, 1, 125)); err == nil {
					least = 1.8 * v
				}
				x.FaceOhm = badOhm(p, x, severity, least, max(1.2, 1.2*least))
				cooked(x, severity, chance)
			}),
			Seen:   "The breaker is hot in its middle.",
			Repair: "It is renewed by one made for DC at these volts.",
			Shown:  []string{hotJoint}, Source: "IEC 60898-1",
		},
		{
			ID: "isolator-contacts", Name: "the battery isolator's contacts are burnt",
			Sites: loadedAt("main-isolator"), Lo: 65, Hi: 115, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				x.FaceOhm = max(badOhm(p, x, severity, 0.08, 0.5), 0.0008)
				cooked(x, severity, chance)
			}),
			Seen:   "The handle of the isolator is hot.",
			Repair: "The isolator is renewed.",
			Shown:  []string{hotJoint}, Source: "practice: sound ones have 0.05 to 0.25 thousandths of an ohm, burnt ones 1 to 10",
		},
		{
			ID: "switch-contacts", Name: "the contacts of a load's switch are burnt",
			Sites: ofKind(rig.Switch), Lo: 65, Hi: 115, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				x.FaceOhm = badOhm(p, x, severity, 0.1, 0.8)
				cooked(x, severity, chance)
			}),
			Seen:   "The rocker of the switch is hot.",
			Repair: "The switch is renewed.",
			Shown:  []string{hotJoint}, Source: "practice",
		},
	}
}
