package rig

import (
	"strconv"

	"hotlug/engine/reading"
)

// System is a rig in numbers: what a circuit is built from. It says how the rig
// was meant to be; what is really so in a faulty one is the simulation's.
type System struct {
	Name  string
	About string
	Story string  // who uses it, what was done to it lately; for a drill
	Earth string  // how minus and frame are joined, in words
	Kind  string  // hut, van, boat, trailer
	Volts float64 // nominal volts of the bank: 12, 24 or 48

	// Temperatures are as they stand: nought is 0 °C, and [Plan] leaves them alone.
	AmbientC float64 // °C around rig and array
	ColdestC float64 // °C of the coldest morning

	Battery    Battery
	Array      Array
	Controller Controller
	Inverter   Inverter // Watts 0: there is none
	Monitor    Monitor  // Shunt "": there is none
	Loads      []Load

	// Parts is everything that current goes through, between named points. Parts
	// that have several of their kind are places as well, under the same id.
	Parts  []Part
	Places []reading.PlaceOnRig
}

// Battery is the bank.
type Battery struct {
	Chemistry string  // lfp, flooded, agm, gel, other-lithium
	Ah        float64 // of the whole bank, by its labels
	Series    int     // blocks one after the other
	Parallel  int     // such strings side by side, see [System.StringEnds]
	Charge    float64 // per cent, true
	CellC     float64 // °C of the cells, as it stands
	BMS       bool    // has a protection of its own
	TripA     float64 // amps at which that protection cuts; 0 without one
	TripS     float64 // seconds it waits before it does
	App       bool    // tells its cells and flags
}

// Array is the solar array, of equal modules.
type Array struct {
	Voc, Isc, Vmp, Imp float64 // of one module, by its label
	Cells              int     // 36, 60, 72
	Bypass             int     // bypass diodes of a module
	Series, Parallel   int
	Breaker            bool // the solar switch is a breaker
}

// Controller is the solar charge controller.
type Controller struct {
	Type     string  // pwm, mppt
	RatedA   float64 // charge amps
	PVLimitV float64
	AbsorbV  float64 // as set
	FloatV   float64
	LimitA   float64 // as set; 0: no limit below RatedA
	OwnW     float64 // what it draws itself
	Eta      float64 // part of the watts that it hands on
	StartV   float64 // least battery volts from which it starts
	MarginV  float64 // PV volts above the battery's from which it starts
	AutoV    bool    // chooses the system volts by itself
	Sensor   bool    // has a battery temperature sensor
}

// Inverter is the inverter.
type Inverter struct {
	Watts float64 // rated
	IdleW float64
	Eta   float64
	LowV  float64 // cuts out below
	HighV float64 // and above
	Farad float64 // of its input capacitors
	Fused bool    // has a fuse of its own behind the bar; else the main fuse guards its wire
}

// Monitor is the battery monitor, counting through a shunt.
type Monitor struct {
	Shunt      string  // "500A-50mV"
	Ah         float64 // settings from here on
	FullV      float64
	TailPct    float64
	Efficiency float64 // per cent
	Peukert    float64
}

// Load is one consumer on its own way.
type Load struct {
	ID    string // "fridge"; its fuse is "fridge-fuse"
	Name  string // "the fridge"
	Watts float64
	AC    bool // fed by the inverter

	Plug   string // style of the plug in its way: socket, heavy, small; "" for none
	Switch bool   // has a switch in its way
}

// PartKind says what a part is.
type PartKind string

// The kinds of part.
const (
	Wire     PartKind = "wire"
	Joint    PartKind = "joint"  // lug, post clamp, stud, bar
	Screw    PartKind = "screw"  // screw terminal
	Splice   PartKind = "splice" // in a run of wire
	Fuse     PartKind = "fuse"   // with its holder
	Breaker  PartKind = "breaker"
	Isolator PartKind = "isolator"
	Switch   PartKind = "switch" // of one load
	Plug     PartKind = "plug"
	PVPlug   PartKind = "pv-plug"
	Shunt    PartKind = "shunt"
)

// Part is one thing that current goes through, between the points A and B. A is
// the end nearer the battery's or array's plus on the plus side, and nearer the
// load's or controller's minus on the minus side: plus current goes from A to B
// on discharge, and for the array from the array to the controller.
type Part struct {
	ID      string
	Kind    PartKind
	Name    string // "the main fuse holder"
	A, B    string // points
	Circuit string // battery, controller, array, inverter, or the load's id
	Minus   bool   // on the minus side
	MM2     float64
	Metres  float64 // of wire, one way
	MarkC   float64 // °C marked on the wire's sheath
	Lay     string  // free, bundled, in-insulation, engine-space, coiled
	RatedA  float64 // printed: fuse, breaker, isolator, shunt
	FullA   float64 // largest steady amps
	Style   string  // blade-holder, bolted-holder; socket, heavy, small; post, stud, bar ...
}

// Points of every rig; a circuit names its nodes by them, and so do the readings.
// A lug's side with the wire is the point "<part>.conductor"; its other end is the
// post, stud or bar. Where two parts meet that no named point lies between, the
// point is "<part>.in" or "<part>.out" of one of them. Inside parts a circuit adds
// "<part>.palm" for a lug, "<part>.tab-in" and "<part>.tab-out" for a fuse.
const (
	PostPos    = "post-pos"
	PostNeg    = "post-neg"
	BusPos     = "bus-pos"
	BusNeg     = "bus-neg"
	CtlBatPos  = "ctl-bat-pos"
	CtlBatNeg  = "ctl-bat-neg"
	CtlFuseCtl = "ctl-fuse-ctl"
	CtlFuseBus = "ctl-fuse-bus"
	CtlPVPos   = "ctl-pv-pos"
	CtlPVNeg   = "ctl-pv-neg"
	PVIsoArray = "pv-isolator-array"
	PVIsoCtl   = "pv-isolator-ctl"
	PVReturn   = "pv-return"
	ArrayPos   = "array-pos"
	ArrayNeg   = "array-neg"
	InvPos     = "inv-pos"
	InvNeg     = "inv-neg"
	ShuntBat   = "shunt-bat" // the shunt's battery side
	ShuntSys   = "shunt-sys" // the shunt's system side
)

// LoadPos is the plus point of a load.
func LoadPos(id string) string { return id + "-pos" }

// LoadNeg is the minus point of a load.
func LoadNeg(id string) string { return id + "-neg" }

// StringEnds are the plus and the minus point of the i-th battery string, from 0.
// Strings side by side are joined crosswise, so that they share alike: the rig's
// plus is taken from the first and its minus from the last. With one string they
// are PostPos and PostNeg.
func (s *System) StringEnds(i int) (plus, minus string) {
	plus, minus = PostPos, PostNeg
	if i > 0 {
		plus += "-" + strconv.Itoa(i+1)
	}
	if i < s.Battery.Parallel-1 {
		minus += "-" + strconv.Itoa(i+1)
	}
	return plus, minus
}

// Load gives the load with this id.
func (s *System) Load(id string) (Load, bool) {
	for _, l := range s.Loads {
		if l.ID == id {
			return l, true
		}
	}
	return Load{}, false
}

// Part gives the part with this id.
func (s *System) Part(id string) (Part, bool) {
	for _, p := range s.Parts {
		if p.ID == id {
			return p, true
		}
	}
	return Part{}, false
}
