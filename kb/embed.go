// Package kb is the built-in knowledge: readings, symptoms, sheets of steps and
// findings, and the demo rigs of Larkmoor Hut Hire.
package kb

import "embed"

// Files holds the knowledge as it stands in this folder.
//
//go:embed *.yaml odds.txt sheets/*.yaml rigs/*.yaml
var Files embed.FS
