//go:build !unix

package main

// quietLimits has nothing to do where no signal tells of such limits.
func quietLimits() {}
