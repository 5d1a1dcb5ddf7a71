package simrig

import (
	"math"
	"slices"

	"hotlug/engine/circuit"
	"hotlug/engine/rig"
)

// What people notice.
const (
	noChargeShare = 0.05 // of the amps that the rig charges with in full sun: as good as none
	noChargeAmps  = 0.3
	complainK     = 50.0 // over the air when all runs: warmer than a sound main fuse gets
	percentOff    = 10.0 // per cent beside the truth that somebody wonders at
)

// Symptoms lists what a person would notice, by the ids of the knowledge, the
// strongest first. A rig with nothing wrong has none. With ids given it looks for
// these alone, which saves solving for the others.
func (s *Sim) Symptoms(among ...string) []string {
	var out []string
	asked := func(ids ...string) bool {
		return len(among) == 0 || slices.ContainsFunc(ids, func(id string) bool { return slices.Contains(among, id) })
	}
	add := func(id string, seen bool) {
		if seen && asked(id) && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	p := s.plant
	add(p.Worry, p.Worry != "")
	add("spark-on-connecting", s.sparkKind() != "")
	if asked("melted-plug", "hot-joint") {
		if h := s.hottest(); h != nil && s.notable(h) {
			melted := isPlug(h) && s.cooked(h) // one that is only hot is told like any hot part
			add("melted-plug", melted)
			add("hot-joint", !melted)
		}
	}
	add("no-charge", asked("no-charge") && s.chargesNothing())
	for _, x := range bankSymptoms {
		add(x.id, asked(x.id) && x.seen(s))
	}
	if asked(inverterSymptoms...) {
		for _, id := range s.inverterTrouble() {
			add(id, true)
		}
	}
	if asked("fuse-blows") {
		p, _ := s.blows()
		add("fuse-blows", p != nil)
	}
	for _, x := range loadSymptoms {
		add(x.id, asked(x.id) && x.seen(s))
	}
	for _, x := range harvestSymptoms {
		add(x.id, asked(x.id) && x.seen(s))
	}
	if !asked("never-reads-full", "percentage-wrong", "volts-percent-disagree") {
		return out
	}
	if p.Monitor.Source != "volts-only" || p.Monitor.Pattern != "" {
		pattern := s.pattern()
		add("never-reads-full", pattern == "never-100")
		add("percentage-wrong", pattern != "" || s.percentAstray())
		add("volts-percent-disagree", s.percentAstray())
	}
	return out
}

// notable says whether somebody would complain of a hot part: it has been cooked,
// or is more than warm when all runs.
func (s *Sim) notable(p *Part) bool {
	if p.Browned || slices.Contains(cookedLooks, p.Look) {
		return true
	}
	c, ok := s.hotAt(p, s.Loaded(p.ID))
	return ok && c-s.airAt(p) >= complainK
}

// percentAstray says whether the display is plainly beside the true charge.
func (s *Sim) percentAstray() bool {
	shown, ok := s.shownPercent()
	return ok && math.Abs(shown-s.plant.Battery.Charge) > percentOff
}

// chargesNothing says whether next to nothing comes into the battery by day,
// though it would take more.
func (s *Sim) chargesNothing() bool {
	z := s.AsFound()
	st := s.at(z)
	if st.err != nil {
		return true
	}
	if st.taking && s.modeOf(st) == circuit.AtVolts {
		return false
	}
	amps := st.sol.Amps("controller")
	return math.IsNaN(amps) || amps < max(noChargeAmps, noChargeShare*s.sys.ChargeAmps()) || s.bankAmps(st) < noChargeShare*s.sys.ChargeAmps() && st.blocked
}

// Complain sets what the person complains of, and with it where they stand: at
// the hot part, at the plug, at none in particular.
func (s *Sim) Complain(symptom string) {
	s.symptom, s.focus, s.meant, s.stood = symptom, "", "", ""
	switch symptom {
	case "spark-on-connecting":
		s.focus = s.struck()
	case "hot-joint":
		s.focus = s.felt(func(p *Part) bool { return !isPlug(p) || !s.cooked(p) })
	case "melted-plug":
		s.focus = s.felt(isPlug)
	case "fuse-blows":
		if p, _ := s.blows(); p != nil {
			s.focus = p.ID
		} else {
			s.focus = s.felt(func(p *Part) bool { return p.Kind == rig.Fuse })
		}
	case allIsDead:
		if s.plant.Parts["main-fuse"] != nil {
			s.focus = "main-fuse"
		}
	case fridgeStops:
		s.focus = s.standAt(isFridge)
	case lightsDim:
		s.focus = s.standAt(isLight)
	case oneWeak:
		s.focus = s.standAt(func(string) bool { return true })
	}
	clear(s.seen)
}

// struck is the joint at which a tool has slipped, "" for none.
func (s *Sim) struck() string {
	if p := s.plant.Parts[s.plant.Felt]; p != nil && s.plant.Event.Tool != "" {
		return p.ID
	}
	return ""
}

func isPlug(p *Part) bool { return p.Kind == rig.Plug || p.Kind == rig.PVPlug }

// felt is the part that the person took hold of: the one the plant says, the one
// that is notably hot, or the warmest of the kind.
func (s *Sim) felt(kind func(*Part) bool) string {
	if p := s.plant.Parts[s.plant.Felt]; p != nil {
		return p.ID
	}
	if p := s.hottest(); p != nil && kind(p) {
		return p.ID
	}
	best, top := "", math.Inf(-1)
	for p := range s.inOrder {
		if !kind(p) || p.Circuit == "array" && p.Kind != rig.PVPlug {
			continue
		}
		if c, ok := s.hotAt(p, s.Loaded(p.ID)); ok && c > top {
			best, top = p.ID, c
		}
	}
	return best
}
