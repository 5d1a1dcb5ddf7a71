package formula

import "math/bits"

// When the limits alone leave a condition open, there are three ways on:
//
//   - points: the middle and the corners of the limits. If both answers occur,
//     the call is truly close (or truly not settled), with an example.
//   - halving what occurs twice: a name that stands at two places is taken, by
//     limits alone, as if it could be high at one and low at the other. Cut in
//     halves, each half is tighter. A meter's gain error that several values
//     share is one more such name. If every piece comes to the same answer, that
//     answer is certain.
//   - halving everything, to find an example off the corners.
//
// Each has a bound, so the whole takes well under a millisecond or two.
const (
	halvings   = 700 // pieces looked at where only meters leave it open
	halvings0  = 120 // where something is not known, which a reading will settle better
	maxCorners = 8   // dimensions of which all corners are tried
	maxDims    = 20
)

// span is a stretch of one dimension: of a number's own error, of a meter's gain
// from -1 to 1, or the options or answers still possible.
type span struct {
	lo, hi float64
	words  uint64
}

// dim is one dimension of the limits.
type dim struct {
	ref   int // -1 for a gain
	twice bool
	whole span
	set   bool // options or answers
}

// search is one attempt to settle an open condition.
type search struct {
	f    *Formula
	m    *machine
	vals []Val
	env  []Val
	dims []dim
	gain []int // per ref: the dimension of its gain, or -1
	own  []int // per ref: the dimension of its own error or options, or -1
	left int   // evaluations left

	seen    [2]bool // which answers occur
	example [2][]float64
}

// search looks for both answers, or proves one.
func (f *Formula) search(vals []Val, whole Val) (Verdict, []float64) {
	s := &search{f: f, vals: vals, env: make([]Val, len(vals)), left: halvings}
	if whole.Unknown {
		s.left = halvings0
	}
	s.lay()
	if len(s.dims) == 0 || len(s.dims) > maxDims {
		return Undecided, nil
	}
	s.m = f.machine(s.env)
	defer s.m.done()
	likelier := 0
	if whole.Mid > 0.5 {
		likelier = 1
	}
	box := make([]span, len(s.dims))
	for i, d := range s.dims {
		box[i] = d.whole
	}
	if whole.Mid == 0 || whole.Mid == 1 {
		s.seen[likelier] = true
	}
	s.corners(box)
	if !s.found() {
		open := s.halve([][]span{box}, s.left*2/3, true)
		switch {
		case s.found():
		case len(open) == 0 && s.seen[1]:
			return CertainlyTrue, nil
		case len(open) == 0:
			return CertainlyFalse, nil
		default:
			s.halve(open, s.left, false)
		}
	}
	if s.found() {
		return Close, s.example[1-likelier]
	}
	return Undecided, nil
}

func (s *search) found() bool { return s.seen[0] && s.seen[1] }

// lay finds the dimensions of the limits.
func (s *search) lay() {
	n := len(s.vals)
	s.gain, s.own = make([]int, n), make([]int, n)
	for i := range s.vals {
		s.gain[i], s.own[i] = -1, -1
		s.env[i] = s.vals[i]
		if s.f.uses[i] == 0 {
			continue
		}
		v, t := taken(s.vals[i], &s.f.types[i]), &s.f.types[i]
		d := dim{ref: i, twice: s.f.uses[i] > 1}
		switch t.Class {
		case ClassYesNo:
			if !v.CanTrue || !v.CanFalse {
				continue
			}
			d.set, d.whole.words = true, 3 // bit 0 no, bit 1 yes
		case ClassChoice:
			if v.Words&(v.Words-1) == 0 {
				continue
			}
			d.set, d.whole.words = true, v.Words
		default:
			if v.Lo == v.Hi {
				continue
			}
			d.whole = span{lo: v.Lo, hi: v.Hi}
			if s.shares(i) {
				half := s.vals[i].Gain * max(v.Mid, -v.Mid)
				d.whole = span{lo: min(v.Lo+half, v.Mid), hi: max(v.Hi-half, v.Mid)}
				s.gain[i] = s.gainDim(i)
			}
			if d.whole.lo == d.whole.hi {
				continue
			}
		}
		s.own[i] = len(s.dims)
		s.dims = append(s.dims, d)
	}
}

// shares says that ref i has a gain error in common with another.
func (s *search) shares(i int) bool {
	for j := range s.vals {
		if j != i && s.f.mates(s.vals, i, j) {
			return true
		}
	}
	return false
}

func (s *search) gainDim(i int) int {
	for j := range i {
		if s.gain[j] >= 0 && s.f.mates(s.vals, i, j) {
			return s.gain[j]
		}
	}
	s.dims = append(s.dims, dim{ref: -1, twice: true, whole: span{lo: -1, hi: 1}})
	return len(s.dims) - 1
}

