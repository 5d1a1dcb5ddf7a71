package prove

import (
	"encoding/binary"
	"math"
	"math/bits"
	"slices"
)

// rareAnswer is the part of a fault's rigs up to which an answer counts as none of
// its own.
const rareAnswer = 0.05

// leastSign is the part of their rigs on which the faults that give an answer must
// give it for it to be a sign of anything. What one rig in ten of any fault has is
// chance, and that ten rigs of another have it not tells nothing.
const leastSign = 0.25

// some is a set of faults.
type some [4]uint64

// mostFaults is how many faults one complaint can have.
const mostFaults = 64 * len(some{})

func (s some) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }
func (s some) and(o some) some {
	for i := range s {
		s[i] &= o[i]
	}
	return s
}
func (s *some) add(i int) { s[i/64] |= 1 << (i % 64) }
func (s some) each(do func(i int)) {
	for w, b := range s {
		for ; b != 0; b &= b - 1 {
			do(64*w + bits.TrailingZeros64(b))
		}
	}
}

// game is the table of faults against questions after one complaint, as a search
// for the best order wants it. An entry of the table is the set of answers that a
// fault gives on its rigs; an answer rules out the faults that never give it, and
// only that: no fault is ruled out by what its few rigs happen to have in common.
// A rig without a fault stands in the table like a fault, since one may only be
// named when it is told from a sound rig. What is asked on sound rigs costs
// nothing: there the knowledge asks all it has, and is right to.
type game struct {
	t      *Table
	rows   []*Row
	own    []int     // by row: its fault
	cost   []float64 // by row: weight of what is asked, 0 of a sound rig
	mass   []float64 // by fault: how likely
	covers [][]int   // by fault: numbers of the findings that would be right
	end    []some    // by row: what is left when all has been asked
	feats  []int     // features that the knowledge judges by
	shows  [][]some  // by feature of feats, by answer: the faults that may give it
	bins   [][]int8  // by feature of feats, by row
	tests  []set     // what can be asked together: the readings of a feature
	ways   [][]way   // by question; nil: all may be asked
	speaks [][]set   // by finding: readings one lot of which must have been had before it is named
	all    float64   // sum of cost

	memo map[string]Cost // what greedy costs
}

// node is a set of rows that have the same faults left, after the same questions.
type node struct {
	left  some
	rows  []int
	has   set
	stand string
}

// option is something that may be asked at a node.
type option struct {
	ask       set
	questions float64 // times the weight of the rows
	minutes   float64
	parts     []node
	gain      float64 // bits
}

// newGame takes the rows of a complaint. other are rows of the same faults after
// other complaints, which tell as well what a fault may answer. may are the
// questions that can be asked, judged the features that are judged by, nil for
// all.
func newGame(t *Table, rows, other []*Row, may set, p permits, judged map[string]bool) *game {
	g := &game{t: t, rows: rows, ways: p.ways, memo: map[string]Cost{}}
	g.weigh(p.speaks)
	seen := map[string]bool{}
	test := func(reads set) {
		if k := reads.key(); !seen[k] && reads.len() > 0 && reads.within(may) {
			seen[k] = true
			g.tests = append(g.tests, reads)
		}
	}
	for i, f := range t.Features {
		if f.reads.within(may) && (judged == nil || judged[f.Name]) {
			g.feature(i, other)
			test(f.reads)
		}
	}
	for _, x := range t.gates { // what is asked for safety alone may tell nothing, and open a way
		test(x.reads)
	}
	every := make(set, t.words)
	for _, x := range g.tests {
		every = every.with(x)
	}
	root := g.root()
	g.end = make([]some, len(rows))
	for i := range rows {
		g.end[i] = g.after(root.left, i, g.fresh(root.has, every))
	}
	return g
}

// weigh numbers the faults and the findings.
func (g *game) weigh(speaks map[string][]set) {
	faults, findings := map[string]int{}, map[string]int{}
	for _, r := range g.rows {
		k, ok := faults[r.fault()]
		if !ok {
			k = len(faults)
			faults[r.fault()] = k
			var own []int
			for _, f := range r.Covers {
				if _, ok := findings[f]; !ok {
					findings[f] = len(findings)
					g.speaks = append(g.speaks, speaks[f])
				}
				own = append(own, findings[f])
			}
			g.covers, g.mass = append(g.covers, own), append(g.mass, 0)
		}
		g.own = append(g.own, k)
		g.mass[k] += r.Weight
		w := r.Weight
		if r.sound {
			w = 0
		}
		g.cost = append(g.cost, w)
		g.all += w
	}
	if len(faults) > mostFaults {
		panic("prove: more faults after one complaint than a set of them holds")
	}
}

