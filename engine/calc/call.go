package calc

import (
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/pattern"
	"hotlug/engine/quantity"
	"hotlug/engine/shape"
)

// given is a value of a call by name, before it is read.
type given struct{ name, text string }

var pair = pattern.Of(`(?:^|[\s,;])([A-Za-z][A-Za-z0-9_-]*)\s*=\s*`)

// pairs cuts "amps=80 A, run = 3 m" at the names. What stands before the first
// one is the lead.
func pairs(text string) (lead string, list []given) {
	at := pair.FindAllStringSubmatchIndex(text, -1)
	lead = text
	for i, m := range at {
		if i == 0 {
			lead = text[:m[0]]
		}
		end := len(text)
		if i+1 < len(at) {
			end = at[i+1][0]
		}
		list = append(list, given{text[m[2]:m[3]], strings.Trim(text[m[1]:end], " ,;")})
	}
	return strings.Trim(lead, " ,;"), list
}

// Find is the function of a name, with dashes or underscores.
func Find(funcs []*formula.Func, name string) (*formula.Func, bool) {
	for _, f := range formula.NewScope(funcs).Funcs() {
		if fold(f.Name) == fold(name) {
			return f, true
		}
	}
	return nil, false
}

// byName works out a function with its values.
func byName(scope *formula.Scope, head, rest string, o Options) (Result, error) {
	f, err := find(scope, head)
	if err != nil {
		return Result{}, err
	}
	lead, list := pairs(rest)
	if lead != "" {
		if len(f.Params) != 1 || len(list) > 0 {
			return Result{}, usagef("%s: each value is typed with its name, such as %s", Dashed(f.Name), example(f))
		}
		list = []given{{f.Params[0].Name, lead}}
	}
	texts, err := matched(f, list)
	if err != nil {
		return Result{}, err
	}
	res := Result{Text: strings.TrimSpace(head + rest), Function: f.Name, Title: f.Title, ascii: o.Style.ASCII}
	c := &call{f: f, scope: scope, o: o}
	var usual []string
	for i, p := range f.Params {
		in := Input{Name: p.Name, Typed: texts[i]}
		if in.Typed == "" {
			in.Typed, in.Usual = p.Usual, true
		}
		if err := c.put(p, &in); err != nil {
			return Result{}, err
		}
		if in.Usual {
			usual = append(usual, Dashed(p.Name)+" "+in.Shown)
		}
		res.Inputs = append(res.Inputs, in)
	}
	if err := c.work(&res); err != nil {
		return Result{}, err
	}
	res.Numbers = numbers(f, res.Inputs)
	res.Formula, res.Source, res.Domain = f.Text, f.Source, f.Domain
	if len(usual) > 0 {
		res.Notes = append(res.Notes, "taken as usual, as it was not typed: "+listAnd(usual))
	}
	return res, nil
}

func find(scope *formula.Scope, head string) (*formula.Func, error) {
	var names []string
	for _, f := range scope.Funcs() {
		if fold(f.Name) == fold(head) {
			return f, nil
		}
		names = append(names, Dashed(f.Name))
	}
	if near := shape.DidYouMean(head, names); near != "" {
		return nil, usagef("there is no function %q; did you mean %s?", short(head), near)
	}
	return nil, usagef("there is no function %q; `calc` lists them, and arithmetic starts with =, such as = 0.18 V / 42 A", short(head))
}

// matched puts the values in the order of the parameters, and reports all that is
// wrong with the names at once.
func matched(f *formula.Func, list []given) ([]string, error) {
	texts := make([]string, len(f.Params))
	var wrong, names []string
	for _, p := range f.Params {
		names = append(names, Dashed(p.Name))
	}
	for _, g := range list {
		at := -1
		for i, p := range f.Params {
			if fold(p.Name) == fold(g.name) {
				at = i
			}
		}
		switch {
		case at < 0:
			say := "it has no " + short(g.name)
			if near := shape.DidYouMean(g.name, names); near != "" {
				say += " (did you mean " + near + "?)"
			}
			wrong = append(wrong, say)
		case texts[at] != "":
			wrong = append(wrong, Dashed(f.Params[at].Name)+" is given twice")
		case g.text == "":
			wrong = append(wrong, Dashed(f.Params[at].Name)+" has no value")
		default:
			texts[at] = g.text
		}
	}
	var missing []string
	for i, p := range f.Params {
		if texts[i] == "" && p.Usual == "" {
			missing = append(missing, Dashed(p.Name))
		}
	}
	if len(missing) > 0 {
		wrong = append(wrong, "it needs "+listAnd(missing))
	}
	if len(wrong) > 0 {
		return nil, usagef("%s: %s. Type it such as %s", Dashed(f.Name), strings.Join(wrong, "; "), example(f))
	}
	return texts, nil
}