// put sets the environment to a box.
func (s *search) put(box []span) {
	for i := range s.env {
		o, g := s.own[i], s.gain[i]
		if o < 0 && g < 0 {
			continue
		}
		v := &s.env[i]
		if o >= 0 && s.dims[o].set {
			w := box[o].words
			if s.f.types[i].Class == ClassYesNo {
				v.CanFalse, v.CanTrue = w&1 != 0, w&2 != 0
			} else {
				v.Words = w
			}
			continue
		}
		mid := s.vals[i].Mid
		lo, hi := mid, mid
		if o >= 0 {
			lo, hi = box[o].lo, box[o].hi
		}
		if g >= 0 {
			p, q := s.vals[i].Gain*mid*box[g].lo, s.vals[i].Gain*mid*box[g].hi
			lo, hi = max(lo+min(p, q), s.vals[i].Lo), min(hi+max(p, q), s.vals[i].Hi)
		}
		v.Lo, v.Hi, v.Mid = lo, hi, halfway(lo, hi)
	}
}

// try evaluates a box and notes a settled answer, of which any point inside is
// an example.
func (s *search) try(box []span) (settled bool) {
	s.left--
	s.put(box)
	s.m.why, s.m.err = nil, nil
	v := s.m.eval(s.f.root)
	if v.CanTrue == v.CanFalse {
		return false
	}
	side := 0
	if v.CanTrue {
		side = 1
	}
	if s.example[side] == nil {
		s.example[side] = s.point()
	}
	s.seen[side] = true
	return true
}

// point is the middle of what the environment is set to.
func (s *search) point() []float64 {
	p := make([]float64, len(s.env))
	for i := range s.env {
		v := &s.env[i]
		switch s.f.types[i].Class {
		case ClassYesNo:
			if v.CanTrue {
				p[i] = 1
			}
		case ClassChoice:
			p[i] = float64(bits.TrailingZeros64(v.Words))
		default:
			p[i] = v.Mid
		}
	}
	return p
}

// corners tries the middle, then the corners: all of them when they are few,
// else those in which one dimension is at an end.
func (s *search) corners(box []span) {
	at := make([]span, len(box))
	for i, b := range box {
		at[i] = middleOf(b, s.dims[i].set)
	}
	s.try(at)
	n := len(box)
	if n <= maxCorners {
		for c := 0; c < 1<<n && !s.found(); c++ {
			for i, b := range box {
				at[i] = endOf(b, s.dims[i].set, c>>i&1 == 1)
			}
			s.try(at)
		}
		return
	}
	for i, b := range box {
		keep := at[i]
		for _, high := range [2]bool{false, true} {
			at[i] = endOf(b, s.dims[i].set, high)
			if s.try(at); s.found() {
				return
			}
		}
		at[i] = keep
	}
}

// halve cuts boxes until all are settled, both answers were seen, or the bound
// is reached; what stayed open is returned.
func (s *search) halve(open [][]span, most int, twiceOnly bool) [][]span {
	var stuck [][]span
	stop := s.left - most
	for len(open) > 0 && s.left > stop && !s.found() {
		box := open[len(open)-1]
		open = open[:len(open)-1]
		d := s.widest(box, twiceOnly)
		if d < 0 {
			stuck = append(stuck, box)
			continue
		}
		lower, upper := cut(box[d], s.dims[d].set)
		for _, half := range [2]span{lower, upper} {
			b := append([]span(nil), box...)
			b[d] = half
			if s.try(b) {
				continue
			}
			at := make([]span, len(b))
			for i := range b {
				at[i] = middleOf(b[i], s.dims[i].set)
			}
			s.try(at)
			open = append(open, b)
		}
	}
	return append(stuck, open...)
}

// widest is the dimension to cut: options first, then the one least cut so far.
func (s *search) widest(box []span, twiceOnly bool) int {
	best, width := -1, 1e-9
	for i, d := range s.dims {
		if twiceOnly && !d.twice {
			continue
		}
		w := 0.0
		switch {
		case d.set && box[i].words&(box[i].words-1) != 0:
			w = 2
		case !d.set && !(d.whole.hi-d.whole.lo < posInf):
			w = 1.5 * endlessPart(box[i])
		case !d.set:
			w = (box[i].hi - box[i].lo) / (d.whole.hi - d.whole.lo)
		}
		if w > width {
			best, width = i, w
		}
	}
	return best
}

func endlessPart(b span) float64 {
	if b.hi-b.lo < posInf {
		return min(1, (b.hi-b.lo)/1e6)
	}
	return 1
}

func middleOf(b span, set bool) span {
	if set {
		return span{words: b.words & -b.words}
	}
	x := halfway(b.lo, b.hi)
	return span{lo: x, hi: x}
}

func endOf(b span, set, high bool) span {
	switch {
	case set && high:
		return span{words: 1 << uint(63-bits.LeadingZeros64(b.words))}
	case set:
		return span{words: b.words & -b.words}
	case high:
		return span{lo: b.hi, hi: b.hi}
	}
	return span{lo: b.lo, hi: b.lo}
}

func cut(b span, set bool) (lower, upper span) {
	if set {
		first := b.words & -b.words
		return span{words: first}, span{words: b.words &^ first}
	}
	x := halfway(b.lo, b.hi)
	return span{lo: b.lo, hi: x}, span{lo: x, hi: b.hi}
}

// halfway is the middle of a stretch, and a sensible point of an endless one.
func halfway(lo, hi float64) float64 {
	switch {
	case lo == negInf && hi == posInf:
		return 0
	case hi == posInf:
		return max(1, 2*lo)
	case lo == negInf:
		return min(-1, 2*hi)
	}
	return lo + (hi-lo)/2
}
