package simrig

import (
	"hotlug/engine/rig"
)

// fullFaults are about the mark of full: never met, or met too early.
func fullFaults() []*Fault {
	never := func(p *Plant, chance float64) {
		// A count that nothing sets right again drifts off by what no setting catches:
		// less than anybody sees in a day, or it would be a fault of its own.
		p.Monitor.Weeks, p.Monitor.ZeroA = 4, -min(between(chance, 0.03, 0.045), 0.85*driftSeen/100*p.Sys.Battery.Ah/24)
		if e, _ := trueFactors(chem(p.Sys)); !lithium(p.Sys) {
			p.Monitor.Efficiency = min(p.Monitor.Efficiency, 100*e-1)
		}
	}
	// A charger that feels the cold charges lead the higher.
	higher := func(p *Plant) float64 {
		if cold := 25 - p.Battery.CellC; cold > 0 && p.Sys.Controller.Sensor && !lithium(p.Sys) {
			return 0.03 * cold * twelves(p.Sys)
		}
		return 0
	}
	early := func(p *Plant, chance float64) {
		p.Battery.Charge = min(p.Battery.Charge, between(chance, 45, 75))
	}
	told := func(s *rig.System) bool { return counts(s) && lithium(s) && s.Battery.App }
	return []*Fault{
		{
			ID: "full-volts-above-charger", Name: "the monitor waits for more volts than the charger gives",
			Sites: when(counts), Lo: 0.2, Hi: 0.6, Unit: "V per 12 V above the charger",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Monitor.FullV = p.Controller.AbsorbV + severity*twelves(p.Sys) + higher(p)
				never(p, chance)
			},
			Repair: "The mark of full is set below the charger's top volts.",
			Shown:  []string{neverFull, percentWrong}, Source: "practice",
		},
		{
			ID: "tail-set-small", Name: "the monitor waits for less current than the charger ends on",
			Sites: when(counts), Lo: 0.1, Hi: 0.5, Unit: "% of the amp-hours",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Monitor.TailPct = severity
				never(p, chance)
			},
			Repair: "The tail is set above the current on which the charger ends.",
			Shown:  []string{neverFull, percentWrong}, Source: "practice: charge ends at 1 to 4 per cent",
		},
		{
			ID: "days-too-short", Name: "the charge never gets to its top volts for want of sun",
			Sites: when(counts), Lo: 0.4, Hi: 1, Unit: "V per 12 V short",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Controller.ShortV = severity*twelves(p.Sys) + higher(p)
				never(p, chance)
			},
			Seen:   "It is winter, and the hut stands under trees.",
			Repair: "It is charged for a whole clear day with few loads.",
			Shown:  []string{neverFull, percentWrong}, Source: "practice",
		},
		{
			ID: "battery-app-volts-off", Name: "the battery's own electronics read other volts than there are",
			Sites: when(told), Lo: 0.05, Hi: 0.35, Log: true, Unit: "V per 12 V",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Battery.BMSOff = -severity * twelves(p.Sys)
				p.Monitor.Source, p.Worry = "battery-app", neverFull
				never(p, chance)
			},
			Repair: "Charger and battery are made to go by the same volts.",
			Shown:  []string{neverFull, percentWrong}, Source: "practice: hundredths of a volt decide at the top",
		},
		{
			ID: "charger-volts-off", Name: "the charger reads other battery volts than there are",
			Sites: when(told), Lo: 0.25, Hi: 0.5, Log: true, Unit: "V per 12 V",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Controller.VoltsOff = severity * twelves(p.Sys)
				never(p, chance)
			},
			Repair: "Its sense wires are led to the battery's posts.",
			Shown:  []string{neverFull, percentWrong}, Source: "practice",
		},
		{
			ID: "full-volts-low", Name: "the monitor's mark of full is passed at half charge",
			Sites: when(func(s *rig.System) bool { return counts(s) && lithium(s) }), Lo: 12.6, Hi: 13.1, Unit: "V per 12 V",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Monitor.FullV = severity * twelves(p.Sys)
				early(p, chance)
			},
			Seen:   "It says full in the morning and is empty at night.",
			Repair: "The mark of full is set a little below the charger's top volts.",
			Shown:  []string{percentWrong, voltsDisagree}, Source: "practice: lithium passes 13.2 V at half charge",
		},
	}
}
