package simrig

import (
	"strings"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// allows is what a wire may carry when it lies like this, in amps; 0 outside the
// tables. It is judged at the 70 °C of an unmarked sheath or at its own mark.
func allows(p rig.Part, lay string) float64 {
	mark := p.MarkC
	if mark == 0 {
		mark = 70
	}
	for i, word := range electric.Lays() {
		if word != lay {
			continue
		}
		if a, err := electric.WireAllow(p.MM2, mark, 30, electric.Lay(i), 3); err == nil {
			return a
		}
	}
	return 0
}

// felt says whether a wire that carries times what it may is hot to the hand as
// well. One marked for 60 °C may be overloaded long before anybody feels it.
func felt(s *rig.System, wire rig.Part, lay string, times float64) bool {
	best := wire
	best.MarkC = 105
	full := allows(best, lay)
	if full <= 0 {
		return false
	}
	if trip := s.Battery.TripA; trip > 0 && 1.3*times*allows(wire, lay) > 0.8*trip {
		return false // the bank lets go first
	}
	share := times * allows(wire, lay) / (1.1 * full) // of the amps that make it 105 °C
	return (105-30)*share*share > 52
}

// ways are the wires to loads for which ok holds, with a fuse before them and no plug.
func ways(ok func(s *rig.System, wire rig.Part) bool) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool {
		if p.Kind != rig.Wire || p.ID != p.Circuit || !loaded(s, p) {
			return false
		}
		if load, known := s.Load(p.ID); !known || load.Plug != "" { // a plug would be the hotter
			return false
		}
		_, found := s.Part(p.ID + "-fuse")
		return found && ok(s, p)
	})
}

// laid is a cable that lies where it sheds its heat badly. It carries more than
// it may there, and its fuse was chosen for that.
func laid(id, name, lay string, lo float64, seen, repair string) *Fault {
	return &Fault{
		ID: id, Name: name,
		Sites: ways(func(s *rig.System, wire rig.Part) bool {
			return loadFuse(wire, (lo+0.15)*allows(wire, lay)) > 0 && felt(s, wire, lay, lo)
		}),
		Lo: lo, Hi: lo + 0.15, Unit: "of what it may carry there",
		Apply: on(func(p *Plant, x *Part, severity, _ float64) {
			x.Lay = lay
			works(p, x, severity*allows(x.Part, lay))
		}),
		Seen: seen, Repair: repair,
		Shown: []string{hotJoint}, Source: "ISO 13297; BS 7671; IEC 60364-5-52",
	}
}

