//go:build !unix

package main

// dropRights has nothing to do where there is no root.
func dropRights() {}
