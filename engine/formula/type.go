package formula

import "hotlug/engine/quantity"

// Class says what kind of value a reading or a formula has.
type Class uint8

const (
	ClassNumber Class = iota // a number with a unit
	ClassYesNo
	ClassChoice // one of a few words

	classBare // a number written without unit, which still takes its partner's
	classWord // a quoted word, to be matched with a choice
	classBad  // already reported; no follow-on errors
)

// Type is the class of a value and what goes with it.
type Type struct {
	Class   Class
	Unit    quantity.Unit // of a number
	Options []string      // ids of the options of a choice, at most 64, in order
	// Lo and Hi are the possible range of a number, in Unit. Both zero: no range
	// is known.
	Lo, Hi float64
	Placed bool // taken over the places of a class, so mean, highest and others apply
}

// Anything is the Val of a reading of this type of which nothing is known.
func (t Type) Anything() Val {
	switch t.Class {
	case ClassYesNo:
		return EitherWay()
	case ClassChoice:
		return AnyOf(len(t.Options))
	}
	if t.Lo == 0 && t.Hi == 0 {
		return NotKnown(negInf, posInf)
	}
	return NotKnown(t.Lo, t.Hi)
}

// String says what the type is, as error messages put it: "V", "yes or no".
func (t Type) String() string {
	switch t.Class {
	case ClassNumber:
		return unitText(t.Unit)
	case ClassYesNo:
		return "yes or no"
	case ClassChoice:
		return "a choice"
	case classBare:
		return "a number without unit"
	}
	return "a word in quotes"
}

// is puts the type behind "x is": "in V", "yes or no".
func (t Type) is() string {
	if t.Class == ClassNumber {
		return inUnit(t.Unit)
	}
	return t.String()
}

// inUnit puts a unit behind "must be": "in V", "a plain number".
func inUnit(u quantity.Unit) string {
	if u.Plain() {
		return unitText(u)
	}
	return "in " + u.String()
}

func unitText(u quantity.Unit) string {
	if u.Plain() {
		return "a plain number"
	}
	return u.String()
}

// Want is what the user of a formula needs its result to be. The zero Want
// takes anything.
type Want struct {
	set  bool
	t    Type
	what string
}

// WantAny takes a result of any kind.
func WantAny() Want { return Want{} }

// WantYesNo takes a condition.
func WantYesNo() Want { return Want{set: true, t: Type{Class: ClassYesNo}, what: "a condition"} }

// WantNumber takes a number, which is brought to the unit u. A result that
// measures the same in another scale is converted (Ah over A comes out in h or
// in s, as declared).
func WantNumber(u quantity.Unit) Want {
	return Want{set: true, t: Type{Class: ClassNumber, Unit: u}, what: "the result"}
}

// Form says which take of a reading a name stands for.
type Form uint8

const (
	Here    Form = iota // the take that stands, at the place at hand
	Was                 // was(x): the take of the round before
	Mean                // mean(x): the mean of this round's takes at like places
	Highest             // highest(x): the highest of them
	Others              // others(x): the mean of the others, without the place at hand
)

var formNames = [...]string{"", "was", "mean", "highest", "others"}

// String is the word of the form as it is written in formulas, "" for Here.
func (f Form) String() string { return formNames[f] }

// Ref is one value that a formula needs from outside.
type Ref struct {
	Name string
	Form Form
}

// String is the reference as it is written in formulas: "was(drop_v)".
func (r Ref) String() string {
	if r.Form == Here {
		return r.Name
	}
	return r.Form.String() + "(" + r.Name + ")"
}
