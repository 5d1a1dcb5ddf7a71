// Package calc is the calculator of the trade: a function of the registry called
// by name with values as people type them, or free arithmetic on quantities. It
// shows the working: the formula, the numbers put in, the result, the source and
// what it holds for.
//
//	calc.Run(electric.Table(), "wire-drop amps=80 run=10ft size=2/0 awg", calc.Options{})
//	calc.Run(electric.Table(), "= 0.180 V / 42.0 A", calc.Options{})
//
// There is no second evaluator here: values are given names, and the text goes
// through package formula, on limits and with its unit errors.
//
// In free arithmetic a value with a unit is known to half its last digit, so
// 0.18 V / 42 A is less certain than 0.180 V / 42.0 A. Bare numbers, wire gauges
// and the values of functions are taken as they stand. "about" adds a tenth, and
// a class of meter its own error.
//
// Errors are sentences for the person who typed. The package is pure.
package calc
