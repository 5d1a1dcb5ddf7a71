package check

import (
	"slices"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// A hazard has a caution of its own, and so has a way of measuring. What carries one
// of several cautions is not safe by that: hot metal burns whatever is said of rings.
// Facts are read off labels and are left out.

// company is one caution and what it always goes with.
type company struct {
	caution string
	with    string // in words
	goes    func(t taken) bool
}

// taken is a reading, an action or a state, as far as it can hurt.
type taken struct {
	hazard, meter string
	probes        bool // two points under volts are touched
}

var companies = []company{
	{"burn-danger", "hot metal", func(t taken) bool { return t.hazard == heat }},
	{"gas-and-spark", "gas of a battery", func(t taken) bool { return t.hazard == "gas" }},
	{"no-rings", "tools or probes on live metal", func(t taken) bool {
		return t.hazard == "tools-at-posts" || t.probes && t.hazard != gateHazard && t.hazard != ""
	}},
	{"pv-live-in-light", "the solar side", func(t taken) bool { return t.hazard == gateHazard }},
	{"ohms-only-dead", "a meter on ohms", func(t taken) bool { return t.meter == "ohm" }},
	{"fused-lead-only", "a test lamp", func(t taken) bool { return t.meter == "lamp" }},
}

// dead is the state in which nothing that is touched is live.
const dead = "isolated"

// kept reports what lacks the caution of its hazard or of its way of measuring.
// Knowledge that has no such caution at all is not held to it.
func (c *checker) kept() {
	look := func(what, id string, t taken, has []string, at shape.Place) {
		for _, k := range companies {
			if c.g.Cautions[k.caution] != nil && k.goes(t) && !slices.Contains(has, k.caution) {
				c.bad("caution-of-hazard-missing", at, "add "+k.caution+" to its cautions", "%s %s has to do with %s and does not carry %s", what, id, k.with, k.caution)
			}
		}
	}
	for _, id := range c.g.ReadingOrder {
		r := c.g.Readings[id]
		if r.Class == reading.Fact {
			continue
		}
		probes := (r.From != "" || r.To != "") && !slices.Contains(r.State, dead)
		look("the reading", id, taken{r.Hazard, r.Meter, probes}, r.Cautions, r.Place)
	}
	for _, id := range sortedKeys(c.g.Actions) {
		a := c.g.Actions[id]
		look("the action", id, taken{hazard: a.Hazard}, a.Cautions, a.At)
	}
	for _, id := range sortedKeys(c.g.States) {
		s := c.g.States[id]
		look("the state", id, taken{hazard: s.Hazard}, s.Cautions, s.At)
	}
}

// The gate before a load on a part that may have burned: the reading that tells, and
// the state in which a part carries current.
const (
	seenBurned = "browned"
	loaded     = "loads-on"
)

// burned reports steps that read hot metal under load where some path has not
// shut out that it has burned. After a fix, what burned has gone.
func (c *checker) burned() {
	if c.g.Readings[seenBurned] == nil {
		return
	}
	safe := c.behind(func(s *graph.Step) bool { return c.never(s.Needs, seenBurned, formula.YesNo(true)) }, false)
	for _, id := range c.g.StepOrder {
		s := c.g.Steps[id]
		for _, a := range s.Ask {
			r := c.g.Readings[a]
			if r.Hazard == heat && r.Class != reading.Fact && slices.Contains(r.State, loaded) && !safe["step "+id] {
				c.bad("load-on-burned", s.At, "add needs: not "+seenBurned,
					"%s asks %s under load, and a path leads there on which the part may have burned", id, a)
			}
		}
	}
}
