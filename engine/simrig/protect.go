package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// What makes fuses blow and breakers trip.
const (
	blowTimes  = 2.0  // its rating at which a fuse goes at once
	startBlows = 2.5  // its watts that a motor takes from which its fuse goes as it starts
	fuseLasts  = 1.06 // of what it carries that a fuse bears for hours
	hotDay     = 42.0 // °C of the air from which people say that it comes with the heat
)

// blows is the fuse that blows or the breaker that trips, and when: an option of
// trip_timing. nil for none.
func (s *Sim) blows() (p *Part, when string) {
	for p := range s.inOrder {
		if p.Kind != rig.Fuse && p.Kind != rig.Breaker || p.Circuit == "battery" {
			continue
		}
		if when := s.blowsWhen(p); when != "" {
			return p, when
		}
	}
	return nil, ""
}

func (s *Sim) blowsWhen(p *Part) string {
	b := s.plant.Branch[p.Circuit]
	limit := s.sys.Volts / (blowTimes * max(1, p.FuseA))
	if p.Kind == rig.Breaker {
		limit = s.sys.Volts / (blowTimes * max(1, p.RatedA))
	}
	switch ohm := s.plant.Shorts[p.Circuit]; {
	case ohm > 0 && ohm < limit:
		return "at-once"
	case b.FrameOhm > 0 && b.FrameOhm < limit:
		return "on-bumps"
	case b.Look == "live-pins-bare":
		return "with-everything-off"
	case b.Times >= startBlows:
		return "at-motor-start"
	}
	if s.carriesShare(p) <= 1 {
		return ""
	}
	if s.airAt(p) > hotDay {
		return "on-hot-days"
	}
	return "after-minutes"
}

// carriesShare is what runs through a fuse or breaker as a part of what it bears
// for hours in its air, its own contacts' heat counted in.
func (s *Sim) carriesShare(p *Part) float64 {
	if _, ok := s.sys.Load(p.Circuit); !ok {
		return 0
	}
	z := s.SituationFor([]string{"loads-on"}, p.ID)
	st := s.at(z)
	if st.err != nil {
		return 0
	}
	amps := math.Abs(s.amps(st, p.ID))
	if p.Kind == rig.Fuse {
		return figure(0)(electric.FuseLoad(amps, max(0.5, p.FuseA), max(-20, min(60, s.airAt(p))))) / fuseLasts
	}
	// A breaker that trips by heat trips by that of its contacts too. Above the
	// table's 60 °C it loses as from 50 to 60.
	sound := *p
	sound.FaceOhm = soundPart(s.sys, p.Part).FaceOhm
	own := amps * amps * max(0, p.FaceOhm-sound.FaceOhm) * rth(p)
	air := max(20, s.airAt(p)+own)
	share := figure(0)(electric.BreakerLoad(amps, max(1, p.RatedA), min(60, air)))
	return share / max(0.4, 1-0.007*max(0, air-60))
}
