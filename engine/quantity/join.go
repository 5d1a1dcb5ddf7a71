package quantity

import (
	"math"
	"strings"
)

// join makes one value of the figures found.
func (r *reader) join(items []item) (Typed, *AskBack) {
	for _, it := range items {
		if it.say != "" {
			return Typed{}, r.figureTrouble(it, items)
		}
	}
	if r.k.ID == "area" {
		if t, ask, ok := r.gauge(items); ok {
			return t, ask
		}
	}
	if len(items) == 1 {
		return r.single(items[0])
	}
	if t, ok := r.letterForPoint(items); ok {
		return t, nil
	}
	if t, ok := r.compound(items); ok {
		return t, nil
	}
	return Typed{}, r.several(items)
}

func (r *reader) figureTrouble(it item, items []item) *AskBack {
	var suggest []string
	unit := strings.TrimSpace(it.tail)
	for _, a := range it.alts {
		switch {
		case len(items) > 1:
		case unit == "":
			suggest = append(suggest, r.in(a))
		default:
			if f := findUnit(unit, r.k); f.ok && f.unit.Like(r.k.Unit) {
				suggest = append(suggest, strings.TrimSpace(minus(r.neg)+a+" "+unit))
			}
		}
	}
	return r.ask("In \""+quote(r.text)+"\" "+it.say+". Type it again.", suggest...)
}

func minus(neg bool) string {
	if neg {
		return "-"
	}
	return ""
}

// single reads one figure with its unit, if any.
func (r *reader) single(it item) (Typed, *AskBack) {
	unit := strings.TrimSpace(it.tail)
	if unit == "" {
		return r.bare(it.number)
	}
	f := findUnit(unit, r.k)
	switch {
	case prefixAlone(unit, r.k) && !(f.ok && f.unit.Like(r.k.Unit)):
		return Typed{}, r.ask("\""+quote(unit)+"\" alone is no unit here.", minus(r.neg)+it.raw+" "+strings.ToLower(unit)+r.k.Unit.Symbol())
	case f.either != nil && !f.unit.Like(r.k.Unit):
		return Typed{}, r.otherKind(it, unit, f)
	case f.either != nil:
		var suggest []string
		for _, u := range f.either {
			suggest = append(suggest, minus(r.neg)+it.raw+" "+u)
		}
		return Typed{}, r.ask("The unit in \""+quote(r.text)+"\" could be "+strings.Join(f.either, " or ")+".", suggest...)
	case !f.ok:
		return Typed{}, r.strangeUnit(it, unit)
	case f.gauge || !f.unit.Like(r.k.Unit) || !sameSense(r.k, f):
		return Typed{}, r.otherKind(it, unit, f)
	}
	t := r.typed(it.number, f)
	return t, r.wholeCount(it.number)
}

// prefixAlone sees milli, kilo and micro typed without their unit.
func prefixAlone(unit string, k Kind) bool {
	switch k.ID {
	case "volts", "amps", "ohms":
		return unit == "m" || unit == "u" || strings.EqualFold(unit, "k")
	}
	return false
}

// sameSense parts percent, counts and the like, which no dimension parts.
func sameSense(k Kind, f found) bool {
	return !k.Unit.Plain() || f.what == "a number" && k.ID == "count"
}

func (r *reader) bare(n number) (Typed, *AskBack) {
	if r.k.ID == "area" && n.whole() && n.value(0) <= thinnestSoldGauge {
		gauge, _ := AWGByName(n.digits)
		suggest := []string{n.digits + " AWG"}
		if n.value(0) > 0 {
			suggest = []string{n.digits + " mm2", AWGName(gauge) + " AWG"}
		}
		return Typed{}, r.ask("A wire of "+n.digits+" could be mm2 or a gauge (AWG).", suggest...)
	}
	t := r.typed(n, found{unitWord: unitWord{unit: r.k.Unit}})
	return t, r.wholeCount(n)
}

