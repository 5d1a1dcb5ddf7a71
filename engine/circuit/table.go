package circuit

import (
	"math"
	"slices"
	"sort"
)

// table is a curve of a part that gives current: i falls as v rises, s is its
// slope (below 0). Between points it is the cubic with these slopes, which keeps
// falling; beyond the ends it goes on straight.
type table struct{ v, i, s []float64 }

const (
	fine      = 4e-5 // part of the current by which a cubic may miss its curve
	deepest   = 10   // halvings of a first stretch
	stretches = 8
)

// sample tabulates f between low, below 0, and high, closer where it bends: f gives
// current and slope. unit is the current against which a miss counts. 0 V is a
// point of it, so that what is short-circuited or dark comes out to the digit.
func sample(f func(v float64) (i, s float64), low, high, unit float64) table {
	var t table
	point := func(v float64) [3]float64 { i, s := f(v); return [3]float64{v, i, s} }
	put := func(p [3]float64) { t.v, t.i, t.s = append(t.v, p[0]), append(t.i, p[1]), append(t.s, p[2]) }
	var between func(a, b [3]float64, depth int)
	between = func(a, b [3]float64, depth int) {
		m := point((a[0] + b[0]) / 2)
		h := b[0] - a[0]
		guess, _ := cubic(h, a[1], b[1], a[2], b[2], 0.5)
		if depth < deepest && math.Abs(guess-m[1]) > fine*(unit+math.Abs(m[1])) {
			between(a, m, depth+1)
			between(m, b, depth+1)
			return
		}
		put(m)
		put(b)
	}
	last := point(low)
	put(last)
	for k := range stretches + 1 {
		next := point(high * float64(k) / stretches)
		between(last, next, 0)
		last = next
	}
	return t.falling()
}

// cubic is value and slope at part x of a stretch h long, with the values and
// slopes at its ends (Hermite).
func cubic(h, a, b, sa, sb, x float64) (y, slope float64) {
	y1 := 1 - x
	y = a*(1+2*x)*y1*y1 + b*x*x*(3-2*x) + h*x*y1*(sa*y1-sb*x)
	slope = 6*x*y1*(b-a)/h + sa*y1*(1-3*x) + sb*x*(3*x-2)
	return y, slope
}

// falling drops points that do not go on, and holds the slopes within what keeps
// each cubic falling (Fritsch and Carlson, SIAM J. Numer. Anal. 17, 1980).
func (t table) falling() table {
	out := table{t.v[:0:0], t.i[:0:0], t.s[:0:0]}
	for k := range t.v {
		if n := len(out.v); n > 0 && (t.v[k]-out.v[n-1] < 1e-9*(1+math.Abs(t.v[k])) || t.i[k] >= out.i[n-1]) {
			continue
		}
		out.v, out.i, out.s = append(out.v, t.v[k]), append(out.i, t.i[k]), append(out.s, min(t.s[k], 0))
	}
	for k := 0; k+1 < len(out.v); k++ {
		mean := (out.i[k+1] - out.i[k]) / (out.v[k+1] - out.v[k])
		a, b := out.s[k]/mean, out.s[k+1]/mean
		if r := a*a + b*b; r > 9 {
			r = 3 / math.Sqrt(r)
			out.s[k], out.s[k+1] = r*a*mean, r*b*mean
		}
	}
	return out
}

// amps is the current and its slope at volts.
func (t *table) amps(v float64) (i, s float64) {
	n := len(t.v)
	switch {
	case v <= t.v[0]:
		return t.i[0] + t.s[0]*(v-t.v[0]), t.s[0]
	case v >= t.v[n-1]:
		return t.i[n-1] + t.s[n-1]*(v-t.v[n-1]), t.s[n-1]
	}
	k := sort.SearchFloat64s(t.v, v)
	if k == 0 {
		k = 1
	}
	h := t.v[k] - t.v[k-1]
	return cubic(h, t.i[k-1], t.i[k], t.s[k-1], t.s[k], (v-t.v[k-1])/h)
}

// volts is the volts at a current, and the slope of the current there.
func (t *table) volts(i float64) (v, s float64) {
	n := len(t.v)
	switch {
	case i >= t.i[0]:
		return t.v[0] + (i-t.i[0])/t.s[0], t.s[0]
	case i <= t.i[n-1]:
		return t.v[n-1] + (i-t.i[n-1])/t.s[n-1], t.s[n-1]
	}
	k := sort.Search(n, func(k int) bool { return t.i[k] <= i })
	h := t.v[k] - t.v[k-1]
	low, high, x := 0.0, 1.0, (i-t.i[k-1])/(t.i[k]-t.i[k-1])
	for range 60 {
		y, slope := cubic(h, t.i[k-1], t.i[k], t.s[k-1], t.s[k], x)
		s = slope
		if y > i {
			low = x
		} else {
			high = x
		}
		next := x - (y-i)/(slope*h)
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-x) < 1e-14 {
			break
		}
		x = next
	}
	return t.v[k-1] + h*x, s
}

// times is n equal parts in series, m of these side by side.
func (t table) times(n, m float64) table {
	out := table{slices.Clone(t.v), slices.Clone(t.i), slices.Clone(t.s)}
	for k := range out.v {
		out.v[k] *= n
		out.i[k] *= m
		out.s[k] *= m / n
	}
	return out
}

// inSeries adds volts at the same current, beside adds currents at the same volts.
func inSeries(parts []table) table {
	if len(parts) == 1 {
		return parts[0]
	}
	var at []float64
	for _, p := range parts {
		at = append(at, p.i...)
	}
	slices.SortFunc(at, func(a, b float64) int {
		switch {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	var out table
	for _, i := range at {
		v, r := 0.0, 0.0
		for k := range parts {
			x, s := parts[k].volts(i)
			v += x
			r += 1 / s
		}
		out.v, out.i, out.s = append(out.v, v), append(out.i, i), append(out.s, 1/r)
	}
	return out.falling()
}

func beside(a, b table) table {
	at := append(slices.Clone(a.v), b.v...)
	slices.Sort(at)
	var out table
	for _, v := range at {
		i, s := a.amps(v)
		j, t := b.amps(v)
		out.v, out.i, out.s = append(out.v, v), append(out.i, i+j), append(out.s, s+t)
	}
	return out.falling()
}
