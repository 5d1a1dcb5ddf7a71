package simrig

import (
	"math"
	"strings"

	"hotlug/engine/rig"
)

// loadShows are what is seen of the loads and read at them.
var loadShows = map[string]func(*Sim, string) Answer{
	"supply_seen": func(s *Sim, _ string) Answer { return Pick(s.supplySeen()) },
	"things_run":  func(s *Sim, _ string) Answer { return yesNo(s.thingsRun()) },
	"load_on_direct_lead": func(s *Sim, _ string) Answer {
		l, ok := s.loadInQuestion()
		if !ok {
			return Refuse("nobody knows which appliance is meant")
		}
		x := s.plant.Loads[l.ID]
		return yesNo(!x.Dead && s.lookOf(l.ID) == "")
	},
	"several_weak": func(s *Sim, place string) Answer {
		here := s.kindAt(place, rig.Fuse)
		for p := range s.inOrder {
			if _, load := s.sys.Load(p.Circuit); !load || p.Kind != rig.Fuse || p == here {
				continue
			}
			if p.ClipOhm > filmTimes*soundPart(s.sys, p.Part).ClipOhm {
				return Pick("yes")
			}
		}
		return Pick("no")
	},
	"way_has": func(s *Sim, place string) Answer {
		plug, sw := s.kindAt(place, rig.Plug) != nil, s.kindAt(place, rig.Switch, rig.Breaker) != nil
		switch {
		case plug && sw:
			return Pick("both")
		case plug:
			return Pick("plug")
		case sw:
			return Pick("switch")
		}
		return Pick("neither")
	},
	"stray_lead": func(*Sim, string) Answer { return Pick("no") },
	"flicker_when": func(s *Sim, _ string) Answer {
		if when := s.flickerWhen(); when != "" {
			return Pick(when)
		}
		return Pick("steady-dim-all") // so they feel, whatever a meter says
	},
	"flicker_stops_dark": func(s *Sim, _ string) Answer { return yesNo(s.flickerWhen() == "in-sun-at-full") },
	"flicker_in_sun":     func(s *Sim, _ string) Answer { return yesNo(s.flickerWhen() == "in-sun-at-full") },
	"fridge_run_min": func(s *Sim, _ string) Answer {
		l, ok := s.loadInQuestion()
		if !ok || !isFridge(l.ID) {
			return Refuse("that is no fridge")
		}
		if m := s.plant.Loads[l.ID].RunMin; m > 0 {
			return Shown(m, 1)
		}
		return Shown(soundRunMin, 1)
	},
	"pump_quiet": func(s *Sim, _ string) Answer {
		l, ok := s.loadInQuestion()
		return yesNo(!ok || s.lookOf(l.ID) != "pump-cycles-taps-shut")
	},
	"fed_by_converter": func(*Sim, string) Answer { return Pick("no") },
	"converter_out_v":  func(*Sim, string) Answer { return Refuse("this rig has no converter") },
	"converter_idle_v": func(*Sim, string) Answer { return Refuse("this rig has no converter") },
	"plug_drop_v": func(s *Sim, place string) Answer {
		p := s.kindAt(place, rig.Plug, rig.PVPlug)
		if p == nil {
			return Refuse("there is no plug in this wire")
		}
		r := s.readings["plug_drop_v"]
		return s.volts(r, s.SituationFor(r.State, p.ID), p.A, p.B, 1)
	},
	"load_lamp_v": func(s *Sim, _ string) Answer { return s.loadLamp() },
}

// soundRunMin is how long a fridge with air around it runs in an hour.
const soundRunMin = 20

func isFridge(id string) bool { return id == "fridge" || id == "freezer" }
func isLight(id string) bool  { return id == "lights" || id == "lamps" }
func isPump(id string) bool   { return strings.Contains(id, "pump") }

// lookOf is how a load looks, "" for sound.
func (s *Sim) lookOf(load string) string { return s.plant.Branch[load].Look }

// loadInQuestion is the load that the complaint is about.
func (s *Sim) loadInQuestion() (rig.Load, bool) {
	l, ok := s.sys.Load(s.circuitAt(""))
	return l, ok && !l.AC
}

