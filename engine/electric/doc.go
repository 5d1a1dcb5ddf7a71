// Package electric holds the trade's computations on plain numbers: drop and
// rise of wires, what a fuse or a contact may drop, sparks, batteries, charging,
// sun and inverters. One file has one subject, and Table names every function
// for the formulas of the knowledge, for `hotlug calc` and for the documents;
// the simulated rig calls the same Go functions.
//
// Everywhere: volts, amps, ohms, watts, metres, mm², degrees Celsius, seconds,
// hours, farads, amp-hours; a "run" is the length of a wire one way; "system"
// is the nominal voltage of the bank (12, 24, 48). A function asked outside what
// it holds for returns a *formula.DomainError that says so; none returns NaN and
// none clamps a number in silence.
//
// Sources are open standards, textbooks, derived formulas or practice. "From
// memory" marks a figure that was not checked against its document.
package electric
