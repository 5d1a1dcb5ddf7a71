package simrig

import (
	"hotlug/engine/rig"
)

// darkParts is how many of a row's substrings must be dark so that the rest has
// too few volts to start; 0 if it starts on any, or on none.
func darkParts(s *rig.System) int {
	all := s.Array.Series * max(s.Array.Bypass, 1)
	margin := 0.3
	if s.Controller.Type == "mppt" {
		margin = min(s.Controller.MarginV, 4)
	}
	for dark := 1; dark < all; dark++ {
		if left := 0.97 * s.Array.Voc * float64(s.Array.Series) * float64(all-dark) / float64(all); left < s.Volts+margin {
			return dark
		}
	}
	return 0
}

// unlistedFaults are what the knowledge has no finding for. It must not name
// something that is not so.
func unlistedFaults() []*Fault {
	list := []*Fault{
		{
			ID: "string-dead", Name: "one of the strings of panels gives nothing",
			Sites: when(func(s *rig.System) bool { return s.Array.Parallel >= 2 && counts(s) }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Array.Dead = 1
				p.Worry = neverFull
			},
			Seen:   "It used to be full by noon.",
			Repair: "The open plug of that string is renewed.",
			Shown:  []string{neverFull}, Source: "PV textbook: (n-1)/n of the amps",
		},
		{
			ID: "row-shaded", Name: "shade on so many cells that the rest has too few volts",
			Sites: when(func(s *rig.System) bool { return darkParts(s) > 0 }), Lo: 0.01, Hi: 0.05, Log: true,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				a := p.Sys.Array
				p.Array.Shade = make([]float64, a.Series*max(a.Bypass, 1))
				for i := range p.Array.Shade {
					p.Array.Shade[i] = 1
					if i < darkParts(p.Sys) {
						p.Array.Shade[i] = severity
					}
				}
				p.Array.Look = "shaded"
			},
			Seen:   "A sheet of board leans on the panels.",
			Repair: "What throws the shade is taken away.",
			Shown:  []string{noCharge}, Source: "PV textbook: bypass diodes cut dark substrings out",
		},
		{
			ID: "pv-plug-corroded", Name: "water in a solar plug has left it many ohms",
			Sites: named("pv-plug-pos", "pv-plug-neg"), Lo: 40, Hi: 400, Log: true, Unit: "ohm per 12 V",
			Apply:  on(func(p *Plant, x *Part, severity, _ float64) { x.FaceOhm = severity * twelves(p.Sys) }),
			Repair: "Both halves of the plug are renewed.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "cable-of-aluminium", Name: "a cable is copper-clad aluminium sold as copper",
			Sites: ways(func(s *rig.System, wire rig.Part) bool {
				return loadFuse(wire, 0.95*allows(wire, wire.Lay)) > 0 && felt(s, wire, wire.Lay, 1.2)
			}),
			Lo: 0.55, Hi: 0.65, Unit: "of the copper it should have",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				x.TrueMM2 = severity * x.MM2
				works(p, x, 0.95*allows(x.Part, x.Part.Lay))
			}),
			Seen:   "The cable is light for its size, and its cut end is silver.",
			Repair: "A cable of copper is laid.",
			Shown:  []string{hotJoint}, Source: "IEC 60228: half as much resistance again and more",
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
			}),
			Seen:   "Both ends of the part are hot alike.",
			Repair: "Both joints are brushed bright and bolted.",
			Shown:  []string{hotJoint}, Source: "Holm; NETA",
		},
	}
	for _, f := range list {
		f.Unlisted = true
	}
	return list
}
