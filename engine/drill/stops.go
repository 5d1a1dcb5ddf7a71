package drill

import (
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/pattern"
	"hotlug/engine/reading"
)

// Rule is one thing that is never done.
type Rule struct {
	ID   string
	Why  string // the harm
	Safe string // the safe way
}

// Stop is an unsafe act that was stopped.
type Stop struct {
	Rule Rule
	What string // "you laid a hand on the main fuse holder"
}

// The rules. Source of all: practice, and the cautions of the knowledge.
var (
	ohmsOnLive = Rule{"ohms-on-live", "On ohms the meter is nearly a short: on a live part it blows its fuse, or goes up in your hand.",
		"Isolate and prove dead first, then ohms."}
	hotMetal = Rule{"hot-metal", "Metal at 100 °C looks cold, and burns at once.",
		"Load off, wait half an hour, then the back of the hand near it. Or an infrared meter on black tape."}
	pvUnplug = Rule{"pv-unplug", "A solar plug or fuse that is parted while current flows draws an arc, and it does not go out.",
		"Open the solar switch, read 0 A on the clamp, then unplug."}
	pvOver60 = Rule{"pv-over-60", "This array gives more than 60 V. That can kill, and it is not for a helper's probes.",
		"Read it on the controller's display, or leave it to somebody licensed."}
	batteryFirst = Rule{"battery-off-first", "With the battery gone while the sun is on it, the controller can die of its own volts.",
		"Solar switch off first, battery off last."}
	solarLast = Rule{"solar-on-first", "A controller that gets sun before it has a battery can die of it, or take the wrong volts for its own.",
		"Solar switch off, then battery on, solar on last."}
	ontoShort = Rule{"onto-a-short", "There is a short behind it. Closing onto it throws an arc and hot metal.",
		"Find out why it blew. Isolate, and read the ohms of the branch before anything is closed again."}
	ontoLoad = Rule{"onto-a-load", "A switch that closes onto its whole load arcs and burns.",
		"Loads and inverter off first, then the battery isolator."}
	noPrecharge = Rule{"no-pre-charge", "The inverter's empty capacitors take hundreds of amps at the first touch: the contact burns.",
		"Fill them through the resistor first: type `pre-charge`."}
	largerFuse = Rule{"larger-fuse", "The fuse guards the wire. With a bigger one, or wire in its place, the wire becomes the fuse and burns.",
		"The same amps, the same type. A bigger one only where the wire's own limit allows it, worked out."}
	workLive = Rule{"work-on-live", "A tool on live metal bridges it, and thousands of amps go through the tool.",
		"Type `isolate` first: all off, proved dead. Then the repair."}
	loadBrowned = Rule{"load-on-browned", "It has been cooked already. Under load once more it can catch fire.",
		"Leave it off. Look at it, isolate, and call it by what you see and by what is known."}
	resetAgain = Rule{"reset-again", "A breaker that trips twice has a reason, and each reset onto it does harm.",
		"Leave it off and find out why."}
	dangerFirst = Rule{"danger-first", "Something is dangerous here right now, and nobody has asked for it.",
		"Ask for danger before the first touch. Then get away from it and call the stop."}
)

// Rules lists all rules, for the page of what is stopped.
func Rules() []Rule {
	return []Rule{ohmsOnLive, hotMetal, pvUnplug, pvOver60, batteryFirst, solarLast, ontoShort, ontoLoad, noPrecharge, largerFuse, workLive,
		loadBrowned, resetAgain, dangerFirst}
}

// stop stops an act: it does not happen, and it counts.
func (d *Drill) stop(s Stop) []Block {
	d.unsafe = append(d.unsafe, s)
	return []Block{
		result("STOP. It has not been done: " + s.What + "."),
		{Role: "caution", Hang: "Why", Lines: []string{s.Rule.Why}},
		{Role: "caution", Hang: "Safe way", Lines: []string{s.Rule.Safe}},
	}
}

var (
	parting    = pattern.Of(`(?i)\b(unplug|pull|part|disconnect|take (off|out)|undo|remove)\b`)
	pvThing    = pattern.Of(`(?i)\b(solar|pv|panels?|array|module)\b`)
	fuseWords  = pattern.Of(`(?i)\bfuse\b`)
	fitWords   = pattern.Of(`(?i)\b(fit|put|use|install|replace|swap|try|change)\b`)
	biggerFuse = pattern.Of(`(?i)\b(bigger|larger|stronger|higher|heavier|thicker)\b`)
	bridged    = pattern.Of(`(?i)\b(foil|nail|bridge|bypass|bolt across|wire (instead|in place)|without (a |the )?fuse)\b`)
	ampsIn     = pattern.Of(`(?i)(\d+) ?(a|amps?)\b`)
	newFuse    = pattern.Of(`(?i)\b(new fuse|fuse (back )?in|replace (the |a )?([a-z']+ ){0,3}fuse|swap (the )?([a-z']+ ){0,3}fuse|change (the )?([a-z']+ ){0,3}fuse)\b`)
)

// stops looks for an unsafe act in a line that is neither an operation nor a
// reading of the knowledge.
func (d *Drill) stops(text string) ([]Block, bool) {
	switch {
	case bridged.MatchString(text) && fuseWords.MatchString(text),
		fuseWords.MatchString(text) && fitWords.MatchString(text) && (biggerFuse.MatchString(text) || d.overRating(text)):
		return d.stop(Stop{largerFuse, "a fuse that the wire does not allow"}), true
	case parting.MatchString(text) && pvThing.MatchString(text) && !d.stand.PVOff && !d.stand.Covered && d.pvFlows():
		return d.stop(Stop{pvUnplug, "parting the solar side in the sun"}), true
	case newFuse.MatchString(text) && d.shorted(text):
		return d.stop(Stop{ontoShort, "a new fuse onto a short"}), true
	}
	return nil, false
}

