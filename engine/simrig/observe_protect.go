package simrig

import "hotlug/engine/rig"

// protectorShows are what is seen and told of a fuse that blows or a breaker that
// trips, and of what hangs on it.
var protectorShows = map[string]func(*Sim, string) Answer{
	"trip_timing": func(s *Sim, _ string) Answer {
		if p, when := s.blows(); p != nil {
			return Pick(when)
		}
		return Refuse("nothing blows or trips")
	},
	"protector_side": func(s *Sim, place string) Answer {
		p := s.protectorAt(place)
		switch {
		case p == nil:
			return Refuse("it is not clear which fuse is meant")
		case p.Circuit == "array":
			return Pick("solar-side")
		}
		return Pick("battery-side")
	},
	"protector_kind": func(s *Sim, place string) Answer {
		p := s.protectorAt(place)
		switch {
		case p == nil:
			return Refuse("it is not clear which fuse is meant")
		case p.Kind == rig.Breaker:
			return Pick("breaker")
		}
		return Pick("fuse")
	},
	// No fault puts a wrong part in: it works like the right one until it has to
	// break a short.
	"protector_marks": func(s *Sim, place string) Answer {
		if s.protectorAt(place) == nil {
			return Refuse("it is not clear which fuse is meant")
		}
		return Pick("suits")
	},
	"appliance_look": func(s *Sim, place string) Answer {
		return Pick(or(s.plant.Branch[s.wayAt(place)].Look, "sound"))
	},
	"short_goes_when": func(s *Sim, place string) Answer {
		way := s.wayAt(place)
		switch b := s.plant.Branch[way]; {
		case s.plant.Shorts[way] == 0 && s.plant.LeftOn[way] > 0:
			return Pick("load-unplugged")
		case s.plant.Shorts[way] == 0:
			return Refuse("there is no short on this wire")
		case b.AtEnd:
			return Pick("load-unplugged")
		case b.Moves:
			return Pick("wiring-moved")
		}
		return Pick("never")
	},
}

// protectorAt is the fuse or breaker at a place or in focus.
func (s *Sim) protectorAt(place string) *Part { return s.kindAt(place, rig.Fuse, rig.Breaker) }

// wayAt is the load whose way is meant.
func (s *Sim) wayAt(place string) string {
	circuit := s.circuitAt(place)
	if _, ok := s.sys.Load(circuit); ok {
		return circuit
	}
	return s.branchInQuestion()
}

// frameOhm is the fewest ohms from the load side of a fuse to the frame as the
// wire is moved, the bond between minus and frame off.
func (s *Sim) frameOhm(place string) float64 {
	if ohm := s.plant.Branch[s.wayAt(place)].FrameOhm; ohm > 0 {
		return ohm
	}
	return soundFrameOhm
}

// soundFrameOhm is sound insulation of a way, in the damp.
const soundFrameOhm = 1.5e7
