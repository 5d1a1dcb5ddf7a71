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

func kbCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "kb",
		Short: "Look at the knowledge and check it",
		Long:  "Look at the knowledge and check it.\n\n" + exitHelp,
		RunE:  group,
	}
	c.AddCommand(kbListCommand(a), kbShowCommand(a), kbCheckCommand(a))
	return c
}

func kbCheckCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "check [DIR]",
		Short: "Check the knowledge, with the folder DIR laid over the built-in",
		Long: `Check the knowledge: shapes, ids, targets, units, circles, steps that nothing
leads to, dead ends, and findings that are not finished. All problems are
reported in one run, each with its place.

With DIR that folder is laid over the built-in knowledge, as --kb does.

` + exitHelp,
		Example: "  hotlug kb check\n  hotlug kb check ./fleet-knowledge",
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
			g, problems := graph.Load(electric.Table(), ls...)
			if graph.Sound(problems) {
				problems = append(problems, check.Graph(g, chat.Reserved())...)
			}
			if len(problems) > 0 && !graph.Sound(problems) {
				return exit(exitKnowledge, &problemsError{"the knowledge", problems})
			}
			for _, p := range problems {
				fmt.Fprintln(a.out, shape.Render(p))
			}
			fmt.Fprintf(a.out, "sound: %d symptoms, %d steps, %d findings, %d readings, %d worked values; %s\n",
				len(g.Symptoms), len(g.Steps), len(g.Findings), len(g.Readings), len(g.Values), plural(len(problems), "warning"))
			return nil
		},
	}
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
				e := json.NewEncoder(a.out)
				e.SetIndent("", "  ")
				return e.Encode(l)
			}
			fmt.Fprintln(a.out, "Symptoms")
			for _, s := range l.Symptoms {
				fmt.Fprintf(a.out, "  %-24s %s\n", s.ID, s.Text)
			}
			fmt.Fprintln(a.out, "Findings")
			for _, f := range l.Findings {
				mark := ""
				if f.Stop {
					mark = "STOP: "
				}
				fmt.Fprintf(a.out, "  %-24s %s%s\n", f.ID, mark, f.Text)
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
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
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
