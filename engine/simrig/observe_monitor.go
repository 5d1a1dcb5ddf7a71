package simrig

import (
	"math"
)

// countShows are what the monitor shows, how it is set, and how its percentage
// behaves.
var countShows = map[string]func(*Sim, string) Answer{
	"percent_source": func(s *Sim, _ string) Answer { return Pick(s.percentSource()) },
	"percent_pattern": func(s *Sim, _ string) Answer {
		if p := s.pattern(); p != "" {
			return Pick(p)
		}
		return Pick("none-of-these")
	},
	"monitor_percent": func(s *Sim, _ string) Answer {
		v, ok := s.shownPercent()
		if !ok {
			return Refuse("there is no display that shows a percentage")
		}
		return Shown(v, 1)
	},
	"percent_at_top": func(s *Sim, _ string) Answer {
		if s.percentSource() == "volts-only" {
			return Shown(s.gauge(s.top()), 1)
		}
		c, ok := s.counted()
		if !ok {
			return Refuse("there is no display that shows a percentage")
		}
		return Shown(c.top, 1)
	},
	"signal_cable_look": shunted(func(s *Sim) Answer {
		if w := s.plant.Monitor.Wire; w != "" {
			return Pick(w)
		}
		return Pick("sound")
	}),
	"monitor_moves": shunted(func(s *Sim) Answer { return yesNo(s.anyMoves()) }),
	"shunt_set":     shunted(func(s *Sim) Answer { return Pick(s.plant.Monitor.ShuntSet) }),
	"monitor_a": func(s *Sim, place string) Answer {
		return s.ampsShown(s.SituationFor([]string{"loads-on", "chargers-off"}, place))
	},
	"monitor_charge_a": func(s *Sim, place string) Answer {
		return s.ampsShown(s.SituationFor([]string{"sun", "loads-off"}, place))
	},
	"monitor_zero_a":         shunted(func(s *Sim) Answer { return Shown(s.plant.Monitor.ZeroA, 0.01) }),
	"monitor_capacity_ah":    shunted(func(s *Sim) Answer { return Shown(s.plant.Monitor.Ah, 1) }),
	"monitor_full_v":         shunted(func(s *Sim) Answer { return Shown(s.plant.Monitor.FullV, 0.1) }),
	"monitor_tail_pct":       shunted(func(s *Sim) Answer { return Shown(s.plant.Monitor.TailPct, 0.1) }),
	"monitor_efficiency_pct": shunted(func(s *Sim) Answer { return Shown(s.plant.Monitor.Efficiency, 1) }),
	"monitor_peukert":        shunted(func(s *Sim) Answer { return Shown(s.plant.Monitor.Peukert, 0.01) }),
}

// shunted lets only a rig with a monitor answer.
func shunted(f func(*Sim) Answer) func(*Sim, string) Answer {
	return func(s *Sim, _ string) Answer {
		if s.sys.Monitor.Shunt == "" {
			return Refuse("there is no monitor with a shunt")
		}
		return f(s)
	}
}

func (s *Sim) ampsShown(z Situation) Answer {
	if a, ok := s.monitorAmps(z); ok {
		return Shown(a, 0.1)
	}
	return Refuse("there is no monitor with a shunt")
}

func (s *Sim) percentSource() string {
	switch m := s.plant.Monitor; {
	case m.Source != "":
		return m.Source
	case s.sys.Monitor.Shunt != "":
		return "shunt-monitor"
	case s.sys.Battery.App:
		return "battery-app"
	}
	return "volts-only"
}

// movesFrom is the amps on a display that anybody sees change.
const movesFrom = 0.3

// anyMoves says whether any load, switched on by itself, moves the monitor.
func (s *Sim) anyMoves() bool {
	off, ok := s.monitorAmps(s.dark())
	if !ok {
		return false
	}
	z := s.dark()
	z.Loads = LoadsSteady
	for _, l := range s.sys.Loads {
		if l.AC {
			continue
		}
		z.Way = l.ID
		if on, ok := s.monitorAmps(z); ok && math.Abs(on-off) >= movesFrom {
			return true
		}
	}
	z.Way = ""
	on, ok := s.monitorAmps(z)
	return ok && s.sys.Inverter.Watts > 0 && math.Abs(on-off) >= movesFrom
}

