package ticket

import (
	"html/template"
	"slices"

	"hotlug/engine/diagram"
)

// Drawing lays the rig out for a drawing.
type Drawing func(diagram.Options) *diagram.Layout

// oneLine is the one-line diagram on a page.
type oneLine struct {
	Say   string
	Lines []string
	SVG   template.HTML
}

func (d *oneLine) clean() { each(&d.Say) }

// textColumns is how wide the diagram is in letters: two halves of it stand side by
// side, and the line still fits into a mail.
const textColumns = 76

// drawing is the rig with the readings at their points. What a rig file calls its
// parts stands in it, so a redacted copy has none.
func drawing(t Ticket) []block {
	if t.Redacted {
		return []block{para("The diagram is " + LeftOut + ".")}
	}
	marks := t.marks()
	l := t.Drawing(diagram.Options{Abreast: 1, ID: "rig"})
	return []block{{OneLine: &oneLine{
		Say:   "Each number on the diagram is a reading; its name and value stand beside it, with a word and a shape for how it stands.",
		Lines: l.Text(marks, textColumns),
		// Every name in it is cleaned and escaped by engine/diagram, which tries it
		// with hostile ones.
		SVG: template.HTML(l.SVG(marks)),
	}}}
}

// marks are the last readings of each point or place, in order.
func (t Ticket) marks() []diagram.Mark {
	over, within := map[string]bool{}, map[string]bool{}
	for _, c := range t.Charts {
		for _, b := range c.Bars {
			over[b.Name+b.Shown] = over[b.Name+b.Shown] || b.Over
			within[b.Name+b.Shown] = within[b.Name+b.Shown] || b.Limit != nil
		}
	}
	var out []diagram.Mark
	for i, r := range t.Readings {
		again := slices.ContainsFunc(t.Readings[i+1:], func(o Reading) bool { return o.Reading == r.Reading && o.Place == r.Place })
		if again || r.Number == nil || r.From == "" && r.Place == "" {
			continue
		}
		m := diagram.Mark{From: r.From, To: r.To, At: r.Place, Label: r.Name, Value: r.Value}
		key := r.At + r.Value
		if r.Place == "" {
			key = r.Name + r.Value
		}
		switch {
		case over[key]:
			m.Verdict = diagram.AtFault
		case within[key]:
			m.Verdict = diagram.InOrder
		}
		out = append(out, m)
	}
	return out
}
