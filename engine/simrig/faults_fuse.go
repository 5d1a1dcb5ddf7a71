package simrig

import (
	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// smallerFuse is the largest standard fuse that a part's load works too hard and
// does not yet blow; 0 if there is none.
func smallerFuse(p rig.Part) float64 {
	best := 0.0
	for _, r := range electric.FuseRatings() {
		if r < p.RatedA && p.FullA/r > 0.84 && p.FullA/r < 1.1 {
			best = max(best, r)
		}
	}
	return best
}

// biggerFuse is the next standard fuse above what the wire carries at all; 0 if
// there is none.
func biggerFuse(p rig.Part, times float64) float64 {
	table, err := electric.WireTableAmps(p.MM2, 105)
	if err != nil {
		return 0
	}
	v, err := electric.FuseNext(1.02 * times * table)
	if err != nil {
		return 0
	}
	return v
}

// swap puts another fuse in. Its own print tells of it.
func swap(x *Part, amps float64) { x.FuseA, x.RatedA = amps, amps }

// carries makes all parts of a circuit carry these amps when all runs.
func carries(p *Plant, circuit string, amps float64) {
	for _, x := range p.Parts {
		if x.Circuit == circuit {
			x.CarryA = amps
		}
	}
}

// ownFuse are the fuses of one load or of the inverter: the main fuse sees other
// currents too.
func ownFuse(ok func(s *rig.System, p rig.Part) bool) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool {
		return p.Kind == rig.Fuse && loaded(s, p) && p.Circuit != "battery" && !plugged(s, p.Circuit) && ok(s, p)
	})
}

// plugged says whether a load's way has a plug in it, which more current heats
// before anything else.
func plugged(s *rig.System, circuit string) bool {
	l, ok := s.Load(circuit)
	return ok && l.Plug != ""
}

func anyFuse(*rig.System, rig.Part) bool { return true }

// loadFused is a fuse of a load: what the inverter draws the bank itself may cut.
func loadFused(_ *rig.System, p rig.Part) bool { return p.Circuit != "inverter" }

// fuseFaults are fuses and their holders.
func fuseFaults() []*Fault {
	clips := func(p *Plant, x *Part, kelvin float64) { x.ClipOhm = badOhm(p, x, kelvin, 0.12, 0.8) }
	return []*Fault{
		{
			ID: "holder-contact", Name: "the contacts in a fuse holder are worn",
			Sites: ofKind(rig.Fuse), Lo: 65, Hi: 90, Log: true, Unit: "K over its wire",
			Apply:  on(func(p *Plant, x *Part, severity, _ float64) { clips(p, x, severity); x.Look = "whole" }),
			Seen:   "The fuse holder is too hot to hold.",
			Repair: "A bolted holder and a new fuse are fitted.",
			Shown:  []string{hotJoint}, Source: "IEC 60127-6; practice: clips above 40 mV each at full current",
		},
		{
			ID: "holder-melted", Name: "a fuse holder has melted around a whole fuse",
			Sites: ofKind(rig.Fuse), Lo: 75, Hi: 160, Log: true, Unit: "K over its wire",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				clips(p, x, severity)
				x.Look, x.Browned = "whole-holder-melted", true
			}),
			Seen: "The holder is brown and sags, and the fuse is whole.", Smelt: "Hot plastic.",
			Repair: "Both wires are cut back, and a bolted holder with a new fuse is fitted.",
			Shown:  []string{hotJoint}, Source: "practice: 5 to 30 thousandths of an ohm",
		},
		{
			ID: "fuse-too-small", Name: "the fuse is too small for its load",
			Sites: ownFuse(func(_ *rig.System, p rig.Part) bool { return smallerFuse(p) > 0 }),
			Apply: on(func(_ *Plant, x *Part, _, _ float64) {
				swap(x, smallerFuse(x.Part))
				x.Look = "discoloured" // it ages
			}),
			Seen:   "The fuse is hot and blows on hot days.",
			Repair: "The fuse that load and wire want is fitted.",
			Shown:  []string{hotJoint}, Source: "NEC 210.20: no more than 0.8 of its rating for long",
		},
		{
			ID: "load-above-fuse", Name: "more runs on a fuse than it is made for",
			Sites: ownFuse(loadFused), Lo: 1.12, Hi: 1.3, Unit: "of the fuse's rating",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				carries(p, x.Circuit, severity*x.RatedA)
				p.Felt = x.ID
				x.Look = "discoloured" // it ages
			}),
			Seen:   "A second thing was joined to this wire lately.",
			Repair: "Less runs on this wire.",
			Shown:  []string{hotJoint}, Source: "ISO 8820: 1.1 to 1.35 of the rating lasts for minutes to hours",
		},
		{
			ID: "fuse-too-big", Name: "the fuse is bigger than the wire bears, and the wire is worked too hard",
			Sites: ownFuse(func(s *rig.System, p rig.Part) bool {
				return loadFused(s, p) && biggerFuse(p, 1) > 0 && felt(s, p, "bundled", 1.35)
			}), Lo: 1.35, Hi: 1.6, Unit: "of what the wire may carry",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				swap(x, max(biggerFuse(x.Part, between(chance, 1, 1.5)), biggerFuse(x.Part, 1)))
				if wire := p.Parts[x.Circuit]; wire != nil {
					p.Felt = wire.ID
					carries(p, x.Circuit, severity*allows(wire.Part, wire.Lay))
				}
			}),
			Seen:   "The cable is warm all along, and the fuse is of another colour than its neighbours.",
			Repair: "The wire is renewed thicker, and the fuse that it bears is fitted.",
			Shown:  []string{hotJoint}, Source: "IEC 60364-4-43; ISO 13297",
		},
		{
			ID: "fuse-bridged", Name: "a fuse is bridged with wire",
			Sites: ownFuse(anyFuse),
			Apply: on(func(p *Plant, x *Part, _, _ float64) {
				x.FuseA, x.Look, x.Browned = 500, "bridged-or-oversize", true
				x.ClipOhm = badOhm(p, x, 60, 0.12, 0.8)
			}),
			Seen:   "Copper strands are wound around the fuse.",
			Repair: "The right fuse and a new holder are fitted.",
			Shown:  []string{hotJoint}, Source: "IEC 60364-4-43; practice",
		},
		{
			ID: "short-burnt-fuse", Name: "a short behind a fuse has blown it and burnt its holder",
			Sites: func(s *rig.System) []string {
				var ids []string
				for _, id := range dcLoads(1)(s) {
					if _, ok := s.Part(id + "-fuse"); ok {
						ids = append(ids, id+"-fuse")
					}
				}
				return ids
			},
			Lo: 0.02, Hi: 0.6, Log: true, Unit: "ohm",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				x.Blown, x.Look, x.Browned = true, "black-splash", true
				short(p, x.Circuit, severity)
				p.Felt = x.ID
			}),
			Seen: "The fuse is black, and so is the holder.", Heard: "Somebody heard a bang.", Smelt: "Soot.",
			Repair: "The pinched length of wire is renewed, and the holder with it.",
			Shown:  []string{hotJoint}, Source: "IEC 60364-4-43; practice",
		},
	}
}
