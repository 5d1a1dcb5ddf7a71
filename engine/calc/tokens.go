package calc

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"hotlug/engine/formula"
	"hotlug/engine/pattern"
	"hotlug/engine/quantity"
)

// token is a piece of typed arithmetic. A value has a place in the list of
// values; all else is handed to the formula as it stands.
type token struct {
	is   tokenKind
	text string
	at   int // of a value: which one
}

type tokenKind int8

const (
	sign    tokenKind = iota // + - * / ^ < > = ? :
	opens                    // ( or [
	closes                   // ) or ]
	comma                    // between the values of a function
	word                     // a function's name, or what the formula will refuse
	quoted                   // a word of a choice
	literal                  // a value
)

// reader cuts typed arithmetic into tokens.
type reader struct {
	text   string
	scope  *formula.Scope
	out    []token
	values []value
	calls  []bool // the brackets that are open: true for those of a function
	about  bool   // the next value was said to be rough
}

const mostValues = 60

var (
	signs = map[string]string{"×": "*", "·": "*", "∙": "*", "÷": "/", "−": "-", "–": "-", "≤": "<=", "≥": ">="}

	figure   = pattern.Of(`^(?:[0-9]+ [0-9]{1,2}/[0-9]{1,2}|[0-9]*[.,]?[0-9]+(?:[.,][0-9]+)*(?:[eE][-+]?[0-9]{1,2})?)`)
	pointed  = pattern.Of(`^[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]{1,2})?`)
	gaugeNow = pattern.Of(`^(?i:[1-4]/0 ?(?:awg|gauge|ga))\b`)
	units    = pattern.Of(`^ ?(?:[\pL°%Ω'"]+[23²³]?(?:\^[23])?(?:[-·]\pL+)?(?:/[\pL°]+[23²³]?)?)`)
	name     = pattern.Of(`^[\pL_][\pL\pN_]*`)
	dashed   = pattern.Of(`^[\pL_][\pL\pN_.]*(?:-[\pL\pN_.]+)*`)
)

// read cuts the whole text.
func (r *reader) read() error {
	for i := 0; i < len(r.text); {
		n, err := r.next(r.text[i:])
		if err != nil {
			return err
		}
		i += n
	}
	return nil
}

func (r *reader) next(s string) (int, error) {
	c, size := utf8.DecodeRuneInString(s)
	switch {
	case c == ' ':
		return size, nil
	case c == ',':
		if r.inCall() || !figure.MatchString(s) {
			r.add(comma, ",")
			return size, nil
		}
		return r.figure(s)
	case c == '~':
		r.about = true
		return size, nil
	case c == '²' || c == '³':
		r.add(sign, "^")
		power := map[rune]string{'²': "2", '³': "3"}[c]
		if _, err := r.figure(power); err != nil {
			return 0, err
		}
		return size, nil
	case figure.MatchString(s):
		return r.figure(s)
	case c == '\'' || c == '"':
		end := strings.IndexRune(s[1:], c)
		if end < 0 {
			return 0, fmt.Errorf("a quoted word has no end: put %c behind it", c)
		}
		r.add(quoted, "'"+s[1:end+1]+"'")
		return end + 2, nil
	case name.MatchString(s):
		return r.word(s)
	case c == '(' || c == '[':
		last := r.last()
		r.calls = append(r.calls, last != nil && last.is == word)
		r.add(opens, string(c))
	case c == ')' || c == ']':
		if n := len(r.calls); n > 0 {
			r.calls = r.calls[:n-1]
		}
		r.add(closes, string(c))
	default:
		t := string(c)
		if len(s) > 1 && s[1] == '=' && strings.ContainsRune("<>=!", c) {
			t, size = s[:2], 2
		}
		if to := signs[t]; to != "" {
			t = to
		}
		r.add(sign, t)
	}
	return size, nil
}

func (r *reader) add(is tokenKind, text string) { r.out = append(r.out, token{is: is, text: text}) }

func (r *reader) last() *token {
	if len(r.out) == 0 {
		return nil
	}
	return &r.out[len(r.out)-1]
}

// behindValue says that what comes next must be a sign.
func (r *reader) behindValue() bool {
	l := r.last()
	return l != nil && (l.is == literal || l.is == closes || l.is == quoted)
}

func (r *reader) called() bool {
	for _, c := range r.calls {
		if c {
			return true
		}
	}
	return false
}

// inCall says that the innermost open bracket is a function's.
func (r *reader) inCall() bool { return len(r.calls) > 0 && r.calls[len(r.calls)-1] }

// word is a function, a word of a choice, x for times, or something unknown.
func (r *reader) word(s string) (int, error) {
	long, plain := dashed.FindString(s), name.FindString(s)
	switch w := fold(plain); {
	case w == "x" && r.behindValue():
		r.add(sign, "*")
		return len(plain), nil
	case w == "about" || w == "roughly":
		r.about = true
		return len(plain), nil
	}
	for try := long; len(try) >= len(plain); {
		if f, ok := r.scope.Func(fold(try)); ok && strings.HasPrefix(strings.TrimLeft(s[len(try):], " "), "(") {
			r.add(word, f.Name)
			return len(try), nil
		}
		if c, ok := choice(r.scope, try); ok {
			r.add(quoted, "'"+c+"'")
			return len(try), nil
		}
		cut := strings.LastIndexByte(try, '-')
		if cut < 0 {
			break
		}
		try = try[:cut]
	}
	if f, ok := r.scope.Func(plain); ok { // degC keeps its capital
		r.add(word, f.Name)
		return len(plain), nil
	}
	if _, err := readAny("1 " + plain); err == nil && !formula.Reserved(plain) {
		return 0, fmt.Errorf("%s has no figure in front of it: write it such as 12 %s", plain, plain)
	}
	r.add(word, plain)
	return len(plain), nil
}

