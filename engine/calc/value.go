package calc

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/pattern"
	"hotlug/engine/quantity"
)

// value is one value as it was typed.
type value struct {
	text  string // as typed, with single spaces
	kind  quantity.Kind
	typed quantity.Typed
	bare  bool // no unit was typed, and none was asked for
	exact bool // stands as it is: the last digit says nothing of how well it is known
}

// kindOf is the kind of values in u. A unit that people seldom type has a kind
// without id, which reads bare figures only.
func kindOf(u quantity.Unit) quantity.Kind {
	if u.Plain() {
		k, _ := quantity.KindByID("ratio")
		return k
	}
	for _, k := range quantity.Kinds() {
		if k.Unit.Same(u) {
			return k
		}
	}
	return quantity.Kind{Unit: u, Name: "a value in " + u.String()}
}

// seldom are the units that nobody reads off a meter, so that quantity.Read does
// not know how they are typed. Those with prefixes may be mH, uH.
var seldom = map[string]bool{ // has prefixes
	"H": true, "J": true, "V/K": true, "ohm/m": true, "As": false,
	"W/m2": false, "m3/h": false, "%/K": false, "%/h": false, "K/W": false, "A2s": false,
}

var (
	figureUnit = pattern.Of(`^([-+\x{2212}]?[0-9.,]+(?:[eE][-+]?[0-9]{1,2})?)\s*(\S.*)$`)
	asSymbol   = strings.NewReplacer("²", "2", "³", "3", "^", "", "Ω", "ohm", "Ω", "ohm", "µ", "u", "μ", "u", "·", "",
		"/°C", "/K", "/degC", "/K", "/C", "/K", " ", "", "ohms", "ohm", "henry", "H")
	prefixes = map[string]float64{"m": 1e-3, "u": 1e-6, "n": 1e-9, "k": 1e3}
)

// readSeldom reads a figure in one of the seldom units.
func readSeldom(text string) (value, bool) {
	m := figureUnit.FindStringSubmatch(text)
	if m == nil {
		return value{}, false
	}
	symbol, times := asSymbol.Replace(m[2]), 1.0
	if _, plain := seldom[symbol]; !plain {
		if len(symbol) < 2 || prefixes[symbol[:1]] == 0 || !seldom[symbol[1:]] {
			return value{}, false
		}
		times, symbol = prefixes[symbol[:1]], symbol[1:]
	}
	v := value{text: tidy(text), kind: kindOf(quantity.MustUnit(symbol)), exact: true}
	t, err := quantity.Read(m[1], v.kind)
	t.Value, t.Digit, t.Text = t.Value*times, t.Digit*times, text
	v.typed = t
	return v, err == nil
}

// readAs reads text in the unit u, converting what was typed in another scale.
func readAs(text string, u quantity.Unit) (value, error) {
	k := kindOf(u)
	if k.ID == "" || seldom[u.Symbol()] {
		if v, ok := readSeldom(text); ok && v.kind.Unit.Like(u) {
			by := v.kind.Unit.Scale / u.Scale
			v.typed.Value, v.typed.Digit, v.kind = v.typed.Value*by, v.typed.Digit*by, k
			return v, nil
		}
	}
	t, err := quantity.Read(text, k)
	if err != nil {
		return value{}, asked(err)
	}
	return value{text: tidy(text), kind: k, typed: t}, nil
}

// typedKinds is the order in which a value in free arithmetic is tried. A lone m
// is metres there.
var typedKinds = func() (list []quantity.Kind) {
	for _, id := range strings.Fields("volts amps ohms watts watt-hours amp-hours area metres newton-metres percent farads seconds celsius kelvin") {
		k, ok := quantity.KindByID(id)
		if !ok {
			panic("calc: no kind " + id)
		}
		list = append(list, k)
	}
	return list
}()

// twoMeanings are spellings that a question asked before would settle, and that
// free arithmetic can't.
var twoMeanings = map[string]string{
	"F": "F could be farads or degrees Fahrenheit: write farad, uF or degF",
	"f": "f could be farads or degrees Fahrenheit: write farad, uF or degF",
	"k": "k could be a thousand of anything: write kohm, kW or kelvin",
	"M": "M could be a million of anything: write Mohm",
}

