package drill

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/pattern"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
)

var callWords = pattern.Of(`(?i)^\s*(?:(?:i )?call(?:\s*[:=]\s*|\s+(?:it\s+)?)|(?:(?:i (?:think|believe|say|guess|bet)(?: that)?|my diagnosis|diagnosis|the (?:cause|fault|trouble|problem) is(?: that)?|it is|it's|it must be|must be|it was)\b\s*[:=]?\s*)(?:it is |it's )?)(.+)$`)

// cutCall cuts the cause out of "call: worn fuse holder".
func cutCall(text string) (string, bool) {
	m := callWords.FindStringSubmatch(text)
	if m == nil {
		return "", false
	}
	return strings.TrimSpace(m[1]), true
}

// causes are all findings as things to be named.
func causes(g *graph.Graph, faults []*simrig.Fault) []match.Entry {
	var out []match.Entry
	for _, id := range g.FindingOrder {
		f := g.Findings[id]
		says := slices.Clone(f.Says)
		for _, s := range f.Shows {
			says = append(says, strings.ReplaceAll(s, "-", " "))
			if k := faultByID(faults, s); k != nil {
				says = append(says, k.Name)
			}
		}
		out = append(out, match.Entry{ID: id, Label: f.Cause, Says: append(says, strings.ReplaceAll(id, "-", " "))})
	}
	return out
}

// mostCauses is how many causes are listed where the words name only a thing.
const mostCauses = 9

// things are what causes are about. Words that name one mean no cause of another.
var things = pattern.Of(`(?i)\b(fuse|holder|plug|isolator|breaker|switch|controller|battery|bank|panels?|array|monitor|shunt|meter|lug|wire|cable|screw|splice|inverter|bms|cell|display|stud|fridge|pump|light)s?\b`)

// about are the causes that speak of all things that the words name, all causes if
// there is none.
func about(all []match.Entry, words string) []match.Entry {
	named := things.FindAllStringSubmatch(strings.ToLower(words), -1)
	out := slices.DeleteFunc(slices.Clone(all), func(e match.Entry) bool {
		text := strings.ToLower(e.Label + " " + strings.Join(e.Says, " "))
		return slices.ContainsFunc(named, func(n []string) bool { return !strings.Contains(text, strings.TrimSuffix(n[1], "s")) })
	})
	if len(out) == 0 {
		return all
	}
	return out
}

// speaking are the causes in whose words one of these stands, whole or as its
// beginning.
func speaking(all []match.Entry, words string) []match.Entry {
	var out []match.Entry
	for _, e := range all {
		text := " " + strings.ToLower(e.Label+" "+strings.Join(e.Says, " "))
		if slices.ContainsFunc(strings.Fields(plain(words)), func(w string) bool { return len(w) > 3 && strings.Contains(text, " "+w) }) {
			out = append(out, e)
		}
	}
	return out
}

// call notes the cause that the words name, or lists what they may mean.
func (d *Drill) call(words string) []Block {
	if f := d.g.Findings[strings.ReplaceAll(plain(words), " ", "-")]; f != nil {
		return d.callIt(f)
	}
	entries := about(causes(d.g, d.c.Faults), words)
	hits := match.New(entries).Find(words)
	if len(hits) == 0 {
		if entries = speaking(entries, words); len(entries) <= mostCauses {
			for _, e := range entries {
				hits = append(hits, match.Hit{ID: e.ID, Label: e.Label})
			}
		}
	}
	switch {
	case len(hits) == 0 && len(entries) > 0:
		return []Block{say(manyCauses)}
	case len(hits) == 0:
		return []Block{say(noCause)}
	case hits[0].Score >= surely && (len(hits) == 1 || hits[0].Score > clearly*hits[1].Score):
		return d.callIt(d.g.Findings[hits[0].ID])
	}
	var labels []string
	for _, h := range hits[:min(mostCauses, len(hits))] {
		f := d.g.Findings[h.ID]
		labels = append(labels, f.Cause)
		d.list = append(d.list, func() []Block { return d.callIt(f) })
	}
	return []Block{ask(whichCause), where(match.Numbered(labels)...), hint(typeNumber)}
}

// callIt takes a call. Where there may be two faults a second call stands beside
// the first; else it takes its place.
func (d *Drill) callIt(f *graph.Finding) []Block {
	if !slices.Contains(d.calls, f) {
		if len(d.calls) >= d.level.Faults {
			d.calls = d.calls[1:]
		}
		d.calls = append(d.calls, f)
	}
	after := afterCall
	if d.level.Faults > len(d.calls) {
		after = moreCalls
	}
	return []Block{say(fmt.Sprintf(called, lower(f.Cause))), hint(after)}
}

// open lists the hidden faults that are still there.
func (d *Drill) open() []simrig.Set {
	return slices.DeleteFunc(slices.Clone(d.c.Sets), func(s simrig.Set) bool { return d.mended[s.Fault] })
}

// repairMinutes is what a repair before the call costs, with isolating, the part and putting it
// together.
const repairMinutes = 30

