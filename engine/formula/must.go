package formula

// MustKnow lists the refs that are known whenever the condition is certainly
// want. A reading that is not known enters with its whole possible range, so a
// comparison can be certain without it; such readings are not listed.
func (f *Formula) MustKnow(want bool) []Ref {
	if f.root.t.Class != ClassYesNo {
		return nil
	}
	must := f.must(f.root, want)
	var out []Ref
	for i, r := range f.refs {
		// What occurs twice may be settled by halving, behind the back of the walk
		// over the tree.
		if must[i] && (f.uses[i] < 2 || !f.certainWithout(f.root, i, want, true)) {
			out = append(out, r)
		}
	}
	return out
}

type slots map[int]bool

func union(a, b slots) slots {
	out := slots{}
	for k := range a {
		out[k] = true
	}
	for k := range b {
		out[k] = true
	}
	return out
}

func common(a, b slots) slots {
	out := slots{}
	for k := range a {
		if b[k] {
			out[k] = true
		}
	}
	return out
}

func (f *Formula) must(n *node, want bool) slots {
	switch n.op {
	case opNot:
		return f.must(n.kids[0], !want)
	case opValue:
		return f.must(n.kids[0], want)
	case opAnd, opOr:
		a, b := f.must(n.kids[0], want), f.must(n.kids[1], want)
		if (n.op == opAnd) == want { // both sides carry it
			return union(a, b)
		}
		return common(a, b)
	case opCond:
		a, b := f.must(n.kids[1], want), f.must(n.kids[2], want)
		yes, no := union(f.must(n.kids[0], true), a), union(f.must(n.kids[0], false), b)
		return common(common(yes, no), union(a, b)) // by either side, or by both with the condition open
	case opKnown:
		if want {
			return slots{n.slot: true}
		}
		return slots{}
	case opConst:
		if n.val.CanTrue != want { // never: then everything holds
			return f.all()
		}
		return slots{}
	}
	out := slots{}
	n.each(func(k *node) {
		if k.op == opRef && !out[k.slot] && !f.certainWithout(n, k.slot, want, false) {
			out[k.slot] = true
		}
	})
	return out
}

func (f *Formula) all() slots {
	out := slots{}
	for i := range f.refs {
		out[i] = true
	}
	return out
}

// samples is how many states of the other readings are tried.
const samples = 24

// certainWithout looks for a state of the other readings in which n is certainly
// want although ref slot is not known.
func (f *Formula) certainWithout(n *node, slot int, want, halve bool) bool {
	vals := f.Anything()
	m := f.machine(vals)
	defer m.done()
	whole := append([]Val(nil), vals...)
	for k := range samples {
		for i, t := range f.types {
			if i != slot {
				vals[i] = spread(t, whole[i], k, i)
			}
		}
		if halve {
			d := f.Decide(vals)
			if d.Certain() && d.Likelier == want {
				return true
			}
			continue
		}
		m.why, m.err = nil, nil
		if v := m.eval(n); v.CanTrue != v.CanFalse && v.CanTrue == want {
			return true
		}
	}
	return false
}

// spread is sample k of reading i: points that fill the
// range evenly, in another order for each reading.
func spread(t Type, all Val, k, i int) Val {
	// Multiples of irrational steps fill a range without ever falling in step.
	steps := [...]float64{0.6180339887, 0.4142135624, 0.7320508076, 0.2360679775, 0.6457513111, 0.3166247904, 0.6055512755}
	x := float64(k)*steps[i%len(steps)] + float64(i)*0.1
	x -= float64(int(x))
	switch t.Class {
	case ClassYesNo:
		return YesNo(x > 0.5)
	case ClassChoice:
		return Choice(int(x * float64(len(t.Options))))
	}
	if all.Hi-all.Lo < posInf {
		return Exact(all.Lo + x*(all.Hi-all.Lo))
	}
	return Exact((x - 0.5) * 1000)
}
