package simrig

import "hotlug/engine/rig"

// Plant is a rig as it really is. A fault changes it and nothing else; labels and
// the rig file go on saying what the [rig.System] says.
type Plant struct {
	Sys   *rig.System
	Parts map[string]*Part // by part id

	Sky        Sky
	Array      Array
	Controller Controller
	Battery    Battery
	Inverter   Inverter
	Monitor    Monitor
	Meter      Meter
	Event      Event
	Drain      Drain
	Harvest    Harvest
	Danger     string // option of danger_what that is so whatever the current does, "" for none

	// Loads that are on although everybody thinks they are off, in watts by id.
	LeftOn map[string]float64
	// Shorts is the ohms of a short from a load's way to minus, by load id.
	Shorts map[string]float64
	// Branch is what is wrong with the way to a load and with the load itself, by
	// load id.
	Branch map[string]Branch
	Last   string // option of last_change, "" for nothing that anybody knows of
	// Bypass lists circuits whose minus goes to the battery's post and not
	// through the shunt: load ids, "inverter" or "controller".
	Bypass map[string]bool

	// Loads is how the loads themselves are, by load id; those not in it are sound.
	Loads map[string]LoadState

	// Felt is the part that the person took hold of, where that is not the
	// hottest one; "" for the hottest.
	Felt string
	// Worry is a symptom that the person brings although nothing notable is to be
	// seen: all is in order, or the cause lies elsewhere. "" for none.
	Worry string
}

// Sky is what shines on the array.
type Sky struct {
	Full float64 // W/m² when the sun is out; a grey day has less
}

// Part is how a part of the rig really is.
type Part struct {
	rig.Part // as it was built; FullA, RatedA and MM2 are what is printed

	FaceOhm   float64 // contact of lug, screw, splice, plug or closed switch
	BarrelOhm float64 // crimp
	ClipOhm   float64 // both contacts of a fuse holder together
	FuseA     float64 // fuse that is really in it
	Open      bool    // switched off, for all to see
	Missing   bool    // fuse or lead not there, for all to see
	Blown     bool    // fuse open, or breaker tripped
	Broken    bool    // open inside although it looks closed; of a wire: broken in its sheath or at its end
	Jumps     bool    // the contact changes when it is nudged
	Welded    bool    // does not open any more
	Bridged   bool    // of a fuse: solid metal stands in its place

	Look    string  // option of joint_look, fuse_look or the splice looks; "" sound
	Browned bool    // has been cooked before
	Lay     string  // how its wire really lies
	TrueMM2 float64 // copper that is really there
	AmbC    float64 // °C of the air around it, 0 as the rig
	WarmedK float64 // K that something hot beside it adds
	CarryA  float64 // amps that it really carries when all runs that runs; 0: from the loads
}

// Array is how the array really is.
type Array struct {
	Shade    []float64 // part of the light that each substring gets; nil: all of it
	Dirt     float64   // part of the light lost on all of it
	Dead     int       // strings that give nothing
	Shorted  int       // modules whose bypass diodes are shorted
	Reversed bool      // plus and minus exchanged on the way
	Look     string    // option of array_look, "" sound
	HotC     float64   // cell temperature above the air at full sun, K; 0: the usual
	WrongV   int       // modules in series really joined; 0: as built
	Weak     float64   // part of the light that is lost on one string of several: cracked, wet, aged
	LeakOhm  float64   // from pole to pole in its switch; 0: none
	OutParts int       // parts of one module, each with its own diode, that are bridged
}

// Controller is how the controller really is.
type Controller struct {
	Dead       bool    // gives nothing and shows nothing
	Hung       bool    // gives nothing until it is switched off and on
	DeadOut    bool    // lives and shows, gives nothing
	Disabled   bool    // charging is switched off
	Error      string  // an error of its own making, option of controller_error; while it stands nothing is given
	PVShort    bool    // its solar input is a short: it takes the amps and holds no volts
	ShortV     float64 // V below its set top at which a day's charge ends, for want of sun; 0: it gets there
	SystemV    float64 // volts of bank that it takes this one for; 0: the right ones
	AutoV      bool
	AbsorbV    float64 // as set
	FloatV     float64
	LimitA     float64
	SensorOff  float64 // K that its battery temperature is off
	SensorDead bool    // sensor open: it shows the figure that stands for that
	Held       bool    // the battery does not let it charge, by a wire of its own
	StageA     float64 // A above which it gives no more, for want of a power stage; 0: whole
	TooHot     bool    // has throttled to nothing by its own heat
	Look       string  // option of controller_look
	VoltsOff   float64 // V that its own battery volts are off
	Profile    string  // option of controller_profile that is set; "" the one of the battery
}

