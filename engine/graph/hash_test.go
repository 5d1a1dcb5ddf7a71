package graph_test

import (
	"io/fs"
	"slices"
	"sync"
	"testing"
	"testing/fstest"

	"hotlug/engine/graph"
)

// The hash tells every change of any byte of any file of any layer.
func TestHashSeesEveryByte(t *testing.T) {
	over := func() fstest.MapFS {
		return files("cautions.yaml", "format: 1\ncautions:\n  gloves: {say: Wear gloves.}\n")
	}
	seen := map[string]string{good(t, base(t)).Hash: "one layer", good(t, base(t), over()).Hash: "as they are"}
	if len(seen) != 2 {
		t.Error("a layer more, and the hash is the same")
	}
	tell := func(what string, layers ...fs.FS) {
		g, _ := load(layers...)
		if other, ok := seen[g.Hash]; ok {
			t.Errorf("%s: the hash is that of %s", what, other)
		}
		seen[g.Hash] = what
	}
	for name, f := range base(t) {
		for _, at := range []int{0, len(f.Data) / 2, len(f.Data) - 1} {
			m := base(t)
			b := slices.Clone(f.Data)
			b[at] ^= 1
			m[name] = &fstest.MapFile{Data: b}
			tell("a bit of kb/"+name, m, over())
		}
	}
	m := over()
	m["cautions.yaml"].Data[len(m["cautions.yaml"].Data)-3] ^= 1
	tell("a bit of the overlay", base(t), m)
	tell("the layers changed over", over(), base(t))
	moved := base(t)
	s := string(moved["values.yaml"].Data)
	moved["values.yaml"] = &fstest.MapFile{Data: []byte(s[:10])}
	moved["symptoms.yaml"] = &fstest.MapFile{Data: []byte(s[10:] + string(moved["symptoms.yaml"].Data))}
	tell("text moved to the next file", moved, over())
}

// backwards lists folders in turned-round order.
type backwards struct{ fstest.MapFS }

func (b backwards) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := b.MapFS.ReadDir(name)
	slices.Reverse(list)
	return list, err
}

func TestHashDoesNotHangOnFileOrder(t *testing.T) {
	m := base(t)
	m["sheets/array.yaml"] = &fstest.MapFile{Data: []byte("format: 1\nsheet: array\nfindings:\n  dark: {cause: It is dark.}\n")}
	a, b := good(t, m), good(t, backwards{m})
	if a.Hash != b.Hash {
		t.Errorf("%s in one order of the files and %s in the other", a.Hash, b.Hash)
	}
	if !slices.Equal(a.FindingOrder, b.FindingOrder) {
		t.Errorf("findings are %v in one order of the files and %v in the other", a.FindingOrder, b.FindingOrder)
	}
}

// A loaded graph may be used by many at once; run with -race.
func TestManyAtOnce(t *testing.T) {
	g := good(t, base(t), files("cautions.yaml", "format: 1\ncautions:\n  gloves: {say: Wear gloves.}\n"))
	want := use(g)
	var wg sync.WaitGroup
	got := make([]int, 16)
	for i := range got {
		wg.Go(func() {
			for range 20 {
				got[i] = use(g)
			}
		})
	}
	wg.Wait()
	for i, n := range got {
		if n != want {
			t.Fatalf("goroutine %d came to %d, alone it is %d", i, n, want)
		}
	}
}

// use evaluates everything in the graph and sums up what came out.
func use(g *graph.Graph) int {
	sum := 0
	decide := func(c *graph.Condition) {
		if c != nil {
			sum = sum*3 + int(c.F.Decide(c.F.Anything()).Verdict) + 1
		}
	}
	for _, id := range g.StepOrder {
		s := g.Steps[id]
		decide(s.Needs)
		decide(s.Until)
		for _, b := range s.Then {
			decide(b.If)
		}
		sum += len(g.Reach(id)) + len(g.Line(s.At))
	}
	for _, id := range g.FindingOrder {
		f := g.Findings[id]
		if f.Prove != nil {
			decide(f.Prove.If)
		}
		sum += len(g.Precedence(f.Cautions))
	}
	for _, id := range g.ValueOrder {
		v := g.Values[id]
		if got, err := v.Is.Eval(v.Is.Anything()); err != nil || got.Unknown {
			sum++
		}
		sum += len(g.NameOf(id))
	}
	return sum
}
