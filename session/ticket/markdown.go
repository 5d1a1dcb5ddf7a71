package ticket

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
)

// Markdown writes the ticket for people: what is wrong first, then the system,
// the readings in order, the working and what is still open.
func Markdown(w io.Writer, t Ticket) error {
	m := &markdown{}
	m.head(t)
	m.sheet(t.Proving)
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

// table writes a table, or one line that says there is nothing. A cell is a
// string, as it came, or md.
func (m *markdown) table(none string, head []string, rows [][]any) {
	if len(rows) == 0 {
		m.linef("%s\n", none)
		return
	}
	m.linef("| %s |", strings.Join(head, " | "))
	m.linef("|%s", strings.Repeat(" --- |", len(head)))
	for _, r := range rows {
		m.WriteString("|")
		for _, c := range r {
			fmt.Fprintf(m, " %s |", orElse(string(cell(c)), "-"))
		}
		m.WriteString("\n")
	}
	m.linef("")
}

func cell(c any) md {
	switch c := c.(type) {
	case md:
		return c
	case string:
		return md(text(c))
	}
	return md(text(fmt.Sprint(c)))
}

func (m *markdown) head(t Ticket) {
	title := "Fault ticket"
	if t.Session != "" {
		title += " " + text(t.Session)
	}
	m.linef("# %s\n", title)
	m.point("Complaint", orElse(t.Label, "not known: the session was left before there was one"))
	words := "not known: it was chosen from the list"
	if t.Symptom == "" {
		words = "not known: nothing was said"
	}
	m.point("In their words", orElse(t.Words, words))
	m.point("Outcome", outcomeWords(t))
	m.point("Safety", safetyWords(t))
	m.point("Rig", orElse(t.Rig, "not known: no rig file with a name was given"))
	begun := "not known: walked from an answers file"
	switch {
	case !t.Created.IsZero():
		begun = clock(t.Created)
	case t.Session != "":
		begun = "not known: the session does not say"
	}
	m.point("Begun", begun)
	m.point("Last answer", orElse(clock(last(t)), "not known: no answer carries a time"))
	if t.Damage != "" {
		m.point("The session is damaged", t.Damage)
	}
	m.linef("")
}

// point is one line of the head.
func (m *markdown) point(name, say string) { m.linef("- **%s:** %s", name, text(say)) }

// last is when the last reading was taken or note written.
func last(t Ticket) time.Time {
	var l time.Time
	for _, r := range t.Readings {
		if r.When.After(l) {
			l = r.When
		}
	}
	for _, n := range t.Notes {
		if n.When.After(l) {
			l = n.When
		}
	}
	return l
}

func outcomeWords(t Ticket) string {
	if p := t.Proving; p != nil && t.Outcome != "stopped" {
		return p.Result
	}
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
		return "STOP: " + t.StopWork.Cause
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
	none := true
	for _, f := range t.Findings {
		// What only could be is in the list of what is still possible. It stands
		// here where numbers speak for it.
		if f.Status == "possible" && !f.counted() {
			continue
		}
		none = false
		m.finding(f)
	}
	if none {
		m.linef("None is more than possible.\n")
	}
}

// counted says whether a number could be worked out.
func (f Finding) counted() bool {
	return slices.ContainsFunc(f.Working, func(k Working) bool { return k.Value != nil })
}

func (m *markdown) finding(f Finding) {
	title := strings.ToUpper(f.Status)
	if f.Pending && f.Status != "possible" {
		title += ", fix or proof still to come"
	}
	if f.Second {
		title += ", second fault"
	}
	m.linef("### %s: %s\n", text(title), text(f.Cause))
	if f.Place != "" {
		m.linef("At %s.\n", text(f.Place))
	}
	if f.Because != "" {
		m.linef("Evidence: %s\n", text(f.Because))
	}
	var rows [][]any
	for _, k := range f.Working {
		rows = append(rows, []any{k.Label, code(k.Formula), k.Numbers, k.Result})
	}
	if len(rows) > 0 {
		m.table("", []string{"Working", "Formula", "Numbers put in", "Result"}, rows)
	}
	if f.Status != "possible" {
		m.remedy(f)
	}
}

// remedy is what to do, what to be careful of, and how to prove it.
func (m *markdown) remedy(f Finding) {
	if len(f.Fix) > 0 {
		m.linef("To do:\n")
		for i, l := range f.Fix {
			m.linef("%d. %s (%s)", i+1, opening(l.Say), whoWords(l.Who))
		}
		m.linef("")
	}
	if len(f.Cautions) > 0 {
		m.linef("Cautions given:\n")
		for _, c := range f.Cautions {
			m.linef("- %s", opening(c))
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
	var rows [][]any
	for _, f := range t.Facts {
		rows = append(rows, []any{f.Name, f.Place, f.Value, originWords(f.Origin)})
	}
	m.table("Not known: no rig file told of it, and nothing was asked of it.", []string{"Fact", "Place", "Value", "Known from"}, rows)
}

func originWords(o string) string {
	switch o {
	case "file":
		return "rig file"
	case "worked":
		return "worked out"
	case "assumed":
		return "taken for granted"
	case "told":
		return "told"
	}
	return "asked"
}

func (m *markdown) readings(t Ticket) {
	m.linef("## Readings in order\n")
	var rows [][]any
	for i, r := range t.Readings {
		v := r.Value
		if r.Odd {
			v += " (odd, confirmed)"
		}
		rows = append(rows, []any{i + 1, r.Name, v, r.At, strings.Join(r.State, ", "), r.Meter, r.Round, clock(r.When), r.Verdict})
	}
	m.table("None.", []string{"No.", "Reading", "Value", "Where", "State", "Meter", "Round", "Time", "What it showed"}, rows)
	m.linef("## How it went\n")
	rows = nil
	for _, v := range t.Trail {
		led := code(v.Branch)
		switch {
		case v.Close:
			led += " (close)"
		case v.Assumed:
			led += " (assumed)"
		}
		rows = append(rows, []any{code(v.Step), code(v.Reading), v.Value, led, v.Why})
	}
	m.table("No step was taken.", []string{"Step", "Asked", "Answer", "Led to", "Because"}, rows)
}

func (m *markdown) open(t Ticket) {
	m.linef("## Not known\n")
	var rows [][]any
	for _, n := range t.NotKnown {
		rows = append(rows, []any{n.Name, n.Reason})
	}
	none := "Everything that was asked was answered."
	if len(t.Readings)+len(t.Facts) == 0 {
		none = "Nothing was asked."
	}
	m.table(none, []string{"Reading", "Why not"}, rows)
	m.linef("## Excluded\n")
	rows = nil
	for _, e := range t.Excluded {
		rows = append(rows, []any{e.Cause, e.By})
	}
	m.table("Nothing was excluded.", []string{"Cause", "By"}, rows)
	m.linef("## Still possible\n")
	rows = nil
	for _, p := range t.StillPossible {
		if p.Status != "proven" { // that stands above
			rows = append(rows, []any{p.Cause, p.Status, p.Often})
		}
	}
	none = "Nothing else."
	switch {
	case t.Symptom == "":
		none = "Not known: without a complaint anything is."
	case t.StopWork != nil:
		none = "Work was stopped; no other cause was looked for, and none is excluded by that."
	}
	m.table(none, []string{"Cause, likeliest first", "Status", "How often"}, rows)
	if t.Best != "" {
		m.linef("The reading that would tell them apart best: %s.\n", text(t.Best))
	}
	if len(t.Closed) > 0 {
		m.linef("## Places not entered\n")
		rows = nil
		for _, c := range t.Closed {
			rows = append(rows, []any{code(c.Step), c.Place, c.Reason, whoWords(c.Who)})
		}
		m.table("", []string{"Step", "Place", "Reason", "Who may"}, rows)
	}
	if len(t.Notes) > 0 {
		m.linef("## Notes\n")
		for _, n := range t.Notes {
			m.linef("- %s: %s", orElse(clock(n.When), "time not known"), text(n.Text))
		}
		m.linef("")
	}
	if len(t.Unused) > 0 {
		m.linef("Answers that were never asked for: %s\n", text(strings.Join(t.Unused, ", ")))
	}
}

func (m *markdown) foot(t Ticket) {
	m.linef("---\n")
	k := fmt.Sprintf("Program %s. Knowledge %s, hash %s.", text(orElse(t.Program, "not known")),
		text(orElse(t.Knowledge.Version, "of no version")), text(t.Knowledge.Hash))
	if t.Knowledge.Began != "" {
		k += " The session began with knowledge of hash " + text(t.Knowledge.Began) + "; what is concluded here is concluded anew."
	}
	m.linef("%s This is general guidance; local rules and a licensed electrician come first.", k)
}

// clock is a time to the minute, "" for none.
func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format("2006-01-02 15:04 MST")
}
