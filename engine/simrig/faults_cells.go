package simrig

import "hotlug/engine/rig"

// cellFaults are what goes wrong inside a lithium battery.
func cellFaults() []*Fault {
	shows := func(s *rig.System) bool { return hasBMS(s) && s.Battery.App }
	return []*Fault{
		{
			ID: "trip-set-low", Name: "the battery's protection is set to let go at far fewer amps than its label says",
			Sites: when(func(s *rig.System) bool { return hasBMS(s) && s.Battery.TripA > 0 && dcAmps(s)+s.InverterAmps() > 10 }),
			Lo:    0.3, Hi: 0.6, Unit: "of what the evening takes",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.TripA = severity * min(dcAmps(p.Sys)+acShare[LoadsSteady]*p.Sys.InverterAmps(), testShare*p.Sys.Battery.TripA)
			},
			Heard:  "It clicks off when the kettle is switched on.",
			Repair: "The maker sets the limit to the battery's own figure.",
			Shown:  []string{cutsOff}, Source: "practice",
		},
		{
			ID: "cell-worn", Name: "one cell is worn and drops first under load",
			Sites: when(shows), Lo: 0.4, Hi: 0.9, Unit: "V below the others",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				wornOut(p, between(chance, 0.4, 0.7))
				b := &p.Battery
				b.Cell, b.Flag, b.CutWhen = "low-on-discharge-too", "low-volts", "after-some-load"
				b.Cells = Cells{Apart: severity, TopApart: between(chance, 0.15, 0.3)}
			},
			Seen:   "It lets go at 30 per cent when the kettle runs.",
			Repair: "The maker replaces the cell or the battery.",
			Shown:  []string{cutsOff, uneven, percentWrong}, Source: "practice",
		},
		{
			ID: "pack-bad-inside", Name: "the lithium battery has failed inside",
			Sites: when(hasBMS), Lo: 4, Hi: 9, Log: true, Unit: "times its resistance",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				b := &p.Battery
				b.Ohm *= severity
				b.Off, b.Dies, b.New = true, true, true
				b.CutWhen = oneOf(chance, "never-worked", "after-some-load")
			},
			Seen:   "It came last week and has never run a night.",
			Repair: "The maker gives another.",
			Shown:  []string{cutsOff, newBattery}, Source: "practice: some of each hundred are bad when they come",
		},
		{
			ID: "board-bleeds", Name: "a balancing board bleeds its cell all the time",
			Sites: when(shows), Lo: 0.06, Hi: 0.25, Unit: "V below the others",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				b := &p.Battery
				b.Cell = "one-cell-always-low-board-warm"
				b.Cells = Cells{Apart: severity, TopApart: between(chance, 0.15, 0.4)}
			},
			Seen:   "Cell three is the lowest, every day.",
			Repair: "The board is renewed, and the cell charged by itself.",
			Shown:  []string{uneven}, Source: "practice",
		},
		{
			ID: "lead-profile-set", Name: "a charge profile for lead is set for the lithium battery",
			Sites: when(func(s *rig.System) bool { return hasBMS(s) && s.Volts < 48 }), Lo: 14.8, Hi: 15.4, Unit: "V per 12 V",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Controller.AbsorbV, p.Controller.Profile = severity*twelves(p.Sys), oneOf(chance, "agm", "flooded")
				b := &p.Battery
				b.Charge, b.NoCharge, b.Flag, b.CutWhen = 99, true, "high-volts", "while-charging"
			},
			Seen:   "The app says high volts every noon.",
			Repair: "The profile for lithium is set, and every figure read back.",
			Shown:  []string{cutsOff}, Source: "IEC 62619; practice: cells trip from 3.65 V",
		},
	}
}
