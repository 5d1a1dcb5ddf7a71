package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// sparks are what was seen as something was joined or parted, and what a lamp in
// the gap shows now.
var sparks = map[string]func(*Sim, string) Answer{
	"spark_kind": func(s *Sim, _ string) Answer {
		if kind := s.sparkKind(); kind != "" {
			return Pick(kind)
		}
		return Pick("none-yet")
	},
	"joined_what": func(s *Sim, _ string) Answer {
		if what := s.plant.Event.Joining; what != "" {
			return Pick(what)
		}
		return Refuse("nothing was being connected")
	},
	"reverse_sign": func(s *Sim, _ string) Answer { return Pick(s.reverseSign()) },
	"precharge_used": func(s *Sim, _ string) Answer {
		e := s.plant.Event
		if e.Joining == "" && !e.Parting {
			return Refuse("nothing was being connected")
		}
		return yesNo(e.Precharged)
	},
	"gap_closed": func(s *Sim, _ string) Answer { return yesNo(s.closedBehind()) },
	"pair_alike": func(s *Sim, _ string) Answer {
		e := s.plant.Event
		if e.Joining != "battery" {
			return Refuse("there is only one battery")
		}
		return yesNo(!e.Unlike)
	},
	"gap_lamp": func(s *Sim, _ string) Answer { return Pick(s.gapLamp()) },
}

// Sparks by their physics.
const (
	leadsOhm    = 0.003 // leads and contacts of a battery loop
	shortTimes  = 3     // the protection's short-circuit stage over its rated trip (trade figures)
	shortDelay  = 200e-6
	arcVolts    = 40  // above which a drawn DC arc is millimetres long
	arcAmps     = 10  // and the current that keeps it burning
	sparkAmps   = 0.5 // that make a spark as a lead is parted (arc needs 0.4 to 0.5 A)
	violentAmps = 300
	lampOhm     = 144.0 / 21 // 12 V 21 W, hot
	lampSeen    = 0.7        // A through it that anybody sees
	flashJoule  = 0.7        // into one such lamp: its 12 mg of tungsten just glow
	stringArcs  = 100        // V of a solar string that burns on across centimetres
)

// sparkKind is what the event looked like, "" if there was none.
func (s *Sim) sparkKind() string {
	e := s.plant.Event
	switch e.Tool {
	case "post":
		return "tool-slipped"
	case "frame":
		return "live-metal-touched-frame"
	}
	if e == (Event{}) {
		for p := range s.inOrder {
			if p.Welded {
				return "relay-sticks"
			}
		}
		return ""
	}
	v, ok := s.view(s.AsFound())
	switch {
	case e.PVPlug:
		if s.array(s.plant.Sky.Full).open > stringArcs {
			return "arc-holds"
		}
		return "at-pv-plug"
	case e.Parting && ok:
		if a := math.Abs(v.battery()); a > arcAmps && v.posts() > arcVolts {
			return "arc-holds"
		}
		return "on-lifting"
	case e.Parting:
		return "on-lifting"
	}
	return s.joiningSpark(e)
}

// joiningSpark is what was seen as a joint was made.
func (s *Sim) joiningSpark(e Event) string {
	b := s.plant.Battery
	volts, loop := s.restVolts(), b.Ohm+leadsOhm
	amps := s.drawBehind() // that flow on after the contact
	switch {
	case e.OtherV != 0:
		amps = math.Abs(e.OtherV-volts) / (loop + e.OtherOhm)
		if e.Reversed {
			amps = (e.OtherV + volts) / (loop + e.OtherOhm)
		}
	case e.Reversed:
		amps = volts / loop
	case s.plant.Inverter.Shorted && e.Joining != "device" && e.Joining != "battery":
		amps = volts / (loop + s.plant.Inverter.Ohm)
	}
	trip := shortTimes * b.TripA
	switch {
	case e.FuseBlew:
		return "fuse-blew"
	case b.CutWhen == "on-connecting":
		return "battery-went-dead"
	case s.sys.Battery.BMS && b.TripA > 0 && (amps > trip || s.rushTrips(e, volts, loop, trip)):
		return "battery-went-dead"
	case amps > volts/(2*(loop+e.OtherOhm)) && e.OtherV == 0: // a short without a protection
		return "fuse-blew"
	case amps > violentAmps:
		return "one-snap" // nobody touches it a second time
	case amps > sparkAmps:
		return "every-touch"
	}
	return "one-snap"
}

// rushTrips says whether the rush into empty capacitors trips the protection.
func (s *Sim) rushTrips(e Event, volts, loop, trip float64) bool {
	farad := s.farads(e)
	if e.Precharged || farad == 0 {
		return false
	}
	return figure(0)(electric.BMSTrips(volts, loop, farad, trip, shortDelay)) != 0
}

