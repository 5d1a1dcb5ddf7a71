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

const (
	maxEnds = 512 // states in which every other reading is at an end of its range
	inside  = 24  // states inside the ranges, for what is not monotone

	// The same where each state is judged with halving, which takes long.
	maxEndsHalved = 32
	insideHalved  = 8
)

// certainWithout looks for a state of the other readings in which n is certainly
// want although ref slot is not known.
func (f *Formula) certainWithout(n *node, slot int, want, halve bool) bool {
	anything := f.Anything()
	vals := f.Anything()
	m := f.machine(vals)
	defer m.done()
	others := f.othersIn(n, slot)
	certainly := func() bool {
		if halve {
			d := f.Decide(vals)
			return d.Certain() && d.Likelier == want
		}
		m.why, m.err = nil, nil
		v := m.eval(n)
		return v.CanTrue != v.CanFalse && v.CanTrue == want
	}
	ends, within := maxEnds, inside
	if halve {
		ends, within = maxEndsHalved, insideHalved
	}
	for k := range ends {
		left := k
		for _, i := range others {
			vals[i], left = end(f.types[i], anything[i], left)
		}
		if left > 0 {
			break // all ends were tried
		}
		if certainly() {
			return true
		}
	}
	for k := range within {
		for _, i := range others {
			vals[i] = spread(f.types[i], anything[i], k, i)
		}
		if certainly() {
			return true
		}
	}
	return false
}

// othersIn lists the refs below n but one.
func (f *Formula) othersIn(n *node, slot int) []int {
	var out []int
	seen := map[int]bool{slot: true}
	n.each(func(k *node) {
		if k.op == opRef && !seen[k.slot] {
			seen[k.slot] = true
			out = append(out, k.slot)
		}
	})
	return out
}

// end takes one digit of k, counted in as many values as the type has ends, and
// gives the rest of k back.
func end(t Type, all Val, k int) (Val, int) {
	switch t.Class {
	case ClassYesNo:
		return YesNo(k%2 == 1), k / 2
	case ClassChoice:
		n := max(1, len(t.Options))
		return Choice(k % n), k / n
	}
	const far = 1e6 // the end of an endless range
	if k%2 == 0 {
		return Exact(max(all.Lo, -far)), k / 2
	}
	return Exact(min(all.Hi, far)), k / 2
}

// spread is sample k of reading i: points that fill the range evenly, in another
// order for each reading.
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
