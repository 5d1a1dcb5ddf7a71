package check

import (
	"errors"
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
)

// divisions reports conditions that divide by what can be nought where nothing
// guards against it. In a branch the guard is `unknown:`, or a branch above that
// takes nought; a proof that can't be worked out stays open, which is as it
// should be unless nought is a usual reading.
func (c *checker) divisions() {
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		for i, b := range s.Then {
			if b.If == nil || s.Unknown != nil || !c.divides(b.If.Text) {
				continue
			}
			if p := c.nought(b.If, s.Then[:i], false); p != nil {
				c.badCond("division-by-zero", b.If, "add unknown: with the way to go then, or a branch above that takes it",
					"with %s this divides by nought and leads nowhere", c.ranges.say(p))
			}
		}
	}
	for _, id := range c.g.FindingOrder {
		pr := c.g.Findings[id].Prove
		if pr == nil || !c.divides(pr.If.Text) {
			continue
		}
		if p := c.nought(pr.If, nil, true); p != nil {
			c.badCond("division-by-zero", pr.If, "ask first whether it is more than nought",
				"with %s, a usual reading, this divides by nought and the proof stays open", c.ranges.say(p))
		}
	}
}

// divides says that a formula divides, itself or in its worked values.
func (c *checker) divides(text string) bool {
	if strings.Contains(text, "/") {
		return true
	}
	for _, name := range nameOrWord.FindAllString(text, -1) {
		if v := c.g.Values[name]; v != nil && c.divides(v.Text) {
			return true
		}
	}
	return false
}

// nought looks for values at which a condition divides by nought and the branches
// above it take nothing: each name at nought in turn, the others spread out.
func (c *checker) nought(x *graph.Condition, above []graph.Branch, usual bool) *point {
	f := c.ranges.cond(x)
	p := pointer{r: c.ranges}
	for sys := range c.ranges.systems {
		box := make([]cell, len(f.vars))
		for i, v := range f.vars {
			if box[i] = c.ranges.full[sys][v]; usual {
				box[i] = c.ranges.usual(sys, v)
			}
		}
		for zero, full := range box {
			if c.ranges.types[full.v].Class != formula.ClassNumber || full.lo > 0 || full.hi < 0 {
				continue
			}
			for k := range 3 * settings {
				cells := make([]cell, len(f.vars))
				for j := range f.vars {
					if cells[j] = p.pick(box[j], k, j); j == zero {
						cells[j].lo, cells[j].hi = 0, 0
					}
				}
				if !dividedByNought(f, c.ranges, cells) || c.takenAbove(f, cells, above) {
					continue
				}
				for _, one := range cells { // one name alone says it shortest
					if one.lo == 0 && one.hi == 0 && c.stillDivides(f, box, one) {
						return &point{sys, []cell{one}}
					}
				}
				return &point{sys, cells}
			}
		}
	}
	return nil
}

func dividedByNought(f *form, r *ranges, cells []cell) bool {
	for i := range cells {
		f.buf[i] = r.val(cells[i], false)
	}
	v, err := f.f.Eval(f.buf)
	var d *formula.DomainError
	return v.CanTrue && v.CanFalse && errors.As(err, &d) && d.Func == "division"
}

// stillDivides says that one name alone makes it divide by nought.
func (c *checker) stillDivides(f *form, box []cell, only cell) bool {
	p := pointer{r: c.ranges}
	for k := range settings {
		cells := make([]cell, len(f.vars))
		for j, v := range f.vars {
			if cells[j] = p.pick(box[j], k, j); v == only.v {
				cells[j] = only
			}
		}
		if !dividedByNought(f, c.ranges, cells) {
			return false
		}
	}
	return true
}

// takenAbove says that a branch above is certainly taken at these values, or may
// be: its names that are not among them can be anything.
func (c *checker) takenAbove(f *form, cells []cell, above []graph.Branch) bool {
	for _, b := range above {
		g := c.ranges.cond(b.If)
		at := make([]cell, len(g.vars))
		for i, v := range g.vars {
			at[i] = c.ranges.full[0][v]
			if j := slices.Index(f.vars, v); j >= 0 {
				at[i] = cells[j]
			}
		}
		if _, no := c.ranges.can(g, at, 0); !no {
			return true
		}
	}
	return false
}
