package simrig

import (
	"slices"

	"hotlug/engine/circuit"
)

// Complaints about a charge that is too little.
const (
	lowCharge = "low-charge"
	partOfDay = "charges-part-of-day"
	stopsSoon = "charging-stops-early"
	halfArray = "half-array"
	lowSeen   = 0.85 // of the amps that the same rig gave when it was sound
)

// harvestSymptoms are the complaints about a charge that is too little, comes at
// certain hours, or ends too early.
var harvestSymptoms = []struct {
	id   string
	seen func(s *Sim) bool
}{
	{halfArray, func(s *Sim) bool {
		a := s.plant.Array
		return (a.Dead > 0 || a.Weak > 0) && s.chargesLittle()
	}},
	{stopsSoon, func(s *Sim) bool { return s.plant.Harvest.Early && s.endsByVolts() }},
	{partOfDay, func(s *Sim) bool {
		return slices.Contains([]string{"mornings-only", "late-start", "drops-at-midday", "fades-after-minutes"}, s.plant.Harvest.Pattern)
	}},
	{lowCharge, (*Sim).chargesLittle},
}

// endsByVolts says whether the controller holds back by its volts.
func (s *Sim) endsByVolts() bool {
	st := s.at(s.AsFound())
	return st.err == nil && s.modeOf(st) == circuit.AtVolts
}

// chargesLittle says whether plainly less comes in than when the rig was sound,
// though the battery would take more.
func (s *Sim) chargesLittle() bool {
	if s.chargesNothing() || s.endsByVolts() || s.plant.Sky.Full < usualSun {
		return false
	}
	st := s.at(s.AsFound())
	if st.err != nil {
		return false
	}
	sound := s.Healthy()
	was := sound.at(sound.AsFound())
	return was.err == nil && sound.modeOf(was) != circuit.AtVolts && st.sol.Amps("controller") < lowSeen*was.sol.Amps("controller")
}
