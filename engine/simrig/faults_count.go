package simrig

import (
	"slices"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// shown is what a monitor shows that counts k times the true use since full.
func shown(p *Plant, k float64) float64 { return within(100-k*(100-p.Battery.Charge), 0, 100) }

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

// countFaults make a monitor count other amps than flow.
func countFaults() []*Fault {
	return []*Fault{
		{
			ID: "shunt-set-wrong", Name: "the monitor is set to another shunt",
			Sites: when(func(s *rig.System) bool { return len(otherShunts(s.Monitor.Shunt)) > 0 }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				labels := electric.Shunts()
				set := oneOf(chance, otherShunts(p.Sys.Monitor.Shunt)...)
				f, err := electric.ShuntFactor(slices.Index(labels, p.Sys.Monitor.Shunt), slices.Index(labels, set))
				if err != nil {
					return
				}
				p.Monitor.ShuntSet, p.Monitor.Pattern = set, "too-fast-or-slow"
				p.Monitor.Percent = shown(p, f)
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
				p.Monitor.Pattern = oneOf(chance, "wrong-direction", "wrong-direction", "stuck-at-100")
				p.Monitor.Percent = 100
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
				p.Monitor.Pattern = oneOf(chance, "stuck-at-100", "nonsense-at-times")
				p.Monitor.Percent = 100
			},
			Seen:   "The amps stand at nought.",
			Repair: "The wire is pushed home and its screw tightened.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice",
		},
		{
			ID: "monitor-cable-damaged", Name: "the monitor's thin cable is joined or crushed",
			Sites: when(counts),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.Wire, p.Monitor.Pattern = "joined-or-damaged", "nonsense-at-times"
				p.Monitor.Percent = between(chance, 5, 95)
			},
			Seen:   "The display shows dashes now and then.",
			Repair: "The cable is renewed in one piece.",
			Shown:  []string{percentWrong}, Source: "practice",
		},
		{
			ID: "sense-wires-long", Name: "the monitor's sense wires are long and not twisted",
			Sites: when(func(s *rig.System) bool { return counts(s) && inverts(s) }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Monitor.Wire, p.Monitor.Pattern = "long-untwisted-sense-leads", "nonsense-at-times"
				p.Monitor.Percent = between(chance, 5, 95)
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
				ids := dcLoads(5 * s.Volts)(s)
				if inverts(s) {
					ids = append(ids, "inverter")
				}
				return ids
			},
			Apply: func(p *Plant, at string, _, chance float64) {
				past(p, at)
				p.Monitor.Pattern = oneOf(chance, "too-fast-or-slow", "too-fast-or-slow", "quits-above-zero")
				p.Monitor.Percent = shown(p, 0.4)
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
				p.Monitor.Pattern = oneOf(chance, "too-fast-or-slow", "never-100")
				p.Monitor.Percent = between(chance, 0, 30)
			},
			Seen:   "Two leads sit on the minus post.",
			Repair: "The controller's minus is moved to the system side of the shunt.",
			Shown:  []string{percentWrong, neverFull}, Source: "practice",
		},
		{
			ID: "zero-drift", Name: "the monitor counts amps that do not flow",
			Sites: when(counts), Lo: 0.09, Hi: 0.7, Log: true, Unit: "A",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Monitor.ZeroA = severity
				if chance < 0.7 {
					p.Monitor.ZeroA = -severity
				}
				p.Monitor.Pattern, p.Monitor.Idle, p.Monitor.Weeks = oneOf(chance, "drifts-when-idle", "wrong-after-storage"), true, 2
				drift := 168 * p.Monitor.Weeks * p.Monitor.ZeroA / max(p.Sys.Battery.Ah, 1) * 100
				p.Monitor.Percent = within(p.Battery.Charge+drift, 0, 100)
			},
			Seen:   "The percentage creeps with everything off.",
			Repair: "The zero is calibrated with no current through the shunt.",
			Shown:  []string{percentWrong}, Source: "practice: 168 h a week",
		},
		{
			ID: "capacity-set-small", Name: "the amp-hours set in the monitor are too few",
			Sites: when(counts), Lo: 0.4, Hi: 0.85,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Monitor.Ah, p.Monitor.Pattern = severity*p.Sys.Battery.Ah, "too-fast-or-slow"
				p.Monitor.Percent = shown(p, 1/severity)
			},
			Seen:   "It shows nought, and everything still runs.",
			Repair: "The bank's amp-hours are set.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice: two batteries side by side add up",
		},
		{
			ID: "capacity-set-big", Name: "the amp-hours set in the monitor are too many",
			Sites: when(counts), Lo: 1.2, Hi: 2.5,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Monitor.Ah, p.Monitor.Pattern = severity*p.Sys.Battery.Ah, "quits-above-zero"
				p.Monitor.Percent = shown(p, 1/severity)
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
				if lithium(p.Sys) {
					p.Monitor.Efficiency, p.Monitor.Pattern = between(severity, 80, 96), "too-fast-or-slow"
					p.Monitor.Percent = shown(p, 1.25)
					return
				}
				p.Monitor.Efficiency = between(severity, 97, 100)
				p.Monitor.Pattern = oneOf(chance, "jumps-to-100-early", "too-fast-or-slow")
				p.Monitor.Percent = shown(p, 0.8)
			},
			Repair: "The efficiency of this kind of battery is set.",
			Shown:  []string{percentWrong}, Source: "battery textbook: lithium 99, lead 80 to 95 per cent",
		},
		{
			ID: "exponent-set-wrong", Name: "the exponent set is lead's, on lithium",
			Sites: when(func(s *rig.System) bool { return counts(s) && s.Battery.Chemistry == "lfp" }),
			Lo:    1.12, Hi: 1.3,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Monitor.Peukert, p.Monitor.Pattern = severity, "too-fast-or-slow"
				p.Monitor.Percent = shown(p, 1+1.7*(severity-1.05))
			},
			Seen:   "After a heavy day it shows nought at good volts.",
			Repair: "The exponent of lithium is set.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "battery textbook: lithium 1.05, flooded lead 1.25",
		},
	}
}
