package simrig

import "hotlug/engine/rig"

// Fault is one named way in which a rig can be wrong.
type Fault struct {
	ID   string
	Name string // in a few plain words: "worn contacts in a fuse holder"

	// Sites are the ids of the parts or loads at which it can sit on this rig; nil
	// with Anywhere for one that sits nowhere in particular. None: the rig can't
	// have it.
	Sites func(s *rig.System) []string

	// Severity is drawn from Lo to Hi, evenly over the logarithm if Log is set.
	Lo, Hi float64
	Log    bool
	Unit   string // of the severity: "ohm", "V", "%", "" for none

	// Apply makes the plant so. chance is from 0 to 1, for what the severity
	// leaves open (which look, which of two places).
	Apply func(p *Plant, at string, severity, chance float64)

	// Charged says that the repair ends with a charge to the very end and a rest.
	Charged bool

	// After is how the rig stands once the repair is done, where that is more than
	// the fault undone: the battery has rested, the solar switch has been opened
	// before the lead is lifted. nil for nothing more.
	After func(p *Plant, at string, severity, chance float64)

	Seen, Heard, Smelt string   // what a person notices, for the drill; "" for nothing
	Repair             string   // what undoes it, in one sentence
	Shown              []string // symptoms that it can bring, by id, in the order of how likely people complain so
	NoFault            bool     // nothing is broken: light, cold, a normal spark
	Stays              bool     // with NoFault: there is nothing to mend, the rig reads the same before and after
	Unlisted           bool     // the knowledge has no finding for it, on purpose
	Source             string   // of the range
}

// Set is a fault as one rig has it.
type Set struct {
	Fault    string  `json:"fault"`
	At       string  `json:"at,omitempty"`
	Severity float64 `json:"severity"`
	Chance   float64 `json:"chance"`
}
