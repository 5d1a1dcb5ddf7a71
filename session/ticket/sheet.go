package ticket

// sheet is the sheet to sign of a system that was proved: each part with its
// result, what is open, and the lines for those who answer for it. The program
// fills in no name: who signs says it by hand.
func (m *markdown) sheet(p *Proving) {
	if p == nil {
		return
	}
	m.linef("## Sheet to sign\n")
	m.linef("Result: %s\n", text(proved(p.Result)))
	var rows [][]any
	for i, x := range p.Parts {
		rows = append(rows, []any{i + 1, x.Name, x.Result, x.Say})
	}
	m.table("", []string{"No.", "Part", "Result", "Finding, or why not"}, rows)
	m.list("Between this and a pass:", p.Open)
	m.list("For a licensed person:", p.Hand)
	rows = nil
	for i, x := range p.Parts {
		for _, l := range x.Read {
			rows = append(rows, []any{i + 1, x.Name, l.Place, l.Say})
		}
	}
	m.table("Nothing was read yet.", []string{"No.", "Part", "Place", "Read"}, rows)
	m.table("", []string{"Signs", "Name", "Date", "Signature"}, [][]any{
		{signsHelper, signHere, signHere, signHere}, {signsLicensed, signHere, signHere, signHere},
	})
	m.linef("%s\n", text(signsNote))
}

const (
	signsHelper   = "helper, who walked and measured it"
	signsLicensed = "licensed person, for what local rules leave to one"
	signsNote     = "Whoever signs has read every line above. A sheet with an open line is no pass."
	signHere      = md("&nbsp;")
)

func proved(result string) string {
	switch result {
	case Passed:
		return "PASSED"
	case NotPassed:
		return "NOT PASSED"
	}
	return "NOT FINISHED"
}

// list writes a list below a line, or nothing.
func (m *markdown) list(head string, items []string) {
	if len(items) == 0 {
		return
	}
	m.linef("%s\n", head)
	for _, i := range items {
		m.linef("- %s", opening(i))
	}
	m.linef("")
}
