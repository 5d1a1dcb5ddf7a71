package rig_test

import (
	"flag"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/kb"
)

var update = flag.Bool("update", false, "write the golden file anew")

// vocabulary is a few facts, as the knowledge defines them.
func vocabulary() []*reading.Reading {
	number := func(id, path, kind string, lo, hi float64) *reading.Reading {
		k, _ := quantity.KindByID(kind)
		return &reading.Reading{ID: id, Rig: path, Class: reading.Fact, Kind: k, Possible: reading.Range{Lo: lo, Hi: hi, Set: true}}
	}
	absorb := number("absorb_v", "controller.absorb", "volts", 13, 15)
	absorb.Scales = true
	return []*reading.Reading{
		number("system_v", "battery.system_v", "volts", 12, 48),
		{ID: "chemistry", Rig: "battery.chemistry", Answer: reading.Choice, Options: []reading.Option{
			{ID: "lfp", Label: "lithium iron phosphate", Says: []string{"lifepo4"}}, {ID: "agm", Label: "AGM"}}},
		{ID: "wired", Rig: "monitor.wired", Answer: reading.YesNo},
		number("coldest_c", "array.coldest", "celsius", -60, 40),
		number("series", "array.series", "count", 1, 20),
		absorb,
		number("fuse_rating_a", "place.rating", "amps", 1, 500),
		number("fuse_wire_mm2", "place.wire", "area", 0.5, 120),
		{ID: "holder_hot", Answer: reading.YesNo}, // stands in no rig file
	}
}

const head = "format: 1\n"

