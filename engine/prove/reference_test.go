package prove

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// matrix is a table of faults against yes-no questions: a line for each fault, a
// question for each character. Every question costs what minutes says.
func matrix(lines []string, minutes []float64) *Table {
	t := &Table{words: 1, index: map[string]int{}}
	for j := range lines[0] {
		name := fmt.Sprintf("q%d", j)
		t.index[name] = j
		t.Questions = append(t.Questions, Question{Reading: name, Minutes: minutes[j]})
		reads := make(set, 1)
		reads.add(j)
		t.Features = append(t.Features, Feature{name, reads})
	}
	for i, l := range lines {
		id := fmt.Sprintf("f%d", i)
		r := &Row{Case: id, Label: id, Covers: []string{id}, Weight: 1 / float64(i+1), Times: make([]float64, len(l))}
		for j := range l {
			r.Times[j] = 1
			r.Bins = append(r.Bins, int8(l[j]-'0')+1)
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

func random(chance *rand.Rand, faults, tests int, costs []float64) *Table {
	lines, minutes := make([]string, faults), make([]float64, tests)
	for j := range minutes {
		minutes[j] = costs[chance.IntN(len(costs))]
	}
	for i := range lines {
		b := make([]byte, tests)
		for j := range b {
			b[j] = '0' + byte(chance.IntN(2))
		}
		lines[i] = string(b)
	}
	return matrix(lines, minutes)
}

// brute tries every order of questions, without a memory and without a bound.
func brute(p *plan, rows []*Row, has set) float64 {
	if covered(rows) >= enough {
		return 0
	}
	best := math.Inf(1)
	for _, ask := range p.tests {
		if ask.within(has) {
			continue
		}
		then := has.with(ask)
		parts := p.t.split(rows, has, then)
		if len(parts) < 2 {
			continue
		}
		_, m, _ := p.t.cost(rows, has, ask, "")
		v := m * weight(rows)
		for _, part := range parts {
			v += brute(p, part, then)
		}
		best = min(best, v)
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best
}

func TestOptimumAgainstBruteForce(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 1))
	for i := range 30 {
		p := tableOf(random(chance, 5, 5, []float64{1, 1, 2, 5}))
		got, ok := p.optimum(100_000)
		want := brute(p, p.rows, make(set, 1)) / p.all
		if !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("matrix %d: the optimum is %v (%v), by brute force %v", i, got, ok, want)
		}
	}
}

func tableOf(t *Table) *plan {
	all := make(set, t.words)
	for i := range t.Questions {
		all.add(i)
	}
	return t.plan(t.Rows, all)
}

// The shape of the experiment on random matrices: greedy by information for its
// cost stays within a few per cent of the optimum, and the optimum above the
// bound and the Huffman length.
func TestGreedyIsNearTheOptimum(t *testing.T) {
	for _, c := range []struct {
		name  string
		costs []float64
		most  float64 // mean excess of greedy
	}{
		{"the same cost", []float64{1}, 0.04},
		{"costs from 1 to 5", []float64{1, 1, 2, 2, 5}, 0.08},
	} {
		t.Run(c.name, func(t *testing.T) {
			chance := rand.New(rand.NewPCG(2, 2))
			excess, n := 0.0, 0
			for range 12 {
				table := random(chance, 10, 9, c.costs)
				p := tableOf(table)
				best, ok := p.optimum(1_000_000)
				if !ok {
					t.Fatal("ten faults are too many for the optimum")
				}
				g := p.greedy()
				if g.Minutes < best-1e-9 {
					t.Errorf("greedy needs %v minutes, less than the optimum %v", g.Minutes, best)
				}
				if _, bound := p.bound(); bound > best+1e-9 {
					t.Errorf("the bound is %v minutes, more than the optimum %v", bound, best)
				}
				if slices.Max(c.costs) == 1 && told(p) {
					var w []float64
					for _, r := range table.Rows {
						w = append(w, r.Weight)
					}
					if h := huffman(w); h > best+1e-9 {
						t.Errorf("the Huffman length is %v, more than the optimum %v", h, best)
					}
				}
				excess += g.Minutes/best - 1
				n++
			}
			if excess /= float64(n); excess > c.most {
				t.Errorf("greedy is %.1f %% above the optimum, want at most %.1f %%", 100*excess, 100*c.most)
			}
		})
	}
}

// told says that all faults of a table can be told from each other, one by one.
func told(p *plan) bool {
	all := make(set, 1)
	for _, x := range p.tests {
		all = all.with(x)
	}
	return len(p.t.split(p.rows, make(set, 1), all)) == len(p.rows)
}

func TestReferenceByHand(t *testing.T) {
	for _, c := range []struct {
		name              string
		lines             []string
		minutes           []float64
		questions, greedy float64
		optimum           float64
		right             float64
	}{
		// Weights 1, 1/2, 1/3, 1/4: four faults, two even questions.
		{"two questions tell four", []string{"00", "01", "10", "11"}, []float64{1, 1}, 2, 2, 2, 1},
		// The dear question tells all at once for one of two faults; the cheap one too.
		{"the cheap one of two alike", []string{"00", "11"}, []float64{5, 1}, 1, 1, 1, 1},
		{"nothing tells them apart", []string{"0", "0"}, []float64{1}, 0, 0, 0, 1 / 1.5},
		{"one fault", []string{"01"}, []float64{1, 1}, 0, 0, 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := tableOf(matrix(c.lines, c.minutes))
			g := p.greedy()
			best, _ := p.optimum(1000)
			for _, x := range []struct {
				name      string
				got, want float64
			}{{"questions", g.Questions, c.questions}, {"minutes", g.Minutes, c.greedy}, {"right", g.Right, c.right}, {"optimum", best, c.optimum}} {
				if math.Abs(x.got-x.want) > 1e-9 {
					t.Errorf("%s: %v, want %v", x.name, x.got, x.want)
				}
			}
		})
	}
}

