package drill

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/pattern"
	"hotlug/engine/reading"
)

// sayings are ways to ask for a reading that its name and question don't hold.
var sayings = map[string][]string{
	"battery_now_v":      {"battery volts", "volts of the battery", "battery voltage", "volts across the posts"},
	"battery_rest_v":     {"rest volts", "resting battery volts", "battery volts at rest"},
	"battery_a":          {"battery amps", "amps at the battery", "battery current"},
	"ctl_bat_v":          {"controller battery volts", "volts at the controller", "battery volts at the controller"},
	"ctl_fuse_drop_v":    {"volts across the controller's fuse", "drop across the controller fuse"},
	"ctl_charge_a":       {"charge amps", "charging current", "amps out of the controller"},
	"pv_loaded_v":        {"pv volts", "solar volts at the controller", "panel volts at the controller"},
	"pv_open_v":          {"open pv volts", "open circuit volts of the array", "array volts", "panel volts open"},
	"pv_a":               {"pv amps", "solar amps", "amps from the panels", "panel current"},
	"pv_isolator_drop_v": {"volts across the solar switch", "drop across the pv isolator"},
	"joint_drop_v":       {"volts across the lug", "volts across the stud", "millivolts across the joint", "drop across the lug", "volts across the post clamp", "volts across the screw"},
	"holder_drop_v":      {"volts across the holder", "drop across the fuse holder", "millivolts across the holder"},
	"fuse_drop_v":        {"volts across the fuse itself", "drop across the fuse alone"},
	"switch_drop_v":      {"volts across the isolator", "volts across the breaker", "drop across the isolator"},
	"plug_drop_v":        {"volts across the socket", "drop across the plug"},
	"load_a":             {"amps through the holder", "amps through the lug", "amps in the wire", "clamp the wire", "current in the wire", "amps through it"},
	"joint_c":            {"temperature of the lug", "temperature of the holder", "how hot is it", "infrared on the lug"},
	"joint_look":         {"look at the lug", "open the joint and look", "look at the joint", "look at the screw"},
	"fuse_look":          {"look at the fuse", "look at the fuse holder", "take the fuse out and look"},
	"switches_seen":      {"look at the switches", "look at the breakers and fuses", "check the switches", "is everything on", "look round", "look around", "inspect"},
	"array_look":         {"look at the panels", "look at the array", "inspect the panels"},
	"sun_now":            {"how is the sun", "look at the sun", "check the shadow"},
	"controller_lit":     {"is the controller lit", "look at the controller's lights", "is the controller on"},
	"controller_look":    {"look at the controller", "look at the outside of the controller"},
	"controller_error":   {"controller error", "error on the controller", "what does the controller say", "error code"},
	"controller_stage":   {"charge stage", "stage of the controller"},
	"bms_flag":           {"battery app", "bms flag", "what does the battery's app say", "why did the bms switch off"},
	"danger_now":         {"any danger", "is there any danger", "is there danger", "any smoke", "any smell", "any smoke or smell", "is it safe", "ask about danger", "anything smoking"},
	"trouble_spot":       {"where is the heat", "what is hot", "ask where it melts", "which part is hot"},
	"cut_when":           {"when does it cut off", "ask when it cuts off"},
	"branch_ohm":         {"ohms of the branch", "resistance of the branch", "is the branch shorted"},
	"inv_input_ohm":      {"ohms of the inverter", "ohms across the inverter", "is the inverter shorted"},
	"meter_difference_v": {"compare the meters", "compare two meters", "a second meter beside it", "a second meter on the posts", "is my meter right", "does the meter lie", "try the meter on a known source"},
	"shunt_label":        {"look at the shunt", "print on the shunt"},
	"monitor_a":          {"amps on the monitor", "monitor amps"},
	"monitor_percent":    {"percentage", "state of charge shown"},
	"browned":            {"is the fuse holder burnt", "is the lug burnt or brown", "is it brown", "is it burnt", "does it smell burnt"},
	"fuse_rating_a":      {"fuse rating", "what fuse is in it", "amps on the fuse"},
	"wire_mm2":           {"wire size", "how thick is the wire", "gauge of the wire"},
	"battery_c":          {"battery temperature", "how warm is the battery", "feel the battery"},
}

// readingIndex finds readings by words.
func readingIndex(g *graph.Graph) *match.Index {
	var entries []match.Entry
	for _, id := range g.ReadingOrder {
		r := g.Readings[id]
		says := append([]string{strings.ReplaceAll(id, "_", " "), r.Ask}, sayings[id]...)
		entries = append(entries, match.Entry{ID: id, Label: r.Name, Says: says})
	}
	return match.New(entries)
}

// feels is a wish to lay a hand on something.
var feels = pattern.Of(`(?i)\b(feel|touch|hand on|finger)\b`)

// mostChoices is how many readings a list offers.
const mostChoices = 5

