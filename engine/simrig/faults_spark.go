package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// rushTrips says whether the rush into the inverter's capacitors is long and
// large enough for the bank's protection to take it for a short.
func rushTrips(s *rig.System) bool {
	if !hasBMS(s) || s.Battery.TripA <= 0 || s.Inverter.Farad <= 0 {
		return false
	}
	trips, err := electric.BMSTrips(restAt(s, s.Battery.Charge), bankOhm(s)+leadsOhm, s.Inverter.Farad, shortTimes*s.Battery.TripA, shortDelay)
	return err == nil && trips != 0
}

// loadAmps are the sites at the loads on DC that draw at least amps.
func loadAmps(amps float64) func(*rig.System) []string {
	return func(s *rig.System) []string { return dcLoads(amps * s.Volts)(s) }
}

// calmLoads are loadAmps on rigs that stay alive at the rush of their inverter.
func calmLoads(amps float64) func(*rig.System) []string {
	return func(s *rig.System) []string {
		if rushTrips(s) {
			return nil
		}
		return loadAmps(amps)(s)
	}
}

// blow opens the fuse that stands before the inverter with a black splash.
func blow(p *Plant) {
	for _, id := range []string{"inverter-fuse", "main-fuse"} {
		if x := p.Parts[id]; x != nil {
			x.Blown, x.Look = true, "black-splash"
			return
		}
	}
}

// trip makes the battery go dead at the moment of contact. It has come back since.
func trip(p *Plant, flag string) {
	p.Battery.Flag, p.Battery.CutWhen = flag, "on-connecting"
}

// sparkFaults are what happened at a contact. What the rig was like then is in
// the Event; the last joint of it is still open for the readings.
func sparkFaults() []*Fault {
	return append(rushFaults(), append(currentFaults(), wrongWayFaults()...)...)
}

// filledFirst is the same joint made anew, the capacitors filled through the right
// resistor.
func filledFirst(p *Plant, _ string, _, chance float64) {
	p.Event = Event{Joining: oneOf(chance, "inverter", "system"), Precharged: true}
}

// joining is the same joint about to be made anew, with everything off.
func joining(what string) func(p *Plant, at string, severity, chance float64) {
	return func(p *Plant, _ string, _, _ float64) { p.Event.Joining = what }
}

// solarOff is the solar switch opened before anything is parted.
func solarOff(p *Plant, _ string, _, _ float64) {
	if x := p.Parts["pv-isolator"]; x != nil {
		x.Open = true
	}
}

// levelPair are two batteries alike in charge, rested, with the chargers off.
func levelPair(p *Plant, at string, severity, chance float64) {
	solarOff(p, at, severity, chance)
	p.Battery.Recent = "rested-after-charge"
	p.Event = Event{Joining: "battery", OtherV: restAt(p.Sys, p.Sys.Battery.Charge), OtherOhm: bankOhm(p.Sys)}
}

// rushFaults have to do with the inverter's empty capacitors.
func rushFaults() []*Fault {
	return []*Fault{
		{
			ID: "normal-inrush", Name: "the inverter's empty capacitors fill",
			Sites: when(func(s *rig.System) bool { return inverts(s) && !rushTrips(s) }),
			Apply: func(p *Plant, _ string, _, chance float64) { p.Event.Joining = oneOf(chance, "inverter", "system") },
			After: filledFirst,
			Seen:  "One bright flash at the first touch.", Heard: "One sharp crack.",
			Repair: "The capacitors are filled through a resistor first.",
			Shown:  []string{sparked}, NoFault: true, Source: "capacitor law; practice",
		},
		{
			ID: "inrush-trips-battery", Name: "the battery's protection takes the rush for a short",
			Sites: when(func(s *rig.System) bool { return inverts(s) && hasBMS(s) }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Event.Joining = oneOf(chance, "inverter", "system")
				trip(p, "short")
			},
			After: filledFirst,
			Seen:  "A flash, and then everything was dark.", Heard: "One crack.",
			Repair: "The capacitors are filled through a resistor first.",
			Shown:  []string{sparked, zeroVolts}, Source: "capacitor law; typical data of several makers: 0.1 to 0.4 ms",
		},
		{
			ID: "precharge-with-load-on", Name: "a load draws behind the pre-charge resistor",
			Sites: func(s *rig.System) []string {
				if !inverts(s) || !hasBMS(s) {
					return nil
				}
				return loadAmps(1.5)(s)
			},
			Lo: 2, Hi: 3.5, Unit: "A through the resistor at once",
			Apply: func(p *Plant, at string, severity, _ float64) {
				load, _ := p.Sys.Load(at)
				leaveOn(p, at, load.Watts)
				p.Event = Event{Joining: "system", Precharged: true, PreOhm: 14.6 * twelves(p.Sys) / severity}
				trip(p, "over-current")
			},
			After: func(p *Plant, _ string, severity, _ float64) {
				p.Event = Event{Joining: "system", Precharged: true, PreOhm: 14.6 * twelves(p.Sys) / severity}
			},
			Seen: "The resistor gets hot, and the battery goes dead at the last contact.", Smelt: "Hot paint from the resistor.",
			Repair: "The load is switched off before the pre-charge.",
			Shown:  []string{sparked}, Source: "capacitor law; practice: a load of some ten watts holds the volts down",
		},
		{
			ID: "precharge-resistor-too-big", Name: "the pre-charge resistor is so big that ten seconds do not do",
			Sites: when(func(s *rig.System) bool { return inverts(s) && hasBMS(s) }),
			Lo:    6, Hi: 40, Log: true, Unit: "s, time constant",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				farad := p.Inverter.Farad
				if farad <= 0 {
					farad = max(p.Sys.Inverter.Farad, 1e-3)
				}
				p.Event = Event{Joining: oneOf(chance, "inverter", "system"), Precharged: true, PreOhm: severity / farad}
				trip(p, "short")
			},
			After: filledFirst,
			Seen:  "It flashes as if nothing had been filled.", Heard: "A crack at the last contact.",
			Repair: "A resistor for three amps at first touch is used.",
			Shown:  []string{sparked}, Source: "capacitor law: after three time constants 95 per cent",
		},
	}
}

