package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/walk"
	"hotlug/session/ticket"
)

func replayCommand(a *app) *cobra.Command {
	var asJSON, redact bool
	c := &cobra.Command{
		Use:   "replay FILE",
		Short: "Walk an answers file or a ticket without asking",
		Long: `Walk an answers file without asking. What the file lacks is "don't know"; a fix
counts as made when the file has its proof's readings under after:. FILE is a
path, or - for standard input.

FILE may be a ticket in its JSON form: then what happened is walked again, and it
is said whether the finding is the ticket's.

An answers file:

    format: 1
    symptom: hot-joint            # an id, or free words
    rig: {format: 1, battery: {chemistry: lfp, system_v: 24 V}}   # or a name or path
    answers: {holder_drop_v: 180 mV, load_a: 42 A, danger_now: no}
    after: {worn-holder: {holder_drop_v: 12 mV, load_a: 42 A}}

` + exitHelp,
		Example: "  hotlug replay answers.yaml --json\n  hotlug replay ticket.json",
		Args:    takes("FILE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			style, err := a.style()
			if err != nil {
				return err
			}
			src, name, err := readReplay(cmd.Context(), args[0], a.in)
			if err != nil {
				return err
			}
			var t ticket.Ticket
			var s *walk.State
			var unused []string
			said := ""
			if isTicket(src) {
				t, s, said, err = replayTicket(g, src, redact)
			} else {
				t, s, unused, err = a.replayAnswers(g, style, name, src, redact)
			}
			if err != nil {
				return err
			}
			write := ticket.Markdown
			if asJSON {
				write = ticket.JSON
			}
			if err := write(a.out, t); err != nil {
				return badInputf("the result can't be written: %v", err)
			}
			if said != "" {
				fmt.Fprintf(a.err, "hotlug: %s\n", term.SafeLine(said))
			}
			if len(unused) > 0 && !asJSON {
				fmt.Fprintf(a.err, "hotlug: these answers were never asked for: %s\n", strings.Join(unused, ", "))
			}
			return outcomeCode(s)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().BoolVar(&redact, "redact", false, "leave out names, places, notes and what was typed in words")
	return c
}

// readReplay reads what is to be replayed; path "-" is the standard input. It gives
// the name that problems go by.
func readReplay(ctx context.Context, path string, in *os.File) ([]byte, string, error) {
	if path == "-" {
		src, err := readStream(ctx, in, ticket.MostTicket)
		return src, "standard input", err
	}
	src, err := readCapped(path, ticket.MostTicket)
	return src, path, err
}

// isTicket says whether a file is a ticket in its JSON form: an answers file may be
// JSON too, and holds neither a walk nor knowledge.
func isTicket(src []byte) bool {
	var t struct{ Knowledge, Walk, Findings json.RawMessage }
	return json.Unmarshal(src, &t) == nil && (t.Walk != nil || t.Knowledge != nil && t.Findings != nil)
}

// replayTicket walks a ticket again and says whether it comes to the same.
func replayTicket(g *graph.Graph, src []byte, redact bool) (ticket.Ticket, *walk.State, string, error) {
	old, err := ticket.Read(src)
	if err != nil {
		return old, nil, "", badInputf("%v", err)
	}
	w, about := *old.Walk, old.About()
	if redact {
		w, about = ticket.Redact(g, w, about)
	}
	t, s, taken := ticket.Retell(g, w, about)
	said := "the same finding as in the ticket"
	if differs := ticket.Same(old, t); differs != "" {
		said = "not the ticket's finding: " + differs
	}
	if taken < len(w.Events) {
		said += fmt.Sprintf("; the walk parts from the ticket's after %d of %d events", taken, len(w.Events))
	}
	if old.Knowledge.Hash != g.Hash {
		said += "; the knowledge is another one"
	}
	return t, s, said, nil
}

// replayAnswers walks an answers file.
func (a *app) replayAnswers(g *graph.Graph, style quantity.Style, name string, src []byte, redact bool) (ticket.Ticket, *walk.State, []string, error) {
	r, err := readAnswers(g, a.finder(filepath.Dir(name)), name, src)
	if err != nil {
		return ticket.Ticket{}, nil, nil, err
	}
	r.setup.Style = style
	s, unused, err := walk.Replay(g, r.setup, r.answers)
	if err != nil {
		return ticket.Ticket{}, nil, nil, badInputf("the answers can't be walked: %v", err)
	}
	w, about := ticket.WalkOf(r.setup, s.Events()), ticket.About{Program: version(), Rig: r.rig, Unused: unused}
	if redact {
		w, about = ticket.Redact(g, w, about)
	}
	t, s, _ := ticket.Retell(g, w, about)
	return t, s, unused, nil
}

// outcomeCode is the exit code that tells how a walk ended.
func outcomeCode(s *walk.State) error {
	switch s.Outcome() {
	case walk.Found:
		return nil
	case walk.Stopped:
		return exit(exitStop, nil)
	}
	return exit(exitNarrowed, nil)
}

// readStream reads a stream up to a limit, or until the context is done: nobody
// may be giving anything at the other end.
func readStream(ctx context.Context, in *os.File, most int64) ([]byte, error) {
	type read struct {
		b   []byte
		err error
	}
	done := make(chan read, 1)
	go func() {
		b, err := io.ReadAll(io.LimitReader(in, most+1))
		done <- read{b, err}
	}()
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case r := <-done:
		switch {
		case r.err != nil:
			return nil, badInputf("standard input can't be read: %v", r.err)
		case int64(len(r.b)) > most:
			return nil, badInputf("standard input is larger than %d KiB", most>>10)
		}
		return r.b, nil
	}
}