// measure takes the reading that the words ask for, or lists what they may mean.
func (d *Drill) measure(words string) []Block {
	if feels.MatchString(words) {
		if spots := d.spot(feels.ReplaceAllString(words, " "), ""); len(spots) > 0 {
			return d.choosePlace(d.g.Readings["joint_c"], spots, d.feel)
		}
	}
	asked := d.answerable(d.meant(words), words)
	switch {
	case len(asked) == 0:
		return []Block{say(noReading), hint("`help` shows examples, `places` lists what this rig has.")}
	case len(asked) == 1 && d.sure(asked[0], words):
		return d.at(asked[0], words)
	}
	if len(asked) == 1 {
		d.list = append(d.list, func() []Block { return d.at(asked[0], words) })
		return []Block{ask("Do you mean " + asked[0].Name + "?"), hint(typeYes)}
	}
	var labels []string
	for _, r := range asked {
		labels = append(labels, r.Name)
		d.list = append(d.list, func() []Block { return d.at(r, words) })
	}
	return []Block{ask(whichReading), where(match.Numbered(labels)...), hint(typeNumber)}
}

// sure says whether one reading is meant so clearly that it is taken at once.
func (d *Drill) sure(r *reading.Reading, words string) bool {
	if d.byName(words) != nil || len(d.ruled(words)) > 0 {
		return true
	}
	asked := fillers.ReplaceAllString(words, "")
	if d.byName(asked) != nil {
		return true
	}
	for _, h := range d.read.Find(asked) {
		if h.ID == r.ID {
			return h.Score >= surely
		}
	}
	return false
}

// meant lists the readings that the words may ask for: one if it is clear.
func (d *Drill) meant(words string) []*reading.Reading {
	if r := d.byName(words); r != nil {
		return []*reading.Reading{r}
	}
	if rs := d.ruled(words); len(rs) > 0 {
		return rs
	}
	asked := fillers.ReplaceAllString(words, "")
	if r := d.byName(asked); r != nil {
		return []*reading.Reading{r}
	}
	hits := d.read.Find(asked)
	// What nobody at this rig can answer is not what is meant by words that only
	// come near it.
	hits = slices.DeleteFunc(hits, func(h match.Hit) bool { return !d.known(d.g.Readings[h.ID], words) })
	if kept := slices.DeleteFunc(slices.Clone(hits), func(h match.Hit) bool { return !ofKind(d.g.Readings[h.ID], words) }); len(kept) > 0 {
		hits = kept
	}
	var out []*reading.Reading
	classes := map[string]bool{}
	for _, p := range d.spot(words, "") {
		classes[p.class] = true
	}
	for _, h := range hits {
		r := d.g.Readings[h.ID]
		if h.Score < hits[0].Score/1.35 || len(out) == mostChoices {
			break
		}
		// Words that name a place of one class mean no reading of another.
		if c := classesOf(r); c != "" && len(classes) == 1 && !slices.ContainsFunc(strings.Fields(c), func(x string) bool { return classes[x] }) {
			continue
		}
		if slices.ContainsFunc(out, func(o *reading.Reading) bool { return o.ID == r.Like }) {
			continue // worded after one that the words name sooner
		}
		out = append(out, r)
		if len(out) == 1 && hits[0].Score >= surely && (len(hits) == 1 || h.Score > clearly*hits[1].Score && h.ID == hits[0].ID) {
			break
		}
	}
	return out
}

// surely is how well words must fit a reading for it to be taken at once.
const surely = 0.6

// answerable gives for each reading the one of its kind that this rig can answer,
// each once, and of several leaves out those that it can't answer at all. What
// nobody can answer stays, so that the reason is told.
func (d *Drill) answerable(rs []*reading.Reading, words string) []*reading.Reading {
	var out, can []*reading.Reading
	for _, r := range rs {
		if q := d.twin(r); q != nil && (d.known(q, words) || !d.known(r, words)) {
			r = q
		}
		if slices.Contains(out, r) {
			continue
		}
		out = append(out, r)
		if d.known(r, words) {
			can = append(can, r)
		}
	}
	if len(out) > 1 && len(can) > 0 {
		return can
	}
	return out
}

// known says whether the rig answers a reading at one of the places that the words
// may mean.
func (d *Drill) known(r *reading.Reading, words string) bool {
	spots := []place{{}}
	if classes := classesOf(r); classes != "" {
		spots = d.spots(words, classes)
	}
	return slices.ContainsFunc(spots, func(p place) bool { return d.rig.Take(r.ID, p.id).Known })
}

// kindWords are words that say which kind of reading is wanted, and by which unit
// it is known; "" for what is looked at.
var kindWords = []struct {
	re   *pattern.Pattern
	unit string
}{
	{pattern.Of(`(?i)\b(ohms?|resistance)\b`), "Ω"},
	{pattern.Of(`(?i)\b(volts?|voltage|millivolts?|mv|drop|across)\b`), "V"},
	{pattern.Of(`(?i)\b(amps?|amperes?|current|clamp)\b`), "A"},
	{pattern.Of(`(?i)\b(temperature|degrees|infrared|hot|warm)\b`), "degC"},
	{pattern.Of(`(?i)^\s*(look|inspect|check|see)\b`), ""},
}

