package drill

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"hotlug/engine/pattern"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

// stand is how the trainee has left the rig. As found loads are off and the
// switches are as the complaint left them.
type stand struct {
	Covered, LoadsOn, InvOff, PVOff, MainOff, ChargersOff, Dead, Rested, Top, Filled, Apart bool

	Also []string // other states of the knowledge that were brought about
}

// operation is one thing done to the rig.
type operation string

const (
	opSun       operation = "wait for sun"
	opCover     operation = "cover the panels"
	opUncover   operation = "uncover the panels"
	opLoadsOn   operation = "loads on"
	opLoadsOff  operation = "loads off"
	opPVOff     operation = "open the solar switch"
	opPVOn      operation = "close the solar switch"
	opMainOff   operation = "open the battery isolator"
	opMainOn    operation = "close the battery isolator"
	opInvOff    operation = "inverter off"
	opInvOn     operation = "inverter on"
	opChargeOff operation = "chargers off"
	opIsolate   operation = "isolate"
	opTogether  operation = "put it together"
	opRest      operation = "let it rest"
	opTop       operation = "wait for the top of the charge"
	opReset     operation = "reset the breaker"
	opRestart   operation = "restart the controller"
	opFill      operation = "pre-charge the inverter"
	opApart     operation = "part the batteries"
	opMeter     operation = "take the other meter"
)

// opMinutes is what each costs, one minute if it is not listed.
var opMinutes = map[operation]float64{opIsolate: 10, opTogether: 10, opRest: 180, opTop: 90, opRestart: 15, opFill: 5, opCover: 5, opUncover: 3, opApart: 20, opMeter: 2}

// opSaid is what comes of it, in words.
var opSaid = map[operation]string{
	opSun: "There is steady sun on the panels.", opCover: "The panels are covered. Their volts are still there.",
	opUncover: "The cover is off.", opLoadsOn: "A steady load is on.", opLoadsOff: "All loads are off.",
	opPVOff: "The solar switch is open.", opPVOn: "The solar switch is closed.", opMainOff: "The battery isolator is open.",
	opMainOn: "The battery isolator is closed.", opInvOff: "The inverter is off.", opInvOn: "The inverter is on.",
	opChargeOff: "All chargers are off.",
	opIsolate:   "Loads off, solar off, battery isolator off. Proved dead with a meter that was tried before and after.",
	opTogether:  "Covers on, battery first, solar last. It is as it was.", opRest: "It has rested for three hours.",
	opTop: "It stands at its top volts, and the amps fall no more.", opReset: "The breaker was off and is on again.",
	opRestart: "The controller was off for a quarter of an hour and is on again.",
	opFill:    "The inverter's capacitors are filled through the resistor.",
	opApart:   "No lead joins one battery to another.",
	opMeter:   "You have the other meter in your hands.",
}

// opAction is the knowledge's action that does the same to the simulated rig.
var opAction = map[operation]string{
	opPVOn: "close-pv-isolator", opMainOn: "close-main-isolator", opReset: "reset-breaker-once", opRestart: "restart-controller",
	opIsolate: "isolate-and-prove-dead", opTogether: "load-as-before", opFill: "precharge-inverter",
}