// fix has what was called mended, and proves it.
func (d *Drill) fix() []Block {
	if len(d.calls) == 0 {
		return []Block{say(callFirst)}
	}
	var out []Block
	for _, f := range d.calls {
		if f.Stop != graph.NoStop {
			return append(out, d.end()...)
		}
		hit := false
		for _, s := range d.open() {
			if covers(f, s.Fault) {
				hit = true
				d.repair(s.Fault)
			}
		}
		d.done(Act{Say: "Mended: " + lower(f.Cause)}) // what counts is the way to the cause
		if !hit && !slices.ContainsFunc(d.c.Sets, func(s simrig.Set) bool { return covers(f, s.Fault) }) && !f.NoFault {
			d.vain++
		}
		out = append(out, say("It is mended as the knowledge says: "+lower(f.Cause)))
		out = append(out, d.prove(f)...)
	}
	d.stand = stand{}
	d.placed()
	if len(d.open()) == 0 || d.onlySound() {
		return append(append(out, gap()), d.end()...)
	}
	out = append(out, d.complaint()...)
	if d.level.Faults == 1 {
		return append(out, hint(notIt))
	}
	return append(out, hint(moreCalls))
}

// onlySound says that nothing was broken in the first place.
func (d *Drill) onlySound() bool {
	return !slices.ContainsFunc(d.c.Sets, func(s simrig.Set) bool {
		f := findingOf(d.g, s.Fault)
		return f == nil || !f.NoFault
	})
}

func (d *Drill) repair(fault string) {
	d.rig.Repair(fault)
	d.mended[fault] = true
}

// prove takes the readings that prove a fix.
func (d *Drill) prove(f *graph.Finding) []Block {
	if f.Prove == nil {
		return nil
	}
	var lines []string
	at := d.siteFor(f)
	for _, id := range f.Prove.Ask {
		r := d.g.Readings[id]
		if r.Class == reading.Fact {
			continue
		}
		where := ""
		if classesOf(r) != "" {
			where = at
		}
		a := d.rig.Take(id, where)
		value := "not known"
		if a.Known {
			value = Value(r, a, d.style)
		}
		lines = append(lines, d.named(r, where)+": "+value)
	}
	return []Block{say("The proof:"), where(lines...)}
}

// siteFor is where a called finding is proved: where it was, if it is one of those
// hidden, else the place of the latest reading that had one.
func (d *Drill) siteFor(f *graph.Finding) string {
	for _, s := range d.c.Sets {
		if covers(f, s.Fault) && slices.ContainsFunc(d.places, func(p place) bool { return p.id == s.At }) {
			return s.At
		}
	}
	for i := len(d.acts) - 1; i >= 0; i-- {
		if d.acts[i].Place != "" {
			return d.acts[i].Place
		}
	}
	return d.rig.Focus()
}

// complaint says whether what the customer rang for is still so, and if not what
// they complain of instead.
func (d *Drill) complaint() []Block {
	before := d.story()
	next := nextComplaint(d.g, d.rig, d.usual)
	if slices.Contains(d.rig.Symptoms(), d.symptom) {
		next = d.symptom
	}
	if next != "" {
		d.rig.Complain(next)
		d.symptom = next
	}
	switch now := d.story(); {
	case now == before:
		return []Block{say("The customer's trouble is still there.")}
	case next == "":
		return []Block{say("That trouble is gone, and something else is still wrong.")}
	default:
		told := strings.TrimSpace(strings.TrimPrefix(now, d.c.Sys.Story))
		return []Block{say("That trouble is gone, and something else is still wrong."), gap(), say("The customer rings again:"), where(told)}
	}
}

var repairWords = pattern.Of(`(?i)^\s*(tighten|re-?torque|torque|clean|replace|swap|renew|repair|mend|re-?crimp|crimp|re-?make|reconnect|re-?connect|plug in|fit|set|adjust|change the|charge|recharge|wash|dry)\b`)

// settingWords are repairs that touch no live metal.
var settingWords = pattern.Of(`(?i)\b(set|setting|settings|adjust|wash|charge|recharge|monitor|display|panels?|limit|percent)\b`)

// repairs does a repair that the line names: the one that mends a fault that is
// there, or one in vain. It says so only when it is a repair.
func (d *Drill) repairs(text string) ([]Block, bool) {
	if !repairWords.MatchString(text) || d.byName(text) != nil {
		return nil, false
	}
	if out, stop := d.stopDanger("a repair"); stop {
		return out, true
	}
	if !d.stand.Dead && !settingWords.MatchString(text) {
		return d.stop(Stop{workLive, "work on live metal"}), true
	}
	d.done(Act{Say: "Repair: " + text, Minutes: repairMinutes})
	for _, s := range d.open() {
		if d.mends(text, s) {
			d.repair(s.Fault)
			return []Block{say("It is done. Put it together and read again what showed it.")}, true
		}
	}
	d.vain++
	return []Block{say(nothingMends)}, true
}

// mends says whether the words name the repair of a fault, at its place if
// they name one.
func (d *Drill) mends(text string, s simrig.Set) bool {
	f := faultByID(d.c.Faults, s.Fault)
	if f == nil {
		return false
	}
	verbs := []string{f.Repair, f.Name, strings.ReplaceAll(f.ID, "-", " ")}
	entries := []match.Entry{{ID: f.ID, Label: f.Name, Says: verbs}}
	for _, o := range d.c.Faults {
		if o.ID != f.ID && o.Repair != f.Repair {
			entries = append(entries, match.Entry{ID: o.ID, Label: o.Name, Says: []string{o.Repair, strings.ReplaceAll(o.ID, "-", " ")}})
		}
	}
	hits := match.New(entries).Find(text)
	near := slices.ContainsFunc(hits, func(h match.Hit) bool { return h.ID == f.ID && h.Score > hits[0].Score*0.6 })
	if !near {
		return false
	}
	if spots := d.spot(text, ""); s.At != "" && len(spots) > 0 && slices.ContainsFunc(d.places, func(p place) bool { return p.id == s.At }) {
		return slices.ContainsFunc(spots, func(p place) bool { return p.id == s.At })
	}
	return true
}
