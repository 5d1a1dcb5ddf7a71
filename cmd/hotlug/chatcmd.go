package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/chat"
	"hotlug/cmd/hotlug/term"
	"hotlug/engine/diagram"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
	"hotlug/session"
	"hotlug/session/photo"
)

// chatFlags are the flags of the chat, on the root and on `hotlug chat`.
type chatFlags struct {
	symptom, rig, resume string
	practice             bool
	seed                 uint64
}

func chatCommand(a *app) *cobra.Command {
	var f chatFlags
	c := &cobra.Command{
		Use:   "chat",
		Short: "Talk through a fault, one question at a time",
		Long: `Talk through a fault, one question at a time. It ends with the likely cause, a fix
with its numbers worked out, the cautions, and the reading that proves the fix.
Every answer is saved as soon as it is confirmed; --resume goes on where you left.
With --practice the rig is simulated and a fault is hidden in it: type measure, and
the reading is taken for you. Of a practice nothing is kept.

` + exitHelp,
		Example: `  hotlug
  hotlug chat --rig hut-01
  hotlug chat --symptom hot-joint --units us
  hotlug chat --resume SESSION
  hotlug chat --practice --rig hut-01 --seed 7`,
		Args: takes(),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 { // on the root
				return noCommand(cmd.Root(), args)
			}
			if f.practice && !cmd.Flags().Changed("seed") {
				f.seed = anySeed()
			}
			return a.chat(cmd.Context(), f)
		},
	}
	c.Flags().SortFlags = false
	c.Flags().StringVar(&f.symptom, "symptom", "", "start with this complaint, by its id")
	a.rigFlag(c, &f.rig)
	c.Flags().StringVar(&f.resume, "resume", "", "go on with a session")
	c.Flags().BoolVar(&f.practice, "practice", false, "practise on a simulated rig with a hidden fault")
	c.Flags().Uint64Var(&f.seed, "seed", 0, "the practice with this number (default: another one each time)")
	c.Flags().BoolVar(&a.plain, "plain", false, "plain lines: no colour, no line editing, no drawings")
	completeFlagBy(c, "resume", a.completeSessions)
	completeFlagBy(c, "symptom", a.completeSymptoms)
	return c
}

// chat runs the conversation from the flags to the exit code.
func (a *app) chat(ctx context.Context, f chatFlags) error {
	style, err := a.style()
	if err != nil {
		return err
	}
	load := a.knowledgeBehind()
	var g *graph.Graph
	if a.kbDir != "" || f != (chatFlags{}) { // else the first question needs nothing of it
		if g, err = load(); err != nil {
			return err
		}
	}
	if f.symptom != "" && g.Symptoms[f.symptom] == nil {
		return badInputf("there is no symptom %s; `hotlug kb list` lists them%s", quote(f.symptom), nearest(f.symptom, g.SymptomOrder))
	}
	if f.resume != "" && (f.symptom != "" || f.rig != "") {
		return usagef("--resume goes on with the complaint and the rig of that session; leave out --symptom and --rig")
	}
	if f.practice && (f.resume != "" || f.symptom != "") {
		return usagef("a practice brings its own complaint and is not kept; leave out --symptom and --resume")
	}
	if f.seed != 0 && !f.practice {
		return usagef("--seed is the number of a practice; add --practice")
	}
	store, err := session.Open(a.dataDir)
	if err != nil {
		return badInputf("%v", err)
	}
	out, ok := a.out.(*os.File)
	if !ok {
		out = os.Stdout
	}
	o := chat.Options{Graph: g, Later: load, Funcs: electric.Table(), Clock: time.Now, Style: style, Symptom: f.symptom, Setup: walk.Setup{Style: style}}
	keeper := &keeper{store: store, header: func() (session.Header, error) { return a.header(load) }}
	o.Rec = keeper
	if f.practice {
		if err := a.practise(g, f.rig, f.seed, style, &o); err != nil {
			return err
		}
		o.About = []string{fmt.Sprintf("This is practice, number %d. The rig is simulated, a fault is hidden in it, and nothing is kept.", f.seed)}
	} else if f.resume != "" {
		if err := a.resume(g, store, f.resume, keeper, &o); err != nil {
			return err
		}
	} else if f.rig != "" {
		if err := a.useRig(g, f.rig, keeper, &o); err != nil {
			return err
		}
	}
	defer keeper.Close()
	var talk *chat.Chat
	line, err := term.Open(ctx, a.in, out, term.Options{
		Plain:    a.plain,
		Complete: func(l string) []string { return talk.Complete(l) },
		Keep:     chat.IsCommand,
	})
	if err != nil {
		return err
	}
	defer line.Close()
	o.NoDrawings = !term.Drawings(a.plain)
	o.Line, o.Colour = line, term.NewPalette(out, a.plain)
	talk = chat.New(o)
	s, err := talk.Run(ctx)
	switch {
	case errors.Is(err, chat.ErrLeft):
		return leftCode(s)
	case err != nil:
		return err
	}
	return outcomeCode(s)
}

