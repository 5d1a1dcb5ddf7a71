package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/session/history"
	"hotlug/session/ticket"
)

func rigsHistoryCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "history RIG",
		Short: "Show a rig's sessions, and what gets worse",
		Long: `Show a rig's sessions, and readings that were taken again: the resistance of each
joint, the volts across each fuse and holder at its largest current, the rested
battery's volts, its amp-hours in a test. It warns of one that gets worse: three
days at least since it was mended, more than the meters' errors, three quarters of
all pairs the same way, and as much as matters: a contact half as much again, rest
volts 0.15 V per 12 V, amp-hours a tenth.

RIG is the name that the sessions were begun with.

` + exitHelp,
		Example:           "  hotlug rigs history hut-01\n  hotlug rigs history hut-01 --json",
		Args:              takes("RIG"),
		ValidArgsFunction: a.completeRigs,
		RunE: func(_ *cobra.Command, args []string) error {
			style, err := a.style()
			if err != nil {
				return err
			}
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			name, err := a.nameOfRig(args[0])
			if err != nil {
				return err
			}
			store, err := a.store()
			if err != nil {
				return err
			}
			h, err := history.Of(g, store, name)
			if err != nil {
				return badInputf("%v", err)
			}
			v := historyOf(g, h, style)
			if asJSON {
				if err := ticket.EncodeJSON(a.out, v); err != nil {
					return badInputf("it can't be written: %v", err)
				}
				return nil
			}
			v.print(a.out)
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// nameOfRig is the name under which a rig's sessions are kept. A rig that is not
// there any more has its sessions all the same; a path is read for its name.
func (a *app) nameOfRig(text string) (string, error) {
	if isPath(text) {
		r, err := a.finder(".").load(text)
		if err != nil {
			return "", err
		}
		if r.Name == "" {
			return strings.TrimSuffix(filepath.Base(text), rigSuffix), nil
		}
		return r.Name, nil
	}
	if id, ok := fileName(text); ok {
		return id, nil
	}
	return "", badInputf("%s can't be a rig's name; %s", quote(term.SafeLine(text)), safeNameHint)
}

// These are what `rigs history --json` prints.
type (
	historyView struct {
		Rig      string        `json:"rig"`
		Sessions []sessionView `json:"sessions"` // oldest first
		Series   []seriesView  `json:"series"`
		Warnings []string      `json:"warnings"`
	}
	sessionView struct {
		sessionRow
		Said string `json:"said"` // what it came to, in plain words
	}
	seriesView struct {
		Kind    string          `json:"kind"`
		Place   string          `json:"place,omitempty"`
		Name    string          `json:"name"`
		Unit    string          `json:"unit"`
		AtAmps  float64         `json:"at_amps,omitempty"` // what volts are brought to
		Points  []pointView     `json:"points"`
		Verdict history.Verdict `json:"verdict"`
		From    float64         `json:"from"`
		To      float64         `json:"to"`
		Warning string          `json:"warning,omitempty"`
		Say     string          `json:"say"`
	}
	pointView struct {
		When    time.Time `json:"when"`
		Session string    `json:"session"`
		Value   float64   `json:"value"`
		Error   float64   `json:"error"`
		Fresh   bool      `json:"fresh,omitempty"` // first since it was mended
		Say     string    `json:"say"`
	}
)

func historyOf(g *graph.Graph, h history.History, style quantity.Style) historyView {
	v := historyView{Rig: h.Rig, Sessions: []sessionView{}, Series: []seriesView{}, Warnings: []string{}}
	for _, s := range h.Sessions {
		row := sessionRow{Summary: s}
		if s.Err != nil {
			row.Problem = s.Err.Error()
		}
		v.Sessions = append(v.Sessions, sessionView{row, cameTo(g, row)})
	}
	for _, s := range h.Series {
		t := s.Trend()
		x := seriesView{Kind: string(s.Kind), Place: s.Place, Name: s.Name, Unit: s.Unit.Symbol(), Verdict: t.Verdict, From: t.From, To: t.To, Warning: s.Warning(style), Points: []pointView{}}
		if s.Kind == history.Holder && s.FullA > 0 {
			x.AtAmps = s.FullA
		}
		for _, p := range s.Points {
			x.Points = append(x.Points, pointView{p.When, p.Session, p.Value, p.Error, p.Fresh, s.Show(p.Value, style)})
		}
		x.Say = seriesSaid(s, t, style)
		v.Series = append(v.Series, x)
		if x.Warning != "" {
			v.Warnings = append(v.Warnings, x.Warning)
		}
	}
	return v
}

// seriesSaid is a series in a line.
func seriesSaid(s *history.Series, t history.Trend, style quantity.Style) string {
	last := s.Points[len(s.Points)-1]
	name := s.Name
	if s.Kind == history.Holder && s.FullA > 0 {
		name += ", at " + quantity.Show(s.FullA, quantity.MustUnit("A"), style)
	}
	say := fmt.Sprintf("%s: %s on %s", name, s.Show(last.Value, style), last.When.Format(time.DateOnly))
	switch {
	case t.Days > 1:
		say += fmt.Sprintf(", %s on %s", s.Show(s.Now()[0].Value, style), t.Since.Format(time.DateOnly))
	case len(s.Points) > len(s.Now()):
		say += ", mended since"
	}
	if t.Verdict == history.TooFew {
		return say + "; too few for a trend"
	}
	return say + "; " + map[history.Verdict]string{history.Steady: "steady", history.Worse: "gets worse"}[t.Verdict]
}

// cameTo is what a session came to, in plain words.
func cameTo(g *graph.Graph, s sessionRow) string {
	if s.Problem != "" || len(s.Findings) == 0 {
		return s.about()
	}
	var out []string
	for _, f := range s.Findings {
		out = append(out, strings.TrimSuffix(causeOf(g, f.Finding), ".")+" ("+f.Status+")")
	}
	return strings.Join(out, "; ")
}

// causeOf is a finding's cause; of one that the knowledge does not have any more,
// its id.
func causeOf(g *graph.Graph, id string) string {
	if f := g.Findings[id]; f != nil {
		return f.Cause
	}
	return id
}

func (v historyView) print(w io.Writer) {
	if len(v.Sessions) == 0 {
		fmt.Fprintf(w, "There are no sessions of %s yet. `hotlug chat --rig %s` begins one.\n", term.SafeLine(v.Rig), term.SafeLine(v.Rig))
		return
	}
	line := func(first, hang, text string) {
		for _, l := range term.Wrap(term.SafeLine(text), rigWidth, first, hang) {
			fmt.Fprintln(w, l)
		}
	}
	for _, x := range v.Warnings {
		line("", "  ", x)
	}
	if len(v.Warnings) > 0 {
		fmt.Fprintln(w)
	}
	line("", "  ", fmt.Sprintf("Rig %s, %s:", v.Rig, plural(len(v.Sessions), "session")))
	for _, s := range v.Sessions {
		line("  "+s.Created.Local().Format(time.DateOnly)+"  ", strings.Repeat(" ", 14), s.Said+", "+s.ID)
	}
	if len(v.Series) == 0 {
		fmt.Fprintln(w, "\nNothing was measured twice, so there is nothing to compare.")
		return
	}
	fmt.Fprintln(w, "\nRead again and again:")
	for _, s := range v.Series {
		line("  ", "    ", s.Say)
	}
}