// supplySeen follows the way from the battery to what is dead, plus and minus, and
// names what stands open there for all to see.
func (s *Sim) supplySeen() string {
	circuits := []string{"battery"}
	if l, ok := s.loadInQuestion(); ok {
		if s.plant.Loads[l.ID].Off {
			return "own-switch-off"
		}
		circuits = append(circuits, l.ID)
	}
	for _, circuit := range circuits {
		for p := range s.inOrder {
			if p.Circuit != circuit {
				continue
			}
			if p.Kind == rig.Switch && p.Open {
				return "own-switch-off"
			}
			switch seen := openLook(p); seen {
			case "":
			case "battery-isolator-off":
				return "isolator-off"
			default:
				return seen
			}
		}
	}
	return "all-on"
}

// Part of the posts' volts below which a load is weak, and of the rig's below which
// all is dead.
const (
	weakShare = 0.93
	deadShare = 0.5
)

// loadShare is the part of the posts' volts that a load has at its terminals when
// it is on alone.
func (s *Sim) loadShare(l rig.Load) float64 {
	st := s.at(Situation{Loads: LoadsSteady, Way: l.ID})
	if st.err != nil {
		return 0
	}
	posts := orNought(st.sol.Across(rig.PostPos, nodeName(rig.PostNeg)))
	there := orNought(st.sol.Across(rig.LoadPos(l.ID), rig.LoadNeg(l.ID)))
	return there / max(0.1, posts)
}

// loadWorks says whether a load does what it should.
func (s *Sim) loadWorks(l rig.Load) bool {
	x := s.plant.Loads[l.ID]
	return !x.Dead && !x.Off && s.lookOf(l.ID) == "" && s.loadShare(l) >= weakShare
}

// thingsRun says whether what the complaint is about runs, or all of it.
func (s *Sim) thingsRun() bool {
	if l, ok := s.loadInQuestion(); ok {
		return s.loadWorks(l)
	}
	return !s.allDead()
}

// allDead says whether nothing on DC gets volts once the sun is gone.
func (s *Sim) allDead() bool {
	st := s.at(Situation{Loads: LoadsLight})
	if st.err != nil {
		return false
	}
	return orNought(st.sol.Across(rig.BusPos, rig.BusNeg)) < deadShare*s.sys.Volts
}

// flickerWhen is when the lamps dim or flicker, "" for never.
func (s *Sim) flickerWhen() string {
	if s.plant.Drain.DawnV > 0 {
		return "off-then-on-at-night"
	}
	for _, l := range s.sys.Loads {
		x := s.plant.Loads[l.ID]
		switch {
		case l.AC || !isLight(l.ID):
		case x.Pulses && s.sys.Controller.Type == "pwm":
			return "in-sun-at-full"
		case s.loadShare(l) >= weakShare:
		case x.Frame:
			return "when-a-load-starts"
		default:
			return "one-circuit"
		}
	}
	return ""
}

// loadLamp is the volts at an appliance with a lamp across its two wires: what the
// way there and back lets through.
func (s *Sim) loadLamp() Answer {
	l, ok := s.loadInQuestion()
	if !ok {
		return Refuse("nobody knows which appliance is meant")
	}
	st := s.at(Situation{})
	if st.err != nil {
		return Refuse(noState)
	}
	way := 0.0
	for i := range s.gridOf().wires {
		w := &s.grid.wires[i]
		if w.part.Circuit != l.ID {
			continue
		}
		way += w.ohm
		if w.opens && open(w.part) {
			way += openOhm
		}
	}
	lamp := s.twelves() * 12 * 12 / lampWatts
	bars := orNought(st.sol.Across(rig.BusPos, rig.BusNeg))
	return s.read(s.readings["load_lamp_v"], math.Abs(bars)*lamp/(lamp+way))
}

// idle says whether a load takes nothing whatever it gets.
func (s *Sim) idle(load string) bool {
	x := s.plant.Loads[load]
	return x.Dead || x.Off
}

// loadPoint is a point at a load, or at the fuse of its way, or why there is none.
// The frame beside a load is at the minus bar's volts, unless the load comes home
// through it.
func (s *Sim) loadPoint(name, place string) (at, why string) {
	if name == "way-in" {
		f := s.kindAt(place, rig.Fuse)
		if f == nil {
			return "", "there is no fuse in this wire"
		}
		return f.A, ""
	}
	l, ok := s.sys.Load(s.circuitAt(place))
	switch {
	case !ok || l.AC:
		return "", "nobody knows which appliance is meant"
	case name == "load-pos":
		return rig.LoadPos(l.ID), ""
	case name == "load-neg", s.plant.Loads[l.ID].Frame:
		return rig.LoadNeg(l.ID), ""
	}
	return rig.BusNeg, ""
}
