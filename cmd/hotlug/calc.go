package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/calc"
	"hotlug/engine/electric"
	"hotlug/engine/quantity"
)

func calcCommand(a *app) *cobra.Command {
	var asJSON bool
	var meter string
	c := &cobra.Command{
		Use:   "calc [FUNCTION [NAME=VALUE ...] | AREA | = ARITHMETIC]",
		Short: "Work something out, with the working shown",
		Long: `Work something out, with the formula, the numbers put in, the result, its source
and what it holds for.

Without arguments it lists the functions by area; with an area, those of it; with
a function, what it takes. Values carry their unit as people type it (3m, 10ft,
2/0awg, 130F); a bare number is in the unit of the parameter. Arithmetic starts
with = and takes functions too; quote it, as a shell has uses of its own for * and
brackets.

In arithmetic, volts, amps, ohms, watts and temperatures are known to half the
last digit typed, and the result says how far off it may be; --meter adds the
error of a class of meter.

It gives general guidance. Local rules and a licensed electrician come first.

` + exitHelp,
		Example: `  hotlug calc
  hotlug calc fuse
  hotlug calc wire-drop
  hotlug calc wire-drop amps=80 run=3m size=25mm2
  hotlug calc "= 0.180 V / 42.0 A" --meter hand`,
		RunE: func(_ *cobra.Command, args []string) error {
			style, err := a.style()
			if err != nil {
				return err
			}
			if _, ok := quantity.MeterByID(meter); meter != "" && !ok {
				return usagef("--meter is one of %s, and not %s", strings.Join(meterIDs(), ", "), quote(meter))
			}
			return a.calc(strings.Join(args, " "), calc.Options{Style: style, Meter: meter}, asJSON)
		},
		ValidArgsFunction: completeCalc,
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON: a list of functions, or one result")
	c.Flags().StringVar(&meter, "meter", "", "class of meter that the values were read with: "+strings.Join(meterIDs(), ", "))
	// The names come from one list; an error here would be a flag that isn't there.
	_ = c.RegisterFlagCompletionFunc("meter", cobra.FixedCompletions(meterIDs(), cobra.ShellCompDirectiveNoFileComp))
	return c
}

func meterIDs() []string {
	var ids []string
	for _, m := range quantity.Meters() {
		ids = append(ids, m.ID)
	}
	return ids
}

// calc lists, explains, or works out what was typed.
func (a *app) calc(text string, o calc.Options, asJSON bool) error {
	funcs := electric.Table()
	topic := calc.List(funcs)
	known := text == ""
	if !known {
		topic, known = calc.Topic(funcs, text)
	}
	if known {
		if asJSON {
			return a.printJSON(topic)
		}
		rows := calc.Index(topic)
		if len(topic) == 1 && text != topic[0].Area {
			rows = topic[0].Rows()
		}
		a.printRows(rows)
		return nil
	}
	r, err := calc.Run(funcs, text, o)
	var wrong *calc.UsageError
	switch {
	case errors.As(err, &wrong):
		return exit(exitUsage, err)
	case err != nil:
		return exit(exitBadInput, err)
	case asJSON:
		return a.printJSON(r)
	}
	a.printRows(r.Rows())
	return nil
}

func (a *app) printJSON(v any) error {
	e := json.NewEncoder(a.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false) // formulas have < and >
	return e.Encode(v)
}

// calcWidth is how wide calc's answers are, in columns.
const calcWidth = 80

// printRows prints labels in a column, and texts that hang beside them.
func (a *app) printRows(rows []calc.Row) {
	wide := 0
	for _, r := range rows {
		wide = max(wide, term.Columns(r.Label))
	}
	for _, r := range rows {
		first, hang := "", "  "
		if r.Label != "" {
			first = fmt.Sprintf("  %-*s  ", wide, r.Label)
			hang = strings.Repeat(" ", wide+4)
		}
		for _, l := range term.Wrap(term.Safe(r.Text), calcWidth, first, hang) {
			fmt.Fprintln(a.out, l)
		}
	}
}

// completeCalc completes names of functions and areas, then names of parameters
// that are not given yet, and words of choices.
func completeCalc(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	funcs := electric.Table()
	var out []string
	if len(args) == 0 {
		for _, e := range calc.List(funcs) {
			out = append(out, cobra.CompletionWithDesc(e.Name, e.Title))
		}
		for _, area := range calc.Areas(funcs) {
			out = append(out, cobra.CompletionWithDesc(area, "functions of this area"))
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
	e, err := calc.Describe(funcs, args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	given := map[string]bool{}
	for _, arg := range args[1:] {
		name, _, _ := strings.Cut(arg, "=")
		given[calc.Dashed(name)] = true
	}
	name, _, valued := strings.Cut(typed, "=")
	for _, p := range e.Params {
		switch {
		case valued && calc.Dashed(name) == p.Name:
			for _, w := range p.Choices {
				out = append(out, name+"="+w)
			}
			return out, cobra.ShellCompDirectiveNoFileComp
		case !valued && !given[p.Name]:
			out = append(out, cobra.CompletionWithDesc(p.Name+"=", p.Doc))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}
