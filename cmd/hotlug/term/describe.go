package term

import (
	"fmt"
	"os"
)

// Terminal is how the two ends look to this package.
type Terminal struct {
	In     bool `json:"in"`  // the input is a terminal
	Out    bool `json:"out"` // so is the output
	Width  int  `json:"width"`
	Colour bool `json:"colour"`
	Edits  bool `json:"edits"` // lines can be edited
}

// Describe tells what [Open] would make of an input and an output, either of which
// may be nil.
func Describe(in, out *os.File) Terminal {
	e := ends{in: in, out: out, inTerm: isTerminal(in), outTerm: isTerminal(out)}
	return Terminal{
		In: e.inTerm, Out: e.outTerm, Width: e.Width(),
		Colour: colourful(e.outTerm, false, os.Getenv),
		Edits:  e.inTerm && e.outTerm && able(false, os.Getenv),
	}
}

func (t Terminal) String() string {
	switch {
	case !t.In && !t.Out:
		return "none; lines are read and printed as they come"
	case !t.In:
		return fmt.Sprintf("only to print on, %d columns", t.Width)
	case !t.Out:
		return "only to type at"
	}
	s := fmt.Sprintf("%d columns", t.Width)
	if t.Colour {
		s += ", colour"
	}
	if t.Edits {
		s += ", lines can be edited"
	}
	return s
}
