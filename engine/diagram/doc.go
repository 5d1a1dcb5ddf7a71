// Package diagram draws the one-line diagram of a rig from the rig's own
// description: as text for a terminal, as SVG for a ticket.
//
// [Lay] decides what stands where, once, and both drawings follow it. A rig is
// laid as a ladder: the plus bar runs down the left, the minus bar down the
// right, and each circuit is a rung between them. A rung begins at the plus bar,
// goes down its lane of plus parts to what gives or takes the current (battery,
// controller with array, inverter, load), and from there down the minus lane to
// the minus bar. A ladder needs no more than 40 columns, because each part has a
// row for itself and so room for its name and for what was read there; it takes
// as many batteries, strings and loads as there are, because it only grows
// longer; and two halves of it stand beside each other where there is room.
//
// Readings are [Mark]s. They stand at their points, with the value, and with a
// verdict that is a word and a shape. Their points are those of the vocabulary
// ([hotlug/engine/reading.Point]). Some of these mean another metal at each place
// (the lug under test), some belong to what no rig file describes (the engine's
// battery): where the rig does not say which is meant, the stretch is drawn in
// general beside the rig, so that every reading has its two points in a drawing.
//
// Names come from rig files and people. They are cleaned and wrapped here, and
// escaped in SVG; nothing of them reaches a drawing as anything but letters.
package diagram