// farads is the capacitance behind the joint of an event.
func (s *Sim) farads(e Event) float64 {
	if s.plant.Inverter.Shorted || e.Joining != "inverter" && e.Joining != "system" {
		return 0
	}
	return s.plant.Inverter.Farad
}

// drawBehind is the amps that what was left on draws, at nominal volts, and those
// of shorted ways.
func (s *Sim) drawBehind() float64 {
	watts, siemens := 0.0, 0.0
	for _, l := range s.sys.Loads { // in order, so that sums are the same each time
		watts += s.plant.LeftOn[l.ID]
		if ohm := s.plant.Shorts[l.ID]; ohm > 0 {
			siemens += 1 / ohm
		}
	}
	watts += s.plant.LeftOn["inverter"]
	if s.plant.Event.InvOn {
		watts += max(s.sys.Inverter.IdleW, s.sys.Volts) // it fills and draws at once
	}
	return watts/s.sys.Volts + siemens*s.sys.Volts
}

// reverseSign is the sign of swapped leads that is found first.
func (s *Sim) reverseSign() string {
	e := s.plant.Event
	switch {
	case !e.Reversed:
		return "none"
	case e.FuseBlew:
		return "pair-of-fuses"
	case e.Joining == "device":
		return "minus-shown"
	}
	return "colours-crossed"
}

// gapLamp is what a lamp of 12 V 21 W for each 12 V does in the gap: a current
// that flows on lights it, capacitors fill through it with a flash.
func (s *Sim) gapLamp() string {
	e := s.plant.Event
	if s.lampAmps(true) >= lampSeen {
		if s.lampAmps(false) < lampSeen {
			return "bright-until-loads-off"
		}
		return "always-bright"
	}
	volts := s.restVolts()
	if e.OtherV != 0 {
		volts = math.Abs(e.OtherV - volts)
	}
	if !s.closed("battery") || !s.closed("inverter") {
		return "stays-dark"
	}
	if charged := s.farads(e) * volts * volts / 2; charged >= flashJoule*s.twelves() {
		return "flash-then-dark"
	}
	return "stays-dark"
}

// lampAmps is the current through the lamp once all has settled, with what was
// left on or without it.
func (s *Sim) lampAmps(leftOn bool) float64 {
	e := s.plant.Event
	lamp := lampOhm * s.twelves()
	volts, behind := s.restVolts(), math.Inf(1) // ohms of what draws on
	if s.plant.Battery.Off {
		volts = 0
	}
	switch {
	case e.OtherV != 0 && e.Reversed:
		return (volts + e.OtherV) / lamp
	case e.OtherV != 0:
		return math.Abs(volts-e.OtherV) / lamp
	case !s.closed("battery") || e.Joining == "inverter" && !s.closed("inverter"):
		return 0
	case e.Reversed: // the diodes of whatever was joined conduct
		return volts / lamp
	}
	siemens := 0.0
	for _, l := range s.sys.Loads {
		if !s.closed(l.ID) && !l.AC {
			continue
		}
		if ohm := s.plant.Shorts[l.ID]; ohm > 0 {
			siemens += 1 / ohm
		}
		if leftOn {
			siemens += s.plant.LeftOn[l.ID] / (s.sys.Volts * s.sys.Volts)
		}
	}
	if s.closed("inverter") {
		if s.plant.Inverter.Shorted {
			siemens += 1 / max(1e-4, s.plant.Inverter.Ohm)
		}
		if leftOn {
			siemens += s.plant.LeftOn["inverter"] / (s.sys.Volts * s.sys.Volts)
		}
	}
	if siemens > 0 {
		behind = 1 / siemens
	}
	return volts / (lamp + behind)
}

// closed says whether nothing stands open in a circuit but its load's own switch.
func (s *Sim) closed(circuit string) bool {
	for p := range s.inOrder {
		if p.Circuit == circuit && p.Kind != rig.Switch && open(p) {
			return false
		}
	}
	return true
}

// closedBehind says whether all that a person can follow from the gap on stands
// closed: switches, fuses and breakers of what was joined.
func (s *Sim) closedBehind() bool {
	for p := range s.inOrder {
		switch p.Kind {
		case rig.Isolator, rig.Fuse, rig.Breaker:
		default:
			continue
		}
		behind := p.Circuit == "battery" || p.Circuit == "inverter"
		if _, load := s.sys.Load(p.Circuit); load && s.plant.Event.Joining != "inverter" {
			behind = true
		}
		if behind && (p.Open || p.Missing || p.Blown) {
			return false
		}
	}
	return true
}
