package drill

import (
	"slices"
	"strings"

	"hotlug/engine/pattern"
	"hotlug/engine/reading"
)

// rule says which readings are asked for by words of one kind about one thing. The
// index of words is for what no rule knows; a rule is for what people at a rig say
// all day, where a near miss would take another reading.
type rule struct {
	re   *pattern.Pattern
	not  *pattern.Pattern // words with which it is something else, nil for none
	want []string         // readings; several: the person is asked which
}

func says(re, not string, want ...string) rule {
	r := rule{re: pattern.Of(re), want: want}
	if not != "" {
		r.not = pattern.Of(not)
	}
	return r
}

// one folds words that mean the same at a rig.
var one = strings.NewReplacer(
	"voltages", "volts", "voltage", "volts", "millivolts", "volts", "terminals", "posts", "negative", "minus", "positive", "plus",
	"photovoltaic", "solar", "modules", "solar", "module", "solar", "panels", "solar", "panel", "solar", "array", "solar",
	"currents", "amps", "current", "amps", "amperes", "amps", "resistance", "ohms", "continuity", "ohms", "'s", "",
	"lugs", "lug", "studs", "stud", "joints", "joint", "screws", "screw", "splices", "splice", "connections", "connection", "batteries", "battery",
)

// folded is a line as rules read it.
func folded(words string) string {
	return one.Replace(" " + plain(words) + " ")
}

var (
	fillers   = pattern.Of(`(?i)^\s*(?:please |can you |could you |i |now |then |let me |to )*(?:check|measure|read|test|take|get|show|tell|give|find)(?: me| out)?\s+(?:for )?(?:the |a )?(?:reading of |readings of )?`)
	voltsWord = pattern.Of(`\b(volts?|mv|v|drop|lost|across)\b`)
	ampsWord  = pattern.Of(`\b(amps?|clamp|clamped|a)\b`)
	ohmsWord  = pattern.Of(`\b(ohms?)\b`)
	tempWord  = pattern.Of(`\b(temperature|degrees|infrared|how (hot|warm))\b`)
)

