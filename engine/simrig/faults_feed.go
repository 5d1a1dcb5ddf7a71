package simrig

import (
	"slices"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// copperOhm is the resistance of copper warm from work, ohm·mm²/m.
const copperOhm = 0.0185

// surgeShare is what starts on the inverter where its way is too weak for it, in
// times its rating: it could give that.
const surgeShare = 1.8

// stopOhm is the resistance between cells and studs with which the inverter just
// stops as such a thing starts.
func stopOhm(s *rig.System) float64 {
	inv := s.Inverter
	ohm, err := electric.LoopOhmMost(restAt(s, s.Battery.Charge), inv.LowV, surgeShare*inv.Watts, inv.Eta)
	if err != nil {
		return 0.02
	}
	return ohm
}

// starts lets a motor start on the inverter, that pulls its way down.
func starts(p *Plant) {
	p.Inverter.Starts = "motor"
	p.Inverter.PlugW = surgeShare * p.Sys.Inverter.Watts / startTimes["motor"]
}

// Such a contact is weak, and nobody has yet seen it brown: between the starts it
// carries what runs, or the charge alone as people find it.
const (
	weakMost = 1.4  // times what stops the inverter
	warmK    = 25.0 // over its wire, by the charge
	weakK    = 85.0 // by all that runs
)

// weakAt are the sites at those of the ids where a contact that stops the inverter
// at a start stays cool with what runs on for long.
func weakAt(ids ...string) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool {
		if !inverts(s) || !slices.Contains(ids, p.ID) {
			return false
		}
		heat := weakMost * stopOhm(s) * rth(&Part{Part: p})
		amps := surgeShare / startTimes["motor"] * s.InverterAmps()
		if p.Circuit == "battery" {
			amps += dcAmps(s)
			if sun := 0.75 * s.ChargeAmps(); heat*sun*sun > warmK {
				return false
			}
		}
		return heat*amps*amps < weakK
	})
}

// dcAmps is what all loads on DC take.
func dcAmps(s *rig.System) float64 {
	sum := 0.0
	for _, l := range s.Loads {
		if !l.AC {
			sum += s.Amps(l)
		}
	}
	return sum
}

// feed are the sites at those of the ids that a rig with an inverter has.
func feed(ids ...string) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool { return inverts(s) && slices.Contains(ids, p.ID) })
}

// leastCopper is the copper in mm² with which a cable to an inverter stays whole
// between the starts, and longFeed are the sites at those of the ids where such a
// cable is not longer than anybody lays one.
const leastCopper = 2.0

func longFeed(ids ...string) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool {
		return inverts(s) && stopOhm(s) < 0.08 && slices.Contains(ids, p.ID)
	})
}

// longRun lays the inverter's two wires, or one of them, so long and thin that
// they lose ohm, of which copper of their printed size would lose a share.
func longRun(p *Plant, ohm, share, chance float64, ids ...string) {
	metres := between(chance, 3, 6)
	each := ohm / float64(len(ids))
	size := copperOhm * metres / (each * share)
	if size*share < leastCopper { // less would burn
		size, metres = leastCopper/share, leastCopper*each/copperOhm
	}
	for _, id := range ids {
		if x := p.Parts[id]; x != nil {
			x.Metres, x.MM2, x.TrueMM2 = metres, size, size*share
		}
	}
}

// feedFaults are those of the way from the battery to the inverter: open, or too
// weak for what starts on it.
func feedFaults() []*Fault {
	weak := func(do func(p *Plant, x *Part, ohm, chance float64)) func(*Plant, string, float64, float64) {
		return on(func(p *Plant, x *Part, severity, chance float64) {
			starts(p)
			do(p, x, severity*stopOhm(p.Sys), chance)
		})
	}
	return []*Fault{
		{
			ID: "inverter-feed-open", Name: "the way to the inverter stands open",
			Sites: feed("main-isolator", "main-fuse", "inverter-fuse", "inv-pos", "inv-neg"),
			Apply: on(func(_ *Plant, x *Part, _, _ float64) {
				x.Open, x.Missing = x.Kind == rig.Isolator, x.Kind != rig.Isolator
			}),
			Seen:   "Something on the way hangs loose or stands on off.",
			Repair: "It is closed, the inverter's capacitors being filled first.",
			Shown:  []string{inverterDead}, Source: "practice",
		},
		{
			ID: "main-fuse-open", Name: "the main fuse is open",
			Sites: feed("main-fuse"),
			Apply: on(func(_ *Plant, x *Part, _, chance float64) {
				x.Blown, x.Broken = chance < 0.6, chance >= 0.6
				x.Look = oneOf(chance, "black-splash", "clean-break", "whole")
			}),
			Repair: "A fuse of the marked kind is fitted, the reason being found first.",
			Shown:  []string{inverterDead, allIsDead}, Source: "practice; IEC 60364-4-43",
		},
		{
			ID: "main-minus-open", Name: "the main minus is open",
			Sites:  feed("bat-neg", "post-neg", "bus-neg-main"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Broken = true }),
			Repair: "The joint is opened, cleaned and closed to its figure.",
			Shown:  []string{inverterDead, allIsDead}, Source: "practice",
		},
		{
			ID: "hidden-fuse-open", Name: "a fuse that no drawing shows is open",
			Sites:  feed("bat-pos", "main-pos-a", "main-pos-b", "inv-pos"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Broken = true }),
			Repair: "The fuse is renewed and drawn in.",
			Shown:  []string{inverterDead, allIsDead}, Source: "practice",
		},
		{
			ID: "lead-on-dead-stud", Name: "a lead was put on a stud that nothing feeds",
			Sites: feed("main-pos-b", "inv-pos"),
			Apply: on(func(p *Plant, x *Part, _, chance float64) {
				x.Broken = true
				p.Last = oneOf(chance, "battery-changed", "rewired-or-reset", "new-build")
			}),
			Repair: "The lead is moved to the stud behind the isolator.",
			Shown:  []string{inverterDead}, Source: "practice",
		},
		{
			ID: "inverter-bank-weak", Name: "a worn battery falls as a motor starts on the inverter",
			Sites: when(func(s *rig.System) bool {
				// A steady load makes a sound one fall so far that a meter sees it.
				return inverts(s) && stopOhm(s) > 3*bankOhm(s) && restAt(s, s.Battery.Charge)-workVolts(s) > 0.1*twelves(s)
			}),
			Lo: 1.1, Hi: 1.5, Unit: "times what stops the inverter",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				starts(p)
				p.Battery.Ohm = max(p.Battery.Ohm, severity*stopOhm(p.Sys))
			},
			Seen:   "The lights go dim as the compressor starts.",
			Repair: "The battery is replaced.",
			Shown:  []string{inverterStops}, Source: "battery textbook: replaced from twice its resistance",
		},
		{
			ID: "isolator-open-inside", Name: "the battery isolator does not close inside",
			Sites:  feed("main-isolator"),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Broken = true }),
			Seen:   "Its handle turns without a click.",
			Repair: "The isolator is renewed.",
			Shown:  []string{inverterDead, allIsDead}, Source: "practice",
		},
		{
			ID: "inverter-cable-thin", Name: "the inverter's cables are too thin for their length",
			Sites: longFeed("inv-pos"), Lo: 1.15, Hi: 1.8, Unit: "times what stops the inverter",
			Apply: weak(func(p *Plant, _ *Part, ohm, chance float64) {
				longRun(p, ohm, 1, chance, "inv-pos", "inv-neg")
			}),
			Seen:   "Its cables are long and thin.",
			Repair: "Thicker cables are laid.",
			Shown:  []string{inverterStops}, Source: "IEC 60364-5-52; ABYC E-11",
		},
		{
			ID: "inverter-cable-corroded", Name: "the strands of one of the inverter's cables are corroded",
			Sites: longFeed("inv-pos", "inv-neg"), Lo: 1.15, Hi: 1.8, Unit: "times what stops the inverter",
			Apply: weak(func(p *Plant, x *Part, ohm, chance float64) {
				longRun(p, ohm, between(chance, 0.25, 0.6), chance, x.ID)
				x.Look = "dark"
			}),
			Seen:   "Water drips out of the end of a cable.",
			Repair: "The cable is renewed.",
			Shown:  []string{inverterStops}, Source: "IEC 60228; practice",
		},
		{
			ID: "inverter-cable-aluminium", Name: "the inverter's cables are aluminium under copper",
			Sites: longFeed("inv-pos"), Lo: 1.15, Hi: 1.8, Unit: "times what stops the inverter",
			Apply: weak(func(p *Plant, _ *Part, ohm, chance float64) {
				longRun(p, ohm, between(chance, 0.58, 0.68), chance, "inv-pos", "inv-neg")
				for _, id := range []string{"inv-pos", "inv-neg"} {
					if w := p.Parts[id]; w != nil {
						w.Look = "silver-inside"
					}
				}
			}),
			Seen:   "The cable is light in the hand.",
			Repair: "Cables of copper are laid.",
			Shown:  []string{inverterStops}, Source: "IEC 60228: six tenths of copper's conductance",
		},
		{
			ID: "clip-lead", Name: "a clip lead carries the inverter's current",
			Sites: weakAt("post-pos", "post-neg", "inv-lug-pos", "inv-lug-neg"), Lo: 1.15, Hi: weakMost, Log: true, Unit: "times what stops the inverter",
			Apply: weak(func(_ *Plant, x *Part, ohm, _ float64) {
				x.FaceOhm, x.Look = ohm, clipLook
			}),
			Seen:   "The inverter hangs on jump leads.",
			Repair: "A cable with ring lugs is bolted on.",
			Shown:  []string{inverterStops}, Source: "practice",
		},
		{
			ID: "inverter-lug-loose", Name: "a loose lug at the inverter pulls its volts down",
			Sites: weakAt("inv-lug-pos", "inv-lug-neg"), Lo: 1.15, Hi: weakMost, Log: true, Unit: "times what stops the inverter",
			Apply: weak(func(_ *Plant, x *Part, ohm, _ float64) {
				x.FaceOhm, x.Jumps, x.Look = ohm, true, "bright" // opened, its nut has no hold
			}),
			Heard:  "It stops when somebody walks past it.",
			Repair: "The joint is brushed bright and tightened to its figure.",
			Shown:  []string{inverterStops}, Source: "Holm; practice",
		},
		{
			ID: "inverter-lug-film", Name: "a film under a lug at the inverter pulls its volts down",
			Sites: weakAt("inv-lug-pos", "inv-lug-neg"), Lo: 1.15, Hi: weakMost, Log: true, Unit: "times what stops the inverter",
			Apply: weak(func(_ *Plant, x *Part, ohm, chance float64) {
				x.FaceOhm, x.Look = ohm, oneOf(chance, "green-or-white", "dull-film")
			}),
			Repair: "Both faces are brushed bright and bolted with a thin film of grease.",
			Shown:  []string{inverterStops}, Source: "Holm; practice",
		},
		{
			ID: "inverter-wire-broken", Name: "a wire to the inverter is nearly broken inside",
			Sites: weakAt("inv-pos", "inv-neg", "bat-neg", "main-pos-b"), Lo: 1.15, Hi: weakMost, Log: true, Unit: "times what stops the inverter",
			Apply: weak(func(_ *Plant, x *Part, ohm, _ float64) {
				x.FaceOhm, x.Jumps = ohm, true
			}),
			Heard:  "It beeps when the cable is moved.",
			Repair: "The wire is renewed.",
			Shown:  []string{inverterStops}, Source: "practice",
		},
	}
}
