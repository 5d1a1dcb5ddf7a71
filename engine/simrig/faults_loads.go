package simrig

import (
	"math"

	"hotlug/engine/rig"
)

// ofLoad are the sites at the loads on DC that are of a kind.
func ofLoad(ok func(s *rig.System, l rig.Load) bool) func(*rig.System) []string {
	return func(s *rig.System) []string {
		var ids []string
		for _, l := range s.Loads {
			if !l.AC && ok(s, l) {
				ids = append(ids, l.ID)
			}
		}
		return ids
	}
}

// inLoad says whether a part of one of the kinds lies in the way of a load on DC.
func inLoad(kinds ...rig.PartKind) func(*rig.System) []string {
	return parts(func(s *rig.System, p rig.Part) bool {
		l, ok := s.Load(p.Circuit)
		if !ok || l.AC {
			return false
		}
		for _, k := range kinds {
			if p.Kind == k {
				return true
			}
		}
		return false
	})
}

// complaints of what is wrong with one load, most likely first.
var ofOneLoad = []string{fridgeStops, lightsDim, oneWeak}

// loadFaults are the loads and the ways to them.
func loadFaults() []*Fault {
	return []*Fault{
		{
			ID: "load-switched-off", Name: "the load's own switch is off",
			Sites:  inLoad(rig.Switch),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Open = true }),
			Seen:   "A rocker behind the door points to nought.",
			Repair: "It is switched on.",
			Shown:  []string{oneWeak, lightsDim}, Source: "practice",
		},
		{
			ID: "load-fuse-missing", Name: "the fuse of a load was not put back",
			Sites:  inLoad(rig.Fuse),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Missing = true }),
			Seen:   "One place in the fuse block is empty.",
			Repair: "The marked fuse is put back.",
			Shown:  ofOneLoad, Source: "practice",
		},
		{
			ID: "load-lead-off", Name: "a wire of a load was not put back",
			Sites:  inLoad(rig.Wire),
			Apply:  on(func(_ *Plant, x *Part, _, _ float64) { x.Missing = true }),
			Seen:   "A wire hangs loose under the block.",
			Repair: "The wire is put back and tightened.",
			Shown:  ofOneLoad, Source: "practice",
		},
		{
			ID: "feed-lengthened", Name: "the wire to a load was made far too long",
			Sites: ofLoad(func(s *rig.System, l rig.Load) bool {
				w, _ := s.Part(l.ID)
				return l.Watts >= 20 && feedMetres(s, l, w.MM2, 0.17) <= 120
			}),
			Lo: 0.09, Hi: 0.17, Unit: "of the volts lost",
			Apply: func(p *Plant, at string, severity, _ float64) {
				l, _ := p.Sys.Load(at)
				w := p.Parts[at]
				if w == nil || p.Parts[at+"-return"] == nil {
					return
				}
				w.Metres = feedMetres(p.Sys, l, w.MM2, severity)
				p.Parts[at+"-return"].Metres = w.Metres
			},
			Seen:   "The load was moved to the far end last spring, and lamp wire added.",
			Repair: "It gets a feed of its own, thick and short.",
			Shown:  ofOneLoad, Source: "Ohm's law",
		},
		{
			ID: "way-joint-rotten", Name: "a joint in the way to a load has rotted away",
			Sites: inLoad(rig.Screw), Lo: 300, Hi: 30000, Log: true, Unit: "ohm",
			Apply:  on(func(_ *Plant, x *Part, severity, _ float64) { x.FaceOhm, x.Look = severity, "green-or-white" }),
			Seen:   "A meter shows full volts at the load, and it does nothing.",
			Repair: "The joint is cut out and a closed crimp made.",
			Shown:  ofOneLoad, Source: "Holm; practice",
		},
		{
			ID: "return-rotten", Name: "the way back from a load has rotted away",
			Sites: dcLoads(1), Lo: 300, Hi: 30000, Log: true, Unit: "ohm",
			Apply: func(p *Plant, at string, severity, _ float64) {
				if w := p.Parts[at+"-return"]; w != nil {
					w.FaceOhm = severity
				}
			},
			Seen:   "The load does nothing, and its minus wire is green in its sheath.",
			Repair: "The wire is renewed from end to end.",
			Shown:  ofOneLoad, Source: "Holm; practice",
		},
		{
			ID: "frame-bolt-rusty", Name: "a load comes home through the frame and a rusty bolt",
			Sites: ofLoad(func(_ *rig.System, l rig.Load) bool { return l.Watts >= 20 }),
			Lo:    0.08, Hi: 0.2, Unit: "of the volts lost",
			Apply: func(p *Plant, at string, severity, _ float64) {
				l, _ := p.Sys.Load(at)
				w := p.Parts[at+"-return"]
				if w == nil {
					return
				}
				w.FaceOhm = severity * (1 - severity) * p.Sys.Volts * p.Sys.Volts / l.Watts
				p.state(at, func(x *LoadState) { x.Frame, x.BoltOhm = true, w.FaceOhm })
			},
			Seen:   "Rust runs down from the bolt beside it.",
			Repair: "Bright metal, a toothed washer, and better a wire of its own.",
			Shown:  ofOneLoad, Source: "Holm; practice: 20 to 500 thousandths of an ohm",
		},
		{
			ID: "load-broken", Name: "the load itself is broken",
			Sites:  dcLoads(1),
			Apply:  func(p *Plant, at string, _, _ float64) { p.state(at, func(x *LoadState) { x.Dead = true }) },
			Repair: "It is repaired.",
			Shown:  ofOneLoad, Source: "practice",
		},
		{
			ID: "load-fine", Name: "the load and its way are sound",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Worry = oneWeak },
			Seen:   "It stopped last night, and has run since.",
			Repair: "Nothing.",
			Shown:  []string{oneWeak}, NoFault: true, Source: "practice",
		},
		{
			ID: "fridge-airless", Name: "the fridge gets no air",
			Sites: ofLoad(func(_ *rig.System, l rig.Load) bool { return isFridge(l.ID) }), Lo: 40, Hi: 60, Unit: "minutes an hour",
			Apply: func(p *Plant, at string, severity, _ float64) {
				p.state(at, func(x *LoadState) { x.RunMin = math.Round(severity) })
				p.branch(at, func(b *Branch) { b.Look = "badly-ventilated" })
			},
			Seen:   "Boxes stand against its fins.",
			Repair: "Its fins are brushed, and air let in and out.",
			Shown:  []string{fridgeStops, oneWeak}, Source: "practice",
		},
		{
			ID: "pump-leaks", Name: "the pump loses water",
			Sites: ofLoad(func(_ *rig.System, l rig.Load) bool { return isPump(l.ID) }),
			Apply: func(p *Plant, at string, _, _ float64) {
				p.branch(at, func(b *Branch) { b.Look = "pump-cycles-taps-shut" })
			},
			Heard:  "It hums for a second every few minutes, all night.",
			Repair: "The dripping joint is tightened.",
			Shown:  []string{oneWeak}, Source: "practice",
		},
		{
			ID: "lamps-pulse", Name: "lamps without a driver show the controller's pulses",
			Sites: ofLoad(func(s *rig.System, l rig.Load) bool { return isLight(l.ID) && s.Controller.Type == "pwm" }),
			Apply: func(p *Plant, at string, _, _ float64) {
				p.state(at, func(x *LoadState) { x.Pulses = true })
			},
			Seen:   "The lamps shimmer at noon.",
			Repair: "Lamps with a driver of their own are fitted.",
			Shown:  []string{lightsDim}, Source: "practice",
		},
		{
			ID: "cut-off-at-night", Name: "low volts cut the supply every night",
			Sites: Anywhere, Lo: 10.9, Hi: 11.7, Unit: "V per 12 V at dawn",
			Apply: func(p *Plant, _ string, severity, _ float64) { p.Drain.DawnV = severity * twelves(p.Sys) },
			Seen:  "At seven the lights come back by themselves.", Repair: "Less is used at night, and the bank charged full.",
			Shown: []string{lightsDim}, Source: "battery textbook",
		},
		{
			ID: "fuse-block-rotten", Name: "the clips of the fuse block have rotted",
			Sites: inLoad(rig.Fuse),
			Apply: on(func(p *Plant, x *Part, _, _ float64) {
				x.Broken, x.Look = true, "whole"
				for _, q := range p.Parts {
					if l, ok := p.Sys.Load(q.Circuit); ok && !l.AC && q.Kind == rig.Fuse && q != x {
						q.ClipOhm *= 8
					}
				}
			}),
			Seen:   "Green runs down from the block.",
			Repair: "A tinned block with a cover is fitted.",
			Shown:  ofOneLoad, Source: "practice",
		},
	}
}

// metreOhm is the ohms of a metre of copper of one mm², warm.
const metreOhm = 0.0189

// feedMetres is how long a feed is that loses a part of the volts, there and back.
func feedMetres(s *rig.System, l rig.Load, mm2, part float64) float64 {
	amps := l.Watts / (s.Volts * (1 - part))
	return part * s.Volts / amps / 2 * mm2 / metreOhm
}