// Battery is how the battery really is.
type Battery struct {
	Ah       float64 // left
	Charge   float64 // per cent
	Ohm      float64 // inside, whole bank
	CellC    float64
	WarmK    float64 // °C of its case above the cells' surroundings
	Flag     string  // what its protection says, option of bms_flag
	NoCharge bool    // protection keeps the charge out
	Off      bool    // protection has let go: ghost volts only
	TopV     float64 // volts it shows though not at rest; 0: by its charge
	BMSOff   float64 // V that its own app is off
	Cell     string  // option of cell_behaviour
	Recent   string  // option of rest_kind
	Full     bool    // at its top: takes hardly any current
	TailA    float64 // A that it still takes full, at the right top volts; 0: as a sound one
	TripA    float64
	TripS    float64
	CutWhen  string // option of cut_when; on-connecting: it went dead at the last contact of Event and has come back since

	Blocks   []Block // its batteries, one string after the other; nil: all sound and alike
	OneEnd   bool    // both main leads sit on the first of the batteries side by side
	Look     string  // option of bank_look, where no part shows it; "" by the parts
	Cells    Cells   // of lithium
	Dies     bool    // woken, it falls asleep again at the first lamp
	Sulphate float64 // part of its acid that sits in the plates, lead
	Dry      bool    // acid below the plates in some cell, flooded
	New      bool    // it was put in lately, for the trouble that is still there
	UseWh    float64 // Wh that are used in a day; 0: as the loads and the bank suggest
}

// Inverter is how the inverter really is.
type Inverter struct {
	Shorted bool    // its input is a short
	Ohm     float64 // of that short
	Switch  bool    // its own switch is on
	Farad   float64

	Remote  bool    // its remote control holds it off
	Dead    bool    // gives nothing and shows nothing
	Alarm   bool    // lives, shows a fault and gives nothing
	Wails   bool    // sounds its alarm without a cause, and works
	Latched bool    // has locked itself off until it is switched off and on
	LowStop bool    // low volts have stopped it, so it starts again only from more
	LowV    float64 // limits as they are set; 0: as it was built
	HighV   float64
	SenseV  float64 // V that it takes its volts for less than they are
	Look    string  // option of inverter_look; "" sound
	Scrapes bool    // its fan
	BlockK  float64 // K by which it runs hotter than with free vents
	AirC    float64 // °C of the air around it, 0 as the rig
	Search  bool    // searches for a load, and stays off without one
	PlugW   float64 // W of what is plugged in and runs; 0: the usual
	Starts  string  // option of start_kind of what is switched on; "" nothing that takes more as it starts
	Stepped bool    // its wave has steps
	Iron    bool    // its transformer can be heard
	DryOhm  float64 // that its dry capacitors add behind the ripple
}

// Monitor is how the monitor is really set and joined.
type Monitor struct {
	Source     string  // option of percent_source
	ShuntSet   string  // shunt that is set
	ShuntTimes float64 // times its printed ohms that the shunt has; 0: once
	Reversed   bool    // counts with the wrong sign
	Wire       string  // option of signal_cable_look; "" sound
	ZeroA      float64 // amps it shows at nothing
	Ah         float64 // settings
	FullV      float64
	TailPct    float64
	Efficiency float64
	Peukert    float64
	Percent    float64 // what it shows now
	Pattern    string  // option of percent_pattern, worked out where it can be
	Weeks      float64 // since the last true full charge
	Idle       bool    // rig has stood in storage
}

// Meter is the second meter of the place, for those that disagree.
type Meter struct {
	OffV   float64 // V that the rig's own display is off
	BadSet bool    // one of the meters is set wrongly or has bad leads

	// HandGain is by which part of the reading the person's own meter shows too
	// much volts, 0.03 for 3 %. Every reading with it is off by that.
	HandGain float64
}

// Event is what was going on when it happened, for complaints about a moment: a
// spark, a bang, a fuse that blew.
type Event struct {
	Joining    string  // option of joined_what, "" for nothing
	Precharged bool    // capacitors were filled first
	PreOhm     float64 // with this resistor
	Reversed   bool    // plus and minus were exchanged
	Parting    bool    // it was taken off, not joined
	Tool       string  // "post" a tool bridged the posts, "frame" plus to frame
	OtherV     float64 // volts of the other battery joined, 0 for none
	OtherOhm   float64
	Unlike     bool // and that one is of another kind
	InvOn      bool // the inverter was on at that moment
	PVPlug     bool // at a solar plug
	FuseBlew   bool
}
