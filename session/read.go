package session

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"time"

	"hotlug/engine/walk"
)

// errNoHeader says that a file ends before its first line does.
var errNoHeader = errors.New("does not hold even its first line: the session had only just begun when it was cut off")

// scan reads a journal from its beginning and hands over each entry that is as it
// was written, read by [entry] or, for a summary, by [glance]. It gives the header, what was left out, and the offset behind the
// last finished line. The error is about reading, a newer format, or a first line
// that can't be used; with it, the report holds what else is known.
func scan(r io.Reader, id string, read func(line []byte) (Entry, error), each func(Entry) error) (h Header, rep Report, end int64, err error) {
	l := newLines(io.LimitReader(r, MaxFile+1))
	last, lost := 0, false // the number of the last good entry, and whether a line since is not
	for {
		line, tooLong, err := l.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return h, rep, l.at, err
		}
		if l.at > MaxFile {
			return h, rep, l.at, fmt.Errorf("is larger than a session can be (%d MiB)", MaxFile>>20)
		}
		if l.n == 1 {
			if tooLong {
				return h, rep, l.at, errors.New("does not begin as a session does: its first line is too long")
			}
			if h, err = header(line, id); err != nil {
				return h, rep, l.at, err
			}
			continue
		}
		if tooLong {
			rep.add(l.n, "is too long")
			lost = true
			continue
		}
		e, err := read(line)
		if err != nil {
			rep.add(l.n, err.Error())
			lost = true
			continue
		}
		// Damaged lines since the last good one account for a gap.
		switch {
		case e.N <= last:
			rep.add(l.n, fmt.Sprintf("is out of order: entry %d comes after %d", e.N, last))
			continue
		case e.N > last+1 && !lost:
			rep.add(l.n, fmt.Sprintf("is out of order: entry %d comes straight after %d", e.N, last))
		}
		last, lost = e.N, false
		if err := each(e); err != nil {
			return h, rep, l.at, err
		}
	}
	if l.torn > 0 && l.at+int64(l.torn) > MaxFile {
		return h, rep, l.at, fmt.Errorf("is larger than a session can be (%d MiB)", MaxFile>>20)
	}
	if l.n == 0 {
		return h, rep, 0, errNoHeader
	}
	// A whole line with one byte more was finished once: its newline has changed.
	if n := len(l.buf); n > 0 && n == l.torn {
		if _, err := unseal(l.buf[:n-1]); err == nil {
			rep.add(l.n+1, "does not end as it was written")
			return h, rep, l.at, nil
		}
	}
	rep.Torn = l.torn
	return h, rep, l.at, nil
}

// header reads the first line. A newer format is recognised even if it keeps its
// checksum some other way.
func header(line []byte, id string) (Header, error) {
	var peek struct {
		Format int `json:"format"`
	}
	if json.Unmarshal(line, &peek) == nil && peek.Format > Format {
		return Header{}, &NewerError{ID: id, Format: peek.Format}
	}
	var h Header
	body, err := unseal(line)
	if err != nil {
		return h, fmt.Errorf("does not begin as a session does: its first line %w", err)
	}
	if err := decode(body, &h); err != nil {
		return h, fmt.Errorf("does not begin as a session does: its first line %w", err)
	}
	if h.Format < 1 || h.Format > Format {
		return h, fmt.Errorf("does not begin as a session does: there is no format %d", h.Format)
	}
	if h.ID != id {
		return h, fmt.Errorf("holds session %q, not %s: it has been renamed or copied", clip(h.ID), id)
	}
	return h, nil
}

func entry(line []byte) (Entry, error) {
	var e Entry
	body, err := unseal(line)
	if err != nil {
		return e, err
	}
	if err := decode(body, &e); err != nil {
		return e, err
	}
	return e, e.check()
}

// glance reads of an entry what a summary is made of. Nearly all lines are
// answers, of which it wants the number, the time and that they are there: they
// are not decoded, which takes a tenth of the time. The checksum is checked all
// the same; what is not as this program writes it is left to [entry].
func glance(line []byte) (Entry, error) {
	body, err := sealed(line)
	if err != nil {
		return Entry{}, err
	}
	rest, ok := bytes.CutPrefix(body, []byte(`{"n":`))
	number, rest, ok2 := bytes.Cut(rest, []byte(`,"at":"`))
	at, rest, ok3 := bytes.Cut(rest, []byte(`","event":{"kind":"`))
	kind, _, ok4 := bytes.Cut(rest, []byte(`"`))
	if !ok || !ok2 || !ok3 || !ok4 || len(number) > 9 || len(at) > len(time.RFC3339Nano) || string(kind) == string(walk.EvComplaint) {
		return entry(line)
	}
	n, err := strconv.Atoi(string(number))
	if err != nil {
		return entry(line)
	}
	e := Entry{N: n, Event: &walk.Event{Kind: walk.EventKind(kind)}}
	if e.At.UnmarshalText(at) != nil {
		return entry(line)
	}
	return e, nil
}