// The rules by the kind of reading, the first that fits.
var (
	acrossRules = []rule{
		says(`\bfuse\b.*\b(alone|itself|tabs?)\b|\b(alone|itself)\b.*\bfuse\b`, "", "fuse_drop_v"),
		says(`\bcontroller\b.*\bfuse\b|\bfuse\b.*\bcontroller\b`, `\bholder\b`, "ctl_fuse_drop_v"),
		says(`\b(solar|pv)\b.*\b(switch|isolator|breaker)\b`, "", "pv_isolator_drop_v"),
		says(`\b(isolator|switch|breaker)\b`, `\b(lug|stud|screw|open)\b`, "switch_drop_v"),
		says(`\b(fuse|holder)\b`, `\b(lug|stud|screw)\b`, "holder_drop_v"),
		says(`\b(plug|socket)\b`, "", "plug_drop_v"),
		says(`\bbarrel\b|\bstrands\b`, "", "lug_barrel_drop_v"),
		says(`\b(lug|stud|joint|screw|splice|connection|clamp on|post clamp|busbar|bar)\b`, `\b(solar|pv|lead)\b`, "joint_drop_v"),
		says(`\bcontroller\b.*\bminus\b|\bminus\b.*\bcontroller\b`, `\bscrews?\b`, "ctl_neg_leg_v"),
		says(`\bcontroller\b.*\bplus\b|\bplus\b.*\bcontroller\b`, `\bscrews?\b`, "ctl_pos_leg_v"),
		says(`\binverter\b.*\bplus\b|\bplus\b.*\binverter\b`, "", "pos_leg_drop_v"),
		says(`\bmain minus\b|\binverter\b.*\bminus\b|\bminus\b.*\binverter\b`, "", "neg_leg_drop_v"),
		says(`\bminus\b.*\b(side|leg|cable|lead|wire)\b`, `\bpost\b`, "ctl_neg_leg_v", "neg_leg_drop_v"),
		says(`\bplus\b.*\b(side|leg|cable|lead|wire)\b`, `\bpost\b`, "ctl_pos_leg_v", "pos_leg_drop_v"),
	}
	voltRules = []rule{
		says(`\binverter\b`, `\b(off|load|start\w*|lowest|loaded|gap|ac|ripple|charge\w*|post|label|leads?|switches)\b`, "inv_off_v", "inv_load_v", "inv_min_v"),
		says(`\b(monitor|display|shown|shows|app|charger|cells?|set|setting|meters?|inverter|gap|leads|lowest|highest|rated|label|ac|ripple|system|nominal)\b`, "" /* the index */),
		says(`\b(solar|pv)\b.*\b(switch|isolator|breaker)\b`, `\b(open|off|array side)\b`, "pv_isolator_drop_v"),
		says(`\b(solar|pv)\b.*\b(open|off|unloaded|circuit)\b|\bopen\b.*\b(solar|pv)\b|\bvoc\b`, "", "pv_open_v"),
		says(`\b(solar|pv)\b.*\b(load\w*|work\w*)\b|\bcontroller\b.*\b(solar|pv)\b|\b(solar|pv)\b.*\bcontroller\b`, "", "pv_loaded_v"),
		says(`\b(solar|pv)\b`, "", "pv_loaded_v", "pv_open_v"),
		says(`\bbattery\b.*\bcontroller\b|\bcontroller\b.*\bbattery\b|\bcontroller\b`, `\bbetween\b`, "ctl_bat_v"),
		says(`\brest(ed|ing)?\b`, "", "battery_rest_v"),
		says(`\blamp\b`, "", "battery_lamp_v"),
		says(`\bbattery\b|\bposts?\b|\bbank\b`, `\bbetween\b`, "battery_now_v"),
	}
	ampRules = []rule{
		says(`\b(monitor|display|shown|shows|app|set|setting|limit|rated|short|tail|end of|highest|lowest|most|least)\b`, ""),
		says(`\b(fuse|holder)\b.*\b(print\w*|rating|rated|label|size)\b|\bwhat fuse\b`, "", "fuse_rating_a"),
		says(`\b(solar|pv)\b`, "", "pv_a"),
		says(`\b(fuse|holder|lug|stud|joint|screw|splice|plug|wire|through)\b`, `\bbattery minus\b|\bcontroller wire\b`, "load_a"),
		says(`\b(going|go|goes|flow\w*)? ?into\b.*\bbattery\b|\bcharg\w+\b|\bcontroller\b`, `\bminus\b`, "ctl_charge_a", "battery_a"),
		says(`\bbattery\b`, "", "battery_a"),
	}
	ohmRules = []rule{
		says(`\binverter\b`, "", "inv_input_ohm"),
		says(`\b(frame|chassis|body)\b`, "", "frame_ohm"),
		says(`\b(fuse|branch|circuit|holder|load|wire)\b`, "", "branch_ohm"),
	}
	tempRules = []rule{
		says(`\bapp\b|\bshow(s|n)?\b|\bcell\b`, ""),
		says(`\b(air|ambient|room|outside)\b`, "", "ambient_c"),
		says(`\bbattery\b`, `\b(lug|stud|post|isolator|fuse)\b`, "battery_c"),
		says(`\b(twin|beside|nearest|next)\b`, "", "twin_c"),
		says(`\b(fuse|holder|lug|stud|joint|screw|splice|plug|isolator|switch|breaker|socket|it|part)\b`, "", "joint_c"),
	}
	otherRules = []rule{
		says(`\bon fire\b|\b(any|is there|see|anything) (fire|smok\w*|flames?|danger\w*|sparks?|sparking|burning)\b|\bis it (safe|dangerous)\b|\bdanger\?? *$`, `\bwhat is\b`, "danger_now"),
		says(`\bsmells?\b`, `\bburnt?\b`, "danger_what", "danger_now"),
		says(`\b(where|what|which)\b.*\b(hot|heat|heats|warm|melt\w*|burn\w*|brown\w*)\b|\banything (hot|warm|melted|brown|burnt)\b`, `\bbattery\b`, "trouble_spot"),
		says(`\b(sun|sunny|sunshine|weather|shadow|shade|bright|cloudy)\b`, `\bsolar\b`, "sun_now"),
		says(`\b(polarity|swapped|reversed?)\b.*\b(solar|leads?|pv)\b|\b(solar|leads?|pv)\b.*\b(polarity|swapped|reversed?)\b`, "", "lead_polarity_v", "reverse_sign"),
		says(`\b(are|is)\b.*\b(breakers?|isolators?|switch|switches|fuses|everything)\b.*\b(on|off|closed|open|shut|in|ok|tripped)\b|\b(check|look at|inspect)\b.*\b(fuses|breakers|switches|isolators)\b|\bwhat is (open|off)\b|\blook (round|around)\b`, `\binverter\b|\bholder\b`, "switches_seen"),
		says(`\b(fuse|holder)\b.*\b(brown\w*|burnt|melted|cooked)\b|\b(brown\w*|burnt|melted|cooked)\b.*\b(fuse|holder)\b`, "", "browned"),
		says(`\b(is|was|has)\b.*\bcontroller\b.*\bfuse\b.*\b(blown|good|ok|whole|gone|open|intact)\b|\b(test|check)\b.*\bcontroller\b.*\bfuse\b`, "", "ctl_fuse_drop_v", "fuse_look"),
		says(`\bfuse\b.*\b(blown|good|ok|whole|gone|open|intact)\b|\b(test|check)\b.*\bfuse\b`, "", "holder_drop_v", "fuse_look"),
		says(`\bwhat fuse\b|\bfuse\b.*\b(rating|rated|printed|size)\b|\b(rating|print)\b.*\bfuse\b`, "", "fuse_rating_a"),
		says(`\b(look|inspect|see|check)\b.*\b(isolator|breaker|switch)\b`, `\b(lug|stud|round|around|fuse|holder)\b`, "browned", "switches_seen"),
		says(`\b(look|inspect|see|check|open|pull|take out|remove|take)\b.*\b(fuse|holder)\b|^ *(fuse|holder)s? *$`, "", "fuse_look"),
		says(`\b(wiggle|wriggle|move|nudge|tug|shake|pull on)\b.*\b(wires?|leads?|cables?|lugs?|joint)\b`, "", "drop_jumps"),
		says(`\bsigns?\b.*\bswapped\b`, "", "reverse_sign"),
		says(`\b(look|inspect|see|check|examine)\b.*\b(lug|stud|joint|screw|splice|connection|terminal|plug)\b`, `\bcontroller\b`, "joint_look"),
		says(`\bcontroller\b.*\b(lit|dark|alive|on|powered|lamp|light|lights)\b`, `\b(sun|fuse|lead|screws?|reset|restart)\b`, "controller_lit"),
		says(`\bcontroller\b.*\b(error|fault|alarm|code|complain\w*)\b|\b(error|alarm)\b.*\b(controller|code)\b`, "", "controller_error"),
		says(`\b(charge|controller)\b.*\bstage\b|\bstage\b.*\b(charge|controller)\b`, "", "controller_stage"),
		says(`\bcontroller\b.*\b(display|screen|shows?|says?)\b|\b(display|screen)\b.*\bcontroller\b`, `\b(volts|temperature|stage|pv|solar)\b`, "controller_lit", "controller_stage", "controller_error"),
		says(`\b(look|inspect|check|see)\b.*\bcontroller\b`, `\b(splice|joints?|fuse|wire|lead|stage|error)\b`, "controller_look"),
		says(`\b(look|inspect|check|see)\b.*\bsolar\b`, `\b(switch|isolator|plug|breaker)\b`, "array_look"),
		says(`\bmonitor\b.*\b(say|says|show|shows|display|read|reads)\b|\b(what|read|check|look)\b.*\bmonitor\b`, `\b(amps|volts|percent\w*|moves?|set|shunt|capacity|cable)\b`, "monitor_percent", "monitor_a"),
		says(`\b(state of charge|soc|percent|percentage)\b`, `\b(set|efficiency|tail|misbehav\w*|pattern|how|works?|source|jumps?)\b`, "monitor_percent"),
		says(`\b(kind|type|sort|chemistry|what|which)\b.*\bbattery\b|\bis it (lithium|agm|gel|lead)\b`, `\b(volts|app|amps|set|was|percent\w*|doing|profile|bank|off|why)\b`, "battery_chemistry"),
		says(`\b(how big|size|capacity|amp-?hours|ah)\b.*\bbattery\b|\bbattery\b.*\b(size|capacity|amp-?hours|ah)\b`, `\b(set|monitor|cut|until|off)\b`, "battery_ah"),
		says(`\bwhat shunt\b|\bshunt\b.*\b(print\w*|label|rating|size)\b|\blook\b.*\bshunt\b`, "", "shunt_label"),
		says(`\b(compare|second|two|other|another)\b.*\bmeters?\b|\bmy meter\b|\bmeter\b.*\b(lie|lies|right|ok|true|wrong|good)\b`, "", "meter_difference_v"),
		says(`^ *(battery|battery posts?) *$`, "", "battery_now_v", "battery_a"),
		says(`^ *controller *$`, "", "controller_lit", "ctl_bat_v", "controller_look"),
		says(`^ *(main )?fuse *$`, "", "holder_drop_v", "fuse_look"),
		says(`^ *(solar|pv) *$`, "", "array_look", "pv_a", "pv_loaded_v"),
		says(`^ *(monitor|display) *$`, "", "monitor_percent", "monitor_a"),
		says(`^ *(isolator|breaker|switch|switches|breakers|fuses) *$`, "", "switches_seen"),
		says(`\bask\b.*\b(customer|happened|started|changed|doing|before)\b|\bwhat happened\b|\bwhat changed\b|\bdid (anything|something) (change|happen)\b|\bany(thing|body) (changed|worked|touched)\b`, `\bcut\b`, "last_change", "joined_what", "spark_kind"),
	}
)

