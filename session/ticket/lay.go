package ticket

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// lay lays a ticket out: the summary, then what it rests on.
func lay(t Ticket) page {
	p := page{Title: "Fault ticket", Verdict: t.Summary.Verdict, Wrong: slices.Clone(t.Summary.Wrong)}
	if t.Proving != nil {
		p.Title = "Proving sheet"
	}
	if t.Session != "" {
		p.Title += " " + t.Session
	}
	p.Top = []point{
		{"How sure", []string{orElse(t.Summary.Sure, "not known: nothing was concluded")}},
		{"Made safe", slices.Clone(nonEmpty(t.Summary.Safe, "Not known: nothing was asked."))},
		{"Asked of you", slices.Clone(nonEmpty(t.Summary.Asked, "Not known: nothing was concluded."))},
		{"Who may do it", []string{orElse(t.Summary.Who, "not known: nothing was concluded")}},
	}
	if t.StopWork != nil { // what to do comes before all else
		p.Top[0], p.Top[1], p.Top[2] = p.Top[2], p.Top[0], p.Top[1]
	}
	p.add("complaint", "Complaint", complaint(t)...)
	if t.Proving != nil {
		p.add("sheet", "Sheet to sign", t.Proving.blocks()...)
	}
	p.add("findings", "Findings", findings(t)...)
	p.add("system", "System", block{Table: system(t)})
	p.add("readings", "Readings in order", block{Table: readings(t)})
	if t.Drawing != nil {
		p.add("diagram", "One-line diagram", drawing(t)...)
	}
	if len(t.Charts) > 0 {
		p.add("charts", "Charts", chartBlocks(t)...)
	}
	p.add("not-known", "Not known", block{Table: notKnown(t)})
	p.add("excluded", "Excluded", block{Table: excluded(t)})
	p.add("possible", "Still possible", possible(t)...)
	if len(t.Closed) > 0 {
		p.add("closed", "Places not entered", block{Table: closed(t)})
	}
	if len(t.Photos) > 0 {
		p.add("photos", "Photos", photos(t)...)
	}
	if len(t.Notes) > 0 {
		p.add("notes", "Notes", notes(t)...)
	}
	p.add("how", "How it went", block{Table: trail(t)})
	if len(t.Unused) > 0 {
		p.add("unused", "Not asked for", para("Answers that were never asked for: "+strings.Join(t.Unused, ", ")))
	}
	p.Foot = foot(t)
	p.clean()
	return p
}

func (p *page) add(id, title string, blocks ...block) {
	p.Sections = append(p.Sections, section{id, title, blocks})
}

func complaint(t Ticket) []block {
	words := "not known: it was chosen from the list"
	if t.Symptom == "" {
		words = "not known: nothing was said"
	}
	if t.Redacted {
		words = LeftOut
	}
	begun := "not known: walked from an answers file"
	switch {
	case !t.Created.IsZero():
		begun = clock(t.Created)
	case t.Session != "":
		begun = "not known: the session does not say"
	}
	rig := "not known: no rig file with a name was given"
	if t.Redacted {
		rig = LeftOut
	}
	rows := [][]cell{
		{say("Complaint"), say(orElse(t.Label, "not known: the session was left before there was one"))},
		{say("In their words"), say(orElse(t.Words, words))},
		{say("Outcome"), say(outcomeWords(t))},
		{say("Rig"), say(orElse(t.Rig, rig))},
		{say("Begun"), say(begun)},
		{say("Last answer"), say(orElse(clock(last(t)), "not known: no answer carries a time"))},
	}
	if t.Damage != "" {
		rows = append(rows, []cell{say("The session is damaged"), say(t.Damage)})
	}
	return []block{{Table: &table{Title: "What was told", Cols: []col{{Name: "What", Lead: true}, {Name: "Told"}}, Rows: rows}}}
}

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

