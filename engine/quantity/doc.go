// Package quantity knows what people measure: the kinds of quantity and their
// units, how a value is typed and read, how it is shown, which values are
// likely, and how far off each class of meter may be.
//
// Read turns typed text into a value of a Kind. It understands the many ways in
// which one reading is typed (12.6, 12,6 V, 12600 mV, 3 ft 6 in, 2/0 AWG, 2k2,
// 1h30), and asks back whatever could mean two things: a figure that was
// guessed wrong costs a wrong verdict on a live rig, asking costs a line.
//
// Show and its kin print values the way people say them, in metric or US
// style, with or without signs outside ASCII. Limits judges a value against what
// is possible and plausible; Slips lists what was likely meant. A Meter states
// its error as a share of the reading and a part that does not grow with it.
//
// The package is pure: no clock, no disk, no printing.
package quantity
