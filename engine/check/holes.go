package check

import (
	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

// Early adds to the problems of knowledge that did not load what can be said of
// it all the same: values that take no branch of a step, and texts.
func Early(g *graph.Graph, problems []shape.Problem) []shape.Problem {
	c := &checker{g: g}
	c.texts()
	c.waive()
	out := Holes(g, problems)
	for _, p := range c.problems {
		if p.Code != "waiver-unused" { // what it is for was not looked for
			out = append(out, p)
		}
	}
	shape.Sort(out)
	return out
}

// Holes puts an example to each problem of a step without a last branch: values
// with which none of its branches is taken.
func Holes(g *graph.Graph, problems []shape.Problem) []shape.Problem {
	r := newRanges(g)
	f := &flow{r: r, g: g, points: pointer{r: r}}
	out := append([]shape.Problem(nil), problems...)
	for i, p := range out {
		if p.Code != "no-last-branch" {
			continue
		}
		for _, id := range g.StepOrder {
			s := g.Steps[id]
			if n := len(s.Then); n > 0 && s.Then[n-1].At == p.At {
				out[i].Text += f.hole(s)
			}
		}
	}
	return out
}

func (f *flow) hole(s *graph.Step) string {
	var wishes []wish
	for _, b := range s.Then {
		if b.If != nil {
			wishes = append(wishes, wish{f.r.cond(b.If), false})
		}
	}
	for sys := range f.r.systems {
		if p := f.points.find(sys, &state{}, wishes); p != nil {
			return "; " + f.r.say(p) + " takes no branch"
		}
	}
	return "; its conditions hold all that can be read, so the last one can go"
}
