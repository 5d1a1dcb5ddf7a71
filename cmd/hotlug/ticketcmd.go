package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/diagram"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/rig"
	"hotlug/engine/walk"
	"hotlug/session"
	"hotlug/session/ticket"
)

func ticketCommand(a *app) *cobra.Command {
	var form, path string
	var redact, schema bool
	c := &cobra.Command{
		Use:   "ticket SESSION",
		Short: "Write a session out for somebody else",
		Long: `Write a session out for somebody else: system, readings in order, finding and how
sure it is, working, cautions given, what is excluded and by what, what is not
known and why, and what is still possible.

A ticket holds what was typed: complaint, answers, notes and the rig file's facts.
It holds no name, address or place unless somebody typed it; --redact leaves out
whatever was typed in words, the rig file's names and what photos were called.
What a photo shows stays: look at it before you send it.

html is one file that asks nothing of the network, to be read on a phone, printed
and signed. json can be walked again with hotlug replay; --schema prints what is
in it.

` + exitHelp,
		Example: "  hotlug ticket SESSION\n  hotlug ticket SESSION -o ticket.html\n  hotlug ticket SESSION --redact -o ticket.json",
		Args: func(cmd *cobra.Command, args []string) error {
			if schema {
				return takes()(cmd, args)
			}
			return takes("SESSION")(cmd, args)
		},
		ValidArgsFunction: a.completeSessions,
		RunE: func(_ *cobra.Command, args []string) error {
			if schema {
				if _, err := a.out.Write(ticket.Schema()); err != nil {
					return badInputf("the schema can't be written: %v", err)
				}
				return nil
			}
			write, err := ticketWriter(form, path)
			if err != nil {
				return err
			}
			t, damage := a.ticket(args[0], redact)
			if damage != nil && t.Session == "" {
				return damage
			}
			var b bytes.Buffer
			if err := write(&b, t); err != nil {
				return badInputf("the ticket can't be written: %v", err)
			}
			if len(t.Photos) > 0 && form != "html" && !strings.HasSuffix(path, ".html") {
				fmt.Fprintf(a.err, "Its photos are in %s; send them too.\n", term.SafeLine(a.photoDir(t.Session)))
			}
			if path == "" {
				if _, err := a.out.Write(b.Bytes()); err != nil {
					return badInputf("the ticket can't be written: %v", err)
				}
				return damage
			}
			if err := session.WriteWhole(path, b.Bytes()); err != nil {
				return badInputf("the ticket can't be written to %s: %v", quote(path), err)
			}
			fmt.Fprintf(a.err, "Written to %s.\n", term.SafeLine(path))
			return damage
		},
	}
	c.Flags().StringVar(&form, "format", "", "html, md, text or json (default: by the file's ending, else md)")
	completeFlag(c, "format", "html", "md", "text", "json")
	c.Flags().BoolVar(&redact, "redact", false, "leave out names, places, notes and what was typed in words")
	c.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of a ticket")
	c.Flags().StringVarP(&path, "output", "o", "", "file to write to (default: the screen)")
	return c
}

// photoDir is where the copies of a session's photos are.
func (a *app) photoDir(id string) string {
	store, err := a.store()
	if err != nil {
		return a.dataDir // it was open a moment ago
	}
	return store.PhotoDir(id)
}

// textWidth is how wide a plain ticket is: what mail and printers keep.
const textWidth = 78

// ticketWriter is the writer of a format; without one, the file's ending says it.
func ticketWriter(form, path string) (func(io.Writer, ticket.Ticket) error, error) {
	if form == "" {
		form = map[string]string{".html": "html", ".htm": "html", ".txt": "text", ".json": "json"}[strings.ToLower(filepath.Ext(path))]
	}
	switch form {
	case "", "md", "markdown":
		return ticket.Markdown, nil
	case "html":
		return ticket.HTML, nil
	case "text", "txt":
		return func(w io.Writer, t ticket.Ticket) error {
			return ticket.Text(w, t, func(text, first, hang string) []string { return term.Wrap(text, textWidth, first, hang) })
		}, nil
	case "json":
		return ticket.JSON, nil
	}
	return nil, usagef("--format is html, md, text or json, and not %s", quote(form))
}

// ticket makes the ticket of a session. Of a damaged one it gives the ticket of
// what can be read besides the error.
func (a *app) ticket(id string, redact bool) (ticket.Ticket, error) {
	store, err := a.store()
	if err != nil {
		return ticket.Ticket{}, err
	}
	h, entries, report, damage := readSession(store, id)
	if damage != nil && h.ID == "" {
		return ticket.Ticket{}, damage
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
			about.Drawing = func(o diagram.Options) *diagram.Layout { return layoutOf(g, r, o) }
		}
	}
	for _, e := range entries {
		if e.Note != "" {
			about.Notes = append(about.Notes, ticket.Note{Text: e.Note, When: e.At})
		}
		if p := e.Photo; p != nil {
			x := ticket.Photo{File: p.File, Name: p.Name, About: p.About, When: e.At, Width: p.Width, Height: p.Height, Sum: p.Sum}
			if x.Data, err = store.PhotoData(h.ID, *p); err != nil {
				x.Lost = err.Error()
			}
			about.Photos = append(about.Photos, x)
		}
	}
	w := ticket.WalkOf(setup, eventsOf(entries))
	if redact {
		w, about = ticket.Redact(g, w, about)
	}
	t, _, _ := ticket.Retell(g, w, about)
	t.Damage = report.Damaged()
	if h.Rig != nil && h.Rig.Name != "" && !redact && len(entries) > 0 {
		t.Charts = append(t.Charts, trendCharts(g, store, h.Rig.Name, t, entries[len(entries)-1].At)...)
	}
	return t, damage
}
