package prove

import (
	"math"
	"slices"
)

// Groups are faults that cannot be told from each other, by the findings that
// are their own: with all questions, with those that can't hurt anybody, and
// with those that the knowledge really asks on the way to them.
type Groups struct {
	All   [][]string `json:"all"`
	Lay   [][]string `json:"lay"`
	Asked [][]string `json:"asked"`
}

// apart is by how much two faults' answers must differ to count as told apart: the
// part of the cases of one that is unlike those of the other. With ten cases each
// one may be like.
const apart = 0.9

// groups joins the labels that no question tells apart, complaint by complaint.
func groups(t *Table) *Groups {
	lay := make(set, t.words)
	for i, q := range t.Questions {
		if q.Lay {
			lay.add(i)
		}
	}
	all := make(set, t.words)
	for i := range t.Questions {
		all.add(i)
	}
	asked := map[string]set{}
	for _, r := range t.Rows {
		if r.sound {
			continue
		}
		s := asked[r.Label]
		if s == nil {
			s = make(set, t.words)
			asked[r.Label] = s
		}
		for _, a := range r.run.asked {
			if i, ok := t.index[a.Reading]; ok && !a.Proof && a.Known {
				s.add(i)
			}
		}
	}
	same := func(s set) func(a, b string) set { return func(string, string) set { return s } }
	return &Groups{All: t.joined(same(all)), Lay: t.joined(same(lay)),
		Asked: t.joined(func(a, b string) set { return asked[a].with(asked[b]) })}
}

// joined are the groups of two and more, when for two labels the questions of may
// are allowed.
func (t *Table) joined(may func(a, b string) set) [][]string {
	type where struct{ symptom, label string }
	rows := map[where][]*Row{}
	var labels, symptoms []string
	for _, r := range t.Rows {
		if r.sound {
			continue
		}
		k := where{r.Symptom, r.Label}
		rows[k] = append(rows[k], r)
		if !slices.Contains(labels, r.Label) {
			labels = append(labels, r.Label)
		}
		if !slices.Contains(symptoms, r.Symptom) {
			symptoms = append(symptoms, r.Symptom)
		}
	}
	slices.Sort(labels)
	root := make([]int, len(labels))
	for i := range root {
		root[i] = i
	}
	var find func(i int) int
	find = func(i int) int {
		if root[i] != i {
			root[i] = find(root[i])
		}
		return root[i]
	}
	for i, a := range labels {
		for j, b := range labels[:i] {
			for _, sy := range symptoms {
				x, y := rows[where{sy, a}], rows[where{sy, b}]
				if len(x) > 0 && len(y) > 0 && !t.apart(x, y, may(a, b)) {
					root[find(i)] = find(j)
				}
			}
		}
	}
	by := map[int][]string{}
	for i, l := range labels {
		by[find(i)] = append(by[find(i)], l)
	}
	var out [][]string
	for i := range labels {
		if g := by[i]; len(g) > 1 {
			out = append(out, g)
		}
	}
	return out
}

// apart says that some feature, of the questions allowed, differs between two lots
// of cases in at least the needed part, or that few cases of the one have answers
// all like a case of the other.
func (t *Table) apart(x, y []*Row, may set) bool {
	var feats []int
	for i, f := range t.Features {
		if !f.reads.within(may) {
			continue
		}
		feats = append(feats, i)
		if distance(x, y, i) >= apart {
			return true
		}
	}
	like := 0
	for _, a := range x {
		if slices.ContainsFunc(y, func(b *Row) bool { return alikeRows(a, b, feats) }) {
			like++
		}
	}
	return float64(like) <= (1-apart)*float64(len(x)) && separable(x, y, feats)
}

// separable says that for each case of the one lot some feature holds it apart
// from nearly all of the other: what a chain of questions needs.
func separable(x, y []*Row, feats []int) bool {
	n := 0
	for _, a := range x {
		for _, i := range feats {
			unlike := 0
			for _, b := range y {
				if b.Bins[i] != a.Bins[i] {
					unlike++
				}
			}
			if float64(unlike) >= apart*float64(len(y)) {
				n++
				break
			}
		}
	}
	return float64(n) >= apart*float64(len(x))
}

func alikeRows(a, b *Row, feats []int) bool {
	for _, i := range feats {
		if a.Bins[i] != b.Bins[i] {
			return false
		}
	}
	return true
}

// distance is the total variation between the answers of two lots to a feature.
func distance(x, y []*Row, feature int) float64 {
	var p [256]float64
	for _, r := range x {
		p[uint8(r.Bins[feature])] += 1 / float64(len(x))
	}
	for _, r := range y {
		p[uint8(r.Bins[feature])] -= 1 / float64(len(y))
	}
	sum := 0.0
	for _, v := range p {
		sum += math.Abs(v)
	}
	return sum / 2
}