// readAny reads a figure with its unit, whatever the unit is.
func readAny(text string) (value, error) {
	if m := figureUnit.FindStringSubmatch(text); m != nil {
		if say := twoMeanings[m[2]]; say != "" {
			return value{}, errors.New(say)
		}
	}
	if v, ok := readSeldom(text); ok {
		return v, nil
	}
	kinds := typedKinds
	if strings.HasSuffix(text, "K") { // kelvin before a sloppy kilo
		kinds = []quantity.Kind{typedKinds[len(typedKinds)-1]}
	}
	var first error
	for _, k := range kinds {
		t, err := quantity.Read(text, k)
		if err == nil {
			if k.ID == "seconds" {
				k, t = timeKind(text, k, t)
			}
			return value{text: tidy(text), kind: k, typed: t, exact: !readOff[k.ID]}, nil
		}
		var ask *quantity.AskBack
		if first == nil && errors.As(err, &ask) && len(ask.Suggest) > 0 {
			first = asked(err)
		}
	}
	if first == nil {
		unit := text
		if m := figureUnit.FindStringSubmatch(text); m != nil {
			unit = m[2]
		}
		first = fmt.Errorf("%q is no unit that is known here: write a value such as 12.6 V, 180 mV, 3 ft, 10 AWG or 54 C", short(unit))
	}
	return value{}, first
}

// readOff are the kinds that are read off a meter, so that the last digit tells
// how finely. Lengths, sizes, times and percentages are set by people.
var readOff = map[string]bool{"volts": true, "amps": true, "ohms": true, "watts": true, "celsius": true, "kelvin": true}

// timeKind keeps hours as hours and minutes as minutes, so that 60 W × 2 h comes
// out in watt-hours.
func timeKind(text string, k quantity.Kind, t quantity.Typed) (quantity.Kind, quantity.Typed) {
	unit := strings.ToLower(strings.Trim(text, "0123456789.,+-½¼¾ "))
	id := "seconds"
	switch {
	case strings.HasPrefix(unit, "h"), strings.HasPrefix(unit, "d"), strings.HasPrefix(unit, "w"):
		id = "hours"
	case strings.HasPrefix(unit, "mi"):
		id = "minutes"
	}
	if other, ok := quantity.KindByID(id); ok && id != "seconds" {
		if again, err := quantity.Read(text, other); err == nil {
			return other, again
		}
	}
	return k, t
}

// asked is what quantity.Read asks back, with what may have been meant.
func asked(err error) error {
	var ask *quantity.AskBack
	if !errors.As(err, &ask) || len(ask.Suggest) == 0 {
		return err
	}
	return errors.New(strings.TrimSuffix(ask.Say, ".") + "; type " + listOr(ask.Suggest))
}

// val is the value with its limits. A reading of a meter class carries its error.
func (v value) val(meter string) formula.Val {
	t := v.typed
	if v.bare {
		return formula.Exact(t.Value)
	}
	half := 0.0
	if !v.exact {
		half = t.Digit / 2
	}
	if t.About {
		half += quantity.AboutError(t.Value)
	}
	if m, ok := quantity.MeterByID(meter); ok && t.AWG == "" {
		gain, abs := m.Error(v.kind, t.Value, t.Digit)
		if own := abs - t.Digit/2; gain > 0 || own > 0 {
			return formula.Measured(t.Value, gain, math.Max(own, 0)+math.Max(half, t.Digit/2), meter)
		}
	}
	return formula.Within(t.Value-half, t.Value, t.Value+half)
}

// shown is the value as it was typed, and what it is in the unit it is reckoned
// in where that is not plain to see: "10 AWG (5.26 mm²)".
func (v value) shown(s quantity.Style) string {
	if v.bare || v.kind.Unit.Plain() {
		return v.text
	}
	text := v.text
	if !s.ASCII {
		text = strings.Replace(text, "mm2", "mm²", 1)
	}
	in := rounded(v.typed.Value, 3, v.kind.Unit, s)
	switch {
	case strings.HasPrefix(in, text): // 25 mm² in the other style: with its gauges
		return in
	case plainFigure.MatchString(text):
		return quantity.ShowTyped(v.typed.Value, v.typed.Digit, v.kind.Unit, s)
	case foreign.MatchString(text) && !s.US, s.US && !foreign.MatchString(text) && foreign.MatchString(in):
		return text + " (" + in + ")"
	}
	return text
}

var (
	foreign     = pattern.Of(`(?i)[0-9 ](awg|gauge|ga|ft|foot|feet|in|inch|inches|'|"|yd|kcmil|°?f|degf|in-lb|ft-lb)\b|[0-9]\s?['"]|°F`)
	plainFigure = pattern.Of(`^[-+]?[0-9.,]+$`)
	joined      = pattern.Of(`^([-+\x{2212}]?[0-9.,]*[0-9])([\pL%°].*)$`)
)

// tidy writes a value with a space between the figure and its unit.
func tidy(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if m := joined.FindStringSubmatch(text); m != nil && !strings.ContainsAny(strings.TrimRight(m[2], "23"), "0123456789'\"") {
		return m[1] + " " + m[2]
	}
	return text
}

func listOr(words []string) string  { return listed(words, " or ") }
func listAnd(words []string) string { return listed(words, " and ") }

func listed(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + last + words[len(words)-1]
}
