package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/engine/check"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

func kbPathsCommand(a *app) *cobra.Command {
	var most int
	var open bool
	c := &cobra.Command{
		Use:   "paths SYMPTOM",
		Short: "List the paths from a symptom, each with example readings",
		Long: `List the paths from a symptom on which everything asked is known, each with
readings that lead that way. Paths that earlier answers rule out are left out,
and those for which no example was found.

` + exitHelp,
		Example: "  hotlug kb paths hot-joint",
		Args:    takes("SYMPTOM"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			g, err := a.knowledge()
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return g.SymptomOrder, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if most < 1 {
				return usagef("--most is at least 1, and not %d", most)
			}
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			if g.Symptoms[args[0]] == nil {
				hint := "; there are: " + strings.Join(g.SymptomOrder, ", ")
				if near := shape.DidYouMean(args[0], g.SymptomOrder); near != "" {
					hint = "; did you mean " + near + "?"
				}
				return badInputf("there is no symptom called %s%s", quote(args[0]), hint)
			}
			paths, more := check.Paths(g, args[0], most)
			n, hidden := 0, 0
			for _, p := range paths {
				if !p.Shown && !open {
					hidden++
					continue
				}
				n++
				printPath(a, n, p)
			}
			fmt.Fprintf(a.out, "%s from %s\n", plural(n, "path"), args[0])
			if hidden > 0 {
				fmt.Fprintf(a.out, "Of %s limits leave open whether anything leads there, and no example was found; --open lists them.\n", plural(hidden, "other"))
			}
			if more {
				fmt.Fprintf(a.out, "There are more; --most lists more than %d.\n", most)
			}
			return nil
		},
	}
	c.Flags().IntVar(&most, "most", 300, "look at no more than so many")
	c.Flags().BoolVar(&open, "open", false, "list paths without an example as well")
	return c
}

func printPath(a *app, n int, p check.Path) {
	end := p.End.String()
	if p.End.CarryOn {
		end = "back to where it was"
	}
	fmt.Fprintf(a.out, "%d. %s", n, end)
	if p.Shown {
		fmt.Fprintf(a.out, " (%g V system)", p.Volts)
	} else {
		fmt.Fprint(a.out, " (no example found: limits leave it open)")
	}
	fmt.Fprintln(a.out)
	for _, s := range p.Steps {
		fmt.Fprintf(a.out, "   %-26s %s\n", s.Step.ID, stepWords(s))
	}
}

func stepWords(s check.PathStep) string {
	var parts []string
	for _, v := range s.Values {
		parts = append(parts, v.Name+" = "+v.Text)
	}
	if len(parts) == 0 {
		return branchWords(s.Step, s.Branch)
	}
	return strings.Join(parts, ", ")
}

// branchWords is the condition of a branch, for a step that needs no new value.
func branchWords(s *graph.Step, i int) string {
	if c := s.Then[i].If; c != nil {
		return "as before: " + c.Text
	}
	return "as before"
}
