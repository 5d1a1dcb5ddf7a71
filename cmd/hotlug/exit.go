package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/shape"
	"hotlug/session/ticket"
)

// The exit codes, as every command's help lists them.
const (
	exitDone        = 0   // a finding, or done; in a drill: the cause was called right
	exitBadInput    = 1   // something that was given can't be used
	exitUsage       = 2   // the command line is wrong
	exitNarrowed    = 3   // narrowed down only, or left before the end; in a drill: not called right
	exitStop        = 4   // stop-work
	exitKnowledge   = 5   // the knowledge is bad
	exitDamaged     = 6   // a session is damaged
	exitInterrupted = 130 // Ctrl-C
)

const exitHelp = `Exit codes: 0 a finding, or done; 1 bad input; 2 wrong usage; 3 narrowed down
only, or left before the end; 4 stop-work; 5 bad knowledge; 6 damaged session;
130 interrupted.`

// exitError is an error that knows its exit code. Err may be nil: nothing is
// then printed.
type exitError struct {
	code int
	err  error
}

func (e *exitError) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e *exitError) Unwrap() error { return e.err }

func exit(code int, err error) error { return &exitError{code, err} }

func badInputf(format string, a ...any) error { return exit(exitBadInput, fmt.Errorf(format, a...)) }
func usagef(format string, a ...any) error    { return exit(exitUsage, fmt.Errorf(format, a...)) }

// knowledgeError carries the problems of files that people write.
type problemsError struct {
	what     string
	problems []shape.Problem
}

func (e *problemsError) Error() string {
	n := len(e.problems)
	if n == 1 {
		return fmt.Sprintf("%s has 1 problem", e.what)
	}
	return fmt.Sprintf("%s has %d problems", e.what, n)
}

// finish prints an error once and gives its exit code.
func finish(err error, stderr io.Writer) int {
	if err == nil {
		return exitDone
	}
	if errors.Is(err, term.ErrInterrupt) || errors.Is(err, context.Canceled) {
		return exitInterrupted
	}
	code := codeOf(err)
	var p *problemsError
	if errors.As(err, &p) {
		for _, x := range p.problems {
			fmt.Fprintln(stderr, shape.Render(x))
		}
	}
	if msg := err.Error(); msg != "" {
		fmt.Fprintf(stderr, "hotlug: %s\n", term.Safe(msg))
	}
	return code
}

func codeOf(err error) int {
	var e *exitError
	if errors.As(err, &e) {
		return e.code
	}
	return exitBadInput
}

// failure is what a command prints with --json instead of its own JSON.
type failure struct {
	Error    string        `json:"error"`
	Exit     int           `json:"exit"`
	Problems []jsonProblem `json:"problems,omitempty"`
}

// wantsJSON says whether a command was to print JSON. When the command line itself
// is wrong, its words are all there is to go by.
func wantsJSON(cmd *cobra.Command, args []string) bool {
	if f := cmd.Flags().Lookup("json"); f != nil && f.Value.String() == "true" {
		return true
	}
	return slices.Contains(args, "--json")
}

// finishJSON is [finish] for a script: an error without words has printed its JSON
// already.
func finishJSON(err error, out, stderr io.Writer) int {
	if err == nil || err.Error() == "" || errors.Is(err, term.ErrInterrupt) || errors.Is(err, context.Canceled) {
		return finish(err, stderr)
	}
	f := failure{Error: term.SafeLine(err.Error()), Exit: codeOf(err)}
	var p *problemsError
	if errors.As(err, &p) {
		for _, x := range p.problems {
			f.Problems = append(f.Problems, problemAsJSON(x))
		}
	}
	if err := ticket.EncodeJSON(out, f); err != nil {
		return finish(err, stderr)
	}
	return f.Exit
}
