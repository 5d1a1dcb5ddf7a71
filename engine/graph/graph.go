package graph

import (
	"hotlug/engine/formula"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// Graph is the whole knowledge: loaded, checked by the loader, immutable.
type Graph struct {
	Hash    string // of all layers
	Layers  []LayerHash
	Version string

	Readings map[string]*reading.Reading
	States   map[string]*reading.State
	Meters   map[string]*reading.MeterSetting
	Points   map[string]*reading.Point
	Actions  map[string]*Action
	Cautions map[string]*Caution
	Sources  map[string]*Source
	Symptoms map[string]*Symptom
	Values   map[string]*Value
	Steps    map[string]*Step    // by sheet/name
	Findings map[string]*Finding // by name; findings are unique over all sheets

	// In the order of the files, for lists on screen and for precedence.
	ReadingOrder, CautionOrder, SymptomOrder, StepOrder, FindingOrder, ValueOrder []string

	// DangerStep is where every walk begins, DangerReading the question it asks.
	DangerStep    string
	DangerReading string
	// DangerWords are words that bring the danger question at any prompt, each
	// with the ids of the stops behind it.
	DangerWords []DangerWord

	// StandardPath is the list of places a rig is taken to have when it brings
	// no list of its own and the person confirms it.
	StandardPath []reading.PlaceOnRig

	// SystemVolts is the reading that ranges for 12 V are scaled by.
	SystemVolts string

	// Laws are what readings keep to on any rig, in the order of the files.
	Laws   []*Law
	lawsOf map[string][]*Law

	Scope *formula.Scope
	reach map[string][]uint64 // by step: a bit for each of FindingOrder
	lines map[string][]string // of the files, for showing places
	odds  func() *Odds        // read once, when it is first called
}

// LayerHash names a layer of knowledge and its content.
type LayerHash struct {
	Name, Hash string
}

// DangerWord is one word or phrase that may mean danger.
type DangerWord struct {
	Words string
	Stop  string // id of the stop-work finding
}

// Symptom is what a person notices, and where the walk for it starts.
type Symptom struct {
	ID    string
	Label string
	Start string // step
	Says  []string
	At    shape.Place
}

// Caution is a reusable safety text. Rank is its precedence, 0 first.
type Caution struct {
	ID   string
	Say  string
	Rank int
	At   shape.Place
}

// Source is what a figure or a rule stands on.
type Source struct {
	ID   string
	Text string
	At   shape.Place
}

// Action is something done to the rig. It opens a round.
type Action struct {
	ID       string
	Say      string // one line: what to do
	How      []string
	Needs    *Condition
	Hazard   string
	Cautions []string
	Touches  []string // classes of places or places whose readings it opens
	Who      Who
	At       shape.Place
}

// Who may do a thing, in order of strictness.
type Who string

const (
	Helper      Who = "helper"
	Electrician Who = "electrician"
	Maker       Who = "maker"
)

// Stricter is the stricter of two.
func Stricter(a, b Who) Who {
	if rankWho[b] > rankWho[a] {
		return b
	}
	return a
}

var rankWho = map[Who]int{"": 0, Helper: 1, Electrician: 2, Maker: 3}

// Condition is a compiled condition with its text and place.
type Condition struct {
	Text string
	F    *formula.Formula
	// Known lists the readings that it asks known() of, itself or by a worked
	// value. Before those are asked for it says nothing yet.
	Known []string
	At    shape.Place
}

// Value is a worked value: a formula with a unit and a label.
type Value struct {
	ID    string
	Is    *formula.Formula
	Text  string
	Unit  string // as declared
	Label string
	At    shape.Place
}

// Branch leads on from a step. Exactly one of Go and Finding is set.
type Branch struct {
	If *Condition // nil for the last
	To Target
	// Better is what settles the condition when it is too close to call; nil if
	// the knowledge has nothing better.
	Better *Better
	At     shape.Place
}

// Better is a better reading for a close call: another reading, or the same one
// taken so that it says more (a longer rest, a bigger load, a finer meter).
type Better struct {
	Say   string     // what to do, and why it is better
	Ask   []string   // what is then read; what stands of it is read anew
	If    *Condition // decides in place of the branch's own; nil: the same once more
	Meter string     // setting that takes the place of the readings' own, "" for none
	At    shape.Place
}

// Target is where a branch leads: a step or a finding.
type Target struct {
	Step    string // sheet/name
	Finding string
	// CarryOn is set in the danger sheet only: back to where the walk stood.
	CarryOn bool
}

func (t Target) String() string {
	switch {
	case t.CarryOn:
		return "carry-on"
	case t.Finding != "":
		return t.Finding
	}
	return t.Step
}

// Step asks for readings, then branches.
type Step struct {
	ID      string // sheet/name
	Sheet   string
	Why     string // what this step separates; optional, joined to the readings' own
	Part    string // of a procedure: what its sheet to sign calls this part
	Order   string // why it stands before what would tell more; "" where nothing holds it there
	Danger  bool   // ask the danger question anew before it
	Needs   *Condition
	Do      string // action
	Which   string // class of places: which one is meant
	Each    string // class of places: all of them
	Until   *Condition
	Ask     []string
	Then    []Branch
	Unknown *Target
	Also    []Also
	At      shape.Place
}

// Also records a second fault when its condition is certain.
type Also struct {
	If      *Condition
	Finding string
	At      shape.Place
}

// Often says how often a finding is the cause of its symptoms.
type Often string

const (
	Common     Often = "common"
	Occasional Often = "occasional"
	Rare       Often = "rare"
)

// Weight is a rough count for ranking what is still possible.
func (o Often) Weight() float64 {
	switch o {
	case Common:
		return 9
	case Occasional:
		return 3
	}
	return 1
}

// Text is a line with values put in: "{holder_drop_v} at {load_a}". Or is what is
// said when one of the values is not known.
type Text struct {
	Parts []Part
	Or    string
	At    shape.Place
}

// Part is literal text, or the value of a reading or worked value.
type Part struct {
	Literal string
	Name    string // reading or worked value
	Value   *formula.Formula
	Place   bool // "{place}": the name of the place at hand
}

// FixLine is one action of a fix.
type FixLine struct {
	Action string // id, or "" when Say is set
	Say    Text
	Who    Who
	At     shape.Place
}

// Proof is how a fix is proved.
type Proof struct {
	Ask []string
	If  *Condition
	Say string // optional: how to take it, "Same load, same two points."
	// Better is what settles the proof when it is too close to call, nil if none.
	Better *Better
	At     shape.Place
}

// Stop says how a finding ends the walk before its time.
type Stop string

const (
	NoStop    Stop = ""
	StopWalk  Stop = "walk"  // everything ends here
	StopPlace Stop = "place" // this place is handed over; the walk goes on
)

// Finding is where a walk ends: cause, evidence, worked fix, cautions, proof.
type Finding struct {
	ID      string
	Sheet   string
	Cause   string
	Often   Often
	Because Text
	Working []string // worked values
	Fix     []FixLine
	Sets    []Set
	// Unsafe is how dangerous the fault is, 0 (harmless) to 3 (burns or shocks);
	// findings are told in this order.
	Unsafe   int
	NoFault  bool // the finding says that nothing is wrong
	Passes   bool // proven, it is what a procedure passes with
	Stop     Stop
	HandTo   string // for a stop or a hand-over: who goes on, with what news
	Says     []string
	Cautions []string
	Prove    *Proof
	IfNot    *Target // where the walk goes on when the proof fails
	Next     *Target // where it goes on when the proof holds: a procedure
	Alike    []string
	Shows    []string
	Lesson   string
	Sources  []string
	Formerly []string
	At       shape.Place
}

// Onward lists where a walk goes on behind the finding: after a failed proof and
// after one that held, as far as it says so.
func (f *Finding) Onward() []Target {
	var out []Target
	for _, t := range []*Target{f.IfNot, f.Next} {
		if t != nil {
			out = append(out, *t)
		}
	}
	return out
}

// Set is a fact that a fix changes.
type Set struct {
	Fact string
	To   string // name of a worked value or reading
	F    *formula.Formula
}