// example is a call that runs.
func example(f *formula.Func) string { return strings.TrimSpace(Dashed(f.Name) + " " + f.Example) }

// call is a call by name on its way to a formula.
type call struct {
	f     *formula.Func
	scope *formula.Scope
	o     Options
	args  []string // as they stand in the formula
	names []string // of the values, in step with vals
	vals  []formula.Val
}

// put reads one value.
func (c *call) put(p formula.Param, in *Input) error {
	name := "p_" + p.Name
	if len(p.Choices) > 0 {
		for i, w := range p.Choices {
			if fold(strings.ReplaceAll(in.Typed, " ", "-")) == fold(w) {
				in.Shown = w
				c.add(name, formula.Type{Class: formula.ClassChoice, Options: p.Choices}, formula.Choice(i))
				return nil
			}
		}
		say := Dashed(p.Name) + " can be " + listOr(p.Choices) + ", and not " + short(in.Typed)
		if near := shape.DidYouMean(in.Typed, p.Choices); near != "" {
			say += "; did you mean " + near + "?"
		}
		return asError(say)
	}
	v, err := read(in.Typed, p)
	if err != nil {
		return asError(Dashed(p.Name) + ": " + err.Error())
	}
	v.exact = true
	in.Shown = v.shown(c.o.Style)
	x := v.typed.Value
	in.Value, in.Unit = &x, v.kind.Unit.String()
	if v.bare && p.Same != 0 {
		c.args = append(c.args, in.Typed)
		return nil
	}
	c.add(name, formula.Type{Class: formula.ClassNumber, Unit: v.kind.Unit}, v.val(c.o.Meter))
	return nil
}

func (c *call) add(name string, t formula.Type, v formula.Val) {
	c.scope.Reading(name, t)
	c.args = append(c.args, name)
	c.names, c.vals = append(c.names, name), append(c.vals, v)
}

// read is a value for a parameter.
func read(text string, p formula.Param) (value, error) {
	if p.Name == "gauge" {
		bare := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(text), "awg"))
		if n, ok := quantity.AWGByName(bare); ok {
			k := kindOf(p.Unit)
			return value{text: text, kind: k, typed: quantity.Typed{Value: float64(n), Digit: 1, Text: text}}, nil
		}
	}
	if p.Same != 0 {
		if !plainFigure.MatchString(text) {
			return readAny(text)
		}
		v, err := readAs(text, quantity.One)
		v.bare = err == nil
		return v, err
	}
	return readAs(text, p.Unit)
}

func (c *call) work(res *Result) error {
	f, problems := formula.Compile(c.f.Name+"("+strings.Join(c.args, ", ")+")", c.scope, formula.WantAny())
	if problems != nil {
		return c.named(refused(c.scope, problems))
	}
	vals := make([]formula.Val, len(f.Refs()))
	for i, r := range f.Refs() {
		for k, n := range c.names {
			if n == r.Name {
				vals[i] = c.vals[k]
			}
		}
	}
	if err := res.work(f, vals, c.o, 3); err != nil {
		return c.named(err)
	}
	return nil
}

// named takes the prefix of the parameters' names out of a message.
func (c *call) named(err error) error {
	say := strings.ReplaceAll(err.Error(), "p_", "")
	return asError(strings.ReplaceAll(say, c.f.Name, Dashed(c.f.Name)))
}

// numbers is the call with its values: "wire-drop(amps 80 A, run 3 m)".
func numbers(f *formula.Func, inputs []Input) string {
	var list []string
	for _, in := range inputs {
		list = append(list, Dashed(in.Name)+" "+in.Shown)
	}
	return Dashed(f.Name) + "(" + strings.Join(list, ", ") + ")"
}

// Dashed is a name as it is typed on a command line: full-amps.
func Dashed(name string) string { return strings.ReplaceAll(name, "_", "-") }
