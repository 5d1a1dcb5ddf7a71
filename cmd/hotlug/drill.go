package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/chat"
	"hotlug/cmd/hotlug/term"
	"hotlug/engine/drill"
	"hotlug/engine/graph"
	"hotlug/engine/simrig"
)

type drillFlags struct {
	seed                uint64
	level               int
	fault, rig, trainee string
	list                bool
}

func drillCommand(a *app) *cobra.Command {
	var f drillFlags
	c := &cobra.Command{
		Use:   "drill",
		Short: "Practise finding faults on a simulated rig",
		Long: `Practise finding faults on a simulated rig. A complaint is told; you ask for
readings in your own words, operate the rig and call the cause. Unsafe acts are
stopped and explained. At the end you hear how it went, and what to learn.

` + drillLevels() + `
With --trainee the result is kept, and what was missed comes back after a day,
three days, a week and so on. The same --seed gives the same drill: it then takes
no account of what is due.

For a drill code 0 means that the cause was called right, 3 that it was not.

` + exitHelp,
		Example: `  hotlug drill
  hotlug drill --level 3 --trainee robin
  hotlug drill --rig hut-03 --seed 7
  hotlug drill --fault worn-holder
  hotlug drill --list`,
		Args: takes(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.drill(cmd.Context(), f, cmd.Flags().Changed("seed"), cmd.Flags().Changed("level"))
		},
	}
	c.Flags().SortFlags = false
	c.Flags().IntVar(&f.level, "level", 1, "how hard, 1 to 5")
	c.Flags().Uint64Var(&f.seed, "seed", 0, "the drill with this number (default: another one each time)")
	c.Flags().StringVar(&f.fault, "fault", "", "hide this fault, by its id or its finding's")
	a.rigFlag(c, &f.rig)
	c.Flags().StringVar(&f.trainee, "trainee", "", "keep the result under this name")
	c.Flags().BoolVar(&f.list, "list", false, "list the faults, or what is due for the trainee")
	c.Flags().BoolVar(&a.plain, "plain", false, "plain lines: no colour, no line editing")
	completeFlag(c, "level", "1", "2", "3", "4", "5")
	return c
}

func drillLevels() string {
	var b strings.Builder
	for _, l := range drill.Levels {
		fmt.Fprintf(&b, "  %d  %s\n", l.N, l.Say)
	}
	return b.String()
}

func (a *app) drill(ctx context.Context, f drillFlags, seeded, leveled bool) error {
	level, err := drill.LevelOf(f.level)
	if err != nil {
		return usagef("%v", err)
	}
	style, err := a.style()
	if err != nil {
		return err
	}
	g, err := a.knowledge()
	if err != nil {
		return err
	}
	if err := knownFault(g, f.fault); err != nil {
		return err
	}
	if f.fault != "" && !leveled {
		level = lowestFor(g, f.fault, level)
	}
	var book *scoreBook
	var past []drill.Score
	if f.trainee != "" {
		if book, err = a.openScores(f.trainee); err != nil {
			return err
		}
		if past, err = book.read(); err != nil {
			return err
		}
	}
	today := time.Now().Format(time.DateOnly)
	if f.list {
		return a.listDrills(g, f.trainee, past, today)
	}
	wish := drill.Wish{Level: level, Fault: f.fault}
	if !seeded {
		f.seed, wish.Due = anySeed(), drill.Due(past, today)
	}
	c, err := a.compose(g, f.rig, f.seed, wish)
	if err != nil {
		return err
	}
	if book != nil {
		if err := book.ready(); err != nil {
			return err
		}
	}
	about := []string{fmt.Sprintf("Drill number %d.", f.seed)}
	if c.Sys.About != "" {
		about = append(about, term.Safe(c.Sys.About))
	}
	d, err := drill.New(drill.Options{Graph: g, Case: c, Level: level, Style: style, About: about})
	if err != nil {
		return badInputf("%v", err)
	}
	err = a.exchange(ctx, d)
	if err != nil && !errors.Is(err, chat.ErrLeft) {
		return err
	}
	if book != nil && d.Begun() {
		s := d.Score(today, f.seed)
		if err := book.add(s); err != nil {
			return err
		}
		fmt.Fprint(a.out, keptLine(f.trainee, append(past, s), s))
	}
	if !d.Right() {
		return exit(exitNarrowed, nil)
	}
	return nil
}

// keptLine says that a drill is kept, and when its faults come back.
func keptLine(trainee string, all []drill.Score, s drill.Score) string {
	next := ""
	for _, b := range drill.Boxes(all) {
		if slices.Contains(s.Faults, b.Fault) && (next == "" || b.Next < next) {
			next = b.Next
		}
	}
	return fmt.Sprintf("\nKept for %s.\nYou get it again from %s on.\n", term.SafeLine(trainee), next)
}

// lowestFor is the lowest level from the one given on at which a fault comes up.
func lowestFor(g *graph.Graph, fault string, from drill.Level) drill.Level {
	for _, l := range drill.Listed(g, simrig.Faults()) {
		if (l.Fault == fault || l.Finding == fault) && l.Level > from.N {
			if up, err := drill.LevelOf(l.Level); err == nil {
				return up
			}
		}
	}
	return from
}

// exchange runs a drill at the terminal, or through a pipe.
func (a *app) exchange(ctx context.Context, d *drill.Drill) error {
	out, ok := a.out.(*os.File)
	if !ok {
		out = os.Stdout
	}
	line, err := term.Open(ctx, a.in, out, term.Options{Plain: a.plain, Complete: func(string) []string { return nil }})
	if err != nil {
		return err
	}
	defer line.Close()
	return chat.Exchange(ctx, line, term.NewPalette(out, a.plain), chatBlocks(d.Begin()), func(text string) ([]chat.Block, bool) {
		b := d.Hear(text)
		return chatBlocks(b), d.Ended()
	})
}

// chatBlocks are a drill's blocks as the chat prints them.
func chatBlocks(in []drill.Block) []chat.Block {
	var out []chat.Block
	for _, b := range in {
		out = append(out, chat.Block{Role: chat.Role(b.Role), Hang: b.Hang, Lines: b.Lines})
	}
	return out
}

// listedFault is a fault as the list shows it, in lines of at most 79 columns.
func listedFault(l drill.Listing) string {
	const at, width = 34, 79
	var b strings.Builder
	fmt.Fprintf(&b, "%-26s level %d", l.Fault, l.Level)
	col := len(b.String())
	for _, w := range strings.Fields(l.Name) {
		if col > at && col+1+len(w) > width {
			b.WriteString("\n" + strings.Repeat(" ", at))
			col = at
		}
		b.WriteString(" " + w)
		col += 1 + len(w)
	}
	return b.String() + "\n"
}

// listDrills lists what can be drilled, or for a trainee what stands where.
func (a *app) listDrills(g *graph.Graph, trainee string, past []drill.Score, today string) error {
	if trainee == "" {
		for _, l := range drill.Listed(g, simrig.Faults()) {
			fmt.Fprint(a.out, listedFault(l))
		}
		return nil
	}
	if len(past) == 0 {
		fmt.Fprintln(a.out, "Nothing has been drilled under this name yet.")
		return nil
	}
	right := 0
	for _, s := range past {
		if s.Right {
			right++
		}
	}
	fmt.Fprintf(a.out, "%s, %d right.\n", plural(len(past), "drill"), right)
	for _, b := range drill.Boxes(past) {
		when := "due on " + b.Next
		if b.Next <= today {
			when = "due now"
		}
		fmt.Fprintf(a.out, "%-28s %s\n", b.Fault, when)
	}
	return nil
}
