package simrig

import (
	"math"

	"hotlug/engine/circuit"
	"hotlug/engine/rig"
)

// controllerShows are what the charge controller shows, says and does.
var controllerShows = map[string]func(*Sim, string) Answer{
	"controller_lit":   func(s *Sim, _ string) Answer { return yesNo(s.lit()) },
	"controller_error": lit(func(s *Sim) Answer { return Pick(s.controllerError()) }),
	"controller_system_v": lit(func(s *Sim) Answer {
		return printed(s.believedV())
	}),
	"system_volt_mode": lit(func(s *Sim) Answer {
		if s.plant.Controller.AutoV {
			return Pick("automatic")
		}
		return Pick("set-by-hand")
	}),
	"controller_stage": func(s *Sim, _ string) Answer {
		if !s.lit() {
			return Pick("dark")
		}
		return Pick(s.stage())
	},
	"controller_shown_batt_c": lit(func(s *Sim) Answer {
		if c, ok := s.believedC(); ok {
			return Shown(c, 1)
		}
		return Refuse("it has no battery sensor and shows no temperature")
	}),
	"controller_shown_pv_v": lit(func(s *Sim) Answer {
		v, ok := s.view(s.sunny())
		if !ok {
			return Refuse(noState)
		}
		return Shown(max(0, v.volts(rig.CtlPVPos, rig.CtlPVNeg)), 0.1)
	}),
	"pv_idle_shown_v": lit(func(s *Sim) Answer {
		if s.sys.Controller.Type == "pwm" {
			return Refuse("it has no menu in which charging can be switched off")
		}
		z := s.sunny()
		z.Chargers = false
		v, ok := s.view(z)
		if !ok {
			return Refuse(noState)
		}
		return Shown(max(0, v.volts(rig.CtlPVPos, rig.CtlPVNeg)), 0.1)
	}),
	"allow_wire": func(s *Sim, _ string) Answer {
		switch {
		case s.plant.Controller.Held:
			return Pick("off-or-damaged")
		case hasBMS(s.sys) && s.sys.Battery.App:
			return Pick("in-place")
		}
		return Pick("none")
	},
	"absorb_set_v": lit(func(s *Sim) Answer { return Shown(s.plant.Controller.AbsorbV, 0.1) }),
	"charge_limit_set_a": lit(func(s *Sim) Answer {
		limit := s.plant.Controller.LimitA
		switch {
		case limit < 0:
			limit = 0
		case limit == 0: // without a limit the setting stands at the rating
			limit = s.sys.Controller.RatedA
		}
		return Shown(limit, 0.1)
	}),
	"charger_shown_v": lit(func(s *Sim) Answer {
		v, ok := s.view(s.top())
		if !ok {
			return Refuse(noState)
		}
		return Shown(v.volts(rig.CtlBatPos, rig.CtlBatNeg)+s.plant.Controller.VoltsOff, 0.01)
	}),
	"works_on_direct_lead": func(s *Sim, _ string) Answer {
		v, ok := s.view(s.dark())
		// Taking its leads off and on restarts it; only a dead one stays dark.
		return yesNo(ok && !s.plant.Controller.Dead && v.volts(rig.PostPos, rig.PostNeg) >= s.wakesAt())
	},
	"alive_after_reset": func(s *Sim, _ string) Answer {
		v, ok := s.view(s.dark())
		return yesNo(ok && !s.plant.Controller.Dead && v.volts(rig.CtlBatPos, rig.CtlBatNeg) >= s.wakesAt())
	},
	"charges_after_restart": func(s *Sim, _ string) Answer {
		r := s.restarted()
		v, ok := r.view(r.sunny())
		// A trickle that is as good as none is no charge to anybody.
		return yesNo(ok && v.charge() >= max(chargeSeen, noChargeShare*s.sys.ChargeAmps()))
	},
}

// noState is the reason where a rig comes to no state that could be read.
const noState = "the rig comes to no steady state for this"

const (
	chargeSeen  = 0.3  // A on a display that people call charging
	wakePart    = 0.9  // of the volts from which it charges, its display wakes
	openSensorC = -40  // °C that stand for an open sensor
	coldBlockC  = 0    // °C under which controllers set for lithium keep the charge out (trade figures: 0, settable)
	lowPerV     = 10.5 // V per 12 V under which it complains of a low battery
	highPerV    = 15.5 // V per 12 V above which it complains of a high one
	pvWakesFrom = 150  // V of PV limit from which trackers take their feed from the panels as well (practice)
	pvReversed  = -0.3 // V at its PV screws
)

