package ticket

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"
)

// JSON writes the ticket as JSON, one field a line.
func JSON(w io.Writer, t Ticket) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(true)
	return e.Encode(t)
}

// Markdown writes the ticket for people: what is wrong first, then the system,
// the readings in order, the working and what is still open.
func Markdown(w io.Writer, t Ticket) error {
	m := &markdown{}
	m.head(t)
	m.findings(t)
	m.system(t)
	m.readings(t)
	m.open(t)
	m.foot(t)
	_, err := io.WriteString(w, m.String())
	return err
}

type markdown struct{ strings.Builder }

func (m *markdown) linef(format string, a ...any) {
	fmt.Fprintf(&m.Builder, format+"\n", a...)
}

// table writes a table, or one line that says there is nothing.
func (m *markdown) table(none string, head []string, rows [][]string) {
	if len(rows) == 0 {
		m.linef("%s\n", none)
		return
	}
	m.linef("| %s |", strings.Join(head, " | "))
	m.linef("|%s", strings.Repeat(" --- |", len(head)))
	for _, r := range rows {
		for i := range r {
			if !strings.HasPrefix(r[i], codeMark) {
				r[i] = text(r[i])
			} else {
				r[i] = strings.TrimPrefix(r[i], codeMark)
			}
		}
		m.linef("| %s |", strings.Join(r, " | "))
	}
	m.linef("")
}

// codeMark stands before a cell that is Markdown already.
const codeMark = "\x00"

// code is a cell in fixed type: ids and formulas.
func code(s string) string {
	if s == "" || s == "-" {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if r >= ' ' && r != '`' && r != '|' && r != 0x7f && (r < 0x80 || r >= 0xa0) && !isBidi(r) {
			b.WriteRune(r)
		}
	}
	return codeMark + "`" + b.String() + "`"
}

func (m *markdown) head(t Ticket) {
	title := "Fault ticket"
	if t.Session != "" {
		title += " " + text(t.Session)
	}
	m.linef("# %s\n", title)
	m.linef("**Complaint:** %s", text(orElse(t.Label, "not known")))
	if t.Words != "" {
		m.linef("**In their words:** %s", text(t.Words))
	}
	m.linef("**Outcome:** %s", outcomeWords(t))
	m.linef("**Safety:** %s\n", safetyWords(t))
	if t.Damage != "" {
		m.linef("**The session is damaged:** %s\n", text(t.Damage))
	}
}

func outcomeWords(t Ticket) string {
	switch t.Outcome {
	case "found":
		for _, f := range t.Findings {
			if f.Status == "proven" {
				return "cause found and proven"
			}
		}
		return "cause found, not yet proven"
	case "narrowed":
		return "not settled; what is still possible is listed below"
	case "stopped":
		return "work stopped for safety"
	}
	return "not finished"
}

func safetyWords(t Ticket) string {
	if t.StopWork != nil {
		return "STOP: " + text(t.StopWork.Cause)
	}
	for _, r := range t.Readings {
		if r.Reading == "danger_now" && r.Value == "no" {
			return "asked; no smoke, melting, swelling, hissing, sparking or heat at that time"
		}
	}
	return "not known: the danger question was not answered"
}

func (m *markdown) findings(t Ticket) {
	m.linef("## Findings\n")
	if len(t.Findings) == 0 {
		m.linef("None.\n")
	}
	for _, f := range t.Findings {
		title := strings.ToUpper(f.Status)
		if f.Pending {
			title += ", fix or proof still to come"
		}
		if f.Second {
			title += ", second fault"
		}
		m.linef("### %s: %s\n", title, text(f.Cause))
		if f.Place != "" {
			m.linef("At %s.\n", text(f.Place))
		}
		if f.Because != "" {
			m.linef("%s\n", text(f.Because))
		}
		var rows [][]string
		for _, k := range f.Working {
			rows = append(rows, []string{k.Label, code(k.Formula), orElse(k.Numbers, "-"), k.Result})
		}
		if len(rows) > 0 {
			m.table("", []string{"Working", "Formula", "Numbers put in", "Result"}, rows)
		}
		if len(f.Fix) > 0 {
			m.linef("To do:\n")
			for i, l := range f.Fix {
				m.linef("%d. %s (%s)", i+1, text(l.Say), whoWords(l.Who))
			}
			m.linef("")
		}
		if len(f.Cautions) > 0 {
			m.linef("Cautions given:\n")
			for _, c := range f.Cautions {
				m.linef("- %s", text(c))
			}
			m.linef("")
		}
		if f.Proof != "" {
			m.linef("Proof: %s\n", text(f.Proof))
		}
		if f.HandTo != "" {
			m.linef("Goes on: %s\n", text(f.HandTo))
		}
		if len(f.Sources) > 0 {
			m.linef("Sources: %s\n", text(strings.Join(f.Sources, "; ")))
		}
	}
}

