package simrig

import (
	"slices"

	"hotlug/engine/rig"
)

// jointLooks are heat, melting and crust: what the hand and the eye find at a
// part, and at a joint that is opened.
var jointLooks = map[string]func(*Sim, string) Answer{
	"trouble_spot": func(s *Sim, place string) Answer {
		p := s.partAt(place)
		if p == nil {
			if p = s.hottest(); p == nil || !s.notable(p) {
				return Refuse("nothing is hot, melted or crusted")
			}
		}
		return Pick(spot(p))
	},
	"browned": func(s *Sim, place string) Answer {
		if p := s.partAt(place); p != nil {
			return yesNo(s.cooked(p))
		}
		for p := range s.inOrder {
			if s.cooked(p) {
				return Pick("yes")
			}
		}
		return Pick("no")
	},
	"fuse_look": func(s *Sim, place string) Answer {
		if p := s.kindAt(place, rig.Fuse, rig.Breaker); p != nil {
			return Pick(s.fuseLook(p))
		}
		return Refuse("there is no fuse at this place")
	},
	"fuse_now_a": func(s *Sim, place string) Answer {
		f := s.kindAt(place, rig.Fuse, rig.Breaker)
		if f == nil || f.RatedA == 0 {
			return Refuse("there is no print on it")
		}
		return printed(f.RatedA)
	},
	"joint_look": func(s *Sim, place string) Answer {
		p := s.partAt(place)
		if p == nil { // the one that was just measured at
			p = s.plant.Parts[s.stood]
		}
		if p == nil {
			return Refuse("it is not clear which joint is meant")
		}
		if look := s.jointLook(p); look != "bright" || isJoint(p) {
			return Pick(look)
		}
		if p.Kind == rig.Wire && p.Look == "silver-inside" {
			return Pick("silver-strands")
		}
		// Of what is no joint itself the joints at its ends are opened.
		for q := range s.inOrder {
			if isJoint(q) && (meets(p, q) || p.Kind == rig.Wire && q.Circuit == p.Circuit) {
				if look := s.jointLook(q); look != "bright" {
					return Pick(look)
				}
			}
		}
		return Pick("bright")
	},
	"plus_splice_look":  func(s *Sim, _ string) Answer { return Pick(s.leadLook(false)) },
	"minus_splice_look": func(s *Sim, _ string) Answer { return Pick(s.leadLook(true)) },
	"drop_jumps": func(s *Sim, place string) Answer {
		p := s.partAt(place)
		switch {
		case p == nil:
			return Refuse("it is not clear which joint is meant")
		case p.Missing:
			return Refuse("the lead is off, so there is nothing to nudge")
		}
		return yesNo(p.Jumps)
	},
}

func isJoint(p *Part) bool {
	switch p.Kind {
	case rig.Joint, rig.Screw, rig.Splice, rig.Plug, rig.PVPlug:
		return true
	}
	return false
}

// meets says whether two parts touch at a point that is not a whole bar.
func meets(p, q *Part) bool {
	for _, at := range []string{p.A, p.B} {
		if at != rig.BusPos && at != rig.BusNeg && (q.A == at || q.B == at) {
			return true
		}
	}
	return false
}

// spot is what kind of place a part is to a person.
func spot(p *Part) string {
	switch p.Kind {
	case rig.Fuse:
		return "fuse-holder"
	case rig.Screw:
		return "screw-terminal"
	case rig.Wire:
		return "cable-along"
	case rig.Plug:
		return "plug-or-socket"
	case rig.PVPlug:
		return "pv-plug"
	case rig.Breaker, rig.Isolator, rig.Switch:
		return "switch-or-breaker"
	case rig.Shunt:
		return "shunt"
	case rig.Splice:
		return "splice"
	}
	switch p.Style {
	case "post", "post-clamp", "link":
		return "battery-post"
	case "bar":
		return "busbar"
	}
	return "lug-or-stud"
}

// cookedLooks are looks that only heat makes.
var cookedLooks = []string{"blued", "browned", "whole-holder-melted", "discoloured", "black-splash", "terminal-burnt", "plug-burnt"}

// brownC is the temperature in °C from which plastic and varnish around a part go
// brown or soft within hours (PVC softens from some 120 °C).
const brownC = 130

// cooked says whether anything there is brown, soft, blued or melted: it has been
// cooked before, or gets so hot when all runs that runs that it must have been.
func (s *Sim) cooked(p *Part) bool {
	if p.Browned || slices.Contains(cookedLooks, p.Look) {
		return true
	}
	c, ok := s.hotAt(p, s.Loaded(p.ID))
	return ok && c >= brownC
}

// What a contact shows by its ohms alone when no look was given: times its sound
// figure, and ohms at least.
const (
	filmTimes  = 5
	crustTimes = 20
	crustOhm   = 0.01
)

