package simrig

import "hotlug/engine/rig"

// looks are what the eye finds from the panels to the battery.
var looks = map[string]func(*Sim, string) Answer{
	"switches_seen":   func(s *Sim, _ string) Answer { return Pick(s.standsOpen()) },
	"sun_now":         func(s *Sim, _ string) Answer { return Pick(shadow(s.plant.Sky.Full)) },
	"array_look":      func(s *Sim, _ string) Answer { return Pick(s.arrayLook()) },
	"controller_look": func(s *Sim, _ string) Answer { return Pick(s.controllerLook()) },
	"plug_kind": func(s *Sim, place string) Answer {
		if p := s.partAt(place); p != nil && p.Kind == rig.Plug && p.Style != "" {
			return Pick(p.Style)
		}
		return Refuse("there is no plug at this place")
	},
	"switch_kind": func(s *Sim, place string) Answer {
		p := s.partAt(place)
		switch {
		case p == nil:
		case p.Kind == rig.Breaker:
			return Pick("breaker")
		case p.Kind == rig.Isolator || p.Kind == rig.Switch:
			return Pick("isolator")
		}
		return Refuse("there is no switch at this place")
	},
	"joint_pole": func(s *Sim, place string) Answer {
		p := s.partAt(place)
		switch {
		case p == nil:
			return Refuse("it is not clear which joint is meant")
		case p.Minus:
			return Pick("minus")
		}
		return Pick("plus")
	},
}

// Light that throws a sharp shadow, and any shadow at all, in W/m² on the level
// (reference sheet: no shadow 50-200, weak edge 200-500).
const (
	sharpShadow = 400
	anyShadow   = 150
)

func shadow(sun float64) string {
	switch {
	case sun >= sharpShadow:
		return "strong"
	case sun >= anyShadow:
		return "weak"
	}
	return "none"
}

// standsOpen follows the way from the panels to the controller and on to the
// battery, plus and minus, and names the first that stands open for all to see.
// What is broken inside looks closed. A brown screw of the controller, or its lid
// off, goes before all that.
func (s *Sim) standsOpen() string {
	switch s.controllerLook() {
	case "terminal-burnt":
		return "terminal-burnt"
	case "stands-open":
		return "lid-off"
	}
	for _, circuit := range []string{"array", "controller", "battery"} {
		for p := range s.inOrder {
			if p.Circuit == circuit {
				if seen := openLook(p); seen != "" {
					return seen
				}
			}
		}
	}
	return "all-on"
}

func openLook(p *Part) string {
	switch p.Kind {
	case rig.Isolator:
		switch {
		case !p.Open:
		case p.Circuit == "array":
			return "pv-isolator-off"
		default:
			return "battery-isolator-off"
		}
	case rig.Breaker:
		if p.Open || p.Blown {
			return "breaker-off"
		}
	case rig.Fuse:
		switch {
		case p.Missing:
			return "fuse-missing"
		case p.Blown:
			return "fuse-blown"
		}
	}
	if p.Missing {
		return "lead-off"
	}
	return ""
}

// What of the light or of the heat catches the eye from the ground.
const (
	shadeSeen = 0.75 // of the light that a substring gets
	dirtSeen  = 0.12 // of the light lost
	bondedK   = 38   // above the air at full sun; modules with air behind have 25 to 32
)

func (s *Sim) arrayLook() string {
	a := s.plant.Array
	if a.Look != "" {
		return a.Look
	}
	gone, burnt := false, false
	for p := range s.inOrder {
		if p.Circuit != "array" {
			continue
		}
		switch p.Kind {
		case rig.PVPlug:
			gone = gone || p.Missing
			burnt = burnt || p.Browned || p.Look != ""
		case rig.Wire: // those at the controller are not seen from the ground
			gone = gone || p.Missing && !meetsController(p)
		}
	}
	shaded := false
	for _, light := range a.Shade {
		shaded = shaded || light < shadeSeen
	}
	switch {
	case burnt:
		return "plug-burnt"
	case gone:
		return "some-not-connected"
	case shaded:
		return "shaded"
	case a.HotC >= bondedK:
		return "bonded-to-hot-roof"
	case a.Dirt >= dirtSeen:
		return "dirty"
	}
	return "sound"
}

// meetsController says whether a part ends at a screw of the controller.
func meetsController(p *Part) bool {
	for _, at := range []string{rig.CtlBatPos, rig.CtlBatNeg, rig.CtlPVPos, rig.CtlPVNeg} {
		if p.A == at || p.B == at {
			return true
		}
	}
	return false
}

func (s *Sim) controllerLook() string {
	if look := s.plant.Controller.Look; look != "" {
		return look
	}
	for p := range s.inOrder {
		if (p.Kind == rig.Screw || p.Kind == rig.Joint) && meetsController(p) && s.cooked(p) {
			return "terminal-burnt"
		}
	}
	return "sound"
}
