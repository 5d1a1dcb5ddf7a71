package prove

import (
	"cmp"
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
func brute(g *game, n node) float64 {
	if g.settled(n) {
		return 0
	}
	best := math.Inf(1)
	for _, ask := range g.tests {
		if ask.within(n.has) {
			continue
		}
		parts := g.split(n, n.has.with(ask))
		if len(parts) == 1 && parts[0].left == n.left {
			continue
		}
		v := g.option(n, ask, parts).questions
		for _, p := range parts {
			v += brute(g, p)
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
		g := gameOf(random(chance, 5, 5, []float64{1, 1, 2, 5}))
		got, want := g.optimum(100_000), brute(g, g.root())
		if math.Abs(got.lo-want) > 1e-9 || math.Abs(got.hi-want) > 1e-9 {
			t.Errorf("matrix %d: the optimum is from %v to %v, by brute force %v", i, got.lo, got.hi, want)
		}
	}
}

// A search that gives up early still has the optimum between its limits.
func TestBracketHoldsTheOptimum(t *testing.T) {
	chance := rand.New(rand.NewPCG(4, 4))
	for i := range 20 {
		table := random(chance, 9, 8, []float64{1})
		exact := gameOf(table).optimum(1_000_000)
		for _, most := range []int{0, 3, 20, 100} {
			b := gameOf(table).bracket(most)
			if b.lo > exact.lo+1e-9 || b.hi < exact.hi-1e-9 {
				t.Errorf("matrix %d after %d options: from %v to %v, and the optimum is %v", i, most, b.lo, b.hi, exact.lo)
			}
		}
	}
}

func gameOf(t *Table) *game {
	all := make(set, t.words)
	for i := range t.Questions {
		all.add(i)
	}
	return newGame(t, t.Rows, nil, all, permits{}, nil)
}

// The shape of the experiment on random matrices: greedy by information for its
// cost stays within a few per cent of the optimum, and the optimum above the
// Huffman length.
func TestGreedyIsNearTheOptimum(t *testing.T) {
	chance := rand.New(rand.NewPCG(2, 2))
	excess, n := 0.0, 0
	for range 12 {
		table := random(chance, 10, 9, []float64{1})
		g := gameOf(table)
		best := g.optimum(1_000_000)
		if best.hi-best.lo > 1e-9 {
			t.Fatal("ten faults are too many for the optimum")
		}
		greedy, ahead := g.greedy(g.root(), byQuestions).Questions, g.ahead(g.root())
		if greedy < best.lo-1e-9 || ahead < best.lo-1e-9 || ahead > greedy+1e-9 {
			t.Errorf("greedy asks %v, looking ahead %v, the optimum %v", greedy, ahead, best.lo)
		}
		if told(g) {
			var w []float64
			for _, r := range table.Rows {
				w = append(w, r.Weight)
			}
			if h := huffman(w); h > best.lo/g.all+1e-9 {
				t.Errorf("the Huffman length is %v, more than the optimum %v", h, best.lo/g.all)
			}
		}
		excess += greedy/best.lo - 1
		n++
	}
	if excess /= float64(n); excess > 0.04 {
		t.Errorf("greedy is %.1f %% above the optimum, want at most 4 %%", 100*excess)
	}
}

// told says that all faults of a table can be told from each other.
func told(g *game) bool {
	for r, e := range g.end {
		if len(g.common(e)) == 0 || !e.has(g.own[r]) {
			return false
		}
	}
	return true
}

func TestReferenceByHand(t *testing.T) {
	for _, c := range []struct {
		name               string
		lines              []string
		minutes            []float64
		questions, minimum float64 // of greedy by minutes
		optimum            float64
	}{
		// Weights 1, 1/2, 1/3, 1/4: four faults, two even questions.
		{"two questions tell four", []string{"00", "01", "10", "11"}, []float64{1, 1}, 2, 2, 2},
		// The dear question tells all at once for one of two faults; the cheap one too.
		{"the cheap one of two alike", []string{"00", "11"}, []float64{5, 1}, 1, 1, 1},
		{"nothing tells them apart", []string{"0", "0"}, []float64{1}, 0, 0, 0},
		{"one fault", []string{"01"}, []float64{1, 1}, 0, 0, 0},
		// q0 tells the commonest from the rest, q1 halves the others: 1 + (1/2+1/3) / (1+1/2+1/3).
		{"the commonest first", []string{"00", "10", "11"}, []float64{1, 1}, 1 + 5.0/11, 1 + 5.0/11, 1 + 5.0/11},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := gameOf(matrix(c.lines, c.minutes))
			cheap, best := g.greedy(g.root(), byMinutes), g.optimum(1000)
			for _, x := range []struct {
				name      string
				got, want float64
			}{{"questions", cheap.Questions, c.questions}, {"minutes", cheap.Minutes, c.minimum}, {"optimum", best.lo, c.optimum}} {
				if math.Abs(x.got/g.all-x.want) > 1e-9 {
					t.Errorf("%s: %v, want %v", x.name, x.got/g.all, x.want)
				}
			}
		})
	}
}