// ways to say an operation, tried in this order on each part of a line.
var opWords = []struct {
	op operation
	re *pattern.Pattern
}{
	{opUncover, pattern.Of(`\buncover|\bcover off|\btake the (cover|blanket|tarp) off`)},
	{opCover, pattern.Of(`\b(cover|blanket|tarp|darken|shade)\b.*\b(panels?|array|modules?|solar)\b|\bpanels? covered\b`)},
	{opTogether, pattern.Of(`\bput (it|all|everything) (back )?(together|on)\b|\b(power|switch) (it |everything |all )?(back )?(up|on again)\b|^everything on$|^all on$`)},
	{opIsolate, pattern.Of(`^isolated?$|^isolate (it|all|everything|the rig|the part)\b|\bprove(d)? (it )?dead\b|\bmake it dead\b|^(all|everything) (is )?(dead|off)$|\b(switch|turn|shut) (it|everything) (all )?off\b|\b(switch|turn|shut) off (everything|it all|all)$`)},
	{opMeter, pattern.Of(`\b(take|use|fetch|change to|switch to|with) (the |an?)?(other|another|second|spare) meter\b|\b(change|swap|other|another) (the )?meters?\b|\bnew battery\b.*\bmeter\b`)},
	{opApart, pattern.Of(`\b(part|separate|take apart|pull apart)\b.*\bbatteries\b|\bbatteries\b.*\bapart\b`)},
	{opReset, pattern.Of(`^reset( it)?$|\breset\b.*\bbreakers?\b|\bbreakers?\b.*\breset\b`)},
	{opRestart, pattern.Of(`\b(restart|reboot|reset|power cycle)\b.*\bcontroller\b`)},
	{opFill, pattern.Of(`\bpre-?charge\b|\bfill\b.*\bcapacitors?\b`)},
	{opPVOff, pattern.Of(`\b(solar|pv|array|panel)s? ?(switch|isolator|breaker|disconnect)?\b.*\b(off|open)\b|\b(open|switch off|turn off)\b.*\b(solar|pv)\b`)},
	{opPVOn, pattern.Of(`\b(solar|pv|array|panel)s? ?(switch|isolator|breaker|disconnect)?\b.*\b(on|closed?)\b|\b(close|switch on|turn on)\b.*\b(solar|pv)\b`)},
	{opMainOff, pattern.Of(`\b(disconnect|take off) (the )?battery$|\b(battery|main)\b.*\b(off|open)\b|\b(open|switch off|turn off)\b.*\b(main|battery|isolator)\b|^isolator (off|open)$`)},
	{opMainOn, pattern.Of(`\b(battery|main)\b.*\b(on|closed?)\b|\b(close|switch on|turn on)\b.*\b(main|battery|isolator)\b|^isolator (on|closed)$`)},
	{opInvOff, pattern.Of(`\binverter\b.*\boff\b|\boff\b.*\binverter\b`)},
	{opInvOn, pattern.Of(`\binverter\b.*\bon\b|\bon\b.*\binverter\b`)},
	{opChargeOff, pattern.Of(`\bchargers?\b.*\boff\b|\boff\b.*\bchargers?\b|^no chargers?$`)},
	{opLoadsOff, pattern.Of(`\bloads?\b.*\boff\b|\boff\b.*\bloads?\b|^(no|without) loads?$`)},
	{opLoadsOn, pattern.Of(`\bloads?\b.*\bon\b|\bon\b.*\bloads?\b|^(under|with|a|steady|a steady) load$|^load$`)},
	{opRest, pattern.Of(`\brest(ed|ing)?\b`)},
	{opTop, pattern.Of(`\btop of (the |a |its )?charge\b|\babsorption\b|\bfully charged\b`)},
	{opSun, pattern.Of(`\bsun(shine|light)?\b`)},
}

// asksFor is a part of a line that wants something read or looked at, however much
// it sounds like an operation.
var asksFor = pattern.Of(`\b(volts?|voltage|millivolts?|mv|amps?|current|ohms?|resistance|temperature|degrees|percent\w*|look|check|inspect|feel|touch|ask|read|measure|clamp|how|is|what|where|which|when|does|drop|see)\b`)

// parts of a line, each an operation or a part of a reading's name.
var parted = pattern.Of(`(?i)\s*(?:[,;]|\bwith\b|\bthen\b|\band\b|\bwhile\b|\bin (?:full |strong |steady )?(?:the )?(?:sun)\b|\bunder\b)\s*`)

// operations takes the operations out of a line and gives what is left of it.
func (d *Drill) operations(text string) ([]operation, string) {
	var ops []operation
	low := strings.ToLower(text)
	if inSun.MatchString(low) {
		ops = append(ops, opSun)
	}
	if underLoad.MatchString(low) {
		ops = append(ops, opLoadsOn)
		low = underLoad.ReplaceAllString(low, ",")
	}
	var rest []string
	way := "" // "on" or "off" of the part before, which "and then the battery" takes over
	for _, part := range parted.Split(low, -1) {
		part = strings.Trim(plain(part), " .")
		if part == "" {
			continue
		}
		op, ok := operationOf(d.loadsOf(part))
		if !ok && way != "" && !asksFor.MatchString(part) {
			op, ok = operationOf(d.loadsOf(part) + " " + way)
		}
		if !ok {
			rest = append(rest, part)
			continue
		}
		if m := onOff.FindString(part); m != "" {
			way = m
		}
		if !slices.Contains(ops, op) {
			ops = append(ops, op)
		}
	}
	if i := slices.Index(ops, opIsolate); i >= 0 && len(rest) > 0 && allOff.MatchString(low) {
		ops[i] = opLoadsOff // "battery volts with everything off"
	}
	return ops, strings.Join(rest, " ")
}

var (
	onOff  = pattern.Of(`\b(on|off)\b`)
	allOff = pattern.Of(`\b(everything|all) (is )?off\b`)
)

// loadsOf puts "loads" for the name of a load that is switched.
func (d *Drill) loadsOf(part string) string {
	if d.c.Sys == nil || !onOff.MatchString(part) {
		return part
	}
	for _, l := range d.c.Sys.Loads {
		name := strings.TrimPrefix(strings.ToLower(l.Name), "the ")
		if name != "" && regexp.MustCompile(`\b`+regexp.QuoteMeta(name)+`\b`).MatchString(part) {
			return strings.Replace(part, name, "loads", 1)
		}
	}
	return part
}

