package simrig

import (
	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// Symptoms of the inverter and of fuses.
const (
	inverterDead  = "inverter-dead"
	inverterStops = "inverter-stops"
	inverterNoisy = "inverter-noisy"
	fuseBlows     = "fuse-blows"
)

// anInverter is every rig with an inverter.
var anInverter = when(inverts)

// inverterIs makes an Apply of what is done to the inverter.
func inverterIs(do func(p *Plant, x *Inverter, severity, chance float64)) func(*Plant, string, float64, float64) {
	return func(p *Plant, _ string, severity, chance float64) { do(p, &p.Inverter, severity, chance) }
}

// usualShare is the part of its rating that runs on an inverter as a rule.
const usualShare = 0.6

// workVolts is what a sound bank has under the usual load of the inverter.
func workVolts(s *rig.System) float64 {
	rest := restAt(s, s.Battery.Charge)
	watts := usualShare * s.Inverter.Watts
	if trip := s.Battery.TripA; trip > 0 {
		watts = min(watts, testShare*trip*s.Volts*s.Inverter.Eta)
	}
	v, err := electric.InverterVolts(rest, bankOhm(s), watts, s.Inverter.Eta)
	if err != nil {
		return 0.9 * rest
	}
	return v
}

// restless says whether the bank is of lead, stands well above the limit for lead
// under the usual load, and falls plainly below its volts at rest.
func restless(s *rig.System) bool {
	work := workVolts(s)
	return inverts(s) && !lithium(s) && work > 11.85*twelves(s) && restAt(s, s.Battery.Charge)-work > 0.1*twelves(s)
}

// inverterFaults are those of the inverter itself, of its settings, its air and
// of what is plugged into it.
func inverterFaults() []*Fault {
	return []*Fault{
		{
			ID: "inverter-switched-off", Name: "the inverter's own switch or its remote is off",
			Sites: anInverter,
			Apply: inverterIs(func(_ *Plant, x *Inverter, _, chance float64) {
				x.Switch, x.Remote = chance < 0.5, chance < 0.5
			}),
			Repair: "The switch and the remote are switched on.",
			Shown:  []string{inverterDead}, Source: "practice",
		},
		{
			ID: "inverter-battery-empty", Name: "the battery is too empty for the inverter",
			Sites: anInverter, Lo: 1, Hi: 3, Unit: "% of charge",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				p.Battery.Charge, p.Sky.Full, x.LowStop = severity, 120, true
			}),
			Seen:   "The lights are dim.",
			Repair: "The battery is charged until the charger says full.",
			Shown:  []string{inverterDead}, Source: "data sheets: restart at 12.0 to 12.8 V per 12 V",
		},
		{
			ID: "inverter-latched", Name: "the inverter has locked itself off",
			Sites:  anInverter,
			Apply:  inverterIs(func(_ *Plant, x *Inverter, _, _ float64) { x.Latched = true }),
			Heard:  "It beeped once and was quiet.",
			Repair: "It is switched off for five minutes and on again.",
			Shown:  []string{inverterDead}, Source: "data sheets; practice",
		},
		{
			ID: "inverter-senses-low", Name: "the inverter takes its volts for less than they are",
			Sites: when(inverts), Lo: -0.3, Hi: 0.03, Unit: "V per 12 V under the bank's volts at rest at which it stops",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Inverter.SenseV = restAt(p.Sys, p.Battery.Charge) - p.Sys.Inverter.LowV - severity*twelves(p.Sys)
			},
			Heard:  "It beeps with a full battery.",
			Repair: "The inverter goes to its maker.",
			Shown:  []string{inverterStops, inverterDead}, Source: "practice",
		},
		{
			ID: "inverter-failed", Name: "the inverter has failed inside",
			Sites: anInverter,
			Apply: inverterIs(func(_ *Plant, x *Inverter, _, chance float64) {
				x.Dead, x.Alarm = chance < 0.6, chance >= 0.6
				if chance < 0.25 {
					x.Look = "burnt-smell"
				}
			}),
			Repair: "It is replaced.",
			Shown:  []string{inverterDead}, Source: "practice",
		},
		{
			ID: "inverter-wet", Name: "water or insects have got into the inverter",
			Sites: anInverter,
			Apply: inverterIs(func(_ *Plant, x *Inverter, _, chance float64) {
				x.Look, x.Alarm, x.Wails = "wet-or-dirt-or-insect", chance < 0.5, chance >= 0.5
			}),
			Seen: "There are marks of water below its vents.", Heard: "It beeps all the time.",
			Repair: "It is opened, dried and cleaned by its maker.",
			Shown:  []string{inverterNoisy, inverterDead}, Source: "practice",
		},
		{
			ID: "inverter-overloaded", Name: "more is plugged in than the inverter gives",
			Sites: anInverter, Lo: 1.15, Hi: 1.8, Unit: "of its rating",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				x.PlugW = severity * p.Sys.Inverter.Watts
			}),
			Seen:   "A heater is plugged in beside the kettle.",
			Repair: "One of the two is unplugged.",
			Shown:  []string{inverterStops, inverterNoisy}, Source: "data sheets",
		},
		{
			ID: "inverter-start-too-big", Name: "a motor takes more at its start than the inverter gives",
			Sites: anInverter, Lo: 2.2, Hi: 5, Unit: "times its rating, at the start",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				x.Starts, x.PlugW = "motor", severity*p.Sys.Inverter.Watts/startTimes["motor"]
			}),
			Heard:  "The compressor hums for a second, and all goes dark.",
			Repair: "The compressor is changed for one with its own electronics.",
			Shown:  []string{inverterStops}, Source: "inverter textbook: motors take five to seven times their watts",
		},
		{
			ID: "inverter-low-limit", Name: "the inverter's low limit is set too high for lead",
			Sites: when(restless), Lo: 0.15, Hi: 0.6, Unit: "of the way from the volts under its usual load to those at rest",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				x.LowV = between(severity, workVolts(p.Sys), restAt(p.Sys, p.Sys.Battery.Charge))
				p.Last = "rewired-or-reset"
			}),
			Repair: "The limit for lead is set.",
			Shown:  []string{inverterStops}, Source: "data sheets: 10.5 V for lead, 11.6 V for lithium",
		},
		{
			ID: "inverter-high-limit", Name: "the inverter's high limit lies below the charge volts",
			Sites: when(func(s *rig.System) bool { return inverts(s) && s.ChargeAmps() > 0 }),
			Lo:    0.15, Hi: 0.5, Unit: "V per 12 V below the charge volts",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				p.Battery.Charge = 99
				x.HighV = p.Controller.AbsorbV - severity*twelves(p.Sys)
			}),
			Repair: "The limit is set above the charge volts.",
			Shown:  []string{inverterStops}, Source: "data sheets; battery textbook",
		},
		{
			ID: "inverter-vents-blocked", Name: "the inverter's vents are covered",
			Sites: anInverter, Lo: 58, Hi: 80, Unit: "°C inside, as if in such air",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				x.BlockK, x.Look = severity-p.Sys.AmbientC, "vents-blocked"
			}),
			Seen:   "Bags lie against it.",
			Repair: "It gets a hand's width of air on every side.",
			Shown:  []string{inverterStops}, Source: "data sheets",
		},
		{
			ID: "inverter-in-heat", Name: "the inverter stands in hot air",
			Sites: anInverter, Lo: 47, Hi: 58, Unit: "°C of the air",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				x.AirC, x.PlugW = severity, 0.9*p.Sys.Inverter.Watts
			}),
			Seen:   "It stands in the sun, in a closed locker.",
			Repair: "It is moved to a cool place.",
			Shown:  []string{inverterStops}, Source: "data sheets: 1.5 to 2.5 % less for each K over 40 °C",
		},
		{
			ID: "inverter-fan-worn", Name: "the inverter's fan scrapes",
			Sites:  anInverter,
			Apply:  inverterIs(func(_ *Plant, x *Inverter, _, _ float64) { x.Scrapes = true }),
			Heard:  "It rattles and grinds when it works hard.",
			Repair: "Its maker renews the fan.",
			Shown:  []string{inverterNoisy}, Source: "practice",
		},
		{
			ID: "inverter-searches", Name: "the inverter only searches, for the load is too small for it",
			Sites: anInverter, Lo: 3, Hi: 30, Unit: "W",
			Apply: inverterIs(func(_ *Plant, x *Inverter, severity, _ float64) {
				x.Search, x.PlugW = true, severity
			}),
			Seen: "A lamp flickers every second.", Heard: "It knocks every second.",
			Repair: "The search mode is switched off.",
			Shown:  []string{inverterStops}, NoFault: true, Source: "data sheets: from 5 to 40 W",
		},
		{
			ID: "inverter-capacitors-dry", Name: "the inverter's input capacitors are dry",
			Sites: anInverter, Lo: 2, Hi: 6, Log: true, Unit: "times the ripple of a sound one",
			Apply: inverterIs(func(p *Plant, x *Inverter, severity, _ float64) {
				x.DryOhm = severity * smoothOhm(p.Sys)
			}),
			Heard:  "It hums loudly under load.",
			Repair: "Its maker renews the capacitors.",
			Shown:  []string{inverterNoisy}, Source: "inverter textbook",
		},
		{
			ID: "inverter-stepped-wave", Name: "a motor runs on an inverter with a stepped wave",
			Sites:  anInverter,
			Apply:  inverterIs(func(_ *Plant, x *Inverter, _, _ float64) { x.Stepped = true }),
			Heard:  "The fridge hums on the inverter.",
			Repair: "The appliance gets a pure sine wave.",
			Shown:  []string{inverterNoisy}, Source: "inverter textbook",
		},
		{
			ID: "inverter-hums", Name: "the inverter's transformer hums, and all is sound",
			Sites:  anInverter,
			Apply:  inverterIs(func(_ *Plant, x *Inverter, _, _ float64) { x.Iron = true }),
			Heard:  "It hums evenly.",
			Repair: "Nothing is done.",
			Shown:  []string{inverterNoisy}, NoFault: true, Stays: true, Source: "inverter textbook",
		},
		{
			ID: "inverter-fine", Name: "the inverter is sound, and has stopped once",
			Sites:  anInverter,
			Apply:  inverterIs(func(p *Plant, _ *Inverter, _, _ float64) { p.Worry = inverterStops }),
			Repair: "Nothing is done.",
			Shown:  []string{inverterStops}, NoFault: true, Stays: true, Source: "practice",
		},
	}
}
