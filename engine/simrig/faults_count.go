package simrig

import (
	"slices"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// otherShunts are the labels that, set instead of the fitted one, put the amps
// plainly wrong.
func otherShunts(label string) []string {
	labels := electric.Shunts()
	own := slices.Index(labels, label)
	if own < 0 {
		return nil
	}
	var others []string
	for i, l := range labels {
		if f, err := electric.ShuntFactor(own, i); err == nil && (f < 0.7 || f > 1.4) {
			others = append(others, l)
		}
	}
	return others
}

// dayShare is the part of a day's use that a load or the inverter takes, by the
// monitor's own idea of a day.
func dayShare(s *rig.System, id string) float64 {
	all, own := s.Inverter.Watts*inverterDuty, 0.0
	if id == "inverter" {
		own = all
	}
	for _, l := range s.Loads {
		if l.AC {
			continue
		}
		all += l.Watts * loadDuty
		if l.ID == id {
			own = l.Watts * loadDuty
		}
	}
	if all == 0 {
		return 0
	}
	return own / all
}

// countFaults make a monitor count other amps than flow.
func countFaults() []*Fault {
	return []*Fault{
		{
			ID: "shunt-set-wrong", Name: "the monitor is set to another shunt",
			Sites: when(func(s *rig.System) bool { return len(otherShunts(s.Monitor.Shunt)) > 0 }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.ShuntSet = oneOf(chance, otherShunts(p.Sys.Monitor.Shunt)...)
			},
			Seen:   "The amps on the display are silly.",
			Repair: "The shunt that is printed is set, and the count starts at full.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice: factor of the two labels",
		},
		{
			ID: "shunt-reversed", Name: "the shunt or its sense wires are the wrong way round",
			Sites: when(counts),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.Reversed = true
			},
			Seen:   "The amps have a plus while only the lights are on.",
			Repair: "The two sense wires are exchanged.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice",
		},
		{
			ID: "sense-wire-loose", Name: "a sense wire of the monitor has come off",
			Sites: when(counts),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.Wire = "loose-plug"
			},
			Seen:   "The amps stand at nought.",
			Repair: "The wire is pushed home and its screw tightened.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice",
		},
		{
			ID: "monitor-cable-damaged", Name: "the monitor's thin cable is joined or crushed",
			Sites: when(counts),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.Wire = "joined-or-damaged"
			},
			Seen:   "The display shows dashes now and then.",
			Repair: "The cable is renewed in one piece.",
			Shown:  []string{percentWrong}, Source: "practice",
		},
		{
			ID: "sense-wires-long", Name: "the monitor's sense wires are long and not twisted",
			Sites: when(func(s *rig.System) bool { return counts(s) && inverts(s) }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.Wire = "long-untwisted-sense-leads"
			},
			Seen:   "The amps jump while the inverter runs.",
			Repair: "Short twisted wires are laid away from the inverter's cables.",
			Shown:  []string{percentWrong}, Source: "practice",
		},
		{
			ID: "load-past-shunt", Name: "a load's minus goes past the shunt",
			Sites: func(s *rig.System) []string {
				if !counts(s) {
					return nil
				}
				var ids []string
				for _, id := range append(dcLoads(5*s.Volts)(s), "inverter") {
					if dayShare(s, id) > 0.3 {
						ids = append(ids, id)
					}
				}
				return ids
			},
			Apply: func(p *Plant, at string, _, chance float64) {
				past(p, at)
			},
			Seen:   "Two leads sit on the minus post.",
			Repair: "The load's minus is moved to the system side of the shunt.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice",
		},
		{
			ID: "charger-past-shunt", Name: "the charge controller's minus goes past the shunt",
			Sites: when(counts),
			Apply: func(p *Plant, _ string, _, chance float64) {
				past(p, "controller")
				p.Worry = percentWrong // nothing is counted in all day, until the mark of full
			},
			Seen:   "Two leads sit on the minus post.",
			Repair: "The controller's minus is moved to the system side of the shunt.",
			Shown:  []string{percentWrong, neverFull}, Source: "practice",
		},
		{
			ID: "zero-drift", Name: "the monitor counts amps that do not flow",
			Sites: when(counts), Lo: 0.05, Hi: 0.35, Log: true, Unit: "A per 100 Ah",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Monitor.ZeroA = max(0.08, severity*p.Sys.Battery.Ah/100)
				if chance < 0.7 {
					p.Monitor.ZeroA = -p.Monitor.ZeroA
				}
				p.Monitor.Idle, p.Monitor.Weeks = chance > 0.4, 3
			},
			Seen:   "The percentage creeps with everything off.",
			Repair: "The zero is calibrated with no current through the shunt.",
			Shown:  []string{percentWrong}, Source: "practice: 168 h a week",
		},
		{
			ID: "load-draws-unseen", Name: "something draws day and night though all is taken to be off",
			Sites: func(s *rig.System) []string {
				if !counts(s) {
					return nil
				}
				return dcLoads(2.5 * s.Volts)(s)
			},
			Lo: 1.3, Hi: 2.5, Unit: "A",
			Apply: func(p *Plant, at string, severity, _ float64) {
				leaveOn(p, at, severity*p.Sys.Volts)
				p.Worry = percentWrong
			},
			Seen:   "It loses five per cent a night with everything off.",
			Repair: "What draws is found and switched off.",
			Shown:  []string{percentWrong}, Source: "practice",
		},
		{
			ID: "capacity-set-small", Name: "the amp-hours set in the monitor are too few",
			Sites: when(counts), Lo: 0.4, Hi: 0.8,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Monitor.Ah = severity * p.Sys.Battery.Ah
			},
			Seen:   "It shows nought, and everything still runs.",
			Repair: "The bank's amp-hours are set.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice: two batteries side by side add up",
		},
		{
			ID: "capacity-set-big", Name: "the amp-hours set in the monitor are too many",
			Sites: when(counts), Lo: 1.25, Hi: 2.5,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Monitor.Ah = severity * p.Sys.Battery.Ah
			},
			Seen:   "It goes dark at 40 per cent.",
			Repair: "The bank's amp-hours are set.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice: two batteries in a row do not add up",
		},
		{
			ID: "efficiency-set-wrong", Name: "the charge efficiency set is that of another kind of battery",
			Sites: when(func(s *rig.System) bool { return counts(s) && s.Battery.Chemistry != "other-lithium" }),
			Lo:    0, Hi: 1,
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Worry = percentWrong // by noon it is far behind or ahead; the mark of full hides it again
				if lithium(p.Sys) {
					p.Monitor.Efficiency = between(severity, 80, 92)
					return
				}
				p.Monitor.Efficiency = between(severity, 98, 100)
			},
			Repair: "The efficiency of this kind of battery is set.",
			Shown:  []string{percentWrong}, Source: "battery textbook: lithium 99, lead 80 to 95 per cent",
		},
		{
			ID: "exponent-set-wrong", Name: "the exponent set is lead's, on lithium",
			Sites: when(func(s *rig.System) bool { return counts(s) && s.Battery.Chemistry == "lfp" }),
			Lo:    1.12, Hi: 1.3,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Monitor.Peukert = severity
				p.Worry = percentWrong // seen after heavy days only, and gone with the next full charge
			},
			Seen:   "After a heavy day it shows nought at good volts.",
			Repair: "The exponent of lithium is set.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "battery textbook: lithium 1.05, flooded lead 1.25",
		},
	}
}
