package ticket

import (
	"fmt"
	"slices"
)

// blocks is the sheet to sign of a system that was proved: each part with its
// result, what is open, and the lines for those who answer for it. The program
// fills in no name: who signs says it by hand.
func (p *Proving) blocks() []block {
	parts := &table{Title: "The parts of the procedure", Cols: []col{{Name: "No."}, {Name: "Part", Lead: true}, {Name: "Result"}, {Name: "Finding, or why not", Minor: true}}}
	read := &table{Title: "What was read, part by part", None: "Nothing was read yet.",
		Cols: []col{{Name: "No."}, {Name: "Part", Lead: true}, {Name: "Place", Minor: true}, {Name: "Read"}}}
	for i, x := range p.Parts {
		no := say(fmt.Sprint(i + 1))
		parts.Rows = append(parts.Rows, []cell{no, say(x.Name), say(x.Result), say(x.Say)})
		for _, l := range x.Read {
			read.Rows = append(read.Rows, []cell{no, say(x.Name), say(l.Place), say(l.Say)})
		}
	}
	out := []block{para("Result: " + proved(p.Result)), {Table: parts}}
	for _, l := range []list{{Head: "Between this and a pass:", Items: p.Open}, {Head: "For a licensed person:", Items: p.Hand}} {
		if len(l.Items) > 0 {
			l.Items = slices.Clone(l.Items)
			out = append(out, block{List: &l})
		}
	}
	return append(out, block{Table: read}, block{Sign: []string{signsHelper, signsLicensed}}, para(signsNote))
}

const (
	signsHelper   = "helper, who walked and measured it"
	signsLicensed = "licensed person, for what local rules leave to one"
	signsNote     = "Whoever signs has read every line above. A sheet with an open line is no pass."
)

// signHeads are the columns of the lines to sign.
var signHeads = []string{"Signs", "Name", "Date", "Signature"}

func proved(result string) string {
	switch result {
	case Passed:
		return VerdictPassed
	case NotPassed:
		return VerdictNotPassed
	}
	return VerdictNotFinished
}
