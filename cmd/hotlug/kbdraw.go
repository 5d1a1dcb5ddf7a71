package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

func kbDrawCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "draw SHEET",
		Short: "Draw a sheet as a graph, in DOT",
		Long: `Draw a sheet as a graph in DOT, an open format that many programs turn into a
picture. Boxes are steps, rounded boxes findings, double boxes stop-work; dashed
ways are taken when something is not known, dotted ones after a failed proof.

` + exitHelp,
		Example: "  hotlug kb draw joints > joints.dot",
		Args:    takes("SHEET"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			g, err := a.knowledge()
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return sheets(g), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			if names := sheets(g); !contains(names, args[0]) {
				hint := "; there are: " + strings.Join(names, ", ")
				if near := shape.DidYouMean(args[0], names); near != "" {
					hint = "; did you mean " + near + "?"
				}
				return badInputf("there is no sheet called %s%s", quote(args[0]), hint)
			}
			draw(a.out, g, args[0])
			return nil
		},
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// sheets lists the sheets in the order of their files.
func sheets(g *graph.Graph) []string {
	var out []string
	add := func(sheet string) {
		if !contains(out, sheet) {
			out = append(out, sheet)
		}
	}
	for _, id := range g.StepOrder {
		add(g.Steps[id].Sheet)
	}
	for _, id := range g.FindingOrder {
		add(g.Findings[id].Sheet)
	}
	return out
}

// dotText is a text between the quotes of DOT.
func dotText(s string) string {
	return strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(s)
}

// drawing writes a sheet and remembers what of other sheets it leads to.
type drawing struct {
	w     io.Writer
	g     *graph.Graph
	drawn map[string]bool
}

func draw(w io.Writer, g *graph.Graph, sheet string) {
	d := drawing{w, g, map[string]bool{}}
	fmt.Fprintf(w, "digraph %q {\n", sheet)
	fmt.Fprintln(w, "  rankdir=TB; node [shape=box, fontsize=10]; edge [fontsize=9];")
	for _, id := range g.SymptomOrder {
		if s := g.Symptoms[id]; g.Steps[s.Start].Sheet == sheet {
			fmt.Fprintf(w, "  \"symptom %s\" [shape=plaintext, label=\"%s\"];\n", id, dotText(s.Label))
			fmt.Fprintf(w, "  \"symptom %s\" -> \"%s\";\n", id, s.Start)
		}
	}
	for _, id := range g.StepOrder {
		if g.Steps[id].Sheet == sheet {
			d.step(g.Steps[id])
		}
	}
	for _, id := range g.FindingOrder {
		if f := g.Findings[id]; f.Sheet == sheet {
			d.finding(f)
			if f.IfNot != nil {
				d.edge(id, *f.IfNot, "if not proved", "style=dotted")
			}
			if f.Next != nil {
				d.edge(id, *f.Next, "once proved", "style=dashed")
			}
		}
	}
	fmt.Fprintln(w, "}")
}

func (d drawing) step(s *graph.Step) {
	lines := []string{strings.TrimPrefix(s.ID, s.Sheet+"/")}
	if s.Danger {
		lines = append(lines, "danger question first")
	}
	if s.Needs != nil {
		lines = append(lines, "needs "+s.Needs.Text)
	}
	if s.Do != "" {
		lines = append(lines, "do "+s.Do)
	}
	if s.Each != "" {
		lines = append(lines, "each "+s.Each)
	}
	if len(s.Ask) > 0 {
		lines = append(lines, "ask "+strings.Join(s.Ask, ", "))
	}
	fmt.Fprintf(d.w, "  \"%s\" [label=\"%s\"];\n", s.ID, dotText(strings.Join(lines, "\n")))
	for i, b := range s.Then {
		label := "else"
		if b.If != nil {
			label = b.If.Text
		} else if len(s.Then) == 1 {
			label = ""
		}
		if len(s.Then) > 2 {
			label = fmt.Sprintf("%d. %s", i+1, label)
		}
		d.edge(s.ID, b.To, label, "")
	}
	if s.Unknown != nil {
		d.edge(s.ID, *s.Unknown, "not known", "style=dashed")
	}
	for _, a := range s.Also {
		label := "also"
		if a.If != nil {
			label = "also, if " + a.If.Text
		}
		d.edge(s.ID, graph.Target{Finding: a.Finding}, label, "arrowhead=open")
	}
}

func (d drawing) edge(from string, to graph.Target, label, style string) {
	name := to.String()
	switch {
	case to.CarryOn && !d.drawn[name]:
		fmt.Fprintf(d.w, "  \"%s\" [shape=plaintext, label=\"back to where it was\"];\n", name)
	case to.Finding != "":
		d.finding(d.g.Findings[to.Finding])
	case to.Step != "" && d.g.Steps[to.Step].Sheet != d.sheetOf(from) && !d.drawn[name]:
		fmt.Fprintf(d.w, "  \"%s\" [shape=cds, label=\"%s\"];\n", name, dotText(name))
	}
	d.drawn[name] = true
	attr := ""
	if label != "" {
		attr = fmt.Sprintf("label=\"%s\"", dotText(label))
	}
	if style != "" {
		attr = strings.TrimPrefix(attr+", "+style, ", ")
	}
	fmt.Fprintf(d.w, "  \"%s\" -> \"%s\" [%s];\n", from, name, attr)
}

func (d drawing) sheetOf(id string) string {
	if s := d.g.Steps[id]; s != nil {
		return s.Sheet
	}
	return d.g.Findings[id].Sheet
}

func (d drawing) finding(f *graph.Finding) {
	if d.drawn["finding "+f.ID] {
		return
	}
	d.drawn["finding "+f.ID], d.drawn[f.ID] = true, true
	label, look := f.ID+"\n"+f.Cause, "style=rounded"
	if f.Stop != graph.NoStop {
		label, look = "STOP "+label, "peripheries=2"
	}
	fmt.Fprintf(d.w, "  \"%s\" [%s, label=\"%s\"];\n", f.ID, look, dotText(label))
}
