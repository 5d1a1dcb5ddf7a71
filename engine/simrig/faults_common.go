package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// Anywhere is the Sites of a fault that sits nowhere in particular and that every
// rig can have: the one site "".
func Anywhere(*rig.System) []string { return []string{""} }

// when is Anywhere on the rigs for which ok holds.
func when(ok func(s *rig.System) bool) func(*rig.System) []string {
	return func(s *rig.System) []string {
		if !ok(s) {
			return nil
		}
		return []string{""}
	}
}

// parts are the sites at the parts for which ok holds.
func parts(ok func(s *rig.System, p rig.Part) bool) func(*rig.System) []string {
	return func(s *rig.System) []string {
		var ids []string
		for _, p := range s.Parts {
			if ok(s, p) {
				ids = append(ids, p.ID)
			}
		}
		return ids
	}
}

// named are the sites at those of the ids that the rig has as parts.
func named(ids ...string) func(*rig.System) []string {
	return parts(func(_ *rig.System, p rig.Part) bool {
		for _, id := range ids {
			if p.ID == id {
				return true
			}
		}
		return false
	})
}

// dcLoads are the sites at the loads on DC of at least watts.
func dcLoads(watts float64) func(*rig.System) []string {
	return func(s *rig.System) []string {
		var ids []string
		for _, l := range s.Loads {
			if !l.AC && l.Watts >= watts {
				ids = append(ids, l.ID)
			}
		}
		return ids
	}
}

// on makes an Apply of what is done to the part at the site.
func on(do func(p *Plant, part *Part, severity, chance float64)) func(*Plant, string, float64, float64) {
	return func(p *Plant, at string, severity, chance float64) {
		if part := p.Parts[at]; part != nil {
			do(p, part, severity, chance)
		}
	}
}

// twelves is the system's volts in units of 12 V.
func twelves(s *rig.System) float64 { return s.Volts / 12 }

func lithium(s *rig.System) bool {
	return s.Battery.Chemistry == "lfp" || s.Battery.Chemistry == "other-lithium"
}
func hasBMS(s *rig.System) bool  { return lithium(s) && s.Battery.BMS }
func counts(s *rig.System) bool  { return s.Monitor.Shunt != "" }
func inverts(s *rig.System) bool { return s.Inverter.Watts > 0 }

// restAt is what the bank shows at rest with this charge.
func restAt(s *rig.System, charge float64) float64 {
	v, err := electric.RestVolts(charge, s.Volts, chem(s))
	if err != nil {
		return 1.05 * s.Volts
	}
	return v
}

// oneOf picks by chance.
func oneOf(chance float64, words ...string) string {
	i := int(chance * float64(len(words)))
	return words[min(max(i, 0), len(words)-1)]
}

// within holds a figure between two others.
func within(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }

// between is the figure that lies at chance between lo and hi.
func between(chance, lo, hi float64) float64 { return lo + chance*(hi-lo) }

// leaveOn leaves a load on that everybody takes to be off.
func leaveOn(p *Plant, load string, watts float64) {
	if p.LeftOn == nil {
		p.LeftOn = map[string]float64{}
	}
	p.LeftOn[load] = watts
}

// short lays a short from a load's way to minus.
func short(p *Plant, load string, ohm float64) {
	if p.Shorts == nil {
		p.Shorts = map[string]float64{}
	}
	p.Shorts[load] = ohm
}

// past leads the minus of a circuit past the shunt.
func past(p *Plant, circuit string) {
	if p.Bypass == nil {
		p.Bypass = map[string]bool{}
	}
	p.Bypass[circuit] = true
}
