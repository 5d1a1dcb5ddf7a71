package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"hotlug/engine/graph"
	"hotlug/engine/shape"
	"hotlug/session/ticket"
)

func kbCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "kb",
		Short: "Look at the knowledge and check it",
		Long:  "Look at the knowledge and check it.\n\n" + exitHelp,
		RunE:  group,
	}
	c.AddCommand(kbListCommand(a), kbShowCommand(a), kbCheckCommand(a),
		kbDrawCommand(a), kbPathsCommand(a), kbCoverCommand(a), kbProveCommand(a))
	return c
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// listed is what `kb list --json` prints.
type listed struct {
	Symptoms []listedItem `json:"symptoms"`
	Findings []listedItem `json:"findings"`
}

type listedItem struct {
	ID    string `json:"id"`
	Text  string `json:"text"`
	Sheet string `json:"sheet,omitempty"`
	Stop  bool   `json:"stop_work,omitempty"`
}

func kbListCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "list",
		Short: "List symptoms and findings",
		Long:  "List the symptoms and the findings.\n\n" + exitHelp,
		Args:  takes(),
		RunE: func(*cobra.Command, []string) error {
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			l := listed{Symptoms: []listedItem{}, Findings: []listedItem{}}
			for _, id := range g.SymptomOrder {
				l.Symptoms = append(l.Symptoms, listedItem{ID: id, Text: g.Symptoms[id].Label})
			}
			for _, id := range g.FindingOrder {
				f := g.Findings[id]
				l.Findings = append(l.Findings, listedItem{ID: id, Text: f.Cause, Sheet: f.Sheet, Stop: f.Stop != graph.NoStop})
			}
			if asJSON {
				return ticket.EncodeJSON(a.out, l)
			}
			fmt.Fprintln(a.out, "Symptoms")
			for _, s := range l.Symptoms {
				fmt.Fprintf(a.out, "  %-27s %s\n", s.ID, s.Text)
			}
			fmt.Fprintln(a.out, "Findings")
			for _, f := range l.Findings {
				mark := ""
				if f.Stop {
					mark = "STOP: "
				}
				fmt.Fprintf(a.out, "  %-27s %s%s\n", f.ID, mark, f.Text)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON: {symptoms, findings}")
	return c
}

func kbShowCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "show ID",
		Short:   "Show a symptom, step, finding, reading, worked value or function",
		Long:    "Show a symptom, step, finding, reading, worked value or function: what it says,\nwho leads to it and where it leads.\n\n" + exitHelp,
		Example: "  hotlug kb show worn-holder\n  hotlug kb show holder_drop_v",
		Args:    takes("ID"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			g, err := a.knowledge()
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return names(g), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			if !show(a.out, g, args[0]) {
				hint := ""
				if near := shape.DidYouMean(args[0], names(g)); near != "" {
					hint = "; did you mean " + near + "?"
				}
				return badInputf("nothing in the knowledge is called %s%s", quote(args[0]), hint)
			}
			return nil
		},
	}
}
