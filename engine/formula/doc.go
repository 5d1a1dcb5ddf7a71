// Package formula is the language in which the knowledge states its conditions
// and worked values, and the one evaluator behind the walk, the checker, the
// shown workings, the reasons and the calculator.
//
// A formula is compiled once against a Scope (the readings, worked values and
// functions that it may name) and evaluated many times on Vals. It borrows the
// grammar and the parser of expr-lang; everything after the parser is here:
// caps and a white list before anything else looks at the text, types and
// units, and evaluation on limits.
//
//	scope := formula.NewScope(electric.Table())
//	scope.Reading("holder_drop_v", formula.Type{Class: formula.ClassNumber, Unit: quantity.MustUnit("V"), Lo: 0, Hi: 70})
//	f, problems := formula.Compile("holder_drop_v > 0.1", scope, formula.WantYesNo())
//	d := f.Decide([]formula.Val{formula.Measured(0.18, 0.005, 0.0003, "hand")})
//
// # Limits
//
// Every value has a lowest, a middle and a highest, whether the doubt comes from
// a meter, from a spread written in the knowledge or from not knowing at all
// (then the limits are all that is possible). A condition is certainly true,
// certainly false, too close to call, or not settled because something is not
// known. What is called certain holds for every point inside the limits.
//
// # Units
//
// A bare number takes its partner's unit beside + and - and in comparisons, if
// that unit has a name. Temperatures are points on a scale, and their
// difference is in kelvin. Percent is a unit. Every unit error is reported with
// the place in the text where it stands, and all of an expression at once.
//
// The package is pure: no clock, disk, printing or randomness. A Formula and a
// Scope that is no longer added to may be used by several goroutines.
package formula
