package simrig

import "hotlug/engine/rig"

// Situation is how the rig stands for a reading. It is a value and a key: one
// solution is kept for each.
type Situation struct {
	Sun      float64 // W/m² on the array
	Loads    LoadLevel
	Way      string // load that is on alone, "" for what LoadLevel says
	MainOff  bool   // battery isolator opened by the person
	PVOff    bool   // solar switch opened by the person
	Chargers bool   // chargers may work
	InvOff   bool   // inverter's own switch off
	Rested   bool   // battery at rest for hours
	Top      bool   // at the top of its charge
	Lamp     bool   // a lamp across the posts
	Gap      bool   // the last joint of Event is open
	Pre      bool   // the pre-charge resistor lies across that gap
	Bank     bool   // a load for the bank's own sake hangs on its posts' lugs
	Hold     bool   // what runs on the inverter is no more than it just bears
	Starting bool   // what runs on the inverter starts at this moment
}

// LoadLevel is how much is switched on.
type LoadLevel uint8

// Load levels, from none to all that may run together.
const (
	LoadsOff LoadLevel = iota
	LoadsLight
	LoadsSteady
	LoadsFull
)

// Share of the inverter's rated watts that is plugged in at each level. Steady is
// the knowledge's "about half of what this wire usually carries", with the other
// loads on top.
var acShare = [...]float64{LoadsOff: 0, LoadsLight: 0.15, LoadsSteady: 0.6, LoadsFull: 1}

// Most of the bank's trip amps that a person loads it with, on purpose and when
// all runs that runs.
const (
	testShare = 0.7
	fullShare = 0.95
)

// AsFound is how the rig stands when nothing was asked for: people switch their
// loads off when something is wrong, the sun shines and the chargers may work.
func (s *Sim) AsFound() Situation {
	return Situation{Sun: s.plant.Sky.Full, Chargers: true}
}

// SituationFor is the situation that a list of states of the knowledge asks for,
// at a place: the loads that are switched on for a test are those of its circuit.
func (s *Sim) SituationFor(states []string, place string) Situation {
	z := s.AsFound()
	sun, on := false, false
	for _, x := range states {
		switch x {
		case "sun":
			sun = true
		case "loads-on":
			on = true
		case "rested":
			z.Rested, z.Chargers = true, false
		case "idle", "chargers-off", "dark":
			z.Chargers = false
		case "absorption":
			z.Top = true
		case "pv-off":
			z.PVOff = true
		case "all-off":
			z.InvOff, z.Chargers = true, false
		case "isolated":
			z.MainOff, z.InvOff, z.Chargers = true, true, false
		case "inv-off":
			z.InvOff = true
		case "starting":
			on, z.Starting = true, true
		}
	}
	switch {
	case on && place == "" && s.atBank():
		z.Loads, z.Bank, z.Chargers = LoadsSteady, true, z.Chargers && sun
	case on:
		z = s.loaded(z, s.circuitAt(place), sun)
	}
	if !z.Chargers {
		z.Sun, z.PVOff = 0, false
	}
	return z
}

// loaded switches on what makes current flow in a circuit. On the solar side that
// is the sun; else what the sun gives would only take away from the load, so a
// careful person switches the solar off for it, unless the reading wants sun.
func (s *Sim) loaded(z Situation, circuit string, sun bool) Situation {
	// With the chargers off there is no sun to do it.
	if z.Chargers && s.bySun(circuit) {
		return z
	}
	z.Loads, z.Hold = LoadsSteady, true
	if s.full {
		z.Loads = LoadsFull
	}
	z.Chargers = z.Chargers && sun
	if s.atInverter() && (circuit == "battery" || circuit == "inverter") {
		z.Way = "inverter"
	}
	if l, ok := s.sys.Load(circuit); ok && !l.AC {
		z.Way = circuit
	}
	return z
}

// bySun says whether the largest current in a circuit is that of the charge: on the
// solar side, and on the battery's way where the loads are small beside it.
func (s *Sim) bySun(circuit string) bool {
	switch circuit {
	case "controller", "array":
		return true
	case "battery":
		if s.atInverter() {
			return false
		}
		loads := s.dcWatts()/s.sys.Volts + s.sys.InverterAmps()
		return s.sys.ChargeAmps() > max(loads, s.carried("battery", "inverter"))
	}
	return false
}

