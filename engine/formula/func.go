package formula

import "hotlug/engine/quantity"

// Dir says how a function's result moves with a parameter.
type Dir int8

const (
	Falls Dir = -1 // the result falls as the parameter grows
	Mixed Dir = 0  // neither: the function brings its own Limits
	Grows Dir = 1  // the result grows with the parameter
)

// Param is one parameter of a Func. Same > 0 means "any unit, and equal units
// for equal Same"; Same < 0 the difference of the unit of parameter group -Same.
type Param struct {
	Name string // as typed in `hotlug calc`: "amps"
	Unit quantity.Unit
	Same int
	Dir  Dir
	// Choices is set for a parameter that takes one of a few words instead of a
	// number. The word's index is what Do receives.
	Choices []string
	Doc     string // a few words: "current in the wire"
	// Usual is the value that a call by name takes when it is left out, as one
	// would type it ("50 C"); empty when it must be given. Formulas give all.
	Usual string
}

// Func is one computation of the trade, as the registry describes it. Do works
// on plain numbers in the parameters' units and returns one in the result's
// unit; outside its domain it returns a *DomainError, never NaN and never a
// silently clamped number. A Func has no state.
type Func struct {
	Name   string
	Area   string // wire, fuse, joint, inrush, battery, pv, inverter, plain
	Title  string // "Drop over a round trip"
	Params []Param
	// More says that the last parameter may be given again, up to 12 in all.
	More   bool
	Result quantity.Unit
	// ResultSame, when not 0, gives the result the unit of that parameter group.
	ResultSame int
	// YesNo marks a function that answers yes or no (Limits is then required and
	// Do returns 0 or 1).
	YesNo  bool
	Text   string // the formula as people write it: "U = 2·I·l·r"
	Source string // standard, textbook, or "practice"; "from memory" stays marked
	Domain string // what it holds for, in words
	// Example is a call by name that runs, without the function's name:
	// "amps=80A run=3m size=25mm2".
	Example string
	// Act says which end of the result's limits to act on when a number becomes
	// part of a fix: Grows the upper (wire sizes up), Falls the lower (ampacity
	// down), Mixed the middle value.
	Act Dir
	// Standard marks a result from a list of standard sizes or ratings: it is
	// printed as "next standard size" and never rounded.
	Standard bool
	Do       func(args []float64) (float64, error)
	// Limits computes the result's limits when some parameter is Mixed. It gets
	// and returns limits in the same units as Do.
	Limits func(args []Val) Val
}

// DomainError says that a function was asked outside what it holds for.
type DomainError struct {
	Func   string
	Reason string // a sentence: "wire of 0 mm² has no resistance"
}

func (e *DomainError) Error() string { return e.Func + ": " + e.Reason }

// Outside is the error a Func's Do returns outside its domain.
func Outside(name, reason string) error { return &DomainError{Func: name, Reason: reason} }

// param is parameter i; with More the last one goes on.
func (f *Func) param(i int) Param { return f.Params[min(i, len(f.Params)-1)] }
