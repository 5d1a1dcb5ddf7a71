package chat

import (
	"strings"

	"hotlug/cmd/hotlug/term"
)

// Role says what a block of text is for.
type Role string

const (
	Say     Role = "say"     // plain speech
	Ask     Role = "ask"     // what is asked
	Where   Role = "where"   // how to take it: state, meter, probes
	Caution Role = "caution" // what can hurt
	Result  Role = "result"  // a finding's first line
	Detail  Role = "detail"  // what belongs to a finding
	Hint    Role = "hint"    // what can be typed
)

// Block is some text with a role. Lines are kept apart; each is wrapped.
type Block struct {
	Role  Role
	Lines []string
	// Hang is a word that stands before the first line and indents the rest:
	// "Do", "Careful".
	Hang string
}

// widest is how wide text gets on a wide terminal: longer lines are hard to
// read.
const widest = 92

// hangWidth is the column in which text after a Hang word begins.
const hangWidth = 12

func layout(blocks []Block, width int, colour term.Palette) string {
	width = min(width, widest)
	var b strings.Builder
	for _, bl := range blocks {
		indent := ""
		switch bl.Role {
		case Where, Caution, Detail:
			indent = "  "
		}
		hang := indent
		if bl.Hang != "" {
			hang = indent + strings.Repeat(" ", hangWidth-len(indent))
			if width < 60 {
				hang = indent + "  "
			}
		}
		for i, l := range bl.Lines {
			first := indent
			if bl.Hang != "" {
				first = hang
				if i == 0 {
					first = indent + bl.Hang + strings.Repeat(" ", max(1, hangWidth-len(indent)-len(bl.Hang)))
					if width < 60 {
						b.WriteString(colour.Paint(string(bl.Role), indent+bl.Hang) + "\n")
						first = hang
					}
				}
			}
			for _, w := range term.Wrap(l, width, first, hang) {
				b.WriteString(colour.Paint(string(bl.Role), w) + "\n")
			}
		}
	}
	return b.String()
}
