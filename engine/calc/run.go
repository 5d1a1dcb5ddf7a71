package calc

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/pattern"
	"hotlug/engine/quantity"
	"hotlug/engine/shape"
)

// MaxText is the longest text that is looked at, in bytes.
const MaxText = 400

// Options say how to print, and how well the values are known.
type Options struct {
	Style quantity.Style
	Meter string // id of a meter class whose error the values carry; "" for none
}

// Result is a computation with its working.
type Result struct {
	Text     string  `json:"text"`               // what was asked, without = or calc
	Function string  `json:"function,omitempty"` // of a call by name
	Title    string  `json:"title,omitempty"`
	Inputs   []Input `json:"inputs,omitempty"`
	Formula  string  `json:"formula,omitempty"` // what the functions in it say: "U = 2·I·l·r"
	Numbers  string  `json:"numbers"`           // with the numbers put in: "0.180 V / 42.0 A"
	Result   string  `json:"result"`            // "4.29 mΩ", "yes", "next standard: 60 A"
	// Value, Low and High are in Unit. They are missing where there is no number,
	// Low and High also where the result has no limits.
	Value  *float64 `json:"value,omitempty"`
	Low    *float64 `json:"low,omitempty"`
	High   *float64 `json:"high,omitempty"`
	Unit   string   `json:"unit,omitempty"`
	Source string   `json:"source,omitempty"`
	Domain string   `json:"holds_for,omitempty"`
	Notes  []string `json:"notes,omitempty"` // what was taken, what the result does not say

	ascii bool
}

// Input is a value of a call by name.
type Input struct {
	Name  string   `json:"name"`
	Typed string   `json:"typed"`
	Shown string   `json:"shown"` // the word of a choice as it is in the registry
	Value *float64 `json:"value,omitempty"`
	Unit  string   `json:"unit,omitempty"`
	Usual bool     `json:"usual,omitempty"` // not given, so the usual value was taken
}

// UsageError says that a call is incomplete or names what there is not, as
// against a value that can't be used.
type UsageError struct{ Say string }

func (e *UsageError) Error() string { return e.Say }

func usagef(format string, a ...any) error { return &UsageError{fmt.Sprintf(format, a...)} }

// Run works out text: "= 0.18 V / 42 A", or a function with its values,
// "wire-drop amps=80 run=3m size=25mm2", with or without "calc" in front. The
// error is a sentence: a *UsageError, what quantity.Read asks back, a problem of
// the formula, or what lies outside the function's domain.
func Run(funcs []*formula.Func, text string, o Options) (Result, error) {
	text, err := cleaned(text)
	if err != nil {
		return Result{}, err
	}
	scope := formula.NewScope(funcs)
	body := withoutCalc(text)
	switch {
	case body == "" || body == "=":
		return Result{}, usagef("nothing to work out: write it such as = 0.18 V / 42 A, or wire-drop amps=80 run=3m size=25mm2")
	case body[0] == '=':
		return free(scope, strings.TrimSpace(body[1:]), o)
	}
	head := headWord.FindString(body)
	if head == "" || strings.HasPrefix(strings.TrimLeft(body[len(head):], " "), "(") {
		return free(scope, body, o)
	}
	return byName(scope, head, body[len(head):], o)
}

var headWord = pattern.Of(`^[A-Za-z_][A-Za-z0-9_-]*`)

// cleaned is text on one line with plain spaces, if it is short enough.
func cleaned(text string) (string, error) {
	if len(text) > MaxText {
		return "", fmt.Errorf("that is longer than %d letters: work it out in parts", MaxText)
	}
	text = strings.ToValidUTF8(text, "?")
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == 0xa0 || r == 0x202f || r == 0x2009 {
			return ' '
		}
		return r
	}, text)
	return strings.TrimSpace(text), nil
}

func withoutCalc(text string) string {
	if w, rest, _ := strings.Cut(text, " "); strings.EqualFold(w, "calc") {
		return strings.TrimSpace(rest)
	}
	return text
}

