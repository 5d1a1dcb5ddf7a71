package simrig

import (
	"math"

	"hotlug/engine/rig"
)

// view is a situation of the rig as it came to rest, for what is seen in it.
type view struct {
	s  *Sim
	st *state
}

// view is the rig in a situation; none where its network comes to no rest.
func (s *Sim) view(z Situation) (view, bool) {
	st := s.at(z)
	return view{s, st}, st.err == nil
}

// The situations that observations are made in.
func (s *Sim) sunny() Situation { return s.SituationFor([]string{"sun"}, "") }
func (s *Sim) dark() Situation  { return s.SituationFor([]string{"loads-off", "chargers-off"}, "") }
func (s *Sim) top() Situation   { return s.SituationFor([]string{"absorption"}, "") }

// volts is from one point to another, red lead on the first.
func (v view) volts(from, to string) float64 {
	return orNought(v.st.sol.Across(nodeName(from), nodeName(to)))
}

// orNought is x, or 0 for what the network does not have.
func orNought(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// amps is the current of a part from its A to its B.
func (v view) amps(part string) float64 {
	return orNought(v.st.sol.Amps(part))
}

// battery is the current into the bank, below zero where it gives.
func (v view) battery() float64 { return v.s.bankAmps(v.st) }

// charge is the current from the controller to the battery.
func (v view) charge() float64 { return v.amps("controller") }

// shunt is the current that a monitor counts, into the bank plus; 0 without one.
func (v view) shunt() float64 { return -v.amps("shunt") }

// mode is how the controller is found by the network, "" where it does nothing.
func (v view) mode() string {
	return v.s.modeOf(v.st)
}

// posts is the volts of the bank at its posts.
func (v view) posts() float64 { return v.volts(rig.PostPos, rig.PostNeg) }

// hotAt is the temperature in °C of a part in a situation, settled; none where
// the rig comes to no rest.
func (s *Sim) hotAt(p *Part, z Situation) (float64, bool) {
	st := s.at(z)
	if st.err != nil {
		return 0, false
	}
	return s.heatOf(st, p), true
}
