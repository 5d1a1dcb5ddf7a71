package formula

import "math"

// limits is what node n can be, with the gain error of one meter shared by the
// values read from it: the sag between two readings of one meter is known far
// better than either. The gains are cut into pieces and the limits of all pieces
// joined, so the limits stay sound and only lose most of their slack.
func (m *machine) limits(f *Formula, n *node) Val {
	v := m.eval(n)
	if n.t.Class != ClassNumber || v.Lo == v.Hi || v.outside || math.IsNaN(v.Mid) || !f.sharesGain(m.env) {
		return v
	}
	s := search{f: f, vals: m.env, env: make([]Val, len(m.env))}
	s.lay()
	box := make([]span, len(s.dims))
	var gains []int
	for i, d := range s.dims {
		box[i] = d.whole
		if d.ref < 0 {
			gains = append(gains, i)
		}
	}
	pieces := 64
	switch len(gains) {
	case 0:
		return v
	case 1:
	case 2:
		pieces = 10
	default:
		return v
	}
	inner := f.machine(s.env)
	defer inner.done()
	lo, hi := posInf, negInf
	total := pieces
	if len(gains) == 2 {
		total *= pieces
	}
	for k := range total {
		for j, g := range gains {
			i := k
			if j == 1 {
				i = k / pieces
			}
			i %= pieces
			box[g] = span{lo: -1 + 2*float64(i)/float64(pieces), hi: -1 + 2*float64(i+1)/float64(pieces)}
		}
		s.put(box)
		p := inner.eval(n)
		if p.outside {
			return v
		}
		lo, hi = min(lo, p.Lo), max(hi, p.Hi)
	}
	v.Lo, v.Hi = max(v.Lo, min(lo, v.Mid)), min(v.Hi, max(hi, v.Mid))
	return v
}

// sharesGain says that two of the values share a meter's gain error.
func (f *Formula) sharesGain(vals []Val) bool {
	for i := range vals {
		for j := range i {
			if f.mates(vals, i, j) {
				return true
			}
		}
	}
	return false
}

// mates says that refs i and j have a gain error of one meter in common. Volts
// and amps of one meter have separate gains.
func (f *Formula) mates(vals []Val, i, j int) bool {
	a, b := &vals[i], &vals[j]
	return a.Meter != "" && a.Gain > 0 && b.Gain > 0 && a.Meter == b.Meter &&
		f.uses[i] > 0 && f.uses[j] > 0 &&
		f.types[i].Class == ClassNumber && f.types[j].Class == ClassNumber &&
		f.types[i].Unit.Dim == f.types[j].Unit.Dim
}
