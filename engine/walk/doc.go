// Package walk carries a person through the knowledge: it is a pure fold over
// events.
//
// [Start] gives the first state; [Step] takes a state and one [Event] and gives
// the next state with the [Prompt] that it wants answered. Nothing here reads a
// clock, a disk or a terminal, and a [State] is never changed once returned, so
// going back is looking at the state before.
//
// The words used here:
//
//   - A take is one answer to one reading at one place.
//   - A round is the time between two things done to the rig. When something is
//     done, the readings it can have changed are open again.
//   - A sitting is the time for which the rig stands in one state. Readings that
//     hold only together (currents, working volts) stand for one sitting; a step
//     that asks for two states keeps what it took in both.
//   - Places still to try is the list of targets that could not be excluded
//     where a branch was left open. It empties, so every walk ends.
//
// Branches are first-match on limits: a branch is taken when its condition is
// certainly true and all before it are certainly false. A branch into stop-work
// is taken unless it is certainly false.
package walk
