package match

import (
	"strings"
	"sync"
)

// groups are everyday words of one meaning. A word stands in one group only;
// the first word names the group.
var groups = []string{
	"electric electricity electrics electrical electrically leccy juice power powered",
	"current amp amps amperage ampere amperes flow flows flowing",
	"volt volts voltage pressure",
	"watt watts wattage yield output",
	"battery batteries bank accumulator leisure",
	"lithium lifepo lfp",
	"cell cells",
	"fuse fuses fuseholder",
	"breaker breakers mcb trip tripped tripping",
	"holder holders carrier clip clips",
	"lug lugs crimp crimps crimped ring rings eyelet",
	"terminal terminals post posts stud studs pole clamp",
	"joint joints connection connections splice splices junction",
	"plug plugs connector connectors socket sockets pin pins",
	"bolt bolts nut nuts screw screws",
	"busbar busbars bar bars",
	"cable cables wire wires wiring lead leads cord conductor conductors flex loom",
	"hot heat heats heating heated warm warms warmer roasting toasty overheat overheats overheating temperature sizzling scalding",
	"melt melts melted melting molten soft softened sag sags sagging droop drooping deformed warped drip dripped dripping gooey",
	"burn burns burnt burned burning char charred scorch scorched scorching singe singed singes brown browned black blackened toasted fried cooked cooking roasted discoloured",
	"smoke smokes smoked smoking smoky fume fumes smoulder smouldering",
	"smell smells smelling smelt stink stinks stinky whiff odour odor pong reek acrid",
	"fire flame flames blaze",
	"spark sparks sparked sparking sparky arc arcs arced arcing flash flashes flashed snap snaps snapped crack cracks crackle crackles crackling zap zaps zapped fizz fizzes fizzing bang pop pops popped",
	"connect connects connected connecting hook hooks hooked attach attached attaching join joined joining couple coupled touch touched touching rewire rewired reconnect reconnected reconnecting fit fitted fitting",
	"disconnect disconnected disconnecting unplug unplugged lift lifted detach detached remove removed removing",
	"solar pv panel panels array module modules sun suns sunshine sunny sunlight",
	"roof",
	"charge charges charged charging recharge recharging fill fills filling refill top replenish harvest",
	"charger chargers",
	"controller controllers regulator regulators mppt pwm",
	"percent percentage soc",
	"monitor monitors gauge gauges meter meters shunt readout display displays screen app dial indicator multimeter tester testers counter",
	"reading readings reads read figure figures number numbers value",
	"wrong wrongly lie lies lying nonsense gibberish inaccurate incorrect false bogus rubbish daft silly crazy mad nuts haywire unreliable untrue erratic random liar garbage",
	"drift drifts drifting creep creeps jump jumps jumping jumped leap leaps leaping hop hops wander wanders stick sticks stuck frozen",
	"full fully hundred complete completely topped",
	"finish finishes finished reach reaches reached sync syncs synced synchronise reset resets settle",
	"empty flat drained exhausted depleted discharged",
	"dead die dies died dying lifeless blank dark blackout",
	"low lower lowest weak weaker weakly poor poorly little trickle slow slowly small",
	"high higher highest healthy fine plenty",
	"disagree disagrees differ differs different difference mismatch contradict contradicts conflict conflicting match matches agree agrees believe trust versus vs",
	"inverter inverters",
	"light lights lamp lamps led leds bulb bulbs",
	"dim dims dimmer dull dimly",
	"flicker flickers flickering pulse shimmer blink blinks blinking",
	"fridge refrigerator coolbox freezer compressor",
	"alternator engine motor driving drive",
	"shore hookup mains grid",
	"generator genny genset",
	"cold frost frosty freeze freezing winter ice icy chilly",
	"stop stops stopped stopping quit quits cut cuts shut shuts halt halts vanish vanishes disappears",
	"zero nil no not none never nothing without isnt doesnt dont wont didnt wasnt arent hasnt havent cannot couldnt wouldnt aint nowt zilch zip",
	"morning dawn overnight night nights sunrise breakfast",
	"store stored storage parked laid drive",
	"noise noisy beep beeps beeping buzz buzzes buzzing hum hums humming alarm chirp chirping whine",
	"swell swells swelling swollen bulge bulges bulged bulging puffed",
	"water wet damp flooded",
	"hiss hisses hissing vent venting",
	"load loads appliance appliances",
	"loose loosely wobbly slack rattles",
	"corroded corrosion green rust rusty oxidised furred",
	"plastic casing housing shell",
	"frame chassis metal bodywork",
	"shock tingle tingles tingling prickle",
}

// kin are groups that speak of neighbouring things: each is the name of a group
// followed by the names of those that count half for it.
var kin = []string{
	"hot melt burn fire",
	"melt burn smoke",
	"burn smoke fire smell",
	"fuse holder breaker",
	"lug terminal joint bolt plug busbar",
	"terminal joint bolt plug",
	"joint plug cable",
	"battery lithium cell",
	"solar roof controller",
	"charge charger full",
	"monitor percent reading",
	"percent reading",
	"wrong drift disagree",
	"empty dead low",
	"dead stop zero",
	"current watt charge",
	"dim flicker",
	"connect disconnect",
	"light electric",
}

