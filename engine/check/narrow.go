package check

import (
	"math"
	"math/bits"

	"hotlug/engine/formula"
)

// mostKnown bounds the ways of known and not known that are tried of a condition.
const mostKnown = 3

// narrower cuts off what a condition rules out. It only takes away what certainly
// can't be, so what is left holds every real case.
type narrower struct {
	r     *ranges
	cache map[string]narrowed
	known bool // everything asked is known
}

type narrowed struct {
	cells []cell
	ok    bool
}

func newNarrower(r *ranges) *narrower { return &narrower{r: r, cache: map[string]narrowed{}} }

// narrow gives the cells of x's names on which it can be want, and whether it can
// at all.
func (n *narrower) narrow(x *form, want bool, cells []cell) ([]cell, bool) {
	k := key(x.id, want, cells)
	if hit, ok := n.cache[k]; ok {
		return hit.cells, hit.ok
	}
	var joined []cell
	known := min(len(x.known), mostKnown)
	if n.known {
		known = 0
	}
	for u := range uint(1) << known {
		c := append([]cell(nil), cells...)
		if !n.shave(x, want, c, u) {
			continue
		}
		for b := range known { // of what is not known nothing was learned
			if u>>b&1 == 1 {
				c[x.known[b]] = cells[x.known[b]]
			}
		}
		joined = hull(joined, c)
	}
	n.cache[k] = narrowed{joined, joined != nil}
	return joined, joined != nil
}

// hull is the least cells that hold both.
func hull(a, b []cell) []cell {
	if a == nil {
		return b
	}
	for i := range a {
		a[i].lo, a[i].hi, a[i].words = min(a[i].lo, b[i].lo), max(a[i].hi, b[i].hi), a[i].words|b[i].words
	}
	return a
}

// shave narrows c in place, or says that the condition can't be want.
func (n *narrower) shave(x *form, want bool, c []cell, unknown uint) bool {
	can := func() bool {
		yes, no := n.r.can(x, c, unknown)
		return want && yes || !want && no
	}
	if !can() {
		return false
	}
	skip := map[int]bool{}
	for b, i := range x.known {
		if b < mostKnown && unknown>>b&1 == 1 {
			skip[i] = true
		}
	}
	for range 2 { // a second time round, what one name lost may cost another
		before := append([]cell(nil), c...)
		for i := range c {
			switch {
			case skip[i]:
			case n.r.types[c[i].v].Class == formula.ClassNumber:
				if !shaveNumber(&c[i], can) {
					return false
				}
			default:
				shaveWords(&c[i], can)
			}
		}
		same := true
		for i := range c {
			same = same && c[i] == before[i]
		}
		if same {
			break
		}
	}
	return true
}

func shaveWords(c *cell, can func() bool) {
	all := c.words
	left := uint64(0)
	for w := all; w != 0; w &= w - 1 {
		c.words = w & -w
		if can() {
			left |= c.words
		}
	}
	if c.words = left; left == 0 { // the joint answer is open, each single one is not: keep all
		c.words = all
	}
}

// shaveNumber moves both ends inwards to the outermost numbers at which it can
// be, and says whether there are any.
func shaveNumber(c *cell, can func() bool) bool {
	lo, hi := c.lo, c.hi
	if lo == hi || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return true
	}
	at := func(a, b float64) bool {
		c.lo, c.hi = a, b
		return can()
	}
	newLo, newHi := lo, hi
	outLo, outHi := math.Inf(-1), math.Inf(1) // from lo to outLo, and from outHi to hi, it can't be
	if !at(lo, lo) {
		outLo, newLo = edge(lo, hi, func(m float64) bool { return at(lo, m) })
	}
	if !at(hi, hi) {
		outHi, newHi = edge(hi, lo, func(m float64) bool { return at(m, hi) })
	}
	c.lo, c.hi = newLo, newHi
	if newLo > newHi { // the two stretches meet: nothing is left, unless a gap is too fine to be seen
		c.lo, c.hi = lo, hi
		return outHi > math.Nextafter(outLo, math.Inf(1))
	}
	return true
}

// edge halves its way from out, where it can't be, to in, where it can, down to
// two neighbouring numbers.
func edge(out, in float64, can func(m float64) bool) (lastOut, firstIn float64) {
	for range 80 {
		m := out + (in-out)/2
		if m == out || m == in {
			break
		}
		if can(m) {
			in = m
		} else {
			out = m
		}
	}
	return out, in
}

// options lists the options of a set.
func options(words uint64) []int {
	var out []int
	for ; words != 0; words &= words - 1 {
		out = append(out, bits.TrailingZeros64(words))
	}
	return out
}
