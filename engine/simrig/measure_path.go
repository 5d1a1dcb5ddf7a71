package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/reading"
)

// ripple is the volts that a meter on AC shows between the inverter's studs: its
// input current comes in gulps at twice the mains frequency, and each pulls the
// volts down by what lies behind the studs.
func (s *Sim) ripple(r *reading.Reading, place string) Answer {
	if s.sys.Inverter.Watts == 0 {
		return Refuse("this rig has no inverter")
	}
	z := s.SituationFor(r.State, place)
	z.Way = "inverter"
	st := s.at(z)
	switch {
	case st.err != nil:
		return Refuse("the rig comes to no rest")
	case !st.invOn:
		return s.read(r, 0)
	}
	amps := math.Abs(s.amps(st, "inv-pos"))
	return s.read(r, figure(0)(electric.RippleVolts(amps, s.rippleOhm(st))))
}
