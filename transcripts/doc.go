// Package transcripts holds what the whole of Hotlug is tried on: conversations
// from the first words to the end, and cases, which are rigs in trouble with all
// that a person could read there and what it must come to.
//
// The cases lie in cases/, a file a sheet of the knowledge, and one of retold
// reports from the field. They are walked with the built-in knowledge and no
// chat. Everything in the package is data and tests.
package transcripts
