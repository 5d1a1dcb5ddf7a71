package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/engine/walk"
	"hotlug/session/ticket"
)

func replayCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "replay FILE",
		Short: "Walk an answers file without asking",
		Long: `Walk an answers file without asking. What the file lacks is "don't know"; a fix
counts as made when the file has its proof's readings under after:. FILE is a
path, or - for standard input.

An answers file:

    format: 1
    symptom: hot-joint            # an id, or free words
    rig: {format: 1, battery: {chemistry: lfp, system_v: 24 V}}   # or a name or path
    answers: {holder_drop_v: 180 mV, load_a: 42 A, danger_now: no}
    after: {worn-holder: {holder_drop_v: 12 mV, load_a: 42 A}}

` + exitHelp,
		Example: "  hotlug replay answers.yaml --json",
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
			r, err := readAnswers(cmd.Context(), g, args[0], a.in)
			if err != nil {
				return err
			}
			r.setup.Style = style
			s, unused, err := walk.Replay(g, r.setup, r.answers)
			if err != nil {
				return badInputf("the answers can't be walked: %v", err)
			}
			t := ticket.Make(g, s, ticket.About{Program: version(), Rig: r.rig, Unused: unused})
			write := ticket.Markdown
			if asJSON {
				write = ticket.JSON
			}
			if err := write(a.out, t); err != nil {
				return badInputf("the result can't be written: %v", err)
			}
			if len(unused) > 0 && !asJSON {
				fmt.Fprintf(a.err, "hotlug: these answers were never asked for: %s\n", strings.Join(unused, ", "))
			}
			return outcomeCode(s)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
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
