package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// dangers are what nobody may go on with: answered for the moment at hand, with
// loads off and all cold, or in the midst of a test that was just begun.
var dangers = map[string]func(*Sim, string) Answer{
	"danger_now": func(s *Sim, _ string) Answer { return yesNo(s.Take("danger_what", "").Choice != "none-of-these") },
	"danger_what": func(s *Sim, _ string) Answer {
		if what := s.danger(); what != "" {
			return Pick(what)
		}
		return Pick("none-of-these")
	},
	"made_safe": func(s *Sim, place string) Answer { return yesNo(s.madeSafe(place)) },
}

// Temperatures in °C that people notice, and volts at which lead boils.
const (
	tooHotC     = 60   // bare metal that nobody holds for three seconds (ISO 13732: 58 to 60)
	palmC       = 50   // a case on which no palm rests
	smellC      = 115  // insulation and holders begin to smell
	meltC       = 150  // and to melt
	boilsOver   = 0.7  // V per 12 V over its right top volts at which a lead bank gasses so that it smells
	testSeconds = 60.0 // for which a test load runs
)

// danger is what is dangerous at this moment, the first in the order of the
// question that fits; "" for nothing.
func (s *Sim) danger() string {
	p := s.plant
	if p.Danger != "" {
		return p.Danger
	}
	v, ok := s.view(s.AsFound())
	if !ok {
		return ""
	}
	lead := !s.sys.Battery.Lithium()
	right := figure(15 * s.twelves())(electric.AbsorbTarget(chem(s.sys), s.sys.Volts, max(-10, min(50, p.Battery.CellC))))
	if lead && v.posts() > right+boilsOver*s.twelves() && v.battery() > 0 {
		return "egg-or-acid-smell"
	}
	if lead && p.Battery.CellC <= figure(-60)(electric.FreezeTemp(s.restVolts(), s.sys.Volts)) {
		return "battery-frozen"
	}
	if p.Battery.CellC+p.Battery.WarmK >= palmC {
		return "battery-hot"
	}
	switch c := s.hottestNow(); {
	case c >= meltC:
		return "melted-or-glowing"
	case c >= smellC:
		return "burnt-smell"
	case c >= tooHotC:
		return "part-too-hot"
	}
	return ""
}

// hottestNow is the temperature in °C of the hottest part in reach as things are:
// by what flows with the loads off, or after a minute of a test load.
func (s *Sim) hottestNow() float64 {
	top := math.Inf(-1)
	for p := range s.inOrder {
		if p.Circuit == "array" && p.ID != s.focus { // on the roof nobody feels it
			continue
		}
		if c, ok := s.hotAt(p, s.AsFound()); ok {
			top = max(top, c)
		}
	}
	if !s.testing() {
		return top
	}
	p := s.plant.Parts[s.focus]
	if p == nil {
		return top
	}
	if c, ok := s.hotAt(p, s.SituationFor([]string{"loads-on"}, s.focus)); ok {
		air := s.airAt(p)
		top = max(top, air+(c-air)*(1-math.Exp(-testSeconds/warmsIn(p))))
	}
	return top
}

// testing says whether the last thing done was to switch a load on for a test.
func (s *Sim) testing() bool {
	return s.justDid("load-on-one-minute") || s.justDid("load-as-before")
}

// warmsIn is the time constant of a part in seconds: minutes for a thin wire's
// joint, half an hour for a thick one (derived from the copper around it).
func warmsIn(p *Part) float64 {
	if p.Kind == rig.Fuse || p.Kind == rig.Plug || p.Kind == rig.Screw {
		return 240
	}
	return 240 + 12*p.MM2
}

// madeSafe says whether a part is off, cold and free of smoke half an hour after
// everything was switched off.
func (s *Sim) madeSafe(place string) bool {
	switch s.plant.Danger {
	case "", "panel-broken", "bare-live-metal", "battery-frozen", "part-too-hot", "burnt-smell":
	default: // it goes on whatever the current does
		return false
	}
	p := s.partAt(place)
	if p == nil {
		return true
	}
	// What has welded shut does not switch off what lies behind it.
	for q := range s.inOrder {
		if q.Welded && (q.ID == p.ID || q.ID == "main-isolator") {
			return false
		}
	}
	c, ok := s.hotAt(p, s.SituationFor([]string{"isolated"}, ""))
	return !ok || c < tooHotC
}
