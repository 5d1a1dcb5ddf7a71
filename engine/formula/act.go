package formula

import "math"

// ActOn is the number to act on: the result taken at its unfavourable end, which
// the registry names per function (a wire at the larger end, an ampacity at the
// smaller), through whatever the formula does with it. ok is false when the
// result is not a number, not known, or has no value at that end, as when no
// standard size is large enough for the whole of the limits.
func (f *Formula) ActOn(vals []Val) (x float64, ok bool) {
	if f.root.t.Class != ClassNumber {
		return 0, false
	}
	m := f.machine(vals)
	defer m.done()
	v := m.limits(f, f.root)
	if v.Unknown || math.IsNaN(v.Mid) {
		return 0, false
	}
	x = v.Mid
	switch m.act(f.root) {
	case Grows:
		x = v.Hi
	case Falls:
		x = v.Lo
	}
	return x, !math.IsInf(x, 0) && !math.IsNaN(x)
}

// act is the end of n's limits to act on.
func (m *machine) act(n *node) Dir {
	join := func(a, b Dir) Dir {
		switch {
		case a == Mixed:
			return b
		case b == Mixed || a == b:
			return a
		}
		return Mixed // the two pull apart: the middle
	}
	switch n.op {
	case opValue, opScale:
		return m.act(n.kids[0])
	case opNeg:
		return -m.act(n.kids[0])
	case opAdd:
		return join(m.act(n.kids[0]), m.act(n.kids[1]))
	case opSub:
		return join(m.act(n.kids[0]), -m.act(n.kids[1]))
	case opMul:
		return join(m.act(n.kids[0])*m.sign(n.kids[1]), m.act(n.kids[1])*m.sign(n.kids[0]))
	case opDiv:
		return join(m.act(n.kids[0])*m.sign(n.kids[1]), -m.act(n.kids[1])*m.sign(n.kids[0]))
	case opCond:
		return join(m.act(n.kids[1]), m.act(n.kids[2]))
	case opCall:
		if n.fn.Act != Mixed {
			return n.fn.Act
		}
		d := Mixed
		for i, k := range n.kids {
			if k.t.Class == ClassNumber {
				d = join(d, m.act(k)*n.fn.param(i).Dir)
			}
		}
		return d
	}
	return Mixed
}

// sign is the sign of a factor if its limits have but one.
func (m *machine) sign(n *node) Dir {
	switch v := m.eval(n); {
	case v.Lo >= 0:
		return Grows
	case v.Hi <= 0:
		return Falls
	}
	return Mixed
}

// standard says that the result is from a list of standard sizes.
func (n *node) standard() bool {
	switch n.op {
	case opValue, opScale:
		return n.kids[0].standard()
	case opCond:
		return n.kids[1].standard() && n.kids[2].standard()
	case opCall:
		return n.fn.Standard
	}
	return false
}
