package ticket

import "fmt"

// Chart is a picture of readings, as numbers: the page draws it, every format
// tells it in words and as a table.
type Chart struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Say   string `json:"say"` // what it shows, in a sentence or two
	Unit  string `json:"unit"`
	// Of bars: one a row. Of a curve: lines and points over XName.
	Bars   []Bar       `json:"bars,omitempty"`
	XName  string      `json:"x_name,omitempty"`
	XUnit  string      `json:"x_unit,omitempty"`
	YName  string      `json:"y_name,omitempty"`
	Lines  []ChartLine `json:"lines,omitempty"`
	Points []ChartMark `json:"points,omitempty"`
	Base   *float64    `json:"base,omitempty"` // a line through all bars: the air's temperature
	BaseIs string      `json:"base_is,omitempty"`
}

// Bar is one reading with what it is held against.
type Bar struct {
	Name    string   `json:"name"`
	Value   float64  `json:"value"`
	Shown   string   `json:"shown"` // in words, with the unit
	Limit   *float64 `json:"limit,omitempty"`
	LimitIs string   `json:"limit_is,omitempty"` // in words: "limit 94 mV", "its like 31 °C"
	Over    bool     `json:"over,omitempty"`
	Verdict string   `json:"verdict,omitempty"` // over the limit, within it
}

// ChartLine is a line through points; a band is two of them with one name each.
type ChartLine struct {
	Name   string       `json:"name"`
	Points []ChartPoint `json:"points"`
}

// ChartPoint is a point of a line.
type ChartPoint struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// ChartMark is a point with a name, or from X to XTo and Y to YTo what is possible.
type ChartMark struct {
	Name string  `json:"name"`
	X    float64 `json:"x"`
	XTo  float64 `json:"x_to"`
	Y    float64 `json:"y"`
	YTo  float64 `json:"y_to"`
}

// figure is a chart or diagram on a page, with all that it shows in words and as a
// table.
type figure struct {
	ID, Title, Say string
	Width, Height  int
	Shapes         []drawn // in the order of drawing
	Table          *table
}

func (f *figure) clean() {
	each(&f.ID, &f.Title, &f.Say)
	for i := range f.Shapes {
		each(&f.Shapes[i].Text)
	}
	if f.Table != nil {
		f.Table.clean()
	}
}

// drawn is one shape of a picture: a bar, a line, a way through points, or words.
type drawn struct {
	Kind           string // rect, line, path, text, over, within
	X, Y, X2, Y2   float64
	Class, Way     string
	Text, Anchored string // Anchored is start, middle or end
}

// chartBlocks are the charts of a ticket as blocks of a page.
func chartBlocks(t Ticket) []block {
	var out []block
	for i, c := range t.Charts {
		f := &figure{ID: fmt.Sprintf("chart-%d", i+1), Title: c.Title, Say: c.Say, Table: c.table()}
		if len(c.Bars) > 0 {
			f.bars(c)
		} else {
			f.curves(c)
		}
		out = append(out, block{Figure: f})
	}
	return out
}

// table is all that a chart shows, in words.
func (c Chart) table() *table {
	if len(c.Bars) > 0 {
		t := &table{Title: "As a table: " + c.Title, Cols: []col{{Name: "Where", Lead: true}, {Name: "Reading"}, {Name: "Held against"}, {Name: "Verdict", Minor: true}}}
		for _, b := range c.Bars {
			t.Rows = append(t.Rows, []cell{say(b.Name), say(b.Shown), say(b.LimitIs), say(b.Verdict)})
		}
		return t
	}
	t := &table{Title: "As a table: " + c.Title, Cols: []col{{Name: c.XName, Lead: true}}}
	for _, l := range c.Lines {
		t.Cols = append(t.Cols, col{Name: l.Name})
	}
	const mostRows = 9
	n := len(c.Lines[0].Points)
	for i := 0; i < n; i += max(1, (n-1)/(mostRows-1)) {
		row := []cell{say(number(c.Lines[0].Points[i].X, c.XUnit))}
		for _, l := range c.Lines {
			row = append(row, say(number(l.Points[i].Y, c.Unit)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// number is a number of a chart with its unit.
func number(v float64, unit string) string {
	if unit == "%" {
		return fmt.Sprintf("%.0f %%", v)
	}
	return fmt.Sprintf("%.3g %s", v, unit)
}
