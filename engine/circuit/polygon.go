package circuit

import (
	"math"
	"slices"
)

// polygon is a pole's curve through the volts given and as many between as keep a
// straight line within miss amps, or some hundred thousandths, of it.
func polygon(p Pole, at []float64, miss float64) [][2]float64 {
	slices.Sort(at)
	at = slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(b-a) < 1e-6*(1+math.Abs(a)) })
	var out [][2]float64
	point := func(v float64) [2]float64 { i, _ := p.At(v); return [2]float64{v, i} }
	var between func(a, b [2]float64, depth int)
	between = func(a, b [2]float64, depth int) {
		m := point((a[0] + b[0]) / 2)
		if depth < 6 && math.Abs(m[1]-(a[1]+b[1])/2) > miss+4e-5*math.Abs(m[1]) {
			between(a, m, depth+1)
			between(m, b, depth+1)
			return
		}
		out = append(out, b)
	}
	out = append(out, point(at[0]))
	for k := 1; k < len(at); k++ {
		between(point(at[k-1]), point(at[k]), 0)
	}
	return out
}