// currentFaults are contacts made or broken while current flows.
func currentFaults() []*Fault {
	return []*Fault{
		{
			ID: "load-on-at-contact", Name: "a load was on while the joint was made",
			Sites: calmLoads(1.5),
			Apply: func(p *Plant, at string, _, _ float64) {
				load, _ := p.Sys.Load(at)
				leaveOn(p, at, load.Watts)
				p.Event.Joining = "system"
			},
			After: joining("system"),
			Seen:  "It sparks at every touch.", Heard: "It crackles at every touch.",
			Repair: "The load is switched off, and the circuit is closed by the isolator.",
			Shown:  []string{sparked}, Source: "practice",
		},
		{
			ID: "inverter-on-at-contact", Name: "the inverter was on while its cable was joined",
			Sites: when(func(s *rig.System) bool { return inverts(s) && !rushTrips(s) }),
			Lo:    30, Hi: 150, Log: true, Unit: "W per 12 V",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Inverter.Switch = true
				leaveOn(p, "inverter", severity*twelves(p.Sys))
				p.Event.Joining = oneOf(chance, "inverter", "system")
			},
			After: func(p *Plant, _ string, _, chance float64) { p.Event.Joining = oneOf(chance, "inverter", "system") },
			Seen:  "It sparks at every touch, each time as strong.", Heard: "It cracks at every touch.",
			Repair: "The inverter is switched off before it is joined.",
			Shown:  []string{sparked}, Source: "practice: an inverter that is on empties its capacitors at once",
		},
		{
			ID: "parted-while-charging", Name: "a battery lead was lifted while the sun charged",
			Sites: when(func(s *rig.System) bool { return s.ChargeAmps() > 4 && s.Battery.Charge < 95 }),
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Event = Event{Joining: "system", Parting: true}
			},
			After: solarOff,
			Seen:  "A blue flash as the lead came off.", Heard: "It hissed for a moment.",
			Repair: "The solar switch is opened first.",
			Shown:  []string{sparked}, Source: "practice",
		},
		{
			ID: "parted-with-load-on", Name: "a battery lead was lifted while a load was on",
			Sites: loadAmps(3),
			Apply: func(p *Plant, at string, _, _ float64) {
				load, _ := p.Sys.Load(at)
				leaveOn(p, at, load.Watts)
				p.Sky.Full = 0 // at night: nothing else explains the current
				p.Event = Event{Joining: "system", Parting: true}
			},
			After: func(p *Plant, _ string, _, _ float64) { p.Sky.Full = 0 }, // it is still night
			Seen:  "A flash as the lead came off.", Heard: "A crack.",
			Repair: "The load is switched off first.",
			Shown:  []string{sparked}, Source: "practice",
		},
		{
			ID: "pv-plug-parted", Name: "a solar plug was pulled apart in the sun",
			Sites: Anywhere,
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Event = Event{Joining: "device", Parting: true, PVPlug: true}
			},
			After: solarOff,
			Seen:  "A long yellow flash between the halves of the plug.", Heard: "A hiss.",
			Repair: "The solar switch is opened first, and both halves are renewed.",
			Shown:  []string{sparked}, Source: "practice; IEC 62548: solar plugs do not break a load",
		},
		{
			ID: "unequal-batteries", Name: "two batteries that are not level were joined",
			Sites: Anywhere, Lo: 0.3, Hi: 1.6, Log: true, Unit: "V per 12 V apart",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				apart := severity * twelves(p.Sys)
				if chance < 0.5 {
					apart = -apart
				}
				p.Event = Event{Joining: "battery", OtherV: restAt(p.Sys, p.Sys.Battery.Charge) + apart, OtherOhm: bankOhm(p.Sys)}
			},
			After: levelPair,
			Seen:  "A flash as the link went on.", Heard: "A crack at the first touch.",
			Repair: "Each is charged full by itself before they are joined.",
			Shown:  []string{sparked}, Source: "Ohm's law; practice: no more than 0.1 V apart",
		},
	}
}

