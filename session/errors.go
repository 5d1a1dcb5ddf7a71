package session

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
)

// DamagedError says that a session is damaged, so that nothing may be appended.
// What could be read has been returned beside it.
type DamagedError struct {
	ID     string
	Path   string
	Report Report
}

func (e *DamagedError) Error() string {
	return fmt.Sprintf("session %s is damaged and takes no further answers: %s. What can be read is shown by `hotlug sessions show %s`; the file %s has not been changed",
		e.ID, e.Report.Damaged(), e.ID, e.Path)
}

// NewerError says that a session was written in a format newer than this program
// knows.
type NewerError struct {
	ID     string
	Format int
}

func (e *NewerError) Error() string {
	return fmt.Sprintf("session %s was written by a newer Hotlug (format %d; this one reads up to %d). Use that one; the file has not been touched", e.ID, e.Format, Format)
}

// BusyError says that somebody else has the session open.
type BusyError struct{ ID string }

func (e *BusyError) Error() string {
	return fmt.Sprintf("session %s is open in another Hotlug. Leave that one first, or begin a new session", e.ID)
}

// MissingError says that there is no such session.
type MissingError struct{ ID, Dir string }

func (e *MissingError) Error() string {
	return fmt.Sprintf("there is no session %s in %s. `hotlug sessions list` lists those there are", e.ID, e.Dir)
}

// NotKeptError says that something could not be kept. It is still the caller's,
// and the journal stands as before.
type NotKeptError struct {
	What string // what was to be kept, as in "the answer"
	Path string
	Err  error
}

func (e *NotKeptError) Error() string {
	return fmt.Sprintf("%s could not be kept in %s: %s. %s", e.What, e.Path, reason(e.Err), remedy(e.Err))
}

func (e *NotKeptError) Unwrap() error { return e.Err }

func reason(err error) string {
	var p *fs.PathError
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return "the disk is full"
	case errors.Is(err, syscall.EFBIG):
		return "the file has reached the size that is allowed here"
	case errors.Is(err, fs.ErrPermission):
		return "it may not be written to"
	case errors.Is(err, fs.ErrNotExist):
		return "the file or its folder is gone"
	case errors.As(err, &p):
		return p.Err.Error()
	}
	return err.Error()
}

func remedy(err error) string {
	switch {
	case errors.Is(err, errFull), errors.Is(err, errLong), errors.Is(err, errEntry):
		return "What was kept before is safe"
	case errors.Is(err, syscall.ENOSPC):
		return "Make room, or name another folder with --data DIR"
	}
	return "Name another folder with --data DIR"
}

// Damage is one place of a file that is not as it was written.
type Damage struct {
	Line int    // 1 is the header
	What string // what is wrong with it
}

// maxDamage is how many damaged lines are told one by one; the rest is counted.
const maxDamage = 100

// Report says what reading a file left out.
type Report struct {
	Torn   int // bytes of a last line that was never finished; 0 if none
	Damage []Damage
	More   int // damaged lines beyond those in Damage
}

func (r *Report) add(line int, what string) {
	if len(r.Damage) < maxDamage {
		r.Damage = append(r.Damage, Damage{line, what})
		return
	}
	r.More++
}

// Sound says whether nothing but an unfinished last line was left out.
func (r Report) Sound() bool { return len(r.Damage) == 0 }

// Damaged tells the damage in one phrase, as in "line 4 does not match its
// checksum; line 9 is missing".
func (r Report) Damaged() string {
	const told = 5
	var b strings.Builder
	for i, d := range r.Damage {
		if i == told {
			break
		}
		if i > 0 {
			b.WriteString("; ")
		}
		fmt.Fprintf(&b, "line %d %s", d.Line, d.What)
	}
	if n := len(r.Damage) + r.More - told; n > 0 {
		fmt.Fprintf(&b, "; and %d more", n)
	}
	return b.String()
}
