package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/rig"
	"hotlug/engine/walk"
	"hotlug/session"
	"hotlug/session/ticket"
)

func ticketCommand(a *app) *cobra.Command {
	var form, path string
	c := &cobra.Command{
		Use:   "ticket SESSION",
		Short: "Write a session out for somebody else",
		Long: `Write a session out for somebody else: system, readings in order, finding and how
sure it is, working, cautions given, what is excluded and by what, what is not
known and why, and what is still possible.

A ticket holds what was typed: complaint, answers, notes and the rig file's facts.
It holds no name, address or place unless somebody typed it.

` + exitHelp,
		Example:           "  hotlug ticket SESSION\n  hotlug ticket SESSION --format json -o ticket.json",
		Args:              takes("SESSION"),
		ValidArgsFunction: a.completeSessions,
		RunE: func(_ *cobra.Command, args []string) error {
			write, err := ticketWriter(form)
			if err != nil {
				return err
			}
			t, err := a.ticket(args[0])
			if err != nil {
				return err
			}
			var b bytes.Buffer
			if err := write(&b, t); err != nil {
				return badInputf("the ticket can't be written: %v", err)
			}
			if path == "" {
				_, err := a.out.Write(b.Bytes())
				return err
			}
			if err := session.WriteWhole(path, b.Bytes()); err != nil {
				return badInputf("the ticket can't be written to %s: %v", quote(path), err)
			}
			fmt.Fprintf(a.err, "Written to %s.\n", path)
			return nil
		},
	}
	c.Flags().StringVar(&form, "format", "md", "md or json")
	c.Flags().StringVarP(&path, "output", "o", "", "file to write to (default: the screen)")
	return c
}

func ticketWriter(form string) (func(io.Writer, ticket.Ticket) error, error) {
	switch form {
	case "md", "markdown":
		return ticket.Markdown, nil
	case "json":
		return ticket.JSON, nil
	}
	return nil, usagef("--format is md or json, and not %s", quote(form))
}

// ticket makes the ticket of a session.
func (a *app) ticket(id string) (ticket.Ticket, error) {
	store, err := a.store()
	if err != nil {
		return ticket.Ticket{}, err
	}
	h, entries, _, err := store.Read(id)
	var damaged *session.DamagedError
	if err != nil && !errors.As(err, &damaged) {
		return ticket.Ticket{}, sessionError(err)
	}
	g, kerr := a.knowledge()
	if kerr != nil {
		return ticket.Ticket{}, kerr
	}
	setup := walk.Setup{Style: quantity.Style{US: h.Units == "us"}}
	about := ticket.About{Session: h.ID, Program: h.Program, Created: h.Created, Began: h.Knowledge.Hash}
	if h.Rig != nil {
		about.Rig = h.Rig.Name
		if r, problems := rig.Read(h.Rig.Path, []byte(h.Rig.Text)); r != nil && graph.Sound(problems) {
			setup.Places = r.Places
		}
	}
	for _, e := range entries {
		if e.Note != "" {
			about.Notes = append(about.Notes, ticket.Note{Text: e.Note, When: e.At})
		}
	}
	s, _ := walk.Refold(g, setup, eventsOf(entries))
	t := ticket.Make(g, s, about)
	if damaged != nil {
		t.Damage = damaged.Report.Damaged()
	}
	return t, nil
}
