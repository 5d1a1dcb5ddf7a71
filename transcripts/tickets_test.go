package transcripts

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"hotlug/engine/walk"
	"hotlug/session/ticket"
)

// written is a ticket in a form.
func written(t *testing.T, write func(io.Writer, ticket.Ticket) error, x ticket.Ticket) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, x); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func inText(w io.Writer, x ticket.Ticket) error { return ticket.Text(w, x, ticket.NoWrap) }

var formats = map[string]func(io.Writer, ticket.Ticket) error{
	"html": ticket.HTML, "md": ticket.Markdown, "json": ticket.JSON, "text": inText,
}

// The ticket of every transcript, sent as JSON and walked again, comes to the same;
// so does its redacted copy, in which nothing of what was typed in words is left.
func TestTicketsAreWalkedAgain(t *testing.T) {
	g := knowledge(t)
	for _, s := range stories(t) {
		t.Run(strings.TrimSuffix(s.file, ".txtar"), func(t *testing.T) {
			_, _, state, kept := walked(t, s, goldenWidth)
			about := ticket.About{Session: "1nb5w2q-7tm", Program: "test", Rig: s.rig,
				Notes: []ticket.Note{{Text: "ask for Wren Quillfeather", When: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)}}}
			ended := ticket.Make(g, state, about)
			first, _, taken := ticket.Retell(g, kept, about)
			if taken != len(kept.Events) {
				t.Fatalf("%d of %d events were taken", taken, len(kept.Events))
			}
			if d := ticket.Same(ended, first); d != "" {
				t.Fatalf("the session comes to something else: %s", d)
			}
			sent, err := ticket.Read([]byte(written(t, ticket.JSON, first)))
			if err != nil {
				t.Fatal(err)
			}
			again, _, _ := ticket.Retell(g, *sent.Walk, sent.About())
			if d := ticket.Same(first, again); d != "" {
				t.Errorf("the ticket comes to something else: %s", d)
			}
			if a, b := written(t, inText, first), written(t, inText, again); a != b {
				t.Errorf("the ticket reads otherwise: %s", firstDifference(a, b))
			}
			w, a := ticket.Redact(g, kept, about)
			redacted, _, taken := ticket.Retell(g, w, a)
			if d := ticket.Same(first, redacted); d != "" || taken != len(w.Events) {
				t.Errorf("the redacted copy comes to something else: %s", d)
			}
			for form, write := range formats {
				got := written(t, write, redacted)
				for _, leak := range leaks(state, first) {
					if strings.Contains(got, leak) {
						t.Errorf("%s: %q is in the redacted copy", form, leak)
					}
				}
			}
		})
	}
}

// leaks are what a redacted copy may not hold.
func leaks(s *walk.State, x ticket.Ticket) []string {
	out := []string{"Quillfeather"}
	if x.Rig != "" {
		out = append(out, x.Rig)
		for _, p := range s.Places() {
			out = append(out, p.Name)
		}
	}
	if len(strings.Fields(x.Words)) > 3 {
		out = append(out, x.Words)
	}
	return out
}
