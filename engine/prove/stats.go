package prove

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// Part is a share of a number of runs, with the limits between which it lies with
// 95 % confidence.
type Part struct {
	Of    int     `json:"of"`
	Share float64 `json:"share"` // 0 to 1; 0 of none
	Lo    float64 `json:"lo"`
	Hi    float64 `json:"hi"`
}

// z95 is the standard normal deviate of 95 % two-sided confidence.
const z95 = 1.959963984540054

// wilson is n of total with Wilson's score interval (Wilson 1927).
func wilson(n, total int) Part {
	if total == 0 {
		return Part{Hi: 1}
	}
	p, t := float64(n)/float64(total), float64(total)
	mid := p + z95*z95/(2*t)
	half := z95 * math.Sqrt(p*(1-p)/t+z95*z95/(4*t*t))
	den := 1 + z95*z95/t
	return Part{Of: total, Share: p, Lo: max(0, (mid-half)/den), Hi: min(1, (mid+half)/den)}
}

// draws of the bootstrap: enough for two digits of a 95 % limit.
const draws = 2000

// bootstrap is the mean of one share per fault, with limits from drawing the
// faults anew: runs of one fault are not independent of each other.
func bootstrap(shares []float64, of int, chance *rand.Rand) Part {
	if len(shares) == 0 {
		return Part{Hi: 1}
	}
	means := make([]float64, draws)
	for i := range means {
		for range shares {
			means[i] += shares[chance.IntN(len(shares))]
		}
		means[i] /= float64(len(shares))
	}
	slices.Sort(means)
	return Part{Of: of, Share: mean(shares), Lo: means[draws*25/1000], Hi: means[draws*975/1000-1]}
}

func mean(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// Spread is how a count is spread over runs.
type Spread struct {
	Mean  float64 `json:"mean"`
	P95   float64 `json:"p95"`
	Worst float64 `json:"worst"`
}

func spread(x []float64) Spread {
	if len(x) == 0 {
		return Spread{}
	}
	s := slices.Clone(x)
	slices.Sort(s)
	return Spread{Mean: mean(s), P95: s[int(math.Ceil(0.95*float64(len(s))))-1], Worst: s[len(s)-1]}
}

// Count is a thing with how often it was.
type Count struct {
	What string `json:"what"`
	N    int    `json:"n"`
	Case string `json:"case,omitempty"` // one in which it was
}

// counter counts things and remembers the first case of each.
type counter map[string]*Count

func (c counter) add(what, example string) {
	if c[what] == nil {
		c[what] = &Count{What: what, Case: example}
	}
	c[what].N++
}

// list is what was counted, most often first.
func (c counter) list() []Count {
	out := make([]Count, 0, len(c))
	for _, x := range c {
		out = append(out, *x)
	}
	slices.SortFunc(out, func(a, b Count) int {
		return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.What, b.What))
	})
	return out
}