// What one rig of a fault has by chance tells it from nothing; what many have is a
// sign, and rules out whom it never shows.
func TestChanceIsNoSign(t *testing.T) {
	table := matrix([]string{"0"}, []float64{1})
	table.Rows = nil
	for i := range 20 {
		r := &Row{Case: fmt.Sprint(i), Label: "odd", Covers: []string{"odd"}, Weight: 0.05, Times: []float64{1}, Bins: []int8{1}}
		if i >= 10 {
			r.Label, r.Covers = "even", []string{"even"}
		}
		table.Rows = append(table.Rows, r)
	}
	for _, c := range []struct {
		name  string
		rigs  int // of the odd ones that answer otherwise
		parts int
	}{{"one rig in ten", 1, 1}, {"eight rigs in ten", 8, 2}} {
		t.Run(c.name, func(t *testing.T) {
			for i := range 10 {
				table.Rows[i].Bins = []int8{1}
				if i < c.rigs {
					table.Rows[i].Bins = []int8{2}
				}
			}
			g := gameOf(table)
			if got := g.split(g.root(), g.tests[0]); len(got) != c.parts {
				t.Errorf("the answers part the rigs in %d, want %d", len(got), c.parts)
			}
		})
	}
}

// A question behind a gate is asked once what opens the gate is known, a finding
// named once a reading speaks for it, and a sound rig has to be ruled out: each
// costs the reference the question that it costs the knowledge.
func TestReferenceKeepsToWhatIsPermitted(t *testing.T) {
	only := func(i int) set { s := make(set, 1); s.add(i); return s }
	for _, c := range []struct {
		name  string
		lines []string
		ready func(t *Table, p *permits)
		want  float64
	}{
		{"nothing in the way", []string{"00", "01"}, func(*Table, *permits) {}, 1},
		{"q1 behind q0", []string{"00", "01"}, func(t *Table, p *permits) {
			t.gates = []gate{{reads: only(0)}}
			for _, r := range t.Rows {
				r.gates = []int8{2}
			}
			p.ways = [][]way{{{first: make(set, 1)}}, {{first: make(set, 1), gates: []wanted{{0, 2}}}}}
		}, 2},
		{"q1 behind a gate that turns out to be shut", []string{"00", "01"}, func(t *Table, p *permits) {
			t.gates = []gate{{reads: only(0)}}
			for _, r := range t.Rows {
				r.gates = []int8{1}
			}
			p.ways = [][]way{{{first: make(set, 1)}}, {{first: make(set, 1), gates: []wanted{{0, 2}}}}}
		}, 1},
		{"q0 first, for a reason", []string{"00", "01"}, func(_ *Table, p *permits) {
			p.ways = [][]way{{{first: make(set, 1)}}, {{first: only(0)}}}
		}, 2},
		{"one fault that q0 speaks for", []string{"00"}, func(_ *Table, p *permits) {
			p.speaks = map[string][]set{"f0": {only(0)}}
		}, 1},
		{"one fault, and sound rigs", []string{"00", "01"}, func(t *Table, _ *permits) {
			t.Rows[1].sound, t.Rows[1].Covers = true, []string{"nothing"}
		}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			table := matrix(c.lines, []float64{1, 1})
			var p permits
			c.ready(table, &p)
			all := make(set, 1)
			all.add(0)
			all.add(1)
			g := newGame(table, table.Rows, nil, all, p, nil)
			if got := g.optimum(1000); math.Abs(got.lo/g.all-c.want) > 1e-9 || got.lo != got.hi {
				t.Errorf("the optimum is %v to %v questions, want %v", got.lo/g.all, got.hi/g.all, c.want)
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

// huffman is the mean length of the shortest yes-no code of weights: no order of
// yes-no questions needs fewer on the mean (Huffman 1952).
func huffman(w []float64) float64 {
	w, all, sum := slices.Clone(w), 0.0, 0.0
	for _, x := range w {
		all += x
	}
	for len(w) > 1 {
		slices.SortFunc(w, func(a, b float64) int { return cmp.Compare(b, a) })
		n := len(w)
		w[n-2] += w[n-1]
		sum += w[n-2]
		w = w[:n-1]
	}
	if all == 0 {
		return 0
	}
	return sum / all
}

// Zipf weights of 20 faults: 3.65 bits (worked out beforehand).
func TestZipfFloor(t *testing.T) {
	lines := make([]string, 20)
	for i := range lines {
		lines[i] = "0"
	}
	g := gameOf(matrix(lines, []float64{1}))
	if h := g.entropy(g.root().left); math.Abs(h-3.65) > 0.005 {
		t.Errorf("entropy %v, want 3.65", h)
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
