package simrig

import (
	"strings"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// fused are the sites at the loads on DC for which ok holds, with a fuse of their
// own.
func fused(ok func(s *rig.System, l rig.Load, fuse rig.Part) bool) func(*rig.System) []string {
	return func(s *rig.System) []string {
		var ids []string
		for _, l := range s.Loads {
			if f, has := s.Part(l.ID + "-fuse"); has && !l.AC && ok(s, l, f) {
				ids = append(ids, l.ID)
			}
		}
		return ids
	}
}

func anyLoad(*rig.System, rig.Load, rig.Part) bool { return true }

// aMotor says whether a load turns.
func aMotor(_ *rig.System, l rig.Load, _ rig.Part) bool {
	for _, word := range []string{"pump", "fan", "fridge", "freezer", "blower"} {
		if strings.Contains(l.ID, word) {
			return true
		}
	}
	return false
}

// breakerAt puts a breaker that trips by heat where a load's fuse was, with the
// same amps on it.
func breakerAt(p *Plant, load string) *Part {
	x := p.Parts[load+"-fuse"]
	x.Kind, x.Style = rig.Breaker, ""
	x.FaceOhm = soundPart(p.Sys, x.Part).FaceOhm
	return x
}

// runsAt lets a load take a share of what is printed on its fuse.
func runsAt(p *Plant, load string, share float64) {
	if x := p.Parts[load+"-fuse"]; x != nil {
		// Loads take their watts: at the bank's own volts that is fewer amps.
		carries(p, load, share*x.RatedA*restAt(p.Sys, p.Sys.Battery.Charge)/p.Sys.Volts)
	}
}

// bears says whether a load's wire stays cool with the whole of its fuse's amps.
func bears(s *rig.System, l rig.Load, fuse rig.Part) bool {
	wire, ok := s.Part(l.ID)
	return ok && l.Plug == "" && fuse.RatedA >= 7.5 && allows(wire, wire.Lay) > fuse.RatedA
}

// blowFaults are what makes fuses blow and breakers trip.
func blowFaults() []*Fault {
	blown := func(p *Plant, load, look string) {
		if x := p.Parts[load+"-fuse"]; x != nil {
			x.Blown, x.Look = true, look
		}
	}
	return []*Fault{
		{
			ID: "load-shorted", Name: "an appliance is shorted inside",
			Sites: fused(anyLoad), Lo: 0.03, Hi: 0.18, Log: true, Unit: "ohm",
			Apply: func(p *Plant, at string, severity, chance float64) {
				short(p, at, severity)
				p.branch(at, func(b *Branch) { b.AtEnd = true })
				blown(p, at, oneOf(chance, "black-splash", "clean-break"))
			},
			Repair: "The appliance is replaced, and the marked fuse fitted.",
			Shown:  []string{fuseBlows}, Source: "practice",
		},
		{
			ID: "wire-pinched", Name: "a wire is pinched and shorted",
			Sites: fused(anyLoad), Lo: 0.03, Hi: 0.18, Log: true, Unit: "ohm",
			Apply: func(p *Plant, at string, severity, chance float64) {
				short(p, at, severity)
				blown(p, at, oneOf(chance, "black-splash", "clean-break"))
			},
			Repair: "The pinched length of wire is renewed, and the marked fuse fitted.",
			Shown:  []string{fuseBlows}, Source: "IEC 60364-4-43; practice",
		},
		{
			ID: "wire-chafed", Name: "a wire has rubbed through on the frame",
			Sites: fused(anyLoad), Lo: 0.01, Hi: 0.2, Log: true, Unit: "ohm, as it touches",
			Apply: func(p *Plant, at string, severity, chance float64) {
				p.branch(at, func(b *Branch) { b.FrameOhm = severity })
				blown(p, at, oneOf(chance, "black-splash", "clean-break"))
				p.Last = "rough-road-or-storm"
			},
			Repair: "The stretch is renewed, with a grommet in the hole.",
			Shown:  []string{fuseBlows}, Source: "IEC 60364-4-41; practice",
		},
		{
			ID: "short-comes-and-goes", Name: "a chafed wire shorts only when the rig shakes",
			Sites: fused(anyLoad), Lo: 0.01, Hi: 0.2, Log: true, Unit: "ohm, as it touches",
			Apply: func(p *Plant, at string, severity, _ float64) {
				p.branch(at, func(b *Branch) { b.FrameOhm = severity })
				blown(p, at, "black-splash")
				p.Event = Event{Joining: "device", FuseBlew: true}
			},
			After: joining("device"),
			Seen:  "The fuse goes on bumpy roads.", Heard: "A pop on the road.",
			Repair: "The chafed length is renewed and clamped.",
			Shown:  []string{sparked}, Source: "practice",
		},
		{
			ID: "live-pins-bare", Name: "the live half of a plug has bare pins",
			Sites: fused(func(_ *rig.System, l rig.Load, _ rig.Part) bool { return l.Plug != "" }),
			Apply: func(p *Plant, at string, _, chance float64) {
				p.branch(at, func(b *Branch) { b.Look = "live-pins-bare" })
				blown(p, at, oneOf(chance, "black-splash", "clean-break"))
			},
			Seen:   "Spoons lie in the drawer below the plug.",
			Repair: "The halves are exchanged, so that the fed one has the sleeves.",
			Shown:  []string{fuseBlows}, Source: "IEC 60364-4-41; practice",
		},
		{
			ID: "motor-jammed", Name: "a motor is stuck",
			Sites: fused(aMotor), Lo: 3, Hi: 6, Unit: "times its amps",
			Apply: func(p *Plant, at string, severity, _ float64) {
				p.branch(at, func(b *Branch) { b.Times, b.Look = severity, "jammed" })
				blown(p, at, "clean-break")
			},
			Heard:  "It hums and does not turn.",
			Repair: "What holds it is taken out, and the marked fuse fitted.",
			Shown:  []string{fuseBlows}, Source: "practice: three to six times its amps",
		},
		{
			ID: "motor-worn", Name: "a worn motor draws more than its fuse bears",
			Sites: fused(func(s *rig.System, l rig.Load, f rig.Part) bool {
				return aMotor(s, l, f) && f.RatedA >= 7.5 && wornTimes(s, l, f, 1.4) < startBlows
			}),
			Lo: 1.2, Hi: 1.4, Unit: "of its fuse",
			Apply: func(p *Plant, at string, severity, _ float64) {
				l, _ := p.Sys.Load(at)
				f := p.Parts[at+"-fuse"]
				p.branch(at, func(b *Branch) { b.Times = wornTimes(p.Sys, l, f.Part, severity) })
				f.Look = "clean-break" // the one that blew last
			},
			Heard:  "It runs slowly and whines.",
			Repair: "The motor is renewed.",
			Shown:  []string{fuseBlows}, Source: "practice",
		},
		{
			ID: "breaker-in-heat", Name: "a breaker sits in hot air and trips below its rating",
			Sites: fused(bears), Lo: 0.93, Hi: 0.98, Unit: "of its rating",
			Apply: func(p *Plant, at string, severity, chance float64) {
				x := breakerAt(p, at)
				x.Look, x.AmbC = "breaker-tripped", between(chance, 51, 57)
				runsAt(p, at, severity)
			},
			Seen:   "The breaker sits behind glass, in the sun.",
			Repair: "It is moved to a cool place.",
			After:  func(p *Plant, at string, _, _ float64) { breakerAt(p, at) },
			Shown:  []string{fuseBlows}, Source: "breakers by ambient: 0.90 at 50 °C, 0.83 at 60 °C",
		},
		{
			ID: "breaker-tired", Name: "a breaker's contacts are worn, and their heat trips it",
			Sites: fused(bears), Lo: 2.5, Hi: 5, Unit: "times what it may drop",
			Apply: func(p *Plant, at string, severity, _ float64) {
				x := breakerAt(p, at)
				x.Look = "breaker-tripped"
				runsAt(p, at, 0.85)
				limit := figure(0.05)(electric.BreakerDropLimit(1, within(x.RatedA, 1, 125)))
				x.FaceOhm = max(severity*limit, 60/(rth(x)*0.72*x.RatedA*x.RatedA))
			},
			Seen:   "The breaker is warm in its middle.",
			Repair: "It is renewed by one made for DC at these volts.",
			After:  func(p *Plant, at string, _, _ float64) { breakerAt(p, at) },
			Shown:  []string{fuseBlows}, Source: "IEC 60898-1",
		},
		{
			ID: "fuse-ages", Name: "a fuse is too small for what runs on it for hours",
			Sites: fused(func(s *rig.System, l rig.Load, f rig.Part) bool { return weakFuse(s, l, f) > 0 }),
			Apply: func(p *Plant, at string, _, _ float64) {
				l, _ := p.Sys.Load(at)
				f := p.Parts[at+"-fuse"]
				swap(f, weakFuse(p.Sys, l, f.Part))
				f.Look = "clean-break" // the one that blew last
			},
			Seen:   "The fuse is of another colour than its neighbours.",
			Repair: "The fuse that load and wire want is fitted.",
			Shown:  []string{fuseBlows}, Source: "ISO 8820: 1.1 to 1.35 of the rating lasts for minutes to hours",
		},
	}
}

// wornTimes is the times its watts that a motor takes which draws a share of its
// fuse.
func wornTimes(s *rig.System, l rig.Load, fuse rig.Part, share float64) float64 {
	return share * fuse.RatedA * restAt(s, s.Battery.Charge) / max(1, l.Watts)
}

// weakFuse is the largest standard fuse that what runs on it blows within minutes
// to hours; 0 if there is none.
func weakFuse(s *rig.System, l rig.Load, fuse rig.Part) float64 {
	amps := l.Watts / restAt(s, s.Battery.Charge)
	best := 0.0
	for _, r := range electric.FuseRatings() {
		if share := amps / r; r >= 3 && r < fuse.RatedA && share > 1.12 && share < 1.6 {
			best = max(best, r)
		}
	}
	return best
}
