package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// weekWatts is what draws the usable part within so many days.
func weekWatts(s *rig.System, days float64) float64 { return usableWh(s) / (24 * days) }

// behindFuse holds a load's watts to what its fuse bears.
func behindFuse(p *Plant, load string, watts float64) float64 {
	if f := p.Parts[load+"-fuse"]; f != nil {
		return min(watts, 0.6*f.RatedA*p.Sys.Volts)
	}
	return watts
}

// stands says that the rig stands alone for weeks.
func stands(p *Plant) { p.Drain.Standing = true }

// drainFaults are what empties a bank in a night, or while it stands.
func drainFaults() []*Fault {
	return []*Fault{
		{
			ID: "lamp-left-on", Name: "a lamp or an appliance was left on",
			Sites: ofLoad(func(_ *rig.System, l rig.Load) bool { return l.Watts >= 20 }),
			Apply: func(p *Plant, at string, _, _ float64) {
				l, _ := p.Sys.Load(at)
				leaveOn(p, at, l.Watts)
				p.Drain.Evening = "light-or-appliance-left-on"
			},
			Seen:   "Light falls through the hatch of the store room.",
			Repair: "It is switched off.",
			Shown:  []string{flatMornings}, Source: "practice",
		},
		{
			ID: "inverter-left-idling", Name: "the inverter idles all night",
			Sites: when(func(s *rig.System) bool {
				return inverts(s) && s.Inverter.IdleW > 8
			}),
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Drain.Evening = invIdles },
			Seen:   "Its green lamp is on.",
			Repair: "It is switched off in the evening.",
			Shown:  []string{flatMornings}, Source: "practice",
		},
		{
			ID: "relay-sticks", Name: "a relay that sticks joins another battery to the bank",
			Sites:  Anywhere,
			Apply:  func(p *Plant, _ string, _, _ float64) { p.Drain.Joined = true },
			Heard:  "The split relay has not clicked for weeks.",
			Repair: "The relay is renewed.",
			Shown:  []string{flatMornings}, Source: "practice",
		},
		{
			ID: "standing-load-hidden", Name: "something on one way draws day and night",
			Sites: dcLoads(1), Lo: 6, Hi: 24, Log: true, Unit: "days until flat",
			Apply: func(p *Plant, at string, severity, _ float64) {
				leaveOn(p, at, behindFuse(p, at, weekWatts(p.Sys, severity)))
				stands(p)
			},
			Seen:   "A small lamp glows behind the panel.",
			Repair: "It is found and unplugged.",
			Shown:  []string{flatStored}, Source: "practice",
		},
		{
			ID: "load-before-isolator", Name: "something is joined before the battery isolator",
			Sites: when(func(s *rig.System) bool { _, ok := s.Part("main-isolator"); return ok }),
			Lo:    6, Hi: 24, Log: true, Unit: "days until flat",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Drain.FrontA = weekWatts(p.Sys, severity) / p.Sys.Volts
				stands(p)
			},
			Seen:   "A thin red wire leaves from the plus post.",
			Repair: "It is moved behind the isolator.",
			Shown:  []string{flatStored}, Source: "practice",
		},
		{
			ID: "night-back-feed", Name: "the controller lets current back to the panels at night",
			Sites: when(func(s *rig.System) bool { return s.Array.Voc > 0 && usableWh(s)/s.Volts < 250 }),
			Lo:    8, Hi: 32, Log: true, Unit: "days until flat",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Drain.BackA = within(weekWatts(p.Sys, severity)/p.Sys.Volts*2, 0.05, 0.85)
				stands(p)
			},
			Repair: "The controller is replaced.",
			Shown:  []string{flatStored}, Source: "practice",
		},
		{
			ID: "panel-back-fed", Name: "the battery feeds the dark panels",
			Sites: when(func(s *rig.System) bool { return s.Array.Voc > 0 && usableWh(s)/s.Volts < 250 }), Lo: 1.6, Hi: 4.5, Log: true, Unit: "A",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Drain.BackA = max(severity, 1.3*nightDrain*usableWh(p.Sys)/p.Sys.Volts/nightOfDark)
			},
			Seen:   "The controller died, and somebody joined the panels to the bars.",
			Repair: "A new controller goes in between.",
			Shown:  []string{flatMornings}, Source: "practice",
		},
		{
			ID: "wet-leak", Name: "damp leaks to the frame",
			Sites: Anywhere, Lo: 8, Hi: 24, Log: true, Unit: "days until flat",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				n := &p.Drain
				n.Wet = true
				n.LeakA = weekWatts(p.Sys, severity) / p.Sys.Volts
				n.LeakOhm = math.Round(20000 + chance*200000)
				stands(p)
			},
			Seen:   "The fuse box is wet inside.",
			Repair: "The box is dried, rinsed and its gland turned down.",
			Shown:  []string{flatStored}, Source: "practice: a wet path passes far more than an ohmmeter finds",
		},
		{
			ID: "sleep-beats-panel", Name: "what is always on takes more than the panels bring",
			Sites: when(func(s *rig.System) bool {
				return sleepA(s) >= 0.04 && sleepHours(s, 0.35) >= 0.15
			}),
			Lo: 0.35, Hi: 0.7, Unit: "of what is drawn",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				leaveOn(p, "alarm", sleepA(p.Sys)*p.Sys.Volts)
				stands(p)
				p.Drain.SunHours = sleepHours(p.Sys, severity)
			},
			Seen:   "There has been snow on the panels since November.",
			Repair: "The loads are cut at the battery for the winter.",
			Shown:  []string{flatStored}, Source: "derived",
		},
		{
			ID: "stood-too-long", Name: "it stood until its own loss emptied it",
			Sites: Anywhere, Lo: 1, Hi: 1.6, Unit: "of the time that it takes",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				loss := map[string]float64{"flooded": 6, "agm": 3}[p.Sys.Battery.Chemistry]
				if loss == 0 {
					loss = 2
				}
				ah := usableWh(p.Sys) / p.Sys.Volts
				own := p.Sys.Controller.OwnW / p.Sys.Volts
				p.Drain.StoodH = severity * figure(5000)(electric.StoreHours(ah, loss, p.Sys.Battery.Ah, own))
			},
			Seen:   "Nobody was here since last summer.",
			Repair: "It is charged full, and topped up each month.",
			Shown:  []string{flatStored}, NoFault: true, Source: "battery textbook",
		},
		{
			ID: "days-too-dark", Name: "less comes in than is used at this time of the year",
			Sites: when(func(s *rig.System) bool { return s.Array.Voc > 0 }), Lo: 0.25, Hi: 0.6, Unit: "of what is used",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				label, share := p.Sys.Array.Watts(), arrives(p.Sys)
				p.Battery.UseWh = min(comfort*usableWh(p.Sys)/nightShare, 3*label)
				p.Drain.SunHours = within(severity*p.Battery.UseWh/(label*share), 0.2, 8)
				p.Drain.Evening = "not-full-at-dusk"
			},
			Seen:   "It is December.",
			Repair: "A second charger carries the winter.",
			Shown:  []string{flatMornings}, Source: "derived",
		},
		{
			ID: "loads-eat-the-charge", Name: "the loads use the charge as it comes",
			Sites: bearsTheCharge, Lo: 0.75, Hi: 1.1, Unit: "of the charge",
			Apply: func(p *Plant, at string, severity, _ float64) {
				watts := severity * p.Sys.ChargeAmps() * p.Sys.Volts
				if l, _ := p.Sys.Load(at); l.AC {
					watts *= p.Sys.Inverter.Eta
				}
				leaveOn(p, at, watts)
				p.Drain.Evening = "not-full-at-dusk"
			},
			Seen:   "It runs from morning to night.",
			Repair: "It runs only when the bank is full.",
			Shown:  []string{flatMornings}, Source: "practice",
		},
	}
}

