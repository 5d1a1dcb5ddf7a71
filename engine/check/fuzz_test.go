package check_test

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"hotlug/engine/check"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

// Whatever is done to a file of the small knowledge, and however it is laid over
// it: if it loads, the checks end without a panic, say the same twice, and every
// problem stands somewhere.
func FuzzLook(f *testing.F) {
	for i, c := range []struct {
		at, cut int
		put     string
	}{
		{0, 0, ""}, {150, 4, "known(load_a)"}, {300, 3, " 1e300"}, {420, 1, "0"}, {500, 2, ">="}, {260, 0, "not "},
		{340, 12, ""}, {610, 0, "# check: unused: so"}, {700, 20, "{go: lugs}"}, {90, 5, "holder_drop_v / load_a"},
		{210, 2, "was(load_a)"}, {880, 1, "{load_a}"}, {120, 6, "[]"}, {230, 0, "danger: true\n    "},
	} {
		f.Add(uint8(i), uint32(c.at), uint16(c.cut), c.put, i%3 == 0)
	}
	f.Fuzz(func(t *testing.T, which uint8, at uint32, cut uint16, put string, overlay bool) {
		m := copied(t)
		names := slices.Sorted(maps.Keys(m))
		name := names[int(which)%len(names)]
		src := string(m[name].Data)
		from := int(at) % (len(src) + 1)
		to := min(len(src), from+int(cut)%200)
		changed := &fstest.MapFile{Data: []byte(src[:from] + put + src[to:])}
		layers := []graph.Layer{{Name: "kb", FS: m}}
		if overlay {
			layers = append(layers, graph.Layer{Name: "own", FS: fstest.MapFS{name: changed}})
		} else {
			m[name] = changed
		}
		g, problems := graph.Load(electric.Table(), layers...)
		if shape.HasErrors(problems) {
			check.Early(g, problems)
			return
		}
		r := check.Look(g, commands)
		for _, p := range r.Problems {
			if p.At.File == "" || p.At.Line == 0 || p.Text == "" || p.Code == "" || strings.Contains(p.Text, "%!") {
				t.Errorf("without place, text or code: %+v", p)
			}
		}
		for _, id := range g.SymptomOrder {
			check.Paths(g, id, 20)
		}
		if again := check.Look(g, commands); !reflect.DeepEqual(r, again) {
			t.Errorf("looked over twice, with other words:\n%s\nand\n%s", shown(r.Problems), shown(again.Problems))
		}
	})
}
