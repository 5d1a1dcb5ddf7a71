package check

import (
	"math"
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// The gate before the solar side: a probe goes there only where this worked value
// is at most so much. 60 V DC is where the standards for extra-low voltage end.
const (
	gateHazard  = "pv-volts"
	gateValue   = "pv_cold_v"
	gateMost    = 60.0
	gateCaution = "pv-60-limit"
)

// heat is the hazard of what is put under load while it may be burning up.
const heat = "hot-metal"

// mostCautions is how many cautions the walk gives before one question.
const mostCautions = 3

// A step says itself that it stays behind the gate, whatever leads to it: ways
// change. A proof has no needs of its own, so every way to its finding is looked at.

// safety reports what could hurt and is not held back: probes on the solar side
// outside the gate, loads put on hot parts without the danger question, actions
// of a fix whose needs some path does not fulfil, cautions that nobody would see.
func (c *checker) safety() {
	behind := c.behind(func(s *graph.Step) bool { return c.keepsGate(s.Needs) }, true)
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		for _, a := range s.Ask {
			if r := c.g.Readings[a]; c.probes(r) && !c.keepsGate(s.Needs) {
				c.bad("probe-outside-gate", s.At, "add needs: "+gateValue+" <= 60, here and not only before",
					"%s puts a probe on the solar side for %s where %s may be above 60 V", id, a, gateValue)
			}
		}
		for _, b := range s.Then {
			if b.Better == nil {
				continue
			}
			for _, a := range b.Better.Ask {
				if r := c.g.Readings[a]; c.probes(r) && !c.keepsGate(s.Needs) {
					c.bad("probe-outside-gate", b.Better.At, "add needs: "+gateValue+" <= 60, here and not only before",
						"the better reading of %s puts a probe on the solar side for %s where %s may be above 60 V", id, a, gateValue)
				}
			}
		}
		if a := c.g.Actions[s.Do]; a != nil && a.Hazard == heat {
			if !s.Danger {
				c.bad("load-without-danger-question", s.At, "add danger: true", "%s does %s, which may set a hot part on fire, and does not ask for danger first", id, a.ID)
			}
			if s.Needs == nil && a.Needs == nil {
				c.bad("load-without-needs", s.At, "add needs: with what forbids it", "%s does %s, which may set a hot part on fire, whatever was seen before", id, a.ID)
			}
		}
	}
	c.kept()
	c.burned()
	for _, id := range c.g.FindingOrder {
		f := c.g.Findings[id]
		if f.Prove == nil {
			continue
		}
		ask := f.Prove.Ask
		if b := f.Prove.Better; b != nil {
			ask = slices.Concat(ask, b.Ask)
		}
		for _, a := range ask {
			if r := c.g.Readings[a]; c.probes(r) && !behind["finding "+id] {
				c.bad("probe-outside-gate", f.Prove.At, "prove it by a display, or lead to "+id+" only behind needs: "+gateValue+" <= 60",
					"the proof of %s puts a probe on the solar side for %s, and a path leads there on which %s may be above 60 V", id, a, gateValue)
			}
		}
	}
	for _, id := range c.g.ReadingOrder {
		r := c.g.Readings[id]
		if (c.probes(r) || c.byHand(r)) && !slices.Contains(r.Cautions, gateCaution) {
			c.bad("probe-without-caution", r.Place, "add "+gateCaution+" to its cautions", "%s puts a probe on the solar side and does not tell of the 60 V limit", id)
		}
		all := slices.Clone(r.Cautions)
		for _, st := range r.State {
			all = append(all, c.g.States[st].Cautions...)
		}
		slices.Sort(all)
		if all = slices.Compact(all); len(all) > mostCautions {
			c.warn("cautions-not-shown", r.Place, "keep those that this reading needs", "%s has %d cautions with those of its states, and %d are shown at once", id, len(all), mostCautions)
		}
	}
}

// probes says that a reading is taken with probes on metal of the solar side.
func (c *checker) probes(r *reading.Reading) bool {
	return r.Hazard == gateHazard && r.Class == reading.Measurement && (r.From != "" || r.To != "")
}

// byHand says that a meter's probes are held to the solar side, also where only a
// sign or a yes is told, between points that have no name.
func (c *checker) byHand(r *reading.Reading) bool {
	m := c.g.Meters[r.Meter]
	return r.Hazard == gateHazard && m != nil && slices.Contains([]string{"hand", "good"}, m.Class)
}

// behind lists the steps and findings that every path enters behind a gate. A step
// is a gate if its own needs are one; afterFix says whether what follows on a proof
// that failed counts as a path.
func (c *checker) behind(gate func(*graph.Step) bool, afterFix bool) map[string]bool {
	in := map[string]bool{}
	own := map[string]bool{}
	for _, id := range c.g.StepOrder {
		own[id] = gate(c.g.Steps[id])
		in["step "+id] = true
	}
	for _, id := range c.g.FindingOrder {
		in["finding "+id] = len(c.g.Findings[id].Says) == 0 // danger words lead there from anywhere
	}
	open := func(t graph.Target) bool { // takes the mark away; says whether that was new
		k := "step " + t.Step
		if t.Finding != "" {
			k = "finding " + t.Finding
		} else if own[t.Step] {
			return false
		}
		was := in[k]
		in[k] = false
		return was
	}
	open(graph.Target{Step: c.g.DangerStep})
	for _, id := range c.g.SymptomOrder {
		open(graph.Target{Step: c.g.Symptoms[id].Start})
	}
	for again := true; again; {
		again = false
		for _, id := range c.g.StepOrder {
			s := c.g.Steps[id]
			if s.Unknown != nil && (own[id] || !in["step "+id]) { // where its needs are not met, this is the way
				again = open(*s.Unknown) || again
			}
			if in["step "+id] {
				continue
			}
			for _, t := range s.Targets() {
				again = open(t) || again
			}
			for _, a := range s.Also {
				again = open(graph.Target{Finding: a.Finding}) || again
			}
		}
		for _, id := range c.g.FindingOrder {
			if !afterFix || in["finding "+id] {
				continue
			}
			for _, t := range c.g.Findings[id].Onward() {
				again = open(t) || again
			}
		}
	}
	return in
}

// keepsGate says that a condition can't hold where the gate's value is too high.
func (c *checker) keepsGate(x *graph.Condition) bool {
	if _, ok := c.g.Scope.ValueOf(gateValue); !ok {
		return false
	}
	return c.never(x, gateValue, formula.Within(math.Nextafter(gateMost, math.Inf(1)), 1e5, 1e6))
}

// never says that a condition can't hold where a name has a value.
func (c *checker) never(x *graph.Condition, name string, val formula.Val) bool {
	if x == nil {
		return false
	}
	if c.free == nil {
		c.free = freeScope(c.g, true)
	}
	f, problems := formula.Compile(x.Text, c.free, formula.WantYesNo())
	if len(problems) > 0 {
		return false
	}
	vals := f.Anything()
	refs := f.Refs()
	for i := range refs {
		vals[i].Unknown = false
		if refs[i].Name == name {
			vals[i] = val
		}
	}
	v, _ := f.Eval(vals)
	return !v.CanTrue
}
