package circuit

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// work is the linear part of a network, factorised, and room for Newton's steps.
// It is used again for the next solution, of whichever network.
type work struct {
	size, ports int
	block       []int // of each node: union-find, then its root
	common, own []int // of each node: where its block's volts and its difference stand, -1 where they are 0
	matrix      []float64
	factor      blas64.Triangular
	columns     []float64 // size × (1 + ports): volts by the sources alone, then by 1 A into each port
	right       []float64 // a right-hand side
	z           []float64 // ports × ports: volts at a port by 1 A into another
	open        []float64 // volts of ports with nothing but stand-ins
	newton
}

// rooms are those that no solution is being worked out in.
var rooms = sync.Pool{New: func() any { return &work{} }}

// grown is a slice of n zeros, in the memory of the old one where it fits.
func grown[T any](old []T, n int) []T {
	if cap(old) < n {
		return make([]T, n)
	}
	old = old[:n]
	clear(old)
	return old
}

func (w *work) root(k int) int {
	for w.block[k] != k {
		w.block[k] = w.block[w.block[k]]
		k = w.block[k]
	}
	return k
}

// blocks finds the blocks and gives every node its unknowns. Ground's block has
// volts of 0, and the first node of a block no difference.
func (w *work) blocks(n *Network) {
	nodes := len(n.names)
	w.block, w.common, w.own = grown(w.block, nodes), grown(w.common, nodes), grown(w.own, nodes)
	for k := range w.block {
		w.block[k] = k
	}
	for i := range n.elements {
		if e := &n.elements[i]; (e.kind == resistor || e.kind == source) && e.ohm*strong <= 1 {
			a, b := w.root(int(e.a)), w.root(int(e.b))
			w.block[max(a, b)] = min(a, b)
		}
	}
	w.size = 0
	next := func() int { w.size++; return w.size - 1 }
	for k := range nodes {
		switch r := w.root(k); {
		case k == 0:
			w.common[k], w.own[k] = -1, -1
		case r == k:
			w.common[k], w.own[k] = next(), -1
		default:
			w.common[k], w.own[k] = w.common[r], next()
		}
	}
}

// ends lists where a branch from a to b stands in the unknowns, and with which
// sign; in a block the common volts cancel and are left out.
func (w *work) ends(a, b Node) (at [4]int, sign [4]float64, n int) {
	put := func(k int, s float64) {
		if k >= 0 {
			at[n], sign[n] = k, s
			n++
		}
	}
	if w.common[a] != w.common[b] {
		put(w.common[a], 1)
		put(w.common[b], -1)
	}
	if a != b {
		put(w.own[a], 1)
		put(w.own[b], -1)
	}
	return at, sign, n
}

func (w *work) stamp(a, b Node, siemens float64) {
	at, sign, n := w.ends(a, b)
	for i := range n {
		for j := range n {
			if at[i] <= at[j] {
				w.matrix[at[i]*w.size+at[j]] += sign[i] * sign[j] * siemens
			}
		}
	}
}

// push puts amps, from a through the outside to b taken away, into a column.
func (w *work) push(column []float64, stride int, a, b Node, amps float64) {
	at, sign, n := w.ends(a, b)
	for i := range n {
		column[at[i]*stride] += sign[i] * amps
	}
}

// across is the volts from a to b in a column of unknowns.
func (w *work) across(column []float64, stride int, a, b Node) float64 {
	at, sign, n := w.ends(a, b)
	v := 0.0
	for i := range n {
		v += sign[i] * column[at[i]*stride]
	}
	return v
}

// of is the volts of one node in a column.
func (w *work) of(column []float64, stride int, a Node) float64 {
	v := 0.0
	if k := w.common[a]; k >= 0 {
		v = column[k*stride]
	}
	if k := w.own[a]; k >= 0 {
		v += column[k*stride]
	}
	return v
}

