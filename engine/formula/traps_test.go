package formula

import (
	"math"
	"testing"
)

// Where the borrowed machine stumbles at run time, ours has an answer or a
// sentence.
func TestTrapsOfTheBorrowedMachine(t *testing.T) {
	tests := []struct {
		name, src string
		vals      []Val
		want      float64
		err       string
	}{
		{"division by nought", "stud_v / load_a", []Val{Exact(12), Exact(0)}, 0,
			"division: load_a is 0, and nothing can be divided by 0"},
		{"nought by nought", "stud_v / load_a", []Val{Exact(0), Exact(0)}, 0,
			"division: load_a is 0, and nothing can be divided by 0"},
		{"division by what comes to nought", "load_a / (stud_v - pv_v)", []Val{Exact(1), Exact(12), Exact(12)}, 0,
			"division: stud_v - pv_v is 0, and nothing can be divided by 0"},
		{"negative power of nought", "load_a ^ -2", []Val{Exact(0)}, 0,
			"division: load_a is 0, and nothing can be divided by 0"},
		{"too large", "load_a * load_a", []Val{Exact(1e200)}, 0,
			"load_a * load_a: the result is too large to be a number"},
		{"outside a function", "next_fuse(load_a)", []Val{Exact(1000)}, 0,
			"next_fuse: no standard fuse is that large"},
		{"whole numbers divide", "3 / 2 * load_a", []Val{Exact(1)}, 1.5, ""},
		{"whole number for a function", "next_fuse(display_lit ? 10 : 20)", []Val{YesNo(true)}, 15, ""},
		{"no wrap", "9223372036854775807 + 1", nil, 9223372036854775808, ""},
		{"sign before power", "-load_a ^ 2", []Val{Exact(3)}, -9, ""},
		{"power binds to the right", "2 ^ 3 ^ 1 * load_a", []Val{Exact(1)}, 8, ""},
		{"products from the left", "load_a / 2 / 2", []Val{Exact(8)}, 2, ""},
		{"guarded division", "load_a > 0 ? stud_v / load_a : 0", []Val{Exact(0), Exact(12)}, 0, ""},
	}
	s := corpusScope()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := mustCompile(t, s, tt.src, WantAny())
			v, err := f.Eval(tt.vals)
			if tt.err != "" {
				if err == nil || err.Error() != tt.err {
					t.Errorf("error %v, want %s", err, tt.err)
				}
				return
			}
			if err != nil || v.Mid != tt.want {
				t.Errorf("%v (%v), want %v", v.Mid, err, tt.want)
			}
		})
	}
}

// A comparison with what is no number is neither yes nor no.
func TestNaNSettlesNothing(t *testing.T) {
	s := corpusScope()
	for _, src := range []string{"stud_v > 1", "not (stud_v > 1)", "stud_v <= 1", "near(stud_v, 1, 1)", "abs(stud_v) >= 0"} {
		f := mustCompile(t, s, src, WantYesNo())
		for _, v := range []Val{Exact(math.NaN()), {Lo: math.NaN(), Mid: 5, Hi: 6}, {Lo: 4, Mid: 5, Hi: math.NaN()}, {Lo: 6, Mid: 5, Hi: 4}} {
			if d := f.Decide([]Val{v}); d.Certain() {
				t.Errorf("%s is %s with %v", src, d.Verdict, v)
			}
		}
	}
}

// What is left of and or or can settle it, though the rest has no answer.
func TestTheLeftGuardsTheRight(t *testing.T) {
	s := corpusScope()
	tests := []struct {
		src  string
		want Verdict
	}{
		{"load_a > 0.1 and stud_v / load_a > 3", CertainlyFalse},
		{"load_a <= 0.1 or stud_v / load_a > 3", CertainlyTrue},
		{"stud_v / load_a > 3", NotSettled},
	}
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, WantYesNo())
		vals := []Val{Exact(0), Exact(12)}
		if f.Refs()[0].Name == "stud_v" {
			vals = []Val{Exact(12), Exact(0)}
		}
		d := f.Decide(vals)
		if d.Verdict != tt.want {
			t.Errorf("%s is %s, want %s", tt.src, d.Verdict, tt.want)
		}
		if (d.Err != nil) != (tt.want == NotSettled) {
			t.Errorf("%s has the error %v", tt.src, d.Err)
		}
	}
}

// The words that the parser can't take as names are reserved.
func TestReservedWords(t *testing.T) {
	for _, w := range []string{"not", "in", "and", "or", "matches", "contains", "startsWith", "endsWith", "let", "if", "else",
		"nil", "true", "false", "known", "was", "filter", "count", "sum"} {
		if !Reserved(w) {
			t.Errorf("%s can be given as a name", w)
		}
	}
	if Reserved("load_a") {
		t.Error("load_a is reserved")
	}
}

func TestValuesMustBeParallelToRefs(t *testing.T) {
	f := mustCompile(t, corpusScope(), "load_a > 3", WantYesNo())
	defer func() {
		if r := recover(); r != `formula: 2 values for the 1 names of "load_a > 3"` {
			t.Errorf("panics with %v", r)
		}
	}()
	_, _ = f.Eval(make([]Val, 2))
}
