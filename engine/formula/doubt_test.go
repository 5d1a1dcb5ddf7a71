package formula

import (
	"math"
	"math/rand/v2"
	"testing"
)

// draw is a random state of knowledge in which all is known, by name.
func draw(r *rand.Rand, f *Formula, meter float64) []Val {
	vals := make([]Val, len(f.refs))
	for i, ref := range f.refs {
		d := corpusReading(ref.Name)
		switch {
		case d.options != nil:
			vals[i] = Choice(r.IntN(len(d.options)))
		case d.yesNo:
			vals[i] = YesNo(r.IntN(2) == 0)
		default:
			x := d.lo + r.Float64()*(d.hi-d.lo)
			if d.lo > 0 && d.hi/d.lo > 20 {
				x = d.lo * math.Exp(r.Float64()*math.Log(d.hi/d.lo))
			}
			vals[i] = reads(d, x, meter)
		}
	}
	return vals
}

// reads is x as a meter of so many times the usual error shows it.
func reads(d knownReading, x, meter float64) Val {
	name := ""
	if d.pct > 0 {
		name = "hand"
	}
	return Measured(x, meter*d.pct/100, meter*d.abs, name)
}

// aim moves one reading so that the verdict is about to turn: by bisection
// between two draws that differ.
func aim(r *rand.Rand, f *Formula, vals []Val, meter float64) {
	side := func() (bool, bool) {
		p := make([]Val, len(vals))
		for i, v := range vals {
			p[i] = v
			if f.types[i].Class == ClassNumber {
				p[i] = Exact(v.Mid)
			}
		}
		v, err := f.Eval(p)
		return v.CanTrue, err == nil
	}
	base, ok := side()
	if !ok {
		return
	}
	for range 20 {
		i := r.IntN(len(vals))
		if f.types[i].Class != ClassNumber {
			continue
		}
		d := corpusReading(f.refs[i].Name)
		was := vals[i]
		a, b := was.Mid, d.lo+r.Float64()*(d.hi-d.lo)
		vals[i] = Exact(b)
		if now, ok := side(); !ok || now == base {
			vals[i] = was
			continue
		}
		for range 40 {
			mid := (a + b) / 2
			vals[i] = Exact(mid)
			now, ok := side()
			if !ok {
				break
			}
			if now == base {
				a = mid
			} else {
				b = mid
			}
		}
		half := meter * (math.Abs(a)*d.pct/100 + d.abs)
		vals[i] = reads(d, a+(r.Float64()*2-1)*3*max(half, math.Abs(a)*.01), meter)
		return
	}
}

// sampled tells which answers occur at random points inside the limits, with one
// gain error per meter and kind of quantity.
func sampled(r *rand.Rand, f *Formula, vals []Val, n int) (seen [2]bool) {
	point := make([]Val, len(vals))
	for k := range n {
		gains := map[string]float64{}
		for i, v := range vals {
			if f.types[i].Class != ClassNumber {
				point[i] = v
				continue
			}
			u := func() float64 { // faces and corners get their share
				x := r.Float64()*2 - 1
				if k%3 == 0 && r.IntN(2) == 0 {
					x = math.Copysign(1, x)
				}
				return x
			}
			key := v.Meter + f.types[i].Unit.Difference().String()
			if _, has := gains[key]; !has {
				gains[key] = u()
			}
			own := (v.Hi-v.Lo)/2 - v.Gain*math.Abs(v.Mid)
			x := v.Mid + v.Gain*v.Mid*gains[key] + own*u()
			point[i] = Exact(min(max(x, v.Lo), v.Hi))
		}
		if v, err := f.Eval(point); err == nil {
			if v.CanTrue {
				seen[1] = true
			} else {
				seen[0] = true
			}
		}
		if seen[0] && seen[1] {
			break
		}
	}
	return seen
}

