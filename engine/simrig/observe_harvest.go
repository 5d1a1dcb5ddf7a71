package simrig

import (
	"math"

	"hotlug/engine/circuit"
	"hotlug/engine/rig"
)

const (
	finAlone  = 4.0  // K of an idle controller over the air
	finFull   = 24.0 // K more at its rated amps, with air around it (typical data)
	finSoundC = 52.0 // °C that a sound one stays under
)

// harvestShows are what is seen and measured of a charge that is too little.
var harvestShows = map[string]func(*Sim, string) Answer{
	"charge_pattern": func(s *Sim, _ string) Answer { return Pick(s.chargePattern()) },
	"charge_follows_load": lit(func(s *Sim) Answer {
		v, ok := s.view(s.sunny())
		if !ok {
			return Refuse(noState)
		}
		return yesNo(v.mode() == circuit.AtVolts)
	}),
	"controller_c": func(s *Sim, _ string) Answer {
		c := s.plant.Harvest.FinC
		if c == 0 {
			v, ok := s.view(s.sunny())
			if !ok {
				return Refuse(noState)
			}
			c = s.sys.AmbientC + finAlone + finFull*math.Max(0, v.charge())/math.Max(1, s.sys.Controller.RatedA)
			if s.plant.Controller.TooHot {
				c = 80
			} else {
				c = math.Min(c, math.Max(finSoundC, s.sys.AmbientC+finAlone))
			}
		}
		return s.read(s.readings["controller_c"], c)
	},
	"string_low_a": func(s *Sim, _ string) Answer {
		z := s.sunny()
		v, ok := s.view(z)
		if !ok {
			return Refuse(noState)
		}
		// In a way that is open the strings only push into each other.
		if math.Abs(v.amps("pv-pos")) < 0.01 {
			return s.read(s.readings["string_low_a"], 0)
		}
		at, least := v.volts(rig.ArrayPos, rig.ArrayNeg), math.Inf(1)
		for k := range max(1, s.sys.Array.Parallel) {
			if k > s.plant.Array.Dead+1 { // the others are all alike
				break
			}
			amps := 0.0
			if c := s.oneString(z.Sun, k, s.sys.Array.Series+8); c != nil {
				i, _ := c.At(math.Abs(at))
				amps = -i
			}
			least = math.Min(least, amps)
		}
		return s.read(s.readings["string_low_a"], least)
	},
	"module_open_v": func(s *Sim, _ string) Answer {
		c := s.oneString(s.sunny().Sun, s.plant.Array.Dead, 1)
		if c == nil {
			return Refuse("no light falls on it")
		}
		return s.read(s.readings["module_open_v"], c.Open())
	},
	"module_short_a": func(s *Sim, _ string) Answer {
		c := s.oneString(s.sunny().Sun, s.plant.Array.Dead, 1)
		if c == nil {
			return Refuse("no light falls on it")
		}
		return s.read(s.readings["module_short_a"], c.Short())
	},
	// The panels of a simulated array are of one kind, and none stands the wrong way round.
	"labels_alike": func(*Sim, string) Answer { return yesNo(true) },
	"module_minus": func(*Sim, string) Answer { return yesNo(false) },
	"pv_plug_drop_v": func(s *Sim, _ string) Answer {
		return s.alongArray("pv_plug_drop_v", func(p *Part) bool { return p.Kind == rig.PVPlug }, false)
	},
	"pv_lead_drop_v": func(s *Sim, _ string) Answer {
		return s.alongArray("pv_lead_drop_v", func(p *Part) bool { return p.Kind == rig.Wire && p.Circuit == "array" }, true)
	},
}

// alongArray is the largest of the volts across parts of the solar way in the
// sun, or with sum the larger sum of its two poles.
func (s *Sim) alongArray(id string, of func(p *Part) bool, sum bool) Answer {
	v, ok := s.view(s.sunny())
	if !ok {
		return Refuse(noState)
	}
	most, pole := 0.0, map[bool]float64{}
	for p := range s.inOrder {
		if !of(p) {
			continue
		}
		drop := math.Abs(v.volts(p.A, p.B))
		pole[p.Minus] += drop
		most = math.Max(most, drop)
	}
	if sum {
		most = math.Max(pole[false], pole[true])
	}
	return s.read(s.readings[id], most)
}

// chargePattern is the shape of the day's charge.
func (s *Sim) chargePattern() string {
	if x := s.plant.Harvest.Pattern; x != "" {
		return x
	}
	if s.chargesNothing() {
		return "never"
	}
	v, ok := s.view(s.sunny())
	switch {
	case !ok:
		return "never"
	case v.mode() == circuit.AtVolts:
		return "stops-early-calmly"
	case v.mode() == circuit.AtAmps:
		return "stuck-at-one-number"
	}
	return "all-day-low"
}

// engineShows are what only a rig with an engine or a mains charger answers; the
// simulated rigs have the sun alone.
var engineShows = func() map[string]func(*Sim, string) Answer {
	all := map[string]func(*Sim, string) Answer{}
	for _, id := range []string{
		"engine_link", "engine_look", "engine_signal_v", "start_run_v", "alt_out_v", "relay_drop_v", "dcdc_in_v", "engine_wakes",
	} {
		all[id] = func(*Sim, string) Answer { return Refuse("this rig has no engine") }
	}
	for _, id := range []string{"shore_look", "shore_shown_v", "charger_out_v"} {
		all[id] = func(*Sim, string) Answer { return Refuse("this rig has no mains charger") }
	}
	all["over_source"] = func(*Sim, string) Answer { return Pick("solar") } // nothing else charges it
	return all
}()
