package formula

import "testing"

const sevenNames = "(battery_loaded_v - stud_v) / load_a > 1.25 * wire_ohm(run_m, wire_mm2) and battery_rest_v - battery_loaded_v < 0.8 and chemistry == 'lfp'"

func sevenVals(f *Formula) []Val {
	return at(f, map[string]Val{
		"battery_loaded_v": Measured(12.6, .005, .03, ""), "stud_v": Measured(11.2, .005, .03, ""), "load_a": Measured(40, .03, .5, "clamp"),
		"run_m": Within(2.8, 3, 3.2), "wire_mm2": Exact(16), "battery_rest_v": Measured(12.9, .005, .03, ""), "chemistry": Choice(0),
	})
}

func BenchmarkEvalSevenNames(b *testing.B) {
	f := mustCompile(b, corpusScope(), sevenNames, WantYesNo())
	vals := sevenVals(f)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = f.Eval(vals)
	}
}

func BenchmarkDecideSevenNames(b *testing.B) {
	f := mustCompile(b, corpusScope(), sevenNames, WantYesNo())
	vals := sevenVals(f)
	b.ReportAllocs()
	for b.Loop() {
		f.Decide(vals)
	}
}

func BenchmarkDecideNothingKnown(b *testing.B) {
	f := mustCompile(b, corpusScope(), sevenNames, WantYesNo())
	vals := f.Anything()
	b.ReportAllocs()
	for b.Loop() {
		f.Decide(vals)
	}
}

func BenchmarkDecideByHalving(b *testing.B) {
	f := mustCompile(b, corpusScope(), "battery_rest_v - battery_loaded_v > 0.1", WantYesNo())
	vals := []Val{Measured(12.8, .01, .01, "hand"), Measured(12.6, .01, .01, "hand")}
	b.ReportAllocs()
	for b.Loop() {
		f.Decide(vals)
	}
}

func BenchmarkCompile(b *testing.B) {
	s := corpusScope()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		Compile(corpus[i%len(corpus)], s, WantYesNo())
	}
}

// The walk evaluates conditions at every prompt, and proving the knowledge does
// so millions of times: an evaluation may cost no memory.
func TestEvalAllocatesNothing(t *testing.T) {
	f := mustCompile(t, corpusScope(), sevenNames, WantYesNo())
	if len(f.Refs()) != 7 {
		t.Fatalf("%d names", len(f.Refs()))
	}
	vals := sevenVals(f)
	if n := testing.AllocsPerRun(200, func() { _, _ = f.Eval(vals) }); n > 0 {
		t.Errorf("Eval allocates %v times", n)
	}
	if n := testing.AllocsPerRun(200, func() { f.Decide(vals) }); n > 0 {
		t.Errorf("Decide of a certain condition allocates %v times", n)
	}
}
