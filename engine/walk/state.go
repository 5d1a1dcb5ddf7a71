package walk

import (
	"maps"
	"slices"
	"time"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

// Setup is what a walk starts from, besides the knowledge.
type Setup struct {
	// Places of the rig. Without any, the knowledge's standard path is offered
	// for confirmation the first time a step goes over places.
	Places []reading.PlaceOnRig
	Style  quantity.Style

	fromFile bool // Places came with the setup
}

// Take is one answer to one reading at one place.
type Take struct {
	Reading string // as asked
	Place   string
	Round   int
	Sitting int

	Known  bool
	Value  float64
	Choice int // index of the option; for yes-no 1 is yes
	Reason string

	Text   string
	Digit  float64
	About  bool
	Meter  string
	Origin Origin
	Sure   bool
	Again  bool   // it was taken again because it fitted worst
	Odd    string // of one that was confirmed: what is odd about it
	At     time.Time

	event int // index of the answer in the log
}

type mode uint8

const (
	atComplaint mode = iota
	atStep
	atFix
	atProof
	atRetake
	atEnd
)

// frame is where the walk stands.
type frame struct {
	mode    mode
	step    *graph.Step
	place   string   // the place at hand, "" for none
	entry   string   // the place with which the step was entered
	before  string   // each: the place at hand before it
	from    int      // takes before this frame
	odd     bool     // each: a place was picked
	asked   bool     // which: it has been asked
	assumed bool     // a branch before was left open and the likelier side taken
	close   bool     // a close call before was decided by its likelier side
	calls   []string // the close calls before, each in a sentence

	done    bool          // the step's action is done (for this place)
	places  []string      // each: what is walked over
	at      int           // each: index into places
	stopped bool          // each: until has come true
	goOn    bool          // the person wants the likelier side of the close call
	finer   *graph.Better // the better reading that is being taken for a close call
	tried   uint64        // branches whose better reading has been taken, by bit
	danger  bool          // the danger question was asked for this step

	told int // index into State.told, at fix and proof

	retake       int  // index into State.takes of the answer that is taken again
	retakeFailed bool // because a proof has failed

	doubt    *Event     // an odd answer that waits to be confirmed
	doubtAt  int        // its index in the log
	doubtLaw *graph.Law // the law that it breaks, nil if it is only out of the usual range
}

// try is a place still to try.
type try struct {
	to      graph.Target
	place   string
	assumed bool
	close   bool
	calls   []string
	from    string
	owed    bool // a finding's own word on where to go on: taken whatever else is found
}

type seen struct {
	step, place string
}

// seen is what the frame's step was entered as.
func (f *frame) seen() seen { return seen{f.step.ID, f.entry} }

// State is a walk at one moment. It is a value: Step never changes the state it
// is given.
type State struct {
	setup   Setup
	symptom string
	words   string
	cur     frame
	saved   *frame // where the danger question interrupted
	resume  *frame // the same, while the danger sheet finds out what it is
	behind  string // stop-work behind the word that brought the danger question

	round   int
	opened  string // what opened this round, "" for the first
	sitting int
	states  []string // states of the rig that this sitting has asked for

	takes []*Take // all, in order; a take never changes once it is put
	now   board   // takes that stand
	was   board   // last takes of rounds before

	placesOK bool
	visited  map[seen]bool
	guessed  map[seen]bool // steps entered on a guess, in any round: what could not be had then is not asked once more
	refuted  map[string]bool
	given    map[string]bool // cautions given this round
	todo     []try
	trail    []visit
	told     []Told
	closed   []Closed

	failed  bool // a proof has just failed, and no answer was doubted for it yet
	outcome Outcome
	asked   int // answers so far, to tell whether the danger question is fresh
	fresh   int // value of asked when the danger question was last answered

	log    []*Event // effective events, for change; only the newest is ever written to
	stale  []int    // indices into log of answers that were taken again
	held   []Event  // answers kept from before a change
	prev   *State
	prompt Prompt
}

func (s *State) clone() *State {
	c := *s
	c.visited = maps.Clone(s.visited)
	c.guessed = maps.Clone(s.guessed)
	c.refuted = maps.Clone(s.refuted)
	c.given = maps.Clone(s.given)
	c.takes = slices.Clip(s.takes)
	c.todo = slices.Clone(s.todo)
	c.trail = slices.Clip(s.trail)
	c.told = slices.Clone(s.told)
	c.closed = slices.Clip(s.closed)
	c.log = slices.Clip(s.log)
	c.stale = slices.Clip(s.stale)
	c.states = slices.Clip(s.states)
	c.prev = s
	return &c
}

// Prompt is what the walk wants next.
func (s *State) Prompt() Prompt { return s.prompt }

// Outcome says how the walk ended, Running while it has not.
func (s *State) Outcome() Outcome { return s.outcome }

// Symptom is the id of the complaint, "" before there is one.
func (s *State) Symptom() string { return s.symptom }

// Words is the complaint as the person typed it.
func (s *State) Words() string { return s.words }

// Round counts the things done to the rig.
func (s *State) Round() int { return s.round }

// Takes lists all answers in the order in which they were given.
func (s *State) Takes() []Take {
	out := make([]Take, len(s.takes))
	for i, t := range s.takes {
		out[i] = *t
	}
	return out
}

// Told lists the findings that were told or recorded, in that order.
func (s *State) Told() []Told { return slices.Clone(s.told) }

// ClosedPlaces lists what the walk could not enter, with the reason.
func (s *State) ClosedPlaces() []Closed { return slices.Clone(s.closed) }

// Places lists the places of the rig.
func (s *State) Places() []reading.PlaceOnRig { return slices.Clone(s.setup.Places) }

// Held lists answers kept from before a change that have not been asked for
// again.
func (s *State) Held() []Event { return slices.Clone(s.held) }

// Events lists what has happened, without what was taken back.
func (s *State) Events() []Event {
	out := make([]Event, len(s.log))
	for i, e := range s.log {
		out[i] = *e
	}
	return out
}

// Stands gives the take of a reading at a place that holds at this moment.
func (s *State) Stands(reading, place string) (Take, bool) {
	i, ok := s.now.get(Key{reading, place})
	if !ok {
		return Take{}, false
	}
	return *s.takes[i], true
}

func (s *State) placeByID(id string) reading.PlaceOnRig {
	for _, p := range s.setup.Places {
		if p.ID == id {
			return p
		}
	}
	return reading.PlaceOnRig{ID: id}
}
