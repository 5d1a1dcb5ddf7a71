package simrig

import "hotlug/engine/rig"

// controllerFaults are the charge controller, its settings and what it believes.
func controllerFaults() []*Fault {
	sensed := func(s *rig.System) bool { return s.Controller.Sensor && lithium(s) }
	// A sensor lies only beside a battery that is warm enough to be charged.
	warm := func(p *Plant) { p.Battery.CellC = max(p.Battery.CellC, 12) }
	return []*Fault{
		{
			ID: "controller-dead", Name: "the controller is dead",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Controller.Dead = true },
			Seen:   "Nothing on the controller is lit.",
			Repair: "The controller is replaced.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "allow-wire-off", Name: "the wire by which the battery lets the controller charge is off",
			Sites:  when(hasBMS),
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Controller.Held = true },
			Seen:   "The battery was changed last week.",
			Repair: "The wire is put back.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "controller-dead-output", Name: "the controller lives and gives nothing",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Controller.DeadOut = true },
			Seen:   "The display is lit and stands at nought amps.",
			Repair: "The controller is replaced.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "controller-input-shorted", Name: "the controller's solar input is shorted",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Controller.PVShort = true },
			Seen:   "The display shows next to no solar volts at noon.",
			Repair: "The controller is replaced, and what killed it is found.",
			Shown:  []string{noCharge}, Source: "practice: amps and no volts at the solar screws",
		},
		{
			ID: "controller-hung", Name: "the controller hangs",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Controller.Hung = true },
			Seen:   "The display does not change.",
			Repair: "It is switched off and on, battery first and solar last.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "controller-hot", Name: "the controller has stopped for heat",
			Sites: Anywhere,
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Controller.TooHot, p.Controller.Error = true, "too-hot"
			},
			Seen:   "The controller sits behind a cushion, and a lamp on it blinks.",
			Repair: "It gets air on all sides and cools.",
			Shown:  []string{noCharge}, Source: "typical data of several makers: stops at 65 to 80 °C",
		},
		{
			ID: "charging-disabled", Name: "charging is switched off in the controller",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Controller.Disabled = true },
			Repair: "Charging is switched on again in the settings.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "charge-limit-near-nought", Name: "the charge limit is set to next to nothing",
			Sites: Anywhere, Lo: 0.3, Hi: 1, Unit: "of 0.8 A, or of a twenty-fifth of the rig's charge amps",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Controller.LimitA = severity * min(0.8, 0.04*p.Sys.ChargeAmps())
			},
			Repair: "The limit is set to what battery and controller bear.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "wrong-volts-learned", Name: "the controller has taken the bank for one of fewer volts",
			Sites: when(func(s *rig.System) bool { return s.Volts > 12 }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Controller.AutoV, p.Controller.SystemV = true, p.Sys.Volts/2
				if chance > 0.7 {
					p.Controller.SystemV = 12
				}
			},
			Seen:   "The battery was off for the winter, with the panels left on.",
			Repair: "It is started beside the charged bank and its volts are set by hand.",
			Shown:  []string{noCharge}, Source: "typical data of several makers; practice",
		},
		{
			ID: "wrong-volts-set-low", Name: "the controller is set to fewer volts than the bank has",
			Sites: when(func(s *rig.System) bool { return s.Volts > 12 }),
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Controller.AutoV, p.Controller.SystemV = false, p.Sys.Volts/2
			},
			Repair: "The bank's volts are set.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "wrong-volts-set-high", Name: "the controller is set to more volts than the bank has",
			Sites: when(func(s *rig.System) bool { return s.Volts < 48 }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Controller.AutoV, p.Controller.SystemV = false, 2*p.Sys.Volts
				if chance > 0.8 {
					p.Controller.SystemV = 48
				}
			},
			Repair: "The bank's volts are set.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "sensor-reads-cold", Name: "the controller's battery sensor reads a frost that is not there",
			Sites: when(sensed), Lo: 1, Hi: 25, Unit: "K below 0 °C",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				warm(p)
				p.Controller.SensorOff = -p.Battery.CellC - severity
				p.Controller.Error = "too-cold"
			},
			Seen:   "The sensor hangs on the outer wall.",
			Repair: "The sensor is fixed to the battery's case or renewed.",
			Shown:  []string{noCharge}, Source: "practice: more than 5 K beside the true figure",
		},
		{
			ID: "sensor-open", Name: "the wire of the controller's battery sensor is broken",
			Sites: when(sensed),
			Apply: func(p *Plant, _ string, _, _ float64) {
				warm(p)
				p.Controller.SensorDead = true
				p.Controller.Error = "too-cold"
			},
			Repair: "The sensor is renewed.",
			Shown:  []string{noCharge}, Source: "practice: open, it stands at the end of its scale",
		},
	}
}
