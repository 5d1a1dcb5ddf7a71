package history

import (
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/session"
)

// History is what is remembered of a rig.
type History struct {
	Rig      string
	Sessions []session.Summary // oldest first; of a damaged one Err is set
	Series   []*Series
}

// Of reads the history of a rig from a store: the sessions that were begun with
// a rig file of that name, looked for in the summaries and then read one at a
// time. A session that can't be read is among the sessions with its error and in
// no series.
func Of(g *graph.Graph, store *session.Store, rig string) (History, error) {
	h := History{Rig: rig}
	err := store.Each(func(s session.Summary) error {
		if strings.EqualFold(s.Rig, rig) {
			h.Sessions = append(h.Sessions, s)
		}
		return nil
	})
	if err != nil {
		return h, err
	}
	slices.Reverse(h.Sessions)
	b := NewBook(g)
	for i, s := range h.Sessions {
		head, entries, report, err := store.Read(s.ID)
		if err != nil {
			h.Sessions[i].Err = err
			continue
		}
		if !report.Sound() && s.Err == nil {
			h.Sessions[i].Err = &session.DamagedError{ID: s.ID, Report: report}
		}
		b.Add(head, entries)
	}
	h.Series = b.Series()
	return h, nil
}
