// Package term is where Hotlug meets a terminal, a pipe or a file.
//
// [Open] gives a [Line]. It edits lines with a history and completion when both
// ends are a terminal that can do that, and reads plain lines otherwise: from a
// pipe, into a pipe, with --plain, or with TERM=dumb. Nothing else in the program
// knows which, and no other package imports the line editor, which has to be
// fenced in (see edit.go).
//
// Whatever is printed through a Line is cleaned once more on its way: control
// characters, marks that turn the direction of writing, and colour codes that
// are not this package's own do not reach a terminal, wherever they came from.
// [Safe] does the same for text that is printed some other way.
//
// Colour is used only on a terminal, without --plain, NO_COLOR and TERM=dumb, and
// never carries meaning alone ([Palette]). Text is wrapped by the columns it takes
// on screen and not by its letters ([Wrap]).
package term