// leftCode is the exit code of a chat that the person left: a finding that was
// told counts, whatever is still to come.
func leftCode(s *walk.State) error {
	for _, t := range s.Told() {
		if t.Status == walk.IsLikely || t.Status == walk.IsProven {
			return nil
		}
	}
	return exit(exitNarrowed, nil)
}

func nearest(word string, among []string) string {
	if near := shape.DidYouMean(word, among); near != "" {
		return "; did you mean " + near + "?"
	}
	return ""
}

func (a *app) header(load func() (*graph.Graph, error)) (session.Header, error) {
	g, err := load()
	if err != nil {
		return session.Header{}, err
	}
	h := session.Header{Program: version(), Units: a.units, Knowledge: session.Knowledge{Version: g.Version, Hash: g.Hash}}
	for _, l := range g.Layers {
		h.Knowledge.Layers = append(h.Knowledge.Layers, session.Layer{Name: l.Name, Hash: l.Hash})
	}
	return h, nil
}

// useRig reads the rig and lays its facts and places before the walk.
func (a *app) useRig(g *graph.Graph, name string, k *keeper, o *chat.Options) error {
	file, src, err := a.finder(".").source(name)
	if err != nil {
		return err
	}
	r, problems := rig.Read(file, src)
	if r == nil || !graph.Sound(problems) {
		return exit(exitBadInput, &problemsError{"the rig file", problems})
	}
	facts, more := rigFacts(g, r)
	if !graph.Sound(more) {
		return exit(exitBadInput, &problemsError{"the rig file", more})
	}
	if r.Name == "" {
		r.Name = strings.TrimSuffix(filepath.Base(file), rigSuffix)
	}
	k.rig = &session.Rig{Name: r.Name, Path: file, Text: string(src)}
	o.Setup.Places, o.Facts = r.Places, facts
	o.Drawing = func() *diagram.Layout { return layoutOf(g, r, a.drawn()) }
	o.About, o.Known = aboutRig(g, r, facts, o.Setup)
	return nil
}

// aboutRig reads back what sizes things, so that a wrong rig file shows.
func aboutRig(g *graph.Graph, r *rig.Rig, facts []walk.Event, setup walk.Setup) (about, known []string) {
	title := "Rig: " + term.Safe(r.Name) + "."
	if r.About != "" {
		title = "Rig " + term.Safe(r.Name) + ": " + term.Safe(r.About)
	}
	s := walk.Start(g, setup)
	for _, e := range facts {
		s, _ = walk.Step(g, s, e)
	}
	for _, t := range s.Takes() {
		if x := g.Readings[t.Reading]; x.Sizes && t.Place == "" && x.Class == reading.Fact {
			known = append(known, x.Name+": "+s.Shown(g, t))
		}
	}
	return []string{title}, known
}

// resume folds a session's events into the state it was left in.
func (a *app) resume(g *graph.Graph, store *session.Store, id string, k *keeper, o *chat.Options) error {
	j, entries, report, err := store.Resume(id)
	if err != nil {
		return sessionError(err)
	}
	k.journal = j
	for _, e := range entries {
		if e.Photo != nil {
			k.photos++
		}
	}
	if r := j.Header().Rig; r != nil {
		if x, problems := rig.Read(r.Path, []byte(r.Text)); x != nil && graph.Sound(problems) {
			o.Setup.Places = x.Places
			o.Drawing = func() *diagram.Layout { return layoutOf(g, x, a.drawn()) }
		}
	}
	events := eventsOf(entries)
	s, taken := walk.Refold(g, o.Setup, events)
	o.About = append(o.About, fmt.Sprintf("Going on with session %s.", j.ID()))
	if !report.Sound() {
		o.About = append(o.About, report.Damaged())
	}
	if h := j.Header().Knowledge.Hash; h != g.Hash {
		o.About = append(o.About, "The knowledge has changed since. Answers that still fit are used; check what I conclude.")
		if taken < len(events) {
			o.About = append(o.About, fmt.Sprintf("The walk parts from the old one after %d of %d answers.", taken, len(events)))
		}
	}
	if len(events) > 0 {
		e := walk.Event{Kind: walk.EvResumed, At: time.Now()}
		if n, p := walk.Step(g, s, e); p.Refused == "" && s.Outcome() == walk.Running {
			s = n
			if err := j.Event(e); err != nil {
				return badInputf("the session can't be written: %v", err)
			}
		}
	}
	o.State = s
	return nil
}