// ruled gives the readings that a rule hears in a line; none where no rule knows
// better than the index of words.
func (d *Drill) ruled(words string) []*reading.Reading {
	if rs := d.byRule(words); len(rs) > 0 {
		return rs
	}
	return d.byRule(fillers.ReplaceAllString(words, ""))
}

func (d *Drill) byRule(words string) []*reading.Reading {
	line := folded(words)
	var by [][]rule
	switch {
	case ohmsWord.MatchString(line):
		by = [][]rule{ohmRules}
	case voltsWord.MatchString(line):
		if acrossWord.MatchString(line) {
			by = append(by, acrossRules)
		}
		by = append(by, voltRules)
	case ampsWord.MatchString(line):
		by = [][]rule{ampRules}
	case tempWord.MatchString(line):
		by = [][]rule{tempRules}
	default:
		by = [][]rule{otherRules}
	}
	for _, rules := range by {
		for _, r := range rules {
			if !r.re.MatchString(line) || r.not != nil && r.not.MatchString(line) {
				continue
			}
			var out []*reading.Reading
			for _, id := range r.want {
				if x := d.g.Readings[id]; x != nil {
					out = append(out, x)
				}
			}
			return out
		}
	}
	return nil
}

var acrossWord = pattern.Of(`\b(across|drop|over|lost|mv|from .* to|between|along)\b`)

// byName is the reading that a line names word for word, or by its id.
func (d *Drill) byName(words string) *reading.Reading {
	if r := d.g.Readings[strings.ReplaceAll(plain(words), " ", "_")]; r != nil {
		return r
	}
	for _, id := range d.g.ReadingOrder {
		if r := d.g.Readings[id]; plain(r.Name) == plain(words) || slices.Contains(sayings[id], plain(words)) {
			return r
		}
	}
	return nil
}
