package session

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"hotlug/engine/walk"
)

// Summary is a session in a list.
type Summary struct {
	ID      string    `json:"id"`
	Created time.Time `json:"created"`
	Last    time.Time `json:"last,omitzero"` // of the last entry
	Rig     string    `json:"rig,omitempty"`
	Symptom string    `json:"symptom,omitempty"` // the last one chosen
	Words   string    `json:"words,omitempty"`   // as typed
	Events  int       `json:"events"`
	Finding string    `json:"finding,omitempty"` // the last concluded
	Outcome string    `json:"outcome,omitempty"` // how the walk ended, if it did
	Knew    Knowledge `json:"knowledge"`
	Report  Report    `json:"-"`
	// Err says why a session can't be used; all but ID may then be empty.
	Err error `json:"-"`
}

// maxListed is how many sessions are listed, the newest.
const maxListed = 10000

// List gives the sessions newest first, by their ids. One session at a time is
// looked through, line by line.
func (s *Store) List() ([]Summary, error) {
	ids, err := s.ids()
	if err != nil {
		return nil, err
	}
	out := make([]Summary, 0, len(ids))
	for _, id := range ids {
		out = append(out, s.summary(id))
	}
	return out, nil
}

func (s *Store) ids() ([]string, error) {
	d, err := os.Open(s.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, errors.New("the sessions in " + s.dir + " can't be listed: " + reason(err))
	}
	defer d.Close()
	var ids []string
	for {
		names, err := d.Readdirnames(1000)
		for _, n := range names {
			if id, ok := strings.CutSuffix(n, suffix); ok && valid(id) {
				ids = append(ids, id)
			}
		}
		if len(ids) > 2*maxListed || err != nil {
			slices.Sort(ids)
			slices.Reverse(ids)
			ids = ids[:min(len(ids), maxListed)]
		}
		if err == io.EOF {
			return ids, nil
		}
		if err != nil {
			return nil, errors.New("the sessions in " + s.dir + " can't be listed: " + reason(err))
		}
	}
}

func (s *Store) summary(id string) Summary {
	sum := Summary{ID: id}
	f, err := openPlain(s.path(id), os.O_RDONLY)
	if err != nil {
		sum.Err = errors.New("session " + id + " can't be read: " + reason(err))
		return sum
	}
	defer f.Close()
	h, rep, _, err := scan(f, id, func(e Entry) error {
		sum.note(e)
		return nil
	})
	sum.Created, sum.Report, sum.Knew = h.Created, rep, h.Knowledge
	if h.Rig != nil {
		sum.Rig = h.Rig.Name
	}
	if err == nil && !rep.Sound() {
		err = &DamagedError{ID: id, Path: s.path(id), Report: rep}
	}
	if err != nil {
		sum.Err = s.unusable(id, err)
	}
	return sum
}

func (sum *Summary) note(e Entry) {
	if !e.At.IsZero() {
		sum.Last = e.At
	}
	switch {
	case e.Event != nil:
		sum.Events++
		if e.Event.Kind == walk.EvComplaint {
			sum.Symptom, sum.Words = e.Event.Symptom, e.Event.Words
		}
	case e.Printed != nil:
		if e.Printed.Finding != "" {
			sum.Finding = e.Printed.Finding
		}
		if e.Printed.Outcome != "" {
			sum.Outcome = e.Printed.Outcome
		}
	}
}