// thinnestSoldGauge: whole figures up to this are met as gauges and may be mm²
// just as well.
const thinnestSoldGauge = 24

func (r *reader) wholeCount(n number) *AskBack {
	if v := n.value(0); r.k.ID == "count" && v != math.Trunc(v) {
		return r.ask("I need a whole number here, such as " + r.k.example() + ".")
	}
	return nil
}

// typed converts a figure in the unit f to the unit of the kind.
func (r *reader) typed(n number, f found) Typed {
	v, d := n.value(f.pow), n.digit(f.pow)
	if r.neg && v != 0 {
		v = -v
	}
	t := Typed{AC: f.ac}
	switch {
	case f.fahren && r.k.Unit.Point:
		v, d = (v-32)*5/9, d*5/9
	case f.fahren:
		v, d = v*5/9, d*5/9
	case !nearly(f.unit.Scale, r.k.Unit.Scale):
		v, d = v*f.unit.Scale/r.k.Unit.Scale, d*f.unit.Scale/r.k.Unit.Scale
	}
	t.Value, t.Digit = v, d
	return t
}

func (r *reader) otherKind(it item, unit string, f found) *AskBack {
	if r.k.Unit.Like(MustUnit("mm2")) && f.unit.Same(MustUnit("m")) && f.pow == -3 {
		return r.ask("Is that the wire's area in mm2 or its width? I need the area.", it.raw+" mm2")
	}
	what := f.what
	if what == "" {
		what = "something else"
	}
	return r.ask("\"" + quote(r.text) + "\" is " + what + ", and I asked for " + r.k.Name + ".")
}

// strangeUnit answers a unit that is not known. If it starts with one that is,
// the rest is what is not understood.
func (r *reader) strangeUnit(it item, unit string) *AskBack {
	words := strings.Fields(unit)
	for n := len(words) - 1; n > 0; n-- {
		head := strings.TrimRight(strings.Join(words[:n], " "), ",;")
		if f := findUnit(head, r.k); f.ok && !f.gauge && f.unit.Like(r.k.Unit) && !f.unit.Plain() {
			return r.ask("I read a value in \""+quote(r.text)+"\", but not the rest. Type the value alone.", minus(r.neg)+it.raw+" "+head)
		}
	}
	return r.ask("I don't know \"" + quote(unit) + "\" as a unit here. Type it such as " + r.k.example() + ".")
}

// several answers more than one figure that don't make one value.
func (r *reader) several(items []item) *AskBack {
	first, second := items[0], items[1]
	sep := strings.ToLower(strings.TrimSpace(first.tail))
	unit := strings.TrimSpace(items[len(items)-1].tail)
	if strings.HasSuffix(sep, "-") || sep == "to" || strings.HasSuffix(sep, " to") || strings.HasSuffix(sep, "...") || strings.Contains(sep, "+/") || strings.Contains(sep, "±") {
		return r.ask("\"" + quote(r.text) + "\" is a range. Type the one figure that the meter shows most of the time.")
	}
	if sep == ":" && r.k.Unit.Like(MustUnit("s")) && len(items) == 2 && unit == "" {
		return r.ask("\""+quote(r.text)+"\" could be hours and minutes or minutes and seconds.",
			first.raw+" h "+second.raw+" min", first.raw+" min "+second.raw+" s")
	}
	var suggest []string
	if sep == "" && len(items) == 2 && first.whole() && second.whole() && r.k.ID != "count" {
		joined := first.digits + "." + second.digits
		if len(second.digits) == 3 {
			joined = first.digits + second.digits
		}
		if unit == "" {
			suggest = []string{r.in(joined)}
		} else if f := findUnit(unit, r.k); f.ok && f.unit.Like(r.k.Unit) && !f.gauge {
			suggest = []string{minus(r.neg) + joined + " " + unit}
		}
	}
	return r.ask("I read more than one figure in \""+quote(r.text)+"\". Type one, such as "+r.k.example()+".", suggest...)
}