// lit lets only a controller with a lit display answer.
func lit(f func(*Sim) Answer) func(*Sim, string) Answer {
	return func(s *Sim, _ string) Answer {
		if !s.lit() {
			return Refuse("nothing on the controller is lit")
		}
		return f(s)
	}
}

// wakesAt is the battery volts from which the controller's display is lit.
func (s *Sim) wakesAt() float64 { return wakePart * s.sys.Controller.StartV }

// lit says whether the controller shows anything in the sun: fed by its battery
// screws, or by the panels if it is of the kind that is.
func (s *Sim) lit() bool {
	c := s.sys.Controller
	if s.plant.Controller.Dead {
		return false
	}
	v, ok := s.view(s.sunny())
	if !ok {
		return false
	}
	if v.volts(rig.CtlBatPos, rig.CtlBatNeg) >= s.wakesAt() {
		return true
	}
	return c.Type == "mppt" && c.PVLimitV >= pvWakesFrom && v.volts(rig.CtlPVPos, rig.CtlPVNeg) >= c.StartV+c.MarginV
}

// believedV is the system volts that the controller goes by.
func (s *Sim) believedV() float64 {
	if v := s.plant.Controller.SystemV; v > 0 {
		return v
	}
	return s.sys.Volts
}

// believedC is the battery temperature that the controller goes by; none without
// a sensor.
func (s *Sim) believedC() (float64, bool) {
	c, b := s.plant.Controller, s.plant.Battery
	switch {
	case c.SensorDead:
		return openSensorC, true
	case !s.sys.Controller.Sensor && c.SensorOff == 0:
		return 0, false
	}
	return b.CellC + b.WarmK + c.SensorOff, true
}

// coldBlock says whether the controller keeps the charge out of a lithium battery
// that it believes to be too cold.
func (s *Sim) coldBlock() bool {
	c, ok := s.believedC()
	return ok && c < coldBlockC && s.sys.Battery.Lithium()
}

// controllerError is what a lit controller complains of.
func (s *Sim) controllerError() string {
	c := s.plant.Controller
	v, ok := s.view(s.sunny())
	if !ok {
		return "none"
	}
	believed := s.believedV() / 12
	bat := v.volts(rig.CtlBatPos, rig.CtlBatNeg) + c.VoltsOff
	pv := v.volts(rig.CtlPVPos, rig.CtlPVNeg)
	b := s.plant.Battery
	switch {
	case c.Error != "":
		return c.Error
	case pv > s.sys.Controller.PVLimitV && s.sys.Controller.PVLimitV > 0:
		return "pv-over-voltage"
	case pv < pvReversed && s.sys.Controller.Type == "mppt": // the plain ones say nothing
		return "pv-reversed"
	case c.TooHot:
		return "too-hot"
	case bat > highPerV*believed:
		return "over-voltage"
	case bat < lowPerV*believed:
		return "battery-low"
	case s.coldBlock() && b.CellC+b.WarmK < coldBlockC:
		// What a false sensor makes it do it need not complain of: Error says so.
		return "too-cold"
	}
	return "none"
}

// stage is the charge stage that a lit controller shows in the sun.
func (s *Sim) stage() string {
	c := s.plant.Controller
	v, ok := s.view(s.sunny())
	switch {
	case c.Disabled:
		return "disabled"
	case s.controllerError() != "none": // a display with an error shows that, and no stage
		return "fault"
	case !ok || c.Hung || c.TooHot || c.Held:
		return "standby"
	case c.DeadOut: // it thinks that it charges
		if v.volts(rig.CtlPVPos, rig.CtlPVNeg) > v.volts(rig.CtlBatPos, rig.CtlBatNeg)+s.sys.Controller.MarginV {
			return "bulk"
		}
		return "standby"
	}
	switch v.mode() {
	case circuit.AtVolts:
		bat := v.volts(rig.CtlBatPos, rig.CtlBatNeg)
		if s.plant.Battery.Full || math.Abs(bat-c.FloatV) < math.Abs(bat-c.AbsorbV) {
			return "float"
		}
		return "absorption"
	case circuit.Tracking, circuit.Through, circuit.AtAmps, circuit.Low:
		if v.charge() > 0 {
			return "bulk"
		}
	}
	return "standby"
}

// restarted is the same rig with its controller switched off and on in the right
// order. It shares nothing that a solution is kept in.
func (s *Sim) restarted() *Sim {
	r := *s
	p := *s.plant
	r.plant = &p
	r.restartController()
	r.changed()
	return &r
}
