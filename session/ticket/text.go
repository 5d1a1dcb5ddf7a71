package ticket

import (
	"fmt"
	"io"
	"strings"
)

// Wrap breaks a text into lines of a width; first stands before the first line
// and hang before the others.
type Wrap func(text, first, hang string) []string

// NoWrap leaves a text on one line, for readers that break lines themselves.
func NoWrap(text, first, _ string) []string { return []string{first + text} }

// Text writes the ticket as plain text: no marks, every table row by row, so that
// it reads on a narrow screen and aloud.
func Text(w io.Writer, t Ticket, wrap Wrap) error {
	x := &plain{wrap: wrap}
	p := lay(t)
	x.line("", p.Title)
	x.gap()
	x.line("", orElse(p.Verdict, VerdictNotFinished))
	for _, s := range p.Wrong {
		x.item("- ", s)
	}
	for _, pt := range p.Top {
		x.gap()
		x.line("", pt.Name+":")
		for _, s := range pt.Say {
			x.item("- ", s)
		}
	}
	for _, s := range p.Sections {
		x.gap()
		x.line("", strings.ToUpper(s.Title))
		for i, b := range s.Blocks {
			if b.Head != "" && i > 0 {
				x.gap()
			}
			x.block(b)
		}
	}
	x.gap()
	for _, s := range p.Foot {
		x.line("", s)
	}
	_, err := io.WriteString(w, x.String())
	return err
}

type plain struct {
	strings.Builder
	wrap Wrap
}

func (x *plain) gap() { x.WriteByte('\n') }

func (x *plain) line(indent, s string) {
	for _, l := range x.wrap(s, indent, indent) {
		x.WriteString(strings.TrimRight(l, " ") + "\n")
	}
}

// item is a line with a mark before it; what follows hangs below its text.
func (x *plain) item(mark, s string) {
	for _, l := range x.wrap(s, mark, strings.Repeat(" ", len(mark))) {
		x.WriteString(strings.TrimRight(l, " ") + "\n")
	}
}

func (x *plain) block(b block) {
	switch {
	case b.Head != "":
		x.line("", b.Mark+": "+b.Head)
	case b.Para != "":
		x.line("", b.Para)
	case b.List != nil:
		x.list(b.List)
	case b.Table != nil:
		x.table(b.Table)
	case b.Figure != nil:
		x.line("", "Chart: "+b.Figure.Title+". "+b.Figure.Say)
		if b.Figure.Table != nil {
			x.table(b.Figure.Table)
		}
	case b.OneLine != nil:
		x.line("", b.OneLine.Say)
		for _, l := range b.OneLine.Lines {
			x.WriteString(l + "\n")
		}
	case b.Photo != nil:
		x.item("- ", b.Photo.Caption)
	case b.Sign != nil:
		x.sign(b.Sign)
	}
}

func (x *plain) list(l *list) {
	if l.Head != "" {
		x.line("", l.Head)
	}
	for i, s := range l.Items {
		mark := "- "
		if l.Numbered {
			mark = fmt.Sprintf("%d. ", i+1)
		}
		x.item(mark, s)
	}
}

// table writes each row as an item: what leads it, its value, then the rest with
// the column's name before it.
func (x *plain) table(t *table) {
	if len(t.Rows) == 0 {
		x.line("", t.None)
		return
	}
	x.line("", t.Title+":")
	for _, r := range t.Rows {
		mark, lead := "- ", ""
		var main, minor []string
		for i, c := range t.Cols {
			switch s := r[i].Say; {
			case s == "":
			case c.Lead:
				lead = s
			case c.Name == "No.":
				mark = s + ". "
			case c.Minor:
				minor = append(minor, lower(c.Name)+": "+s)
			default:
				main = append(main, s)
			}
		}
		x.item(mark, strings.Join(append([]string{lead}, main...), ": "))
		if len(minor) > 0 {
			x.item(strings.Repeat(" ", len(mark)), strings.Join(minor, "; "))
		}
	}
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// sign writes the lines to sign by hand.
func (x *plain) sign(who []string) {
	const room = " ______________________________"
	for _, w := range who {
		x.line("", "Signs: "+w)
		for _, h := range signHeads[1:] {
			x.line("  ", fmt.Sprintf("%-10s", h+":")+room)
		}
	}
}