// choice finds the word of some function's choice.
func choice(s *formula.Scope, typed string) (string, bool) {
	for _, f := range s.Funcs() {
		for _, p := range f.Params {
			for _, c := range p.Choices {
				if fold(c) == fold(typed) {
					return c, true
				}
			}
		}
	}
	return "", false
}

// figure takes a value with the unit that follows it.
func (r *reader) figure(s string) (int, error) {
	if r.behindValue() {
		return 0, fmt.Errorf("at %q two values stand side by side: put a sign between them", short(s))
	}
	if len(r.values) == mostValues {
		return 0, fmt.Errorf("that is more than %d values: work it out in parts", mostValues)
	}
	v, n, err := r.value(s)
	if err != nil {
		return 0, err
	}
	text := v.text
	if v.kind.Unit.Point && r.unaryMinus() {
		// A temperature can't be turned round, so the sign is part of it.
		if again, err := readAny("-" + s[:n]); err == nil {
			v, text = again, again.text
			r.out = r.out[:len(r.out)-1]
		}
	}
	v.exact = v.exact || r.called()
	if r.about {
		v.typed.About, r.about, text = true, false, "about "+text
	}
	r.out = append(r.out, token{is: literal, text: text, at: len(r.values)})
	v.text = text
	r.values = append(r.values, v)
	return n, nil
}

func (r *reader) unaryMinus() bool {
	n := len(r.out)
	if n == 0 || r.out[n-1].is != sign || r.out[n-1].text != "-" {
		return false
	}
	return n == 1 || r.out[n-2].is == sign || r.out[n-2].is == opens || r.out[n-2].is == comma
}

// value reads the longest value at the start of s, and says how long it is.
func (r *reader) value(s string) (value, int, error) {
	if g := gaugeNow.FindString(s); g != "" {
		v, err := readAny(g)
		return v, len(g), err
	}
	fig := figure.FindString(s)
	if r.inCall() {
		fig = pointed.FindString(s) // the comma parts the values of a function
	}
	if fig == "" {
		fig = figure.FindString(s)
	}
	ends := []int{}
	for end := len(fig); len(ends) < 3; {
		u := units.FindString(s[end:])
		if u == "" {
			break
		}
		if cut := strings.IndexAny(u, "-/"); cut > 0 { // the sign may be one of arithmetic
			ends = append(ends, end+cut)
		}
		end += len(u)
		ends = append(ends, end)
	}
	var first error
	for i := len(ends) - 1; i >= 0; i-- {
		if goesOn(s[ends[i]:]) {
			continue
		}
		v, err := readAny(s[:ends[i]])
		if err == nil {
			return r.compound(s, v, ends[i])
		}
		if i == 0 {
			first = err
		}
	}
	if len(ends) > 0 && !wordSign(s[len(fig):]) {
		if first != nil {
			return value{}, 0, first
		}
		_, err := readAny(fig + units.FindString(s[len(fig):]))
		return value{}, 0, err
	}
	ratio := kindOf(quantity.One)
	t, err := quantity.Read(fig, ratio)
	if err != nil {
		return value{}, 0, asked(err)
	}
	return value{text: fig, kind: ratio, typed: t, bare: true}, len(fig), nil
}

// compound goes on over a second figure where the two are one value: 3 ft 6 in.
func (r *reader) compound(s string, v value, end int) (value, int, error) {
	rest := s[end:]
	skip := len(rest) - len(strings.TrimLeft(rest, " "))
	fig := figure.FindString(rest[skip:])
	if fig == "" {
		return v, end, nil
	}
	to := end + skip + len(fig)
	if u := units.FindString(s[to:]); u != "" && !goesOn(s[to+len(u):]) {
		to += len(u)
	}
	again, err := readAs(s[:to], v.kind.Unit)
	if err != nil {
		return value{}, 0, fmt.Errorf("at %q two values stand side by side: put a sign between them", short(s))
	}
	return again, to, nil
}

// goesOn says that a word goes on, so that what stands before is no unit.
func goesOn(s string) bool {
	c, _ := utf8.DecodeRuneInString(s)
	return c == '_' || c == '(' || c >= '0' && c <= '9' || name.MatchString(s)
}

// wordSign says that a word of the language follows, and no unit.
func wordSign(s string) bool {
	w := name.FindString(strings.TrimLeft(s, " "))
	switch w {
	case "and", "or", "not", "in", "x", "X":
		return true
	}
	return false
}

// fold makes names alike: dashes are underscores, and capitals count for nothing.
func fold(s string) string {
	return strings.ToLower(strings.ReplaceAll(strings.TrimSpace(s), "-", "_"))
}

// short is the beginning of a text, for repeating it in a sentence.
func short(s string) string {
	s = strings.TrimSpace(s)
	if r := []rune(s); len(r) > 20 {
		return string(r[:20]) + "..."
	}
	return s
}
