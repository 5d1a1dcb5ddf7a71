package history

import (
	"slices"
	"time"

	"hotlug/engine/quantity"
)

// Kind says what a series follows. The words stand in JSON.
type Kind string

const (
	Joint    Kind = "joint"      // ohms across a joint
	Holder   Kind = "holder"     // fuse and holder: volts at the largest current of the wire, ohms where that is not known
	Rest     Kind = "rest-volts" // volts at the rested battery
	Capacity Kind = "capacity"   // amp-hours from full to the cut-off
)

// Series is one reading, taken again and again on one rig.
type Series struct {
	Kind  Kind
	Place string // id, "" for the battery
	Name  string // what people call the place: "the lug on the plus post"
	Unit  quantity.Unit
	// FullA is the largest current that the volts of a Holder are brought to, and
	// that a Joint's heat is reckoned with; 0 if it is not known.
	FullA  float64
	SysV   float64 // nominal volts of the bank; 0 if not known
	Points []Point // by time
}

// Point is one reading of a series.
type Point struct {
	When    time.Time
	Session string
	Value   float64 // in the unit of the series
	Error   float64 // the most that it is off by the meters' errors, same unit
	// Fresh begins the series anew: the place has been mended, or the battery is
	// another one, since the point before.
	Fresh bool
	round int
}

// Now are the points since the place was last made new.
func (s *Series) Now() []Point {
	for i := len(s.Points) - 1; i > 0; i-- {
		if s.Points[i].Fresh {
			return s.Points[i:]
		}
	}
	return s.Points
}

// add keeps a point. A reading taken again in the same round takes the place of
// the one before.
func (s *Series) add(p Point) {
	if i := slices.IndexFunc(s.Points, func(q Point) bool { return q.Session == p.Session && q.round == p.round }); i >= 0 {
		p.Fresh = s.Points[i].Fresh
		s.Points[i] = p
		return
	}
	s.Points = append(s.Points, p)
}

// finish puts the points in order and brings a holder's to its largest current.
func (s *Series) finish() {
	slices.SortStableFunc(s.Points, func(a, b Point) int { return a.When.Compare(b.When) })
	if s.Kind != Holder || s.FullA <= 0 || s.Unit.Same(volt) {
		return
	}
	s.Unit = volt
	for i := range s.Points {
		s.Points[i].Value *= s.FullA
		s.Points[i].Error *= s.FullA
	}
}

var (
	volt = quantity.MustUnit("V")
	ohm  = quantity.MustUnit("ohm")
)
