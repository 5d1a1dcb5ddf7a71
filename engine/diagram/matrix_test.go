package diagram

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/kb"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// sort of rig is a name and the rig.
type built struct {
	name string
	sys  *rig.System
}

// matrix is every number of volts with every bank of up to four batteries, one to
// three strings of panels, with busbars and without.
func matrix() []built {
	var out []built
	banks := []struct {
		name             string
		series, parallel int
	}{{"1", 1, 1}, {"2s", 2, 1}, {"2p", 1, 2}, {"4s", 4, 1}, {"4p", 1, 4}, {"2s2p", 2, 2}}
	for i, volts := range []float64{12, 24, 48} {
		for j, b := range banks {
			strings := 1 + (i+j)%3
			bars := (i+j)%2 == 0
			s := &rig.System{
				Name: fmt.Sprintf("%gv-%s", volts, b.name), Volts: volts, Kind: "hut", Earth: "The minus bar is joined to the frame at one bolt.",
				Battery:  rig.Battery{Chemistry: []string{"lfp", "agm", "flooded"}[i], Ah: 100 * float64(b.parallel), Series: b.series, Parallel: b.parallel},
				Array:    rig.Array{Series: i + 1, Parallel: strings, Breaker: j%2 == 1},
				Inverter: rig.Inverter{Watts: 500 * float64(i+j%2), Fused: j%3 == 0},
				Loads:    []rig.Load{{ID: "fridge", Name: "the fridge", Watts: 60, Plug: "socket"}, {ID: "lights", Name: "the lights", Watts: 30, Switch: true}},
			}
			if s.Inverter.Watts > 0 {
				s.Loads = append(s.Loads, rig.Load{ID: "oven", Name: "the oven", Watts: 300, AC: true})
			}
			if j%2 == 0 {
				s.Monitor.Shunt = "500A-50mV"
			}
			word := "bars"
			if !bars {
				word = "no-bars"
				s.Parts = append(s.Parts, rig.Part{ID: "bus-pos-main", Style: "stud"})
			}
			rig.Plan(s)
			out = append(out, built{fmt.Sprintf("%s-%dstrings-%s", s.Name, strings, word), s})
		}
	}
	return out
}

// golden compares a drawing with the one that is kept.
func golden(t *testing.T, file, got string) {
	t.Helper()
	file = filepath.Join("testdata", file)
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is another now; look at it with -update and git diff", file)
	}
}

func TestGoldenMatrix(t *testing.T) {
	for _, c := range matrix() {
		t.Run(c.name, func(t *testing.T) {
			l := Lay(c.sys, Options{})
			golden(t, c.name+".40.txt", strings.Join(l.Text(nil, 40), "\n")+"\n")
			golden(t, c.name+".80.txt", strings.Join(l.Text(nil, 80), "\n")+"\n")
		})
	}
}

// A few are kept as SVG and with readings, in both ways of drawing lines.
func TestGoldenMarked(t *testing.T) {
	for _, c := range matrix() {
		if !strings.HasPrefix(c.name, "12v-1-") && !strings.HasPrefix(c.name, "24v-2s2p") && !strings.HasPrefix(c.name, "48v-4s") {
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			golden(t, c.name+".svg", string(Lay(c.sys, Options{}).SVG(readings)))
			golden(t, c.name+".wide.svg", string(Lay(c.sys, Options{Abreast: 2, ID: "wide"}).SVG(nil)))
			golden(t, c.name+".marked.40.txt", strings.Join(Lay(c.sys, Options{}).Text(readings, 40), "\n")+"\n")
			golden(t, c.name+".box.80.txt", strings.Join(Lay(c.sys, Options{BoxDrawing: true}).Text(readings, 80), "\n")+"\n")
		})
	}
	t.Run("figures that the file gives", func(t *testing.T) {
		s, told := described(t, "hut-01")
		golden(t, "hut-01.40.txt", strings.Join(Lay(s, Options{Told: told}).Text(nil, 40), "\n")+"\n")
		golden(t, "hut-01.svg", string(Lay(s, Options{Told: told, Abreast: 2}).SVG(readings)))
	})
	t.Run("parts of one's own", func(t *testing.T) {
		golden(t, "own-parts.40.txt", strings.Join(Lay(ownParts(t), Options{}).Text(nil, 40), "\n")+"\n")
	})
	t.Run("standard", func(t *testing.T) {
		golden(t, "standard.40.txt", strings.Join(Lay(Standard(), Options{}).Text(nil, 40), "\n")+"\n")
		golden(t, "standard.svg", string(Lay(Standard(), Options{}).SVG(nil)))
	})
}

// described is a demo rig with the figures that its file gives.
func described(t *testing.T, name string) (*rig.System, map[string]bool) {
	t.Helper()
	src, err := fs.ReadFile(kb.Files, "rigs/"+name+".yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, _ := rig.Read(name, src)
	g := knowledge(t)
	var all []*reading.Reading
	for _, id := range g.ReadingOrder {
		all = append(all, g.Readings[id])
	}
	facts, _ := r.Facts(all)
	s, problems := rig.SystemOf(r, facts)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s, Told(facts)
}
