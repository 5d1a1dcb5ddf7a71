package walk

import "time"

// EventKind names what happened. The words are part of the journal's format.
type EventKind string

const (
	EvFact      EventKind = "fact"      // a fact of the rig, from a file, told or assumed
	EvComplaint EventKind = "complaint" // a symptom was chosen
	EvAnswer    EventKind = "answer"    // a reading was taken
	EvNotKnown  EventKind = "not-known" // a reading cannot be had, with the reason
	EvAgain     EventKind = "again"     // a close or odd reading is to be taken again
	EvSure      EventKind = "sure"      // an odd value is confirmed
	EvGoOn      EventKind = "go-on"     // take the likelier side of a close call
	EvBetter    EventKind = "better"    // take the better reading that a close call offers
	EvDone      EventKind = "done"      // what was to be done has been done
	EvNotDone   EventKind = "not-done"  // it has not, or not yet
	EvBack      EventKind = "back"      // undo one event
	EvChange    EventKind = "change"    // an earlier answer is to be given anew
	EvDanger    EventKind = "danger"    // a danger word was typed
	EvResumed   EventKind = "resumed"   // the session goes on after a break
	EvAt        EventKind = "at"        // which of the rig's places is meant; none if Place is empty
)

// Origin says where a take comes from.
type Origin string

const (
	Read    Origin = "read"    // with a meter, or looked at
	Said    Origin = "told"    // said by the person from memory or a label
	File    Origin = "file"    // from the rig file
	Worked  Origin = "worked"  // computed, as what a fix has set
	Assumed Origin = "assumed" // taken for granted
)

// Event is one thing that happened in a walk, one line of the journal. Which
// fields are set depends on Kind.
type Event struct {
	Kind EventKind `json:"kind"`

	Symptom string `json:"symptom,omitempty"` // complaint
	Words   string `json:"words,omitempty"`   // complaint, danger: as typed

	Reading string `json:"reading,omitempty"` // fact, answer, not-known, again, sure, change
	Place   string `json:"place,omitempty"`
	Round   int    `json:"round,omitempty"` // informative: the walk works it out

	// The value of an answer or fact: a number in the unit of the reading's kind,
	// the id of a choice, or "yes"/"no" in Choice for a yes-no reading.
	Value  *float64 `json:"value,omitempty"`
	Choice string   `json:"choice,omitempty"`

	Text   string  `json:"text,omitempty"`  // as typed
	Step   float64 `json:"digit,omitempty"` // worth of the last digit typed, same unit as Value
	About  bool    `json:"about,omitempty"` // said to be rough
	Meter  string  `json:"meter,omitempty"` // meter class
	Origin Origin  `json:"origin,omitempty"`
	Again  bool    `json:"again,omitempty"` // of an answer: taken again because it fitted worst

	Finding string `json:"finding,omitempty"` // done, not-done of a fix; complaint, danger: the stop-work behind the words
	Action  string `json:"action,omitempty"`  // done, not-done of a step's action
	Reason  string `json:"reason,omitempty"`  // not-known, not-done

	At time.Time `json:"at,omitzero"` // when; data, never read from a clock here

	// What the walk notes when it takes the event, so that after a change it is
	// given again only where it belongs: what had opened the round, and for a
	// close call what was decided.
	opened, decided string
}

// Key is what a take is filed under.
type Key struct {
	Reading, Place string
}

// Key of the event's reading at its place.
func (e Event) Key() Key { return Key{e.Reading, e.Place} }
