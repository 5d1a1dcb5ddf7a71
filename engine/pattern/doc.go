// Package pattern is regular expressions that are compiled when they are first
// used. Nearly a hundred stand in variables of packages that every command links;
// compiled at the start, they cost more than `hotlug --help` does otherwise.
package pattern
