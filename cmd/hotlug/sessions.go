package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/session"
	"hotlug/session/ticket"
)

func sessionsCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "sessions",
		Short: "List, show and delete saved sessions",
		Long:  "List, show and delete saved sessions.\n\n" + exitHelp,
		RunE:  group,
	}
	c.AddCommand(sessionsListCommand(a), sessionsShowCommand(a), sessionsDeleteCommand(a))
	return c
}

func (a *app) store() (*session.Store, error) {
	s, err := session.Open(a.dataDir)
	if err != nil {
		return nil, badInputf("%v", err)
	}
	return s, nil
}

// sessionRow is a session as the list prints it.
type sessionRow struct {
	session.Summary
	Problem string `json:"problem,omitempty"`
}

func sessionsListCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "list",
		Short: "List the sessions, newest first",
		Long:  "List the sessions, newest first.\n\n" + exitHelp,
		Args:  takes(),
		RunE: func(*cobra.Command, []string) error {
			store, err := a.store()
			if err != nil {
				return err
			}
			list, err := store.List()
			if err != nil {
				return badInputf("%v", err)
			}
			rows := make([]sessionRow, len(list))
			for i, s := range list {
				rows[i].Summary = s
				if s.Err != nil {
					rows[i].Problem = s.Err.Error()
				}
			}
			if asJSON {
				return ticket.EncodeJSON(a.out, rows)
			}
			if len(rows) == 0 {
				fmt.Fprintf(a.out, "There are no sessions in %s.\n", store.Dir())
			}
			for _, s := range rows {
				about := s.Symptom
				if about == "" {
					about = "no complaint yet"
				}
				switch {
				case s.Problem != "":
					about = "can't be used: " + s.Problem
				case s.Finding != "":
					about += ", " + s.Finding
				case s.Outcome != "":
					about += ", " + s.Outcome
				default:
					about += ", not finished"
				}
				fmt.Fprintf(a.out, "%s  %s  %s\n", s.ID, s.Created.Local().Format("2006-01-02 15:04"), term.Safe(about))
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

func sessionsShowCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:               "show SESSION",
		Short:             "Show what was said in a session",
		Long:              "Show what was said in a session, line by line. Of a damaged session it shows what\ncan be read.\n\n" + exitHelp,
		Args:              takes("SESSION"),
		ValidArgsFunction: a.completeSessions,
		RunE: func(_ *cobra.Command, args []string) error {
			store, err := a.store()
			if err != nil {
				return err
			}
			h, entries, report, err := readSession(store, args[0])
			if err != nil && h.ID == "" {
				return err
			}
			fmt.Fprintf(a.out, "session %s, begun %s, knowledge %s\n", h.ID, h.Created.Local().Format("2006-01-02 15:04"), h.Knowledge.Hash)
			if h.Rig != nil {
				fmt.Fprintf(a.out, "rig %s\n", term.Safe(h.Rig.Name))
			}
			for _, e := range entries {
				fmt.Fprintf(a.out, "%3d  %s  %s\n", e.N, clockTime(e), term.Safe(entryWords(e)))
			}
			if !report.Sound() {
				fmt.Fprintln(a.out, term.Safe(report.Damaged()))
			}
			return err
		},
	}
}

// readSession reads a session. Of a damaged one it gives what can be read besides
// the error; without a header's ID there is nothing.
func readSession(store *session.Store, id string) (session.Header, []session.Entry, session.Report, error) {
	h, entries, report, err := store.Read(id)
	if err != nil {
		return session.Header{}, nil, report, sessionError(err)
	}
	if !report.Sound() {
		err = exit(exitDamaged, fmt.Errorf("session %s is damaged: %s", h.ID, report.Damaged()))
	}
	return h, entries, report, err
}

func clockTime(e session.Entry) string {
	t := e.At
	if t.IsZero() && e.Event != nil {
		t = e.Event.At
	}
	if t.IsZero() {
		return "     "
	}
	return t.Local().Format(time.TimeOnly)
}

func entryWords(e session.Entry) string {
	switch {
	case e.Note != "":
		return "note: " + e.Note
	case e.Photo != nil:
		return "photo: " + e.Photo.File
	case e.Printed != nil:
		return "said: " + e.Printed.Text
	case e.Event == nil:
		return ""
	}
	v := e.Event
	w := string(v.Kind)
	for _, x := range []string{v.Symptom, v.Reading, v.Action, v.Finding} {
		if x != "" {
			w += " " + x
		}
	}
	if v.Place != "" {
		w += " at " + v.Place
	}
	switch {
	case v.Text != "":
		w += ": " + v.Text
	case v.Words != "":
		w += ": " + v.Words
	case v.Choice != "":
		w += ": " + v.Choice
	}
	return w
}

func sessionsDeleteCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:               "delete SESSION",
		Short:             "Delete a session for good",
		Long:              "Delete a session for good.\n\n" + exitHelp,
		Args:              takes("SESSION"),
		ValidArgsFunction: a.completeSessions,
		RunE: func(_ *cobra.Command, args []string) error {
			store, err := a.store()
			if err != nil {
				return err
			}
			if err := store.Delete(args[0]); err != nil {
				return sessionError(err)
			}
			fmt.Fprintf(a.out, "Session %s is deleted.\n", args[0])
			return nil
		},
	}
}
