// Package simrig is a simulated rig: a rig as it really is, faults and all, that
// answers what the knowledge asks. It is solved, not scripted: a fault changes
// a [Plant], the network of that plant is solved for the state that a reading
// needs, and every reading, light, smell and warm part comes from that one
// solution. The drill, the proof of the knowledge and the demo rigs use it.
package simrig
