package quantity

import "math"

// AboutShare is how far off a value said to be rough may be, as a share of it.
// People who say "about 40" round to the next step of their own scale, which is
// seldom wider than a tenth (practice).
const AboutShare = 0.10

// AboutError is what a value said to be rough is further off, in its unit.
func AboutError(value float64) float64 { return AboutShare * math.Abs(value) }

// spec is the error of one function of a meter.
type spec struct {
	unit   string  // what it measures
	gain   float64 // share of the reading
	counts float64 // steps of the last digit on the range in use
	span   float64 // counts of the display: 6000 shows up to 5999
	lowest float64 // full scale of the finest range
	fixed  float64 // what does not depend on range: leads, drift of the zero
	floor  float64 // the gain part is at least this much
}

// Meter is a class of meter, not a make: what its kind usually promises.
type Meter struct {
	ID    string // as written in the knowledge and in sessions: "hand"
	Name  string // in a sentence: "a hand meter"
	specs []spec
}

// Sources of the figures: the data sheets' usual lines, gathered as the largest
// of what is common for the class (datasheet-typical); 0.5 % + 3 digits for hand
// meters on DC volts and 2.5 % + 5 digits of 0.1 A for clamps are rulings among
// such lines. A clamp that was not zeroed carries 0.5 A more. Test leads add up
// to 0.5 ohm. Thermometers 1 K; infrared 2 K or 2 %, whichever is more. Figures of
// the bench class are from memory.
var meters = []Meter{
	{"hand", "a hand meter", []spec{
		{unit: "V", gain: 0.005, counts: 3, span: 6000, lowest: 0.6},
		{unit: "A", gain: 0.01, counts: 3, span: 6000, lowest: 0.06},
		{unit: "ohm", gain: 0.012, counts: 5, span: 6000, lowest: 600, fixed: 0.5},
		{unit: "F", gain: 0.04, counts: 5, span: 6000, lowest: 6e-8},
		contact,
	}},
	{"cheap", "a simple meter", []spec{
		{unit: "V", gain: 0.01, counts: 3, span: 2000, lowest: 0.2},
		{unit: "A", gain: 0.02, counts: 5, span: 2000, lowest: 0.02},
		{unit: "ohm", gain: 0.012, counts: 5, span: 2000, lowest: 200, fixed: 0.5},
		{unit: "degC", floor: 3},
	}},
	{"good", "a good meter", []spec{
		{unit: "V", gain: 0.001, counts: 2, span: 60000, lowest: 0.6},
		{unit: "A", gain: 0.005, counts: 3, span: 60000, lowest: 0.06},
		{unit: "ohm", gain: 0.005, counts: 2, span: 60000, lowest: 600, fixed: 0.1},
		{unit: "F", gain: 0.02, counts: 5, span: 6000, lowest: 6e-9},
		contact,
	}},
	{"bench", "a bench meter", []spec{
		{unit: "V", gain: 0.0002, counts: 5, span: 200000, lowest: 0.2},
		{unit: "A", gain: 0.002, counts: 10, span: 200000, lowest: 0.02},
		{unit: "ohm", gain: 0.0005, counts: 10, span: 200000, lowest: 200},
		{unit: "F", gain: 0.01, counts: 5, span: 6000, lowest: 6e-9},
		contact,
	}},
	{"clamp", "a clamp meter", append(clampOthers, spec{unit: "A", gain: 0.025, counts: 5, span: 6000, lowest: 600, fixed: 0.5})},
	{"clamp-zeroed", "a clamp meter, zeroed", append(clampOthers, spec{unit: "A", gain: 0.025, counts: 5, span: 6000, lowest: 600})},
	{"infrared", "an infrared thermometer", []spec{{unit: "degC", gain: 0.02, floor: 2}}},
	{"thermometer", "a thermometer", []spec{contact}},
	{"eye", "your own eyes", nil},
	{"label", "the label", nil},
}

var contact = spec{unit: "degC", floor: 1}

// The leads' functions of a clamp meter. The full slice is copied by append,
// as its capacity is its length.
var clampOthers = []spec{
	{unit: "V", gain: 0.01, counts: 3, span: 6000, lowest: 6},
	{unit: "ohm", gain: 0.012, counts: 5, span: 6000, lowest: 600, fixed: 0.5},
}

// MeterByID finds a meter class: hand, cheap, good, bench, clamp (not zeroed),
// clamp-zeroed, infrared, thermometer; eye and label are what is read without
// one.
func MeterByID(id string) (Meter, bool) {
	for _, m := range meters {
		if m.ID == id {
			return m, true
		}
	}
	return Meter{}, false
}

// Meters lists all meter classes.
func Meters() []Meter { return append([]Meter(nil), meters...) }

// Error is the largest error of a reading: gain is a share of the value, the
// same for all readings of one meter, abs is in the unit of k. value and digit
// (the worth of the last digit typed) are in the unit of k too. abs is the
// meter's counts at its resolution, plus what does not depend on the range, plus
// half the last digit typed: leaving digits out widens the error by what was
// left out, and no more.
// What the class does not measure (and all that is read by eye or off a label)
// has gain 0 and half the last digit. Limits after JCGM 100: largest errors, no
// standard deviations.
func (m Meter) Error(k Kind, value, digit float64) (gain, abs float64) {
	if math.IsNaN(digit) || math.IsInf(digit, 0) || digit < 0 {
		digit = 0
	}
	s, ok := m.specOf(k)
	v := math.Abs(value)
	if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, digit / 2
	}
	if k.Unit.Point || k.Unit.Like(MustUnit("K")) {
		return s.heat(k, v, digit)
	}
	scale := MustUnit(s.unit).Scale / k.Unit.Scale
	return s.gain, s.counts*s.resolution(v/scale)*scale + s.fixed*scale + digit/2
}

func (m Meter) specOf(k Kind) (spec, bool) {
	for _, s := range m.specs {
		u := MustUnit(s.unit)
		if u.Like(k.Unit) || u.Point && u.Difference().Like(k.Unit) {
			return s, true
		}
	}
	return spec{}, false
}

// heat is the error of a temperature. A difference is two readings, each with
// its own error.
func (s spec) heat(k Kind, v, digit float64) (gain, abs float64) {
	if !k.Unit.Point {
		return 0, 2*s.floor + digit/2
	}
	if s.gain*v > s.floor {
		return s.gain, digit / 2
	}
	return 0, s.floor + digit/2
}

// resolution is the worth of the last digit on the range that shows v.
func (s spec) resolution(v float64) float64 {
	if s.span == 0 {
		return 0
	}
	full := s.lowest
	for v >= full && full < largest {
		full *= 10
	}
	return full / s.span
}