func TestHuffman(t *testing.T) {
	for _, c := range []struct {
		name string
		w    []float64
		want float64
	}{
		{"none", nil, 0}, {"one", []float64{3}, 0}, {"two", []float64{1, 9}, 1},
		{"four alike", []float64{1, 1, 1, 1}, 2},
		{"a half and two quarters", []float64{2, 1, 1}, 1.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := huffman(c.w); math.Abs(got-c.want) > 1e-9 {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

// Zipf weights of 20 faults: 3.65 bits, and 3.67 by the code (worked out
// beforehand).
func TestZipfFloor(t *testing.T) {
	var w []float64
	var rows []*Row
	for i := range 20 {
		w = append(w, 1/float64(i+1))
		rows = append(rows, &Row{Label: fmt.Sprint(i), Weight: w[i]})
	}
	if h := entropy(rows); math.Abs(h-3.65) > 0.005 {
		t.Errorf("entropy %v, want 3.65", h)
	}
	if l := huffman(w); math.Abs(l-3.67) > 0.006 {
		t.Errorf("Huffman length %v, want 3.67", l)
	}
}

func TestOptimumGivesUp(t *testing.T) {
	if _, ok := tableOf(random(rand.New(rand.NewPCG(3, 3)), 12, 12, []float64{1})).optimum(5); ok {
		t.Error("twelve faults were solved by looking at five sets")
	}
}

func TestWilson(t *testing.T) {
	for _, c := range []struct {
		name   string
		n, of  int
		share  float64
		lo, hi float64
	}{
		{"95 of 100", 95, 100, 0.95, 0.888, 0.978},
		{"60 of 60", 60, 60, 1, 0.940, 1},
		{"none of 20", 0, 20, 0, 0, 0.161},
		{"none of none", 0, 0, 0, 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := wilson(c.n, c.of)
			if p.Share != c.share || math.Abs(p.Lo-c.lo) > 0.001 || math.Abs(p.Hi-c.hi) > 0.001 {
				t.Errorf("%+v, want %v from %v to %v", p, c.share, c.lo, c.hi)
			}
		})
	}
}

func TestBootstrapHoldsTheMean(t *testing.T) {
	shares := []float64{1, 1, 1, 0.5, 0.9, 1, 0.8, 1}
	p := bootstrap(shares, 80, rand.New(rand.NewPCG(1, 3)))
	if math.Abs(p.Share-0.9) > 1e-9 || p.Lo >= p.Share || p.Hi <= p.Share || p.Lo < 0.5 || p.Hi > 1 {
		t.Errorf("%+v, want about 0.9 with limits around it", p)
	}
	if q := bootstrap(shares, 80, rand.New(rand.NewPCG(1, 3))); q != p {
		t.Errorf("the same seed gives %+v and %+v", p, q)
	}
}
