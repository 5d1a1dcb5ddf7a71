package quantity

import (
	"strings"
	"unicode"
)

// unitWord is a unit as people spell it: a named unit times 10^pow.
type unitWord struct {
	unit   Unit
	pow    int
	short  bool // may carry a one-letter prefix: mV, kW
	long   bool // may carry a spelt-out prefix: millivolts
	gauge  bool // AWG
	fahren bool // °F, as a place or as a difference
	what   string
}

var unitWords = spellings()

// spellings maps each spelling, in lower case and without spaces, to its unit.
func spellings() map[string]unitWord {
	m := map[string]unitWord{}
	spell := func(w unitWord, words string) {
		for _, s := range strings.Fields(words) {
			m[s] = w
		}
	}
	for _, w := range []struct{ symbol, what, short, long, both string }{
		{"V", "volts", "v", "volt volts", ""},
		{"A", "amps", "a", "ampere amperes", "amp amps"},
		{"ohm", "ohms", "", "", "ohm ohms"},
		{"W", "watts", "w wp", "watt watts", ""},
		{"Wh", "watt-hours", "wh", "watthour watthours", ""},
		{"Ah", "amp-hours", "ah", "amphour amphours amperehour amperehours", ""},
		{"s", "seconds", "s sec secs", "second seconds", ""},
		{"F", "farads", "f", "farad farads", ""},
		{"J", "joules", "j", "joule joules", ""},
	} {
		u := unitWord{unit: MustUnit(w.symbol), what: w.what}
		u.short = true
		spell(u, w.short)
		u.long = true
		spell(u, w.both)
		u.short = false
		spell(u, w.long)
	}
	for _, w := range []struct {
		unit        Unit
		pow         int
		what, words string
	}{
		{MustUnit("ohm"), 0, "ohms", "r"},
		{MustUnit("m"), 0, "metres", "m metre metres meter meters mtr mtrs"},
		{MustUnit("m"), -2, "metres", "cm cms centimetre centimetres centimeter centimeters"},
		{MustUnit("m"), -3, "metres", "mm mms millimetre millimetres millimeter millimeters"},
		{MustUnit("m"), 3, "metres", "km kilometre kilometres kilometer kilometers"},
		{scaled("m", inch), 0, "inches", "in inch inches \" ''"},
		{scaled("m", foot), 0, "feet", "ft foot feet '"},
		{scaled("m", 3*foot), 0, "yards", "yd yds yard yards"},
		{MustUnit("mm2"), 0, "an area", "sqmm squaremm squaremillimetre squaremillimetres squaremillimeter squaremillimeters mmsq mmsquared qmm"},
		{scaled("mm2", kcmil), 0, "an area", "kcmil mcm"},
		{MustUnit("min"), 0, "minutes", "min mins minute minutes"},
		{MustUnit("h"), 0, "hours", "h hr hrs hour hours"},
		{scaled("h", 24), 0, "days", "d day days"},
		{scaled("h", 24*7), 0, "weeks", "week weeks wk wks"},
		{MustUnit("%"), 0, "per cent", "% percent pct percentage"},
		{MustUnit("Nm"), 0, "newton-metres", "nm newtonmetre newtonmetres newtonmeter newtonmeters"},
		{scaled("Nm", poundForce*foot), 0, "foot-pounds", "ftlb ftlbs lbft lbsft footpound footpounds poundfoot poundfeet ftlbf lbfft"},
		{scaled("Nm", poundForce*inch), 0, "inch-pounds", "inlb inlbs lbin lbsin inchpound inchpounds poundinch poundinches inlbf lbfin"},
	} {
		spell(unitWord{unit: w.unit, pow: w.pow, what: w.what}, w.words)
	}
	spell(unitWord{unit: MustUnit("mm2"), gauge: true, what: "a wire gauge"}, "awg gauge ga")
	return m
}

func scaled(symbol string, by float64) Unit {
	u := MustUnit(symbol)
	u.Scale *= by
	return u
}

// As defined (1959): metres, metres, newtons.
const (
	inch       = 0.0254
	foot       = 0.3048
	poundForce = 4.4482216152605
)

// heatWords is read when a temperature or a difference of temperature is asked;
// k, c and f mean other things elsewhere.
var heatWords = map[string]string{
	"c": "C", "degc": "C", "degreec": "C", "degreesc": "C", "celsius": "C", "degcelsius": "C", "degreecelsius": "C", "degreescelsius": "C", "centigrade": "C", "degreescentigrade": "C",
	"deg": "", "degs": "", "degree": "", "degrees": "",
	"f": "F", "degf": "F", "degreef": "F", "degreesf": "F", "fahrenheit": "F", "degfahrenheit": "F", "degreesfahrenheit": "F", "degreefahrenheit": "F",
	"k": "K", "kelvin": "K", "kelvins": "K", "degk": "K", "degreesk": "K", "degreeskelvin": "K",
}

var longPrefixes = []struct {
	word string
	pow  int
}{{"milli", -3}, {"micro", -6}, {"nano", -9}, {"kilo", 3}, {"mega", 6}, {"meg", 6}}

// countNouns may follow a number of things.
var countNouns = strings.Fields(`x of pc pcs piece pieces times panel panels module modules battery batteries block blocks cell cells
	string strings fuse fuses way ways lamp lamps light lights turn turns flash flashes blink blinks beep beeps hut huts
	inseries inparallel panelsinseries panelsinparallel cellsinseries batteriesinseries batteriesinparallel ofthem joint joints`)

