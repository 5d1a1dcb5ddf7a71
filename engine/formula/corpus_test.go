package formula

import (
	"math"
	"sort"
	"testing"

	"hotlug/engine/quantity"
)

// knownReading is a reading of the corpus: its range in draws and its meter's error.
type knownReading struct {
	name, unit string
	lo, hi     float64
	pct, abs   float64 // of reading, and absolute
	options    []string
	yesNo      bool
}

var corpusReadings = []knownReading{
	{name: "holder_drop_v", unit: "V", lo: 0.001, hi: 0.6, pct: .5, abs: .0003},
	{name: "load_a", unit: "A", lo: 1, hi: 200, pct: 3, abs: .5},
	{name: "fuse_rating_a", unit: "A", lo: 10, hi: 300},
	{name: "battery_rest_v", unit: "V", lo: 10, hi: 15, pct: .5, abs: .03},
	{name: "battery_loaded_v", unit: "V", lo: 9, hi: 14.5, pct: .5, abs: .03},
	{name: "stud_v", unit: "V", lo: 8, hi: 14.5, pct: .5, abs: .03},
	{name: "pv_v", unit: "V", lo: 0, hi: 60, pct: .5, abs: .03},
	{name: "pv_open_v", unit: "V", lo: 15, hi: 60, pct: .5, abs: .03},
	{name: "pv_a", unit: "A", lo: 0, hi: 30, pct: 3, abs: .1},
	{name: "charge_a", unit: "A", lo: 0, hi: 60, pct: 3, abs: .2},
	{name: "limit_a", unit: "A", lo: 10, hi: 60},
	{name: "absorb_v", unit: "V", lo: 13.8, hi: 14.8},
	{name: "capacity_ah", unit: "Ah", lo: 50, hi: 800},
	{name: "used_ah", unit: "Ah", lo: 0, hi: 400, pct: 2},
	{name: "cells", unit: "1", lo: 4, hi: 16},
	{name: "battery_c", unit: "degC", lo: -15, hi: 60, abs: 2},
	{name: "ambient_c", unit: "degC", lo: -15, hi: 45, abs: 1},
	{name: "joint_c", unit: "degC", lo: 0, hi: 120, abs: 2},
	{name: "twin_c", unit: "degC", lo: 0, hi: 90, abs: 2},
	{name: "joint_drop_v", unit: "V", lo: 0.001, hi: 0.3, pct: .5, abs: .0003},
	{name: "twin_drop_v", unit: "V", lo: 0.001, hi: 0.1, pct: .5, abs: .0003},
	{name: "run_m", unit: "m", lo: .5, hi: 12, pct: 5},
	{name: "wire_mm2", unit: "mm2", lo: 1.5, hi: 120},
	{name: "wire_drop_v", unit: "V", lo: 0.01, hi: 1.5, pct: .5, abs: .0003},
	{name: "inverter_w", unit: "W", lo: 0, hi: 3000, pct: 5},
	{name: "block1_v", unit: "V", lo: 10, hi: 15, pct: .5, abs: .03},
	{name: "block2_v", unit: "V", lo: 10, hi: 15, pct: .5, abs: .03},
	{name: "soc_pct", unit: "%", lo: 0, hi: 100, abs: 1},
	{name: "chemistry", options: []string{"lfp", "agm", "gel", "flooded"}},
	{name: "controller_kind", options: []string{"pwm", "mppt"}},
	{name: "display_lit", yesNo: true},
	{name: "sun_steady", yesNo: true},
	{name: "drop_v", unit: "V", lo: 0.001, hi: 0.3, pct: .5, abs: .0003},
	{name: "comp_v_per_k", unit: "V/K", lo: -0.04, hi: 0},
}

// corpus are conditions of the trade as sheets state them.
var corpus = []string{
	"holder_drop_v > clip_drop_limit(load_a, fuse_rating_a)",
	"holder_drop_v / load_a > 0.005",
	"joint_drop_v / load_a > 0.00025 or joint_c - twin_c > kelvin(15)",
	"joint_drop_v > 1.5 * twin_drop_v",
	"joint_c - ambient_c > 40",
	"joint_c > ambient_c + 20 and joint_c <= ambient_c + 40",
	"(joint_c - ambient_c) * (fuse_rating_a / load_a) ^ 2 > 40",
	"battery_rest_v - battery_loaded_v > 0.8",
	"(battery_rest_v - battery_loaded_v) / load_a > 0.016",
	"battery_loaded_v - stud_v > 0.03 * battery_rest_v",
	"(battery_loaded_v - stud_v) / (battery_rest_v - stud_v) > 0.5",
	"pv_v < 2 and pv_a < 0.05",
	"pv_v / pv_open_v >= 0.98 and charge_a < 0.05 * limit_a",
	"pv_v / pv_open_v >= 0.88 and pv_v / pv_open_v < 0.98 and charge_a >= 0.97 * limit_a",
	"0.78 <= pv_v / pv_open_v < 0.88",
	"pv_v - battery_loaded_v < 1.6 and pv_v * pv_a < 85",
	"abs(battery_rest_v - absorb_v) <= 0.1",
	"abs(block1_v - block2_v) > 0.3",
	"max(block1_v, block2_v) / min(block1_v, block2_v) > 1.02",
	"abs(block1_v - block2_v) / (block1_v + block2_v) > 0.01",
	"battery_rest_v / cells < 3.2",
	"chemistry == 'lfp' and battery_c < 0",
	"chemistry == 'lfp' ? battery_rest_v < 12.8 : battery_rest_v < 12.2",
	"(chemistry == 'lfp' ? 13.05 : 12.4) < battery_rest_v",
	"charge_a * battery_loaded_v / (pv_v * pv_a) < 0.85",
	"charge_a * battery_loaded_v > pv_v * pv_a",
	"wire_drop_v > 1.25 * load_a * wire_ohm(run_m, wire_mm2)",
	"wire_drop_v / battery_rest_v > 0.03",
	"near(battery_loaded_v, stud_v, 0.1)",
	"fuse_rating_a < 1.25 * load_a",
	"inverter_w / (battery_loaded_v * 0.9) > fuse_rating_a",
	"used_ah / capacity_ah > 0.8",
	"capacity_ah / load_a < 1",
	"soc_pct > 80 and battery_rest_v < 13.0",
	"not display_lit and battery_rest_v > 12",
	"display_lit or battery_rest_v < 10",
	"controller_kind in ['pwm'] and pv_v - battery_loaded_v < 0.6",
	"sun_steady and (pv_v / pv_open_v > 0.98 or pv_v < 2)",
	"(pv_open_v - pv_v) * pv_a > 20",
	"13.05 < battery_rest_v < 13.30",
	"12.8 <= battery_rest_v <= 13.05 or battery_rest_v > 13.45",
	"pv_v / pv_open_v > 0.83 and pv_v / pv_open_v < 0.85",
	"block1_v - block2_v > -0.05 and block1_v - block2_v < 0.05",
	"absorb_v + comp_v_per_k * (battery_c - degC(25)) > 14.6",
	"next_fuse(load_a) > fuse_rating_a",
	"part(soc_pct) * capacity_ah < used_ah",
	"mean(block1_v, block2_v, battery_rest_v) - min(block1_v, block2_v) > 0.2",
	"load_a ^ 2 * wire_ohm(run_m, wire_mm2) > 20",
	"not (chemistry in ['agm', 'gel'] and absorb_v > 14.4)",
	"load_a > 5 and holder_drop_v / load_a > 0.005 and fuse_rating_a >= 1.25 * load_a",
}

