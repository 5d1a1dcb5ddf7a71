package walk

import (
	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// PromptKind says what the walk wants next.
type PromptKind string

const (
	WantComplaint PromptKind = "complaint" // which symptom
	WantAnswer    PromptKind = "ask"       // one reading
	WantSure      PromptKind = "odd"       // an odd value: again, another value, or sure
	WantCloseCall PromptKind = "close"     // too close to call: again, or go on
	WantDone      PromptKind = "do"        // an action on the rig
	WantPlaces    PromptKind = "places"    // is this the list of places? done / not-done
	WantPlace     PromptKind = "which"     // which of these places is meant
	WantFix       PromptKind = "found"     // a finding is told; is its fix done?
	Ended         PromptKind = "end"       // nothing more to ask
)

// Outcome says how a walk ended.
type Outcome string

const (
	Running  Outcome = ""
	Found    Outcome = "found"    // at least one likely or proven finding
	Narrowed Outcome = "narrowed" // no more to ask; what is possible is listed
	Stopped  Outcome = "stopped"  // stop-work
)

// Prompt is what the walk wants next, as a value: the chat puts it into words,
// replay answers it from a file, a test from a table.
type Prompt struct {
	Kind PromptKind

	Step    *graph.Step // where the walk stands, if at a step
	Reading *reading.Reading
	Place   reading.PlaceOnRig // zero if the reading is not taken at a place
	Round   int
	Proof   bool          // this reading proves the fix of Finding
	Danger  bool          // this is the danger question
	Opened  bool          // it was answered before and is asked anew
	Better  *graph.Better // the reading is taken for a close call, and how
	Retake  *Retake       // the answer is taken again because it fits the rest worst
	Refused string        // why the last event was not taken; the prompt stands as it was

	// Cautions to show with it, in order of precedence; those already given this
	// round are left out unless Again.
	Cautions []*graph.Caution

	Action  *graph.Action
	Places  []reading.PlaceOnRig // WantPlaces
	Odd     *Odd                 // WantSure
	Close   *CloseCall           // WantCloseCall
	Finding *Told                // WantFix, and at the end of a stopped walk the stop

	// Ended:
	Outcome  Outcome
	Findings []*Told
	Possible []Possible // what is still possible, likeliest first
	Best     *BestNext  // the reading that would split it best, nil if none
}

// Odd is a value outside what is plausible, or one that breaks a law.
type Odd struct {
	Value   float64
	Say     string    // one sentence: what is odd about it
	Lo, Hi  float64   // what would be plausible
	Suggest []float64 // likely meant, best first: fits range and laws
	// Law is what the value breaks with other readings, nil if it is only out of
	// the usual range; Other is another of its readings that was likelier mistyped,
	// nil if there is none.
	Law   *graph.Law
	Other *Slip
}

// Slip is an answer that was likely mistyped.
type Slip struct {
	Reading      *reading.Reading
	Place        string
	Value, Meant float64
}

// CloseCall is a condition that the readings' limits straddle.
type CloseCall struct {
	Condition string // as written
	Say       string // one sentence with the numbers
	Reasons   []formula.Reason
	Likelier  graph.Target
	Other     graph.Target
	Readings  []Key         // which to take again, the widest first
	Better    *graph.Better // a better reading, nil if none is known or it has been taken

	branch int
}

// Status of a finding.
type Status string

const (
	IsPossible   Status = "possible"
	IsLikely     Status = "likely"
	IsClose      Status = "close"
	IsProven     Status = "proven"
	IsRefuted    Status = "refuted"
	IsHandedOver Status = "handed over"
)

// Told is a finding as this walk reached it.
type Told struct {
	Finding *graph.Finding
	Status  Status
	Place   reading.PlaceOnRig
	Round   int
	Pending bool // fix or proof still to come
	Second  bool // recorded on the way, not where the walk ended

	Odd   []string // odd values that were confirmed and stand, each in a sentence
	Close []string // the close calls on the way to it, each in a sentence with its numbers

	// Worked when it was told, with the readings of that moment.
	Because  string
	Working  []formula.Working
	Fix      []FixLine
	Cautions []*graph.Caution
	Proof    string // what the proof wants, in words; "" if none

	shown bool             // its turn to be told has come
	cond  *graph.Condition // of a second fault: what must still hold when it is told
}

// FixLine is one line of a fix with its numbers put in.
type FixLine struct {
	Say string
	How []string
	Who graph.Who
}

// Possible is a finding that is not excluded.
type Possible struct {
	Finding *graph.Finding
	Status  Status // possible, or refuted for those asked for by name
	Share   float64
	Via     string // step it hangs on
}

// BestNext is the reading that would split what is possible best.
type BestNext struct {
	Reading *reading.Reading
	Step    *graph.Step
	Minutes float64
	Place   reading.PlaceOnRig // zero if it is taken at no place in particular
	Stand   string             // where the person must go for it, "" if they stand there
	States  []*reading.State   // into which the rig must be brought for it
}

// Visit is one step of the trail.
type Visit struct {
	Step    string
	Place   string
	Round   int
	Asked   []Take
	Took    string // target taken
	Why     string // "0.18 V is above 0.094 V"
	Assumed bool
	Close   bool
}

// Closed is a place that the walk could not enter.
type Closed struct {
	Step   string
	Place  string
	Reason string
	Who    graph.Who // who may go there
}
