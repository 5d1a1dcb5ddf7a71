package formula

import (
	"fmt"
	"slices"
	"testing"
)

// at names Vals for a formula; what is not named is not known.
func at(f *Formula, known map[string]Val) []Val {
	vals := f.Anything()
	for i, r := range f.refs {
		if v, ok := known[r.String()]; ok {
			vals[i] = v
		}
	}
	return vals
}

func refNames(refs []Ref) (out []string) {
	for _, r := range refs {
		out = append(out, r.String())
	}
	return out
}

func TestDecide(t *testing.T) {
	tests := []struct {
		name, src string
		known     map[string]Val
		want      Verdict
		likelier  bool
		causes    []string
	}{
		{"far above", "load_a > 30", map[string]Val{"load_a": Measured(42, .03, .5, "clamp")}, CertainlyTrue, true, nil},
		{"far below", "load_a > 30", map[string]Val{"load_a": Measured(20, .03, .5, "clamp")}, CertainlyFalse, false, nil},
		{"close, likelier yes", "load_a > 30", map[string]Val{"load_a": Measured(31, .03, .5, "clamp")}, Close, true, []string{"load_a"}},
		{"close, likelier no", "load_a > 30", map[string]Val{"load_a": Measured(29, .03, .5, "clamp")}, Close, false, []string{"load_a"}},
		{"not known", "load_a > 30", nil, NotSettled, true, []string{"load_a"}},
		{"not known, and out of its range", "load_a > 300", nil, CertainlyFalse, false, nil},
		{"not known, and all of its range", "load_a > 0.5", nil, CertainlyTrue, true, nil},
		{"or settled by its left", "load_a > 30 or pv_v > 3", map[string]Val{"load_a": Exact(42)}, CertainlyTrue, true, nil},
		{"or settled by its right", "pv_v > 3 or load_a > 30", map[string]Val{"load_a": Exact(42)}, CertainlyTrue, true, nil},
		{"and settled by its right", "pv_v > 3 and load_a > 30", map[string]Val{"load_a": Exact(20)}, CertainlyFalse, false, nil},
		{"and waits for what is not known", "pv_v > 3 and load_a > 30", map[string]Val{"load_a": Exact(42)}, NotSettled, true, []string{"pv_v"}},
		{"only what matters is a cause", "(pv_v > 3 and load_a > 30) or stud_v > 12", map[string]Val{"load_a": Exact(20)}, NotSettled, false, []string{"stud_v"}},
		{"one side not known, settled by its range", "fuse_rating_a < load_a", map[string]Val{"load_a": Exact(5)}, CertainlyFalse, false, nil},
		{"yes or no not known", "display_lit", nil, NotSettled, false, []string{"display_lit"}},
		{"choice not known", "chemistry == 'lfp'", nil, NotSettled, false, []string{"chemistry"}},
		{"choice not known, all in the list", "chemistry in ['lfp', 'agm', 'gel', 'flooded']", nil, CertainlyTrue, true, nil},
		{"choice narrowed", "chemistry != 'lfp'", map[string]Val{"chemistry": {Words: 6, Unknown: true}}, CertainlyTrue, true, nil},
		{"both results agree", "display_lit ? load_a > 3 : load_a > 4", map[string]Val{"load_a": Exact(20)}, CertainlyTrue, true, nil},
		{"known is known", "known(load_a)", map[string]Val{"load_a": Measured(20, .03, .5, "")}, CertainlyTrue, true, nil},
		{"known is not known", "known(load_a)", nil, CertainlyFalse, false, nil},
		{"known of the round before", "known(was(load_a))", map[string]Val{"load_a": Exact(3)}, CertainlyFalse, false, nil},
		{"no value", "load_a / pv_v > 3 * load_a / stud_v", map[string]Val{"load_a": Exact(3), "pv_v": Exact(0), "stud_v": Exact(12)}, NotSettled, false, nil},
		{"equal is at least", "load_a >= 30", map[string]Val{"load_a": Exact(30)}, CertainlyTrue, true, nil},
		{"equal is not above", "load_a > 30", map[string]Val{"load_a": Exact(30)}, CertainlyFalse, false, nil},
		{"limits that touch are close", "load_a > 30", map[string]Val{"load_a": Within(28, 30, 32)}, Close, false, []string{"load_a"}},
		{"past the end of the sizes", "next_fuse(load_a) > 100", map[string]Val{"load_a": Within(230, 235, 260)}, Undecided, true, []string{"load_a"}},
	}
	s := corpusScope()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := mustCompile(t, s, tt.src, WantYesNo())
			vals := at(f, tt.known)
			d := f.Decide(vals)
			if d.Verdict != tt.want || d.Likelier != tt.likelier || !slices.Equal(refNames(d.Causes), tt.causes) {
				t.Errorf("%s, likelier %v, because of %v; want %s, %v, %v", d.Verdict, d.Likelier, refNames(d.Causes), tt.want, tt.likelier, tt.causes)
			}
			if (d.Verdict == Close) != (d.Example != nil) {
				t.Errorf("%s with example %v", d.Verdict, d.Example)
			}
			if d.Verdict == Close {
				checkExample(t, f, vals, d)
			}
		})
	}
}