// jointLook is what the opened joint shows first.
func (s *Sim) jointLook(p *Part) string {
	if p.Look == "bright" && p.Jumps {
		return "loose-bright"
	}
	if s.option("joint_look", p.Look) {
		return p.Look
	}
	switch p.Look {
	case "crust":
		return "green-or-white"
	case "browned", "terminal-burnt":
		return "blued"
	case "wire-out":
		return "strands-out"
	case "twist-on":
		return "clip-or-twist-on"
	}
	sound := soundPart(s.sys, p.Part)
	switch {
	case p.Missing && (p.Kind == rig.Joint || p.Kind == rig.Screw):
		return "not-clamped"
	case s.cooked(p) && isJoint(p):
		return "blued"
	case p.Kind != rig.Joint && p.Kind != rig.Screw && p.Kind != rig.Splice:
		return "bright"
	case p.BarrelOhm > filmTimes*sound.BarrelOhm && p.Kind == rig.Joint:
		return "barrel-loose"
	case p.FaceOhm > filmTimes*sound.FaceOhm && !p.Jumps:
		return "dull-film"
	case p.FaceOhm > filmTimes*sound.FaceOhm && p.Kind == rig.Screw:
		return "strands-out"
	case p.FaceOhm > filmTimes*sound.FaceOhm:
		return "not-clamped"
	}
	return "bright"
}

// Looks of a fuse by what it carries and by what blew it.
const (
	oversizeTimes = 1.9 // what is in over what is printed
	agedShare     = 0.95
)

// fuseLook is what fuse and holder look like when the fuse is out.
func (s *Sim) fuseLook(p *Part) string {
	short := s.plant.Shorts[p.Circuit] > 0 || p.Circuit == "inverter" && s.plant.Inverter.Shorted
	switch {
	case p.Look == "whole" && p.Kind == rig.Fuse && s.cooked(p):
		return "whole-holder-melted"
	case s.option("fuse_look", p.Look):
		return p.Look
	case p.Kind == rig.Breaker && p.Blown:
		return "breaker-tripped"
	case p.Kind == rig.Breaker:
		return "whole"
	case p.FuseA > oversizeTimes*p.RatedA && p.RatedA > 0:
		return "bridged-or-oversize"
	case p.Blown && short:
		return "black-splash"
	case p.Blown:
		return "clean-break"
	case s.cooked(p):
		return "whole-holder-melted"
	}
	if v, ok := s.view(s.Loaded(p.ID)); ok && p.FuseA > 0 {
		if a := v.amps(p.ID); max(a, -a) > agedShare*p.FuseA {
			return "discoloured"
		}
	}
	return "whole"
}

// leadLook is what tugging and opening finds first along one lead between
// battery and controller. A wire that is broken inside its sheath looks sound.
func (s *Sim) leadLook(minus bool) string {
	for _, circuit := range []string{"controller", "battery"} {
		for p := range s.inOrder {
			if p.Circuit != circuit || p.Minus != minus {
				continue
			}
			if p.Kind != rig.Splice && p.Kind != rig.Joint && p.Kind != rig.Screw {
				switch {
				case s.option("plus_splice_look", p.Look) && p.Look != "sound":
					return p.Look
				case p.Kind == rig.Wire && (p.Missing || p.Broken && p.Browned):
					return map[bool]string{true: "browned", false: "wire-out"}[p.Browned]
				}
				continue
			}
			if look := s.spliceLook(p); look != "sound" {
				return look
			}
		}
	}
	return "sound"
}

func (s *Sim) spliceLook(p *Part) string {
	if s.option("plus_splice_look", p.Look) {
		return p.Look
	}
	switch p.Look {
	case "green-or-white":
		return "crust"
	case "barrel-loose", "strands-out", "not-clamped":
		return "wire-out"
	}
	switch {
	case p.Missing || p.Broken:
		return "wire-out"
	case s.cooked(p):
		return "browned"
	case p.FaceOhm > crustTimes*soundPart(s.sys, p.Part).FaceOhm && p.FaceOhm > crustOhm:
		return "crust"
	}
	return "sound"
}

// option says whether a word is an option of a reading.
func (s *Sim) option(reading, word string) bool {
	r := s.readings[reading]
	return word != "" && r != nil && r.OptionByID(word) >= 0
}

// hottest is the part that a person would point at: one that has been cooked, or
// the one that is warmest above what is around it when all runs; nil where
// nothing is more than warm.
func (s *Sim) hottest() *Part {
	var most *Part
	top := 30.0 // K above the air, from which the hand says hot
	for p := range s.inOrder {
		if p.Browned || slices.Contains(cookedLooks, p.Look) {
			return p
		}
		c, ok := s.hotAt(p, s.Loaded(p.ID))
		if rise := c - s.airAt(p); ok && rise > top {
			top, most = rise, p
		}
	}
	return most
}