// wrongWayFaults are exchanged poles, shorts and slipped tools.
func wrongWayFaults() []*Fault {
	return []*Fault{
		{
			ID: "leads-exchanged", Name: "plus and minus were exchanged at a device",
			Sites: func(s *rig.System) []string {
				if inverts(s) {
					return []string{"inverter", "device"}
				}
				return []string{"device"}
			},
			Apply: func(p *Plant, at string, _, _ float64) {
				p.Event = Event{Joining: at, Reversed: true, FuseBlew: true}
				if at == "inverter" {
					blow(p)
				}
			},
			After: func(p *Plant, at string, _, _ float64) { p.Event.Joining = at },
			Seen:  "A bright flash, and a fuse went.", Heard: "A bang.",
			Repair: "The leads are put right by the meter, and the fuses renewed.",
			Shown:  []string{sparked}, Source: "practice",
		},
		{
			ID: "battery-the-wrong-way-round", Name: "the second battery stands the wrong way round",
			Sites: Anywhere,
			Apply: func(p *Plant, _ string, _, _ float64) {
				v := restAt(p.Sys, p.Sys.Battery.Charge)
				p.Event = Event{Joining: "battery", Reversed: true, OtherV: v, OtherOhm: bankOhm(p.Sys)}
			},
			After: levelPair,
			Seen:  "A very bright flash at the first touch.", Heard: "A bang.",
			Repair: "The battery is turned round, nothing being joined.",
			Shown:  []string{sparked}, Source: "Ohm's law: both volts are in a row",
		},
		{
			ID: "inverter-shorted", Name: "the inverter's input is a short",
			Sites: when(inverts), Lo: 0.01, Hi: 1.5, Log: true, Unit: "ohm",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Inverter.Shorted, p.Inverter.Ohm = true, severity
				p.Event = Event{Joining: oneOf(chance, "inverter", "system"), FuseBlew: true}
				blow(p)
			},
			After: func(p *Plant, _ string, _, chance float64) { p.Event.Joining = oneOf(chance, "inverter", "system") },
			Seen:  "A flash, and the main fuse was black.", Heard: "A bang.", Smelt: "Burnt electronics.",
			Repair: "The inverter is replaced.",
			Shown:  []string{sparked}, Source: "practice: a sound input ends in thousands of ohms",
		},
		{
			ID: "short-in-branch", Name: "the wire of a load is shorted",
			Sites: dcLoads(1), Lo: 0.02, Hi: 2, Log: true, Unit: "ohm",
			Apply: func(p *Plant, at string, severity, _ float64) {
				short(p, at, severity)
				p.Event = Event{Joining: "device", FuseBlew: true}
				if x := p.Parts[at+"-fuse"]; x != nil {
					x.Blown, x.Look = true, "black-splash"
				}
			},
			After: joining("device"),
			Seen:  "A flash at the fuse as it was put in.", Heard: "A pop.",
			Repair: "The pinched length of wire is renewed.",
			Shown:  []string{sparked}, Source: "practice; IEC 60364-4-43",
		},
		{
			ID: "tool-bridged", Name: "a tool slipped and bridged live metal",
			Sites: named("post-pos", "post-neg"), Lo: 0.03, Hi: 0.12, Log: true, Unit: "V at full current across the struck joint",
			Apply: on(func(p *Plant, x *Part, severity, chance float64) {
				p.Event.Tool, p.Felt = oneOf(chance, "post", "frame"), x.ID
				x.FaceOhm, x.Look = severity/math.Max(x.FullA, 10), "blued"
			}),
			Seen: "A white flash, and a spanner with a notch burnt in.", Heard: "A bang.", Smelt: "Hot metal.",
			Repair: "The struck lug and post are dressed bright or renewed.",
			Shown:  []string{sparked}, Source: "practice; Ohm's law",
		},
	}
}
