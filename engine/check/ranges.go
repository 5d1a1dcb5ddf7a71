package check

import (
	"encoding/binary"
	"math"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// What the checks say about conditions is said over whole possible ranges: every
// reading has all the values that it can have at all, on a rig of 12, 24 and
// 48 V in turn. What is proved so holds for every rig; what limits alone leave
// open is looked for at points, and what is still open is listed.

// volts are the systems that the knowledge is for.
var volts = []float64{12, 24, 48}

// cell is what one name can be: a stretch of numbers, or a set of options. Of a
// yes-no, bit 0 is no and bit 1 yes.
type cell struct {
	v      int // index of the name
	lo, hi float64
	words  uint64
}

// ranges gives names an index and knows what each can be.
type ranges struct {
	g       *graph.Graph
	index   map[formula.Ref]int
	refs    []formula.Ref
	types   []formula.Type
	systems []float64
	full    [][]cell // by system, by name
	forms   map[*formula.Formula]*form
	scope   *formula.Scope // worked values are names of their own in it
	frees   map[*graph.Condition]*form
}

// form is a formula with the indices of its names.
type form struct {
	f     *formula.Formula
	id    int
	vars  []int
	known []int // places in vars of what it asks known() of
	buf   []formula.Val
}

func newRanges(g *graph.Graph) *ranges {
	r := &ranges{g: g, index: map[formula.Ref]int{}, forms: map[*formula.Formula]*form{}, systems: volts,
		scope: freeScope(g, false), frees: map[*graph.Condition]*form{}}
	if sv := g.Readings[g.SystemVolts]; sv == nil || sv.Answer != reading.Number {
		r.systems = volts[:1]
	}
	r.full = make([][]cell, len(r.systems))
	return r
}

// of is the index of a name, which is given on first sight.
func (r *ranges) of(ref formula.Ref, t formula.Type) int {
	if i, ok := r.index[ref]; ok {
		return i
	}
	var worked *form
	if v := r.g.Values[ref.Name]; v != nil {
		worked = r.form(v.Is, nil)
	}
	i := len(r.refs)
	r.index[ref] = i
	r.refs, r.types = append(r.refs, ref), append(r.types, t)
	for s, v := range r.systems {
		c := cell{v: i, lo: t.Lo, hi: t.Hi}
		switch t.Class {
		case formula.ClassYesNo:
			c.words = 3
		case formula.ClassChoice:
			c.words = 1<<uint(len(t.Options)) - 1
		default:
			x := r.g.Readings[ref.Name]
			if worked != nil {
				c.lo, c.hi = r.worked(worked, s)
			} else if x != nil && x.Possible.Set {
				c.lo, c.hi = x.Possible.Lo, x.Possible.Hi
				if x.Scales {
					c.lo, c.hi = c.lo*v/12, c.hi*v/12
				}
			} else if t.Lo == 0 && t.Hi == 0 {
				c.lo, c.hi = math.Inf(-1), math.Inf(1)
			}
			if ref.Name == r.g.SystemVolts && ref.Form == formula.Here {
				c.lo, c.hi = v, v
			}
		}
		r.full[s] = append(r.full[s], c)
	}
	return i
}

// form prepares a formula; known are the readings it asks known() of.
func (r *ranges) form(f *formula.Formula, known []string) *form {
	if x, ok := r.forms[f]; ok {
		return x
	}
	x := &form{f: f, id: len(r.forms)}
	for i, ref := range f.Refs() {
		x.vars = append(x.vars, r.of(ref, f.RefType(i)))
		for _, k := range known {
			if k == ref.Name {
				x.known = append(x.known, i)
			}
		}
	}
	x.buf = make([]formula.Val, len(x.vars))
	r.forms[f] = x
	return x
}

func (r *ranges) cond(c *graph.Condition) *form { return r.form(c.F, c.Known) }

// free is a condition in which worked values are names of their own, so that what
// a path implies of one is kept as a whole: of two readings less than 0.2 V apart
// neither range tells. It is nil for a condition that has none.
func (r *ranges) free(c *graph.Condition) *form {
	if x, ok := r.frees[c]; ok {
		return x
	}
	r.frees[c] = nil
	for _, name := range nameOrWord.FindAllString(c.Text, -1) {
		if r.g.Values[name] == nil {
			continue
		}
		if f, problems := formula.Compile(c.Text, r.scope, formula.WantYesNo()); len(problems) == 0 {
			r.frees[c] = r.form(f, c.Known)
		}
		break
	}
	return r.frees[c]
}

// endless stands for the end of what has none.
const endless = 1e9

// worked is what a worked value can be on a system.
func (r *ranges) worked(x *form, sys int) (lo, hi float64) {
	for i, v := range x.vars {
		x.buf[i] = r.val(r.full[sys][v], false)
	}
	v, _ := x.f.Eval(x.buf)
	return max(v.Lo, -endless), min(v.Hi, endless)
}

// freeScope is the scope of the knowledge with worked values as names of their
// own; those that ask known() only with all, as they change when nothing is read.
func freeScope(g *graph.Graph, all bool) *formula.Scope {
	var funcs []*formula.Func
	own := formula.NewScope(nil)
	for _, f := range g.Scope.Funcs() {
		if _, plain := own.Func(f.Name); !plain {
			funcs = append(funcs, f)
		}
	}
	out := formula.NewScope(funcs)
	words := wordCounter{g, map[string]map[string]int{}}
	for _, name := range g.Scope.Names() {
		if f, ok := g.Scope.ValueOf(name); ok && !all && words.of(f.String())["known"] > 0 {
			out.Value(name, f)
		} else if t, ok := g.Scope.TypeOf(name); ok {
			out.Reading(name, t)
		}
	}
	return out
}

// val is a cell as the evaluator takes it. Not known differs only in what known()
// says of it: the stretch is the same.
func (r *ranges) val(c cell, unknown bool) formula.Val {
	switch r.types[c.v].Class {
	case formula.ClassYesNo:
		return formula.Val{CanFalse: c.words&1 != 0, CanTrue: c.words&2 != 0, Unknown: unknown}
	case formula.ClassChoice:
		return formula.Val{Words: c.words, Unknown: unknown}
	}
	v := formula.Within(c.lo, middle(c.lo, c.hi), c.hi)
	v.Unknown = unknown
	return v
}

func middle(lo, hi float64) float64 {
	switch {
	case math.IsInf(lo, 0) && math.IsInf(hi, 0):
		return 0
	case math.IsInf(hi, 0):
		return max(1, 2*lo)
	case math.IsInf(lo, 0):
		return min(-1, 2*hi)
	}
	return lo + (hi-lo)/2
}

// can says which answers a condition can have on the cells given, one for each of
// its names. unknown is a bit for each of x.known.
func (r *ranges) can(x *form, cells []cell, unknown uint) (yes, no bool) {
	for i := range cells {
		x.buf[i] = r.val(cells[i], false)
	}
	for b, i := range x.known {
		x.buf[i].Unknown = unknown>>b&1 == 1
	}
	v, _ := x.f.Eval(x.buf)
	return v.CanTrue, v.CanFalse
}

// key writes cells down for looking results up.
func key(id int, want bool, cells []cell) string {
	var b strings.Builder
	b.Grow(12 + 24*len(cells))
	var t [8]byte
	put := func(x uint64) {
		binary.LittleEndian.PutUint64(t[:], x)
		b.Write(t[:])
	}
	put(uint64(id)<<1 | bit(want))
	for _, c := range cells {
		put(math.Float64bits(c.lo))
		put(math.Float64bits(c.hi))
		put(c.words)
	}
	return b.String()
}

func bit(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}
