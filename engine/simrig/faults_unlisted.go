package simrig

import (
	"hotlug/engine/rig"
)

// darkParts is how many of a row's substrings must be dark so that the rest has
// too few volts to start; 0 if it starts on any, or on none.
func darkParts(s *rig.System) int {
	all := s.Array.Series * max(s.Array.Bypass, 1)
	margin := 0.3
	if s.Controller.Type == "mppt" {
		margin = min(s.Controller.MarginV, 4)
	}
	for dark := 1; dark < all; dark++ {
		if left := 0.97 * s.Array.Voc * float64(s.Array.Series) * float64(all-dark) / float64(all); left < s.Volts+margin {
			return dark
		}
	}
	return 0
}

// unlistedFaults are what the knowledge has no finding for. It must not name
// something that is not so.
func unlistedFaults() []*Fault {
	list := []*Fault{
		{
			ID: "string-dead", Name: "one of the strings of panels gives nothing",
			Sites: when(func(s *rig.System) bool { return s.Array.Parallel >= 2 && counts(s) }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				p.Array.Dead = 1
				p.Worry = neverFull
			},
			Seen:   "It used to be full by noon.",
			Repair: "The open plug of that string is renewed.",
			Shown:  []string{neverFull}, Source: "PV textbook: (n-1)/n of the amps",
		},
		{
			ID: "row-shaded", Name: "shade on so many cells that the rest has too few volts",
			Sites: when(func(s *rig.System) bool { return darkParts(s) > 0 }), Lo: 0.01, Hi: 0.05, Log: true,
			Apply: func(p *Plant, _ string, severity, _ float64) {
				a := p.Sys.Array
				p.Array.Shade = make([]float64, a.Series*max(a.Bypass, 1))
				for i := range p.Array.Shade {
					p.Array.Shade[i] = 1
					if i < darkParts(p.Sys) {
						p.Array.Shade[i] = severity
					}
				}
				p.Array.Look = "shaded"
			},
			Seen:   "A sheet of board leans on the panels.",
			Repair: "What throws the shade is taken away.",
			Shown:  []string{noCharge}, Source: "PV textbook: bypass diodes cut dark substrings out",
		},
		{
			ID: "half-stage-dead", Name: "one of the controller's two power stages has failed",
			Sites: Anywhere, Lo: 0.25, Hi: 0.45, Unit: "of the amps that the panels could give",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Controller.StageA = severity * p.Sys.ChargeAmps()
			},
			Seen:   "It gave twice as much last year.",
			Repair: "The controller is replaced.",
			Shown:  []string{lowCharge}, Source: "practice: trackers of some size have two stages side by side",
		},
		{
			ID: "shunt-cooked", Name: "the shunt was once overheated and has more resistance than is printed on it",
			Sites: when(counts), Lo: 1.15, Hi: 1.4, Unit: "times its ohms",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Monitor.ShuntTimes = severity
				if x := p.Parts["shunt"]; x != nil {
					x.FaceOhm *= severity
				}
				p.Worry = percentWrong
			},
			Seen:   "The shunt is blue in its middle.",
			Repair: "The shunt is renewed.",
			Shown:  []string{percentWrong}, Source: "practice: manganin that was above 140 °C does not come back",
		},
		{
			ID: "pv-box-leaks", Name: "water in the solar switch lets current through from pole to pole",
			Sites: when(func(s *rig.System) bool { return s.Array.Voc > 0 }), Lo: 0.35, Hi: 0.7, Unit: "of the panels' best amps",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				a := p.Sys.Array
				p.Array.LeakOhm = 0.75 * a.Voc * float64(a.Series) / (severity * 0.8 * a.Isc * float64(max(1, a.Parallel)))
			},
			Smelt:  "The solar switch smells of wet ash.",
			Repair: "The switch is renewed and its glands turned down.",
			Shown:  []string{lowCharge}, Source: "practice; IEC 62548",
		},
		{
			ID: "battery-heater-on", Name: "the heating pad inside a lithium battery never switches off",
			Sites: when(lithium), Lo: 0.3, Hi: 0.6, Unit: "of what the bank holds, in a night",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Drain.InsideA = severity * usableWh(p.Sys) / p.Sys.Volts / nightOfDark
				p.Battery.WarmK += 6
			},
			Seen:   "No snow lies where the battery stands.",
			Repair: "The battery goes to its maker.",
			Shown:  []string{flatMornings}, Source: "practice: pads of 30 to 60 W, fed by the cells",
		},
		{
			ID: "all-panels-aged", Name: "all panels have aged alike, and look as they always did",
			Sites: Anywhere, Lo: 0.35, Hi: 0.6, Unit: "of their amps lost",
			Apply:  func(p *Plant, _ string, severity, _ float64) { p.Array.Dirt, p.Array.Look = severity, "sound" },
			Seen:   "The panels are twenty years old.",
			Repair: "The panels are replaced.",
			Shown:  []string{lowCharge}, Source: "practice: cracks too fine to be seen, and browned plastic over the cells",
		},
		{
			ID: "fridge-seal-torn", Name: "the seal of the fridge's door is torn",
			Sites: ofLoad(func(_ *rig.System, l rig.Load) bool { return isFridge(l.ID) }), Lo: 42, Hi: 60, Unit: "minutes an hour",
			Apply: func(p *Plant, at string, severity, _ float64) {
				p.state(at, func(x *LoadState) { x.RunMin = severity })
				p.Worry = fridgeStops
			},
			Seen:   "Ice grows around the door.",
			Repair: "The seal is renewed.",
			Shown:  []string{fridgeStops}, Source: "practice",
		},
	}
	for _, f := range list {
		f.Unlisted = true
	}
	return list
}
