package main

import (
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/chat"
	"hotlug/engine/check"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

func kbCheckCommand(a *app) *cobra.Command {
	var asJSON, notes bool
	c := &cobra.Command{
		Use:   "check [DIR]",
		Short: "Check the knowledge, with the folder DIR laid over the built-in",
		Long: `Check the knowledge: shapes, ids, targets, units and circles; conditions over all
that can be read on 12, 24 and 48 V; every path from every symptom; what holds
back what can hurt; texts; and what nothing uses. All problems are reported in
one run, each with its place and, where a value shows it, that value.

A warning that is right to stand is waived beside its line, with the reason:

    meter: app  # check: close-cuts: the app shows hundredths

With DIR that folder is laid over the built-in knowledge, as --kb does.

` + exitHelp,
		Example: "  hotlug kb check\n  hotlug kb check ./fleet-knowledge --json",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usagef("hotlug kb check takes one folder; %s is too much", quote(args[1]))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				a.kbDir = args[0]
			}
			ls, err := a.layers()
			if err != nil {
				return err
			}
			g, r := checked(ls)
			if asJSON {
				return printReport(a, r)
			}
			if !graph.Sound(r.Problems) {
				return exit(exitKnowledge, &problemsError{"the knowledge", r.Problems})
			}
			for _, p := range r.Problems {
				fmt.Fprintln(a.out, shape.Render(p))
			}
			for _, n := range r.Notes {
				if notes || n.Code == "undecided" {
					fmt.Fprintln(a.out, n)
				}
			}
			fmt.Fprintf(a.out, "sound: %d symptoms, %d steps, %d findings, %d readings, %d worked values; %s\n",
				len(g.Symptoms), len(g.Steps), len(g.Findings), len(g.Readings), len(g.Values), r.Summary())
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON: {problems, waived, notes}")
	c.Flags().BoolVar(&notes, "notes", false, "print figures and what could not be decided as well")
	return c
}

// checked loads the layers and looks them over. Where loading fails, that and what
// can be said all the same.
func checked(ls []graph.Layer) (*graph.Graph, check.Report) {
	g, problems := graph.Load(electric.Table(), ls...)
	if !graph.Sound(problems) {
		return g, check.Report{Problems: check.Early(g, problems)}
	}
	r := check.Look(g, chat.Reserved())
	r.Problems = append(r.Problems, problems...)
	shape.Sort(r.Problems)
	return g, r
}

// These are what `kb check --json` prints.
type (
	jsonProblem struct {
		Severity string     `json:"severity"`
		Code     string     `json:"code"`
		File     string     `json:"file"`
		Line     int        `json:"line,omitempty"`
		Col      int        `json:"col,omitempty"`
		Width    int        `json:"width,omitempty"`
		Text     string     `json:"text"`
		Hint     string     `json:"hint,omitempty"`
		Source   string     `json:"source,omitempty"`
		Reason   string     `json:"reason,omitempty"` // of what is waived
		Notes    []jsonNote `json:"notes,omitempty"`
	}
	jsonNote struct {
		Code string `json:"code,omitempty"`
		File string `json:"file,omitempty"`
		Line int    `json:"line,omitempty"`
		Col  int    `json:"col,omitempty"`
		Text string `json:"text"`
	}
	jsonReport struct {
		Sound    bool          `json:"sound"`
		Summary  string        `json:"summary"`
		Problems []jsonProblem `json:"problems"`
		Waived   []jsonProblem `json:"waived"`
		Notes    []jsonNote    `json:"notes"`
	}
)

func problemAsJSON(p shape.Problem) jsonProblem {
	out := jsonProblem{Severity: p.Severity.String(), Code: p.Code, File: p.At.File, Line: p.At.Line, Col: p.At.Col,
		Width: p.Width, Text: p.Text, Hint: p.Hint, Source: p.Source}
	for _, n := range p.Notes {
		out.Notes = append(out.Notes, jsonNote{File: n.At.File, Line: n.At.Line, Col: n.At.Col, Text: n.Text})
	}
	return out
}

// printReport prints a report as JSON. The exit code tells whether it is sound.
func printReport(a *app, r check.Report) error {
	out := jsonReport{Sound: graph.Sound(r.Problems), Summary: r.Summary(), Problems: []jsonProblem{}, Waived: []jsonProblem{}, Notes: []jsonNote{}}
	for _, p := range r.Problems {
		out.Problems = append(out.Problems, problemAsJSON(p))
	}
	for _, w := range r.Waived {
		p := problemAsJSON(w.Problem)
		p.Reason = w.Reason
		out.Waived = append(out.Waived, p)
	}
	for _, n := range r.Notes {
		out.Notes = append(out.Notes, jsonNote{n.Code, n.At.File, n.At.Line, n.At.Col, n.Text})
	}
	e := json.NewEncoder(a.out)
	e.SetIndent("", "  ")
	if err := e.Encode(out); err != nil {
		return badInputf("the result can't be written: %v", err)
	}
	if !out.Sound {
		return exit(exitKnowledge, nil)
	}
	return nil
}
