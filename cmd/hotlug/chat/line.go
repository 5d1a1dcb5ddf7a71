package chat

import (
	"time"

	"hotlug/engine/walk"
)

// Line is what the chat speaks through.
type Line interface {
	// ReadLine prints the prompt and gives what was typed, without its newline.
	// io.EOF ends the chat; term.ErrInterrupt is Ctrl-C.
	ReadLine(prompt string) (string, error)
	Print(text string) error
	Width() int
	IsTerminal() bool
}

// Recorder keeps what happened. An error means that it could not be kept; the
// chat says so and goes on.
type Recorder interface {
	Event(walk.Event) error
	Note(text string, at time.Time) error
	Said(c Concluded, at time.Time) error
	// Photo keeps a copy of a picture file; about is what is asked at that moment.
	// A [NoPhotoError] says why the file can't be used.
	Photo(path, about string, at time.Time) (Attached, error)
	ID() string // "" while nothing is kept
}

// Concluded is what the chat has told, kept for reading.
type Concluded struct {
	Text, Finding, Status, Outcome string
	TakenBack                      bool // Finding no longer stands
}

// Attached is a picture that was kept.
type Attached struct {
	File          string // name of the copy
	Width, Height int    // pixels
}

// NoPhotoError says why a file can't be attached.
type NoPhotoError struct {
	What    string
	Missing bool // there is no such file: what was typed may be no path at all
}

func (e *NoPhotoError) Error() string { return e.What }
