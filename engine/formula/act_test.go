package formula

import (
	"slices"
	"testing"
)

// A number to act on is taken at its unfavourable end.
func TestActOn(t *testing.T) {
	tests := []struct {
		name, src string
		load      Val
		wire      Val
		want      float64
		ok        bool
	}{
		{"fuse up", "next_fuse(load_a)", Within(45, 47, 49), Val{}, 80, true},
		{"one size for all", "next_fuse(load_a)", Within(41, 42, 43), Val{}, 60, true},
		{"ampacity down", "ampacity(wire_mm2, 'free')", Val{}, Within(9.9, 10.1, 10.3), 90, true},
		{"through a factor", "0.8 * ampacity(wire_mm2, 'free')", Val{}, Within(9.9, 10.1, 10.3), 72, true},
		{"taken from something", "200 - next_fuse(load_a)", Within(45, 47, 49), Val{}, 120, true},
		{"under a line", "1000 / next_fuse(load_a)", Within(45, 47, 49), Val{}, 12.5, true},
		{"the lower of two that go down", "min(ampacity(wire_mm2, 'free'), ampacity(wire_mm2, 'bundled') * 1.5)", Val{}, Within(9.9, 10.1, 10.3), 67.5, true},
		{"two that pull apart", "next_fuse(load_a) / ampacity(wire_mm2, 'free') ", Within(41, 42, 43), Within(10.1, 10.2, 10.3), 0.6, true},
		{"no function", "load_a * 1.25", Within(41, 42, 43), Val{}, 52.5, true},
		{"no size fits", "next_fuse(load_a)", Within(230, 235, 260), Val{}, 0, false},
		{"not known", "next_fuse(load_a)", NotKnown(0, 100), Val{}, 0, false},
		{"no value", "next_fuse(load_a)", Exact(1000), Val{}, 0, false},
	}
	s := corpusScope()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := mustCompile(t, s, tt.src, WantAny())
			x, ok := f.ActOn(at(f, map[string]Val{"load_a": tt.load, "wire_mm2": tt.wire}))
			if ok != tt.ok || ok && (x < tt.want-1e-9 || x > tt.want+1e-9) {
				t.Errorf("%v, %v; want %v, %v", x, ok, tt.want, tt.ok)
			}
		})
	}
	f := mustCompile(t, s, "load_a > 3", WantYesNo())
	if _, ok := f.ActOn([]Val{Exact(5)}); ok {
		t.Error("a condition gives a number to act on")
	}
}

func TestMustKnow(t *testing.T) {
	tests := []struct {
		src     string
		yes, no []string
	}{
		{"load_a > 30", []string{"load_a"}, []string{"load_a"}},
		{"load_a > 0.5", nil, []string{"load_a"}}, // its range says so
		{"load_a > 30 and stud_v > 12", []string{"load_a", "stud_v"}, nil},
		{"load_a > 30 or stud_v > 12", nil, []string{"load_a", "stud_v"}},
		{"not (load_a > 30 and stud_v > 12)", nil, []string{"load_a", "stud_v"}},
		{"load_a > 30 and (stud_v > 12 or stud_v < 9)", []string{"load_a", "stud_v"}, nil},
		{"display_lit ? load_a > 30 : load_a > 40", []string{"load_a"}, []string{"load_a"}},
		{"known(load_a) and stud_v > 12", []string{"load_a", "stud_v"}, nil},
		{"known(load_a)", []string{"load_a"}, nil},
		{"not known(load_a)", nil, []string{"load_a"}},
		{"chemistry == 'lfp' and display_lit", []string{"chemistry", "display_lit"}, nil},
		{"joint_drop_v / load_a > 0.005", []string{"joint_drop_v", "load_a"}, nil}, // no: 200 A, or 1 mV, do without the other
		{"joint_drop_v / load_a > 0.0002", nil, []string{"joint_drop_v", "load_a"}},
		{"chemistry == 'lfp' and stud_v < 12.8 or chemistry != 'lfp' and stud_v < 12.2", []string{"stud_v"}, nil},
		{"load_a < 90 or load_a > 50", nil, []string{"load_a"}},
		{"load_a > 30 and true", []string{"load_a"}, []string{"load_a"}},
	}
	s := corpusScope()
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, WantYesNo())
		if got := refNames(f.MustKnow(true)); !slices.Equal(got, tt.yes) {
			t.Errorf("%s: yes needs %v, want %v", tt.src, got, tt.yes)
		}
		if got := refNames(f.MustKnow(false)); !slices.Equal(got, tt.no) {
			t.Errorf("%s: no needs %v, want %v", tt.src, got, tt.no)
		}
	}
}

// Whatever is certain, what must be known is known.
func TestMustKnowHolds(t *testing.T) {
	s := corpusScope()
	r := newRand(21)
	certain := 0
	for _, src := range corpus {
		f := mustCompile(t, s, src, WantYesNo())
		must := map[bool][]Ref{true: f.MustKnow(true), false: f.MustKnow(false)}
		for range 200 {
			vals := draw(r, f, 1)
			gone := r.IntN(len(vals))
			vals[gone] = f.RefType(gone).Anything()
			d := f.Decide(vals)
			if !d.Certain() {
				continue
			}
			certain++
			if slices.Contains(must[d.Likelier], f.refs[gone]) {
				t.Errorf("%s is %s without %s", src, d.Verdict, f.refs[gone])
			}
		}
	}
	if certain < 500 {
		t.Errorf("only %d verdicts were certain: the test tests little", certain)
	}
}
