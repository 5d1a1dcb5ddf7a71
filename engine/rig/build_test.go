package rig_test

import (
	"io/fs"
	"reflect"
	"strings"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// allReadings is the vocabulary of the knowledge.
func allReadings(t *testing.T) []*reading.Reading {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatalf("the knowledge does not load:\n%s", shown(problems))
	}
	var out []*reading.Reading
	for _, id := range g.ReadingOrder {
		out = append(out, g.Readings[id])
	}
	return out
}

// systemOf reads a rig file all the way.
func systemOf(t *testing.T, file string, src []byte, readings []*reading.Reading) (*rig.System, []shape.Problem) {
	t.Helper()
	r, problems := rig.Read(file, src)
	if r == nil {
		t.Fatalf("it does not read:\n%s\n%s", src, shown(problems))
	}
	facts, more := r.Facts(readings)
	s, last := rig.SystemOf(r, facts)
	return s, append(append(problems, more...), last...)
}

// A system written as a rig file reads back the same.
func TestYAMLReadsBack(t *testing.T) {
	readings := allReadings(t)
	everyRig(t, func(t *testing.T, s *rig.System) { readsBack(t, s, readings) })
}

func readsBack(t *testing.T, s *rig.System, readings []*reading.Reading) {
	t.Helper()
	src := s.YAML()
	got, problems := systemOf(t, "rig.yaml", src, readings)
	if len(problems) > 0 {
		t.Fatalf("want no problem, got\n%s", shown(problems))
	}
	if reflect.DeepEqual(got, s) {
		return
	}
	for i, p := range s.Parts {
		if i < len(got.Parts) && got.Parts[i] != p {
			t.Errorf("got  %+v\nwant %+v", got.Parts[i], p)
		}
	}
	got.Parts, s.Parts = nil, nil
	t.Errorf("got  %+v\nwant %+v\nfrom\n%s", got, s, src)
}

// What a person's own file may hold comes back as well: texts with odd signs,
// nought degrees, a part of their own, wires that differ within one run.
func TestYAMLReadsBackOddOnes(t *testing.T) {
	readings := allReadings(t)
	for _, c := range []struct {
		name   string
		change func(s *rig.System)
	}{
		{"texts", func(s *rig.System) {
			s.Name, s.About, s.Story, s.Earth = "my: rig", `a "rig" # two`, "It stood.\nThen it went\\.", "- none"
		}},
		{"nought degrees", func(s *rig.System) { s.AmbientC, s.ColdestC, s.Battery.CellC = 0, 0, 0 }},
		{"no loads", func(s *rig.System) { s.Loads = nil }},
		{"one thin wire", func(s *rig.System) {
			s.Parts = []rig.Part{{ID: "main-pos-b", MM2: 25}, {ID: "bat-pos", MM2: 50, Metres: 0.2}}
		}},
		{"a limit and a breaker", func(s *rig.System) { s.Controller.LimitA, s.Array.Breaker = 12, true }},
		{"no inverter, no monitor", func(s *rig.System) { s.Inverter, s.Monitor = rig.Inverter{}, rig.Monitor{} }},
		{"a part of one's own", func(s *rig.System) {
			s.Parts = []rig.Part{{ID: "bonding", Kind: rig.Wire, Name: "the wire to the frame", A: rig.BusNeg, B: "bus-pos", Circuit: "battery", Minus: true, MM2: 6, Metres: 2, MarkC: 70, Lay: "free"}}
		}},
		{"three batteries", func(s *rig.System) { s.Battery.Parallel = 3 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := &rig.System{Volts: 12, AmbientC: 20, ColdestC: -10, Inverter: rig.Inverter{Watts: 800}, Monitor: rig.Monitor{Shunt: "300A-75mV"},
				Loads: []rig.Load{{ID: "fridge", Watts: 50, Plug: "socket"}}, Battery: rig.Battery{CellC: 20}}
			c.change(s)
			rig.Plan(s)
			readsBack(t, s, readings)
		})
	}
}

// Three lines about a rig are enough, and every demo rig becomes a system whose
// parts have the ids of its places and their figures.
func TestSystemOfDemoRigs(t *testing.T) {
	readings := allReadings(t)
	files, err := fs.Glob(kb.Files, "rigs/*.yaml")
	if err != nil || len(files) != 8 {
		t.Fatalf("want eight demo rigs, got %v (%v)", files, err)
	}
	for _, file := range files {
		t.Run(file, func(t *testing.T) {
			src, err := fs.ReadFile(kb.Files, file)
			if err != nil {
				t.Fatal(err)
			}
			s, problems := systemOf(t, file, src, readings)
			if len(problems) > 0 {
				t.Errorf("want no problem, got\n%s", shown(problems))
			}
			if len(s.Story) < 100 {
				t.Errorf("its story is %q", s.Story)
			}
			for _, p := range s.Places {
				if x, ok := s.Part(p.ID); !ok || x.Name != p.Name {
					t.Errorf("place %s (%s) is the part %+v", p.ID, p.Name, x)
				}
			}
			t.Run("sensible", func(t *testing.T) { sensible(t, s) })
			readsBack(t, s, readings)
		})
	}
}

