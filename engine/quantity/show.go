package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Style is how values are written.
type Style struct {
	US    bool // °F, feet and inches, inch-pounds, gauges beside mm²
	ASCII bool // no sign outside ASCII: ohm, u, C, +/-, mm2
}

// NotKnown is printed for what is no number.
const NotKnown = "not known"

// Show writes a value in unit u the way people say it: 12.6 V, 180 mV, 4.3 mΩ,
// 54 °C, 3 ft 6 in. Two or three digits; volts from one up keep hundredths, as a
// battery is judged by them. NaN and infinite values are "not known". Use
// ShowTyped for repeating what was typed, ShowExact for standard sizes.
func Show(v float64, u Unit, s Style) string {
	if !finite(v) {
		return NotKnown
	}
	if t, ok := inParts(v, u, s); ok {
		return s.sign(t)
	}
	f := formFor(v, u, s)
	x := f.of(v)
	return f.withGauge(f.write(trim(x, f.sensible(x)), s), v, s)
}

// ShowTyped writes a value to the worth of the last digit typed, so that a
// person finds the figure they typed: 4.27 A where Show says 4.3 A.
func ShowTyped(v, digit float64, u Unit, s Style) string {
	if !finite(v) {
		return NotKnown
	}
	if t, ok := inParts(v, u, s); ok {
		return s.sign(t)
	}
	f := formFor(v, u, s)
	x := f.of(v)
	if d := f.size(digit); d > 0 && finite(d) {
		return f.withGauge(f.write(trim(x, min(max(decimalsFor(d), f.sensible(x)), mostDecimals)), s), v, s)
	}
	return f.withGauge(f.write(trim(x, f.sensible(x)), s), v, s)
}

// ShowWithin writes a value and how far off it may be, rounded to what the
// latter allows: 4.3 ± 0.2 mΩ. Without a usable half it is Show.
func ShowWithin(v, half float64, u Unit, s Style) string {
	half = math.Abs(half)
	if !finite(v) || !finite(half) || half == 0 {
		return Show(v, u, s)
	}
	lead := v
	if math.Abs(v) < half {
		lead = half
	}
	f := formFor(lead, u, s)
	x, h := f.of(v), f.size(half)
	d := uncertainDecimals(h)
	pm := " ± "
	if s.ASCII {
		pm = " +/- "
	}
	return f.write(fixed(x, d)+pm+fixed(roundUp(h, d), d), s)
}

// ShowAround writes a value and how far off it may be with the digits that the
// value is worth: 20.4 ± 2.9 mV, where ShowWithin says 20 ± 3 mV. It is for
// holding the value against a limit.
func ShowAround(v, half float64, u Unit, s Style) string {
	half = math.Abs(half)
	if !finite(v) || !finite(half) || half == 0 {
		return Show(v, u, s)
	}
	f := formFor(max(math.Abs(v), half), u, s)
	if v < 0 {
		f = formFor(min(v, -half), u, s)
	}
	x, h := f.of(v), f.size(half)
	d := max(uncertainDecimals(h), f.sensible(x))
	pm := " ± "
	if s.ASCII {
		pm = " +/- "
	}
	return f.write(fixed(x, d)+pm+fixed(roundUp(h, d), d), s)
}

// ShowExact writes a standard size as it stands on the part: 60 A, 2.5 mm²,
// 0.75 mm². It shifts no prefix and rounds nothing.
func ShowExact(v float64, u Unit, s Style) string {
	if !finite(v) {
		return NotKnown
	}
	f := plainForm(u, s)
	// Seven figures clear what arithmetic leaves behind (33.600000000000001).
	x, _ := strconv.ParseFloat(strconv.FormatFloat(f.of(v), 'g', 7, 64), 64)
	text := trim(x, mostDecimals)
	if u.Like(MustUnit("mm2")) {
		text = trim(x, 3)
		if _, ok := awgExact(v * u.Scale / MustUnit("mm2").Scale); ok && s.US {
			text = trim(x, 2)
		}
	}
	return f.withGauge(f.write(text, s), v, s)
}

// ShowAtLeast writes a size to buy: in US style a wire area is the thinnest
// gauge kept by shops that has it, with its area, 2 AWG (33.6 mm²); all else is
// Show. It must not be used for a wire that is there: it may flatter it.
func ShowAtLeast(v float64, u Unit, s Style) string {
	mm2 := MustUnit("mm2")
	if s.US && finite(v) && v > 0 && u.Like(mm2) {
		if n, ok := AWGAtLeast(v * u.Scale / mm2.Scale); ok {
			return Show(AWGArea(n), mm2, s)
		}
	}
	return Show(v, u, s)
}

const mostDecimals = 9

// sensible is how many decimals x, in the unit printed, is worth.
func (f form) sensible(x float64) int {
	a := math.Abs(x)
	switch {
	case f.symbol == "V" && a >= 1 && a < 100, f.area && a >= 1 && a < 10:
		return 2
	case a >= 99.95 || a == 0:
		return 0
	case a >= 2:
		return 1
	case a >= 1:
		return 2 // 1.25: one decimal would be off by 4 %
	}
	return min(1-int(math.Floor(math.Log10(a))), 18)
}

func decimalsFor(digit float64) int {
	return max(0, int(math.Ceil(-math.Log10(digit)-1e-6)))
}

// uncertainDecimals keeps one figure of the uncertainty, two if it starts with a
// one (0.15 rounded to 0.2 would be a third more).
func uncertainDecimals(half float64) int {
	e := int(math.Floor(math.Log10(half) + 1e-12))
	if half/math.Pow(10, float64(e)) < 2 {
		e--
	}
	return min(-e, mostDecimals+9)
}

// roundUp rounds an uncertainty away from zero, as it is a limit; what
// arithmetic leaves behind doesn't count.
func roundUp(h float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	return math.Ceil(h*p-1e-6) / p
}

// fixed keeps the decimals; below zero decimals it rounds to tens and more.
func fixed(x float64, decimals int) string {
	if decimals < 0 {
		p := math.Pow(10, float64(-decimals))
		x, decimals = math.Round(x/p)*p, 0
	}
	return noMinusZero(strconv.FormatFloat(x, 'f', decimals, 64))
}

// trim rounds to decimals and drops zeros after the point.
func trim(x float64, decimals int) string {
	if math.Abs(x) >= 1e15 {
		return strconv.FormatFloat(x, 'g', 3, 64)
	}
	t := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(strings.TrimRight(t, "0"), ".")
	}
	return noMinusZero(t)
}

func noMinusZero(t string) string {
	if strings.Trim(t, "-0.") == "" {
		return strings.TrimPrefix(t, "-")
	}
	return t
}

var asciiSigns = strings.NewReplacer("Ω", "ohm", "µ", "u", "°", "", "²", "2", "³", "3", "±", "+/-", "×", "x", "·", "*")

func (s Style) sign(t string) string {
	if s.ASCII {
		return asciiSigns.Replace(t)
	}
	return t
}
