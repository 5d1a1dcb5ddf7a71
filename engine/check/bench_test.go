package check_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"hotlug/engine/check"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// shipped is the built-in knowledge, loaded.
func shipped(t testing.TB) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if shape.HasErrors(problems) {
		t.Fatal(shown(problems))
	}
	return g
}

// manySteps is n steps in rows of fifty, each with a question on a reading of its
// sheet, a branch into a finding and a way on; rows share the last step.
func manySteps(t testing.TB, n int) fstest.MapFS {
	m := copied(t)
	const row = 50
	var symptoms strings.Builder
	for r := 0; r*row < n; r++ {
		name := fmt.Sprintf("row%d", r)
		var steps, findings strings.Builder
		for i := range row {
			next := fmt.Sprintf("step-%d", i+1)
			if i == row-1 {
				next = "all-sound"
			}
			limit := 0.001 * float64(60-i)
			fmt.Fprintf(&steps, "  step-%d: {needs: not browned, ask: [load_a, holder_drop_v, fuse_look], then: [{if: holder_drop_v > %.3f and load_a > %d, go: %s-%d}, {if: fuse_look == 'black' and holder_drop_v / (load_a + 1) > 0.0%d, go: %s-%d}, {go: %s}], unknown: all-sound}\n",
				i, limit, i+1, name, i, i+1, name, i, next)
			fmt.Fprintf(&findings, "  %s-%d: {cause: It is number %d of a row., often: rare, because: It is so., fix: [{say: Mend it.}], prove: {ask: [holder_drop_v], if: holder_drop_v < 0.01}, lesson: Read it twice., sources: [practice]}\n", name, i, i)
		}
		m["sheets/"+name+".yaml"] = &fstest.MapFile{Data: []byte("format: 1\nsheet: " + name + "\nsteps:\n" + steps.String() + "findings:\n" + findings.String())}
		fmt.Fprintf(&symptoms, "  s%d: {label: Row %d., start: %s/step-0, says: [row %d]}\n", r, r, name, r)
	}
	change(t, m, "symptoms.yaml", "symptoms:\n", "symptoms:\n"+symptoms.String())
	return m
}

// looked loads and checks a large folder, and says how long that took and how much
// memory lived at its end.
func looked(t testing.TB, m fstest.MapFS) (check.Report, time.Duration, uint64) {
	runtime.GC()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	start := time.Now()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: m})
	if shape.HasErrors(problems) {
		t.Fatal(shown(problems[:min(len(problems), 3)]))
	}
	r := check.Look(g, commands)
	took := time.Since(start)
	runtime.ReadMemStats(&after)
	runtime.KeepAlive(g)
	return r, took, after.HeapSys
}

// A folder of ten thousand steps is checked in bounded time and memory.
func TestTenThousandSteps(t *testing.T) {
	r, took, heap := looked(t, manySteps(t, 10_000))
	t.Logf("%v, %d MB of heap", took, heap>>20)
	if most := 90 * time.Second; took > most { // it is under ten where nothing else runs
		t.Errorf("it took %v, want less than %v", took, most)
	}
	if heap > 500<<20 {
		t.Errorf("the heap is %d MB, want less than 500", heap>>20)
	}
	if shape.HasErrors(r.Problems) {
		t.Errorf("the first problems are\n%s", shown(r.Problems[:min(3, len(r.Problems))]))
	}
}

func BenchmarkShippedKnowledge(b *testing.B) {
	for b.Loop() {
		check.Look(shipped(b), commands)
	}
}

func BenchmarkTenThousandSteps(b *testing.B) {
	m := manySteps(b, 10_000)
	for b.Loop() {
		_, _, heap := looked(b, m)
		b.ReportMetric(float64(heap>>20), "MB-heap")
	}
}
