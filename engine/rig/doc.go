// Package rig reads the description of a rig, the system under test: the same
// file for a person's own rig, a fleet's rigs and the built-in demo rigs.
//
// A rig file has sections (battery, array, controller, inverter, monitor) of
// plain facts, and a list of places: joints, fuses and what else a rig has
// several of. A fact reading says where it stands in the file; [Rig.Facts] turns
// the file into the facts a walk starts from.
//
// The same file can say what no question is about and a circuit needs: loads,
// lengths of wires, settings. [SystemOf] makes a [System] of it, and [Plan] fills
// in what it leaves out by the standard plan, so that a file of three lines can
// be simulated too. [Random] draws sensible rigs from [Ranges]; [System.YAML]
// writes one as a rig file.
package rig
