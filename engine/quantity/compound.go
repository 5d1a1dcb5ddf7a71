package quantity

import "strings"

// gauge reads wire gauges: 10 AWG, 2/0, 4/0 awg. ok says that the text is one,
// readable or not.
func (r *reader) gauge(items []item) (t Typed, ask *AskBack, ok bool) {
	last := strings.TrimSpace(items[len(items)-1].tail)
	f := findUnit(last, r.k)
	var name string
	switch {
	case len(items) == 1 && f.ok && f.gauge:
		name = items[0].raw
	case len(items) == 2 && strings.TrimSpace(items[0].tail) == "/" && items[1].raw == "0" && (last == "" || f.gauge):
		name = items[0].raw + "/0"
	default:
		return Typed{}, nil, false
	}
	n, known := AWGByName(name)
	if !known || r.neg {
		return Typed{}, r.ask("I know the gauges from 4/0 to 40 AWG, and \"" + quote(r.text) + "\" is none of them."), true
	}
	area := AWGArea(n)
	// A gauge is a size by definition. The tables print it to the third figure.
	return Typed{Value: area, Digit: area / 100, AWG: AWGName(n)}, nil, true
}

// letterForPoint reads a unit's letter in the place of the decimal point, as it
// is printed on parts (IEC 60062) and typed in a hurry: 2k2, 4R7, 12V6, 3m50.
func (r *reader) letterForPoint(items []item) (Typed, bool) {
	if len(items) != 2 || !items[0].whole() || !plainDigits(items[1].raw) || len(items[0].tail) != 1 {
		return Typed{}, false
	}
	letter, rest := items[0].tail, strings.TrimSpace(items[1].tail)
	code := letter + rest
	if rest == "" {
		code = letter
		if letter != "R" && letter != "r" && letter != "V" && letter != "v" && !strings.EqualFold(letter, "m") {
			code += r.k.Unit.Symbol()
		}
	}
	switch r.k.ID {
	case "ohms":
		if letter == "m" && rest == "" {
			return Typed{}, false // 4m7: milli, or a sloppy mega
		}
		if letter == "M" && rest == "" {
			code = "Mohm"
		}
		if strings.EqualFold(letter, "r") {
			if rest != "" && !strings.EqualFold(rest, "ohm") && !strings.EqualFold(rest, "ohms") {
				return Typed{}, false
			}
			code = "R"
		}
	case "farads":
	case "volts":
		if !strings.EqualFold(letter, "v") || rest != "" {
			return Typed{}, false
		}
	case "metres":
		// 3m5 could be 3 m 5 cm.
		if !strings.EqualFold(letter, "m") || rest != "" || len(items[1].raw) != 2 {
			return Typed{}, false
		}
	default:
		return Typed{}, false
	}
	f := findUnit(code, r.k)
	n := readFigure(items[0].digits + "." + items[1].raw)
	if !f.ok || !f.unit.Like(r.k.Unit) || n.say != "" {
		return Typed{}, false
	}
	return r.typed(n.number, f), true
}

func plainDigits(s string) bool { return strings.Trim(s, "0123456789") == "" }

// part is one figure of a compound value: 3 ft, 6 1/2 in, 30 min.
type part struct {
	value, digit float64 // in the part's own unit
	whole        bool
	unit         string
}

// compound reads feet and inches, hours and minutes, metres and centimetres, and
// fractions of them. Each unit must be smaller than the one before and hold less
// than one of it; a last figure without a unit is in the next unit down.
func (r *reader) compound(items []item) (Typed, bool) {
	length, time := r.k.Unit.Like(MustUnit("m")), r.k.Unit.Like(MustUnit("s"))
	if !length && !time && r.k.ID != "ratio" {
		return Typed{}, false
	}
	parts, ok := fractions(items)
	if !ok || r.k.ID == "ratio" && (len(parts) != 1 || parts[0].unit != "") {
		return Typed{}, false
	}
	var t Typed
	before := 0.0
	for i, p := range parts {
		unit := p.unit
		if unit == "" && i > 0 {
			unit = nextDown(parts[i-1].unit, r.k)
			if unit == "" {
				return Typed{}, false
			}
		}
		f := found{unitWord: unitWord{unit: r.k.Unit}, ok: true}
		if unit != "" {
			f = findUnit(unit, r.k)
		}
		if !f.ok || f.gauge || !f.unit.Like(r.k.Unit) || i < len(parts)-1 && !p.whole {
			return Typed{}, false
		}
		scale := f.unit.Scale / r.k.Unit.Scale * number{digits: "1"}.value(f.pow)
		if i > 0 && (scale >= before || p.value*scale >= before*(1-1e-9)) {
			return Typed{}, false
		}
		before = scale
		t.Value += p.value * scale
		t.Digit = p.digit * scale
	}
	if r.neg && t.Value != 0 {
		t.Value = -t.Value
	}
	return t, true
}

// nextDown is the unit that a figure after the unit has when none is typed.
func nextDown(unit string, k Kind) string {
	f := findUnit(unit, k)
	for _, d := range []struct{ from, to string }{{"h", "min"}, {"min", "s"}, {"d", "h"}, {"ft", "in"}} {
		if u := unitWords[d.from]; f.ok && f.unit.Same(u.unit) && f.pow == u.pow {
			return d.to
		}
	}
	return ""
}

// fractions joins 6 1/2 and 1/2 to one figure each, and parts the rest.
func fractions(items []item) ([]part, bool) {
	var parts []part
	for i := 0; i < len(items); i++ {
		p := part{value: items[i].value(0), digit: items[i].digit(0), whole: items[i].whole(), unit: partUnit(items[i].tail)}
		frac := i
		if items[i].whole() && strings.TrimSpace(items[i].tail) == "" && i+2 < len(items) {
			frac = i + 1 // 6 1/2
		}
		if strings.TrimSpace(items[frac].tail) == "/" && frac+1 < len(items) {
			top, under := items[frac], items[frac+1]
			if !top.whole() || !under.whole() || under.value(0) < 2 || under.value(0) > 64 || top.value(0) >= under.value(0) {
				return nil, false
			}
			whole := 0.0
			if frac > i {
				whole = p.value
			}
			p = part{value: whole + top.value(0)/under.value(0), digit: 1 / under.value(0), unit: partUnit(under.tail)}
			i = frac + 1
		}
		parts = append(parts, p)
	}
	for _, p := range parts[:len(parts)-1] {
		if p.unit == "" {
			return nil, false
		}
	}
	return parts, true
}

// partUnit is the unit between two figures, without the words that join them.
func partUnit(tail string) string {
	u := strings.TrimSpace(tail)
	for _, w := range []string{" and", ",", " &"} {
		u = strings.TrimSpace(strings.TrimSuffix(u, w))
	}
	return u
}
