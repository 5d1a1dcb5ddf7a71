// Package prove tries the knowledge on rigs whose fault is known. It draws a
// population of cases (a fault, how bad it is, where it sits, a random rig),
// lets a simulated rig answer every question of the walk, and scores what the
// walk tells: the right cause first or within its stated group, the wrong one, a
// list only, a stop; how many questions and minutes that took; whether the proof
// of a fix holds on the repaired rig and fails on the one that is not; and acts
// that put somebody in danger, judged by the rig as it really is and not by the
// knowledge.
//
// The same answers, all of them, make a table of faults against questions. On it
// stands a reference that knows no physics: always the question that tells most
// for its minutes. How much dearer the knowledge asks than that, and where, is
// the authors' list of what to do next.
//
// What this shows is that the knowledge fits our own physics. Whether it fits
// the world only real tickets show.
//
// The package is pure: chance comes from a seed, and the result is the same
// whatever the number of workers.
package prove