// free works out typed arithmetic.
func free(scope *formula.Scope, text string, o Options) (Result, error) {
	r := &reader{text: text, scope: scope}
	if text == "" {
		return Result{}, usagef("nothing to work out: write it such as = 0.18 V / 42 A")
	}
	if err := r.read(); err != nil {
		return Result{}, err
	}
	oneTime(r.values)
	res := Result{Text: text, Numbers: r.shown(o.Style), ascii: o.Style.ASCII}
	f, vals, err := compile(scope, r.source(), r.values, o)
	if err != nil {
		return Result{}, err
	}
	digits := 6
	for _, v := range r.values {
		if !v.bare {
			digits = 3
		}
	}
	if err := res.work(f, vals, o, digits); err != nil {
		return Result{}, named(err, r.values)
	}
	for _, fn := range f.Funcs() {
		if fn.Area != "plain" {
			res.Domain = strings.TrimPrefix(res.Domain+"; "+fn.Name+": "+fn.Domain, "; ")
		}
	}
	return res, nil
}

// oneTime brings hours beside minutes and seconds to hours.
func oneTime(values []value) {
	hours, _ := quantity.KindByID("hours")
	seen := map[string]bool{}
	for _, v := range values {
		if !v.bare && v.kind.Unit.Like(hours.Unit) {
			seen[v.kind.ID] = true
		}
	}
	if len(seen) < 2 {
		return
	}
	for i := range values {
		if v := &values[i]; !v.bare && v.kind.Unit.Like(hours.Unit) {
			by := v.kind.Unit.Scale / hours.Unit.Scale
			v.typed.Value, v.typed.Digit, v.kind = v.typed.Value*by, v.typed.Digit*by, hours
		}
	}
}

// source is the text for the formula: values with a unit become names.
func (r *reader) source() string {
	var b strings.Builder
	for i, t := range r.out {
		if t.is != literal {
			b.WriteString(t.text + " ")
			continue
		}
		v := r.values[t.at]
		s := valueName(t.at)
		if v.bare {
			s = strconv.FormatFloat(v.typed.Value, 'f', -1, 64)
		} else if v.kind.ID == "percent" && r.multiplied(i) {
			s = "part(" + s + ")"
		}
		b.WriteString(s + " ")
	}
	return b.String()
}

// multiplied says that token i is a factor, or stands under a line: a percentage
// there means its part of the other.
func (r *reader) multiplied(i int) bool {
	is := func(k int, texts string) bool {
		return k >= 0 && k < len(r.out) && r.out[k].is == sign && strings.Contains(texts, r.out[k].text)
	}
	return is(i-1, "*/") || is(i+1, "*")
}

func valueName(i int) string { return "v_" + strconv.Itoa(i) }

var valueNames = pattern.Of(`\bv_([0-9]+)\b`)

// named puts what was typed in place of the names that stood for it.
func named(err error, values []value) error {
	say := valueNames.ReplaceAllStringFunc(err.Error(), func(n string) string {
		if i, e := strconv.Atoi(n[2:]); e == nil && i < len(values) {
			return values[i].text
		}
		return n
	})
	return fmt.Errorf("%s", say)
}

// shown is the arithmetic as it was typed, evenly spaced.
func (r *reader) shown(s quantity.Style) string {
	var b strings.Builder
	for i, t := range r.out {
		switch {
		case t.is == comma:
			b.WriteString(", ")
		case t.is == word && t.text != "" && i+1 < len(r.out) && r.out[i+1].is == opens, t.is == opens, t.is == closes:
			b.WriteString(t.text)
		case t.is == sign && t.text == "^":
			b.WriteString(t.text)
		case t.is == sign && (i == 0 || r.out[i-1].is == sign || r.out[i-1].is == opens || r.out[i-1].is == comma):
			b.WriteString(t.text)
		case t.is == sign && t.text == "*" && !s.ASCII:
			b.WriteString(" × ")
		case t.is == sign || t.is == word:
			b.WriteString(" " + t.text + " ")
		case t.is == literal:
			b.WriteString(r.inBrackets(i, r.values[t.at].shown(s)))
		default:
			b.WriteString(t.text)
		}
	}
	return strings.ReplaceAll(b.String(), "  ", " ")
}

// inBrackets keeps a value together where a power or a minus would part it.
func (r *reader) inBrackets(i int, text string) string {
	power := i+1 < len(r.out) && r.out[i+1].text == "^" && strings.Contains(text, " ")
	minus := i > 0 && r.out[i-1].is == sign && strings.HasPrefix(text, "-")
	if power || minus {
		return "(" + text + ")"
	}
	return text
}