// What a person calls a pattern.
const (
	paceSlow     = 0.85 // of the true fall
	paceFast     = 1.18
	climbSlow    = 0.92 // of the true rise, so that it jumps at the end of a charge
	climbFast    = 1.1
	paceCrawls   = 0.7 // so far off that nothing else about it is told first
	paceRaces    = 1.4
	nowQuits     = 25 // per cent of true charge at which lights have begun to go out
	quitsShown   = 12 // per cent still shown as the bank is empty
	driftSeen    = 0.7
	astrayPct    = 5
	nearFull     = 99.4
	stuckBelow   = 85 // true per cent that a display at 100 has missed
	sagSeen      = 8  // per cent that a volts gauge falls under load
	halfMinuteC  = 0.2
	gaugeLeadLo  = 11.8 // V per 12 V at which a gauge of volts shows nought and full
	gaugeLeadHi  = 12.7
	gaugeCellsLo = 12.8
	gaugeCellsHi = 13.4
)

// pattern is how the percentage misbehaves to whoever looks at it for some days,
// "" where it does not.
func (s *Sim) pattern() string {
	m := s.plant.Monitor
	switch {
	case s.percentSource() == "volts-only":
		return "jumps-with-load"
	case s.percentSource() == "battery-app" && s.cells() != "alike" && s.cells() != "high-on-charge-only":
		return "nonsense-at-times"
	case s.sys.Monitor.Shunt != "" && m.Wire != "" && m.Wire != "sound":
		return "nonsense-at-times"
	}
	c, ok := s.counted()
	if !ok {
		return ""
	}
	if s.sys.Monitor.Shunt != "" && s.percentSource() != "battery-app" && s.gain() < 0 {
		return "wrong-direction"
	}
	switch {
	case m.Idle && c.astray >= astrayPct:
		return "wrong-after-storage"
	case c.early:
		return "jumps-to-100-early"
	case c.least >= nearFull && c.fell < stuckBelow:
		return "stuck-at-100"
	case math.Abs(c.drift) >= driftSeen:
		return "drifts-when-idle"
	case c.quits >= quitsShown:
		return "quits-above-zero"
	case c.pace < paceSlow && c.fell < 95 && s.plant.Battery.Charge <= nowQuits:
		return "quits-above-zero"
	case c.pace < paceCrawls || c.pace > paceRaces:
		return "too-fast-or-slow"
	case c.most < nearFull:
		return "never-100"
	case c.pace < paceSlow || c.pace > paceFast, c.climb != 0 && (c.climb < climbSlow || c.climb > climbFast):
		return "too-fast-or-slow"
	}
	return ""
}

// shownPercent is the figure on the display that people look at, as things are.
// Of a monitor that never says full they tell what it shows at the end of a charge.
func (s *Sim) shownPercent() (float64, bool) {
	if s.percentSource() == "volts-only" {
		return s.gauge(s.AsFound()), true
	}
	c, ok := s.counted()
	if !ok {
		return 0, false
	}
	if s.symptom == "never-reads-full" || s.plant.Battery.Full {
		return c.top, true
	}
	return c.shown, true
}

// gauge is the percentage of a display that knows only volts, in a situation: the person may have just switched a load on for half a minute.
func (s *Sim) gauge(z Situation) float64 {
	v, ok := s.view(z)
	if !ok {
		return 0
	}
	volts := v.posts()
	if s.justDid("load-half-a-minute") {
		volts -= halfMinuteC * s.plant.Battery.Ah * s.plant.Battery.Ohm
	}
	lo, hi := gaugeLeadLo, gaugeLeadHi
	if s.sys.Battery.Lithium() {
		lo, hi = gaugeCellsLo, gaugeCellsHi
	}
	return math.Max(0, math.Min(100, 100*(volts/s.twelves()-lo)/(hi-lo)))
}

// justDid says whether an action was the last thing that was done.
func (s *Sim) justDid(action string) bool {
	return len(s.done) > 0 && s.done[len(s.done)-1] == action
}