// Limits that overlap only because a name occurs twice are told apart.
func TestWhatOccursTwice(t *testing.T) {
	tests := []struct {
		src   string
		known map[string]Val
		want  Verdict
	}{
		{"load_a - load_a * 0.9 > 1", map[string]Val{"load_a": Within(15, 20, 25)}, CertainlyTrue},
		{"load_a / (load_a + pv_a) < 0.9", map[string]Val{"load_a": Within(10, 20, 30), "pv_a": Within(8, 10, 12)}, CertainlyTrue},
		{"load_a / (load_a + pv_a) < 0.7", map[string]Val{"load_a": Within(10, 20, 30), "pv_a": Within(8, 10, 12)}, Close},
		// The two meet in one point, which every piece that ends there holds.
		{"load_a < 20 or load_a >= 20", map[string]Val{"load_a": Within(15, 20, 25)}, Undecided},
		{"load_a < 20 or load_a > 19", nil, CertainlyTrue},
		{"display_lit or not display_lit", nil, CertainlyTrue},
		{"chemistry == 'lfp' and stud_v < 12.8 or chemistry != 'lfp' and stud_v < 12.2", map[string]Val{"stud_v": Exact(11)}, CertainlyTrue},
		{"chemistry == 'lfp' and stud_v < 12.8 or chemistry != 'lfp' and stud_v < 12.2", map[string]Val{"stud_v": Exact(12.5)}, NotSettled},
		{"stud_v - pv_v > -1 or stud_v - pv_v < 0", map[string]Val{"stud_v": Within(11, 12, 13), "pv_v": Within(11, 12, 13)}, CertainlyTrue},
		{"abs(stud_v - pv_v) < 0.1", map[string]Val{"stud_v": Within(11, 12.9, 13), "pv_v": Within(11, 11.1, 13)}, Close},
	}
	s := corpusScope()
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, WantYesNo())
		vals := at(f, tt.known)
		if d := f.Decide(vals); d.Verdict != tt.want {
			t.Errorf("%s is %s, want %s", tt.src, d.Verdict, tt.want)
		}
	}
}

// Two readings of one meter share its gain error, so their difference is known
// far better than either.
func TestSharedGain(t *testing.T) {
	s := corpusScope()
	read := func(rest, loaded string) map[string]Val {
		return map[string]Val{
			"battery_rest_v":   Measured(12.80, .01, .01, rest),
			"battery_loaded_v": Measured(12.60, .01, .01, loaded),
		}
	}
	tests := []struct {
		name, src    string
		rest, loaded string
		want         Verdict
	}{
		{name: "one meter", src: "battery_rest_v - battery_loaded_v > 0.1", rest: "hand", loaded: "hand", want: CertainlyTrue},
		{name: "two meters", src: "battery_rest_v - battery_loaded_v > 0.1", rest: "hand", loaded: "other", want: Close},
		{name: "one meter, still close", src: "battery_rest_v - battery_loaded_v > 0.19", rest: "hand", loaded: "hand", want: Close},
		{name: "ratio by one meter", src: "battery_loaded_v / battery_rest_v > 0.98", rest: "hand", loaded: "hand", want: CertainlyTrue},
		{name: "ratio by two", src: "battery_loaded_v / battery_rest_v > 0.98", rest: "hand", loaded: "other", want: Close},
		{name: "sum gains nothing", src: "battery_rest_v + battery_loaded_v > 25.3", rest: "hand", loaded: "hand", want: Close},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := mustCompile(t, s, tt.src, WantYesNo())
			vals := at(f, read(tt.rest, tt.loaded))
			d := f.Decide(vals)
			if d.Verdict != tt.want {
				t.Errorf("%s is %s, want %s", tt.src, d.Verdict, tt.want)
			}
			if d.Verdict == Close {
				checkExample(t, f, vals, d)
			}
		})
	}
	f := mustCompile(t, s, "battery_rest_v - battery_loaded_v", WantAny())
	one, _ := f.Eval(at(f, read("hand", "hand")))
	two, _ := f.Eval(at(f, read("hand", "other")))
	if got := fmt.Sprintf("%.3f %.3f", (one.Hi-one.Lo)/2, (two.Hi-two.Lo)/2); got != "0.026 0.274" {
		t.Errorf("half widths by one meter and by two are %s", got)
	}
	// Volts and amps of one meter have separate gains.
	r := mustCompile(t, s, "holder_drop_v / load_a", WantAny())
	shared, _ := r.Eval([]Val{Measured(.18, .01, 0, "hand"), Measured(42, .01, 0, "hand")})
	apart, _ := r.Eval([]Val{Measured(.18, .01, 0, "hand"), Measured(42, .01, 0, "clamp")})
	if shared.Lo != apart.Lo || shared.Hi != apart.Hi {
		t.Errorf("volts over amps by one meter: %g to %g, by two: %g to %g", shared.Lo, shared.Hi, apart.Lo, apart.Hi)
	}
}

