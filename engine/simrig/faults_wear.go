package simrig

import (
	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// wornOut is what people used of a bank when it was sound, and still want of it:
// nearly all that it may give in a night.
func wornOut(p *Plant, share float64) {
	b := &p.Battery
	b.Ah, b.UseWh, b.New = share*p.Sys.Battery.Ah, 0.95*usableWh(p.Sys)/nightShare, true
}

func lead(s *rig.System) bool    { return !lithium(s) }
func flooded(s *rig.System) bool { return s.Battery.Chemistry == "flooded" }
func lone(s *rig.System) bool    { return s.Battery.Layout() == "single" }

// wearFaults are batteries that hold little, sag, are cold or warm, and those with
// which nothing is wrong.
func wearFaults() []*Fault {
	return []*Fault{
		{
			ID: "capacity-faded", Name: "the battery holds a part of its amp-hours",
			Sites: Anywhere, Lo: 0.35, Hi: 0.68, Unit: "of its label",
			Apply:  func(p *Plant, _ string, severity, _ float64) { wornOut(p, severity) },
			Seen:   "It goes dark before midnight.",
			Repair: "The battery is replaced.",
			Shown:  []string{flatMornings, newBattery, percentWrong}, Source: "battery textbook: spent below 80 per cent",
		},
		{
			ID: "battery-aged", Name: "the battery has aged to many times its resistance",
			Sites: Anywhere, Lo: 2.8, Hi: 6, Log: true, Unit: "times new",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				wornOut(p, between(chance, 0.45, 0.65))
				p.Battery.Ohm *= severity
			},
			Seen:   "The inverter cuts out as the kettle is switched on.",
			Repair: "The battery is replaced.",
			Shown:  []string{flatMornings, newBattery}, Source: "battery textbook: replaced from twice its resistance",
		},
		{
			ID: "battery-sulphated", Name: "the plates of the lead battery are sulphated",
			Sites: when(lead), Lo: 0.18, Hi: 0.4, Unit: "of its acid in the plates",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				wornOut(p, between(chance, 0.4, 0.65))
				b := &p.Battery
				b.Sulphate, b.Full, b.Charge, b.Recent = severity, true, 92, "rested-after-charge"
				b.Ohm *= 1 + severity
			},
			Seen:   "It is at its top volts a quarter of an hour after sunrise.",
			Repair: "The battery is replaced, as the sulphate did not dissolve.",
			Shown:  []string{flatMornings, newBattery}, Source: "battery textbook",
		},
		{
			ID: "cell-shorted", Name: "one cell of the lead battery is shorted",
			Sites: when(func(s *rig.System) bool { return lead(s) && lone(s) && s.Battery.CellC <= 31 }),
			Lo:    12, Hi: 17, Unit: "K warmer than the air",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				wornOut(p, between(chance, 0.4, 0.7))
				p.blocks()[0].Dead = 1
				b := &p.Battery
				b.Charge, b.Recent, b.WarmK = 94, "rested-after-charge", within(severity, 0, 45-b.CellC)
			},
			Seen:   "One side of the case is warm, and the charger never gets to its top.",
			Repair: "The battery is replaced and charged.", Charged: true,
			Shown: []string{hotBattery, newBattery}, Source: "battery textbook: a sixth of the volts is missing",
		},
		{
			ID: "water-low", Name: "the acid stands below the plates",
			Sites: when(flooded), Lo: 0.45, Hi: 0.65, Unit: "of its amp-hours left",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				wornOut(p, severity)
				p.Battery.Dry = true
				p.Battery.Ohm *= between(chance, 1.1, 1.5)
			},
			Seen:   "The bank smells a little on sunny days.",
			Repair: "Distilled water is put in, and the bank charged.",
			Shown:  []string{flatMornings, newBattery}, Source: "practice",
		},
		{
			ID: "battery-left-empty", Name: "the battery stands empty",
			Sites: Anywhere, Lo: 0.5, Hi: 6, Unit: "% charge",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				b := &p.Battery
				b.Charge, b.Recent, b.New = severity, "rested-after-use", true
			},
			Seen:   "A lamp was left on for a week. It is off now.",
			Repair: "It is charged full, and rests.", Charged: true,
			Shown: []string{newBattery}, Source: "battery textbook",
		},
		{
			ID: "bank-cold", Name: "the battery is cold through and through",
			Sites: when(func(s *rig.System) bool { return s.Battery.CellC >= 15 }), Lo: 0.5, Hi: 5.5, Unit: "°C",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.chill(severity)
				p.Battery.New, p.Worry = true, newBattery
			},
			Seen:   "There was frost all week.",
			Repair: "It is kept a day in a warm room.",
			Shown:  []string{newBattery}, NoFault: true, Source: "battery textbook",
		},
		{
			ID: "bank-too-small", Name: "a night takes more than the bank may give",
			Sites: Anywhere, Lo: 1.3, Hi: 2.5, Unit: "times what it may give",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.UseWh, p.Battery.New = severity*usableWh(p.Sys)/nightShare, true
			},
			Seen:   "A second freezer came with the last team.",
			Repair: "The freezer runs in sun hours only.",
			Shown:  []string{flatMornings, newBattery}, Source: "derived",
		},
		{
			ID: "battery-fine", Name: "the battery is sound",
			Sites: when(func(s *rig.System) bool { return s.Battery.CellC >= 10 }), // colder, the cold is the cause
			Apply: func(p *Plant, _ string, _, _ float64) { p.Battery.New, p.Worry = true, newBattery },
			Seen:  "They changed it because the last one was old.", Repair: "Nothing.",
			Shown: []string{newBattery}, NoFault: true, Stays: true, Source: "practice: most batteries that are changed were not the fault",
		},
		{
			ID: "battery-in-hot-place", Name: "the battery is warm all through by where it stands",
			Sites: when(func(s *rig.System) bool { return s.Battery.CellC <= 29 }), Lo: 15, Hi: 20, Unit: "K over the air",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.WarmK = within(severity, 0, 45-p.Battery.CellC)
			},
			Seen:   "It stands against the engine's wall.",
			Repair: "It gets air on every side, and a board between it and the engine.",
			Shown:  []string{hotBattery}, Source: "IEC 62619; practice",
		},
		{
			ID: "battery-overcharged", Name: "the charger goes higher than the lead battery bears",
			Sites: when(func(s *rig.System) bool { return lead(s) && s.Battery.CellC <= 30 && s.Battery.CellC >= 10 }),
			Lo:    42.5, Hi: 44, Unit: "°C",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				b := &p.Battery
				b.Charge, b.WarmK = 98, severity-b.CellC
				p.Controller.AbsorbV += between(chance, 0.4, 0.5) * twelves(p.Sys)
			},
			// What it is set to is then what is right as warm as it is.
			After: func(p *Plant, _ string, _, _ float64) {
				p.Controller.AbsorbV = figure(p.Controller.AbsorbV)(electric.AbsorbTarget(chem(p.Sys), p.Sys.Volts, p.Battery.CellC))
			},
			Seen:   "The caps are damp, and the case is warm at noon.",
			Repair: "The top volts of its maker are set, and it cools.",
			Shown:  []string{hotBattery}, Source: "IEC 62485-2; battery textbook",
		},
		{
			ID: "battery-warm-by-work", Name: "the battery is as warm as its work makes it",
			Sites: when(func(s *rig.System) bool { return s.Battery.CellC <= 34 }), Lo: 3, Hi: 7, Unit: "K over the air",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.WarmK, p.Worry = severity, hotBattery
			},
			Seen:   "It is lukewarm after a day of sun.",
			Repair: "Nothing.",
			Shown:  []string{hotBattery}, NoFault: true, Stays: true, Source: "IEC 62485-2: up to 10 K at the end of a charge",
		},
	}
}
