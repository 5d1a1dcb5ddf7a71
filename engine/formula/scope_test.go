package formula

import (
	"slices"
	"testing"

	"hotlug/engine/quantity"
)

func TestScope(t *testing.T) {
	s := NewScope(corpusFuncs())
	s.Reading("load_a", Type{Class: ClassNumber, Unit: quantity.MustUnit("A"), Hi: 500})
	f := mustCompile(t, s, "load_a * 1.25", num("A"))
	s.Value("fuse_least_a", f)
	if got := s.Names(); !slices.Equal(got, []string{"fuse_least_a", "load_a"}) {
		t.Errorf("names are %v", got)
	}
	if ty, ok := s.TypeOf("fuse_least_a"); !ok || ty.Unit.Symbol() != "A" {
		t.Errorf("the value is %v, %v", ty, ok)
	}
	if _, ok := s.TypeOf("nothing"); ok {
		t.Error("an unknown name has a type")
	}
	if g, ok := s.ValueOf("fuse_least_a"); !ok || g != f {
		t.Error("the value's formula is lost")
	}
	if fn, ok := s.Func("next_fuse"); !ok || fn.Name != "next_fuse" {
		t.Error("a function is lost")
	}
	var names []string
	for _, fn := range s.Funcs() {
		names = append(names, fn.Name)
	}
	if !slices.Equal(names, []string{"abs", "min", "max", "mean", "near", "part", "degC", "kelvin", "clip_drop_limit", "wire_ohm", "next_fuse", "ampacity"}) {
		t.Errorf("functions are %v", names)
	}
	if got := f.String(); got != "load_a * 1.25" {
		t.Errorf("the text is %q", got)
	}
	g := mustCompile(t, s, "next_fuse(fuse_least_a) > abs(load_a)", WantYesNo())
	if fs := g.Funcs(); len(fs) != 2 || fs[0].Name != "next_fuse" {
		t.Errorf("functions of the formula: %v", fs)
	}
}

func TestFunctionNamesAreTakenOnce(t *testing.T) {
	defer func() {
		if r := recover(); r != "formula: the name max is taken, and a function wants it too" {
			t.Errorf("panics with %v", r)
		}
	}()
	NewScope([]*Func{{Name: "max"}})
}

// Every plain function says of itself what the documentation needs.
func TestPlainFunctionsAreDescribed(t *testing.T) {
	for _, f := range plainFuncs() {
		if f.Title == "" || f.Text == "" || f.Area != "plain" || f.Do == nil {
			t.Errorf("%s lacks its title, text, area or computation", f.Name)
		}
		for _, p := range f.Params {
			if p.Name == "" || p.Doc == "" {
				t.Errorf("%s: a parameter lacks its name or doc", f.Name)
			}
			if p.Dir == Mixed && f.Limits == nil {
				t.Errorf("%s: a parameter has no direction, and the function no limits", f.Name)
			}
		}
	}
}

func TestDidYouMean(t *testing.T) {
	names := []string{"load_a", "stud_v", "pv_a", "pv_v"}
	tests := map[string]string{"lod_a": "load_a", "stdu_v": "stud_v", "pv_b": "pv_a", "something": "", "x": ""}
	for typed, want := range tests {
		if want != "" {
			want = "did you mean " + want + "?"
		}
		if got := didYouMean(typed, names); got != want {
			t.Errorf("%s: %q, want %q", typed, got, want)
		}
	}
}

// One formula serves several goroutines at once.
func TestManyAtOnce(t *testing.T) {
	f := mustCompile(t, corpusScope(), "battery_rest_v - battery_loaded_v > 0.1", WantYesNo())
	vals := []Val{Measured(12.8, .01, .01, "hand"), Measured(12.6, .01, .01, "hand")}
	got := make(chan Verdict)
	for range 8 {
		go func() {
			v := CertainlyTrue
			for range 50 {
				if d := f.Decide(vals); d.Verdict != CertainlyTrue {
					v = d.Verdict
				}
			}
			got <- v
		}()
	}
	for range 8 {
		if v := <-got; v != CertainlyTrue {
			t.Errorf("one comes to %s", v)
		}
	}
}
