package simrig

import (
	"math"

	"hotlug/engine/rig"
)

// batteryShows are what the battery's app tells and what people know of it.
var batteryShows = map[string]func(*Sim, string) Answer{
	"bms_flag": func(s *Sim, _ string) Answer {
		if !s.sys.Battery.BMS || !s.sys.Battery.App {
			return Pick("no-app")
		}
		return Pick(s.flag())
	},
	"cut_when": func(s *Sim, _ string) Answer {
		if when := s.cutWhen(); when != "" {
			return Pick(when)
		}
		return Pick("does-not")
	},
	"rest_kind":      func(s *Sim, _ string) Answer { return Pick(s.restKind()) },
	"cell_behaviour": app(func(s *Sim) Answer { return Pick(s.cells()) }),
	"cell_temp_c":    app(func(s *Sim) Answer { return Shown(s.plant.Battery.CellC, 1) }),
	"bms_shown_v": app(func(s *Sim) Answer {
		v, ok := s.view(s.top())
		if !ok {
			return Refuse(noState)
		}
		return Shown(v.volts(rig.PostPos, rig.PostNeg)+s.plant.Battery.BMSOff, 0.01)
	}),
	"meter_difference_v": func(s *Sim, _ string) Answer {
		v, ok := s.view(s.SituationFor([]string{"idle"}, ""))
		if !ok {
			return Refuse(noState)
		}
		m := s.plant.Meter
		return Shown(math.Abs(m.HandGain*v.posts()-m.OffV), 0.01)
	},
}

// app lets only a battery with an app answer.
func app(f func(*Sim) Answer) func(*Sim, string) Answer {
	return func(s *Sim, _ string) Answer {
		if !s.sys.Battery.App {
			return Refuse("the battery has no app")
		}
		return f(s)
	}
}

// Temperatures in °C of the cells at which a protection cuts the charge (LFP,
// trade figures: 0 and 55 to 65).
const (
	cellsCold = 0
	cellsHot  = 55
)

// flag is the reason that the protection gives.
func (s *Sim) flag() string {
	b := s.plant.Battery
	switch {
	case b.Flag != "" && b.Flag != "none":
		return b.Flag
	case b.CellC < cellsCold:
		return "cold"
	case b.CellC >= cellsHot:
		return "hot"
	}
	return "none"
}

// cutWhen is when the protection lets go, "" if it does not.
func (s *Sim) cutWhen() string {
	b := s.plant.Battery
	if b.CutWhen != "" {
		return b.CutWhen
	}
	if s.sparkKind() == "battery-went-dead" {
		return "on-connecting"
	}
	if !b.Off && !b.NoCharge {
		return ""
	}
	switch s.flag() {
	case "low-volts":
		return "after-some-load"
	case "high-volts", "cell-difference":
		return "while-charging"
	case "over-current":
		return "big-load-starts"
	case "short":
		return "on-connecting"
	case "cold":
		return "in-cold"
	case "hot":
		return "in-heat"
	}
	return ""
}

// cells is how the cells look in the app.
func (s *Sim) cells() string {
	b := s.plant.Battery
	switch {
	case b.Cell != "" && b.Cell != "alike":
		return b.Cell
	case s.flag() == "cell-difference", s.flag() == "high-volts":
		return "high-on-charge-only"
	}
	return "alike"
}

// restKind is what the battery was doing: told, or by what flows as things are.
func (s *Sim) restKind() string {
	b := s.plant.Battery
	if b.Recent != "" {
		return b.Recent
	}
	v, ok := s.view(s.AsFound())
	still := 0.002 * b.Ah // A, a current that moves no volts
	switch {
	case !ok:
	case v.battery() > max(still, chargeSeen):
		return "charging-now"
	case v.battery() < -max(still, 1):
		return "working-now"
	case b.Full:
		return "rested-after-charge"
	}
	return "rested-after-use"
}
