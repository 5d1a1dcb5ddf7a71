package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Typed is a value as a person typed it.
type Typed struct {
	Value float64 // in the unit of the kind
	Digit float64 // worth of the last digit typed, in the same unit; always > 0
	Text  string  // as typed, without the spaces around it
	About bool    // said to be rough
	AC    bool    // typed with "AC"
	AWG   string  // the gauge if one was typed, as printed on a wire: "10", "2/0"
}

// Read reads a value of kind k in text that a person typed. A bare number is in
// the unit of k; a unit typed with it is converted. The error is an *AskBack:
// text that is empty, too long, no figure, of another kind, a range, more than
// one figure, or that could mean two things (1,260; a bare 10 for a wire, which
// may be mm² or a gauge). Value and Digit are never NaN or infinite.
func Read(text string, k Kind) (Typed, error) {
	r := reader{text: strings.TrimSpace(text), k: k}
	t, ask := r.read()
	if ask != nil {
		return Typed{}, ask
	}
	if !finite(t.Value) || !finite(t.Digit) || t.Digit <= 0 {
		return Typed{}, r.ask("That figure is beyond anything a meter shows. Type it again, such as " + k.example() + ".")
	}
	t.Text = r.text
	return t, nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func itoa(i int) string { return strconv.Itoa(i) }

// reader reads one text.
type reader struct {
	text   string
	k      Kind
	about  bool
	neg    bool
	again  bool // letters were already read as figures once
	trying bool // only to see whether a suggestion is taken
}

// ask asks back. What is suggested must be taken when it is typed.
func (r *reader) ask(say string, suggest ...string) *AskBack {
	a := &AskBack{Text: r.text, Say: say}
	for _, s := range suggest {
		if r.trying {
			break
		}
		try := reader{text: s, k: r.k, again: true, trying: true}
		if _, ask := try.read(); ask == nil {
			a.Suggest = append(a.Suggest, s)
		}
	}
	return a
}

// unclear is the answer to text that has no reading in it.
func (r *reader) unclear() *AskBack {
	return r.ask("I can't read a value in \"" + quote(r.text) + "\". Type it such as " + r.k.example() + ".")
}

// in writes a figure with the unit of the kind, as a suggestion.
func (r *reader) in(figure string) string {
	s := ""
	if r.neg {
		s = "-"
	}
	return strings.TrimSpace(s + figure + " " + r.k.Unit.Symbol())
}

func (r *reader) read() (Typed, *AskBack) {
	s, say := plainText(r.text)
	if say != "" {
		return Typed{}, r.ask(say)
	}
	if s == "" {
		return Typed{}, r.ask("Nothing was typed. Type a value such as " + r.k.example() + ".")
	}
	if ask := r.overRange(s); ask != nil {
		return Typed{}, ask
	}
	s, r.about = stripWords(s)
	if hasBound(s) {
		return Typed{}, r.ask("That is a bound, and I need the one figure that the meter shows.")
	}
	if t, ok := strings.CutSuffix(s, "?"); ok {
		if u, err := Read(t, r.k); err == nil {
			return Typed{}, r.ask("If you are not sure of it, look again, or say about.", u.Text, "about "+u.Text)
		}
		return Typed{}, r.unclear()
	}
	s = r.sign(spellDigits(s))
	items, ask := r.scan(s)
	if ask != nil {
		if better := r.lettersForDigits(s); better != nil {
			return Typed{}, better
		}
		return Typed{}, ask
	}
	t, ask := r.join(items)
	if ask != nil {
		if better := r.lettersForDigits(s); better != nil {
			return Typed{}, better
		}
		return Typed{}, ask
	}
	t.About = r.about
	return t, nil
}

// overRange knows the letters a meter shows when it can't show a figure.
func (r *reader) overRange(s string) *AskBack {
	switch strings.ToUpper(strings.ReplaceAll(strings.ReplaceAll(s, " ", ""), ".", "")) {
	case "OL", "0L", "OFL", "OVERLOAD", "1---":
		return r.ask("OL means that the meter can't show it: nothing connects there, or its range is too small. Choose a higher range, or say that you can't get it.")
	case "NAN", "INF", "INFINITY", "∞", "+INF", "-INF":
		return r.ask("That is no figure. Type what the meter shows, such as " + r.k.example() + ".")
	}
	return nil
}

func (r *reader) sign(s string) string {
	for _, w := range []string{"minus ", "negative "} {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			r.neg = true
			return s[len(w):]
		}
	}
	if len(s) > 5 && strings.EqualFold(s[:5], "plus ") {
		return s[5:]
	}
	if t, ok := strings.CutPrefix(s, "-"); ok {
		r.neg = true
		return strings.TrimLeft(t, " ")
	}
	return strings.TrimLeft(strings.TrimPrefix(s, "+"), " ")
}

// lettersForDigits sees the letters O, l and I typed for 0 and 1. What it would
// read is suggested, never taken.
func (r *reader) lettersForDigits(s string) *AskBack {
	if r.again {
		return nil
	}
	b := []byte(s)
	changed := false
	for i, c := range b {
		fig := byte(0)
		switch c {
		case 'O', 'o':
			fig = '0'
		case 'l', 'I', '|':
			fig = '1'
		}
		if fig != 0 && (beside(b, i-1) || beside(b, i+1)) {
			b[i], changed = fig, true
		}
	}
	if !changed {
		return nil
	}
	again := reader{text: string(b), k: r.k, again: true, trying: true}
	if _, ask := again.read(); ask != nil {
		return nil
	}
	text := string(b)
	if r.neg {
		text = "-" + text
	}
	if raw, rest := scanNumber(string(b)); raw != "" && rest == "" {
		text = r.in(raw)
	}
	return r.ask("There is a letter among the figures of \""+quote(r.text)+"\". Type the figure again.", text)
}

func beside(b []byte, i int) bool {
	return i >= 0 && i < len(b) && (isDigit(b[i]) || b[i] == '.' || b[i] == ',')
}