// assemble writes the matrix and factorises it. It is false when the matrix is
// not positive definite, which only values beyond all measure can bring about.
func (w *work) assemble(n *Network) bool {
	w.blocks(n)
	p := len(n.ports)
	w.ports = p
	w.matrix = grown(w.matrix, w.size*w.size)
	w.columns = grown(w.columns, w.size*(p+1))
	w.right = grown(w.right, w.size)
	w.z, w.open = grown(w.z, p*p), grown(w.open, p)
	for k := 1; k < len(n.names); k++ {
		w.stamp(Node(k), Ground, Leak)
	}
	wide := p + 1
	for i := range n.elements {
		switch e := &n.elements[i]; e.kind {
		case resistor:
			w.stamp(e.a, e.b, 1/e.ohm)
		case source:
			w.stamp(e.a, e.b, 1/e.ohm)
			w.push(w.columns, wide, e.a, e.b, e.volts/e.ohm)
		case current:
			w.push(w.columns, wide, e.a, e.b, -e.volts)
		}
	}
	for k, q := range n.ports {
		w.stamp(q.plus, q.minus, standIn)
		w.push(w.columns[1+k:], wide, q.plus, q.minus, 1)
	}
	if w.size == 0 {
		return true
	}
	var ok bool
	if w.factor, ok = lapack64.Potrf(blas64.Symmetric{Uplo: blas.Upper, N: w.size, Stride: w.size, Data: w.matrix}); !ok {
		return false
	}
	lapack64.Potrs(w.factor, blas64.General{Rows: w.size, Cols: wide, Stride: wide, Data: w.columns})
	for j, q := range n.ports {
		w.open[j] = w.across(w.columns, wide, q.plus, q.minus)
		for k := range p {
			w.z[j*p+k] = w.across(w.columns[1+k:], wide, q.plus, q.minus)
		}
	}
	for _, x := range w.columns {
		if !finite(x) {
			return false
		}
	}
	return true
}

// whole takes the right-hand side (amps out of balance) to the change of all
// unknowns by a Newton step with the slopes of the ports as they stand.
func (w *work) whole(n *Network) bool {
	if w.size == 0 {
		return true
	}
	lapack64.Potrs(w.factor, blas64.General{Rows: w.size, Cols: 1, Stride: 1, Data: w.right})
	p, wide := w.ports, w.ports+1
	if p == 0 {
		return true
	}
	w.slopes(0)
	for k, q := range n.ports {
		w.step[k] = w.across(w.right, 1, q.plus, q.minus)
	}
	if !eliminate(w.m, w.step, p) {
		return false
	}
	for k := range p {
		x := (w.slope[k]-standIn)*w.step[k] + w.cross[k]*w.step[w.twin[k]]
		for i := range w.size {
			w.right[i] -= w.columns[i*wide+1+k] * x
		}
	}
	return true
}

// eliminate solves m·x = x in place, with partial pivoting; m is n × n and lost.
// The ports are a handful, for which a library's blocks and checks take longer
// than the arithmetic. It is false where m is singular.
func eliminate(m, x []float64, n int) bool {
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r*n+c]) > math.Abs(m[best*n+c]) {
				best = r
			}
		}
		if top := m[best*n+c]; top == 0 || !finite(top) {
			return false
		}
		if best != c {
			for k := c; k < n; k++ {
				m[c*n+k], m[best*n+k] = m[best*n+k], m[c*n+k]
			}
			x[c], x[best] = x[best], x[c]
		}
		for r := c + 1; r < n; r++ {
			f := m[r*n+c] / m[c*n+c]
			if f == 0 {
				continue
			}
			for k := c + 1; k < n; k++ {
				m[r*n+k] -= f * m[c*n+k]
			}
			x[r] -= f * x[c]
		}
	}
	for r := n - 1; r >= 0; r-- {
		for k := r + 1; k < n; k++ {
			x[r] -= m[r*n+k] * x[k]
		}
		x[r] /= m[r*n+r]
	}
	return true
}
