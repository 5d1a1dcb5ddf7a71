package ticket

import (
	"fmt"
	"io"
	"strings"
)

// Markdown writes the ticket as Markdown: what is wrong first, then the system,
// the readings in order, the working and what is still open.
func Markdown(w io.Writer, t Ticket) error {
	m := &markdown{}
	p := lay(t)
	m.linef("# %s\n", text(p.Title))
	m.linef("**%s**\n", text(orElse(p.Verdict, VerdictNotFinished)))
	for _, s := range p.Wrong {
		m.linef("- %s", opening(s))
	}
	for _, x := range p.Top {
		m.linef("- **%s:** %s", text(x.Name), text(strings.Join(x.Say, " ")))
	}
	m.linef("")
	for _, s := range p.Sections {
		m.linef("## %s\n", text(s.Title))
		for _, b := range s.Blocks {
			m.block(b)
		}
	}
	m.linef("---\n")
	m.linef("%s", text(strings.Join(p.Foot, " ")))
	_, err := io.WriteString(w, m.String())
	return err
}

type markdown struct{ strings.Builder }

func (m *markdown) linef(format string, a ...any) {
	fmt.Fprintf(&m.Builder, format+"\n", a...)
}

func (m *markdown) block(b block) {
	switch {
	case b.Head != "":
		m.linef("### %s: %s\n", text(b.Mark), text(b.Head))
	case b.Para != "":
		m.linef("%s\n", opening(b.Para))
	case b.List != nil:
		m.list(b.List)
	case b.Table != nil:
		m.table(b.Table)
	case b.Figure != nil:
		m.linef("### Chart: %s\n", text(b.Figure.Title))
		m.linef("It shows: %s\n", text(b.Figure.Say))
		if b.Figure.Table != nil {
			m.table(b.Figure.Table)
		}
	case b.OneLine != nil:
		m.linef("%s\n", opening(b.OneLine.Say))
		for _, l := range b.OneLine.Lines {
			m.linef("    %s", l) // indented, it is shown as it stands
		}
		m.linef("")
	case b.Photo != nil:
		m.linef("%s\n", opening(b.Photo.Caption))
	case b.Sign != nil:
		m.sign(b.Sign)
	}
}

func (m *markdown) list(l *list) {
	if l.Head != "" {
		m.linef("%s\n", opening(l.Head))
	}
	for i, s := range l.Items {
		if l.Numbered {
			m.linef("%d. %s", i+1, opening(s))
		} else {
			m.linef("- %s", opening(s))
		}
	}
	m.linef("")
}

// table writes a table, or one line that says there is nothing.
func (m *markdown) table(t *table) {
	if len(t.Rows) == 0 {
		m.linef("%s\n", opening(t.None))
		return
	}
	var heads []string
	for _, c := range t.Cols {
		heads = append(heads, text(c.Name))
	}
	m.linef("| %s |", strings.Join(heads, " | "))
	m.linef("|%s", strings.Repeat(" --- |", len(heads)))
	for _, r := range t.Rows {
		m.WriteString("|")
		for _, c := range r {
			s := text(c.Say)
			if c.Code {
				s = code(c.Say)
			}
			fmt.Fprintf(m, " %s |", orElse(s, "-"))
		}
		m.WriteString("\n")
	}
	m.linef("")
}

// sign writes the lines to sign, with room in them.
func (m *markdown) sign(who []string) {
	m.linef("| %s |", strings.Join(signHeads, " | "))
	m.linef("|%s", strings.Repeat(" --- |", len(signHeads)))
	for _, w := range who {
		m.linef("| %s |%s", text(w), strings.Repeat(" &nbsp; |", len(signHeads)-1))
	}
	m.linef("")
}
