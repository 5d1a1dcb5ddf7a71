package graph_test

import (
	"fmt"
	"io/fs"
	"maps"
	"reflect"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// knowledge is the built-in knowledge, file by file, in a fixed order.
func knowledge(t testing.TB) (names []string, m fstest.MapFS) {
	t.Helper()
	m = fstest.MapFS{}
	err := fs.WalkDir(kb.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(path, "rigs/") {
			return err
		}
		b, err := fs.ReadFile(kb.Files, path)
		names = append(names, path)
		m[path] = &fstest.MapFile{Data: b}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names, m
}

// tiny is the least whole knowledge, read once: a run of the fuzzer loads it anew,
// and what it costs is what the runs cost.
var tiny = sync.OnceValue(func() fstest.MapFS { return folder("testdata/tiny") })

// table is made once: it is the same for every load.
var table = sync.OnceValue(electric.Table)

// longestFuzzed is the longest text that a run loads, so that a run stays short.
// How large files are borne is tested by TestLargeFolder and in shape.
const longestFuzzed = 16 << 10

// tooLong is a hang: a run takes a thousandth of it, and ten times that on a busy
// machine.
const tooLong = 20 * time.Second

// seeds are whole small files by name, and what people and others may do to them.
func seeds(t testing.TB) map[string][]string {
	out := map[string][]string{}
	for name, f := range tiny() {
		out[name] = append(out[name], string(f.Data))
	}
	for name, f := range base(t) {
		if out[name] == nil { // a sheet of another name
			name = "sheets/s.yaml"
		}
		out[name] = append(out[name], string(f.Data))
	}
	head := "format: 1\nsheet: s\n"
	step := func(cond string) string {
		return head + "steps:\n  one: {ask: [a], then: [{if: '" + cond + "', go: fire}, {go: sound}]}\nfindings:\n  sound: {cause: Nothing., because: So it is., no_fault: true}\n"
	}
	sheet := &fileSeeds{out, "sheets/s.yaml"}
	sheet.add("", "\x00", "format: 2", head, head+"steps: {one: {}}", head+"steps: [one]", head+"findings: {worn: {cause: A., unsafe: 9}}")
	sheet.add(step("a > 1"), step("not a"), step("a > 1 or (((a < 2)))"), step("a == 1"), step("b > mean(b) and b < 2 * others(b)"), step("known(a) ? a > 1 : was(a) > 2"))
	sheet.add(step(strings.Repeat("(", 200)+"a > 1"+strings.Repeat(")", 200)), step(strings.Repeat("not ", 300)+"danger_now"), step(strings.Repeat("-", 900)+"a > 1"))
	sheet.add(head+"steps: "+strings.Repeat("[", 2000), head+"steps: "+strings.Repeat("{a: ", 500)+"1"+strings.Repeat("}", 500), strings.Repeat("- ", 3000))
	sheet.add(head+"steps:\n  one: &x {ask: [a], then: [{go: sound}]}\n  two: *x\n", head+"steps:\n  one: {<<: {ask: [a]}, then: [{go: sound}]}\n", head+"a: &a [&b [*a, *b]]\n")
	sheet.add(head+"about: !!binary aGk=\n", head+"about: !go x\n", head+"about: \u202ereversed\u202c\n", head+"about: zero\u200bwidth\n", "\ufeff"+head, head+"--- \nformat: 1\n", head+"about: |\n\ttab\n", "format: 1\r\nsheet: s\r\n")
	sheet.add(head+"findings:\n  worn: {cause: \"{a}\", because: \"{a\", sets: {system_v: a}, prove: {ask: [b], if: a > 1}, if_not: two}\n", head+"steps:\n  one: {ask: [a], then: [{go: one}]}\n")
	return out
}

// fileSeeds adds texts of one file.
type fileSeeds struct {
	to   map[string][]string
	name string
}

func (o *fileSeeds) add(texts ...string) { o.to[o.name] = append(o.to[o.name], texts...) }

// Whatever stands in a file of the knowledge, or in one that an overlay puts over
// it, loading ends without a panic, and every problem says where it is and what.
func FuzzLoad(f *testing.F) {
	debug.SetGCPercent(1000) // a run leaves little behind, and much of its time went into collecting it
	names := slices.Sorted(maps.Keys(tiny()))
	for name, texts := range seeds(f) {
		for _, text := range texts {
			f.Add(uint8(slices.Index(names, name)), text, false)
			f.Add(uint8(slices.Index(names, name)), text, true)
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, text string, overlay bool) {
		if len(text) > longestFuzzed {
			return
		}
		name := names[int(which)%len(names)]
		below, over := maps.Clone(tiny()), fstest.MapFS{name: {Data: []byte(text)}}
		layers := []graph.Layer{{Name: "kb", FS: below}}
		if overlay {
			layers = append(layers, graph.Layer{Name: "fleet", FS: over})
		} else {
			below[name] = over[name]
		}
		hung := time.AfterFunc(tooLong, func() { panic(fmt.Sprintf("loading hangs on %s: %q", name, text)) })
		g, problems := graph.Load(table(), layers...)
		hung.Stop()
		at := layers[len(layers)-1].Name + "/" + name
		lines := strings.Count(text, "\n") + 2
		for _, p := range problems {
			if p.At.File == "" || p.Text == "" || p.Code == "" {
				t.Errorf("without file, text or code: %+v", p)
			}
			if p.At.File == at && p.At.Line > lines {
				t.Errorf("behind the end of the file: %s", p)
			}
		}
		if graph.Sound(problems) {
			use(g)
		}
		if len(text)%16 != 0 { // one run of many is done twice
			return
		}
		if _, again := graph.Load(table(), layers...); !reflect.DeepEqual(problems, again) {
			t.Errorf("loaded twice, with other problems:\n%s\nand\n%s", shown(problems), shown(again))
		}
	})
}

// The knowledge that the fuzzer starts from is whole.
func TestTinyIsWhole(t *testing.T) {
	use(good(t, tiny()))
}

// manySteps is n steps in a row, in sheets of 500, each with a finding of its
// own. target names where the first branch of step i leads.
func manySteps(t testing.TB, n int, target func(i int) string) fstest.MapFS {
	m := base(t)
	var steps, findings strings.Builder
	sheet := 0
	for i := range n {
		next := "all-sound"
		if i+1 < n {
			next = fmt.Sprintf("s%d/step-%d", (i+1)/500, i+1)
		}
		fmt.Fprintf(&steps, "  step-%d: {ask: [load_a, holder_drop_v], then: [{if: holder_drop_v / load_a > 0.%03d1, go: %s}, {go: %s}]}\n", i, i%999, target(i), next)
		fmt.Fprintf(&findings, "  finding-%d: {cause: It is number %d.}\n", i, i)
		if i%500 == 499 || i == n-1 {
			name := fmt.Sprintf("s%d", sheet)
			m["sheets/"+name+".yaml"] = &fstest.MapFile{Data: []byte("format: 1\nsheet: " + name + "\nsteps:\n" + steps.String() + "findings:\n" + findings.String())}
			steps.Reset()
			findings.Reset()
			sheet++
		}
	}
	return m
}

// A large folder, good or wrong all over, is done with in seconds.
func TestLargeFolder(t *testing.T) {
	const most = 30 * time.Second // about ten times what a slow machine needs
	for _, c := range []struct {
		name   string
		target func(i int) string
		sound  bool
	}{
		{"each with its finding", func(i int) string { return fmt.Sprintf("finding-%d", i) }, true},
		{"no target is there", func(i int) string { return fmt.Sprintf("findinf-%d", i) }, false},
		{"all in a circle", func(i int) string { return fmt.Sprintf("s%d/step-%d", i/500, i) }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := manySteps(t, 10_000, c.target)
			start := time.Now()
			g, problems := load(m)
			if took := time.Since(start); took > most {
				t.Errorf("it took %v, want less than %v", took, most)
			}
			if graph.Sound(problems) != c.sound {
				t.Fatalf("sound is %v, want %v; the first problems are\n%s", !c.sound, c.sound, shown(problems[:min(3, len(problems))]))
			}
			if got := len(g.Reach("s0/step-0")); c.sound && got != 10_001 {
				t.Errorf("the first step reaches %d findings, want 10001", got)
			}
		})
	}
}

func BenchmarkLoad(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		m := manySteps(b, n, func(i int) string { return fmt.Sprintf("finding-%d", i) })
		b.Run(fmt.Sprint(n, " steps"), func(b *testing.B) {
			for b.Loop() {
				good(b, m)
			}
		})
	}
	_, m := knowledge(b)
	b.Run("built in", func(b *testing.B) {
		for b.Loop() {
			if _, problems := load(m); shape.HasErrors(problems) {
				b.Fatal(shown(problems))
			}
		}
	})
}

// spoil are ways in which one line goes wrong under somebody's hands.
var spoil = map[string]func(line string) string{
	"left out":           func(string) string { return "" },
	"written twice":      func(l string) string { return l + "\n" + l },
	"indented more":      func(l string) string { return "  " + l },
	"indented less":      func(l string) string { return strings.TrimPrefix(l, "  ") },
	"without its value":  func(l string) string { k, _, _ := strings.Cut(l, ":"); return k + ":" },
	"with another value": func(l string) string { k, _, _ := strings.Cut(l, ":"); return k + ": x" },
	"with a list":        func(l string) string { k, _, _ := strings.Cut(l, ":"); return k + ": [x, 1]" },
	"with a map":         func(l string) string { k, _, _ := strings.Cut(l, ":"); return k + ": {x: 1}" },
	"with a letter less": func(l string) string { return l[:len(l)/2] + l[min(len(l), len(l)/2+1):] },
	"cut in the middle":  func(l string) string { return l[:len(l)/2] },
}

// Every line of the small knowledge is spoiled in every way, half of the times in
// the knowledge itself and half in an overlay.
func TestEveryLineSpoiled(t *testing.T) {
	for name, f := range base(t) {
		lines := strings.Split(string(f.Data), "\n")
		for i, line := range lines {
			for how, change := range spoil {
				out := append([]string{}, lines...)
				out[i] = change(line)
				file := &fstest.MapFile{Data: []byte(strings.Join(out, "\n"))}
				layers := []fs.FS{base(t), fstest.MapFS{name: file}}
				if (i+len(how))%2 == 0 {
					layers = []fs.FS{base(t)}
					layers[0].(fstest.MapFS)[name] = file
				}
				_, problems := load(layers...)
				for _, p := range problems {
					if p.At.File == "" || p.Text == "" || p.Code == "" {
						t.Fatalf("%s:%d %s: a problem without file, text or code: %+v", name, i+1, how, p)
					}
				}
			}
		}
	}
}
