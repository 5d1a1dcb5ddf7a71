package formula

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/types"
	"github.com/expr-lang/expr/vm"
)

func toFloat(a any) float64 {
	switch x := a.(type) {
	case float64:
		return x
	case int:
		return float64(x)
	}
	panic(fmt.Sprintf("%T is no number", a))
}

// oracleOptions set up the borrowed machine with the corpus.
func oracleOptions() []expr.Option {
	m := types.Map{}
	for _, d := range corpusReadings {
		switch {
		case d.options != nil:
			m[d.name] = types.String
		case d.yesNo:
			m[d.name] = types.Bool
		default:
			m[d.name] = types.Float64
		}
	}
	opts := []expr.Option{expr.Env(m), expr.AsBool(), expr.WarnOnAny(), expr.DisableAllBuiltins()}
	for _, f := range append(plainFuncs(), corpusFuncs()...) {
		call := func(a ...any) (any, error) {
			p := make([]float64, len(a))
			for i := range a {
				p[i] = toFloat(a[i])
			}
			x, err := f.Do(p)
			if f.YesNo {
				return x != 0, err
			}
			return x, err
		}
		var signature any
		switch n := len(f.Params); {
		case f.YesNo:
			signature = new(func(float64, float64, float64) bool)
		case f.More:
			signature = new(func(...float64) float64)
		case n == 1:
			signature = new(func(float64) float64)
		case f.param(1).Choices != nil:
			continue
		default:
			signature = new(func(float64, float64) float64)
		}
		opts = append(opts, expr.Function(f.Name, call, signature))
	}
	return opts
}

// agree evaluates one formula at random points, in both ways.
func agree(t *testing.T, r *rand.Rand, src string, f *Formula, prog *vm.Program, points int) (compared int) {
	env := map[string]any{}
	for range points {
		vals := draw(r, f, 0)
		for i, ref := range f.refs {
			switch d := corpusReading(ref.Name); {
			case d.options != nil:
				for k, o := range d.options {
					if vals[i].Words == 1<<uint(k) {
						env[ref.Name] = o
					}
				}
			case d.yesNo:
				env[ref.Name] = vals[i].CanTrue
			default:
				env[ref.Name] = vals[i].Mid
			}
		}
		ours, err := f.Eval(vals)
		theirs, err2 := expr.Run(prog, env)
		if err != nil || err2 != nil {
			continue // they have no errors for division by nought
		}
		compared++
		if ours.CanTrue == ours.CanFalse || ours.CanTrue != theirs.(bool) {
			t.Fatalf("%s\nat %v\nours %v, theirs %v", src, env, ours.CanTrue, theirs)
		}
	}
	return compared
}

// Two ways, same answer: our walk over the tree and the borrowed machine.
func TestSameAnswerAsTheBorrowedMachine(t *testing.T) {
	s := corpusScope()
	opts := oracleOptions()
	r := rand.New(rand.NewPCG(3, 4))
	compared := 0
	check := func(src string, points int) {
		f, ps := Compile(src, s, WantYesNo())
		if ps != nil {
			t.Fatalf("%s: %v", src, ps)
		}
		prog, err := expr.Compile(src, opts...)
		if err != nil {
			t.Fatalf("the borrowed machine refuses %s: %v", src, err)
		}
		compared += agree(t, r, src, f, prog, points)
	}
	for _, src := range corpus {
		check(src, 400)
	}
	for range 9000 {
		g := generator{r}
		check(g.condition(4), 22)
	}
	if compared < 200_000 {
		t.Errorf("compared at %d points only", compared)
	}
}

// generator writes formulas that have sound units.
type generator struct{ r *rand.Rand }

func (g generator) name(unit string) string {
	var c []string
	for _, x := range corpusReadings {
		if x.unit == unit {
			c = append(c, x.name)
		}
	}
	return c[g.r.IntN(len(c))]
}

