package main

import (
	"os"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/diagram"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/rig"
)

// layoutOf lays out the rig that a file describes. Of a rig that nobody describes,
// nil, or whose file is nonsense as a whole, the usual one is laid out.
func layoutOf(g *graph.Graph, r *rig.Rig, o diagram.Options) *diagram.Layout {
	if r == nil {
		return diagram.Lay(diagram.Standard(), o)
	}
	facts, _ := r.Facts(vocabulary(g))
	s, problems := rig.SystemOf(r, facts)
	if !graph.Sound(problems) {
		return diagram.Lay(diagram.Standard(), o)
	}
	o.Told = diagram.Told(facts)
	return diagram.Lay(s, o)
}

// drawn is how drawings look on the standard output, in the units that were asked
// for.
func (a *app) drawn() diagram.Options {
	out, _ := a.out.(*os.File)
	area, _ := quantity.KindByID("area")
	style, _ := a.style() // wrong units were told before
	return diagram.Options{
		BoxDrawing: term.BoxDrawing(out, a.plain),
		Area:       func(mm2 float64) string { return quantity.Show(mm2, area.Unit, style) },
	}
}
