package formula

import (
	"fmt"
	"math"
	"strings"
)

// Working shows the computation: the formula with its names, the same with the
// numbers put in, and the result rounded to what the limits allow. name and
// label are the id and the noun phrase of the worked value.
func (f *Formula) Working(name, label string, vals []Val, show Shower) Working {
	m := f.machine(vals)
	defer m.done()
	v := m.limits(f, f.root)
	w := Working{Label: label, Name: name, Value: v, Unit: f.root.t.Unit}
	w.Value.outside = false
	w.Formula = printed(f.root, writer{num: func(n *node) string { return show.constant(n) }, times: show.times()})
	w.Numbers = printed(f.root, m.numbers(f, show))
	w.Law, w.Source = f.laws()
	if math.IsNaN(v.Mid) && f.root.t.Class != ClassChoice {
		w.Result = m.reason().Error()
		return w
	}
	if v.Unknown {
		w.Result = areNotKnown(m.missing(f, f.root, show))
		return w
	}
	w.Known = true
	if f.root.standard() {
		w.Result = f.standardResult(m, v, vals, show)
		return w
	}
	w.Result = m.said(f, f.root, v, show)
	if f.root.t.Class == ClassNumber {
		w.Result = show.within(v, f.root.t.Unit)
	}
	return w
}

// Said is the result in words, for putting into a sentence: "4.3 mΩ". ok is
// false when it is not known or has no value. A standard size is the one to act
// on.
func (f *Formula) Said(vals []Val, show Shower) (text string, ok bool) {
	m := f.machine(vals)
	defer m.done()
	v := m.limits(f, f.root)
	switch {
	case v.Unknown, math.IsNaN(v.Mid) && f.root.t.Class != ClassChoice:
		return "", false
	case f.root.standard():
		x, ok := f.ActOn(vals)
		if !ok {
			return "", false
		}
		return show.standard(x, f.root.t.Unit), true
	}
	return m.said(f, f.root, v, show), true
}

// said is a value of node n in words.
func (m *machine) said(f *Formula, n *node, v Val, show Shower) string {
	switch n.t.Class {
	case ClassYesNo:
		switch {
		case !v.CanFalse:
			return "yes"
		case !v.CanTrue:
			return "no"
		}
		return "too close to call"
	case ClassChoice:
		r := Ref{}
		if n.op == opRef {
			r = f.refs[n.slot]
		}
		return show.options(r, n.t, v.Words)
	}
	return show.number(v.Mid, n.t.Unit)
}

// standardResult names the size to act on, and the other one when the two ends
// of the limits give different sizes.
func (f *Formula) standardResult(m *machine, v Val, vals []Val, show Shower) string {
	u := f.root.t.Unit
	x, ok := f.ActOn(vals)
	if !ok {
		return fmt.Sprintf("%s if the readings are exact; no standard size holds for the whole of their limits", show.standard(v.Mid, u))
	}
	s := "next standard: " + show.standard(x, u)
	if x == v.Mid {
		return s
	}
	return s + fmt.Sprintf(" (%s only if the readings are exact)", show.standard(v.Mid, u))
}

// numbers prints a tree with the numbers put in. Of two results behind ? only
// the one that holds is printed.
func (m *machine) numbers(f *Formula, show Shower) writer {
	return writer{
		times: show.times(),
		num:   func(n *node) string { return show.constant(n) },
		leaf: func(n *node) string {
			v := m.limits(f, n)
			if v.Unknown {
				if n.op == opValue {
					return n.text + " (not known)"
				}
				return f.refs[n.slot].String() + " (not known)"
			}
			if math.IsNaN(v.Mid) && n.t.Class != ClassChoice {
				return n.text + " (no value)"
			}
			return m.said(f, n, v, show)
		},
		pick: func(n *node) *node { return m.branchTaken(n) },
	}
}

// branchTaken is the result of a ? that holds, or nil when both may.
func (m *machine) branchTaken(n *node) *node {
	switch c := m.eval(n.kids[0]); {
	case !c.CanFalse:
		return n.kids[1]
	case !c.CanTrue:
		return n.kids[2]
	}
	return nil
}

// missing names what is not known below n, each once.
func (m *machine) missing(f *Formula, n *node, show Shower) []string {
	var out []string
	seen := map[int]bool{}
	m.blame(n, func(slot int) {
		if !seen[slot] && taken(m.env[slot], &f.types[slot]).Unknown {
			seen[slot] = true
			out = append(out, show.ref(f.refs[slot]))
		}
	})
	if len(out) == 0 {
		out = append(out, "a reading")
	}
	return out
}

// laws are the formulas and the sources of the functions used.
func (f *Formula) laws() (law, source string) {
	var laws, sources []string
	for _, fn := range f.Funcs() {
		if fn.Area == "plain" {
			continue
		}
		if fn.Text != "" {
			laws = append(laws, fn.Text)
		}
		if fn.Source != "" && !contains(sources, fn.Source) {
			sources = append(sources, fn.Source)
		}
	}
	return strings.Join(laws, "; "), strings.Join(sources, "; ")
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func printed(n *node, w writer) string {
	var b strings.Builder
	w.b = &b
	w.node(n, 0)
	return b.String()
}

// constant is a written number in its unit; a plain one is left to the writer.
func (s Shower) constant(n *node) string {
	if n.t.Class != ClassNumber || n.t.Unit.Plain() {
		return ""
	}
	return s.number(n.val.Mid, n.t.Unit)
}

func (s Shower) times() string {
	if s.Style.ASCII {
		return " * "
	}
	return " × "
}

// areNotKnown is "a is not known", "a and b are not known".
func areNotKnown(names []string) string {
	if len(names) == 1 {
		return names[0] + " is not known"
	}
	return listAnd(names) + " are not known"
}

// listAnd is "a, b and c".
func listAnd(w []string) string {
	if len(w) < 2 {
		return strings.Join(w, "")
	}
	return strings.Join(w[:len(w)-1], ", ") + " and " + w[len(w)-1]
}
