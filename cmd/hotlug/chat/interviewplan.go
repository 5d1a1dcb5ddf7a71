package chat

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/match"
	"hotlug/engine/pattern"
	"hotlug/engine/reading"
)

// question is one of an interview. The zero question is none.
type question struct {
	key     string
	reading *reading.Reading // how it is asked and what it may be
	place   string
	at      string   // the name of the place
	own     bool     // no fact of the knowledge: the interview's own
	free    bool     // any words
	names   bool     // names a fuse, or says that there is no other
	hint    string   // for free words
	list    []string // shown under the question
	must    string   // said to a "don't know" that helps nobody
}

// Keys of the interview's own questions.
const (
	KeyAbout    = "about"
	KeyKind     = "kind"
	KeyEarthing = "earthing"
	KeyJoints   = "joints"
	KeySame     = "joints-same"
	keyFuse     = "fuse-"
)

// gates are asked before the facts of a section, since not every rig has it.
var gates = map[string]string{
	"array":    "Are there solar panels?",
	"inverter": "Is there an inverter?",
	"monitor":  "Is there a battery monitor with a shunt?",
	"engine":   "Does an engine charge the battery as well, while it runs?",
}

// asked are the sections in the order in which they are asked: battery, sun, what
// draws current.
var askedSections = []string{"battery", "array", "controller", "inverter", "monitor", "engine", "site"}

func ownYesNo(ask string) *reading.Reading { return &reading.Reading{Ask: ask, Answer: reading.YesNo} }

var kindOfRig = &reading.Reading{Ask: "What is it built into?", Name: "what it is built into", Answer: reading.Choice, Options: []reading.Option{
	{ID: "hut", Label: "hut", Says: []string{"cabin", "shed", "house"}},
	{ID: "van", Label: "van", Says: []string{"camper", "truck", "car", "bus"}},
	{ID: "boat", Label: "boat", Says: []string{"ship", "yacht"}},
	{ID: "trailer", Label: "trailer", Says: []string{"towable", "wagon"}},
}}

// next is the first question that has no answer yet.
func (v *Interview) next() question {
	for _, q := range v.plan() {
		if _, has := v.given[q.key]; !has {
			return q
		}
	}
	return question{}
}

// plan lists the questions as far as the answers so far tell which there are.
func (v *Interview) plan() []question {
	out := []question{
		{key: KeyAbout, own: true, free: true, reading: &reading.Reading{Ask: "What is it, in one line?"}, hint: "For example: a 12 V hut for two, with a fridge and lights."},
		{key: KeyKind, own: true, reading: kindOfRig},
	}
	for _, s := range askedSections {
		gate := gates[s]
		if s == "controller" { // without panels there is none
			gate = ""
			if v.choice("array") == "no" {
				continue
			}
		}
		if gate != "" {
			out = append(out, question{key: s, own: true, reading: ownYesNo(gate)})
			if v.choice(s) != "yes" {
				continue
			}
		}
		for _, r := range v.facts(s) {
			if r.Rig == "battery.limit" && slices.Contains([]string{"flooded", "agm", "gel"}, v.choice("battery.chemistry")) {
				continue // no lead battery has one
			}
			out = append(out, question{key: r.Rig, reading: r})
		}
	}
	out = append(out, question{key: KeyEarthing, own: true, free: true,
		reading: &reading.Reading{Ask: "How are battery minus and the frame or the ground joined?"}, hint: "In your own words, or `don't know`."})
	out = append(out, v.fusePlan()...)
	return append(out, v.jointPlan()...)
}

// choice is the choice that answers a key, "" if it is not answered or not known.
func (v *Interview) choice(key string) string { return v.given[key].Choice }

// facts are the readings that stand in a section of a rig file.
func (v *Interview) facts(section string) []*reading.Reading {
	var out []*reading.Reading
	for _, id := range v.c.g.ReadingOrder {
		r := v.c.g.Readings[id]
		if strings.HasPrefix(r.Rig, section+".") && !slices.ContainsFunc(out, func(x *reading.Reading) bool { return x.Rig == r.Rig }) {
			out = append(out, r)
		}
	}
	if section == "place" { // what is printed on the fuse comes first: it stands before the eyes
		slices.SortStableFunc(out, func(a, b *reading.Reading) int { return placeOrder(a) - placeOrder(b) })
	}
	return out
}

