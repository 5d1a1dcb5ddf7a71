package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// auditShows are what somebody finds who goes round a whole system before it goes
// out, and what its load output and its meters show.
var auditShows = map[string]func(*Sim, string) Answer{
	"fit_to_work":    func(*Sim, string) Answer { return yesNo(true) },
	"visual_audit":   func(s *Sim, _ string) Answer { return Pick(s.round()) },
	"fuse_audit":     func(s *Sim, _ string) Answer { return Pick(s.fuseRound()) },
	"settings_audit": func(s *Sim, _ string) Answer { return Pick(s.settingsRound()) },
	"isolator_audit": func(s *Sim, _ string) Answer {
		for p := range s.inOrder {
			if p.Welded {
				return Pick("one-stuck")
			}
		}
		return Pick("all-work")
	},
	"pair_sign_v": func(s *Sim, _ string) Answer {
		v := s.restVolts()
		if s.plant.Array.Reversed || s.plant.Event.Reversed {
			v = -v
		}
		return s.read(s.readings["pair_sign_v"], v)
	},
	"spot_c":      func(s *Sim, place string) Answer { return s.Take("joint_c", place) },
	"fuse_a":      func(s *Sim, place string) Answer { return s.Take("load_a", place) },
	"main_lead_a": func(s *Sim, _ string) Answer { return s.Take("load_a", "main-fuse") },

	// The loads of the simulated rigs hang on the bar, none on the controller.
	"load_mode":        func(*Sim, string) Answer { return Pick("always-on") },
	"lvd_off_v":        func(s *Sim, _ string) Answer { return printed(11.5 * s.twelves()) },
	"load_out_v":       func(s *Sim, _ string) Answer { return s.Take("ctl_bat_v", "") },
	"ctl_load_a":       func(*Sim, string) Answer { return printed(0) },
	"ctl_load_start_a": func(*Sim, string) Answer { return printed(0) },
	"error_when": func(s *Sim, _ string) Answer {
		switch c := s.plant.Controller; {
		case c.Dead:
			return Pick("goes-blank")
		case c.TooHot:
			return Pick("in-full-sun")
		}
		return Pick("always")
	},

	"meter_oddity": func(s *Sim, _ string) Answer {
		switch m := s.plant.Meter; {
		case m.BadSet:
			return Pick("impossible-value")
		case m.OffV != 0:
			return Pick("two-meters-same-points")
		case s.plant.Array.Reversed || s.plant.Event.Reversed:
			return Pick("minus-sign")
		}
		return Pick("impossible-value")
	},
	"meter_look": func(s *Sim, _ string) Answer {
		if s.plant.Meter.BadSet {
			return Pick("leads-over-half-ohm")
		}
		return Pick("right")
	},
	"known_cell_v":   func(s *Sim, _ string) Answer { return printed(math.Round(100*1.58*(1+s.plant.Meter.HandGain)) / 100) },
	"minus_between":  func(*Sim, string) Answer { return Pick("plus-and-minus") },
	"polarity_where": func(s *Sim, _ string) Answer { return Pick(s.doubtful()) },
}

// round is the first thing that eyes and a hand find on the dead system.
func (s *Sim) round() string {
	loose := false
	for p := range s.inOrder {
		if p.Browned {
			return "scorch"
		}
		loose = loose || p.Jumps && p.Kind == rig.Joint
	}
	switch {
	case s.plant.Danger == "water-on-parts":
		return "water-mark"
	case loose:
		return "lug-turns"
	}
	return "all-right"
}

// fuseRound is what following every plus wire shows: a fuse that is not there, or
// one above what its wire may carry at the very most (ISO 13297, 105 °C).
func (s *Sim) fuseRound() string {
	tooBig := false
	for p := range s.inOrder {
		if p.Kind != rig.Fuse {
			continue
		}
		if p.Missing || p.Bridged || p.Look == "bridged-or-oversize" {
			return "one-missing"
		}
		if w := s.wireOf(p); w != nil {
			most, err := electric.WireTableAmps(w.MM2, 105)
			tooBig = tooBig || err == nil && p.RatedA > most
		}
	}
	if tooBig {
		return "too-big-for-wire"
	}
	return "all-right"
}

// settingsRound is what reading the settings back against the rig's sheet shows.
func (s *Sim) settingsRound() string {
	c, built := s.plant.Controller, s.sys.Controller
	off := func(is, sheet float64) bool { return is != 0 && math.Abs(is-sheet) > 0.05*s.twelves() }
	switch {
	case c.SystemV != 0 && c.SystemV != s.sys.Volts:
		return "system-volts-differ"
	case c.Disabled, c.LimitA != built.LimitA, c.Profile != "", off(c.AbsorbV, built.AbsorbV), off(c.FloatV, built.FloatV):
		return "charge-differs"
	case s.plant.Inverter.LowV != 0 || s.plant.Inverter.HighV != 0:
		return "cut-off-differs"
	}
	return "match"
}

// doubtful is the pair that somebody doubts.
func (s *Sim) doubtful() string {
	if s.plant.Array.Reversed {
		return "pv-leads"
	}
	return "battery-or-inverter-leads"
}