// together are words that mean something else in company.
var together = map[string]string{
	"per cent":          "percent",
	"state of charge":   "percent",
	"charge state":      "percent",
	"state charge":      "percent",
	"fuel gauge":        "percent monitor",
	"hooked up":         "connect",
	"hook up":           "connect",
	"hooking up":        "connect",
	"wired up":          "connect",
	"wire up":           "connect",
	"wiring up":         "connect",
	"plugged in":        "connect",
	"plug in":           "connect",
	"plugging in":       "connect",
	"put on":            "connect",
	"goes on":           "connect",
	"bolt on":           "connect",
	"bolted on":         "connect",
	"clip on":           "connect",
	"clipped on":        "connect",
	"clamp on":          "connect",
	"take off":          "disconnect",
	"took off":          "disconnect",
	"taking off":        "disconnect",
	"top up":            "charge",
	"topping up":        "charge",
	"fill up":           "charge",
	"going in":          "charge",
	"goes in":           "charge",
	"coming in":         "charge",
	"comes in":          "charge",
	"filled up":         "charge",
	"cut out":           "stop",
	"cuts out":          "stop",
	"cutting out":       "stop",
	"shuts down":        "stop",
	"shut down":         "stop",
	"make sense":        "disagree",
	"makes no sense":    "wrong",
	"dont add up":       "disagree",
	"doesnt add up":     "disagree",
	"do not add up":     "disagree",
	"all over place":    "wrong drift",
	"all over the":      "wrong drift",
	"made up":           "wrong",
	"way off":           "wrong",
	"way out":           "wrong",
	"not right":         "wrong",
	"isnt right":        "wrong",
	"cant be right":     "wrong",
	"cannot be right":   "wrong",
	"fuse box":          "fuse",
	"junction box":      "joint",
	"battery charger":   "charger",
	"charge controller": "controller",
	"lead acid":         "battery",
	"jump leads":        "cable connect",
	"gives up":          "stop",
	"go down":           "empty",
	"run flat":          "empty",
	"dead flat":         "empty",
}

// longest is how many words the longest key of together has.
const longest = 4

// lexicon is the table of words made ready: what group a stem belongs to, what
// groups are kin, and which plain words are known, for slips.
type lexicon struct {
	group map[string]string
	kin   map[string]map[string]bool
	pairs map[string][]word
	plain map[string]bool
}

var trade = sync.OnceValue(func() *lexicon { return makeLexicon(nil) })

func makeLexicon(more [][]string) *lexicon {
	l := &lexicon{group: map[string]string{}, kin: map[string]map[string]bool{}, pairs: map[string][]word{}, plain: map[string]bool{}}
	for _, g := range groups {
		l.add(strings.Fields(g))
	}
	for _, g := range more {
		l.add(g)
	}
	for _, k := range kin {
		f := strings.Fields(k)
		a := l.concept(stem(f[0]))
		for _, w := range f[1:] {
			l.link(a, l.concept(stem(w)))
		}
	}
	for k, v := range together {
		for _, w := range strings.Fields(v) {
			l.pairs[k] = append(l.pairs[k], word{w, stem(w)})
		}
	}
	return l
}

// add puts words into one group. A word that has a group draws the others into
// it, so a caller can add to the table by naming any of its words first.
func (l *lexicon) add(words []string) {
	name := ""
	for _, w := range words {
		for _, c := range cut(w) {
			l.plain[c.raw] = true
			if name == "" {
				name = l.concept(c.stem)
			}
			if _, ok := l.group[c.stem]; !ok {
				l.group[c.stem] = name
			}
		}
	}
}

func (l *lexicon) link(a, b string) {
	for _, p := range [][2]string{{a, b}, {b, a}} {
		if l.kin[p[0]] == nil {
			l.kin[p[0]] = map[string]bool{}
		}
		l.kin[p[0]][p[1]] = true
	}
}

// concept is the group of a stem, or the stem itself if it has none.
func (l *lexicon) concept(stem string) string {
	if g, ok := l.group[stem]; ok {
		return g
	}
	return stem
}

// joined replaces words that mean something else in company, longest first.
func (l *lexicon) joined(ws []word) []word {
	out := make([]word, 0, len(ws))
next:
	for i := 0; i < len(ws); {
		for n := min(longest, len(ws)-i); n >= 2; n-- {
			var key strings.Builder
			for j := range n {
				if j > 0 {
					key.WriteByte(' ')
				}
				key.WriteString(ws[i+j].raw)
			}
			if to, ok := l.pairs[key.String()]; ok {
				out = append(out, to...)
				i += n
				continue next
			}
		}
		out = append(out, ws[i])
		i++
	}
	return out
}
