package simrig

import "hotlug/engine/rig"

// batteryFaults are the bank as the charge finds it.
func batteryFaults() []*Fault {
	return []*Fault{
		{
			ID: "battery-full", Name: "the battery is full",
			Sites: Anywhere,
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Battery.Full, p.Battery.Charge, p.Battery.Recent = true, 100, "charging-now"
				p.Worry = noCharge
			},
			Seen:   "The charge lamp shows the last stage.",
			Repair: "The battery is used for a night.",
			Shown:  []string{noCharge}, NoFault: true, Source: "practice",
		},
		{
			ID: "battery-too-cold", Name: "the lithium cells are too cold to be charged",
			Sites: when(func(s *rig.System) bool { return hasBMS(s) || lithium(s) && s.Controller.Sensor }),
			Lo:    -14, Hi: 1, Unit: "°C",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.CellC, p.Battery.NoCharge = severity, true
				if p.Sys.Battery.BMS {
					p.Battery.Flag = "cold"
				}
			},
			Seen:   "There was frost in the night, and the hut was empty.",
			Repair: "The battery is warmed in a heated room.",
			Shown:  []string{noCharge, cutsOff}, NoFault: true, Source: "IEC 62619; typical data of several makers: no charge below 0 to 5 °C",
		},
		{
			ID: "runner-cell", Name: "one cell runs ahead, and the battery keeps the charge out",
			Sites: when(hasBMS), Lo: 90, Hi: 96, Unit: "% charge",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Battery.Charge, p.Battery.NoCharge = severity, true
				p.Battery.Flag = oneOf(chance, "high-volts", "cell-difference")
				p.Battery.Cell, p.Battery.CutWhen = "high-on-charge-only", "while-charging"
				p.Battery.Cells.TopApart = between(chance, 0.2, 0.4)
			},
			Seen:   "Charging stops at noon on every sunny day.",
			Repair: "The cells are drawn level at lower volts.",
			Shown:  []string{noCharge, cutsOff, uneven}, Source: "practice: a cell from 3.65 V while the others are far below",
		},
		{
			ID: "battery-too-flat", Name: "the lead bank is too flat for a controller to start",
			Sites: when(lead), Lo: 4.5, Hi: 8.7, Unit: "V per 12 V",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.Charge, p.Battery.Recent = 0, "rested-after-use"
				p.Battery.TopV = severity * twelves(p.Sys)
			},
			Seen:   "Nothing in the hut is lit.",
			Repair: "The bank is raised by a charger made for it.",
			Shown:  []string{noCharge}, Source: "typical data of several makers: start from 9 to 10.5 V per 12 V",
		},
		{
			ID: "battery-asleep", Name: "the lithium battery has gone to sleep",
			Sites: when(hasBMS),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Battery.Charge, p.Battery.Off, p.Battery.Flag = 1, true, "low-volts"
				p.Battery.CutWhen = oneOf(chance, "in-storage", "after-some-load")
			},
			Seen:   "Nothing in the hut is lit, in full sun.",
			Repair: "It is woken by a charger made for it and charged.", Charged: true,
			Shown: []string{noCharge, cutsOff}, Source: "practice",
		},
		{
			ID: "battery-let-go", Name: "the lithium battery has let go after an overload and stays off",
			Sites: when(hasBMS),
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Battery.Off, p.Battery.Flag, p.Battery.CutWhen = true, "over-current", "big-load-starts"
			},
			Seen:   "All went dark as the kettle was switched on, and the sun does not bring it back.",
			Repair: "Loads off, it is woken by its button or a charger made for it.",
			Shown:  []string{noCharge, cutsOff}, Source: "practice: it waits until the load is gone or a charger comes",
		},
		{
			ID: "battery-hot-cells", Name: "the lithium cells are far too hot",
			Sites: when(hasBMS), Lo: 56, Hi: 64, Unit: "°C",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.CellC, p.Battery.NoCharge, p.Battery.Flag = severity, true, "hot"
				p.Battery.CutWhen, p.Danger = "in-heat", "battery-hot"
			},
			Seen:   "The case can't be touched for long.",
			Repair: "It is left alone, watched, and handed to its maker.",
			Shown:  []string{noCharge, hotBattery}, Source: "IEC 62619; practice: danger from 55 °C",
		},
		{
			ID: "battery-frozen", Name: "the flat lead battery is frozen",
			Sites: when(lead), Lo: -28, Hi: -14, Unit: "°C",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.CellC, p.Battery.Charge, p.Danger = severity, 8, "battery-frozen"
				p.Battery.Ohm = 20 * twelves(p.Sys) // ice conducts next to nothing
			},
			Seen:   "Rime on the case, and the lid is arched.",
			Repair: "It is thawed for a day and found cracked or whole.",
			Shown:  []string{noCharge}, Source: "battery textbook: flat, it freezes near -10 °C",
		},
	}
}