// One reading not known: a verdict given nevertheless is the one that the
// reading would have led to.
func TestNotKnownNeverMisleads(t *testing.T) {
	s := corpusScope()
	settled, n := 0, 0
	r := newRand(7)
	for _, src := range corpus {
		f := mustCompile(t, s, src, WantYesNo())
		for range 60 {
			vals := draw(r, f, 0)
			full := f.Decide(vals)
			if !full.Certain() {
				continue
			}
			i := r.IntN(len(vals))
			vals[i] = f.RefType(i).Anything()
			n++
			if d := f.Decide(vals); d.Certain() {
				settled++
				if d.Verdict != full.Verdict {
					t.Errorf("%s: %s with all, %s without %s", src, full.Verdict, d.Verdict, f.refs[i])
				}
			}
		}
	}
	if settled*10 < n {
		t.Errorf("of %d cases only %d were settled by the range", n, settled)
	}
}

func TestWorkedValuesAreExpanded(t *testing.T) {
	s := corpusScope()
	s.Value("holder_r", mustCompile(t, s, "holder_drop_v / load_a", num("ohm")))
	s.Value("holder_w", mustCompile(t, s, "holder_r * load_a ^ 2", num("W")))
	s.Value("too_hot", mustCompile(t, s, "holder_w > 5", WantYesNo()))
	s.Value("broken", nil)
	f := mustCompile(t, s, "pv_a > load_a and (too_hot or was(load_a) > 3)", WantYesNo())
	if got := refNames(f.Refs()); !slices.Equal(got, []string{"pv_a", "load_a", "holder_drop_v", "was(load_a)"}) {
		t.Errorf("refs are %v", got)
	}
	d := f.Decide(at(f, map[string]Val{"pv_a": Exact(50), "load_a": Exact(42), "holder_drop_v": Exact(.18)}))
	if d.Verdict != CertainlyTrue {
		t.Errorf("it is %s", d.Verdict)
	}
	k := mustCompile(t, s, "known(holder_w)", WantYesNo())
	if d := k.Decide(at(k, map[string]Val{"load_a": Exact(42)})); d.Verdict != CertainlyFalse {
		t.Errorf("known without one input is %s", d.Verdict)
	}
	if _, ps := Compile("broken > 3 and load_a > 3", s, WantYesNo()); len(ps) != 1 || ps[0].Text != "the worked value broken has a problem of its own" {
		t.Errorf("a broken value gives %v", ps)
	}
	if _, ps := Compile("broken > 3 and lod_a > 3", s, WantYesNo()); len(ps) != 1 || ps[0].From != 15 {
		t.Errorf("a broken value hides or adds problems: %v", ps)
	}
}

func TestForms(t *testing.T) {
	s := corpusScope()
	f := mustCompile(t, s, "drop_v > 2 * others(drop_v) and highest(drop_v) > mean(drop_v) and drop_v < was(drop_v)", WantYesNo())
	want := []Ref{{"drop_v", Here}, {"drop_v", Others}, {"drop_v", Highest}, {"drop_v", Mean}, {"drop_v", Was}}
	if !slices.Equal(f.Refs(), want) {
		t.Errorf("refs are %v", f.Refs())
	}
	d := f.Decide([]Val{Exact(.18), Exact(.02), Exact(.18), Exact(.06), Exact(.2)})
	if d.Verdict != CertainlyTrue {
		t.Errorf("it is %s", d.Verdict)
	}
}

// A choice may be an argument, option matched with word by id.
func TestChoiceAsArgument(t *testing.T) {
	s := corpusScope()
	s.Reading("laid", Type{Class: ClassChoice, Options: []string{"buried", "bundled", "free"}})
	f := mustCompile(t, s, "ampacity(wire_mm2, laid)", WantAny())
	tests := []struct {
		name     string
		laid     uint64
		lo, hi   float64
		mayLeave bool
	}{
		{"free", 4, 100, 100, false},
		{"bundled", 2, 50, 50, false},
		{"either", 6, 50, 100, false},
		{"one that the table does not have", 1, 0, 0, true},
		{"perhaps one that it does not have", 7, 0, 0, true},
	}
	for _, tt := range tests {
		v, err := f.Eval([]Val{Exact(10), {Words: tt.laid}})
		left := err != nil || v.Hi == posInf
		if left != tt.mayLeave || !left && (v.Lo != tt.lo || v.Hi != tt.hi) {
			t.Errorf("%s: %g to %g (%v)", tt.name, v.Lo, v.Hi, err)
		}
	}
}
