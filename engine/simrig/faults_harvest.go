package simrig

import "hotlug/engine/rig"

// warmCopper is the resistance of copper at 40 °C, in Ω mm²/m.
const warmCopper = 0.0186

// thinnest is the size in mm² of the thinnest copper that somebody lays; what is
// lost above that sits at the wire's ends.
const thinnest = 0.5

// loses makes a wire one of so many ohms, thin or with bad ends.
func (p *Part) loses(ohm float64) {
	p.TrueMM2 = max(thinnest, warmCopper*p.Metres/ohm)
	p.FaceOhm = max(0, ohm-warmCopper*p.Metres/p.TrueMM2)
}

// tracks says whether the controller is one that tracks.
func tracks(s *rig.System) bool { return s.Controller.Type == "mppt" }

// sideBySide says whether the array has strings side by side, few enough that one
// is missed, and the controller gives all that they give.
func sideBySide(s *rig.System) bool {
	return s.Array.Parallel > 1 && s.Array.Parallel <= 4 && roomy(s)
}

// roomy says whether the controller gives all that the panels give, so that what
// they lose is missing at the battery.
func roomy(s *rig.System) bool { return s.ChargeAmps() < 0.98*s.Controller.RatedA }

// spareRow are the panels in a row that a part of one may go out of, and the
// controller still runs on the rest: it has volts to spare and misses them.
func spareRow(s *rig.System) bool {
	n := float64(s.Array.Series * max(1, s.Array.Bypass))
	left := (n - 1) / n
	return tracks(s) && roomy(s) && s.Array.Parallel == 1 && left < 0.78 && left*0.72*s.Array.Voc*float64(s.Array.Series) > 1.2*s.Volts+1.5
}

// harvestFaults are panels, light and limits that leave some of the charge.
func harvestFaults() []*Fault {
	return []*Fault{
		{
			ID: "string-off", Name: "one string of several gives nothing",
			Sites: when(sideBySide),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Array.Dead = 1
				if chance > 0.8 {
					p.Array.Look = "box-loose"
				}
			},
			Seen:   "Since the storm the amps at noon are a clean fraction of what they were.",
			Repair: "The open plug or fuse of that string is renewed.",
			Shown:  []string{halfArray, lowCharge}, Source: "practice; IEC 62548",
		},
		{
			ID: "panel-left-off", Name: "a string was not joined again",
			Sites: when(sideBySide),
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Array.Dead, p.Array.Look = 1, "some-not-connected"
			},
			Seen:   "The leads of one panel end in nothing.",
			Repair: "It is joined as the others are.",
			Shown:  []string{halfArray, lowCharge}, Source: "practice",
		},
		{
			ID: "string-weak", Name: "one string of several gives volts and few amps",
			Sites: when(func(s *rig.System) bool { return sideBySide(s) && s.Array.Parallel == 2 && s.Array.Isc > 5 }), Lo: 0.65, Hi: 0.85, Unit: "of its light lost",
			Apply:  func(p *Plant, _ string, severity, _ float64) { p.Array.Weak = severity },
			Repair: "The weak panel is replaced by one of the same kind.",
			Shown:  []string{halfArray, lowCharge}, Source: "PV textbook; practice",
		},
		{
			ID: "panel-part-out", Name: "a part of a panel is bridged by its diode",
			Sites:  when(spareRow),
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Array.OutParts = 1 },
			Seen:   "There was a thunderstorm last week.",
			Repair: "The panel is replaced.",
			Shown:  []string{lowCharge}, Source: "PV textbook: a shorted diode takes its cells' volts",
		},
		{
			ID: "panels-shaded", Name: "a shadow lies on a part of the array",
			Sites: when(roomy), Lo: 0.6, Hi: 0.9, Unit: "of the light kept off a part",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Array.Look, p.Array.Shade = "shaded", []float64{1 - severity}
				if chance > 0.6 {
					p.Harvest.Pattern = oneOf(chance*2-1, "late-start", "mornings-only")
				}
			},
			Seen:   "The shadow of a mast lies over the panels.",
			Repair: "What throws the shadow is moved.",
			Shown:  []string{lowCharge, partOfDay}, NoFault: true, Source: "PV textbook; practice",
		},
		{
			ID: "panels-dirty", Name: "dirt lies on the panels",
			Sites: when(roomy), Lo: 0.3, Hi: 0.6, Unit: "of the light kept off",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Array.Dirt, p.Array.Look = severity, "dirty"
			},
			Seen:   "Leaves and droppings lie on the glass.",
			Repair: "The panels are washed.",
			Shown:  []string{lowCharge}, NoFault: true, Source: "PV textbook; practice",
		},
		{
			ID: "panels-glued-to-roof", Name: "panels glued flat to a hot roof",
			Sites: Anywhere, Lo: 12, Hi: 25, Unit: "K hotter than usual at full sun",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Array.HotC, p.Array.Look, p.Harvest.Pattern = severity, "bonded-to-hot-roof", "mornings-only"
			},
			Seen:   "The amps of the cool morning are never met at noon.",
			Repair: "The panels get spacers and air behind them.",
			Shown:  []string{partOfDay}, Source: "PV textbook",
		},
		{
			ID: "pv-lead-thin", Name: "the solar lead loses too much",
			Sites: when(func(s *rig.System) bool {
				return tracks(s) && roomy(s) && 0.72*s.Array.Voc*float64(s.Array.Series) > 1.4*s.Volts+4
			}), Lo: 0.18, Hi: 0.24, Unit: "of the working volts",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				a := p.Sys.Array
				ohm := severity * a.Vmp * float64(a.Series) / (a.Imp * float64(a.Parallel))
				for _, id := range []string{"pv-pos", "pv-neg"} {
					if x := p.Parts[id]; x != nil {
						x.loses(ohm / 2)
					}
				}
			},
			Seen:   "The lead is pieced together under tape.",
			Repair: "A new solar cable in one piece is laid.",
			Shown:  []string{lowCharge}, Source: "Ohm's law; practice",
		},
		{
			ID: "charge-limit-set-low", Name: "a limit for the charge current is set low",
			Sites: Anywhere, Lo: 0.2, Hi: 0.42, Unit: "of the rig's charge amps",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Controller.LimitA = severity * p.Sys.ChargeAmps()
			},
			Seen:   "The amps stand at one number whatever the sun does.",
			Repair: "The limit is set to what battery and controller bear.",
			Shown:  []string{lowCharge}, Source: "practice",
		},
		{
			ID: "controller-slowed-by-heat", Name: "the controller has turned itself down for heat",
			Sites: Anywhere, Lo: 0.2, Hi: 0.42, Unit: "of the rig's charge amps",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				p.Harvest = Harvest{SlowedA: severity * p.Sys.ChargeAmps(), FinC: between(chance, 66, 82), Pattern: "fades-after-minutes"}
			},
			Seen:   "The locker in which the controller sits is packed full.",
			Repair: "It gets air on all sides and cools.",
			Shown:  []string{partOfDay, lowCharge}, Source: "typical data of several makers: less from 60 °C on",
		},
	}
}
