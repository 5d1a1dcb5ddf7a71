package simrig

import "hotlug/engine/rig"

// Do is what the person does to the rig, by the knowledge's id of the action. What
// lasts changes the plant; what only lasts for a reading (a load for a minute)
// does not. All that was read before is read anew.
func (s *Sim) Do(action string) {
	s.done = append(s.done, action)
	if s.act(action) {
		s.changed()
		return
	}
	clear(s.seen)
}

// Done lists what the person has done, in order.
func (s *Sim) Done() []string { return s.done }

// act changes the plant by an action, and says whether it did.
func (s *Sim) act(action string) bool {
	p := s.plant
	switch action {
	case "close-pv-isolator":
		return shut(p.Parts["pv-isolator"])
	case "close-main-isolator":
		return shut(p.Parts["main-isolator"])
	case "reset-breaker-once":
		return s.resetBreakers()
	case "restart-controller":
		return s.restartController()
	case "load-full-test":
		was := s.full
		s.full = true
		return !was
	case "wake-battery":
		was := p.Battery.Off
		p.Battery.Off = was && p.Battery.Dies
		return p.Battery.Off != was
	case "restart-inverter":
		was := p.Inverter
		p.Inverter.Latched = false
		return p.Inverter != was
	case "precharge-inverter":
		was := p.Event.Precharged
		p.Event.Precharged = p.Event.Joining != ""
		return p.Event.Precharged != was
	}
	return false
}

// shut closes a switch that was left open.
func shut(p *Part) bool {
	if p == nil || !p.Open {
		return false
	}
	p.Open = false
	return true
}

// resetBreakers closes what has tripped, unless what tripped it is still there.
func (s *Sim) resetBreakers() bool {
	did := false
	for p := range s.inOrder {
		if p.Kind != rig.Breaker || !p.Blown && !p.Open || s.plant.Shorts[p.Circuit] > 0 {
			continue
		}
		p.Blown, p.Open, did = false, false, true
	}
	return did
}

// restartController wakes a controller that hangs. One that finds its system
// volts by itself looks at the bank again, and finds them if that is not too flat.
func (s *Sim) restartController() bool {
	c := &s.plant.Controller
	was := *c
	c.Hung = false
	if c.AutoV && s.restVolts() > 0.9*s.sys.Volts {
		c.SystemV = s.sys.Volts
	}
	return *c != was
}
