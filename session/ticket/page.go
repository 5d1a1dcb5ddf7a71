package ticket

import "strings"

// page is a ticket laid out for reading. Every format writes the same page, so
// that none says less than another; how it looks is the format's own.
type page struct {
	Title    string
	Verdict  string
	Wrong    []string
	Top      []point
	Sections []section
	Foot     []string
}

// section is a part of a page under its own heading.
type section struct {
	ID, Title string
	Blocks    []block
}

// block is one thing below a heading. Just one of its fields is set, beside Head
// and Mark.
type block struct {
	Head, Mark string // a heading of its own, with a verdict before it
	Para       string
	List       *list
	Table      *table
	Sign       []string // who signs: a line each
	Figure     *figure
	Photo      *picture
	OneLine    *oneLine
}

type point struct {
	Name string
	Say  []string
}

type list struct {
	Head     string
	Items    []string
	Numbered bool
}

// table is rows under columns. Where there is little room, the columns marked
// Minor stand in small type below the one marked Lead.
type table struct {
	Title string
	Cols  []col
	Rows  [][]cell
	None  string // said when there are no rows
}

type col struct {
	Name        string
	Lead, Minor bool
}

// cell is what stands at one place of a table; Code marks ids and formulas.
type cell struct {
	Say  string
	Code bool
}

func say(s string) cell   { return cell{Say: s} }
func codes(s string) cell { return cell{Say: s, Code: true} }

func para(s string) block { return block{Para: s} }

// shown makes outside text harmless wherever it is shown: one line of what can be
// seen, without what acts on a terminal or hides.
func shown(s string) string {
	var b strings.Builder
	for _, r := range strings.ToValidUTF8(s, "\ufffd") {
		switch {
		case r == '\n' || r == '\t' || r == '\u2028' || r == '\u2029':
			b.WriteByte(' ')
		case hidden(r):
		default:
			b.WriteRune(r)
		}
	}
	return strings.TrimSpace(b.String())
}

// clean puts every text of a page through shown. Formats write pages only.
func (p *page) clean() {
	each(&p.Title, &p.Verdict)
	every(p.Wrong, p.Foot)
	for i := range p.Top {
		each(&p.Top[i].Name)
		every(p.Top[i].Say)
	}
	for i := range p.Sections {
		each(&p.Sections[i].ID, &p.Sections[i].Title)
		for j := range p.Sections[i].Blocks {
			p.Sections[i].Blocks[j].clean()
		}
	}
}

func (b *block) clean() {
	each(&b.Head, &b.Mark, &b.Para)
	every(b.Sign)
	if b.List != nil {
		each(&b.List.Head)
		every(b.List.Items)
	}
	if b.Table != nil {
		b.Table.clean()
	}
	if b.Figure != nil {
		b.Figure.clean()
	}
	if b.OneLine != nil {
		b.OneLine.clean()
	}
	if b.Photo != nil {
		b.Photo.clean()
	}
}

func (t *table) clean() {
	each(&t.Title, &t.None)
	for i := range t.Cols {
		each(&t.Cols[i].Name)
	}
	for _, r := range t.Rows {
		for i := range r {
			each(&r[i].Say)
		}
	}
}

func each(texts ...*string) {
	for _, s := range texts {
		*s = shown(*s)
	}
}

func every(lists ...[]string) {
	for _, l := range lists {
		for i := range l {
			l[i] = shown(l[i])
		}
	}
}
