package calc

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"hotlug/engine/formula"
)

// Row is a labelled line of an answer. Its label may be empty, as that of a
// heading is.
type Row struct{ Label, Text string }

// careful stands under every result that somebody may build by.
const careful = "Local rules, a licensed electrician and the maker's figures come first."

// Rows is the working as it is shown.
func (r Result) Rows() []Row {
	var rows []Row
	if r.Function == "" {
		is := " = "
		if strings.Contains(r.Result, "standard") {
			is = ": "
		}
		rows = append(rows, Row{"", r.Numbers + is + r.Result})
	} else {
		rows = append(rows, Row{"", r.Title}, Row{"formula", r.Formula}, Row{"put in", r.Numbers}, Row{"result", r.Result})
	}
	if r.Function == "" && r.Formula != "" {
		rows = append(rows, Row{"formula", r.Formula})
	}
	rows = append(rows, Row{"source", r.Source}, Row{"holds for", r.Domain})
	for _, n := range r.Notes {
		rows = append(rows, Row{"note", n})
	}
	if r.Source != "" {
		rows = append(rows, Row{"careful", careful})
	}
	return tidyRows(rows, r.ascii)
}

// Rows is a function explained.
func (e Entry) Rows() []Row {
	rows := []Row{{"", e.Name + ": " + e.Title}}
	for _, p := range e.Params {
		text := p.Doc
		switch {
		case len(p.Choices) > 0:
			text += ": " + listOr(p.Choices)
		case p.Unit != "":
			text += ", " + p.Unit
		}
		if p.Usual != "" {
			text += "; " + p.Usual + " if left out"
		}
		rows = append(rows, Row{p.Name, text})
	}
	rows = append(rows, Row{"gives", e.Result}, Row{"formula", e.Formula}, Row{"source", e.Source}, Row{"holds for", e.Domain},
		Row{"example", "calc " + e.Example})
	return tidyRows(rows, false)
}

var asciiText = strings.NewReplacer("Ω", "ohm", "µ", "u", "μ", "u", "°", "", "²", "2", "³", "3", "⁴", "^4", "±", "+/-", "×", "x", "·", "*", "÷", "/")

// tidyRows drops what has no text.
func tidyRows(rows []Row, ascii bool) []Row {
	var out []Row
	for _, r := range rows {
		if r.Text == "" {
			continue
		}
		if ascii {
			r.Text = asciiText.Replace(r.Text)
		}
		out = append(out, r)
	}
	return out
}

// Lines puts rows under each other, the labels in a column. They are not wrapped.
func Lines(rows []Row) []string {
	wide := 0
	for _, r := range rows {
		wide = max(wide, utf8.RuneCountInString(r.Label))
	}
	var out []string
	for _, r := range rows {
		if r.Label == "" {
			out = append(out, r.Text)
		} else {
			out = append(out, fmt.Sprintf("  %-*s  %s", wide, r.Label, r.Text))
		}
	}
	return out
}

// Line answers a line typed at a prompt, if it is one for the calculator: it
// starts with "=" or with the word calc. "calc" alone tells how it is used, "calc
// wire" lists an area, "calc wire-drop" explains a function. An error is an
// answer too.
func Line(funcs []*formula.Func, text string, o Options) (isCalc bool, answer []string) {
	clean, err := cleaned(text)
	if err != nil {
		clean = text[:min(len(text), 5)]
	}
	first, _, _ := strings.Cut(clean, " ")
	if !strings.HasPrefix(clean, "=") && !strings.EqualFold(first, "calc") {
		return false, nil
	}
	if err != nil {
		return true, []string{sentence(err)}
	}
	body := withoutCalc(clean)
	if body == "" || body == "=" {
		return true, []string{
			"Type = 0.18 V / 42 A, or a function: calc wire-drop amps=80 run=3m size=25mm2",
			"calc and an area lists its functions: " + listAnd(Areas(funcs)) + ".",
		}
	}
	if e, ok := Topic(funcs, body); ok {
		if len(e) == 1 && fold(e[0].Name) == fold(body) {
			return true, Lines(e[0].Rows())
		}
		return true, Lines(Index(e))
	}
	r, err := Run(funcs, body, o)
	if err != nil {
		return true, []string{sentence(err)}
	}
	return true, Lines(r.Rows())
}

// Topic is what a single word asks to be told about: the functions of an area, or
// one function.
func Topic(funcs []*formula.Func, word string) ([]Entry, bool) {
	if headWord.FindString(word) != word {
		return nil, false
	}
	var out []Entry
	for _, e := range List(funcs) {
		if fold(e.Name) == fold(word) {
			return []Entry{e}, true
		}
		if e.Area == fold(word) {
			out = append(out, e)
		}
	}
	return out, len(out) > 0
}

// Index is functions in one row each: name, and title with what it takes and
// gives.
func Index(list []Entry) []Row {
	var rows []Row
	area := ""
	for _, e := range list {
		if e.Area != area {
			area = e.Area
			rows = append(rows, Row{"", area})
		}
		rows = append(rows, Row{e.Name, e.Title + " (" + e.Result + "): " + e.signature()})
	}
	return rows
}

// sentence is an error as a line of its own.
func sentence(err error) string {
	s := err.Error()
	if s == "" {
		return s
	}
	if first, _, _ := strings.Cut(s, " "); !strings.ContainsAny(first, "-_") {
		s = strings.ToUpper(s[:1]) + s[1:] // the names of functions stay as they are
	}
	if !strings.ContainsAny(s[len(s)-1:], ".?!") {
		s += "."
	}
	return s
}