// bearsTheCharge are the loads that can take all that the array gives.
func bearsTheCharge(s *rig.System) []string {
	var ids []string
	most := 1.1 * s.ChargeAmps()
	for _, l := range s.Loads {
		fuse, ok := s.Part(l.ID + "-fuse")
		if l.AC && s.Array.Voc > 0 && 0.8*s.Inverter.Watts > most*s.Volts || !l.AC && ok && 0.9*fuse.RatedA > most {
			ids = append(ids, l.ID)
		}
	}
	return ids
}

// arrives is the part of the panels' label watts that a day's sun brings to the
// posts.
func arrives(s *rig.System) float64 {
	if s.Controller.Type == "pwm" {
		return 0.62
	}
	return 0.75
}

// sleepA is what may be always on beside the controller without being worth a
// hunt, nearly 0.2 A for each 100 Ah.
func sleepA(s *rig.System) float64 {
	return 0.0018*s.Battery.Ah - s.Controller.OwnW/s.Volts - byDesign
}

// sleepHours is the hours of full sun that bring a part of what a sleeping rig
// takes in a day; 0 without an array.
func sleepHours(s *rig.System, part float64) float64 {
	if s.Array.Voc <= 0 {
		return 0
	}
	return part * 24 * 0.0018 * s.Battery.Ah * s.Volts / (s.Array.Watts() * arrives(s))
}
