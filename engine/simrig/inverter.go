package simrig

import (
	"math"
	"slices"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// How an inverter behaves (inverter textbook, data sheets).
const (
	surgeTimes = 2.0  // its rating that it gives for a moment
	restartV   = 1.7  // V per 12 V over its low limit from which it starts again
	beepV      = 0.4  // V per 12 V over its low limit at which it warns
	searchW    = 40.0 // that a searching one may not feel
	holdAt     = 1.005
	holdOver   = 1.01
	holdOhm    = 1e-5
	humTimes   = 1.6 // the ripple of a sound source, from which the hum is loud
)

// inverterSymptoms are the complaints that stand at the inverter.
var inverterSymptoms = []string{"inverter-dead", "inverter-stops", "inverter-noisy"}

// atInverter says whether the complaint at hand is about the inverter: then the
// load for a test hangs on it alone, and the wire in question is on its way.
func (s *Sim) atInverter() bool { return slices.Contains(inverterSymptoms, s.symptom) }

// onItsWay says whether a wire that is at no place is one on the inverter's way:
// the complaint is about it, or the whole rig is loaded through it.
func (s *Sim) onItsWay() bool { return s.atInverter() || s.symptom == proveSystem }

// proveSystem is no complaint: a whole rig is to be proved, with the inverter as
// its largest load.
const proveSystem = "prove-system"

// Has says whether a rig has what a symptom is about.
func Has(sys *rig.System, symptom string) bool {
	return sys.Inverter.Watts > 0 || !slices.Contains(inverterSymptoms, symptom)
}

// inverterMay says whether the inverter may run, as far as that does not depend
// on volts.
func (s *Sim) inverterMay() bool {
	x := s.plant.Inverter
	return s.sys.Inverter.Watts > 0 && x.Switch && !x.Remote && !x.Dead && !x.Alarm && !x.Latched && !x.Shorted
}

// lowCut and highCut are the volts at which it stops, as they are set; 0 for no
// upper one.
func (s *Sim) lowCut() float64 {
	if v := s.plant.Inverter.LowV; v > 0 {
		return v
	}
	return s.sys.Inverter.LowV
}

func (s *Sim) highCut() float64 {
	if v := s.plant.Inverter.HighV; v > 0 {
		return v
	}
	return s.sys.Inverter.HighV
}

// outside says whether it does not run at these volts. Once stopped by low volts
// it wants more to start again.
func (s *Sim) outside(v float64) bool {
	low, high := s.lowCut(), s.highCut()
	if s.plant.Inverter.LowStop {
		low += restartV * s.twelves()
	}
	v -= s.plant.Inverter.SenseV
	return v < low || high > 0 && v > high
}

// usualWatts is what is plugged into the inverter as a rule, and as a test load.
func (s *Sim) usualWatts() float64 {
	ac, _ := s.demand(Situation{Loads: LoadsSteady, Way: "inverter"})
	return ac
}

// plugged is the watts that run on the inverter when the trouble comes.
func (s *Sim) plugged() float64 {
	if w := s.plant.Inverter.PlugW; w > 0 {
		return w
	}
	return s.usualWatts()
}

// startTimes are the times its watts that a thing takes as it starts (inverter
// textbook: motors five to seven).
var startTimes = map[string]float64{"motor": 6, "tool": 3, "soft-motor": 2, "microwave": 2, "heater-or-electronics": 1}

// startWatts is what is plugged in takes as it starts.
func (s *Sim) startWatts() float64 {
	if times := startTimes[s.plant.Inverter.Starts]; times > 0 {
		return times * s.plugged()
	}
	return 0
}

// inverterAir is the air around the inverter in °C.
func (s *Sim) inverterAir() float64 {
	if c := s.plant.Inverter.AirC; c != 0 {
		return c
	}
	return s.sys.AmbientC
}

// warmWatts is what it gives for hours in its air and with its vents.
func (s *Sim) warmWatts() float64 {
	c := s.inverterAir() + s.plant.Inverter.BlockK
	if c > 60 {
		return 0
	}
	return s.sys.Inverter.Watts * figure(100)(electric.InverterDerate(max(-40, c))) / 100
}

// runsIn says whether the inverter runs in a situation.
func (s *Sim) runsIn(z Situation) bool {
	st := s.at(z)
	return st.err == nil && st.invOn && !s.gone(st)
}

// switchedOn is the rig as found, the inverter's switch on and nothing plugged in.
func (s *Sim) switchedOn() Situation { return s.AsFound() }

// atWork is the usual load on the inverter alone, in the evening.
func (s *Sim) atWork() Situation {
	return Situation{Loads: LoadsSteady, Way: "inverter"}
}

// stopsWhen is when the inverter stops, an option of inv_stop_when; "" where it
// goes on running.
func (s *Sim) stopsWhen() string {
	x := s.plant.Inverter
	if s.sys.Inverter.Watts == 0 || x.Dead || x.Alarm || x.Latched || x.Shorted || !x.Switch || x.Remote {
		if s.sys.Inverter.Watts == 0 {
			return ""
		}
		return "at-switch-on"
	}
	if !s.runsIn(s.switchedOn()) {
		v, ok := s.view(s.switchedOn())
		if high := s.highCut(); ok && high > 0 && v.volts(rig.InvPos, rig.InvNeg) > high {
			return "in-sun-or-charging"
		}
		return "at-switch-on"
	}
	start := s.atWork()
	start.Starting = true
	switch {
	case x.Search && s.plugged() < searchW:
		return "on-off-on"
	case s.startWatts() > surgeTimes*s.sys.Inverter.Watts, x.Starts != "" && !s.runsIn(start):
		return "when-a-load-starts"
	case s.plugged() > s.sys.Inverter.Watts, !s.runsIn(s.atWork()):
		return "under-steady-load"
	case s.plugged() > s.warmWatts():
		return "after-minutes"
	case s.highCut() > 0 && !s.runsIn(s.top()):
		return "in-sun-or-charging"
	}
	return ""
}

// inverterSound is an option of inv_sound, with its usual load on.
func (s *Sim) inverterSound() string {
	x := s.plant.Inverter
	if s.plant.Danger == "arc-burning" {
		return "crackle"
	}
	if s.sys.Inverter.Watts == 0 || x.Dead || !x.Switch || x.Remote {
		return "none"
	}
	if x.Alarm || x.Wails {
		return "beeps"
	}
	idle := s.at(s.switchedOn())
	if idle.err == nil && !idle.invOn {
		if idle.sol.Across(rig.InvPos, rig.InvNeg) < lowest*s.sys.Volts {
			return "none" // nothing feeds its beeper
		}
		return "beeps"
	}
	work := s.at(s.atWork())
	low := work.err == nil && (!work.invOn || work.sol.Across(rig.InvPos, rig.InvNeg) < s.lowCut()+beepV*s.twelves())
	switch {
	case low, s.plugged() > s.sys.Inverter.Watts, s.plugged() > s.warmWatts():
		return "beeps"
	case x.Scrapes:
		return "grinding"
	case x.Iron, x.Stepped, s.rippleLoud():
		return "hum"
	}
	return "none"
}

// rippleOhm is what lies behind the ripple at its studs: all between cells and
// studs, and what dry capacitors add.
func (s *Sim) rippleOhm(st *state) float64 {
	amps := s.amps(st, "inv-pos")
	if amps < 0.1 {
		return 0
	}
	volts, _ := s.bankVolts(st)
	return max(0, volts-orNought(st.sol.Across(rig.InvPos, rig.InvNeg)))/amps + s.plant.Inverter.DryOhm
}

// smoothOhm is what lies behind the studs of a sound inverter at most: a new bank,
// and leads of 5 mΩ, or those of a small one that lose a fiftieth of the volts under
// its usual load.
func smoothOhm(s *rig.System) float64 {
	amps := max(1, usualShare*s.InverterAmps())
	return bankOhm(s) + max(0.005, 0.02*s.Volts/amps)
}

// rippleLoud says whether the ripple is so much more than a sound bank and leads
// show that the hum is heard.
func (s *Sim) rippleLoud() bool {
	st := s.at(s.holdAtWork())
	return st.err == nil && s.rippleOhm(st) > humTimes*smoothOhm(s.sys)
}

func (s *Sim) holdAtWork() Situation {
	z := s.atWork()
	z.Hold = true
	return z
}

// wireInQuestion is the wire on the inverter's way that loses most under load:
// whoever steps along finds it, and stays at it. nil without an inverter.
func (s *Sim) wireInQuestion() *Part {
	if p := s.plant.Parts[s.meant]; p != nil {
		return p
	}
	st := s.at(s.holdAtWork())
	if s.sys.Inverter.Watts == 0 || st.err != nil {
		return nil
	}
	var most *Part
	top := -1.0
	for p := range s.inOrder {
		if p.Kind != rig.Wire || p.Circuit != "inverter" && p.Circuit != "battery" || isLink(p.Part) {
			continue
		}
		if v := math.Abs(st.sol.Across(nodeName(p.A), nodeName(p.B))); v > top {
			most, top = p, v
		}
	}
	if most != nil && s.atInverter() {
		s.meant = most.ID
	}
	return most
}

// wireAt is the wire that a person without a place in hand means: at the place or
// in focus, else on the inverter's way.
func (s *Sim) wireAt(place string) *Part {
	if p := s.partAt(place); p != nil {
		return s.wireOf(p)
	}
	if s.sys.Inverter.Watts > 0 {
		return s.wireInQuestion()
	}
	return s.plant.Parts["bat-pos"]
}

// inverterTrouble is what a person notices of the inverter, by the ids of the
// complaints.
func (s *Sim) inverterTrouble() []string {
	if s.sys.Inverter.Watts == 0 {
		return nil
	}
	var out []string
	switch s.stopsWhen() {
	case "":
	case "at-switch-on":
		out = append(out, "inverter-dead")
	default:
		out = append(out, "inverter-stops")
	}
	if s.inverterSound() != "none" {
		out = append(out, "inverter-noisy")
	}
	return out
}
