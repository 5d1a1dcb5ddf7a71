package ticket

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"html/template"
	"io"
	"strings"
	"sync"
)

//go:embed page.html
var pageHTML string

//go:embed page.css
var pageCSS string

// pageTemplate is parsed when the first page is written: the chat never needs it.
var pageTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Funcs(template.FuncMap{
		"css":   func() template.CSS { return template.CSS(pageCSS) }, // our own file
		"kind":  kindOf,
		"heads": func() []string { return signHeads },
		"lead":  leadOf,
		"small": minorOf,
		"value": valueOf,
		"data":  dataOf,
	}).Parse(pageHTML))
})

// HTML writes the ticket as one page that asks nothing of the network.
func HTML(w io.Writer, t Ticket) error {
	p := lay(t)
	p.Verdict = orElse(p.Verdict, VerdictNotFinished)
	return pageTemplate().Execute(w, p)
}

// dataOf is a picture inside a page. Its bytes are those that this program wrote;
// what they are is read from them and from no name.
func dataOf(p *picture) template.URL {
	kind := "jpeg"
	switch {
	case len(p.data) == 0:
		return ""
	case bytes.HasPrefix(p.data, []byte("\x89PNG")):
		kind = "png"
	}
	return template.URL("data:image/" + kind + ";base64," + base64.StdEncoding.EncodeToString(p.data))
}

// kindOf is the shape and colour that a verdict goes by: its word always stands
// beside it.
func kindOf(verdict string) string {
	switch verdict {
	case VerdictStop, VerdictNotPassed:
		return "stop"
	case VerdictProven, VerdictPassed:
		return "good"
	case VerdictLikely, VerdictClose:
		return "likely"
	case VerdictRefuted:
		return "out"
	}
	return "open"
}

// named is a cell with the name of its column.
type named struct {
	Name string
	cell
}

// leadOf is the cell that heads a row.
func leadOf(t *table, row []cell) cell {
	for i, c := range t.Cols {
		if c.Lead {
			return row[i]
		}
	}
	return cell{}
}

// minorOf are the cells that stand in small type below the one that heads a row.
func minorOf(t *table, row []cell) []named {
	var out []named
	for i, c := range t.Cols {
		if c.Minor && row[i].Say != "" {
			out = append(out, named{c.Name, row[i]})
		}
	}
	return out
}

// valueOf are the other cells, in their order.
func valueOf(t *table, row []cell) []named {
	var out []named
	for i, c := range t.Cols {
		if !c.Minor && !c.Lead && c.Name != numberCol {
			out = append(out, named{c.Name, row[i]})
		}
	}
	return out
}

// numberCol is the column of a row's number.
const numberCol = "No."

// Number is the row's number, "" where rows have none.
func (t *table) Number(row []cell) string {
	if len(t.Cols) > 0 && t.Cols[0].Name == numberCol {
		return row[0].Say
	}
	return ""
}

// Heads are the columns that a page shows as such.
func (t *table) Heads() []string {
	var lead, rest []string
	for _, c := range t.Cols {
		switch {
		case c.Lead:
			lead = append(lead, c.Name)
		case !c.Minor && c.Name != numberCol:
			rest = append(rest, c.Name)
		}
	}
	return append(lead, rest...)
}

// First is the text up to its first full stop, for a page's title.
func (p page) First() string {
	if len(p.Wrong) == 0 {
		return p.Title
	}
	s, _, _ := strings.Cut(p.Wrong[0], ". ")
	return s
}
