package formula

import (
	"slices"
	"sort"
)

// Scope holds the names that formulas may use: readings, worked values and
// functions. Names are added first; then formulas are compiled against it.
type Scope struct {
	readings map[string]Type
	values   map[string]*Formula
	funcs    map[string]*Func
	order    []*Func
}

// NewScope is a scope with the plain functions (abs, min, max, mean, near,
// part, degC, kelvin) and those given. Two functions of one name are a mistake
// in Go code, and NewScope panics on it.
func NewScope(funcs []*Func) *Scope {
	s := &Scope{readings: map[string]Type{}, values: map[string]*Formula{}, funcs: map[string]*Func{}}
	for _, f := range append(plainFuncs(), funcs...) {
		if s.funcs[f.Name] != nil || reserved[f.Name] {
			panic("formula: the name " + f.Name + " is taken, and a function wants it too")
		}
		s.funcs[f.Name] = f
		s.order = append(s.order, f)
	}
	return s
}

// Reading adds a reading.
func (s *Scope) Reading(name string, t Type) { s.readings[name] = t }

// Value adds a worked value. Where it is used it is put in as it stands, so that
// what it needs becomes what the user of it needs. A nil f is a value whose own
// formula has problems: its users get no follow-on errors.
func (s *Scope) Value(name string, f *Formula) { s.values[name] = f }

// TypeOf is the type of a reading or a worked value.
func (s *Scope) TypeOf(name string) (Type, bool) {
	if t, ok := s.readings[name]; ok {
		return t, true
	}
	if f := s.values[name]; f != nil {
		return f.Type(), true
	}
	return Type{}, false
}

// ValueOf is the formula of a worked value.
func (s *Scope) ValueOf(name string) (*Formula, bool) {
	f, ok := s.values[name]
	return f, ok && f != nil
}

// Func finds a function by name.
func (s *Scope) Func(name string) (*Func, bool) {
	f, ok := s.funcs[name]
	return f, ok
}

// Funcs lists the functions, the plain ones first, then in the order given.
func (s *Scope) Funcs() []*Func { return slices.Clone(s.order) }

// hasOption says that some reading has an option of this id.
func (s *Scope) hasOption(id string) bool {
	for _, t := range s.readings {
		if slices.Contains(t.Options, id) {
			return true
		}
	}
	return false
}

// Names lists the readings and worked values, sorted.
func (s *Scope) Names() []string {
	var n []string
	for k := range s.readings {
		n = append(n, k)
	}
	for k := range s.values {
		n = append(n, k)
	}
	sort.Strings(n)
	return n
}

// reserved are the words that the grammar keeps for itself, here or in the
// parser that it borrows.
var reserved = wordSet("and or not in true false nil let if else matches contains startsWith endsWith",
	"known was highest others",
	"all none any one filter map count sum find findIndex findLast findLastIndex groupBy sortBy reduce")

// Reserved says that a name can't be given to a reading, a worked value or a
// function because the language uses the word.
func Reserved(name string) bool { return reserved[name] }
