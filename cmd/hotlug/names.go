package main

import (
	"strings"

	"hotlug/engine/pattern"
)

var safeName = pattern.Of(`^[a-z0-9][a-z0-9-]{0,39}$`)

// safeNameHint says what a name may be made of.
const safeNameHint = "use letters, digits and dashes, 40 at most"

// fileName makes of a name that somebody typed one that is safe as a file's on
// every system: small letters, digits and dashes, and no device's name.
func fileName(name string) (id string, ok bool) {
	id = strings.ToLower(strings.Join(strings.Fields(name), "-"))
	return id, safeName.MatchString(id) && !reservedName(id)
}

// reservedName says whether some systems keep a file name for devices.
func reservedName(id string) bool {
	switch id {
	case "con", "prn", "aux", "nul":
		return true
	}
	return len(id) == 4 && (strings.HasPrefix(id, "com") || strings.HasPrefix(id, "lpt"))
}
