package chat

import (
	"strings"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/pattern"
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

// narrow is the width below which a Hang word gets a line of its own.
const narrow = 60

func layout(blocks []Block, width int, colour term.Palette) string {
	width = min(width, widest)
	var b strings.Builder
	for _, bl := range blocks {
		indent := ""
		switch bl.Role {
		case Where, Caution, Detail:
			indent = "  "
		}
		head, body := indent, indent
		if bl.Hang != "" {
			body = indent + strings.Repeat(" ", hangWidth-len(indent))
			head = indent + bl.Hang + strings.Repeat(" ", max(1, len(body)-len(indent)-len(bl.Hang)))
			if width < narrow {
				b.WriteString(colour.Paint(string(bl.Role), indent+bl.Hang) + "\n")
				body = indent + "  "
				head = body
			}
		}
		for _, l := range bl.Lines {
			l = term.Safe(l)
			hang := body + strings.Repeat(" ", len(numberOf.FindString(l)))
			if len(bl.Lines) > 1 && bl.Hang != "" && hang == body {
				hang += "  " // so that it shows where the next one begins
			}
			for _, w := range term.Wrap(together(l), width, head, hang) {
				b.WriteString(colour.Paint(string(bl.Role), apart(w)) + "\n")
			}
			head = body
		}
	}
	return b.String()
}

// numberOf is the number of a line in a list; what follows hangs under its text.
var numberOf = pattern.Of(`^ ?\d+  `)

// measure is a number with its unit, which a line break must not part.
var measure = pattern.Of(`(\d) ([mkµ]?(?:V|A|Ω|W|Wh|Ah|F|Nm|J)\b|mm²|mm2|m\b|°[CF]|K\b|%|ohms?\b|milliohms?\b|AWG|min\b|h\b|s\b)`)

// doubt is a number with how far off it may be.
var doubt = pattern.Of(`(\d) (±|\+/-) (\d)`)

func together(s string) string {
	return measure.ReplaceAllString(doubt.ReplaceAllString(s, "$1\u00a0$2\u00a0$3"), "$1\u00a0$2")
}
func apart(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }
