package diagram

import "strings"

// Describe says in words what the drawing shows, rung by rung, and then the
// readings with where they were taken: for whoever does not see it.
func (l *Layout) Describe(marks []Mark) string {
	rungs, placed := l.marked(marks)
	var say []string
	for _, g := range rungs {
		if s := g.spoken(); s != "" {
			say = append(say, s)
		}
	}
	if l.note != "" {
		say = append(say, "Earth: "+strings.TrimSuffix(l.note, ".")+".")
	}
	for i, m := range marks {
		head := clean(m.Value)
		for _, x := range []string{m.Verdict.String(), clean(m.Word)} {
			if x != "" && (x != m.Verdict.String() || clean(m.Word) == "") {
				head += ", " + x
			}
		}
		s := "Reading " + number(i)
		if label := clean(m.Label); label != "" {
			s += ", " + label
		}
		s += ": " + head + "."
		switch p, part := l.sys.Part(m.At); {
		case !placed[i]:
		case m.From == "" && m.To == "":
			if part {
				s += " At " + the(clean(p.Name)) + "."
			}
		default:
			if full, red, black, ok := l.find(m.From, m.To, m.At); ok {
				s += " " + full.spoken(red, black)
			}
		}
		say = append(say, s)
	}
	return strings.Join(say, " ")
}

// spoken goes along a rung from the plus bar to the minus bar.
func (g rung) spoken() string {
	if len(g.rows) == 0 {
		return ""
	}
	var lanes [2][]string
	var what []string
	for _, r := range g.rows {
		switch r.kind {
		case partRow:
			if r.sym != symWire {
				lanes[r.lane] = append(lanes[r.lane], r.said)
			}
		case unitsRow:
			what = append(what, r.units...)
		case boxRow:
			what = append(what, strings.Join(append([]string{r.name}, r.more...), ", "))
		}
	}
	s := strings.ToUpper(g.title[:1]) + g.title[1:] + ": "
	if len(lanes[plusLane]) > 0 {
		s += "on the plus side " + list(lanes[plusLane]) + "; "
	}
	s += strings.Join(what, ", ")
	if len(lanes[minusLane]) > 0 {
		s += "; on the minus side " + list(lanes[minusLane])
	}
	return strings.TrimSuffix(strings.TrimSpace(s), ";") + "."
}
