package ticket

import (
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
)

// Summary is what a reader must know before reading on: it fits one screen.
type Summary struct {
	Verdict string   `json:"verdict"` // one word: STOP, PROVEN, LIKELY, TOO CLOSE TO CALL, NOT SETTLED ...
	Wrong   []string `json:"wrong"`   // what is wrong, the most dangerous first
	Sure    string   `json:"how_sure"`
	Safe    []string `json:"made_safe"`    // what was asked and done to make it safe
	Asked   []string `json:"asked_of_you"` // what the reader is to do
	Who     string   `json:"who"`          // who may do that
}

// The verdicts. A word and a shape stand for each, never a colour alone.
const (
	VerdictStop        = "STOP"
	VerdictProven      = "PROVEN"
	VerdictLikely      = "LIKELY"
	VerdictClose       = "TOO CLOSE TO CALL"
	VerdictPossible    = "POSSIBLE"
	VerdictHandedOver  = "HANDED OVER"
	VerdictRefuted     = "NOT THE CAUSE"
	VerdictNotSettled  = "NOT SETTLED"
	VerdictNotFinished = "NOT FINISHED"
	VerdictPassed      = "PASSED"
	VerdictNotPassed   = "NOT PASSED"
)

func verdictOf(status string) string {
	switch walk.Status(status) {
	case walk.IsProven:
		return VerdictProven
	case walk.IsLikely:
		return VerdictLikely
	case walk.IsClose:
		return VerdictClose
	case walk.IsRefuted:
		return VerdictRefuted
	case walk.IsHandedOver:
		return VerdictHandedOver
	}
	return VerdictPossible
}

// sureOf says how sure a verdict is, and what it rests on.
func sureOf(verdict string) string {
	switch verdict {
	case VerdictStop:
		return "taken as so for safety; nobody went on to measure"
	case VerdictProven:
		return "proven: the same readings were taken again after the fix, and they hold"
	case VerdictLikely:
		return "likely: every reading on the way leads there; not proven until the fix is made and read again"
	case VerdictClose:
		return "the readings lie within the meter's error of the limit; this side is the likelier one"
	case VerdictPossible:
		return "possible only: a reading on the way could not be had"
	case VerdictHandedOver:
		return "not looked into: the place is for somebody else"
	case VerdictPassed:
		return "every part of the procedure was read and is in order"
	case VerdictNotPassed:
		return "a part of the procedure has a fault or was left open"
	case VerdictNotSettled:
		return "not known: the readings that were had do not tell the causes apart"
	}
	return "not known: the walk is not finished"
}

// summary says the whole in a few lines.
func (m maker) summary(t *Ticket) Summary {
	s := Summary{Safe: m.madeSafe(t)}
	lead := m.leading(t)
	switch {
	case t.StopWork != nil:
		s.Verdict = VerdictStop
	case t.Proving != nil:
		s.Verdict = map[string]string{Passed: VerdictPassed, NotPassed: VerdictNotPassed}[t.Proving.Result]
	case len(lead) > 0:
		s.Verdict = verdictOf(lead[0].Status)
	case t.Outcome == string(walk.Narrowed):
		s.Verdict = VerdictNotSettled
	}
	s.Verdict = orElse(s.Verdict, VerdictNotFinished)
	s.Sure = sureOf(s.Verdict)
	for _, f := range lead {
		s.Wrong = append(s.Wrong, atPlace(f))
	}
	switch {
	case t.Proving != nil && t.StopWork == nil:
		s.Wrong = t.Proving.Open
		if len(s.Wrong) == 0 {
			s.Wrong = []string{"Nothing: the system has passed."}
		}
	case len(s.Wrong) == 0 && len(t.StillPossible) > 0 && t.Symptom != "":
		s.Wrong = append(s.Wrong, "Not known. Likeliest of what is left: "+t.StillPossible[0].Cause)
	case len(s.Wrong) == 0:
		s.Wrong = []string{"Not known: " + orElse(t.Label, "there was no complaint yet")}
	}
	s.Asked = m.asked(t, lead)
	s.Who = whoOf(t, lead)
	return s
}

// leading lists the findings that a reader must know of first: stop-work alone,
// else what is told and not refuted, those only possible only where nothing is
// surer.
func (m maker) leading(t *Ticket) []Finding {
	if t.StopWork != nil {
		return []Finding{*t.StopWork}
	}
	var sure, possible []Finding
	for _, f := range t.Findings {
		switch walk.Status(f.Status) {
		case walk.IsProven, walk.IsLikely, walk.IsClose, walk.IsHandedOver:
			sure = append(sure, f)
		case walk.IsPossible:
			if f.counted() {
				possible = append(possible, f)
			}
		}
	}
	if len(sure) == 0 {
		return possible
	}
	// What is still to be mended comes before what is mended.
	slices.SortStableFunc(sure, func(a, b Finding) int { return rankOf(a) - rankOf(b) })
	return sure
}

func rankOf(f Finding) int {
	switch walk.Status(f.Status) {
	case walk.IsLikely, walk.IsClose:
		return 0
	case walk.IsProven:
		return 1
	}
	return 2
}

func atPlace(f Finding) string {
	if f.Place == "" {
		return f.Cause
	}
	return f.Cause + " At " + f.Place + "."
}

