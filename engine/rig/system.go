package rig

import "hotlug/engine/reading"

// System is a rig in numbers: what a circuit is built from. It says how the rig
// was meant to be; what is really so in a faulty one is the simulation's.
type System struct {
	Name  string
	About string
	Kind  string  // hut, van, boat, trailer
	Volts float64 // nominal volts of the bank: 12, 24 or 48

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
	Parallel  int     // such strings side by side
	Charge    float64 // per cent, true
	CellC     float64 // °C of the cells
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
// Parts add more: "<part>.in", "<part>.tab-in", "<part>.tab-out", "<part>.out" for a fuse in
// its holder, "<part>.conductor" and "<part>.palm" for a lug.
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

// Part gives the part with this id.
func (s *System) Part(id string) (Part, bool) {
	for _, p := range s.Parts {
		if p.ID == id {
			return p, true
		}
	}
	return Part{}, false
}