// feature adds a feature with the faults that may show each of its answers. What
// could not be had rules nothing out.
func (g *game) feature(i int, other []*Row) {
	bins := make([]int8, len(g.rows))
	n := make([]map[int8]int, len(g.mass))
	of := map[string]int{}
	for k := range n {
		n[k] = map[int8]int{}
	}
	for r, row := range g.rows {
		bins[r] = row.Bins[i]
		of[row.fault()] = g.own[r]
	}
	for _, row := range slices.Concat(g.rows, other) {
		if k, ok := of[row.fault()]; ok && row.Bins[i] != 0 {
			n[k][row.Bins[i]]++
		}
	}
	shows := make([]some, 128)
	for b := range shows {
		sum, giving := 0.0, 0.0
		for k, c := range n {
			total := 0
			for _, x := range c {
				total += x
			}
			part := 0.0
			if total > 0 {
				part = float64(c[int8(b)]) / float64(total)
			}
			if part > rareAnswer || total == 0 {
				shows[b].add(k)
			}
			if part > 0 {
				sum, giving = sum+part, giving+1
			}
		}
		if b == 0 || sum < leastSign*giving {
			for k := range n {
				shows[b].add(k)
			}
		}
	}
	g.feats, g.bins, g.shows = append(g.feats, i), append(g.bins, bins), append(g.shows, shows)
}

func (g *game) root() node {
	n := node{has: make(set, g.t.words)}
	for k := range g.mass {
		n.left.add(k)
	}
	for i := range g.rows {
		n.rows = append(n.rows, i)
	}
	return n
}

// common are the findings that are right whatever is left.
func (g *game) common(left some) []int {
	var out []int
	first := true
	left.each(func(k int) {
		if first {
			out, first = slices.Clone(g.covers[k]), false
			return
		}
		out = slices.DeleteFunc(out, func(f int) bool { return !slices.Contains(g.covers[k], f) })
	})
	return out
}

// settled says that one finding is right whatever is left, and a reading of its
// own has been had, or that no question would rule out more.
func (g *game) settled(n node) bool {
	if g.weight(n) == 0 {
		return true
	}
	if c := g.common(n.left); len(c) > 0 {
		return slices.ContainsFunc(c, func(f int) bool { return g.spoken(f, n.has) })
	}
	for _, r := range n.rows {
		if g.end[r] != n.left {
			return false
		}
	}
	return true
}

// spoken says that a finding has a reading of its own among what is known.
func (g *game) spoken(finding int, has set) bool {
	s := g.speaks[finding]
	return len(s) == 0 || slices.ContainsFunc(s, func(x set) bool { return x.within(has) })
}

func (g *game) weight(n node) float64 {
	sum := 0.0
	for _, r := range n.rows {
		sum += g.cost[r]
	}
	return sum
}

// entropy of what is left, in bits.
func (g *game) entropy(left some) float64 {
	sum, h := 0.0, 0.0
	left.each(func(k int) { sum += g.mass[k] })
	left.each(func(k int) {
		if p := g.mass[k] / sum; p > 0 {
			h -= p * math.Log2(p)
		}
	})
	return h
}

// fresh lists the features, by their place in feats, that come to be known.
func (g *game) fresh(has, then set) []int {
	var out []int
	for i, f := range g.feats {
		if r := g.t.Features[f].reads; r.within(then) && !r.within(has) {
			out = append(out, i)
		}
	}
	return out
}

// after is what is left of some faults when a row has answered.
func (g *game) after(left some, row int, fresh []int) some {
	for _, i := range fresh {
		left = left.and(g.shows[i][g.bins[i][row]])
	}
	return left
}

// split parts the rows of a node by what is left of the faults, and by the gates
// that they then stand at.
func (g *game) split(n node, then set) []node {
	fresh := g.fresh(n.has, then)
	var gates []int
	if g.ways != nil {
		for i, x := range g.t.gates {
			if x.reads.within(then) && !x.reads.within(n.has) {
				gates = append(gates, i)
			}
		}
	}
	type end struct {
		left  some
		gates string
	}
	at := map[end]int{}
	var out []node
	key := make([]byte, len(gates))
	for _, r := range n.rows {
		for i, x := range gates {
			key[i] = byte(g.rows[r].gates[x])
		}
		e := end{g.after(n.left, r, fresh), string(key)}
		j, ok := at[e]
		if !ok {
			j = len(out)
			at[e] = j
			out = append(out, node{left: e.left, has: then})
		}
		out[j].rows = append(out[j].rows, r)
	}
	return out
}

