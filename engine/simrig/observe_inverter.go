package simrig

import (
	"math"

	"hotlug/engine/rig"
)

// inverterShows are what the inverter shows and sounds like, and what its way
// looks like.
var inverterShows = map[string]func(*Sim, string) Answer{
	"inv_lamp":      atAnInverter(func(s *Sim) Answer { return Pick(s.inverterLamp()) }),
	"inv_sound":     atAnInverter(func(s *Sim) Answer { return Pick(s.inverterSound()) }),
	"inverter_look": atAnInverter(func(s *Sim) Answer { return Pick(or(s.plant.Inverter.Look, "sound")) }),
	"inv_stop_when": atAnInverter(func(s *Sim) Answer {
		if when := s.stopsWhen(); when != "" {
			return Pick(when)
		}
		if s.symptom == "inverter-stops" { // so says who complains of it
			return Pick("at-random")
		}
		return Refuse("it does not stop")
	}),
	"stops_at_right_volts": atAnInverter(func(s *Sim) Answer {
		st := s.at(s.holdAtWork())
		if st.err != nil {
			return Refuse(noState)
		}
		return yesNo(s.stopsWhen() == "under-steady-load" && st.sol.Across(rig.InvPos, rig.InvNeg) > s.lowCut()+0.2*s.twelves())
	}),
	"inverter_switch": atAnInverter(func(s *Sim) Answer {
		switch x := s.plant.Inverter; {
		case !x.Switch:
			return Pick("switch-off")
		case x.Remote:
			return Pick("remote-off")
		}
		return Pick("both-on")
	}),
	// Off and on again, with nothing plugged in.
	"inverter_alive_after_reset": atAnInverter(func(s *Sim) Answer { return yesNo(s.inverterLamp() == "normal") }),
	"trouble_without_ac":         atAnInverter(func(s *Sim) Answer { return yesNo(s.troubleWithoutAC()) }),
	"start_kind":                 atAnInverter(func(s *Sim) Answer { return Pick(or(s.plant.Inverter.Starts, "heater-or-electronics")) }),
	"inv_wave": atAnInverter(func(s *Sim) Answer {
		if s.plant.Inverter.Stepped {
			return Pick("modified")
		}
		return Pick("pure")
	}),
	"inverter_off_v": atAnInverter(func(s *Sim) Answer { return printed(s.lowCut()) }),
	"ac_load_w":      atAnInverter(func(s *Sim) Answer { return Shown(s.plugged(), 1) }),
	"feed_seen":      func(s *Sim, _ string) Answer { return Pick(s.feedSeen()) },
	"path_look":      func(s *Sim, _ string) Answer { return Pick(s.pathLook()) },
	"last_change":    func(s *Sim, _ string) Answer { return Pick(or(s.plant.Last, "nothing")) },
	"leg_jump":       atAnInverter((*Sim).legJump),
	"wire_look": func(s *Sim, place string) Answer {
		if w := s.wireAt(place); w != nil && w.Jumps {
			return Pick("soft-spot")
		}
		return s.Take("strand_look", place)
	},
	"strand_look": func(s *Sim, place string) Answer {
		w := s.wireAt(place)
		switch {
		case w == nil:
			return Refuse("nobody knows which wire is meant")
		case s.option("strand_look", w.Look):
			return Pick(w.Look)
		}
		return Pick("bright-copper")
	},
}

// atAnInverter answers where the rig has an inverter.
func atAnInverter(of func(*Sim) Answer) func(*Sim, string) Answer {
	return func(s *Sim, _ string) Answer {
		if s.sys.Inverter.Watts == 0 {
			return Refuse("this rig has no inverter")
		}
		return of(s)
	}
}

// or is a word, or another where there is none.
func or(word, other string) string {
	if word == "" {
		return other
	}
	return word
}

// inverterLamp is an option of inv_lamp: switched on, nothing plugged in.
func (s *Sim) inverterLamp() string {
	x := s.plant.Inverter
	st := s.at(s.switchedOn())
	if st.err != nil || s.sys.Inverter.Watts == 0 || x.Dead || x.Shorted || !x.Switch || x.Remote {
		return "off"
	}
	v := orNought(st.sol.Across(rig.InvPos, rig.InvNeg))
	switch {
	case st.invOn && !s.gone(st):
		return "normal"
	case v < lowest*s.sys.Volts:
		return "off"
	case st.gaveUp && !x.LowStop: // its own idling pulls the volts down
		return "flashes-then-off"
	}
	return "fault-lamp"
}

// troubleWithoutAC says whether what is complained of stays with every plug out.
func (s *Sim) troubleWithoutAC() bool {
	x := s.plant.Inverter
	if s.inverterLamp() != "normal" || x.Wails || x.Scrapes {
		return true
	}
	if s.symptom == "inverter-noisy" {
		return x.Iron
	}
	return s.stopsWhen() == "in-sun-or-charging"
}

// feedSeen is what stands open for all to see between battery and inverter.
func (s *Sim) feedSeen() string {
	for p := range s.inOrder {
		if p.Circuit != "battery" && p.Circuit != "inverter" {
			continue
		}
		switch seen := openLook(p); seen {
		case "":
		case "battery-isolator-off":
			return "isolator-off"
		default:
			return seen
		}
	}
	return "all-on"
}

// pathLook is what is seen along both cables to the inverter.
func (s *Sim) pathLook() string {
	crust := false
	for p := range s.inOrder {
		if p.Circuit != "battery" && p.Circuit != "inverter" {
			continue
		}
		switch p.Look {
		case clipLook:
			return "clip-or-twist-on"
		case "green-or-white", "crust":
			crust = true
		}
	}
	if crust {
		return "crust"
	}
	return "sound"
}

// ownShare is the part of what a side loses from which one part of it is the one
// behind which the volts come in.
const ownShare = 0.3

// legJump is behind what the volts come in for somebody who steps along the side
// of the inverter's way that loses more. The part is then the one that is meant.
func (s *Sim) legJump() Answer {
	st := s.at(s.SituationFor([]string{"loads-on"}, ""))
	if st.err != nil {
		return Refuse(noState)
	}
	legs := map[bool]float64{}
	worst, top := map[bool]*Part{}, map[bool]float64{}
	for p := range s.inOrder {
		if p.Circuit != "battery" && p.Circuit != "inverter" || isLink(p.Part) {
			continue
		}
		v := math.Abs(orNought(st.sol.Across(nodeName(s.jointPoint("joint-a", p)), nodeName(s.jointPoint("joint-b", p)))))
		legs[p.Minus] += v
		if v > top[p.Minus] {
			worst[p.Minus], top[p.Minus] = p, v
		}
	}
	side := legs[true] > legs[false]
	p := worst[side]
	if p == nil || top[side] < ownShare*legs[side] {
		return Pick("spread")
	}
	s.meant, s.stood = p.ID, p.ID
	switch {
	case p.Look == clipLook:
		return Pick("clamp")
	case p.Kind == rig.Wire:
		return Pick("wire")
	case p.Kind == rig.Fuse || p.Kind == rig.Breaker:
		return Pick("holder")
	case p.Kind == rig.Isolator:
		return Pick("isolator")
	}
	return Pick("lug")
}

// clipLook is how a contact looks that is a spring clamp.
const clipLook = "clip-or-twist-on"