// madeSafe tells what was asked about danger and what was done to the rig, in the
// order in which it was.
func (m maker) madeSafe(t *Ticket) []string {
	var out []string
	asked := false
	for i := len(t.Readings) - 1; i >= 0; i-- {
		r := t.Readings[i]
		if r.Reading != m.g.DangerReading {
			continue
		}
		asked = true
		switch {
		case t.StopWork != nil:
			out = append(out, "Danger asked for, and the answer was: "+r.Value+". Work was stopped.")
		case r.Value == "no":
			out = append(out, "Danger was asked for: no smoke, melting, swelling, hissing, sparking or heat at that time.")
		default:
			out = append(out, "Danger was asked for: "+r.Value+".")
		}
		break
	}
	switch {
	case asked:
	case t.StopWork != nil:
		out = append(out, "Work was stopped: "+t.StopWork.Cause)
	default:
		out = append(out, "Not known: the danger question was not answered.")
	}
	done := false
	for _, e := range m.s.Events() {
		if e.Kind != walk.EvDone {
			continue
		}
		say := ""
		if a := m.g.Actions[e.Action]; a != nil {
			say = a.Say
		} else if f := m.g.Findings[e.Finding]; f != nil && len(f.Fix) > 0 && !f.NoFault {
			say = "the fix for: " + f.Cause
		}
		if say == "" || slices.Contains(out, "Done: "+say) {
			continue
		}
		done = true
		out = append(out, "Done: "+say)
	}
	if !done {
		out = append(out, "Not known whether it stands isolated now: nothing was asked to be switched off.")
	}
	return out
}

// asked tells the reader what to do next.
func (m maker) asked(t *Ticket, lead []Finding) []string {
	var out []string
	switch {
	case t.StopWork != nil:
		for _, l := range t.StopWork.Fix {
			out = append(out, l.Say)
		}
		if t.StopWork.HandTo != "" {
			out = append(out, "Then hand over to: "+t.StopWork.HandTo)
		}
		return nonEmpty(out, "Keep away from it until it has been made safe.")
	case m.s.Outcome() == walk.Running && m.s.Prompt().Kind != walk.WantFix && !m.s.Prompt().Proof:
		out = append(out, "Go on with the walk; it stands at: "+m.wants())
	}
	for _, f := range lead {
		switch walk.Status(f.Status) {
		case walk.IsLikely, walk.IsClose:
			out = append(out, m.toMend(f))
		case walk.IsPossible:
			out = append(out, "Settle first whether it is so: "+f.Cause)
		case walk.IsHandedOver:
			out = append(out, orElse(f.HandTo, "Have a licensed person go on there: "+f.Cause))
		}
	}
	if t.Best != "" && !slices.ContainsFunc(lead, func(f Finding) bool { return f.Status == string(walk.IsLikely) }) {
		out = append(out, "Take the reading that tells the causes apart best: "+t.Best+".")
	}
	for _, c := range t.Closed {
		if slices.ContainsFunc(lead, func(f Finding) bool { return f.Cause == c.Reason }) {
			continue // that says who goes on
		}
		say := "See to what kept the walk out: " + c.Reason + "."
		if c.Who != string(graph.Helper) {
			say = "For a " + whoWords(c.Who) + ": " + c.Reason + "."
		}
		if !slices.Contains(out, say) {
			out = append(out, say)
		}
	}
	if p := t.Proving; p != nil {
		if p.Result != Passed {
			return append(out, "Do what stands between it and a pass, and walk it once more. Until then it does not go out.")
		}
		return append(out, "Read the sheet, and sign it by hand.")
	}
	if len(out) == 0 && t.Outcome == string(walk.Found) {
		out = append(out, "Nothing more: it is mended and proven. Keep the figures for next time.")
	}
	return nonEmpty(out, "Take the readings that are not known, and walk it once more.")
}

func nonEmpty(list []string, or string) []string {
	if len(list) == 0 {
		return []string{or}
	}
	return list
}

// toMend says what is still to be done about a finding.
func (m maker) toMend(f Finding) string {
	made := slices.ContainsFunc(m.s.Events(), func(e walk.Event) bool { return e.Kind == walk.EvDone && e.Finding == f.ID })
	switch {
	case made && f.Proof != "":
		return "The fix is made. Take the proof: " + f.Proof
	case f.NoFault && f.Proof != "":
		return "Nothing to mend. Confirm it: " + f.Proof
	case len(f.Fix) == 0:
		return orElse(f.HandTo, "Keep the figures: "+f.Cause)
	case f.Proof == "":
		return "Make the fix below."
	}
	return "Make the fix below, then take the proof: " + f.Proof
}

// wants is what the walk asks for at the moment, in words.
func (m maker) wants() string {
	switch p := m.s.Prompt(); {
	case p.Reading != nil:
		return p.Reading.Ask
	case p.Action != nil:
		return p.Action.Say
	case p.Kind == walk.WantCloseCall:
		return "a close call; the reading is to be taken again"
	case p.Kind == walk.WantPlaces, p.Kind == walk.WantPlace:
		return "which places the system has"
	}
	return "what is wrong?"
}

// whoOf says who may do what is asked.
func whoOf(t *Ticket, lead []Finding) string {
	if t.StopWork != nil {
		return "anybody, from a safe place; after that only those it is handed over to"
	}
	if p := t.Proving; p != nil && p.Result == Passed {
		return "whoever walked it; and a licensed person where local rules ask for one"
	}
	who := map[string]bool{}
	for _, f := range lead {
		if f.Status == string(walk.IsProven) {
			continue
		}
		for _, l := range f.Fix {
			who[whoWords(l.Who)] = true
		}
		if f.Status == string(walk.IsHandedOver) {
			who[whoWords(string(graph.Electrician))] = true
		}
	}
	for _, c := range t.Closed {
		who[whoWords(c.Who)] = true
	}
	var all []string
	for _, w := range []string{"helper", "licensed electrician", "maker or repairer"} {
		if who[w] {
			all = append(all, w)
		}
	}
	switch len(all) {
	case 0:
		return "helper, with one meter"
	case 1:
		return all[0]
	}
	return strings.Join(all, ", ") + "; the fix says who for each line"
}