func (g generator) number(unit string, depth int) string {
	if depth <= 0 || g.r.IntN(4) == 0 {
		if g.r.IntN(4) == 0 {
			return fmt.Sprintf("%.3g", g.r.Float64()*20)
		}
		return g.name(unit)
	}
	switch g.r.IntN(9) {
	case 0:
		return "(" + g.name(unit) + " + " + g.number(unit, depth-1) + ")"
	case 1:
		return "(" + g.number(unit, depth-1) + " - " + g.name(unit) + ")"
	case 2:
		return fmt.Sprintf("%.2g * %s", g.r.Float64()*3, g.name(unit))
	case 3:
		return []string{"max", "min", "mean"}[g.r.IntN(3)] + "(" + g.name(unit) + ", " + g.number(unit, depth-1) + ", " + g.name(unit) + ")"
	case 4:
		return "(" + g.condition(depth-1) + " ? " + g.name(unit) + " : " + g.number(unit, depth-1) + ")"
	case 5:
		return "abs(" + g.name(unit) + " - " + g.number(unit, depth-1) + ")"
	case 6:
		return "(" + g.name(unit) + " / " + g.name(unit) + ") ^ 2 * " + g.name(unit)
	case 7:
		if unit == "A" {
			return "next_fuse(" + g.name("A") + ")"
		}
		return g.name("A") + " * wire_ohm(" + g.name("m") + ", " + g.name("mm2") + ")"
	}
	return g.name(unit) + " * " + g.name("A") + " / " + g.name("A")
}

func (g generator) condition(depth int) string {
	if depth <= 0 || g.r.IntN(3) == 0 {
		unit := []string{"V", "A"}[g.r.IntN(2)]
		a, b := g.number(unit, depth-1), g.name(unit)
		switch g.r.IntN(6) {
		case 0:
			return "chemistry == 'lfp'"
		case 1:
			return "chemistry not in ['agm', 'gel']"
		case 2:
			return b + " < " + g.name(unit) + " <= " + a
		case 3:
			return "near(" + b + ", " + a + ", 5)"
		}
		return b + " + " + a + []string{" < ", " > ", " <= ", " >= "}[g.r.IntN(4)] + b
	}
	switch g.r.IntN(4) {
	case 0:
		return "(" + g.condition(depth-1) + " and " + g.condition(depth-1) + ")"
	case 1:
		return "(" + g.condition(depth-1) + " or " + g.condition(depth-1) + ")"
	case 2:
		return "not (" + g.condition(depth-1) + ")"
	}
	return "(display_lit ? " + g.condition(depth-1) + " : " + g.condition(depth-1) + ")"
}

// Limits hold every point inside them, for numbers as for conditions.
func TestLimitsHoldEveryPointInside(t *testing.T) {
	s := corpusScope()
	r := rand.New(rand.NewPCG(5, 6))
	g := generator{r}
	points := 0
	for range 1500 {
		src := g.number([]string{"V", "A"}[r.IntN(2)], 4)
		f := mustCompile(t, s, src, WantAny())
		if f.Type().Unit.Plain() {
			continue
		}
		vals := draw(r, f, 3)
		whole, err := f.Eval(vals)
		if err != nil {
			continue
		}
		for range 20 {
			at := make([]Val, len(vals))
			gain := map[string]float64{}
			for i, v := range vals {
				at[i] = v
				if f.types[i].Class != ClassNumber {
					continue
				}
				key := v.Meter + f.types[i].Unit.String()
				if _, ok := gain[key]; !ok {
					gain[key] = r.Float64()*2 - 1
				}
				own := (v.Hi-v.Lo)/2 - v.Gain*math.Abs(v.Mid)
				at[i] = Exact(v.Mid + v.Gain*v.Mid*gain[key] + own*(r.Float64()*2-1))
			}
			x, err := f.Eval(at)
			if err != nil {
				continue
			}
			points++
			if slack := 1e-9 * math.Abs(x.Mid); x.Mid < whole.Lo-slack || x.Mid > whole.Hi+slack {
				t.Fatalf("%s is %g inside limits that give %g to %g\n%v", src, x.Mid, whole.Lo, whole.Hi, strings.TrimSpace(fmt.Sprint(vals)))
			}
		}
	}
	if points < 15000 {
		t.Errorf("%d points only", points)
	}
}
