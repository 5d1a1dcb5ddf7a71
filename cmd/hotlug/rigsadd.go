package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/chat"
	"hotlug/cmd/hotlug/term"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/rig"
	"hotlug/session"
)

// draftSuffix is that of a rig file whose interview has not come to its end: the
// lines that were taken as answers, under a first line that says what it is.
const (
	draftSuffix = ".draft"
	draftHead   = "hotlug rig draft 1"
)

func rigsAddCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "add NAME",
		Short: "Describe a rig, one question at a time",
		Long: `Describe a rig, one question at a time. What you don't know is left out, back takes
an answer back, quit leaves it: the same command goes on from there. Each answer
is on disk before the next question.

` + exitHelp,
		Example: "  hotlug rigs add hut-51\n  hotlug rigs add hut-51 --rigs ./fleet",
		Args:    takes("NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			name, find, err := a.ownRig(args[0])
			if err != nil {
				return err
			}
			style, err := a.style()
			if err != nil {
				return err
			}
			if _, err := os.Lstat(find.rigPath(name)); err == nil {
				return badInputf("there is a rig %s already; `hotlug rigs edit %s` changes it", quote(name), name)
			}
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			return a.addRig(cmd.Context(), g, style, name, find)
		},
	}
	c.Flags().BoolVar(&a.plain, "plain", false, "plain lines: no colour, no line editing")
	return c
}

func (a *app) addRig(ctx context.Context, g *graph.Graph, style quantity.Style, name string, find finder) error {
	draft := filepath.Join(find.rigs, name+draftSuffix)
	said, err := readDraft(draft)
	if err != nil {
		return err
	}
	out, ok := a.out.(*os.File)
	if !ok {
		out = os.Stdout
	}
	v := chat.NewInterview(g, style, name, said)
	line, err := term.Open(ctx, a.in, out, term.Options{Plain: a.plain, Complete: func(string) []string { return nil }})
	if err != nil {
		return err
	}
	defer line.Close()
	lost := false
	err = chat.Exchange(ctx, line, term.NewPalette(out, a.plain), v.Begin(), func(text string) ([]chat.Block, bool) {
		before := len(v.Said())
		blocks := v.Hear(text)
		if now := v.Said(); len(now) != before { // kept before anything about it is printed
			if err := writeDraft(draft, now); err != nil && !lost {
				lost = true
				blocks = append([]chat.Block{{Role: chat.Caution, Hang: "Careful", Lines: []string{
					fmt.Sprintf("This answer could not be saved: %v. The questions go on; the file is shown at the end.", err)}}}, blocks...)
			}
		}
		return blocks, v.Over()
	})
	switch {
	case errors.Is(err, chat.ErrLeft) || err == nil && v.Left():
		if len(v.Said()) > 0 && !lost {
			fmt.Fprintf(a.out, "What you gave is kept. `hotlug rigs add %s` goes on.\n", name)
		}
		return exit(exitNarrowed, nil)
	case err != nil:
		return err
	}
	return a.finishRig(g, v, name, find, draft)
}

// finishRig writes the file of an interview that has come to its end. What can't
// be written is shown, so that nothing is lost.
func (a *app) finishRig(g *graph.Graph, v *chat.Interview, name string, find finder, draft string) error {
	src := sheetOf(g, v, name).YAML()
	path := find.rigPath(name)
	if s := checkRig(g, name, path, src); !s.sound() {
		a.out.Write(src)
		return exit(exitBadInput, &problemsError{"the rig file", s.problems})
	}
	err := os.MkdirAll(find.rigs, 0o700)
	if err == nil {
		if _, there := os.Lstat(path); there == nil {
			err = errors.New("there is a file of that name by now")
		} else {
			err = session.WriteWhole(path, src)
		}
	}
	if err != nil {
		a.out.Write(src)
		return badInputf("the rig could not be kept: %v", err)
	}
	os.Remove(draft)
	fmt.Fprintf(a.out, "\nWritten to %s.\n`hotlug chat --rig %s` goes by it, `hotlug rigs edit %s` changes it.\n", term.SafeLine(path), name, name)
	return nil
}

// sheetOf puts the answers of an interview where they belong.
func sheetOf(g *graph.Graph, v *chat.Interview, name string) rig.Sheet {
	s := rig.Sheet{Name: name, Places: v.Places()}
	for _, x := range v.Answers() {
		switch {
		case x.Reading != nil:
			s.Facts = append(s.Facts, rig.SheetFact{Reading: x.Reading, Place: x.Place, Given: x.Given})
		case x.Key == chat.KeyAbout:
			s.About = x.Text
		case x.Key == chat.KeyKind:
			s.Kind = x.Choice
		case x.Key == chat.KeyEarthing:
			s.Earthing = x.Text
		}
	}
	if !v.SameWire() {
		return s
	}
	for _, f := range s.Facts {
		if f.Place != chat.MainFuse || f.Reading.Rig == "place.rating" || f.Reading.Rig == "place.length" {
			continue
		}
		for _, p := range s.Places {
			if p.Class == "joint" {
				f.Place = p.ID
				s.Facts = append(s.Facts, f)
			}
		}
	}
	return s
}

// readDraft gives the lines of a draft, none if there is no draft.
func readDraft(path string) ([]string, error) {
	src, there, err := readOwn(path)
	if err != nil || !there {
		return nil, err
	}
	head, rest, _ := strings.Cut(string(src), "\n")
	if head != draftHead {
		return nil, badInputf("%s is no draft of a rig that this Hotlug can read; move it away to begin anew", quote(path))
	}
	return strings.FieldsFunc(rest, func(r rune) bool { return r == '\n' }), nil
}

func writeDraft(path string, said []string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	return session.WriteWhole(path, []byte(draftHead+"\n"+strings.Join(said, "\n")+"\n"))
}