func placeOrder(r *reading.Reading) int {
	order := []string{"place.rating", "place.wire", "place.full_load"}
	if i := slices.Index(order, r.Rig); i >= 0 {
		return i
	}
	return len(order)
}

// mostFuses is more than a board of this size has.
const mostFuses = 40

// fusePlan asks for fuses one by one, and for the facts of each.
func (v *Interview) fusePlan() []question {
	var out []question
	for i := range mostFuses {
		key := fmt.Sprintf("%s%d", keyFuse, i+1)
		ask := "Which fuses and breakers are there? Name one, as in: main, controller, inverter, fridge."
		if i > 0 {
			ask = "Is there another fuse or breaker? Name it."
		}
		out = append(out, question{key: key, own: true, free: true, names: true, reading: &reading.Reading{Ask: ask}, hint: "Its name, or `no more`."})
		a, has := v.given[key]
		if !has || !a.Known {
			break
		}
		p := v.fuses[slices.IndexFunc(v.fuses, func(p reading.PlaceOnRig) bool { return p.ID == a.Place })]
		for _, r := range v.facts("place") {
			out = append(out, question{key: p.ID + "/" + r.Rig, reading: r, place: p.ID, at: p.Name})
		}
	}
	return out
}

// jointPlan offers the joints of the standard path.
func (v *Interview) jointPlan() []question {
	joints := v.standardJoints()
	if len(joints) == 0 {
		return nil
	}
	out := []question{{key: KeyJoints, own: true, reading: ownYesNo("Has it these joints in the main leads?"), list: match.Numbered(placeNames(joints))}}
	if v.choice(KeyJoints) == "yes" && v.hasMain() {
		out = append(out, question{key: KeySame, own: true, reading: ownYesNo("Is the wire at all of them that of the main fuse?")})
	}
	return out
}

func (v *Interview) standardJoints() []reading.PlaceOnRig {
	return slices.DeleteFunc(slices.Clone(v.c.g.StandardPath), func(p reading.PlaceOnRig) bool { return p.Class != "joint" })
}

func (v *Interview) hasMain() bool {
	return slices.ContainsFunc(v.fuses, func(p reading.PlaceOnRig) bool { return p.ID == MainFuse })
}

// MainFuse is the id of the place between battery and bars.
const MainFuse = "main-fuse"

// Places are the fuses that were named, and the usual joints where the rig has
// them.
func (v *Interview) Places() []reading.PlaceOnRig {
	out := slices.Clone(v.fuses)
	if v.choice(KeyJoints) == "yes" {
		out = append(out, v.standardJoints()...)
	}
	return out
}

// SameWire says whether the joints' wire is that of the main fuse.
func (v *Interview) SameWire() bool { return v.choice(KeySame) == "yes" }

var (
	noMore   = []string{"no more", "none", "nothing more", "that's all", "thats all", "that is all", "no other", "no others", "all"}
	fuseTail = pattern.Of(`(?i)\b(the|fuse|breaker|holder|of|for|a)\b`)
	notInID  = pattern.Of(`[^a-z0-9]+`)
)

// fuse makes a place of the name of a fuse.
func (v *Interview) fuse(text string) (reading.PlaceOnRig, bool) {
	about := strings.Join(strings.Fields(fuseTail.ReplaceAllString(text, " ")), " ")
	id := strings.Trim(notInID.ReplaceAllString(strings.ToLower(about), "-"), "-")
	if id == "" || len(id) > 30 || len(about) > 60 || id[0] < 'a' || id[0] > 'z' {
		return reading.PlaceOnRig{}, false
	}
	p := reading.PlaceOnRig{ID: id + "-fuse", Class: "fuse", Name: "the fuse holder of the " + about}
	if id == "main" {
		p.Name = "the main fuse holder"
	}
	return p, !slices.ContainsFunc(v.fuses, func(q reading.PlaceOnRig) bool { return q.ID == p.ID })
}