// Loaded is the situation in which all runs that may run, as it bears on a place:
// on the solar side that is the sun.
func (s *Sim) Loaded(place string) Situation {
	z := s.SituationFor([]string{"loads-on"}, place)
	if z.Loads != LoadsOff {
		z.Loads, z.Way, z.Hold = LoadsFull, "", false
	}
	return z
}

// circuitAt is the circuit of a place, or of the focus: "battery" without both.
func (s *Sim) circuitAt(place string) string {
	switch p := s.partAt(place); {
	case p != nil:
		return p.Circuit
	case s.atInverter():
		return "inverter"
	}
	return "battery"
}

// partAt is the part at a place, or the one in focus; nil for none.
func (s *Sim) partAt(place string) *Part {
	if p := s.plant.Parts[place]; p != nil {
		return p
	}
	return s.plant.Parts[s.focus]
}

// kindAt is the part at a place if it is of one of the kinds, else the first such
// part of the same circuit: asked for the fuse of a wire, a person finds it.
func (s *Sim) kindAt(place string, kinds ...rig.PartKind) *Part {
	is := func(k rig.PartKind) bool {
		for _, x := range kinds {
			if x == k {
				return true
			}
		}
		return false
	}
	p := s.partAt(place)
	if p != nil && is(p.Kind) {
		return p
	}
	circuit := s.circuitAt(place)
	for i := range s.sys.Parts {
		if q := &s.sys.Parts[i]; q.Circuit == circuit && is(q.Kind) {
			return s.plant.Parts[q.ID]
		}
	}
	return nil
}

// demand is the watts that are on: of the inverter's output, and of one load of
// DC. What was left on is in it.
func (s *Sim) demand(z Situation) (ac float64, dc func(l rig.Load) float64) {
	inv := s.sys.Inverter
	if z.Loads != LoadsOff && (z.Way == "" || z.Way == "inverter") && inv.Watts > 0 {
		ac = acShare[z.Loads] * inv.Watts
		if trip := s.sys.Battery.TripA; trip > 0 {
			share := testShare
			if z.Loads == LoadsFull {
				share = fullShare
			}
			rest := share*trip*s.sys.Volts - s.dcWatts()
			ac = max(0, min(ac, rest*inv.Eta))
		}
		if p := s.carried("battery", "inverter"); p > 0 {
			ac = max(0, p*s.sys.Volts-s.dcWatts()) * inv.Eta
		}
		if w := s.plant.Inverter.PlugW; z.Loads == LoadsFull && w > 0 {
			ac = min(w, inv.Watts)
		}
		if z.Starting {
			ac = min(max(ac, s.startWatts()), surgeTimes*inv.Watts)
		}
	}
	for _, l := range s.sys.Loads {
		if l.AC {
			ac += s.plant.LeftOn[l.ID]
		}
	}
	return ac, func(l rig.Load) float64 {
		w := l.Watts
		if p := s.carried(l.ID, ""); p > 0 {
			w = p * s.sys.Volts
		}
		switch {
		case z.Loads == LoadsOff, z.Way != "" && z.Way != l.ID, z.Loads == LoadsLight && z.Way == "":
			w = 0
		}
		if times := s.plant.Branch[l.ID].Times; times > 0 {
			w *= times
		}
		return max(w, s.plant.LeftOn[l.ID])
	}
}

// dcWatts is the watts of all loads on DC.
func (s *Sim) dcWatts() float64 {
	sum := 0.0
	for _, l := range s.sys.Loads {
		if !l.AC {
			sum += l.Watts
		}
	}
	return sum
}

// carried is the largest CarryA among the parts of one or two circuits.
func (s *Sim) carried(circuit, other string) float64 {
	most := 0.0
	for i := range s.sys.Parts {
		q := &s.sys.Parts[i]
		if q.Circuit == circuit || other != "" && q.Circuit == other {
			most = max(most, s.plant.Parts[q.ID].CarryA)
		}
	}
	return most
}
