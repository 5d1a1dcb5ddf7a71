package quantity

import "strings"

// item is a figure and what stands between it and the next one.
type item struct {
	figure
	raw  string
	tail string // unit and signs, spaces kept
}

// mostItems is more figures than the longest reading has (3 ft 6 1/2 in).
const mostItems = 5

// scan cuts text into figures and what follows each. Text before the first
// figure may be a unit (V = 12.6, AWG 10, #10).
func (r *reader) scan(s string) ([]item, *AskBack) {
	start := 0
	for start < len(s) && !figureAt(s, start) {
		start++
	}
	if start == len(s) {
		return nil, r.unclear()
	}
	lead := strings.TrimRight(strings.TrimSpace(s[:start]), "=: ")
	s = s[start:]
	var items []item
	for s != "" {
		raw, rest := scanNumber(s)
		end := 0
		for end < len(rest) && !figureAt(rest, end) {
			end++
		}
		items = append(items, item{figure: readFigure(raw), raw: raw, tail: rest[:end]})
		s = rest[end:]
		if len(items) > mostItems {
			return nil, r.ask("Those are several figures, and I need one, such as " + r.k.example() + ".")
		}
	}
	if lead == "" {
		return items, nil
	}
	return r.leadUnit(lead, items)
}

// figureAt says that a figure starts at i.
func figureAt(s string, i int) bool {
	if isDigit(s[i]) {
		return true
	}
	return (s[i] == '.' || s[i] == ',') && i+1 < len(s) && isDigit(s[i+1]) && (i == 0 || !isDigit(s[i-1]))
}

// leadUnit takes a unit, or the letter a formula has for the quantity, typed
// before the figure.
func (r *reader) leadUnit(lead string, items []item) ([]item, *AskBack) {
	last := &items[len(items)-1]
	if signed := strings.TrimSuffix(lead, "-"); signed != lead && signed != "" && !r.neg {
		r.neg = true
		lead = strings.TrimRight(signed, "=: ")
	}
	unit := strings.TrimSpace(last.tail)
	if letter := formulaLetters[r.k.ID]; letter != "" && lead == letter {
		return items, nil
	}
	if r.k.ID == "area" {
		switch strings.ToLower(strings.TrimRight(lead, ". ")) {
		case "#", "no", "number", "size", "awg", "awg #", "gauge", "awg no":
			if unit == "" {
				last.tail = "awg"
			}
			if unit == "" || findUnit(unit, r.k).gauge {
				return items, nil
			}
		}
	}
	if f := findUnit(lead, r.k); unit == "" && f.ok && !f.gauge {
		last.tail = lead
		return items, nil
	}
	return nil, r.unclear()
}

// formulaLetters are the letters of quantities, in the case of formulas.
var formulaLetters = map[string]string{"volts": "U", "amps": "I", "ohms": "R", "watts": "P"}