// overRating says whether a fuse of more amps than is printed at the place named
// is to be fitted.
func (d *Drill) overRating(text string) bool {
	m := ampsIn.FindStringSubmatch(text)
	spots := d.spot(text, "fuse")
	if m == nil || len(spots) != 1 {
		return false
	}
	amps, err := strconv.ParseFloat(m[1], 64)
	p, ok := d.c.Sys.Part(spots[0].id)
	return err == nil && ok && p.RatedA > 0 && amps > p.RatedA
}

// pvFlows says whether current can flow from the array at all.
func (d *Drill) pvFlows() bool {
	return !d.found("pv-isolator")
}

// shorted says whether a short lies behind what the words name.
func (d *Drill) shorted(text string) bool {
	p := d.rig.Plant()
	if p == nil {
		return false
	}
	var spots []place
	if text != "" {
		spots = d.spot(text, "fuse")
	}
	at := func(id string) bool {
		return len(spots) == 0 || slices.ContainsFunc(spots, func(s place) bool { return s.id == id })
	}
	for load, ohm := range p.Shorts {
		if ohm > 0 && at(load+"-fuse") {
			return true
		}
	}
	return p.Inverter.Shorted && (at("inverter-fuse") || at("main-fuse"))
}

// stopOperation says whether an operation is unsafe as the rig stands.
func (d *Drill) stopOperation(o operation) ([]Block, bool) {
	s := d.stand
	sunny := !s.Covered && !s.PVOff && d.pvFlows()
	switch o {
	case opSun, opRest, opTop, opLoadsOff, opInvOff, opChargeOff, opPVOff, opIsolate, opMeter:
		return nil, false // makes it no less safe
	}
	if out, stop := d.stopDanger(string(o)); stop {
		return out, true
	}
	// Open is open, whoever left it so.
	open := s.MainOff || d.found("main-isolator")
	switch {
	case o == opApart && !s.Dead:
		return d.stop(Stop{workLive, "work on live metal"}), true
	case o == opMainOff && sunny:
		return d.stop(Stop{batteryFirst, "opening the battery side with the sun on the controller"}), true
	case o == opMainOn && open && sunny:
		return d.stop(Stop{solarLast, "closing the battery isolator with the sun on the controller"}), true
	case (o == opPVOn || o == opUncover && !s.PVOff) && open:
		return d.stop(Stop{solarLast, "sun on the controller before the battery is on"}), true
	case o == opMainOn && s.LoadsOn:
		return d.stop(Stop{ontoLoad, "closing the battery isolator onto the loads"}), true
	case (o == opMainOn || o == opTogether) && d.rig.Plant() != nil && d.rig.Plant().Inverter.Shorted && open:
		return d.stop(Stop{ontoShort, "closing the battery isolator onto a short"}), true
	case o == opMainOn && open && !s.Filled && d.c.Sys.Inverter.Watts > 0:
		return d.stop(Stop{noPrecharge, "closing the battery isolator onto an empty inverter"}), true
	case o == opLoadsOn && d.browned():
		return d.stop(Stop{loadBrowned, "a load through a part that has gone brown"}), true
	case o == opReset && d.resets > 0:
		return d.stop(Stop{resetAgain, "a second reset of the breaker"}), true
	case o == opReset && d.shorted(""):
		return d.stop(Stop{ontoShort, "resetting a breaker onto a short"}), true
	}
	return nil, false
}

// found says whether a switch was open when the trainee came, and still is.
func (d *Drill) found(id string) bool {
	p := d.rig.Plant()
	return p != nil && p.Parts[id] != nil && p.Parts[id].Open
}

// browned says whether the part that the complaint is about has been cooked.
func (d *Drill) browned() bool {
	at := d.rig.Focus()
	if at == "" {
		return false
	}
	a := d.rig.Take("browned", at)
	return a.Known && a.Choice == "yes"
}

// pvPoints are points at which the array's volts stand.
var pvPoints = []string{"pv-isolator-array", "pv-isolator-ctl", "ctl-pv-pos", "lead-plus"}

// over60 says whether the array can give more than 60 V.
func (d *Drill) over60() bool {
	a := d.c.Sys.Array
	return a.Voc*float64(max(a.Series, 1)) > 60
}

// stopReading says whether a reading is unsafe as the rig stands.
func (d *Drill) stopReading(r *reading.Reading, at string) ([]Block, bool) {
	if r.ID != d.g.DangerReading && r.Meter != "ear" && r.Meter != "label" && r.ID != "danger_what" {
		if out, stop := d.stopDanger(r.Name); stop {
			return out, true
		}
	}
	switch {
	case r.Meter == "ohm" && !d.stand.Dead:
		return d.stop(Stop{ohmsOnLive, "ohms on a live part"}), true
	case d.over60() && r.Class == reading.Measurement && !strings.HasPrefix(r.Meter, "clamp") && slices.Contains(pvPoints, r.From):
		return d.stop(Stop{pvOver60, "probes on the array's volts"}), true
	}
	return nil, false
}

// stopDanger stops the first act at a rig that is dangerous at this moment, if
// nobody has asked for danger. Once it has been told, it is known.
func (d *Drill) stopDanger(what string) ([]Block, bool) {
	if d.danger {
		return nil, false
	}
	a := d.rig.Take(d.g.DangerReading, "")
	if !a.Known || a.Choice != "yes" {
		return nil, false
	}
	d.danger = true
	out := d.stop(Stop{dangerFirst, what})
	if r := d.g.Readings["danger_what"]; r != nil {
		if w := d.rig.Take(r.ID, ""); w.Known {
			out = append(out, say(Words(d.g, r, w, d.style)))
		}
	}
	return out, true
}
