// Package chat talks with the person at the rig: it puts prompts of the walk
// into words, works out what a typed line means, and hands events to the walk.
//
// It speaks through an interface of four methods ([Line]), so a terminal, a
// pipe and a test are the same to it. What is printed is made of blocks with
// roles (say, ask, where, caution, result, hint); a block's role decides its
// indent, its opening word and its colour, and never carries meaning by colour
// alone.
//
// A line that is typed is read in this order: an answer to what is asked; a
// command; a number of the list shown. A leading colon always means a command.
// Danger words are looked for in every line besides.
package chat
