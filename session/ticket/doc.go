// Package ticket writes a session out for somebody else.
//
// There is one model, [Ticket], made from a walk by [Make]; every format is
// written from it, and `hotlug replay --json` prints the very same. Whoever
// reads a ticket must reach the same conclusion without asking back: it holds
// the system, every reading with its unit, place, state and meter, the finding
// and how sure it is, the working, the cautions given, what is excluded and by
// what, what is not known and why, what is still possible, and the version and
// hash of the knowledge. Personal details are in it only if somebody typed them.
package ticket
