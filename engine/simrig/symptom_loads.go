package simrig

import "hotlug/engine/rig"

// Complaints about loads and about nights.
const (
	allIsDead   = "everything-dead"
	oneWeak     = "one-thing-dead-or-weak"
	lightsDim   = "lights-dim"
	fridgeStops = "fridge-cuts-out"
)

// loadSymptoms are the complaints about loads, nights and storage.
var loadSymptoms = []struct {
	id   string
	seen func(s *Sim) bool
}{
	{allIsDead, (*Sim).allDead},
	{fridgeStops, func(s *Sim) bool { return s.oddLoad(isFridge) != "" }},
	{lightsDim, func(s *Sim) bool { return !s.allDead() && s.flickerWhen() != "" }},
	{oneWeak, func(s *Sim) bool { return s.oddLoad(func(string) bool { return true }) != "" }},
	{flatMornings, (*Sim).flatByDawn},
	{flatStored, (*Sim).flatWhenStored},
}

// oddLoad is the first load of a kind that does not do what it should though the
// rig has volts, "" for none.
func (s *Sim) oddLoad(kind func(id string) bool) string {
	if s.allDead() {
		return ""
	}
	for _, l := range s.sys.Loads {
		if !l.AC && kind(l.ID) && !s.loadWorks(l) {
			return l.ID
		}
	}
	return ""
}

// What empties a bank in a night, as a part of what it may give: the evening's use
// does the rest. And how soon somebody wonders at a bank that stood.
const (
	nightDrain  = 0.2
	storedDays  = 45.0
	nightOfDark = 12.0
)

// flatByDawn says whether the bank is flat in the morning because something draws
// all night, or because the day did not fill it.
func (s *Sim) flatByDawn() bool {
	n := s.plant.Drain
	if n.Standing {
		return false
	}
	a, _ := s.atRestA(s.allOff())
	return nightOfDark*(a+n.BackA+n.InsideA) > nightDrain*s.usableAh() || n.Evening != "" || n.Joined
}

// flatWhenStored says whether the bank goes flat while it stands.
func (s *Sim) flatWhenStored() bool {
	n := s.plant.Drain
	return n.StoodH > 0 || n.Standing && (s.daysToFlat() < storedDays || s.dayWh() > s.harvestWh())
}

// standAt is where somebody stands who complains of a load: at its fuse.
func (s *Sim) standAt(kind func(id string) bool) string {
	id, first := s.oddLoad(kind), ""
	for _, l := range s.sys.Loads {
		if l.AC {
			continue
		}
		if first == "" || kind(l.ID) && !kind(first) {
			first = l.ID
		}
	}
	if id == "" {
		id = first
	}
	if p := s.plant.Parts[id+"-fuse"]; p != nil && p.Kind == rig.Fuse {
		return p.ID
	}
	return ""
}
