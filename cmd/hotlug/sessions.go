package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"
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

// dataFolder is a folder beside that of the sessions among the user's data; with
// --data DIR it lies in DIR.
func (a *app) dataFolder(name string) (string, error) {
	store, err := a.store()
	if err != nil {
		return "", err
	}
	dir := store.Dir()
	if a.dataDir == "" {
		dir = filepath.Dir(dir)
	}
	return filepath.Join(dir, name), nil
}

// sessionRow is a session as the list prints it.
type sessionRow struct {
	session.Summary
	Problem string `json:"problem,omitempty"`
}

func sessionsListCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:     "list",
		Short:   "List the sessions, newest first",
		Long:    "List the sessions, newest first.\n\n" + exitHelp,
		Example: "  hotlug sessions list\n  hotlug sessions list --json",
		Args:    takes(),
		RunE: func(*cobra.Command, []string) error {
			store, err := a.store()
			if err != nil {
				return err
			}
			w := bufio.NewWriter(a.out)
			list := jsonList{w: w}
			none := true
			err = store.Each(func(s session.Summary) error {
				none = false
				row := sessionRow{Summary: s}
				if s.Err != nil {
					row.Problem = s.Err.Error()
				}
				if asJSON {
					return list.add(row)
				}
				_, err := fmt.Fprintf(w, "%s  %s  %s\n", s.ID, s.Created.Local().Format("2006-01-02 15:04"), term.SafeLine(row.about()))
				return err
			})
			switch {
			case err != nil:
			case asJSON:
				err = list.end()
			case none:
				fmt.Fprintf(w, "There are no sessions in %s.\n", store.Dir())
			}
			if e := w.Flush(); err == nil {
				err = e
			}
			if err != nil {
				return badInputf("%v", err)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// about is what a session came to, in a line.
func (s sessionRow) about() string {
	if s.Problem != "" {
		return "can't be used: " + s.Problem
	}
	about := s.Symptom
	if about == "" {
		about = "no complaint yet"
	}
	switch {
	case s.Finding != "":
		return about + ", " + s.Finding
	case s.Outcome != "":
		return about + ", " + s.Outcome
	}
	return about + ", not finished"
}

// jsonList writes a list as JSON, an entry at a time, so that a long one is never
// whole in memory.
type jsonList struct {
	w   io.Writer
	any bool
}

func (l *jsonList) add(v any) error {
	var b bytes.Buffer
	if err := ticket.EncodeJSON(&b, v); err != nil {
		return err
	}
	before := "[\n  "
	if l.any {
		before = ",\n  "
	}
	l.any = true
	// No string in JSON holds a newline: each begins a line of the layout.
	_, err := io.WriteString(l.w, before+strings.ReplaceAll(strings.TrimSpace(b.String()), "\n", "\n  "))
	return err
}

func (l *jsonList) end() error {
	text := "\n]\n"
	if !l.any {
		text = "[]\n"
	}
	_, err := io.WriteString(l.w, text)
	return err
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
