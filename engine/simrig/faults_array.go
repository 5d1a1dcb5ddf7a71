package simrig

import (
	"hotlug/engine/rig"
)

// fewModules is the most modules in a row that still have too few volts for the
// controller to start in the sun; 0 if even one has enough or the row is no
// longer than that.
func fewModules(s *rig.System) int {
	margin := 0.3 // V, pulse-width
	if s.Controller.Type == "mppt" {
		margin = min(s.Controller.MarginV, 4)
	}
	for n := s.Array.Series - 1; n >= 1; n-- {
		if 0.97*s.Array.Voc*float64(n) < s.Volts+margin {
			return n
		}
	}
	return 0
}

// manyModules is the least modules in a row, more than there are, that pass the
// controller's limit on the coldest morning; 0 if nobody would join so many.
func manyModules(s *rig.System) int {
	for n := s.Array.Series + 1; n <= max(s.Array.Series+2, 2*s.Array.Series); n++ {
		if s.Array.Voc*float64(n)*(1-0.0032*(s.ColdestC-25)) > 1.02*s.Controller.PVLimitV {
			return n
		}
	}
	return 0
}

// arrayFaults are light, panels and the way to the controller's solar screws.
func arrayFaults() []*Fault {
	return []*Fault{
		{
			ID: "thick-cloud", Name: "thick cloud, a fiftieth of the sun or less",
			Sites: Anywhere, Lo: 4, Hi: 25, Log: true, Unit: "W/m2",
			Apply:  func(p *Plant, _ string, severity, _ float64) { p.Sky.Full = severity },
			Seen:   "The sky is dark grey and a hand throws no shadow.",
			Repair: "A clear hour comes.",
			Shown:  []string{noCharge}, NoFault: true, Source: "PV textbook; practice",
		},
		{
			ID: "dusk", Name: "dusk, no sun left",
			Sites: Anywhere, Lo: 0.3, Hi: 4, Log: true, Unit: "W/m2",
			Apply:  func(p *Plant, _ string, severity, _ float64) { p.Sky.Full = severity },
			Seen:   "The sun is down.",
			Repair: "The next day comes.",
			Shown:  []string{noCharge}, NoFault: true, Source: "PV textbook",
		},
		{
			ID: "snow-on-panels", Name: "snow lies on the panels",
			Sites: Anywhere, Lo: 0.975, Hi: 0.998,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Array.Dirt, p.Array.Look = severity, "snow-or-frost"
			},
			Seen:   "The panels are white.",
			Repair: "The snow is brushed off from the ground.",
			Shown:  []string{noCharge}, NoFault: true, Source: "PV textbook; practice",
		},
		{
			ID: "pv-isolator-broken", Name: "the solar switch passes nothing though its lever says on",
			Sites:  named("pv-isolator"),
			Apply:  on(func(_ *Plant, x *Part, _, chance float64) { x.Broken, x.Browned = true, chance > 0.7 }),
			Heard:  "The lever turns with less of a click than it did.",
			Repair: "The switch is renewed by one made for DC at these volts.",
			Shown:  []string{noCharge}, Source: "practice; IEC 62548",
		},
		{
			ID: "pv-lead-cut", Name: "the solar lead is cut",
			Sites: named("pv-pos", "pv-neg"),
			Apply: on(func(p *Plant, x *Part, _, chance float64) {
				x.Broken = true
				if chance < 0.6 {
					p.Array.Look = "lead-cut"
				}
			}),
			Seen:   "The solar lead is chafed through where it goes through the roof.",
			Repair: "The lead is renewed in solar cable.",
			Shown:  []string{noCharge}, Source: "practice; IEC 62548",
		},
		{
			ID: "pv-plug-open", Name: "a solar plug has come open inside",
			Sites: named("pv-plug-pos", "pv-plug-neg"),
			Apply: on(func(p *Plant, x *Part, _, chance float64) {
				x.Broken = true
				switch {
				case chance < 0.35:
					p.Array.Look, x.Browned = "plug-burnt", true
				case chance < 0.5:
					p.Array.Look = "box-loose"
				}
			}),
			Repair: "Both halves of the plug are renewed, of one make.",
			Shown:  []string{noCharge}, Source: "practice; IEC 62548",
		},
		{
			ID: "pv-plug-corroded", Name: "water in a solar plug has left it many ohms",
			Sites: named("pv-plug-pos", "pv-plug-neg"), Lo: 40, Hi: 400, Log: true, Unit: "ohm per 12 V",
			Apply:  on(func(p *Plant, x *Part, severity, _ float64) { x.FaceOhm = severity * twelves(p.Sys) }),
			Repair: "Both halves of the plug are renewed.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "array-reversed", Name: "plus and minus of the array are exchanged",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Array.Reversed = true },
			Seen:   "The solar lead was made up anew yesterday.",
			Repair: "The two leads are exchanged in the dark and marked.",
			Shown:  []string{noCharge}, Source: "practice; IEC 62548",
		},
		{
			ID: "array-too-few-volts", Name: "too few panels in a row for this bank",
			Sites:  when(func(s *rig.System) bool { return fewModules(s) > 0 }),
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Array.WrongV = fewModules(p.Sys) },
			Seen:   "The panels were joined anew after a move.",
			Repair: "The panels are joined in a row as the plan says.",
			Shown:  []string{noCharge}, Source: "typical data of several makers; PV textbook",
		},
		{
			ID: "bypass-diodes-shorted", Name: "panels in the row give nothing, their bypass diodes are shorted",
			Sites: when(func(s *rig.System) bool { return s.Array.Parallel == 1 && fewModules(s) > 0 }),
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Array.Shorted = p.Sys.Array.Series - fewModules(p.Sys)
			},
			Seen:   "There was a thunderstorm last week.",
			Repair: "The dead panels are replaced.",
			Shown:  []string{noCharge}, Source: "PV textbook: a shorted diode takes its cells' volts",
		},
		{
			ID: "array-too-many-volts", Name: "too many panels in a row for the controller in the cold",
			Sites: when(func(s *rig.System) bool { return manyModules(s) > 0 }),
			Apply: func(p *Plant, _ string, _, _ float64) {
				p.Array.WrongV = manyModules(p.Sys)
				p.Controller.Error = "pv-over-voltage"
			},
			Seen:   "A panel was added to the row.",
			Repair: "The panel that is one too many is taken out of the row.",
			Shown:  []string{noCharge}, Source: "NEC 690.7; typical data of several makers",
		},
	}
}
