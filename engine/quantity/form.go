package quantity

import (
	"fmt"
	"math"
	"strings"
)

// form is how one value is printed: x = v × by + add, followed by the symbol.
type form struct {
	by, add float64
	symbol  string
	area    bool // in mm²: a gauge may stand beside it
}

func (f form) of(v float64) float64   { return v*f.by + f.add }
func (f form) size(d float64) float64 { return math.Abs(d * f.by) }

func (f form) write(figure string, s Style) string {
	if f.symbol == "" {
		return s.sign(figure)
	}
	return s.sign(figure + " " + f.symbol)
}

// withGauge puts the gauge to a wire's area in US style: 10 AWG (5.26 mm²).
// Between two gauges both are named, as neither alone is true of the wire.
func (f form) withGauge(text string, v float64, s Style) string {
	mm2 := v * f.by
	if !f.area || !s.US || mm2 <= 0 {
		return text
	}
	if n, ok := awgExact(mm2); ok {
		return AWGName(n) + " AWG (" + text + ")"
	}
	up, ok := AWGAtLeast(mm2)
	if !ok {
		return text + " (thicker than 4/0 AWG)"
	}
	for i, n := range soldGauges {
		if n == up && i > 0 {
			return text + " (thicker than " + AWGName(soldGauges[i-1]) + " AWG, thinner than " + AWGName(up) + " AWG)"
		}
	}
	return text
}

// prefix is a power of ten before a unit.
type prefix struct {
	sign string
	pow  float64
}

var (
	milli = prefix{"m", 1e-3}
	micro = prefix{"µ", 1e-6}
	nano  = prefix{"n", 1e-9}
	kilo  = prefix{"k", 1e3}
	mega  = prefix{"M", 1e6}
	none  = prefix{"", 1}
)

// rung is a prefix and the magnitude (in the unit itself) it is used from.
type rung struct {
	from float64
	prefix
}

// ladders lists, for units that take prefixes, which are used, large to small.
var ladders = map[string][]rung{
	"V":     {{1e4, kilo}, {1, none}, {1e-4, milli}, {1e-7, micro}, {0, nano}},
	"A":     {{1e4, kilo}, {0.1, none}, {1e-4, milli}, {1e-7, micro}, {0, nano}},
	"ohm":   {{1e6, mega}, {1e3, kilo}, {1, none}, {1e-5, milli}, {1e-8, micro}, {0, nano}},
	"W":     {{1e4, kilo}, {0.1, none}, {1e-4, milli}, {0, micro}},
	"Wh":    {{1e7, mega}, {1e3, kilo}, {0.1, none}, {1e-4, milli}, {0, micro}},
	"Ah":    {{0.1, none}, {1e-4, milli}, {0, micro}},
	"J":     {{1e6, mega}, {1e3, kilo}, {1, none}, {1e-4, milli}, {0, micro}},
	"F":     {{1, none}, {0.1, milli}, {1e-6, micro}, {0, nano}},
	"H":     {{1, none}, {1e-3, milli}, {1e-7, micro}, {0, nano}},
	"ohm/m": {{1, none}, {1e-5, milli}, {0, micro}},
	"V/K":   {{1, none}, {1e-4, milli}, {0, micro}},
	"s":     {{1, none}, {1e-4, milli}, {0, micro}},
}

// printed is a unit's symbol as people write it, where it differs.
var printed = map[string]string{
	"ohm": "Ω", "ohm/m": "Ω/m", "mm2": "mm²", "degC": "°C", "W/m2": "W/m²", "m3/h": "m³/h", "A2s": "A²s", "1": "",
}

// plainForm prints u without a prefix. A unit that has no name is turned to
// bases with scale one.
func plainForm(u Unit, s Style) form {
	symbol := u.Symbol()
	if symbol == "" {
		return spelt(u)
	}
	if s.US {
		switch {
		case u.Same(MustUnit("degC")):
			return form{by: 1.8, add: 32, symbol: "°F"}
		case u.Same(MustUnit("K")):
			return form{by: 1.8, symbol: "°F"}
		case u.Same(MustUnit("m")):
			return form{by: 1 / foot, symbol: "ft"}
		case u.Same(MustUnit("Nm")):
			return form{by: 1 / (poundForce * inch), symbol: "in-lb"}
		}
	}
	if p, ok := printed[symbol]; ok {
		return form{by: 1, symbol: p, area: symbol == "mm2"}
	}
	return form{by: 1, symbol: symbol}
}

// formFor prints v with the prefix that fits.
func formFor(v float64, u Unit, s Style) form {
	symbol := u.Symbol()
	a := math.Abs(v)
	f := plainForm(u, s)
	switch symbol {
	case "m":
		return lengthForm(a, s)
	case "min":
		if a < 1 {
			return form{by: 60, symbol: "s"}
		}
	case "h":
		switch {
		case a < 1.0/60:
			return form{by: 3600, symbol: "s"}
		case a < 1:
			return form{by: 60, symbol: "min"}
		case a >= 72:
			return form{by: 1.0 / 24, symbol: "days"}
		}
	}
	for _, r := range ladders[symbol] {
		// What rounds up to the rung is on it: 0.9996 V is 1 V, not 1000 mV.
		if a >= r.from*0.9995 && a > 0 {
			return form{by: 1 / r.pow, symbol: r.sign + f.symbol}
		}
	}
	return f
}

func lengthForm(a float64, s Style) form {
	switch {
	case s.US && a < foot:
		return form{by: 1 / inch, symbol: "in"}
	case s.US:
		return form{by: 1 / foot, symbol: "ft"}
	case a >= 1 || a == 0:
		return form{by: 1, symbol: "m"}
	case a >= 0.1:
		return form{by: 100, symbol: "cm"}
	}
	return form{by: 1000, symbol: "mm"}
}

// spelt prints a unit without a name in its bases: V²/m.
func spelt(u Unit) form {
	by := u.Scale
	u.Scale = 1
	symbol := printedBases.Replace(u.String())
	if n := u.Symbol(); n != "" {
		if p, ok := printed[n]; ok {
			symbol = p
		}
	}
	return form{by: by, symbol: symbol}
}

var printedBases = strings.NewReplacer("2", "²", "3", "³")

// inParts prints what is said in two units: 3 ft 6 in, 1 h 30 min.
func inParts(v float64, u Unit, s Style) (string, bool) {
	a := math.Abs(v)
	sign := ""
	if v < 0 {
		sign = "-"
	}
	switch u.Symbol() {
	case "m":
		// Inches mean nothing on a long run, and under a foot there are no feet.
		if inches := math.Round(a / inch); s.US && inches >= 12 && inches < 12*30 {
			return sign + two(inches, 12, "ft", "in"), true
		}
	case "s":
		if secs := math.Round(a); secs >= 120 && secs < 3600 {
			return sign + two(secs, 60, "min", "s"), true
		}
		if a >= 3600 && a < 72*3600 {
			return sign + two(math.Round(a/60), 60, "h", "min"), true
		}
	case "min":
		if mins := math.Round(a); mins > 120 && mins < 72*60 {
			return sign + two(mins, 60, "h", "min"), true
		}
	}
	return "", false
}

// two writes n small units as large and small ones.
func two(n, per float64, large, small string) string {
	whole := math.Floor(n / per)
	if rest := n - whole*per; rest > 0 {
		return fmt.Sprintf("%.0f %s %.0f %s", whole, large, rest, small)
	}
	return fmt.Sprintf("%.0f %s", whole, large)
}
