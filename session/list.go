package session

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
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
	// Findings are all that were concluded and not taken back, with the status that
	// each had last.
	Findings []Concluded `json:"findings,omitempty"`
	Knew     Knowledge   `json:"knowledge"`
	Report   Report      `json:"-"`
	// Err says why a session can't be used; all but ID may then be empty.
	Err error `json:"-"`
}

// Concluded is a finding of a session as the journal last had it.
type Concluded struct {
	Finding string    `json:"finding"`
	Status  string    `json:"status,omitempty"` // possible, likely, close, proven, refuted, handed over
	At      time.Time `json:"at,omitzero"`
}

// TakenBack is the status under which a journal keeps that a finding no longer
// stands, since the person took back what led to it.
const TakenBack = "taken back"

// mostFindings is more than any walk comes to.
const mostFindings = 64

// maxListed is how many sessions are listed, the newest: their names are held in
// memory.
const maxListed = 1_000_000

// ErrEnough ends [Store.Each] early, without an error.
var ErrEnough = errors.New("enough")

// List gives the sessions newest first, by their ids, all at once. With many
// sessions [Store.Each] holds less in memory.
func (s *Store) List() ([]Summary, error) {
	out := []Summary{}
	err := s.Each(func(sum Summary) error {
		out = append(out, sum)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// batch is how many sessions are looked at together: enough to keep all
// processors at it, and little to hold.
const batch = 512

// Each hands over the sessions newest first, by their ids. A session that can't be
// used comes with its Err and stops nothing. An error of f ends it and is given
// back; [ErrEnough] ends it without one.
//
// What many sessions come to is kept beside them, see [cache], so that only new
// ones and changed ones are read.
func (s *Store) Each(f func(Summary) error) error {
	ids, err := s.ids()
	if err != nil {
		return err
	}
	c := s.openCache(len(ids))
	defer c.close()
	var kn known
	for part := range slices.Chunk(ids, batch) {
		list := make([]looked, len(part))
		for i, id := range part {
			list[i] = looked{id: id, kept: c.next(id)}
		}
		s.look(list, &kn)
		for _, l := range list {
			c.keep(l)
			if err := f(l.Summary); errors.Is(err, ErrEnough) {
				return nil
			} else if err != nil {
				return err
			}
		}
	}
	c.done()
	return nil
}

// looked is a session of a batch.
type looked struct {
	Summary
	id   string
	kept []byte // its line in the cache, nil if it has none
	line []byte // the line that it is to have; nil for one that is always read anew
	anew bool   // the journal was read
}

// look finds out what each session of a batch came to, on all processors.
func (s *Store) look(list []looked, kn *known) {
	var wait sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), len(list))
	for w := range workers {
		wait.Go(func() {
			for i := w; i < len(list); i += workers {
				s.lookAt(&list[i], kn)
			}
		})
	}
	wait.Wait()
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
	h, rep, _, err := scan(f, id, glance, func(e Entry) error {
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
			sum.concluded(Concluded{e.Printed.Finding, e.Printed.Status, e.At})
		}
		if e.Printed.Outcome != "" {
			sum.Outcome = e.Printed.Outcome
		}
	}
}

// concluded takes note of a finding, or that it no longer stands.
func (sum *Summary) concluded(c Concluded) {
	i := slices.IndexFunc(sum.Findings, func(x Concluded) bool { return x.Finding == c.Finding })
	switch {
	case c.Status == TakenBack && i >= 0:
		sum.Findings = slices.Delete(sum.Findings, i, i+1)
	case c.Status == TakenBack:
	case i >= 0:
		sum.Findings[i] = c
	case len(sum.Findings) < mostFindings:
		sum.Findings = append(sum.Findings, c)
	}
	sum.Finding = ""
	if n := len(sum.Findings); n > 0 {
		sum.Finding = sum.Findings[n-1].Finding
	}
}
