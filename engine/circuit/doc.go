// Package circuit solves the direct-current network of a rig: what stands at
// every node and flows in every part when all has settled.
//
// A [Network] is nodes joined by resistances, sources behind a resistance,
// non-linear two-poles ([Diode], [Watts], [Curve] of an [Array]) and solar
// chargers ([Tracker], [Pulse]). [Network.Solve] gives a [Solution]; there is no
// time in it. What is transient has closed forms: those of engine/electric, and
// [Heating] for how a part warms up.
//
// # How it is solved
//
// All that is linear is put into one symmetric positive definite matrix and
// factorised once (Cholesky, by gonum). Each non-linear part stands in it as a
// small conductance, and its difference from that is brought in at its
// terminals, so that Newton's steps are taken among those few ports and not
// among all nodes. Steps over a junction are limited; where they still do not
// settle, the ports are given capacitors and the network is followed until it
// rests (pseudo-transient continuation). At the end whole Newton steps on all
// nodes bring the currents into balance; node volts are kept in two parts (a
// number and its rest) so that microvolts over a busbar survive beside 50 V.
//
// Nodes that are joined by less than 100 Ω form a block, whose unknowns are its
// own volts and the differences inside it: a block that hangs on a gigohm keeps
// its digits. From every node [Leak] runs to ground, so that a part that hangs
// on nothing at all has volts too, and with a meter's 10 MΩ across
// ([Solution.Read]) ghost volts come out as they do on a bench.
//
// Chargers are a loop outside of Newton's: each has one number (the volts at
// which it holds the array, or the volts that it throttles away) and looks for
// it in a bracket, in turn, a bounded number of rounds.
//
// # Signs
//
// The current of a two-pole is counted from its first node through it to the
// second, and its watts are what it takes up: a battery that gives has both
// below zero. Of a charger, Amps is what leaves its battery plus.
//
// # Agreement with another program
//
// [Netlist] writes a network as the plain text that general-purpose circuit
// simulators read. testdata holds such netlists with what an independent one
// printed (Debian's package of a general-purpose circuit simulator, batch mode,
// operating point); the tests build the same networks and compare. To run the
// simulator itself again, and to compare with it:
//
//	go test ./engine/circuit -run Simulator -simulator /path/to/it
package circuit
