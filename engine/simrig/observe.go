package simrig

import "hotlug/engine/rig"

// observations are the readings that are answered by a person's senses and by
// displays, not by a meter between two points: one function for each, of the
// plant and of what its network has come to. place is the place of the take, ""
// where the reading has none. Labels that stand in no rig file are among them.
func observations() map[string]func(s *Sim, place string) Answer {
	all := map[string]func(*Sim, string) Answer{}
	for _, some := range []map[string]func(*Sim, string) Answer{
		dangers, labels, looks, controllerShows, batteryShows, countShows, sparks, jointLooks, bankLooks, insides, drains,
		inverterShows, protectorShows,
		loadShows, auditShows,
		harvestShows, engineShows,
	} {
		for id, f := range some {
			all[id] = f
		}
	}
	return all
}

// yesNo is the answer to a question of yes or no.
func yesNo(yes bool) Answer {
	if yes {
		return Pick("yes")
	}
	return Pick("no")
}

// printed is a figure read off a label.
func printed(v float64) Answer { return Answer{Known: true, Value: v, True: v} }

// twelves is how many times the volts of a 12 V bank.
func (s *Sim) twelves() float64 { return s.sys.Volts / 12 }

// inOrder goes through the parts in the order of the plan, so that the same
// plant is always looked at in the same way.
func (s *Sim) inOrder(yield func(p *Part) bool) {
	for _, q := range s.sys.Parts {
		if p := s.plant.Parts[q.ID]; p != nil && !yield(p) {
			return
		}
	}
}

// wireOf is the wire that belongs to a part: itself, or the first of the same
// circuit on the same side.
func (s *Sim) wireOf(p *Part) *Part {
	if p == nil {
		return nil
	}
	if p.Kind == rig.Wire {
		return p
	}
	var same *Part
	for q := range s.inOrder {
		if q.Kind != rig.Wire || q.Circuit != p.Circuit {
			continue
		}
		if q.A == p.B || q.B == p.A || q.A == p.A || q.B == p.B {
			return q
		}
		if same == nil && q.Minus == p.Minus {
			same = q
		}
	}
	return same
}