func findings(t Ticket) []block {
	var out []block
	for _, f := range t.Findings {
		// What only could be is in the list of what is still possible. It stands
		// here where numbers speak for it.
		if f.Status == "possible" && !f.counted() {
			continue
		}
		out = append(out, finding(f)...)
	}
	if len(out) == 0 {
		return []block{para("None is more than possible.")}
	}
	return out
}

// counted says whether a number could be worked out.
func (f Finding) counted() bool {
	return slices.ContainsFunc(f.Working, func(k Working) bool { return k.Value != nil })
}

func finding(f Finding) []block {
	mark := verdictOf(f.Status)
	if f.Stop {
		mark = VerdictStop
	}
	head := f.Cause
	if f.Pending && f.Status != "possible" {
		head += " Fix or proof still to come."
	}
	if f.Second {
		head += " A second fault."
	}
	out := []block{{Head: head, Mark: mark}}
	if f.Place != "" {
		out = append(out, para("At "+f.Place+"."))
	}
	out = append(out, para("Evidence: "+orElse(f.Because, "not known: it was not measured, it follows from what was left.")))
	for _, x := range f.Turns {
		out = append(out, para("Decided by: "+x))
	}
	for _, o := range f.Odd {
		out = append(out, para("Confirmed, though odd: "+o))
	}
	for _, c := range f.Close {
		out = append(out, para("Within the meter's error: "+c))
	}
	if len(f.Working) > 0 {
		w := &table{Title: "Working", Cols: []col{{Name: "Working", Lead: true}, {Name: "Formula", Minor: true}, {Name: "Numbers put in", Minor: true}, {Name: "Result"}}}
		for _, k := range f.Working {
			w.Rows = append(w.Rows, []cell{say(k.Label), codes(k.Formula), say(k.Numbers), say(k.Result)})
		}
		out = append(out, block{Table: w})
	}
	if f.Status != "possible" {
		out = append(out, remedy(f)...)
	}
	return out
}

