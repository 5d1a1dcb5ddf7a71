package simrig

import (
	"hotlug/engine/rig"
)

// sagVolts is how far the rig's loads together pull a new bank's volts down, in V
// per 12 V.
func sagVolts(s *rig.System) float64 {
	amps := 0.0
	if inverts(s) {
		amps = s.InverterAmps()
	}
	for _, l := range s.Loads {
		if !l.AC {
			amps += s.Amps(l)
		}
	}
	return amps * bankOhm(s) / twelves(s)
}

// rested is a battery that has rested since it was used.
func rested(p *Plant, _ string, _, _ float64) { p.Battery.Recent = "rested-after-use" }

// voltFaults are volts taken for charge, and volts that are not to be believed.
func voltFaults() []*Fault {
	restless := func(id, name, recent string, lo, hi float64) *Fault {
		return &Fault{
			ID: id, Name: name,
			Sites: when(counts), Lo: lo, Hi: hi, Unit: "V per 12 V beside the rest volts",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.Recent, p.Worry = recent, voltsDisagree
				p.Battery.TopV = restAt(p.Sys, p.Battery.Charge) + severity*twelves(p.Sys)
			},
			After:  rested,
			Repair: "The volts are read after hours of rest.",
			Shown:  []string{voltsDisagree}, NoFault: true, Source: "battery textbook",
		}
	}
	lead := func(s *rig.System) bool { return counts(s) && !lithium(s) }
	return []*Fault{
		{
			ID: "gauge-by-volts", Name: "the gauge only turns volts into a percentage",
			Sites: when(func(s *rig.System) bool { return counts(s) && sagVolts(s) > 0.3 }), // else it is how the rig was built
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Monitor.Source, p.Monitor.Pattern = "volts-only", "jumps-with-load"
			},
			Seen:   "The percentage falls as the kettle goes on and comes back after.",
			Repair: "A monitor with a shunt is fitted.",
			Shown:  []string{percentWrong, voltsDisagree}, NoFault: true, Source: "practice",
		},
		restless("volts-while-charging", "the volts were read while it charged", "charging-now", 0.3, 1.1),
		restless("volts-under-load", "the volts were read under load", "working-now", -0.7, -0.25),
		restless("volts-just-stopped", "the volts were read right after a charge", "just-stopped", 0.2, 0.7),
		{
			ID: "lithium-flat-curve", Name: "lithium's volts do not tell its charge",
			Sites: when(func(s *rig.System) bool { return counts(s) && s.Battery.Chemistry == "lfp" }),
			Lo:    30, Hi: 85, Unit: "% charge",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Battery.Charge = severity
				p.Battery.Recent, p.Worry = oneOf(chance, "rested-after-use", "rested-after-charge"), voltsDisagree
			},
			Seen:   "The chart on the wall gives another percentage.",
			Repair: "The amp-hours are believed, not the chart.",
			Shown:  []string{voltsDisagree}, NoFault: true, Stays: true, Source: "battery textbook",
		},
		{
			ID: "meter-tolerance", Name: "a simple meter is off by as much as it may be",
			Sites: when(lead), Lo: 0.3, Hi: 0.6, Unit: "V per 12 V",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Meter.HandGain, p.Worry = severity/12.6, voltsDisagree
				p.Battery.Recent = "rested-after-use"
			},
			After:  rested,
			Repair: "Another meter is taken for the volts.",
			Shown:  []string{voltsDisagree}, NoFault: true, Source: "typical data of several makers: 0.5 to 2.5 per cent and some digits",
		},
		{
			ID: "meter-battery-spent", Name: "the meter's own battery is spent and it reads far too much",
			Sites: when(lead), Lo: 0.95, Hi: 1.8, Unit: "V per 12 V",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Meter.HandGain, p.Meter.BadSet, p.Worry = severity/12.6, true, voltsDisagree
				p.Battery.Recent = "rested-after-use"
			},
			Seen:   "The meter shows a small battery in its corner.",
			After:  rested,
			Repair: "The meter gets a new battery.",
			Shown:  []string{voltsDisagree}, Source: "practice",
		},
		{
			ID: "cell-sense-wire", Name: "a thin sense wire in the battery is loose",
			Sites: when(func(s *rig.System) bool { return lithium(s) && s.Battery.App }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.Source = "battery-app"
				p.Battery.Cell = oneOf(chance, "jumps-without-current", "first-cell-low-against-meter")
			},
			Seen:   "One cell jumps in the app while nothing runs.",
			Repair: "The sense plug is pushed home by the maker.",
			Shown:  []string{percentWrong}, Source: "practice",
		},
		{
			ID: "true-reading", Name: "the reading is true, only nobody expected it",
			Sites: when(counts),
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Worry = percentWrong
			},
			Repair: "The reading is believed.",
			Shown:  []string{percentWrong}, NoFault: true, Stays: true, Source: "practice",
		},
	}
}
