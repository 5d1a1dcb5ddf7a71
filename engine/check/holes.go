package check

import (
	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

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
