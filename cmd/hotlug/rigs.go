package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/diagram"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/session/ticket"
)

func rigsCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "rigs",
		Short: "Keep the descriptions of your rigs",
		Long: `Keep the descriptions of your rigs, so that a chat need not ask for what is known.
A rig is one file of plain YAML, NAME.yaml, in the folder of --rigs DIR, of the
variable ` + rigsEnv + `, or in rigs among the user's data. A hire fleet keeps one such
folder in git.

` + exitHelp,
		RunE: group,
	}
	c.AddCommand(rigsAddCommand(a), rigsListCommand(a), rigsShowCommand(a), rigsEditCommand(a), rigsHistoryCommand(a))
	for _, x := range c.Commands() {
		a.rigsFlag(x)
	}
	return c
}

// rigSheet is a rig file, read and checked.
type rigSheet struct {
	name     string // as its file is called
	path     string
	rig      *rig.Rig // nil if the file can't be used at all
	facts    []rig.Fact
	problems []shape.Problem
}

func (s rigSheet) sound() bool { return s.rig != nil && graph.Sound(s.problems) }

// checkRig reads a rig file as the chat does. name is what the file is called, ""
// where that is nobody's concern; the rig's own must be the same, since sessions
// are found by it.
func checkRig(g *graph.Graph, name, path string, src []byte) rigSheet {
	s := rigSheet{name: name, path: path}
	s.rig, s.problems = rig.Read(path, src)
	if s.rig == nil {
		return s
	}
	facts, more := s.rig.Facts(vocabulary(g))
	s.facts, s.problems = facts, append(s.problems, more...)
	if name != "" && s.rig.Name != "" && s.rig.Name != name {
		at, _ := shape.Parse(path, src)
		s.problems = append(s.problems, shape.NewProblem("other-name", at.Get("name"), "the rig is called "+s.rig.Name+" here, and its file "+name+rigSuffix,
			"give both the same name; sessions are found by it"))
	}
	if s.rig.Name == "" {
		s.rig.Name = name
	}
	shape.Sort(s.problems)
	return s
}

// ownRig reads a name as that of one of the user's rigs, which need not be there.
func (a *app) ownRig(text string) (name string, f finder, err error) {
	name, ok := fileName(text)
	if !ok {
		return "", f, badInputf("%s can't be a rig's name; %s", quote(term.SafeLine(text)), safeNameHint)
	}
	dir, err := a.rigsDir()
	if err != nil {
		return "", f, err
	}
	return name, finder{from: ".", rigs: dir}, nil
}

// readOwn reads a file of the folder of rigs; there says whether there is one.
func readOwn(path string) (src []byte, there bool, err error) {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	src, err = readCapped(path, mostRigFile)
	return src, err == nil, err
}

func rigsListCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:     "list",
		Short:   "List your rigs",
		Long:    "List your rigs, each with a line about it. Files that can't be used are listed\nwith the reason.\n\n" + exitHelp,
		Example: "  hotlug rigs list\n  hotlug rigs list --rigs ./fleet --json",
		Args:    takes(),
		RunE: func(*cobra.Command, []string) error {
			dir, err := a.rigsDir()
			if err != nil {
				return err
			}
			rows, err := a.rigRows(dir)
			if err != nil {
				return err
			}
			if asJSON {
				return ticket.EncodeJSON(a.out, rows)
			}
			if len(rows) == 0 {
				fmt.Fprintf(a.out, "There are no rigs in %s. `hotlug rigs add NAME` asks for one; demo rigs: %s.\n", term.SafeLine(dir), strings.Join(demoRigs(), ", "))
			}
			wide := 0
			for _, r := range rows {
				wide = max(wide, term.Columns(term.SafeLine(r.Name)))
			}
			for _, r := range rows {
				name := term.SafeLine(r.Name)
				fmt.Fprintln(a.out, strings.TrimRight(name+strings.Repeat(" ", wide-term.Columns(name))+"  "+term.SafeLine(r.say()), " "))
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// rigRow is a rig in a list.
type rigRow struct {
	Name     string        `json:"name"`
	Path     string        `json:"path"`
	About    string        `json:"about,omitempty"`
	Begun    bool          `json:"begun,omitempty"` // `rigs add` has not come to its end
	Problem  string        `json:"problem,omitempty"`
	Problems []jsonProblem `json:"problems,omitempty"`
}

func (r rigRow) say() string {
	switch {
	case r.Problem != "":
		return "can't be used: " + r.Problem
	case r.Begun:
		return "begun only; `hotlug rigs add " + r.Name + "` goes on"
	}
	return r.About
}

// rigRows reads all rigs of a folder, by their names. What is no rig file is left
// out.
func (a *app) rigRows(dir string) ([]rigRow, error) {
	g, err := a.knowledge()
	if err != nil {
		return nil, err
	}
	list, err := filesOf(dir, "rigs")
	if err != nil {
		return nil, err
	}
	rows := []rigRow{}
	for _, e := range list {
		path := filepath.Join(dir, e.Name())
		name, isRig := strings.CutSuffix(e.Name(), rigSuffix)
		draft, isDraft := strings.CutSuffix(e.Name(), draftSuffix)
		switch {
		case strings.HasPrefix(e.Name(), "."), strings.HasSuffix(e.Name(), editSuffix):
		case isRig && !isFileName(name):
			rows = append(rows, rigRow{Name: name, Path: path, Problem: "that can't be a rig's name; " + safeNameHint})
		case isRig:
			rows = append(rows, rowOf(g, name, path))
		case isDraft && isFileName(draft):
			if _, err := os.Lstat(filepath.Join(dir, draft+rigSuffix)); err != nil {
				rows = append(rows, rigRow{Name: draft, Path: path, Begun: true})
			}
		}
	}
	return rows, nil
}

func rowOf(g *graph.Graph, name, path string) rigRow {
	row := rigRow{Name: name, Path: path}
	src, err := readCapped(path, mostRigFile)
	if err != nil {
		row.Problem = err.Error()
		return row
	}
	s := checkRig(g, name, path, src)
	if s.rig != nil {
		row.About = s.rig.About
	}
	if !s.sound() {
		row.Problem = (&problemsError{"the file", s.problems}).Error()
		for _, p := range s.problems {
			row.Problems = append(row.Problems, problemAsJSON(p))
		}
	}
	return row
}

func rigsShowCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:               "show RIG",
		Short:             "Show what is known of a rig, in plain words",
		Long:              "Show what is known of a rig, in plain words, and what is not. RIG is one of yours, a\ndemo rig, or the path of a file. A file with problems is shown with them.\n\n" + exitHelp,
		Example:           "  hotlug rigs show hut-01\n  hotlug rigs show hut-01 --json",
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
			path, src, err := a.finder(".").source(args[0])
			if err != nil {
				return err
			}
			name := ""
			if !isPath(args[0]) {
				name = strings.TrimSuffix(filepath.Base(path), rigSuffix)
			}
			s := checkRig(g, name, path, src)
			var failed error
			if !s.sound() {
				failed = exit(exitBadInput, &problemsError{"the rig file", s.problems})
			}
			v := viewOf(g, s, style)
			if asJSON {
				if err := ticket.EncodeJSON(a.out, v); err != nil {
					return badInputf("it can't be written: %v", err)
				}
				if failed != nil {
					return exit(exitBadInput, nil) // the JSON says it
				}
				return nil
			}
			if s.rig != nil {
				a.out.Write(v.text())
				a.out.Write(drawingOf(s))
			}
			return failed
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// These are what `rigs show --json` prints.
type (
	rigView struct {
		Name     string        `json:"name"`
		Path     string        `json:"path"`
		About    string        `json:"about,omitempty"`
		Kind     string        `json:"kind,omitempty"`
		Earthing string        `json:"earthing,omitempty"`
		Facts    []factView    `json:"facts"`
		Places   []placeView   `json:"places"`
		NotKnown []string      `json:"not_known"`
		Problems []jsonProblem `json:"problems"`
	}
	factView struct {
		Reading string `json:"reading"`
		Name    string `json:"name"`
		Say     string `json:"say"`
		Text    string `json:"text"` // as it stands in the file
	}
	placeView struct {
		ID    string     `json:"id"`
		Class string     `json:"class"`
		Name  string     `json:"name"`
		Like  string     `json:"like,omitempty"`
		Facts []factView `json:"facts"`
	}
)

func viewOf(g *graph.Graph, s rigSheet, style quantity.Style) rigView {
	v := rigView{Name: s.name, Path: s.path, Facts: []factView{}, Places: []placeView{}, NotKnown: []string{}, Problems: []jsonProblem{}}
	for _, p := range s.problems {
		v.Problems = append(v.Problems, problemAsJSON(p))
	}
	if s.rig == nil {
		return v
	}
	v.Name, v.About, v.Kind, v.Earthing = s.rig.Name, s.rig.About, s.rig.Kind, s.rig.Earthing
	known := map[string]bool{}
	view := func(f rig.Fact) factView {
		known[f.Reading.Rig] = true
		return factView{f.Reading.ID, f.Reading.Name, factSaid(f, style), f.Text}
	}
	for _, f := range s.facts {
		if f.Place == "" {
			v.Facts = append(v.Facts, view(f))
		}
	}
	for _, p := range s.rig.Places {
		pv := placeView{ID: p.ID, Class: p.Class, Name: p.Name, Like: p.Like, Facts: []factView{}}
		for _, f := range s.facts {
			if f.Place == p.ID && f.Reading.At == "" {
				pv.Facts = append(pv.Facts, view(f))
			}
		}
		v.Places = append(v.Places, pv)
	}
	for _, id := range g.ReadingOrder {
		r := g.Readings[id]
		if r.Rig != "" && !strings.HasPrefix(r.Rig, "place.") && !known[r.Rig] {
			known[r.Rig] = true
			v.NotKnown = append(v.NotKnown, r.Name)
		}
	}
	return v
}

// drawingOf is the rig's one-line diagram below its words. A rig whose figures
// contradict each other is not drawn.
func drawingOf(s rigSheet) []byte {
	sys, problems := rig.SystemOf(s.rig, s.facts)
	if !graph.Sound(problems) || !s.sound() {
		return nil
	}
	var b bytes.Buffer
	b.WriteString("\n")
	for _, l := range diagram.Lay(sys, diagram.Options{Told: diagram.Told(s.facts)}).Text(nil, rigWidth) {
		b.WriteString(term.Safe(l) + "\n")
	}
	return b.Bytes()
}

// factSaid is a fact as people say it.
func factSaid(f rig.Fact, style quantity.Style) string {
	switch f.Reading.Answer {
	case reading.Choice:
		return f.Reading.Options[f.Reading.OptionByID(f.Choice)].Label
	case reading.YesNo:
		return f.Choice
	}
	say := quantity.ShowTyped(f.Value, f.Digit, f.Reading.Kind.Unit, style)
	if f.About {
		say = "about " + say
	}
	return say
}

// rigWidth is how wide a rig is told, in columns.
const rigWidth = 80

// text tells a rig in plain words.
func (v rigView) text() []byte {
	var b bytes.Buffer
	line := func(first, hang, text string) {
		for _, l := range term.Wrap(term.SafeLine(text), rigWidth, first, hang) {
			b.WriteString(l + "\n")
		}
	}
	line("", "  ", strings.TrimSuffix("Rig "+v.Name+": "+v.About, ": "))
	if v.Kind != "" {
		line("", "  ", "Built into: "+v.Kind)
	}
	if v.Earthing != "" {
		line("", "  ", "Earthing: "+v.Earthing)
	}
	for _, f := range v.Facts {
		line("  ", "    ", f.Name+": "+f.Say)
	}
	for _, p := range v.Places {
		b.WriteString("\n")
		line("", "  ", strings.ToUpper(p.Name[:1])+p.Name[1:]+" ("+p.ID+")")
		for _, f := range p.Facts {
			line("  ", "    ", f.Name+": "+f.Say)
		}
	}
	if len(v.NotKnown) > 0 {
		b.WriteString("\n")
		line("", "  ", "Not known, so a chat asks for it: "+strings.Join(v.NotKnown, "; "))
	}
	line("", "  ", "File: "+v.Path)
	return b.Bytes()
}