var (
	inSun     = pattern.Of(`\bin (full |strong |steady )?(the )?sun\b`)
	underLoad = pattern.Of(`\bunder (a |steady )*load\b`)
)

func operationOf(part string) (operation, bool) {
	if asksFor.MatchString(part) {
		return "", false
	}
	for _, w := range opWords {
		if w.re.MatchString(part) {
			return w.op, true
		}
	}
	return "", false
}

// operate does one thing to the rig, unless it is unsafe.
func (d *Drill) operate(o operation) (out []Block, stop bool) {
	if out, stop := d.stopOperation(o); stop {
		return out, true
	}
	d.stand.change(o)
	said := d.comes(o)
	d.placed()
	if a := opAction[o]; a != "" {
		d.rig.Do(a)
	}
	if o == opReset {
		d.resets++
	}
	if l, ok := d.rig.(liar); ok && o == opMeter {
		l.OtherMeter()
	}
	d.done(Act{Say: upper(string(o)), Minutes: minutesOf(o)})
	return []Block{say(said)}, false
}

// stander is a rig that can be left standing in states for what is read as it is.
type stander interface{ Stand(states []string) }

// placed leaves the rig as it stands now.
func (d *Drill) placed() {
	if r, ok := d.rig.(stander); ok {
		r.Stand(d.stand.states())
	}
}

// states of the knowledge in which the rig has been left.
func (s stand) states() []string {
	var out []string
	for _, x := range []struct {
		is bool
		id string
	}{
		{s.LoadsOn, "loads-on"}, {s.InvOff, "inv-off"}, {s.Rested, "rested"}, {s.Top, "absorption"},
		{s.PVOff || s.ChargersOff || s.Covered, "chargers-off"},
	} {
		if x.is {
			out = append(out, x.id)
		}
	}
	return out
}

// comes says what comes of an operation, where that is not always the same.
func (d *Drill) comes(o operation) string {
	switch o {
	case opSun, opUncover:
		if a := d.rig.Take("sun_now", ""); o == opSun && a.Known && a.Choice != "strong" {
			return "It gets no brighter than this today."
		}
	case opReset:
		if p := d.rig.Plant(); p != nil && !slices.ContainsFunc(d.c.Sys.Parts, func(x rig.Part) bool {
			q := p.Parts[x.ID]
			return q != nil && q.Kind == rig.Breaker && (q.Blown || q.Open)
		}) {
			return "No breaker has tripped here."
		}
	}
	return opSaid[o]
}

// minutesOf is what an operation costs.
func minutesOf(o operation) float64 {
	if m, ok := opMinutes[o]; ok {
		return m
	}
	return 1
}

// bringMinutes is what it costs to bring the rig into a state.
func bringMinutes(state string) float64 {
	ops := bringing[state]
	if len(ops) == 0 || state == "sun" || state == "inv-on" || state == "charging" {
		return 0 // it stands so as found
	}
	return minutesOf(ops[len(ops)-1])
}

// change is what an operation does to the stand.
func (s *stand) change(o operation) {
	switch o {
	case opSun, opUncover:
		s.Covered = false
	case opCover:
		s.Covered = true
	case opLoadsOn:
		s.LoadsOn, s.Rested, s.Top, s.Dead = true, false, false, false
	case opLoadsOff:
		s.LoadsOn = false
	case opPVOff:
		s.PVOff, s.Top = true, false
	case opPVOn:
		s.PVOff, s.Dead, s.ChargersOff, s.Rested = false, false, false, false
	case opMainOff:
		s.MainOff = true
	case opMainOn:
		s.MainOff, s.Dead = false, false
	case opInvOff:
		s.InvOff = true
	case opInvOn:
		s.InvOff, s.Rested = false, false
	case opChargeOff:
		s.ChargersOff, s.PVOff, s.Top = true, true, false
	case opIsolate:
		*s = stand{Apart: s.Apart, Covered: s.Covered, InvOff: true, PVOff: true, MainOff: true, ChargersOff: true, Dead: true}
	case opTogether:
		*s = stand{}
	case opRest:
		s.Rested, s.LoadsOn, s.ChargersOff, s.PVOff, s.Top = true, false, true, true, false
	case opTop:
		*s = stand{Top: true, InvOff: s.InvOff}
	case opFill:
		s.Filled = true
	case opApart:
		s.Apart, s.LoadsOn, s.Top = true, false, false
	}
}

// words say how the rig stands where it is not as found.
func (s stand) words() string {
	var w []string
	for _, x := range []struct {
		is  bool
		say string
	}{
		{s.Dead, "isolated and proved dead"}, {s.LoadsOn, "a steady load on"}, {s.PVOff && !s.Dead, "the solar switch open"},
		{s.MainOff && !s.Dead, "the battery isolator open"}, {s.InvOff && !s.Dead, "the inverter off"},
		{s.Covered, "the panels covered"}, {s.Rested, "the battery rested"}, {s.Top, "at the top of its charge"}, {s.Apart, "the batteries apart"},
	} {
		if x.is {
			w = append(w, x.say)
		}
	}
	return strings.Join(w, ", ")
}