func corpusFuncs() []*Func {
	u := quantity.MustUnit
	return []*Func{
		{Name: "clip_drop_limit", Title: "Most that sound clips drop", Area: "fuse", Text: "U = 40 mV · I / In", Source: "practice", Act: Mixed,
			Params: []Param{{Name: "amps", Unit: u("A"), Dir: Grows}, {Name: "rating", Unit: u("A"), Dir: Falls}}, Result: u("V"),
			Do: func(a []float64) (float64, error) {
				if a[1] <= 0 {
					return 0, Outside("clip_drop_limit", "a fuse of 0 A carries nothing")
				}
				return 0.04 * a[0] / a[1], nil
			}},
		{Name: "wire_ohm", Title: "Resistance there and back", Area: "wire", Text: "R = 2·l·ρ/A", Source: "textbook",
			Params: []Param{{Name: "metres", Unit: u("m"), Dir: Grows}, {Name: "area", Unit: u("mm2"), Dir: Falls}}, Result: u("ohm"),
			Do: func(a []float64) (float64, error) {
				if a[1] <= 0 {
					return 0, Outside("wire_ohm", "wire of 0 mm² has no resistance")
				}
				return 2 * 0.0195 * a[0] / a[1], nil
			}},
		{Name: "next_fuse", Title: "Next standard fuse", Area: "fuse", Text: "In >= 1.25·I", Source: "practice", Act: Grows, Standard: true,
			Params: []Param{{Name: "amps", Unit: u("A"), Dir: Grows}}, Result: u("A"),
			Do: func(a []float64) (float64, error) {
				sizes := []float64{10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 150, 175, 200, 250, 300}
				i := sort.SearchFloat64s(sizes, a[0]*1.25)
				if i == len(sizes) || math.IsNaN(a[0]) {
					return 0, Outside("next_fuse", "no standard fuse is that large")
				}
				return sizes[i], nil
			}},
		{Name: "ampacity", Title: "Most amps for a wire", Area: "wire", Text: "a table", Source: "practice", Act: Falls, Standard: true,
			Params: []Param{{Name: "area", Unit: u("mm2"), Dir: Grows}, {Name: "kind", Choices: []string{"free", "bundled"}}}, Result: u("A"),
			Do: func(a []float64) (float64, error) {
				k := 10.0
				if a[1] == 1 {
					k = 5
				}
				return math.Floor(a[0]) * k, nil
			}},
	}
}

func corpusType(d knownReading) Type {
	switch {
	case d.options != nil:
		return Type{Class: ClassChoice, Options: d.options}
	case d.yesNo:
		return Type{Class: ClassYesNo}
	}
	return Type{Class: ClassNumber, Unit: quantity.MustUnit(d.unit), Lo: d.lo, Hi: d.hi, Placed: d.name == "drop_v"}
}

func corpusScope() *Scope {
	s := NewScope(corpusFuncs())
	for _, d := range corpusReadings {
		s.Reading(d.name, corpusType(d))
	}
	return s
}

func corpusReading(name string) knownReading {
	for _, d := range corpusReadings {
		if d.name == name {
			return d
		}
	}
	panic("no reading " + name)
}

func mustCompile(t testing.TB, s *Scope, src string, w Want) *Formula {
	t.Helper()
	f, ps := Compile(src, s, w)
	if len(ps) > 0 {
		t.Fatalf("%s: %v", src, ps)
	}
	return f
}

func TestCorpusCompiles(t *testing.T) {
	s := corpusScope()
	for _, src := range corpus {
		if _, ps := Compile(src, s, WantYesNo()); len(ps) > 0 {
			t.Errorf("%s\n   %v", src, ps)
		}
	}
	if len(corpus) < 45 {
		t.Errorf("the corpus has %d conditions", len(corpus))
	}
}