// permitted says that a question may be asked of all rows of a node. If not, need
// is what would have to be asked first, nil if nothing helps.
func (g *game) permitted(q int, n node) (ok bool, need set) {
	if g.ways == nil {
		return true, nil
	}
	least := 0
	for _, w := range g.ways[q] {
		missing := w.first.less(n.has)
		open := true
		for _, x := range w.gates {
			if r := g.t.gates[x.gate].reads; !r.within(n.has) {
				missing = missing.with(r.less(n.has))
				continue
			}
			if slices.ContainsFunc(n.rows, func(r int) bool { return g.rows[r].gates[x.gate] != x.bin }) {
				open = false
				break
			}
		}
		switch k := missing.len(); {
		case !open:
		case k == 0:
			return true, nil
		case need == nil || k < least:
			need, least = missing, k
		}
	}
	return false, need
}

// options lists what may be asked at a node and tells something, or opens the way
// to what would. Of two that part the rows alike the cheaper stays.
func (g *game) options(n node) []option {
	var out []option
	at := map[string]int{}
	opens := make(set, g.t.words)
	for _, ask := range g.tests {
		if ask.within(n.has) {
			continue
		}
		then := n.has.with(ask)
		parts := g.split(n, then)
		if len(parts) == 1 && parts[0].left == n.left {
			continue
		}
		may, prior := g.mayAsk(ask, n)
		if !may {
			opens = opens.with(prior)
			continue
		}
		o := g.option(n, ask, parts)
		sig := signature(parts)
		if j, ok := at[sig]; !ok {
			at[sig] = len(out)
			out = append(out, o)
		} else if out[j].questions > o.questions || out[j].questions == o.questions && out[j].minutes > o.minutes {
			out[j] = o
		}
	}
	for _, f := range g.common(n.left) { // all that is wanted is a reading that speaks for it
		for _, ask := range g.speaks[f] {
			may, prior := g.mayAsk(ask, n)
			if may {
				out = append(out, g.option(n, ask, g.split(n, n.has.with(ask))))
			}
			opens = opens.with(prior)
		}
	}
	for q := range g.t.Questions {
		ask := make(set, g.t.words)
		ask.add(q)
		if !opens.has(q) || n.has.has(q) {
			continue
		}
		if ok, _ := g.permitted(q, n); !ok {
			continue
		}
		if parts := g.split(n, n.has.with(ask)); len(parts) == 1 && parts[0].left == n.left {
			out = append(out, g.option(n, ask, parts))
		}
	}
	return out
}

// mayAsk says that all of ask may be asked at a node, or what would open the way
// to it, nothing if it stays shut.
func (g *game) mayAsk(ask set, n node) (ok bool, prior set) {
	ok, prior = true, make(set, g.t.words)
	for q := range g.t.Questions {
		if !ask.has(q) || n.has.has(q) {
			continue
		}
		may, need := g.permitted(q, n)
		if may {
			continue
		}
		if need == nil {
			return false, make(set, g.t.words)
		}
		ok, prior = false, prior.with(need)
	}
	return ok, prior
}

func (g *game) option(n node, ask set, parts []node) option {
	o := option{ask: ask, parts: parts, gain: g.entropy(n.left)}
	stand := n.stand
	for q, question := range g.t.Questions {
		if !ask.has(q) || n.has.has(q) {
			continue
		}
		walk := 0.0
		if question.Stand != "" && question.Stand != stand {
			if stand != "" {
				walk = standMinutes
			}
			stand = question.Stand
		}
		for _, r := range n.rows {
			o.questions += g.cost[r] * g.rows[r].Times[q]
			o.minutes += g.cost[r] * (g.rows[r].Times[q]*question.Minutes + walk)
		}
	}
	sum := 0.0
	for _, r := range n.rows {
		sum += g.rows[r].Weight
	}
	for i, p := range parts {
		w := 0.0
		for _, r := range p.rows {
			w += g.rows[r].Weight
		}
		o.gain -= w / sum * g.entropy(p.left)
		parts[i].stand = stand
	}
	return o
}

// key tells nodes apart.
func (n node) key() string {
	b := make([]byte, 0, 2*len(n.rows)+8*len(n.has)+len(n.stand)+34)
	for _, r := range n.rows {
		b = binary.LittleEndian.AppendUint16(b, uint16(r))
	}
	b = append(b, '|', '|')
	for _, w := range n.left {
		b = binary.LittleEndian.AppendUint64(b, w)
	}
	for _, w := range n.has {
		b = binary.LittleEndian.AppendUint64(b, w)
	}
	return string(b) + n.stand
}

// signature tells two ways to part the same rows apart.
func signature(parts []node) string {
	var b []byte
	for _, p := range parts {
		for _, w := range p.left {
			b = binary.LittleEndian.AppendUint64(b, w)
		}
		for _, r := range p.rows {
			b = binary.LittleEndian.AppendUint16(b, uint16(r))
		}
		b = append(b, 255, 255)
	}
	return string(b)
}