// squash writes a unit's words as one: "amp-hours" and "Amp hours" are
// "Amphours". Case stays, as it tells milli from mega.
func squash(s string) string {
	s = strings.ReplaceAll(s, "°", "deg")
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("-·.()*", r) {
			return -1
		}
		return r
	}, s)
}

// found is what findUnit makes of a spelling.
type found struct {
	unitWord
	ok     bool
	ac     bool
	either []string // units it may mean: then it must be asked
}

// findUnit reads the spelling of a unit when k is asked. The spelling may belong
// to another kind; the caller compares.
func findUnit(raw string, k Kind) found {
	word := squash(raw)
	if len(strings.ToLower(word)) != len(word) {
		return found{} // a letter outside ASCII changes its length
	}
	if f := findPlain(word, k); f.ok || f.either != nil {
		return f
	}
	lower := strings.ToLower(word)
	for _, current := range []string{"dc", "ac"} {
		for _, rest := range []string{strings.TrimSuffix(lower, current), strings.TrimPrefix(lower, current)} {
			if rest == lower {
				continue
			}
			i := strings.Index(lower, rest)
			f := findPlain(word[i:i+len(rest)], k)
			if rest == "" {
				f = found{unitWord: unitWord{unit: k.Unit, what: k.Name}, ok: true}
			}
			if f.ok && carriesCurrent(f.unit) {
				f.ac = current == "ac"
				return f
			}
		}
	}
	return found{}
}

func carriesCurrent(u Unit) bool {
	return u.Like(MustUnit("V")) || u.Like(MustUnit("A")) || u.Like(MustUnit("W"))
}

func findPlain(word string, k Kind) found {
	lower := strings.ToLower(word)
	yes := func(w unitWord) found { return found{unitWord: w, ok: true} }
	if h, ok := heatWords[lower]; ok {
		if f, ok := heatUnit(h, k); ok {
			return f
		}
	}
	switch {
	case word == "M" && k.Unit.Like(MustUnit("ohm")):
		return yes(unitWord{unit: MustUnit("ohm"), pow: 6, what: "ohms"})
	case lower == "k" && (k.ID == "ohms" || k.ID == "watts" || k.ID == "watt-hours"):
		return yes(unitWord{unit: k.Unit, pow: 3, what: k.Name})
	case lower == "m" && k.Unit.Like(MustUnit("s")):
		return yes(unitWords["min"])
	case k.ID == "count":
		for _, n := range countNouns {
			if n == lower {
				return yes(unitWord{unit: One, what: "a number"})
			}
		}
	}
	if lower == "mfd" || word == "MF" || word == "mf" {
		return found{unitWord: unitWords["farad"], either: []string{"uF", "mF"}}
	}
	if w, ok := unitWords[lower]; ok {
		return yes(w)
	}
	for _, p := range longPrefixes {
		if rest, ok := strings.CutPrefix(lower, p.word); ok {
			if w, ok := unitWords[rest]; ok && w.long {
				w.pow += p.pow
				return yes(w)
			}
		}
	}
	if len(lower) < 2 {
		return found{}
	}
	w, ok := unitWords[lower[1:]]
	if !ok || !w.short {
		return found{}
	}
	return prefixed(word, w)
}

// prefixed reads the one-letter prefix of word. Only m and M differ by case, and
// only where both are met in the trade; on volts and amps M is a slip of the
// shift key.
func prefixed(word string, w unitWord) found {
	pow := 0
	switch word[0] {
	case 'u', 'U':
		pow = -6
	case 'n', 'N':
		pow = -9
	case 'k', 'K':
		pow = 3
	case 'm', 'M':
		pow = -3
		upper := word == strings.ToUpper(word)
		switch w.what {
		case "ohms":
			if word[0] == 'M' && upper {
				return found{unitWord: w, either: []string{"mohm", "Mohm"}}
			}
			if word[0] == 'M' {
				pow = 6
			}
		case "watts":
			if word[0] == 'M' {
				return found{unitWord: w, either: []string{"mW", "kW"}}
			}
		case "watt-hours":
			switch {
			case word == "MWh":
				pow = 6
			case word != "mWh":
				return found{unitWord: w, either: []string{"mWh", "MWh"}}
			}
		}
	default:
		return found{}
	}
	w.pow += pow
	return found{unitWord: w, ok: true}
}

// heatUnit reads a temperature's unit. Elsewhere than at temperatures only the
// spelt-out words are taken, so that the answer can say what they are.
func heatUnit(h string, k Kind) (found, bool) {
	point, diff := MustUnit("degC"), MustUnit("K")
	switch {
	case k.Unit.Like(point):
		switch h {
		case "K":
			return found{unitWord: unitWord{unit: diff, what: "a difference of temperature"}, ok: true}, true
		case "F":
			return found{unitWord: unitWord{unit: point, fahren: true, what: "degrees Fahrenheit"}, ok: true}, true
		}
		return found{unitWord: unitWord{unit: point, what: "degrees Celsius"}, ok: true}, true
	case k.Unit.Like(diff):
		return found{unitWord: unitWord{unit: diff, fahren: h == "F", what: "degrees of difference"}, ok: true}, true
	case k.ID == "farads" && h == "F", k.ID != "farads" && h == "K":
		return found{}, false
	}
	return found{unitWord: unitWord{unit: point, what: "a temperature"}, ok: true}, true
}