// ofKind says whether a reading is of the kind that the words want.
func ofKind(r *reading.Reading, words string) bool {
	if plain(r.Name) == plain(words) || slices.Contains(sayings[r.ID], plain(words)) {
		return true
	}
	if r.Class == reading.Fact && !printed.MatchString(words) {
		return false
	}
	for _, k := range kindWords {
		if k.re.MatchString(words) {
			if k.unit == "" {
				return r.Class == reading.Observation && r.Answer != reading.Number
			}
			return r.Answer == reading.Number && r.Kind.Unit.Symbol() == k.unit
		}
	}
	return r.Class != reading.Measurement // nobody asks for one without saying what is measured
}

// printed are words that ask for what stands on labels and papers.
var printed = pattern.Of(`(?i)\b(print\w*|label\w*|rat\w+|kind|type|size|thick|gauge|number|how many|how big|marked|fuse is in|limit|stands?|coldest|nominal|shunt|largest|what fuse)\b`)

// at finds the place of a reading and takes it there.
func (d *Drill) at(r *reading.Reading, words string) []Block {
	classes := classesOf(r)
	if classes == "" {
		return d.take(r, "")
	}
	spots := d.spot(words, classes)
	if len(spots) == 0 {
		spots = d.spots(words, classes)
		// Where no place is named, that of the complaint is meant.
		if at := d.rig.Focus(); slices.ContainsFunc(spots, func(p place) bool { return p.id == at }) && d.told(at) {
			return d.take(r, at)
		}
	}
	if len(spots) == 0 {
		return []Block{say(fmt.Sprintf("This rig has nothing where %s could be taken.", r.Name))}
	}
	return d.choosePlace(r, spots, d.take)
}

// told says whether the customer has named a place.
func (d *Drill) told(at string) bool {
	return strings.Contains(strings.ToLower(d.story()), strings.ToLower(d.placeName(at)))
}

// mostPlaces is how many places a list offers.
const mostPlaces = 14

// choosePlace goes on with one place, or lists them.
func (d *Drill) choosePlace(r *reading.Reading, spots []place, then func(*reading.Reading, string) []Block) []Block {
	if len(spots) == 1 {
		return then(r, spots[0].id)
	}
	if len(spots) > mostPlaces {
		return []Block{say(upper(r.Name) + "."), ask(wherePlace), hint(listPlaces)}
	}
	var names []string
	for _, p := range spots {
		names = append(names, p.name)
		d.list = append(d.list, func() []Block { return then(r, p.id) })
	}
	return []Block{say(upper(r.Name) + "."), ask(whichPlace), where(match.Numbered(names)...), hint(typeNumber)}
}

// take takes a reading, once the rig stands as it must and nothing forbids it.
func (d *Drill) take(r *reading.Reading, at string) []Block {
	if out, stop := d.stopReading(r, at); stop {
		return out
	}
	out, ready := d.bring(r)
	if !ready {
		return out
	}
	a := d.rig.Take(r.ID, at)
	if r.ID == d.g.DangerReading {
		d.danger = true
	}
	text := Words(d.g, r, a, d.style)
	name := d.named(r, at)
	value := "not known"
	if a.Known {
		value = Value(r, a, d.style)
	}
	d.done(Act{Reading: r.ID, Place: at, Answer: a, Say: name + ": " + value, Minutes: r.Minutes})
	if r.Answer == reading.YesNo && a.Known {
		return append(out, say(name+": "+a.Choice+"."))
	}
	return append(out, say(name+"."), say(text))
}

// named is a reading with its place: "Volts across the fuse holder, at the main
// fuse holder".
func (d *Drill) named(r *reading.Reading, at string) string {
	if at == "" {
		return upper(r.Name)
	}
	return upper(r.Name) + ", at " + d.placeName(at)
}

// feel lays the back of a hand near something that is not too hot for it. It tells
// no figure, so it counts as no reading.
func (d *Drill) feel(_ *reading.Reading, at string) []Block {
	a, name := d.rig.Take("joint_c", at), d.placeName(at)
	hot := a.Known && !d.stand.Dead
	if hot && a.True > tooHotC {
		return d.stop(Stop{Rule: hotMetal, What: "you laid a hand on " + name})
	}
	text := "It is no warmer than what is around it."
	switch air := d.rig.Take("ambient_c", at); {
	case !hot || !air.Known:
	case a.True > air.True+15:
		text = "It is clearly warmer than what is around it."
	case a.True > air.True+5:
		text = "It is a little warmer than what is around it."
	}
	d.done(Act{Place: at, Say: "Felt " + name + ": " + lower(text), Minutes: 1})
	return []Block{say("With the back of the hand, at " + name + "."), say(text)}
}

// tooHotC is metal that burns a hand which lies on it for a second, in °C.
const tooHotC = 60
