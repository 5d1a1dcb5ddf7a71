package quantity

import (
	"math"
	"strconv"
	"strings"
)

// What no meter shows and no label carries is asked back.
const (
	mostDigits = 15   // in one figure
	largest    = 1e12 // as typed
	smallest   = 1e-15
)

// number is a figure as typed, with its digits kept: the last one tells how
// finely it was read.
type number struct {
	digits   string // "12.6", a point at most once
	decimals int    // digits after the point
	exp      int    // power of ten typed with it
}

// value is the figure times 10^shift. The shift is applied to the text, so that
// 12600 mV is exactly 12.6 V.
func (n number) value(shift int) float64 {
	v, err := strconv.ParseFloat(n.digits+"e"+strconv.Itoa(n.exp+shift), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// digit is the worth of the last digit typed, times 10^shift.
func (n number) digit(shift int) float64 {
	v, err := strconv.ParseFloat("1e"+strconv.Itoa(n.exp+shift-n.decimals), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func (n number) whole() bool { return n.decimals == 0 && n.exp == 0 }

// scanNumber takes the figure that text starts with: its raw spelling, "" if
// there is none, and the rest.
func scanNumber(text string) (raw, rest string) {
	i := 0
	for i < len(text) && (isDigit(text[i]) || text[i] == '.' || text[i] == ',') {
		i++
	}
	if strings.Trim(text[:i], ".,") == "" {
		return "", text
	}
	if i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		j := i + 1
		if j < len(text) && (text[j] == '-' || text[j] == '+') {
			j++
		}
		d := j
		for j < len(text) && isDigit(text[j]) {
			j++
		}
		if j > d && j-d <= 2 {
			i = j
		}
	}
	return text[:i], text[i:]
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// figure is the outcome of reading a raw figure: a number, or why not.
type figure struct {
	number
	say  string   // why it can't be taken, "" if it can
	alts []string // figures that may have been meant
}

// readFigure reads a raw figure. A comma may be a decimal sign (ISO 80000-1) or
// part thousands; when it could be either, it says so.
func readFigure(raw string) figure {
	f := figure{}
	mantissa := strings.ToLower(raw)
	if i := strings.IndexByte(mantissa, 'e'); i >= 0 {
		e, err := strconv.Atoi(strings.TrimPrefix(mantissa[i+1:], "+"))
		if err != nil {
			f.say = "the power of ten is not clear"
			return f
		}
		f.exp, mantissa = e, mantissa[:i]
	}
	if strings.Contains(mantissa, "..") {
		f.say = "that reads like a range, and I need one figure"
		return f
	}
	mantissa = strings.TrimRight(mantissa, ".,")
	points, commas := strings.Count(mantissa, "."), strings.Count(mantissa, ",")
	switch {
	case points > 0 && commas > 0:
		plain, ok := ungroup(mantissa)
		if !ok {
			f.say = "the points and commas don't tell one figure"
			return f
		}
		mantissa = plain
	case points > 1:
		f.say = "there is more than one point in it"
		return f
	case commas > 1:
		plain, ok := dropGroups(mantissa, ",")
		if !ok {
			f.say = "there is more than one comma in it"
			return f
		}
		mantissa = plain
	case commas == 1:
		head, tail, _ := strings.Cut(mantissa, ",")
		if len(tail) == 3 && len(head) >= 1 && len(head) <= 3 && head[0] != '0' {
			f.say = "the comma could part thousands or be a decimal sign"
			f.alts = []string{head + tail, head + "." + tail}
			return f
		}
		mantissa = head + "." + tail
	}
	if strings.HasPrefix(mantissa, ".") {
		mantissa = "0" + mantissa
	}
	_, tail, _ := strings.Cut(mantissa, ".")
	f.digits, f.decimals = mantissa, len(tail)
	if len(mantissa) > mostDigits+1 {
		f.say = "that is more digits than a meter shows"
		return f
	}
	if v := f.value(0); math.IsNaN(v) || v > largest || v != 0 && v < smallest {
		f.say = "that is beyond anything a meter shows"
	}
	return f
}

// ungroup reads a figure with both signs: the last one is the decimal sign, the
// other parts groups of three.
func ungroup(s string) (string, bool) {
	group, decimal := ",", "."
	if strings.LastIndex(s, ",") > strings.LastIndex(s, ".") {
		group, decimal = ".", ","
	}
	head, tail, _ := strings.Cut(s, decimal)
	if strings.ContainsAny(tail, ".,") {
		return "", false
	}
	head, ok := dropGroups(head, group)
	return head + "." + tail, ok
}

func dropGroups(s, sep string) (string, bool) {
	parts := strings.Split(s, sep)
	for i, p := range parts {
		if strings.ContainsAny(p, ".,") || i > 0 && len(p) != 3 || i == 0 && (len(p) < 1 || len(p) > 3 || p[0] == '0') {
			return "", false
		}
	}
	return strings.Join(parts, ""), true
}
