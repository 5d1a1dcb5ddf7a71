package simrig

import (
	"math"
	"slices"

	"hotlug/engine/rig"
)

// Drain is what empties a bank while everybody takes it to be at rest, and what is
// known of its nights.
type Drain struct {
	InsideA float64 // A that flow inside the battery itself, where no clamp goes
	FrontA  float64 // A of what is joined in front of the isolator
	BackA   float64 // A that flow back into the panels in the dark
	Joined  bool    // another battery hangs on it that should be apart
	Evening string  // option of evening_state, where nothing else shows it
	StoodH  float64 // h that it stood unused; 0: it has not
	Wet     bool    // it goes flat mainly in wet weather

	LeakA    float64 // A that leak through damp behind the isolator
	LeakOhm  float64 // and the ohms to the frame that a meter finds there, dead
	SunHours float64 // hours of full sun in a day of this season; 0: of a clear day
	DawnV    float64 // V at the posts at dawn, where low volts cut the supply; 0: by what is used
	Standing bool    // it stands for weeks without anybody: what draws is noticed only then
}

// Nights are full in the evening: what goes out by dawn, and what is always on.
const (
	byDesign   = 0.01 // A of alarms and sleeping boxes, beside the controller itself
	stillHolds = 0.03 // A above what is known that a week's volts do not show
)

// drains are what is seen and measured of a bank that is flat by morning or after
// it stood.
var drains = map[string]func(*Sim, string) Answer{
	"standby_a": func(s *Sim, _ string) Answer {
		a, ok := s.atRestA(s.allOff())
		if !ok {
			return Refuse(noState)
		}
		return s.read(s.readings["standby_a"], a)
	},
	"night_draw_a": func(s *Sim, _ string) Answer { // the solar switch stays on: what leaks back is in it
		a, ok := s.atRestA(s.allOff())
		if !ok {
			return Refuse(noState)
		}
		return s.read(s.readings["night_draw_a"], a+s.plant.Drain.BackA)
	},
	"isolated_a": func(s *Sim, _ string) Answer {
		a, ok := s.atRestA(Situation{InvOff: true, MainOff: true})
		if !ok {
			return Refuse(noState)
		}
		return s.read(s.readings["isolated_a"], a)
	},
	"standby_known_a": func(s *Sim, _ string) Answer {
		return Shown(s.sys.Controller.OwnW/s.sys.Volts+byDesign, 0.01)
	},
	"pv_night_a": func(s *Sim, _ string) Answer {
		return s.read(s.readings["pv_night_a"], s.plant.Drain.BackA)
	},
	"way_standby_v": func(s *Sim, _ string) Answer {
		st := s.at(s.allOff())
		if st.err != nil {
			return Refuse(noState)
		}
		most := 0.0
		for p := range s.inOrder {
			if _, load := s.sys.Load(p.Circuit); load && p.Kind == rig.Fuse {
				most = max(most, math.Abs(orNought(st.sol.Across(nodeName(p.A), nodeName(p.B)))))
			}
		}
		return s.read(s.readings["way_standby_v"], most)
	},
	"dawn_v": func(s *Sim, _ string) Answer { return s.read(s.readings["dawn_v"], s.dawnVolts()) },
	"stood_for": func(s *Sim, _ string) Answer {
		if h := s.plant.Drain.StoodH; h > 0 {
			return Shown(h, 24)
		}
		return Refuse("it has not stood unused")
	},
	"week_holds":   func(s *Sim, _ string) Answer { return yesNo(s.weekHolds()) },
	"banks_joined": func(s *Sim, _ string) Answer { return yesNo(s.plant.Drain.Joined) },
	"sun_hours":    func(s *Sim, _ string) Answer { return Shown(s.hoursOfSun(), 0.1) },
	"frame_ohm": func(s *Sim, place string) Answer {
		ohm := s.frameOhm(place)
		if leak := s.plant.Drain.LeakOhm; leak > 0 {
			ohm = min(ohm, leak)
		}
		return s.read(s.readings["frame_ohm"], ohm)
	},
	"worse_when_wet": func(s *Sim, _ string) Answer { return yesNo(s.plant.Drain.Wet) },
	"evening_state":  func(s *Sim, _ string) Answer { return Pick(s.eveningState()) },
}