// A person's file of three lines is filled up to a whole rig; its fuses tell the
// loads.
func TestSystemOfASimpleFile(t *testing.T) {
	s, problems := systemOf(t, "my-rig.yaml", []byte(`format: 1
battery: {chemistry: LiFePO4, system_v: 24 V, capacity: 100 Ah}
places:
  - {id: pump-fuse, class: fuse, name: the fuse holder of the pump, like: blade-holder, rating: 10 A, wire: 2.5 mm2, length: 7 m, run: coiled, full_load: 4 A}
`), allReadings(t))
	if len(problems) > 0 {
		t.Fatalf("want no problem, got\n%s", shown(problems))
	}
	if s.Battery.Chemistry != "lfp" || s.Volts != 24 || s.Array.Voc == 0 || s.Controller.RatedA == 0 {
		t.Errorf("it is %+v", s)
	}
	want := rig.Load{ID: "pump", Name: "the pump", Watts: 96}
	if len(s.Loads) != 1 || s.Loads[0] != want {
		t.Errorf("the loads are %+v", s.Loads)
	}
	wire, _ := s.Part("pump")
	if wire.MM2 != 2.5 || wire.Metres != 7 || wire.Lay != "coiled" || wire.FullA != 4 {
		t.Errorf("the wire is %+v", wire)
	}
}

// Nonsense is told with its place, beside a good neighbour that is not.
func TestSystemOfTellsNonsense(t *testing.T) {
	readings := allReadings(t)
	for _, c := range []struct{ name, code, bad, good string }{
		{"a negative length", "impossible-figure", "parts: [{id: pv-pos, length: -5 m}]", "parts: [{id: pv-pos, length: 5 m}]"},
		{"a load twice", "defined-twice", "loads: [{id: fan, watts: 9 W}, {id: fan, watts: 8 W}]", "loads: [{id: fan, watts: 9 W}, {id: fan-b, watts: 8 W}]"},
		{"a load called like a part", "taken-name", "loads: [{id: inverter, watts: 9 W}]", "loads: [{id: converter, watts: 9 W}]"},
		{"a load called like another's fuse", "taken-name", "loads: [{id: fan, watts: 9 W}, {id: fan-fuse, watts: 9 W}]", "loads: [{id: fan, watts: 9 W}, {id: fan-two, watts: 9 W}]"},
		{"a load on no inverter", "no-inverter", "loads: [{id: drill, watts: 90 W, ac: yes}]", "inverter: {rated: 500 W}\nloads: [{id: drill, watts: 90 W, ac: yes}]"},
		{"a part twice", "defined-twice", "parts: [{id: pv-pos, length: 5 m}, {id: pv-pos, wire: 4 mm2}]", "parts: [{id: pv-pos, length: 5 m}, {id: pv-neg, wire: 4 mm2}]"},
		{"a part from nowhere", "unknown-point", "parts: [{id: x, kind: wire, from: bus-pod, to: bus-neg}]", "parts: [{id: x, kind: wire, from: bus-pos, to: bus-neg}]"},
		{"a part that is not there", "unknown-part", "parts: [{id: pv-poss, length: 5 m}]", "parts: [{id: pv-neg, length: 5 m}]"},
		{"another bank", "impossible-figure", "battery: {system_v: 36 V}", "battery: {system_v: 48 V}"},
		{"a figure that is none", "bad-figure", "site: {ambient: warm}", "site: {ambient: 25 C}"},
		{"half a cell", "bad-figure", "array: {cells: 36.5}", "array: {cells: 36}"},
		{"settings of another bank", "impossible-figure", "battery: {system_v: 24 V}\ncontroller: {absorb: 14.2 V}", "controller: {absorb: 28.4 V}\nbattery: {system_v: 24 V}"},
		{"neither yes nor no", "bad-figure", "battery: {app: maybe}", "battery: {app: yes}"},
		{"best point above the open volts", "contradiction", "array: {module_voc: 20 V, module_vmp: 24 V}", "array: {module_voc: 24 V, module_vmp: 20 V}"},
		{"float above absorption", "contradiction", "controller: {absorb: 13.6 V, float: 14.2 V}", "controller: {absorb: 14.2 V, float: 13.6 V}"},
		{"a place of no part", "unplaced", "places: [{id: roof-fuse-b, class: fuse, name: a fuse}]", "places: [{id: roof-fuse, class: fuse, name: a fuse}]"},
		{"a misspelt figure", "unknown-fact", "controller: {absorbb: 14.2 V}", "controller: {absorb: 14.2 V}"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, problems := systemOf(t, "my-rig.yaml", []byte(head+c.bad+"\n"), readings)
			if len(problems) != 1 || problems[0].Code != c.code || problems[0].At.Line < 2 {
				t.Errorf("want one %s with its place, got\n%s", c.code, shown(problems))
			}
			if _, problems := systemOf(t, "my-rig.yaml", []byte(head+c.good+"\n"), readings); len(problems) > 0 {
				t.Errorf("the good neighbour has\n%s", shown(problems))
			}
		})
	}
}

// A misspelt figure that only the circuit needs is asked back like any other.
func TestMisspeltFigureIsAskedBack(t *testing.T) {
	_, problems := systemOf(t, "my-rig.yaml", []byte(head+"controller: {absorbb: 14.2 V}\n"), allReadings(t))
	if len(problems) != 1 || !strings.Contains(problems[0].Hint, "did you mean controller.absorb?") {
		t.Errorf("got\n%s", shown(problems))
	}
}