// remedy is what to do, what to be careful of, and how to prove it.
func remedy(f Finding) []block {
	var out []block
	if len(f.Fix) > 0 {
		l := &list{Head: "To do:", Numbered: true}
		for _, x := range f.Fix {
			l.Items = append(l.Items, fmt.Sprintf("%s (%s)", x.Say, whoWords(x.Who)))
		}
		out = append(out, block{List: l})
	}
	if len(f.Cautions) > 0 {
		out = append(out, block{List: &list{Head: "Cautions given:", Items: slices.Clone(f.Cautions)}})
	}
	if f.Proof != "" {
		out = append(out, para("Proof: "+f.Proof))
	}
	if f.HandTo != "" {
		out = append(out, para("Goes on: "+f.HandTo))
	}
	if len(f.Sources) > 0 {
		out = append(out, para("Sources: "+strings.Join(f.Sources, "; ")))
	}
	return out
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

func system(t Ticket) *table {
	x := &table{Title: "What is known of the system", None: "Not known: no rig file told of it, and nothing was asked of it.",
		Cols: []col{{Name: "Fact", Lead: true}, {Name: "Place", Minor: true}, {Name: "Value"}, {Name: "Known from", Minor: true}}}
	for _, f := range t.Facts {
		x.Rows = append(x.Rows, []cell{say(f.Name), say(f.At), say(f.Value), say(originWords(f.Origin))})
	}
	return x
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

func readings(t Ticket) *table {
	x := &table{Title: "Readings in the order in which they were taken", None: "None was taken.", Cols: []col{{Name: "No."}, {Name: "Reading", Lead: true}, {Name: "Value"},
		{Name: "Where", Minor: true}, {Name: "State", Minor: true}, {Name: "Meter", Minor: true}, {Name: "Round", Minor: true},
		{Name: "Time", Minor: true}, {Name: "What it showed", Minor: true}}}
	for i, r := range t.Readings {
		v := r.Value
		if r.Odd {
			v += " (odd, confirmed)"
		}
		x.Rows = append(x.Rows, []cell{say(fmt.Sprint(i + 1)), say(r.Name), say(v), say(r.At), say(strings.Join(r.State, ", ")), say(r.Meter),
			say(fmt.Sprint(r.Round)), say(clock(r.When)), say(r.Verdict)})
	}
	return x
}

func trail(t Ticket) *table {
	x := &table{Title: "The steps that were walked", None: "No step was taken.", Cols: []col{{Name: "Step", Lead: true}, {Name: "Asked", Minor: true},
		{Name: "Place", Minor: true}, {Name: "Answer"}, {Name: "Led to", Minor: true}, {Name: "Because", Minor: true}}}
	for _, v := range t.Trail {
		led := codes(v.Branch)
		switch {
		case v.Branch == "":
		case v.Close:
			led = say(v.Branch + " (close)")
		case v.Assumed:
			led = say(v.Branch + " (assumed)")
		}
		x.Rows = append(x.Rows, []cell{codes(v.Step), codes(v.Reading), say(v.At), say(v.Value), led, say(v.Why)})
	}
	return x
}

func notKnown(t Ticket) *table {
	x := &table{Title: "Readings that could not be had", None: "Everything that was asked was answered.", Cols: []col{{Name: "Reading", Lead: true}, {Name: "Why not"}}}
	if len(t.Readings)+len(t.Facts) == 0 {
		x.None = "Nothing was asked."
	}
	for _, n := range t.NotKnown {
		x.Rows = append(x.Rows, []cell{say(n.Name), say(n.Reason)})
	}
	return x
}

func excluded(t Ticket) *table {
	x := &table{Title: "Causes that are ruled out, and by what", None: "Nothing was excluded.", Cols: []col{{Name: "Cause", Lead: true}, {Name: "By"}}}
	for _, e := range t.Excluded {
		x.Rows = append(x.Rows, []cell{say(e.Cause), say(e.By)})
	}
	return x
}

func possible(t Ticket) []block {
	x := &table{Title: "Causes that nothing excludes, likeliest first", None: "Nothing else.",
		Cols: []col{{Name: "Cause, likeliest first", Lead: true}, {Name: "Status", Minor: true}, {Name: "How often"}}}
	for _, p := range t.StillPossible {
		if p.Status != "proven" { // that stands above
			x.Rows = append(x.Rows, []cell{say(p.Cause), say(p.Status), say(p.Often)})
		}
	}
	switch {
	case t.Symptom == "":
		x.None = "Not known: without a complaint anything is."
	case t.StopWork != nil:
		x.None = "Work was stopped; no other cause was looked for, and none is excluded by that."
	}
	out := []block{{Table: x}}
	if t.Best != "" {
		out = append(out, para("The reading that would tell them apart best: "+t.Best+"."))
	}
	return out
}

func closed(t Ticket) *table {
	x := &table{Title: "Places that were not entered", Cols: []col{{Name: "Reason", Lead: true}, {Name: "Step", Minor: true}, {Name: "Place", Minor: true}, {Name: "Who may"}}}
	for _, c := range t.Closed {
		x.Rows = append(x.Rows, []cell{say(c.Reason), codes(c.Step), say(c.Place), say(whoWords(c.Who))})
	}
	return x
}

func notes(t Ticket) []block {
	l := &list{}
	for _, n := range t.Notes {
		l.Items = append(l.Items, orElse(clock(n.When), "time not known")+": "+n.Text)
	}
	return []block{{List: l}}
}

func foot(t Ticket) []string {
	k := fmt.Sprintf("Program %s. Knowledge %s, hash %s.", orElse(t.Program, "not known"),
		orElse(t.Knowledge.Version, "of no version"), orElse(t.Knowledge.Hash, "not known"))
	out := []string{k}
	if t.Knowledge.Began != "" {
		out = append(out, "The session began with knowledge of hash "+t.Knowledge.Began+"; what is concluded here is concluded anew.")
	}
	if t.Redacted {
		out = append(out, "In this copy names, places, notes and what was typed in words are left out.")
	}
	return append(out, "This is general guidance; local rules and a licensed electrician come first.")
}

// clock is a time to the minute, "" for none.
func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format("2006-01-02 15:04 MST")
}