func eventsOf(entries []session.Entry) []walk.Event {
	var out []walk.Event
	for _, e := range entries {
		if e.Event != nil {
			out = append(out, *e.Event)
		}
	}
	return out
}

// sessionError gives an error of the session store its exit code.
func sessionError(err error) error {
	var damaged *session.DamagedError
	if errors.As(err, &damaged) {
		return exit(exitDamaged, err)
	}
	return exit(exitBadInput, err)
}

// keeper begins a session with the first thing that there is to keep, so that a
// look at the first question leaves nothing behind. What can't be kept waits, and
// is kept before the next thing once there is room: a gap in the middle would
// part the session from what was said.
type keeper struct {
	store   *session.Store
	header  func() (session.Header, error)
	rig     *session.Rig
	journal *session.Journal
	waiting []func(*session.Journal) error
	photos  int // how many the session holds
}

func (k *keeper) begin() error {
	if k.journal != nil {
		return nil
	}
	h, err := k.header()
	if err != nil {
		return err
	}
	h.Created, h.Rig = time.Now(), k.rig
	j, err := k.store.Create(h)
	if err != nil {
		return err
	}
	k.journal = j
	return nil
}

func (k *keeper) keep(what func(*session.Journal) error) error {
	k.waiting = append(k.waiting, what)
	if err := k.begin(); err != nil {
		return err
	}
	for len(k.waiting) > 0 {
		if err := k.waiting[0](k.journal); err != nil {
			return err
		}
		k.waiting = k.waiting[1:]
	}
	return nil
}

// Event keeps an event. The facts of a rig file wait until the person says
// something.
func (k *keeper) Event(e walk.Event) error {
	write := func(j *session.Journal) error { return j.Event(e) }
	if e.Kind == walk.EvFact && k.journal == nil {
		k.waiting = append(k.waiting, write)
		return nil
	}
	return k.keep(write)
}

func (k *keeper) Note(text string, at time.Time) error {
	return k.keep(func(j *session.Journal) error { return j.Note(text, at) })
}

// Photo takes a picture from a file and keeps its copy. A picture that can't be
// used is the person's business and keeps nothing waiting.
func (k *keeper) Photo(path, about string, at time.Time) (chat.Attached, error) {
	p, err := photo.Take(home(path))
	var refused *photo.RefusedError
	switch {
	case errors.As(err, &refused):
		return chat.Attached{}, &chat.NoPhotoError{What: refused.What, Missing: refused.Missing}
	case err != nil:
		return chat.Attached{}, err
	}
	var kept session.Photo
	n := k.photos + 1
	err = k.keep(func(j *session.Journal) error {
		kept, err = j.Photo(p, n, filepath.Base(path), about, at)
		return err
	})
	k.photos = n // its number is taken, even if it is only kept later
	return chat.Attached{File: kept.File, Width: p.Width, Height: p.Height}, err
}

// home puts the user's folder for the tilde that no shell has seen here.
func home(path string) string {
	rest, ok := strings.CutPrefix(path, "~/")
	dir, err := os.UserHomeDir()
	if !ok || err != nil {
		return path
	}
	return filepath.Join(dir, rest)
}

func (k *keeper) Said(p chat.Concluded, at time.Time) error {
	said := &session.Printed{Text: p.Text, Finding: p.Finding, Status: p.Status, Outcome: p.Outcome}
	if p.TakenBack {
		said.Status = session.TakenBack
	}
	return k.keep(func(j *session.Journal) error {
		return j.Append(session.Entry{At: at, Printed: said})
	})
}

// ID is the session's id, "" while there is none.
func (k *keeper) ID() string {
	if k.journal == nil {
		return ""
	}
	return k.journal.ID()
}

func (k *keeper) Close() {
	if k.journal != nil {
		k.journal.Close()
	}
}
