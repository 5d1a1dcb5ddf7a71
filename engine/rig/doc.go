// Package rig reads the description of a rig, the system under test: the same
// file for a person's own rig, a fleet's rigs and the built-in demo rigs.
//
// A rig file has sections (battery, array, controller, inverter, monitor) of
// plain facts, and a list of places: joints, fuses, blocks and what else a rig
// has several of. A fact reading says where it stands in the file; [Facts] turns
// the file into the facts a walk starts from.
package rig
