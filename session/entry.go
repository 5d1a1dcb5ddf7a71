package session

import (
	"errors"
	"time"

	"hotlug/engine/walk"
)

// Format is the version of the file that this program writes, and the newest it
// reads. Format 2 has lines of photos; a file of format 1 is read as it is.
const Format = 2

// Header is the first line of a session: what it was begun with.
type Header struct {
	Format    int       `json:"format"`
	ID        string    `json:"id"`
	Created   time.Time `json:"created"`
	Program   string    `json:"program,omitempty"` // version of the program
	Units     string    `json:"units,omitempty"`   // metric or us
	Knowledge Knowledge `json:"knowledge"`
	Rig       *Rig      `json:"rig,omitempty"`
}

// Knowledge names what the session's conclusions are drawn from.
type Knowledge struct {
	Version string  `json:"version,omitempty"`
	Hash    string  `json:"hash"` // of all layers merged
	Layers  []Layer `json:"layers,omitempty"`
}

// Layer is one folder of knowledge: the built-in one, or one laid over it.
type Layer struct {
	Name string `json:"name"`
	Hash string `json:"hash"`
}

// Rig is the session's own copy of the rig file, as it was when the session
// began.
type Rig struct {
	Name string `json:"name,omitempty"`
	Path string `json:"path,omitempty"` // where it was read from
	Text string `json:"text"`           // the file as it was
}

// Entry is one line after the header. Just one of Event, Note, Printed and Photo is
// set.
type Entry struct {
	N       int         `json:"n"` // set by Append: 1, 2, 3 ...
	At      time.Time   `json:"at,omitzero"`
	Event   *walk.Event `json:"event,omitempty"`
	Note    string      `json:"note,omitempty"`
	Printed *Printed    `json:"printed,omitempty"`
	Photo   *Photo      `json:"photo,omitempty"`
}

// Printed is what was concluded and shown: for reading, never for resuming.
type Printed struct {
	Text    string `json:"text,omitempty"`
	Finding string `json:"finding,omitempty"` // id of a finding that was concluded
	Status  string `json:"status,omitempty"`  // its status
	Outcome string `json:"outcome,omitempty"` // how the walk ended, if it did
}

func (e Entry) check() error {
	n := 0
	if e.Event != nil {
		n++
	}
	if e.Note != "" {
		n++
	}
	if e.Printed != nil {
		n++
	}
	if e.Photo != nil {
		n++
	}
	switch {
	case n == 1 && e.Photo != nil:
		return e.Photo.check()
	case n == 1:
		return nil
	case n == 0:
		return errors.New("holds no event, no note, no photo and nothing printed")
	}
	return errors.New("holds more than one of event, note, photo and printed")
}
