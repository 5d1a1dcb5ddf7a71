package term

import "os"

// Palette colours text by its role. The zero Palette leaves it as it is.
type Palette struct{ on bool }

// codes are what the roles of the chat look like. They use the terminal's own
// bold and its basic colours, which its owner can read; what a colour says, a word
// says too.
var codes = map[string]string{
	"ask":     "\x1b[1m",  // bold
	"caution": "\x1b[33m", // yellow
	"result":  "\x1b[1;36m",
	"stop":    "\x1b[1;31m",
	"hint":    "\x1b[2m", // dim
}

const reset = "\x1b[0m"

// NewPalette gives the palette for an output: one that colours only on a terminal,
// without --plain, and unless NO_COLOR is set or TERM is dumb.
func NewPalette(out *os.File, plain bool) Palette {
	return Palette{on: colourful(isTerminal(out), plain, os.Getenv)}
}

// Colour gives a palette that colours or does not.
func Colour(on bool) Palette { return Palette{on: on} }

func colourful(terminal, plain bool, env func(string) string) bool {
	return terminal && able(plain, env) && env("NO_COLOR") == ""
}

// Paint colours text by a role: ask, caution, result, stop, hint. Other roles, and
// empty text, stay as they are.
func (p Palette) Paint(role, text string) string {
	code := codes[role]
	if !p.on || code == "" || text == "" {
		return text
	}
	return code + text + reset
}
