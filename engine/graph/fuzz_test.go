package graph_test

import (
	"fmt"
	"io/fs"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"
	"time"

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

// Whatever is done to the files of the knowledge, loading them ends without a
// panic, and every problem says where it is and what.
func FuzzLoad(f *testing.F) {
	names, _ := knowledge(f)
	for i, c := range []struct {
		at, cut int
		put     string
	}{
		{0, 0, ""}, {40, 1, ""}, {400, 30, ""}, {900, 0, "\n"}, {900, 4, "{x}"}, {1200, 0, ": "}, {1500, 200, ""},
		{1800, 0, " if: true, "}, {2000, 8, "go: now"}, {2200, 0, "- "}, {2500, 3, "''"}, {0, 9, "format: 2"}, {300, 0, "\x00"},
	} {
		f.Add(uint8(i%len(names)), uint32(c.at), uint16(c.cut), c.put, i%2 == 0)
	}
	f.Fuzz(func(t *testing.T, which uint8, at uint32, cut uint16, put string, overlay bool) {
		names, m := knowledge(t)
		name := names[int(which)%len(names)]
		b := m[name].Data
		from := int(at) % (len(b) + 1)
		to := min(len(b), from+int(cut))
		changed := []byte(string(b[:from]) + put + string(b[to:]))
		layers := []fs.FS{m}
		if overlay {
			layers = append(layers, fstest.MapFS{name: {Data: changed}})
		} else {
			m[name] = &fstest.MapFile{Data: changed}
		}
		g, problems := load(layers...)
		for _, p := range problems {
			if p.At.File == "" || p.Text == "" || p.Code == "" {
				t.Errorf("without file, text or code: %+v", p)
			}
			if lines := strings.Count(string(changed), "\n") + 2; p.At.File == "kb/"+name && !overlay && p.At.Line > lines {
				t.Errorf("behind the end of the file: %s", p)
			}
		}
		if graph.Sound(problems) {
			use(g)
		}
		if _, again := load(layers...); !reflect.DeepEqual(problems, again) {
			t.Errorf("loaded twice, with other problems:\n%s\nand\n%s", shown(problems), shown(again))
		}
	})
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
