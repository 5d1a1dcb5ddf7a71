package rig_test

import (
	"math"
	"strings"
	"testing"

	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
)

func number(t *testing.T, id, kind, path string) *reading.Reading {
	t.Helper()
	k, ok := quantity.KindByID(kind)
	if !ok {
		t.Fatalf("there is no kind %s", kind)
	}
	return &reading.Reading{ID: id, Kind: k, Rig: path}
}

// What a sheet writes is read back as it was said, in an order that does not hang
// on that of the answers.
func TestSheet(t *testing.T) {
	volts := number(t, "system_v", "volts", "battery.system_v")
	coldest := number(t, "coldest_c", "celsius", "array.coldest")
	area := number(t, "wire_mm2", "area", "place.wire")
	series := number(t, "modules_series", "count", "array.series")
	farads := number(t, "farads", "farads", "inverter.capacitance")
	kind := &reading.Reading{ID: "battery_chemistry", Rig: "battery.chemistry", Answer: reading.Choice, Options: []reading.Option{{ID: "lfp"}, {ID: "agm"}}}
	fused := &reading.Reading{ID: "fused", Rig: "inverter.fused", Answer: reading.YesNo}
	s := rig.Sheet{
		Name: "hut-51", About: "it says: \"no\" # and \\ more", Kind: "hut", Earthing: "=a\tb",
		Places: []reading.PlaceOnRig{{ID: "main-fuse", Class: "fuse", Name: "the {main} fuse, [here]"}, {ID: "post-pos", Class: "joint", Name: "yes", Like: "post"}},
		Facts: []rig.SheetFact{
			{Reading: fused, Given: reading.Given{Choice: "yes"}},
			{Reading: farads, Given: reading.Given{Value: 0.0123}},
			{Reading: series, Given: reading.Given{Value: 3}},
			{Reading: area, Place: "main-fuse", Given: reading.Given{Value: 107.219301}}, // 4/0 AWG
			{Reading: coldest, Given: reading.Given{Value: -10}},
			{Reading: kind, Given: reading.Given{Choice: "agm"}},
			{Reading: volts, Given: reading.Given{Value: 24, About: true}},
		},
	}
	src := s.YAML()
	r, problems := rig.Read("hut-51.yaml", src)
	if r == nil || shape.HasErrors(problems) {
		t.Fatalf("%v\n%s", problems, src)
	}
	if r.Name != s.Name || r.About != s.About || r.Kind != s.Kind || r.Earthing != s.Earthing || len(r.Places) != 2 || r.Places[0] != s.Places[0] || r.Places[1] != s.Places[1] {
		t.Errorf("read back it is %+v of\n%s", r, src)
	}
	facts, problems := r.Facts([]*reading.Reading{volts, coldest, area, series, farads, kind, fused})
	if len(problems) > 0 || len(facts) != len(s.Facts) {
		t.Fatalf("%d facts, want %d; %v\n%s", len(facts), len(s.Facts), problems, src)
	}
	for _, want := range s.Facts {
		found := false
		for _, f := range facts {
			if f.Reading == want.Reading && f.Place == want.Place {
				found = true
				if math.Abs(f.Value-want.Value) > 1e-5*math.Abs(want.Value) || f.Choice != want.Choice || f.About != want.About {
					t.Errorf("%s is %+v, want %+v\n%s", f.Reading.ID, f.Given, want.Given, src)
				}
			}
		}
		if !found {
			t.Errorf("%s is lost\n%s", want.Reading.ID, src)
		}
	}
	if order := []string{"\nbattery:\n", "\narray:\n", "\ninverter:\n", "\nplaces:\n"}; true {
		last := -1
		for _, o := range order {
			at := strings.Index(string(src), o)
			if at < last {
				t.Errorf("%q stands at %d, before what comes before it\n%s", o, at, src)
			}
			last = at
		}
	}
}