func whoWords(who string) string {
	switch who {
	case "electrician":
		return "licensed electrician"
	case "maker":
		return "maker or repairer"
	}
	return "helper"
}

func (m *markdown) system(t Ticket) {
	m.linef("## System\n")
	if t.Rig != "" {
		m.linef("Rig: %s\n", text(t.Rig))
	}
	var rows [][]string
	for _, f := range t.Facts {
		rows = append(rows, []string{f.Name, orElse(f.Place, "-"), f.Value, f.Origin})
	}
	m.table("Nothing is known of the system.", []string{"Fact", "Place", "Value", "Known from"}, rows)
}

func (m *markdown) readings(t Ticket) {
	m.linef("## Readings in order\n")
	var rows [][]string
	for i, r := range t.Readings {
		v := r.Value
		if r.Odd {
			v += " (odd, confirmed)"
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), r.Name, v, orElse(r.At, "-"), orElse(strings.Join(r.State, ", "), "-"),
			orElse(r.Meter, "-"), fmt.Sprint(r.Round), clock(r.When)})
	}
	m.table("None.", []string{"No.", "Reading", "Value", "Where", "State", "Meter", "Round", "Time"}, rows)
	m.linef("## How it went\n")
	rows = nil
	for _, v := range t.Trail {
		mark := ""
		switch {
		case v.Close:
			mark = " (close)"
		case v.Assumed:
			mark = " (assumed)"
		}
		rows = append(rows, []string{code(v.Step), code(orElse(v.Reading, "-")), orElse(v.Value, "-"), code(orElse(v.Branch+mark, "-")), orElse(v.Why, "-")})
	}
	m.table("No step was taken.", []string{"Step", "Asked", "Answer", "Led to", "Because"}, rows)
}

func (m *markdown) open(t Ticket) {
	m.linef("## Not known\n")
	var rows [][]string
	for _, n := range t.NotKnown {
		rows = append(rows, []string{n.Name, n.Reason})
	}
	m.table("Everything that was asked was answered.", []string{"Reading", "Why not"}, rows)
	m.linef("## Excluded\n")
	rows = nil
	for _, e := range t.Excluded {
		rows = append(rows, []string{e.Cause, e.By})
	}
	m.table("Nothing was excluded.", []string{"Cause", "By"}, rows)
	m.linef("## Still possible\n")
	rows = nil
	for _, p := range t.StillPossible {
		rows = append(rows, []string{p.Cause, p.Status, p.Often})
	}
	m.table("Nothing else.", []string{"Cause, likeliest first", "Status", "How often"}, rows)
	if t.Best != "" {
		m.linef("The reading that would tell them apart best: %s.\n", text(t.Best))
	}
	if len(t.Closed) > 0 {
		m.linef("## Places not entered\n")
		rows = nil
		for _, c := range t.Closed {
			rows = append(rows, []string{code(c.Step), orElse(c.Place, "-"), c.Reason, whoWords(c.Who)})
		}
		m.table("", []string{"Step", "Place", "Reason", "Who may"}, rows)
	}
	if len(t.Notes) > 0 {
		m.linef("## Notes\n")
		for _, n := range t.Notes {
			m.linef("- %s %s", clock(n.When), text(n.Text))
		}
		m.linef("")
	}
}

func (m *markdown) foot(t Ticket) {
	m.linef("---\n")
	made := "not known"
	if !t.Created.IsZero() {
		made = t.Created.UTC().Format(time.RFC3339)
	}
	m.linef("Begun %s. Knowledge %s, hash %s. This is general guidance; local rules and a licensed electrician come first.",
		made, text(orElse(t.Knowledge.Version, "built in")), text(t.Knowledge.Hash))
}

func clock(t time.Time) string {
	if t.IsZero() {
		return "-"
	}
	return t.UTC().Format("2006-01-02 15:04 MST")
}

// text makes outside text harmless in Markdown: no structure, no HTML, no
// control characters.
func text(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\n' || r == '\t':
			b.WriteByte(' ')
		case r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || isBidi(r):
		case strings.ContainsRune("\\`*_[]<>#|~", r):
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '&':
			b.WriteString("&amp;")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func isBidi(r rune) bool {
	return r == 0x200e || r == 0x200f || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069
}
