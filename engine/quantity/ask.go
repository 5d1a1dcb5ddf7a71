package quantity

import (
	"strings"
	"unicode"
)

// AskBack is the error of Read: the text can't be taken, or could mean two
// things.
type AskBack struct {
	Text    string   // as typed
	Say     string   // one plain sentence, without blame
	Suggest []string // what may have been meant, each a text that Read takes
}

func (a *AskBack) Error() string { return a.Say }

// quote makes typed text fit to be repeated inside a sentence.
func quote(text string) string {
	const most = 24
	var b strings.Builder
	n := 0
	for _, r := range strings.TrimSpace(text) {
		if n == most {
			b.WriteString("...")
			break
		}
		if unicode.IsPrint(r) && r != unicode.ReplacementChar {
			b.WriteRune(r)
			n++
		}
	}
	return b.String()
}

// example is a reading of the kind as one would type it.
func (k Kind) example() string {
	switch k.ID {
	case "volts":
		return "12.6 V"
	case "amps":
		return "4.2 A"
	case "ohms":
		return "4.7 ohm"
	case "watts":
		return "60 W"
	case "watt-hours":
		return "500 Wh"
	case "amp-hours":
		return "100 Ah"
	case "celsius":
		return "54 C or 130 F"
	case "kelvin":
		return "15 K or 27 F"
	case "metres":
		return "3.5 m or 11 ft 6 in"
	case "area":
		return "6 mm2 or 10 AWG"
	case "seconds":
		return "30 s"
	case "minutes":
		return "20 min or 1h30"
	case "hours":
		return "2 h or 1h30"
	case "farads":
		return "4700 uF"
	case "percent":
		return "40 %"
	case "newton-metres":
		return "8 Nm"
	case "count":
		return "3"
	case "ratio":
		return "1.25"
	}
	return strings.TrimSpace("10 " + k.Unit.Symbol())
}