// states that the knowledge knows, as the rig stands now and how to bring each
// about.
func (s stand) holds(state string) bool {
	switch state {
	case "sun":
		return !s.Covered
	case "loads-on":
		return s.LoadsOn && !s.MainOff
	case "loads-off":
		return !s.LoadsOn
	case "pv-off":
		return s.PVOff
	case "isolated":
		return s.Dead
	case "inv-off":
		return s.InvOff
	case "chargers-off":
		return s.ChargersOff || s.PVOff
	case "rested":
		return s.Rested
	case "absorption":
		return s.Top
	case "idle":
		return !s.LoadsOn
	case "inv-on":
		return !s.InvOff
	case "charging":
		return !s.PVOff && !s.ChargersOff && !s.Covered && !s.Rested
	case "apart":
		return s.Apart
	case "all-off":
		return !s.LoadsOn && s.InvOff && s.PVOff
	case "dark":
		return s.Covered
	case "starting":
		return true // it is part of the reading itself
	}
	return slices.Contains(s.Also, state)
}

// other brings about a state that has no operation of its own.
func (d *Drill) other(id string) []Block {
	d.stand.Also = append(slices.Clone(d.stand.Also), id)
	d.placed()
	d.done(Act{Say: upper(d.g.States[id].Name), Minutes: 1})
	return []Block{say(upper(stopped(d.g.States[id].Name)))}
}

// otherNamed is the state without an operation that a line names, "" for none.
func (d *Drill) otherNamed(line string) string {
	line = plain(line)
	for id, s := range d.g.States {
		if _, ok := bringing[id]; ok {
			continue
		}
		if line == plain(s.Name) || line == plain(s.Say) || line == strings.ReplaceAll(id, "-", " ") {
			return id
		}
	}
	return ""
}

var bringing = map[string][]operation{
	"sun": {opUncover}, "loads-on": {opTogether, opLoadsOn}, "loads-off": {opLoadsOff}, "pv-off": {opPVOff}, "isolated": {opIsolate},
	"inv-off": {opInvOff}, "chargers-off": {opChargeOff}, "rested": {opRest}, "absorption": {opTop}, "idle": {opLoadsOff},
	"inv-on": {opInvOn}, "charging": {opUncover, opPVOn}, "apart": {opIsolate, opApart}, "starting": nil,
	"all-off": {opLoadsOff, opInvOff, opPVOff}, "dark": {opCover},
}

// bring makes the rig stand as a reading needs it, or says how it must stand.
func (d *Drill) bring(r *reading.Reading) ([]Block, bool) {
	var missing []string
	for _, id := range r.State {
		if !d.stand.holds(id) {
			missing = append(missing, id)
		}
	}
	// A reading of the working array means something only with its switch closed,
	// one of the whole rig only with the rig on.
	off := slices.Contains(r.State, "isolated") || slices.Contains(r.State, "apart")
	if d.stand.Dead && !off && r.Class == reading.Measurement {
		missing = append([]string{together}, missing...)
	} else if d.stand.PVOff && slices.Contains(r.State, "sun") && !slices.Contains(r.State, "pv-off") {
		missing = append([]string{pvOn}, missing...)
	}
	if len(missing) == 0 {
		return nil, true
	}
	if !d.level.Stands {
		var lines []string
		for _, id := range missing {
			lines = append(lines, d.stateSay(id))
		}
		return []Block{say("For that the rig must stand otherwise. " + strings.Join(lines, " "))}, false
	}
	var out []Block
	for _, id := range missing {
		ops, known := bringing[id]
		switch {
		case !known && d.g.States[id] != nil:
			out = append(out, d.other(id)...)
		case id == together:
			ops = []operation{opTogether}
		case id == pvOn:
			ops = []operation{opPVOn}
		case id == "loads-on" && !d.stand.MainOff:
			ops = []operation{opLoadsOn}
		case id == "charging" && !d.stand.Covered:
			ops = []operation{opPVOn}
		}
		for _, o := range ops {
			b, stop := d.operate(o)
			out = append(out, b...)
			if stop {
				return out, false
			}
		}
	}
	return out, true
}

// States that no reading names, and that one may need all the same.
const (
	together = "together"
	pvOn     = "pv-on"
)

func (d *Drill) stateSay(id string) string {
	switch id {
	case together:
		return "Put it together first: it is isolated."
	case pvOn:
		return "Close the solar switch."
	}
	if s := d.g.States[id]; s != nil {
		return s.Say
	}
	return fmt.Sprintf("It must be in the state %s.", id)
}
