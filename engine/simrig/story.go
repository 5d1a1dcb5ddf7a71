package simrig

import (
	"strconv"
	"strings"
)

// Story is the complaint as a customer tells it: who it is, what is noticed, and
// what was seen, heard or smelt, all by the state of the plant. It says nothing
// that only a reading could tell.
func (s *Sim) Story() string {
	var parts []string
	add := func(text string) {
		if text = strings.TrimSpace(text); text != "" {
			parts = append(parts, text)
		}
	}
	add(s.sys.Story)
	add(s.complaint())
	add(s.circumstances())
	for _, x := range s.sets {
		f, ok := FaultByID(x.Fault)
		if !ok {
			continue
		}
		// What only a look at the part shows is left to the looks.
		so := strings.Join(parts, " ")
		add(noticed("There was ", f.Heard, so))
		add(noticed("It smells of ", f.Smelt, so))
	}
	return strings.Join(parts, " ")
}

// plainly are the complaints that a customer words in one way, whatever is wrong.
var plainly = map[string]string{
	"inverter-dead":               "The inverter does not start.",
	"inverter-noisy":              "The inverter makes a noise that I don't like.",
	"inverter-stops":              "The inverter stops when I need it.",
	"fuse-blows":                  "Something blows or trips again and again.",
	"zero-volts-after-connecting": "I have connected it all, and there is nothing.",
	"battery-cuts-off":            "The battery switches itself off.",
	"hot-battery":                 "The battery gets warm.",
	"new-battery-no-better":       "The battery is new, and it is no better than the old one.",
	"batteries-uneven":            "The batteries don't do the same.",
	"lights-dim":                  "The lights go dim.",
	"fridge-cuts-out":             "The fridge cuts out.",
	"one-thing-dead-or-weak":      "One thing does not do what it should. All the others do.",
	"everything-dead":             "Everything is dead.",
	"flat-every-morning":          "The battery is flat every morning.",
	"flat-after-storage":          "It stood for some weeks, and now the battery is flat.",
}

// NoWords stands in a story where nobody has put the complaint into words.
const NoWords = "Something is not right with it."

// noticed is what was heard or smelt as a sentence: "A bang." becomes "There was a
// bang." What has been told already is not said twice.
func noticed(begin, what, told string) string {
	first, rest, _ := strings.Cut(strings.TrimSuffix(what, "."), " ")
	verb, after, _ := strings.Cut(rest, " ")
	switch {
	case what == "":
		return ""
	case first == "A" && strings.Contains(told, " "+rest), strings.HasPrefix(verb, "crack") && after != "" && strings.Contains(told, after):
		return ""
	case first == "It", first == "The", first == "Somebody":
		return what
	}
	return begin + lower(what)
}

func lower(s string) string { return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):] }

// complaint is the symptom in a customer's words.
func (s *Sim) complaint() string {
	switch s.symptom {
	case "no-charge":
		if s.plant.Sky.Full < anyShadow {
			return "Nothing has come in from the panels today."
		}
		if !s.lit() {
			return "The sun is out, the charge controller is dark, and the battery gets nothing."
		}
		return "The sun is out, and nothing goes into the battery."
	case "spark-on-connecting":
		return s.sparkTold()
	case "percentage-wrong":
		return s.patternTold()
	case "never-reads-full":
		if v, ok := s.shownPercent(); ok {
			return "It charges all day, and the display stops at " + percent(v) + ". It never says full."
		}
		return "It charges all day, and the display never says full."
	case "volts-percent-disagree":
		v, ok := s.view(s.AsFound())
		if n, shown := s.shownPercent(); ok && shown {
			return "The display says " + percent(n) + ", and the volts (" + oneDigit(v.posts()) + " V) tell me something else."
		}
		return "Volts and percentage tell different stories."
	case "hot-joint", "melted-plug":
		return s.heatTold()
	}
	if told, ok := plainly[s.symptom]; ok {
		return told
	}
	return NoWords
}

func (s *Sim) sparkTold() string {
	e := s.plant.Event
	what := map[string]string{
		"battery": "the second battery", "inverter": "the inverter", "system": "the battery to the rest", "device": "a device",
	}[e.Joining]
	when := "It happened"
	switch {
	case what != "" && e.Parting:
		when = "As I took a lead off"
	case what != "":
		when = "As I connected " + what
	}
	switch s.sparkKind() {
	case "arc-holds":
		return when + ", a spark stayed and would not go out."
	case "one-snap":
		return when + ", there was one loud snap and a flash."
	case "every-touch":
		return when + ", it sparked at every touch."
	case "on-lifting":
		return "There was a flash as I lifted a lead off."
	case "tool-slipped":
		return "My spanner slipped across both posts. There was a bang and a flash."
	case "live-metal-touched-frame":
		return "The spanner touched the frame while it was on the plus post. There was a flash."
	case "fuse-blew":
		return when + ", there was a bang and a fuse went."
	case "at-pv-plug":
		return "I pulled a solar plug apart and it drew a long spark."
	case "battery-went-dead":
		return when + ", it cracked once and the battery was dead."
	case "relay-sticks":
		return "A relay has stuck and does not let go."
	}
	return "There was a spark as something was connected."
}