// cableFaults are cables that are warm all along, and warmth that is another's
// or normal.
func cableFaults() []*Fault {
	return []*Fault{
		{
			ID: "cable-overloaded", Name: "a cable carries more than it may",
			Sites: ways(func(s *rig.System, wire rig.Part) bool {
				return loadFuse(wire, 1.45*allows(wire, wire.Lay)) > 0 && felt(s, wire, wire.Lay, 1.3)
			}),
			Lo: 1.3, Hi: 1.45, Unit: "of what it may carry",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				works(p, x, severity*allows(x.Part, x.Part.Lay))
			}),
			Seen:   "The cable is warm all along, and its sheath is soft.",
			Repair: "A thicker cable is laid.",
			Shown:  []string{hotJoint}, Source: "ISO 13297; 33 CFR 183.425",
		},
		laid("cable-in-insulation", "a cable lies in the wall's insulation", "in-insulation", 1.3, "The cable is warm where it goes through the wall.", "The cable is led outside of the insulation."),
		laid("cable-coiled", "the rest of a cable lies coiled up", "coiled", 1.3, "A coil of cable behind the panel is hot in its middle.", "The coil is taken apart and the cable cut to length."),
		{
			ID: "cable-of-aluminium", Name: "a cable is copper-clad aluminium sold as copper",
			Sites: ways(func(s *rig.System, wire rig.Part) bool {
				return loadFuse(wire, 0.95*allows(wire, wire.Lay)) > 0 && felt(s, wire, wire.Lay, 1.2)
			}),
			Lo: 0.55, Hi: 0.65, Unit: "of the copper it should have",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				x.TrueMM2, x.Look = severity*x.MM2, "silver-inside"
				works(p, x, 0.95*allows(x.Part, x.Part.Lay))
			}),
			// The copper that is laid instead carries what ran on it before.
			After:  on(func(p *Plant, x *Part, _, _ float64) { works(p, x, 0.95*allows(x.Part, x.Part.Lay)) }),
			Seen:   "The cable is light for its size, and its cut end is silver.",
			Repair: "A cable of copper is laid.",
			Shown:  []string{hotJoint}, Source: "IEC 60228: half as much resistance again and more",
		},
		{
			ID: "warmed-from-outside", Name: "a stove pipe beside it warms a cable",
			Sites: ways(func(s *rig.System, _ rig.Part) bool { return s.AmbientC < 28 }), Lo: 50, Hi: 57, Unit: "°C that it comes to",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				x.WarmedK, p.Felt, p.Worry = severity-p.Sys.AmbientC, x.ID, hotJoint
			}),
			Seen:   "The cable passes behind the stove.",
			Repair: "The cable is led elsewhere.",
			Shown:  []string{hotJoint}, Source: "practice",
		},
		{
			ID: "neighbour-hot", Name: "a sound lug is warmed by the part beside it",
			Sites: loadedAt("main-fuse-bat", "main-fuse-bus", "main-isolator-bat", "main-isolator-bus"),
			Lo:    65, Hi: 110, Log: true, Unit: "K, the part beside it",
			Apply: func(p *Plant, at string, severity, _ float64) {
				p.Felt = at
				beside := p.Parts[strings.TrimSuffix(strings.TrimSuffix(at, "-bat"), "-bus")]
				switch {
				case beside == nil:
				case beside.Kind == rig.Fuse:
					beside.ClipOhm = badOhm(p, beside, severity, 0.12, 0.8)
				default:
					beside.FaceOhm = max(badOhm(p, beside, severity, 0.08, 0.5), 0.0008)
				}
			},
			Seen:   "The lug is hot and bright.",
			Repair: "The part beside it is renewed.",
			Shown:  []string{hotJoint}, Source: "NETA; Holm: heat fades along copper within some ten centimetres",
		},
		{
			ID: "normal-warmth", Name: "a part is warm from its load and sound",
			Sites: parts(func(s *rig.System, p rig.Part) bool {
				return (p.Kind == rig.Joint || p.Kind == rig.Fuse) && loaded(s, p) && p.FullA >= 10
			}),
			Apply:  func(p *Plant, at string, _, _ float64) { p.Felt, p.Worry = at, hotJoint },
			Seen:   "It is hand-warm after an hour of everything on.",
			Repair: "Nothing is done.",
			Shown:  []string{hotJoint}, NoFault: true, Stays: true, Source: "NETA; IEC 60694",
		},
	}
}

// loadFuse is the standard fuse for amps through a wire, if the wire bears it at
// its best; 0 if not.
func loadFuse(wire rig.Part, amps float64) float64 {
	best, err := electric.WireTableAmps(wire.MM2, 105)
	if err != nil || amps <= 0 {
		return 0
	}
	v, err := electric.FuseNext(amps / 0.9)
	if err != nil || v > best {
		return 0
	}
	return v
}

// works lets a way carry amps, with a fuse that lets them pass.
func works(p *Plant, x *Part, amps float64) {
	if fuse := p.Parts[x.ID+"-fuse"]; fuse != nil {
		if v := loadFuse(x.Part, amps); v > fuse.RatedA {
			swap(fuse, v)
		}
	}
	carries(p, x.Circuit, amps)
	p.Felt = x.ID
}
