// Package graph is the knowledge, loaded: symptoms, steps, findings, worked
// values, cautions, sources, and the vocabulary of readings they use.
//
// [Load] reads a layer of files, or several: the first is the built-in
// knowledge, each further one an overlay that adds ids or changes named fields.
// All problems of all files are reported at once, each with its place. A [Graph]
// is immutable and safe for concurrent use.
//
// # Overlays
//
// Through an overlay safety only grows. Joined to what is there are cautions
// and their texts, danger words, answers to choose from, the states a reading
// needs, second faults, sources, and what a fix is proved by; needs are and-ed.
// Branches into stop-work stay, and stay first; so do the actions of a fix, and
// every line of a fix where work stops. Who may do a thing gets stricter, a
// finding more unsafe, a stop of a place one of the walk, what is possible
// narrower, and what a reading holds for shorter. Refused, with the code
// lowers-safety, are another hazard, kind or class of answer, like, formula or
// unit of a worked value, action of a step, no fault where something is unsafe,
// and any change to the danger question and what follows it. The rest is the
// overlay's: questions, explanations, labels, branches that stop nothing, where
// a symptom starts, whom to hand over to.
package graph
