package main

import (
	"errors"
	"math/rand/v2"
	"strings"

	"hotlug/cmd/hotlug/chat"
	"hotlug/engine/diagram"
	"hotlug/engine/drill"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
)

// demoLevel is the last level whose drills are on Larkmoor's rigs unless another is
// asked for; above it a rig is made by chance.
const demoLevel = 2

// compose makes the case for a drill or a practice.
func (a *app) compose(g *graph.Graph, rigName string, seed uint64, w drill.Wish) (drill.Case, error) {
	var rigs []*rig.Rig
	find, names := a.finder("."), []string{rigName}
	if rigName == "" {
		find, names = finder{}, nil // Larkmoor's, whatever rigs the user has
		if w.Level.N <= demoLevel {
			names = demoRigs()
		}
	}
	for _, n := range names {
		r, err := find.load(n)
		if err != nil {
			return drill.Case{}, err
		}
		rigs = append(rigs, r)
	}
	c, err := drill.Compose(drill.Order{Graph: g, Rigs: rigs, Seed: seed, Wish: w})
	if errors.Is(err, drill.ErrNoFault) && rigName == "" && len(rigs) > 0 { // Larkmoor's rigs can't have it
		c, err = drill.Compose(drill.Order{Graph: g, Seed: seed, Wish: w})
	}
	switch {
	case errors.Is(err, drill.ErrNoFault) && w.Fault != "":
		return c, badInputf("the fault %s does not show on this rig at this level; `hotlug drill --list` lists them, and another --rig or --level may have it", quote(w.Fault))
	case err != nil:
		return c, badInputf("%v", err)
	}
	return c, nil
}

// knownFault checks a fault given by its id, or by its finding's.
func knownFault(g *graph.Graph, id string) error {
	if id == "" {
		return nil
	}
	list := drill.Listed(g, simrig.Faults())
	var ids []string
	for _, l := range list {
		if l.Fault == id || l.Finding == id {
			return nil
		}
		ids = append(ids, l.Fault, l.Finding)
	}
	return badInputf("there is no fault %s; `hotlug drill --list` lists them%s", quote(id), nearest(id, ids))
}

// anySeed is a seed that nobody has asked for, short enough to be told.
func anySeed() uint64 { return rand.Uint64N(100000) }

// practise puts a simulated rig under the chat, with a plain fault hidden in it.
func (a *app) practise(g *graph.Graph, rigName string, seed uint64, style quantity.Style, o *chat.Options) error {
	level, err := drill.LevelOf(1)
	if err != nil {
		return err
	}
	c, err := a.compose(g, rigName, seed, drill.Wish{Level: level})
	if err != nil {
		return err
	}
	guide, err := drill.NewGuide(g, c, style)
	if err != nil {
		return badInputf("%v", err)
	}
	o.Practice, o.Rec = guide, nil
	o.Setup.Places, o.Facts = c.Sys.Places, c.Facts
	o.Drawing = func() *diagram.Layout { return diagram.Lay(c.Sys, a.drawn()) }
	return nil
}

// rigUsage is the help of --rig: as many demo rigs as a line holds, and the last.
func rigUsage() string {
	names := demoRigs()
	const shown = 4
	if len(names) > shown+1 {
		names = append(append([]string{}, names[:shown]...), "... "+names[len(names)-1])
	}
	return "your rig, a file, or a demo: " + strings.ReplaceAll(strings.Join(names, ", "), ", ...", " ...")
}
