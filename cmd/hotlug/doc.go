// Command hotlug finds faults in small off-grid power systems by asking for
// readings, one at a time, and reasoning on them.
//
// Each command stands in a file of its own; exit.go holds the exit codes.
package main