func (s *Sim) patternTold() string {
	n, ok := s.shownPercent()
	shows := ""
	if ok {
		shows = " It shows " + percent(n) + " now."
	}
	switch s.pattern() {
	case "jumps-with-load":
		return "The percentage drops as soon as I switch something on, and comes back after." + shows
	case "wrong-direction":
		return "The percentage goes the wrong way: down in the sun, up while we use it." + shows
	case "nonsense-at-times":
		return "The display shows nonsense now and then." + shows
	case "stuck-at-100":
		return "The display sticks at 100, whatever we use."
	case "never-100":
		return "The display never gets to 100." + shows
	case "over-100":
		return "The display goes over 100." + shows
	case "jumps-to-100-early":
		return "It jumps to 100 in the morning and we are in the dark at night."
	case "drifts-when-idle":
		return "The percentage creeps away with everything off." + shows
	case "wrong-after-storage":
		return "After weeks of standing the percentage can't be right." + shows
	case "too-fast-or-slow":
		return "The percentage does not go with what we use." + shows
	case "quits-above-zero":
		return "The lights go out long before the display gets to nought." + shows
	}
	return "The percentage can't be right." + shows
}

func (s *Sim) heatTold() string {
	p := s.plant.Parts[s.focus]
	if p == nil {
		return "Something gets hot when it all runs."
	}
	switch {
	case s.cooked(p) && s.symptom == "melted-plug":
		return upper(p.Name) + " has gone brown and soft."
	case s.cooked(p):
		return upper(p.Name) + " has gone brown. It gets hot when everything runs."
	}
	if c, ok := s.hotAt(p, s.Loaded(p.ID)); ok && c >= tooHotC {
		return upper(p.Name) + " gets too hot to hold when everything runs."
	}
	return upper(p.Name) + " gets warm when everything runs."
}

// circumstances are the weather and the season, where they speak.
func (s *Sim) circumstances() string {
	switch {
	case s.plant.Battery.CellC <= 0:
		return "There was frost in the night."
	case s.plant.Monitor.Idle:
		return "The hut stood empty for some weeks."
	case s.plant.Sky.Full < anyShadow && s.symptom == "no-charge":
		return "The sky is grey."
	}
	return ""
}

// Words is a phrase for the complaint as a person types it.
func (s *Sim) Words() string {
	switch s.symptom {
	case "no-charge":
		switch {
		case !s.lit():
			return "the charge light is off"
		case s.plant.Sky.Full >= sharpShadow:
			return "battery stays empty in full sun"
		}
		return "nothing comes in from the roof"
	case "spark-on-connecting":
		switch s.sparkKind() {
		case "on-lifting":
			return "a spark as a cable came off"
		case "tool-slipped", "live-metal-touched-frame":
			return "spanner slipped and flashed"
		case "fuse-blew":
			return "fuse popped as I connected it"
		case "at-pv-plug":
			return "spark on unplugging the panel"
		case "every-touch":
			return "it cracks every time I touch the terminal"
		}
		if s.plant.Event.Joining == "inverter" {
			return "connecting the inverter makes it spark"
		}
		return "there was a flash and a bang"
	case "percentage-wrong":
		switch s.pattern() {
		case "jumps-with-load":
			return "percent jumps around"
		case "stuck-at-100":
			return "stuck at 100 percent"
		case "quits-above-zero":
			return "says full but it dies"
		case "wrong-direction":
			return "reading goes up while I use it"
		case "drifts-when-idle":
			return "percentage goes down with everything off"
		}
		return "battery percentage is wrong"
	case "never-reads-full":
		return "never gets to 100"
	case "volts-percent-disagree":
		return "volts and percent don't match"
	case "melted-plug":
		return "melted plug"
	case "hot-joint":
		p := s.plant.Parts[s.focus]
		if p == nil {
			return "connection gets hot"
		}
		return heatWords[spot(p)]
	}
	return s.symptom
}

func upper(name string) string {
	if name == "" {
		return name
	}
	return strings.ToUpper(name[:1]) + name[1:]
}

// heatWords are what people type of a hot part of each kind.
var heatWords = map[string]string{
	"fuse-holder": "fuse holder gets hot", "battery-post": "battery terminal gets hot",
	"lug-or-stud": "connection gets hot", "cable-along": "the wire is getting warm",
	"switch-or-breaker": "isolator is hot to touch", "screw-terminal": "terminal is hot",
	"busbar": "bolt on the busbar is hot", "plug-or-socket": "plug gets hot", "pv-plug": "panel plug is burnt",
}

func percent(v float64) string  { return strconv.FormatFloat(v, 'f', 0, 64) + " per cent" }
func oneDigit(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