// No verdict that is truly open is called firm, and few that are firm stay open.
func TestNoOpenVerdictIsCalledFirm(t *testing.T) {
	s := corpusScope()
	r := rand.New(rand.NewPCG(1, 2))
	cases, open, undecided, missed := 0, 0, 0, 0
	for _, src := range corpus {
		f := mustCompile(t, s, src, WantYesNo())
		for k := range 120 {
			meter := []float64{1, 4}[k%2]
			vals := draw(r, f, meter)
			if k%4 != 0 {
				aim(r, f, vals, meter)
			}
			seen := sampled(r, f, vals, 600)
			d := f.Decide(vals)
			cases++
			both := seen[0] && seen[1]
			if both {
				open++
			}
			switch {
			case d.Verdict == CertainlyTrue && seen[0] || d.Verdict == CertainlyFalse && seen[1]:
				t.Errorf("%s is called %s, and inside the limits it is not: %v", src, d.Verdict, vals)
			case d.Verdict == Undecided:
				undecided++
			case d.Verdict == Close && !both:
				missed++ // the example stands on a face that sampling did not hit
			}
			if d.Verdict == Close {
				checkExample(t, f, vals, d)
			}
		}
	}
	t.Logf("%d cases, %d truly open, %d undecided, %d close ones that sampling missed", cases, open, undecided, missed)
	if undecided*50 > cases {
		t.Errorf("%d of %d cases stay undecided", undecided, cases)
	}
	if open*10 < cases {
		t.Errorf("only %d of %d cases were open: the test tests little", open, cases)
	}
}

// An example lies inside the limits and comes out on the other side.
func checkExample(t *testing.T, f *Formula, vals []Val, d Decision) {
	t.Helper()
	point := make([]Val, len(vals))
	for i, x := range d.Example {
		point[i] = vals[i]
		if f.types[i].Class != ClassNumber {
			continue
		}
		if slack := 1e-9 * math.Abs(x); x < vals[i].Lo-slack || x > vals[i].Hi+slack {
			t.Errorf("%s: the example has %s = %g, outside %g to %g", f, f.refs[i], x, vals[i].Lo, vals[i].Hi)
		}
		point[i] = Exact(x)
	}
	v, err := f.Eval(point)
	if err != nil || v.CanTrue == d.Likelier {
		t.Errorf("%s: likelier %v, and the example gives %v (%v)", f, d.Likelier, v.CanTrue, err)
	}
}

// At least one side stays possible, whatever the limits.
func TestSomeSideStaysPossible(t *testing.T) {
	s := corpusScope()
	r := rand.New(rand.NewPCG(11, 12))
	srcs := append([]string{
		"stud_v / (battery_rest_v - battery_loaded_v) * (fuse_rating_a - fuse_rating_a) > 1 and load_a > 0",
		"(stud_v / (battery_rest_v - stud_v)) / (stud_v / (battery_loaded_v - stud_v)) > 1",
		"abs(stud_v / (battery_rest_v - stud_v)) >= 0",
	}, corpus...)
	odd := []float64{0, -1, 1, 1e308, -1e308, math.Inf(1), math.Inf(-1), math.NaN()}
	for _, src := range srcs {
		w := WantYesNo()
		f := mustCompile(t, s, src, w)
		for range 400 {
			vals := draw(r, f, 1)
			for i := range vals {
				switch r.IntN(4) {
				case 0:
					vals[i] = f.types[i].Anything()
				case 1:
					vals[i] = Val{Lo: odd[r.IntN(len(odd))], Mid: odd[r.IntN(len(odd))], Hi: odd[r.IntN(len(odd))]}
				case 2:
					vals[i] = Val{}
				}
			}
			v, _ := f.Eval(vals)
			if !v.CanTrue && !v.CanFalse {
				t.Fatalf("%s: neither side is possible with %+v", src, vals)
			}
			if d := f.Decide(vals); d.Verdict.String() == "" {
				t.Fatal("no verdict")
			}
		}
	}
}

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, seed+1)) }
