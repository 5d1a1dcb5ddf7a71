package graph

import (
	"slices"
	"strings"
	"unicode/utf8"

	"hotlug/engine/formula"
	"hotlug/engine/pattern"
	"hotlug/engine/quantity"
	"hotlug/engine/shape"
)

// nameInText finds words of a formula, quoted ones with their quotes: those are
// choices and no names.
var nameInText = pattern.Of(`'[^']*'|"[^"]*"|[a-z_][a-z0-9_]*`)

// fitName says whether an id can stand in formulas and texts, and reports it if
// not.
func (l *loader) fitName(e *entry) bool {
	switch _, isFunc := l.g.Scope.Func(e.id); {
	case formula.Reserved(e.id):
		l.bad("reserved-name", e.key, e.id+" is a word of the formula language", "call it something else")
	case e.id == "place":
		l.bad("reserved-name", e.key, "{place} in a text is the name of the place at hand", "call it something else")
	case isFunc:
		l.bad("reserved-name", e.key, e.id+" is a function of the formula language", "call it something else")
	case strings.Contains(e.id, "-"):
		l.bad("dash-in-name", e.key, "a formula takes "+e.id+" for a difference", "write "+strings.ReplaceAll(e.id, "-", "_"))
	default:
		return true
	}
	return false
}

// buildValues compiles the worked values, those first that others use.
func (l *loader) buildValues() {
	state := map[string]int{} // 1 being built, 2 built
	var build func(e *entry)
	build = func(e *entry) {
		state[e.id] = 1
		is := e.nodes[0].Get("is")
		if is == nil {
			state[e.id] = 2
			l.spoil(e.id)
			return
		}
		for _, at := range nameInText.FindAllStringIndex(is.Text(), -1) {
			name := is.Text()[at[0]:at[1]]
			u := l.values.byID[name]
			switch {
			case u == nil || state[name] == 2:
			case state[name] == 1:
				l.problem(shape.ProblemIn("circle", is, utf8.RuneCountInString(is.Text()[:at[0]]), len(name),
					e.id+" is worked out from itself, by way of "+name, "take one of them from readings only"))
				state[e.id] = 2
				l.spoil(e.id)
				return
			default:
				build(u)
			}
		}
		l.value(e, is)
		state[e.id] = 2
	}
	for _, e := range l.values.all() {
		if state[e.id] == 0 {
			build(e)
		}
		l.g.ValueOrder = append(l.g.ValueOrder, e.id)
	}
}

func (l *loader) value(e *entry, is *shape.Node) {
	if l.readings.byID[e.id] != nil {
		l.twice(e.key, l.readings.byID[e.id].key, e.id)
		return
	}
	if !l.fitName(e) {
		return
	}
	l.stays(e, "is", "")
	symbol := l.stays(e, "unit", "")
	want := formula.WantAny()
	if n := e.get("unit"); n != nil {
		u, ok := quantity.BySymbol(symbol)
		if !ok {
			l.bad("unknown-unit", n, "there is no unit "+n.Text(), "the units are "+strings.Join(quantity.Symbols(), " "))
		} else {
			want = formula.WantNumber(u)
		}
	}
	f := l.formula(is, want)
	if f == nil {
		l.spoil(e.id)
		return
	}
	l.g.Scope.Value(e.id, f)
	l.g.Values[e.id] = &Value{ID: e.id, Is: f, Text: is.Text(), Unit: symbol, Label: e.text("label"), At: e.top().Place()}
}

// textOf reads a line with names in braces, and the words for when one of them
// is not known, which have none.
func (l *loader) textOf(n, or *shape.Node) Text {
	if n == nil {
		return Text{}
	}
	t := Text{At: n.Place(), Or: l.plainText(or)}
	s, read := n.Text(), 0 // runes
	for s != "" {
		i := strings.IndexByte(s, '{')
		if i < 0 {
			t.Parts = append(t.Parts, Part{Literal: s})
			break
		}
		if i > 0 {
			t.Parts = append(t.Parts, Part{Literal: s[:i]})
		}
		read += utf8.RuneCountInString(s[:i])
		j := strings.IndexByte(s[i:], '}')
		if j < 0 {
			l.problem(shape.ProblemIn("open-brace", n, read, 1, "a brace is opened and never closed", "write {name}"))
			break
		}
		name := s[i+1 : i+j]
		at, width := read+1, utf8.RuneCountInString(name)
		read += width + 2
		s = s[i+j+1:]
		if name == "place" {
			t.Parts = append(t.Parts, Part{Place: true})
			continue
		}
		_, isValue := l.values.byID[name]
		if !isValue && l.readings.byID[name] == nil {
			hint := "write the id of a reading or worked value, or {place}"
			if near := l.near(name, slices.Concat(l.readings.order, l.values.order)); near != "" {
				hint = "did you mean " + near + "?"
			}
			l.problem(shape.ProblemIn("unknown-name", n, at, width, "{"+name+"} is no reading and no worked value", hint))
			continue
		}
		f, problems := formula.Compile(name, l.g.Scope, formula.WantAny())
		if len(problems) > 0 || f == nil {
			continue // reported where it is defined
		}
		t.Parts = append(t.Parts, Part{Name: name, Value: f})
	}
	return t
}

// plainText reads a line in which nothing is filled in, and reports braces: they
// would be shown as they stand.
func (l *loader) plainText(n *shape.Node) string {
	if i := strings.IndexAny(n.Text(), "{}"); i >= 0 {
		l.problem(shape.ProblemIn("brace-in-plain-text", n, utf8.RuneCountInString(n.Text()[:i]), 1, "nothing is filled in here, and the brace would be shown", "say it without the value"))
	}
	return n.Text()
}
