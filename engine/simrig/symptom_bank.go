package simrig

import (
	"slices"
)

// What people notice of a bank.
const (
	warmSeenK  = 9.0  // over the air: a case that feels warm
	shareSeen  = 1.25 // times as much from one battery as from another
	shareAmps  = 1.0  // and that much at least
	spreadSeen = 0.5  // V between batteries of a string on charge
	cellsSeen  = 0.1  // V between cells near the top
)

// bankSymptoms are the complaints about the bank itself.
var bankSymptoms = []struct {
	id   string
	seen func(s *Sim) bool
}{
	{cutsOff, func(s *Sim) bool { return s.plant.Battery.Off || s.cutWhen() != "" || s.tripsInTheEvening() }},
	{zeroVolts, func(s *Sim) bool { return s.sparkKind() == "battery-went-dead" }},
	{hotBattery, func(s *Sim) bool {
		return s.plant.Battery.WarmK >= warmSeenK || s.plant.Battery.CellC+s.plant.Battery.WarmK >= palmC
	}},
	{newBattery, func(s *Sim) bool { return s.plant.Battery.New && s.stillWrong() != "" }},
	{uneven, (*Sim).unequal},
	{flatMornings, (*Sim).emptyByDawn},
}

// tripsInTheEvening says whether the protection lets go when all runs.
func (s *Sim) tripsInTheEvening() bool {
	st := s.at(s.evening())
	return st.err == nil && st.tripped
}

// unequal says whether somebody who looks at each battery, or at the cells in the
// app, sees that they do not do equal work.
func (s *Sim) unequal() bool {
	b := s.plant.Battery
	if s.sys.Battery.App && b.Cells.TopApart >= cellsSeen {
		return true
	}
	if s.plant.apart(Block.lag) >= spreadSeen {
		return true
	}
	if slices.ContainsFunc(b.Blocks, func(x Block) bool { return x.Off || x.Asleep }) {
		return true
	}
	if s.sys.Battery.Parallel < 2 {
		return false
	}
	st := s.at(Situation{Loads: LoadsSteady, Bank: true})
	if st.err != nil {
		return false
	}
	lo, hi := s.shares(st)
	return hi >= shareAmps && hi > shareSeen*lo
}
