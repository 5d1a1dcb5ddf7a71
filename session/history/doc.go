// Package history is the memory of a rig: readings that were taken again and
// again over its sessions, as series in time, and whether one of them is getting
// worse.
//
// [Of] reads the sessions of one rig from a store, one at a time; [Book] is the
// same without a disk, fed a session at a time. Each session is folded again, so
// that an answer that was taken back is in no series, and volts are divided only
// by the amps of the same sitting, which flowed at the same moment.
//
// What is followed: the resistance of each joint, the volts across each fuse and
// holder brought to the largest current of its wire, the rested battery's volts,
// and the amp-hours that came out of it in a test.
//
// A point taken after a fix at its place begins the series anew: what came before
// tells of a joint that is no more. [Series.Trend] says by which rule a series
// gets worse.
package history