func TestFacts(t *testing.T) {
	src := head + `name: hut-09
about: A hut of Larkmoor Hut Hire
battery: {chemistry: LiFePO4, system_v: 24 V}
monitor: {wired: yes}
array: {coldest: -10 C, series: 2}
controller: {absorb: 28.4 V}
places:
  - {id: main-fuse, class: fuse, name: the main fuse, rating: 125 A, wire: 35 mm2}
  - {id: lights-fuse, class: fuse, name: the fuse of the lights, like: blade-holder, rating: about 10}
`
	r, problems := rig.Read("hut-09.yaml", []byte(src))
	if len(problems) > 0 {
		t.Fatalf("want no problem, got\n%s", shown(problems))
	}
	if r.Name != "hut-09" || r.About != "A hut of Larkmoor Hut Hire" {
		t.Errorf("it is called %q, %q", r.Name, r.About)
	}
	if p := r.Places; len(p) != 2 || p[1] != (reading.PlaceOnRig{ID: "lights-fuse", Class: "fuse", Name: "the fuse of the lights", Like: "blade-holder"}) {
		t.Errorf("the places are %+v", p)
	}
	facts, problems := r.Facts(vocabulary())
	if len(problems) > 0 {
		t.Fatalf("want no problem, got\n%s", shown(problems))
	}
	type fact struct {
		id, place, choice string
		value             float64
		about             bool
	}
	var got []fact
	for _, f := range facts {
		got = append(got, fact{f.Reading.ID, f.Place, f.Choice, f.Value, f.About})
	}
	want := []fact{
		{"chemistry", "", "lfp", 0, false}, {"system_v", "", "", 24, false}, {"wired", "", "yes", 0, false},
		{"coldest_c", "", "", -10, false}, {"series", "", "", 2, false}, {"absorb_v", "", "", 28.4, false},
		{"fuse_rating_a", "main-fuse", "", 125, false}, {"fuse_wire_mm2", "main-fuse", "", 35, false},
		{"fuse_rating_a", "lights-fuse", "", 10, true},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

// mistakes are rig files with one thing wrong each, beside a good neighbour.
// What is shown for the bad ones stands in golden.
var mistakes = []struct{ name, bad, good string }{
	{"unknown-fact", "battery: {chemstry: lfp}", "battery: {chemistry: lfp}"},
	{"unknown-fact, far from all", "battery: {colour: blue}", "battery: {chemistry: agm}"},
	{"unknown-fact, in a section without any", "engine: {alternator: 5 A}", "engine: {}"},
	{"unknown-fact, of a place", "places: [{id: a, class: fuse, name: a fuse, full_load: 4 A}]", "places: [{id: a, class: fuse, name: a fuse, rating: 4 A}]"},
	{"unknown-field, of a place", "places: [{id: a, class: fuse, name: a fuse, ratng: 4 A}]", "places: [{id: a, class: fuse, name: a fuse}]"},
	{"unknown-field, a section", "batery: {chemistry: lfp}", "battery: {}"},
	{"bad-fact, no answer", "battery: {chemistry: lead}", "battery: {chemistry: AGM}"},
	{"bad-fact, no yes or no", "monitor: {wired: maybe}", "monitor: {wired: no}"},
	{"bad-fact, another unit", "battery: {system_v: 12 A}", "battery: {system_v: 12 V}"},
	{"bad-fact, no number", "battery: {system_v: lots}", "battery: {system_v: 12}"},
	{"impossible-fact", "battery: {system_v: 120 V}", "battery: {system_v: 48 V}"},
	{"impossible-fact, of a place", "places: [{id: a, class: fuse, name: a fuse, rating: 5000 A}]", "places: [{id: a, class: fuse, name: a fuse, rating: 500 A}]"},
	{"impossible-fact, on the largest system", "controller: {absorb: 61 V}", "controller: {absorb: 57.6 V}"},
	{"impossible-fact, below all", "controller: {absorb: 1.4 V}", "controller: {absorb: 14.4 V}"},
	{"defined-twice", "places:\n  - {id: a, class: fuse, name: a fuse}\n  - {id: a, class: fuse, name: another}", "places:\n  - {id: a, class: fuse, name: a fuse}\n  - {id: b, class: fuse, name: another}"},
	{"duplicate-key", "battery: {system_v: 12 V, system_v: 24 V}", "battery: {system_v: 12 V}"},
	{"not-a-choice", "places: [{id: a, class: fuze, name: a fuse}]", "places: [{id: a, class: way, name: a way}]"},
	{"missing-field", "places: [{id: a, class: fuse}]", "places: [{id: a, class: fuse, name: a}]"},
	{"wrong-kind", "battery: lfp", "battery: {chemistry: lfp}"},
	{"syntax", "battery: {chemistry: lfp", "battery: {chemistry: lfp }"},
	{"all at once", "battery: {chemistry: lead, system_v: 120 V}\narray: {clodest: 3 C}", "battery: {chemistry: agm, system_v: 12 V}\narray: {coldest: 3 C}"},
}

const golden = "testdata/problems.txt"

func TestProblemsAreShown(t *testing.T) {
	raw, err := os.ReadFile(golden)
	if err != nil && !*update {
		t.Fatal(err)
	}
	want := map[string]string{}
	for _, c := range strings.Split(string(raw), "=== ")[1:] {
		name, text, _ := strings.Cut(c, "\n")
		want[name] = text
	}
	var out strings.Builder
	for _, c := range mistakes {
		t.Run(c.name, func(t *testing.T) {
			got := shown(all("my-rig.yaml", c.bad))
			code, _, _ := strings.Cut(c.name, ",")
			if c.name != "all at once" && !strings.Contains(got, "["+code+"]") {
				t.Errorf("no problem %s:\n%s", code, got)
			}
			out.WriteString("=== " + c.name + "\n" + got)
			if !*update && got != want[c.name] {
				t.Errorf("shown:\n%s\nwant:\n%s", got, want[c.name])
			}
		})
		t.Run(c.name+", the good neighbour", func(t *testing.T) {
			if problems := all("my-rig.yaml", c.good); len(problems) > 0 {
				t.Errorf("want no problem, got\n%s", shown(problems))
			}
		})
	}
	if *update {
		if err := os.WriteFile(golden, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// all reads a rig file and its facts, and gives every problem of both.
func all(file, body string) []shape.Problem {
	r, problems := rig.Read(file, []byte(head+body+"\n"))
	if r != nil {
		_, more := r.Facts(vocabulary())
		problems = append(problems, more...)
	}
	return problems
}

func shown(problems []shape.Problem) string {
	var b strings.Builder
	for _, p := range problems {
		b.WriteString(shape.Render(p) + "\n")
	}
	return b.String()
}

// Every demo rig reads clean, is called like its file, and every fact in it is
// one that a question is about.
func TestDemoRigs(t *testing.T) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatalf("the knowledge does not load:\n%s", shown(problems))
	}
	var readings []*reading.Reading
	for _, id := range g.ReadingOrder {
		readings = append(readings, g.Readings[id])
	}
	rigs, err := fs.Glob(kb.Files, "rigs/*.yaml")
	if err != nil || len(rigs) == 0 {
		t.Fatalf("there are no demo rigs: %v", err)
	}
	for _, file := range rigs {
		t.Run(file, func(t *testing.T) {
			src, err := fs.ReadFile(kb.Files, file)
			if err != nil {
				t.Fatal(err)
			}
			r, problems := rig.Read(file, src)
			if len(problems) > 0 {
				t.Fatalf("want no problem, got\n%s", shown(problems))
			}
			if want := strings.TrimSuffix(strings.TrimPrefix(file, "rigs/"), ".yaml"); r.Name != want {
				t.Errorf("it is called %s", r.Name)
			}
			facts, problems := r.Facts(readings)
			if len(problems) > 0 {
				t.Errorf("want no problem, got\n%s", shown(problems))
			}
			if len(facts) < 10 || len(r.Places) < 5 {
				t.Errorf("only %d facts and %d places", len(facts), len(r.Places))
			}
		})
	}
}

// Whatever a rig file holds, reading it ends without a panic, and every problem
// has a place.
func FuzzRead(f *testing.F) {
	for _, c := range mistakes {
		f.Add(head + c.bad)
		f.Add(head + c.good)
	}
	demo, err := fs.Glob(kb.Files, "rigs/*.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range demo {
		src, err := fs.ReadFile(kb.Files, file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(src))
	}
	f.Add("")
	f.Add("places:\n- x")
	f.Fuzz(func(t *testing.T, src string) {
		r, problems := rig.Read("my-rig.yaml", []byte(src))
		if r != nil {
			facts, more := r.Facts(vocabulary())
			s, last := rig.SystemOf(r, facts)
			problems = append(append(problems, more...), last...)
			if len(s.Parts) < 15 || len(s.YAML()) == 0 {
				t.Errorf("it has %d parts only", len(s.Parts))
			}
		} else if len(problems) == 0 {
			t.Error("no rig, and no problem says why")
		}
		for _, p := range problems {
			if p.At.File != "my-rig.yaml" || p.Text == "" || p.Code == "" {
				t.Errorf("without file, text or code: %+v", p)
			}
		}
	})
}
