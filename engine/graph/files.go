package graph

import (
	"maps"
	"slices"
)

// Files lists the files that the knowledge was read from, sorted.
func (g *Graph) Files() []string { return slices.Sorted(maps.Keys(g.lines)) }

// Lines are the lines of one of its files, nil if there is none of that name.
// They are not to be changed.
func (g *Graph) Lines(file string) []string { return g.lines[file] }
