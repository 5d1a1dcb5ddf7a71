package calc

import (
	"strings"

	"hotlug/engine/formula"
)

// Entry is one function as the calculator lists and explains it.
type Entry struct {
	Name    string  `json:"name"` // as typed: "wire-drop"
	Area    string  `json:"area"`
	Title   string  `json:"title"`
	Params  []Param `json:"params"`
	Result  string  `json:"result"` // unit, "yes or no", or "a standard size in mm2"
	Formula string  `json:"formula"`
	Source  string  `json:"source,omitempty"`
	Domain  string  `json:"holds_for,omitempty"`
	Example string  `json:"example"` // a call that runs: "wire-drop amps=80A run=3m size=25mm2"
}

// Param is one parameter of an Entry.
type Param struct {
	Name    string   `json:"name"`
	Unit    string   `json:"unit,omitempty"`
	Choices []string `json:"choices,omitempty"`
	Usual   string   `json:"usual,omitempty"` // taken when it is left out
	Doc     string   `json:"doc"`
}

// List is every function, by area in the order of the registry, the plain ones
// last.
func List(funcs []*formula.Func) []Entry {
	var all, plain []Entry
	for _, f := range formula.NewScope(funcs).Funcs() {
		e := entry(f)
		if f.Area == "plain" {
			plain = append(plain, e)
		} else {
			all = append(all, e)
		}
	}
	var out []Entry
	for _, area := range areas(append(all, plain...)) {
		for _, e := range append(all, plain...) {
			if e.Area == area {
				out = append(out, e)
			}
		}
	}
	return out
}

// Areas are the areas of the registry in its order.
func Areas(funcs []*formula.Func) []string { return areas(List(funcs)) }

func areas(list []Entry) []string {
	var out []string
	seen := map[string]bool{}
	for _, e := range list {
		if !seen[e.Area] {
			seen[e.Area] = true
			out = append(out, e.Area)
		}
	}
	return out
}

// Describe is one function, found by its name with dashes or underscores.
func Describe(funcs []*formula.Func, name string) (Entry, error) {
	f, err := find(formula.NewScope(funcs), name)
	if err != nil {
		return Entry{}, err
	}
	return entry(f), nil
}

func entry(f *formula.Func) Entry {
	e := Entry{Name: Dashed(f.Name), Area: f.Area, Title: f.Title, Result: f.Result.String(), Formula: f.Text,
		Source: f.Source, Domain: f.Domain, Example: example(f)}
	switch {
	case f.YesNo:
		e.Result = "yes or no"
	case f.ResultSame != 0:
		e.Result = "like the values"
	case f.Standard:
		e.Result = "a standard size in " + f.Result.String()
	case f.Result.Plain():
		e.Result = "a plain number"
	}
	for _, p := range f.Params {
		q := Param{Name: Dashed(p.Name), Choices: p.Choices, Usual: p.Usual, Doc: p.Doc}
		switch {
		case len(p.Choices) > 0:
		case p.Same != 0:
			q.Unit = "any unit"
		case !p.Unit.Plain():
			q.Unit = p.Unit.String()
		}
		e.Params = append(e.Params, q)
	}
	return e
}

// signature is the parameters in one line: "amps run size [temp]".
func (e Entry) signature() string {
	var w []string
	for _, p := range e.Params {
		if p.Usual != "" {
			w = append(w, "["+p.Name+"]")
		} else {
			w = append(w, p.Name)
		}
	}
	return strings.Join(w, " ")
}
