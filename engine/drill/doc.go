// Package drill is practice on a simulated rig. A [Drill] tells a complaint in a
// customer's words; the trainee asks for readings in plain words, operates the
// rig, calls the cause and is told at the end how it went. A [Guide] lets the chat
// ask instead, and takes the readings that it asks for.
//
// The package is pure. Chance and the date come in as arguments, so the same seed
// gives the same drill; what is printed is given as blocks ([Block]), and files are
// the caller's. A trainee's record is a list of [Score]; [Due] says which faults
// are to come back on a day.
//
// Readings are those of the knowledge. A reading that needs the rig to stand in
// some state ("a steady load on") is taken in that state and in no other: at level
// 1 the drill brings the state about, from level 2 on the trainee has to.
//
// An unsafe act does not happen. It is stopped, the reason and the safe way are
// told, and it counts (stops.go has the rules).
package drill