// compile builds the formula of src, in which v_0, v_1 are the values.
func compile(scope *formula.Scope, src string, values []value, o Options) (*formula.Formula, []formula.Val, error) {
	for i, v := range values {
		if !v.bare {
			scope.Reading(valueName(i), formula.Type{Class: formula.ClassNumber, Unit: v.kind.Unit})
		}
	}
	f, problems := formula.Compile(src, scope, formula.WantAny())
	if problems == nil {
		if u, better := spokenUnit(f.Type()); better {
			f, problems = formula.Compile(src, scope, formula.WantNumber(u))
		}
	}
	if problems != nil {
		return nil, nil, named(refused(scope, problems), values)
	}
	var vals []formula.Val
	for _, r := range f.Refs() {
		i, _ := strconv.Atoi(strings.TrimPrefix(r.Name, "v_"))
		vals = append(vals, values[i].val(o.Meter))
	}
	return f, vals, nil
}

// spokenUnit is the unit in which people say an energy or a charge that came out
// in watts times minutes or the like.
func spokenUnit(t formula.Type) (quantity.Unit, bool) {
	if t.Class == formula.ClassNumber && t.Unit.Symbol() == "" {
		for _, s := range []string{"Wh", "Ah", "h"} {
			if u := quantity.MustUnit(s); u.Like(t.Unit) {
				return u, true
			}
		}
	}
	return t.Unit, false
}

// refused puts the formula's problems in words for somebody who has no readings.
func refused(scope *formula.Scope, problems []formula.Problem) error {
	var names []string
	for _, f := range scope.Funcs() {
		names = append(names, f.Name)
	}
	var all []string
	for _, p := range problems {
		say := p.Error()
		switch p.Code {
		case formula.CodeName:
			if head, ok := strings.CutSuffix(p.Text, " is not a reading or a worked value"); ok {
				say = head + " is neither a value nor a function; `calc` lists the functions"
				if near := shape.DidYouMean(head, names); near != "" {
					say = head + " is neither a value nor a function; did you mean " + near + "(...)?"
				}
			}
		case formula.CodeTooLong, formula.CodeTooDeep, formula.CodeTooLarge:
			say = p.Text + ": work it out in parts"
		}
		all = append(all, say)
	}
	return fmt.Errorf("%s", strings.Join(all, "; "))
}

// work fills in the result. digits is how many are worth showing of a number
// that is exact.
func (r *Result) work(f *formula.Formula, vals []formula.Val, o Options, digits int) error {
	v, err := f.Eval(vals)
	if err != nil {
		return err
	}
	w := f.Working("", "", vals, formula.Shower{Style: o.Style})
	r.Formula, r.Source, r.Result = w.Law, w.Source, w.Result
	if f.Type().Class != formula.ClassNumber {
		return nil
	}
	u := f.Type().Unit
	if !finite(v.Mid*u.Scale) || !finite(v.Mid) {
		return fmt.Errorf("the result is too large to work with: check the numbers put in")
	}
	r.Value, r.Unit = &v.Mid, u.String()
	half := math.Max(v.Hi-v.Mid, v.Mid-v.Lo)
	limited := finite(v.Lo*u.Scale) && finite(v.Hi*u.Scale) && finite(half)
	if limited {
		r.Low, r.High = &v.Lo, &v.Hi
	} else {
		r.Notes = append(r.Notes, "within the last digits typed it could be anything: what it is divided by may be 0, or a function has no value there")
	}
	if strings.HasPrefix(w.Result, "next standard") || strings.Contains(w.Result, "no standard size") {
		return nil
	}
	switch {
	case limited && half > worthTelling*math.Abs(v.Mid):
		r.Result = quantity.ShowWithin(v.Mid, half, u, o.Style)
	case half > 0:
		r.Result = rounded(v.Mid, 3, u, o.Style)
	default:
		r.Result = rounded(v.Mid, digits, u, o.Style)
	}
	return nil
}

// worthTelling is the share from which an uncertainty shows in three digits.
const worthTelling = 0.005

// rounded is x with so many digits.
func rounded(x float64, digits int, u quantity.Unit, s quantity.Style) string {
	a := math.Abs(x)
	if !(a > 0) {
		return quantity.Show(x, u, s)
	}
	return quantity.ShowTyped(x, math.Pow(10, math.Floor(math.Log10(a))-float64(digits-1)), u, s)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func asError(say string) error { return errors.New(say) }
