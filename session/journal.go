package session

import (
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/gofrs/flock"

	"hotlug/engine/walk"
)

// Journal is a session that is open for more. It is for one goroutine.
type Journal struct {
	header Header
	path   string
	f      *os.File
	lock   *flock.Flock
	n      int   // number of the last entry
	end    int64 // offset behind the last line that is kept
	dirty  bool  // something may stand beyond end
}

// ID is the session's id.
func (j *Journal) ID() string { return j.header.ID }

// Header is the session's first line.
func (j *Journal) Header() Header { return j.header }

// Path is the session's file.
func (j *Journal) Path() string { return j.path }

// Append has an entry on disk before it returns nil; its N is set here. After an
// error (a [NotKeptError]) the entry is not in the session, the journal is as it
// was, and the same entry may be appended again once there is room.
func (j *Journal) Append(e Entry) error { return j.append("the entry", e) }

// Event keeps an event of the walk.
func (j *Journal) Event(e walk.Event) error {
	return j.append("the answer", Entry{At: e.At, Event: &e})
}

// Note keeps a note.
func (j *Journal) Note(text string, at time.Time) error {
	return j.append("the note", Entry{At: at, Note: text})
}

// Said keeps what was printed as a conclusion, for reading.
func (j *Journal) Said(text string, at time.Time) error {
	return j.append("what was concluded", Entry{At: at, Printed: &Printed{Text: text}})
}

func (j *Journal) append(what string, e Entry) error {
	if err := j.keep(e); err != nil {
		return &NotKeptError{What: what, Path: j.path, Err: err}
	}
	return nil
}

func (j *Journal) keep(e Entry) error {
	if j.f == nil {
		return errors.New("the session has been closed")
	}
	if err := e.check(); err != nil {
		return fmt.Errorf("%w: it %w", errEntry, err)
	}
	e.N = j.n + 1
	e.At = e.At.Round(0)
	line, err := seal(e, MaxLine)
	if err != nil {
		return err
	}
	if err := j.mend(); err != nil {
		return err
	}
	if j.end+int64(len(line)) > MaxFile {
		return errFull
	}
	if err := j.write(line); err != nil {
		return err
	}
	j.n = e.N
	return nil
}

// write puts a line behind the last and has it on disk, or takes back what it
// could write of it.
func (j *Journal) write(line []byte) error {
	j.dirty = true
	_, err := j.f.WriteAt(line, j.end)
	if err == nil {
		err = j.f.Sync()
	}
	if err == nil {
		err = j.present()
	}
	if err != nil {
		// If even this fails, mend tries again before the next line.
		if j.f.Truncate(j.end) == nil {
			j.dirty = false
		}
		return err
	}
	j.end += int64(len(line))
	j.dirty = false
	return nil
}

// mend cuts off what stands beyond the last line that is kept.
func (j *Journal) mend() error {
	if !j.dirty {
		return nil
	}
	if err := j.f.Truncate(j.end); err != nil {
		return err
	}
	if err := j.f.Sync(); err != nil {
		return err
	}
	j.dirty = false
	return nil
}

// present says whether the file that is written to is still the one by that
// name: on some systems a deleted file takes lines as willingly as any other.
func (j *Journal) present() error {
	named, err := os.Lstat(j.path)
	if err != nil {
		return err
	}
	own, err := j.f.Stat()
	if err != nil {
		return err
	}
	if !os.SameFile(named, own) {
		return errors.New("another file has taken its place")
	}
	return nil
}

// Close ends the writing and frees the lock. The session can be resumed.
func (j *Journal) Close() error {
	if j.f == nil {
		return nil
	}
	err := j.f.Close()
	j.f = nil
	if e := j.lock.Close(); err == nil {
		err = e
	}
	return err
}