// atRestA is what leaves the bank with everything off.
func (s *Sim) atRestA(z Situation) (float64, bool) {
	st := s.at(z)
	if st.err != nil {
		return 0, false
	}
	a := max(0, -s.bankAmps(st)) + s.plant.Drain.FrontA + s.drawnBy(z)
	if !z.MainOff {
		a += s.plant.Drain.LeakA
	}
	return a, true
}

// drawnBy is the boxes that are always on by design, behind the isolator.
func (s *Sim) drawnBy(z Situation) float64 {
	if z.MainOff {
		return 0
	}
	return byDesign
}

// hoursOfSun is the hours of full sun in a day of this season.
func (s *Sim) hoursOfSun() float64 {
	if h := s.plant.Drain.SunHours; h > 0 {
		return h
	}
	return sunHours * s.plant.Sky.Full / usualSun
}

// harvestWh is the watt-hours that the array brings to the bank on a clear day.
func (s *Sim) harvestWh() float64 {
	part := 0.75
	if s.sys.Controller.Type == "pwm" {
		part = 0.62
	}
	a, p := s.sys.Array, s.plant.Array
	live := float64(max(0, a.Parallel-p.Dead)) / float64(max(1, a.Parallel))
	return a.Watts() * live * (1 - p.Dirt) * s.hoursOfSun() * part
}

// eveningState is how the rig is found at dusk.
func (s *Sim) eveningState() string {
	d := s.plant.Drain
	switch {
	case d.Evening != "":
		return d.Evening
	case d.Joined:
		return "other-battery-falls-too"
	case s.chargesNothing():
		return "not-full-at-dusk"
	case nightShare*s.usedWh() > usableWh(s.sys):
		return "loads-used-all-night"
	}
	return "full-and-all-off"
}

// dawnVolts is what the bank stands at after a night that it began full, where a
// day fills it.
func (s *Sim) dawnVolts() float64 {
	if v := s.plant.Drain.DawnV; v > 0 {
		return v
	}
	holds := max(1, s.plant.holds())
	from := 100.0
	if s.eveningState() == "not-full-at-dusk" {
		from = s.plant.Battery.Charge
	}
	out := nightShare * s.usedWh() / s.sys.Volts
	if a, ok := s.atRestA(s.allOff()); ok {
		out += 12 * (a + s.plant.Drain.BackA + s.plant.Drain.InsideA)
	}
	charge := max(0, from-100*out/holds)
	return figure(s.sys.Volts)(restOf(s.sys, charge))
}

// weekHolds says whether a week of standing takes nothing that is seen.
func (s *Sim) weekHolds() bool {
	a, ok := s.atRestA(s.allOff())
	d := s.plant.Drain
	known := s.sys.Controller.OwnW/s.sys.Volts + byDesign
	if d.StoodH > 0 || d.SunHours > 0 && s.dayWh() > s.harvestWh() {
		return false
	}
	return ok && a <= known+stillHolds && d.BackA <= stillHolds &&
		!slices.ContainsFunc(s.plant.Battery.Blocks, func(x Block) bool { return x.Dead > 0 || x.Low > 0 })
}

// invIdles is the evening on which the inverter was left on.
const invIdles = "inverter-left-on"

// allOff is everything switched off by the person, the battery isolator on. An
// inverter that nobody thinks of stays on.
func (s *Sim) allOff() Situation { return Situation{InvOff: s.plant.Drain.Evening != invIdles} }

// sleepA is all that leaves the bank by itself in a day and a night, in amps.
func (s *Sim) sleepA() float64 {
	a, _ := s.atRestA(s.allOff())
	return a + s.plant.Drain.BackA/2
}

// dayWh is the watt-hours of a day with everything off.
func (s *Sim) dayWh() float64 { return 24 * s.sleepA() * s.sys.Volts }

// usableAh is what the bank may give every day.
func (s *Sim) usableAh() float64 { return usableWh(s.sys) / s.sys.Volts }

// daysToFlat is how long the usable part lasts with everything off.
func (s *Sim) daysToFlat() float64 { return s.usableAh() / max(1e-6, 24*s.sleepA()) }
