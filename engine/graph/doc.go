// Package graph is the knowledge, loaded: symptoms, steps, findings, worked
// values, cautions, sources, and the vocabulary of readings they use.
//
// [Load] reads a layer of files, or several: the first is the built-in
// knowledge, each further one an overlay that adds ids or changes named fields.
// Through an overlay safety only grows: cautions and danger words are joined,
// needs are and-ed, who may do a thing gets stricter, stop-work stays. All
// problems of all files are reported at once, each with its place. A [Graph]
// is immutable and safe for concurrent use.
package graph
