// Package reading is the vocabulary: what a person can tell us about a rig, how
// the rig can stand, where probes go, and the places that a rig has several of.
package reading
