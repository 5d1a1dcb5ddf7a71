package electric

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"hotlug/engine/formula"
)

// law says that a function's result grows by scale^power when each parameter of
// by grows by scale to its own power: what dimensions and geometry ask.
type law struct {
	fn    string
	by    map[string]float64
	power float64
}

// TestLaws holds functions against what their dimensions ask.
func TestLaws(t *testing.T) {
	volts := map[string]float64{"voc": 1, "vmp": 1}
	amps := map[string]float64{"isc": 1, "imp": 1}
	with := func(m map[string]float64, name string, power float64) map[string]float64 {
		out := map[string]float64{name: power}
		for k, v := range m {
			out[k] = v
		}
		return out
	}
	for _, l := range []law{
		{"wire_drop", map[string]float64{"amps": 1}, 1}, {"wire_drop", map[string]float64{"run": 1}, 1},
		{"metal_drop", map[string]float64{"amps": 1, "run": -1}, 0}, {"awg_drop", map[string]float64{"amps": 1, "run": 1}, 2},
		{"longest_run", map[string]float64{"amps": 1, "volts": 1}, 0}, {"fault_amps", map[string]float64{"volts": 1, "source_ohm": 1, "loop_ohm": 1}, 0},
		{"short_seconds", map[string]float64{"amps": 1, "size": 1}, 0}, {"inrush_energy", map[string]float64{"volts": 1}, 2},
		{"inrush_i2t", map[string]float64{"loop_ohm": 1, "farad": 1}, 0}, {"precharge_seconds", map[string]float64{"ohm": 1, "farad": 1}, 2},
		{"bms_above_seconds", map[string]float64{"volts": 1, "trip_amps": 1, "farad": 1}, 1}, {"join_amps", map[string]float64{"volts_apart": 1, "ohm_a": 1, "ohm_b": 1, "ohm_lead": 1}, 0},
		{"peukert_hours", map[string]float64{"amps": 1, "ah": 1}, 0}, {"peukert_amps", map[string]float64{"amps": 1, "ah": 1}, 1},
		{"peukert_k", map[string]float64{"slow_amps": 1, "fast_amps": 1}, 0}, {"peukert_k", map[string]float64{"slow": 1, "fast": 1}, 0},
		{"tail_hours", map[string]float64{"ah": 1, "amps": 1, "tail": 1}, 0},
		{"store_hours", map[string]float64{"drop": 1, "ah": 1, "amps": 1}, 0}, {"source_ohm", map[string]float64{"before": 1, "after": 1, "amps_before": 1, "amps_after": 1}, 0},
		{"inverter_volts", map[string]float64{"rest": 1, "watts": 2}, 1}, {"collapse_watts", map[string]float64{"rest": 1}, 2},
		{"max_watts", map[string]float64{"rest": 1, "off": 1}, 2}, {"loop_ohm_max", map[string]float64{"rest": 1, "off": 1, "watts": 2}, 0},
		{"dc_amps", map[string]float64{"watts": 1, "volts": 1}, 0}, {"start_amps", map[string]float64{"watts": 1, "volts": 1}, 0},
		{"converter_amps", map[string]float64{"out": 1, "volts": 1}, 0}, {"load_wh", map[string]float64{"watts": 1}, 1},
		{"day_balance", map[string]float64{"sun": 1, "day": 1, "night": 1}, 1}, {"pv_watts_needed", map[string]float64{"night": 1, "day": 1}, 1},
		{"clip_pct", map[string]float64{"watts": 1, "limit": 1}, 0}, {"pv_series_ohm", map[string]float64{"panel": 1, "controller": 1, "amps": 1}, 0},
		{"string_fuse_least", map[string]float64{"isc": 1}, 1}, {"string_fuse_most", map[string]float64{"isc": 1, "most": 1}, 1},
		{"block_spread", map[string]float64{"top": 1, "bottom": 1}, 0}, {"runner_volts", map[string]float64{"volts": 1, "odd": 1}, 1},
		{"clean_joint_ohm", map[string]float64{"torque": 1}, -0.5}, {"wire_replace", map[string]float64{"cable": 1, "allowed": 1, "others": 1}, 0},
		{"rise_at_full", map[string]float64{"full_amps": 1}, 2}, {"at_full_load", map[string]float64{"amps": 1, "full_amps": 1}, 0},
		{"shunt_watts", map[string]float64{"amps": 1}, 2}, {"energy_ah", map[string]float64{"energy": 1, "volts": 1}, 0},
		{"pv_power", volts, 1}, {"pv_power", amps, 1}, {"pv_best_volts", volts, 1}, {"pv_best_volts", amps, 0}, {"pv_best_amps", amps, 1}, {"pv_best_amps", volts, 0},
		{"pv_open_volts", volts, 1}, {"pv_open_volts", amps, 0}, {"pv_short_amps", amps, 1}, {"pv_current_at", with(volts, "volts", 1), 0}, {"pv_current_at", amps, 1},
		{"pv_volts_at", with(amps, "amps", 1), 0}, {"pwm_watts", with(volts, "battery", 1), 1}, {"pv_power_through", with(volts, "ohm", 1), 1}, {"pv_power_through", with(amps, "ohm", -1), 1},
	} {
		t.Run(fmt.Sprintf("%s_%v", l.fn, l.by), func(t *testing.T) { l.hold(t) })
	}
}

func (l law) hold(t *testing.T) {
	f := byName(t, l.fn)
	for name := range l.by {
		if !hasParam(f, name) {
			t.Fatalf("%s has no %s", l.fn, name)
		}
	}
	r := rand.New(rand.NewSource(7))
	seen := 0
	for n := 0; n < 4000 && seen < 200; n++ {
		a := point(r, f)
		scale := 0.8 + 0.4*r.Float64()
		b := append([]float64(nil), a...)
		for i, p := range f.Params {
			if power, ok := l.by[p.Name]; ok {
				b[i] *= math.Pow(scale, power)
			}
		}
		x, err1 := f.Do(a)
		y, err2 := f.Do(b)
		if err1 != nil || err2 != nil {
			continue
		}
		seen++
		want := x * math.Pow(scale, l.power)
		if math.Abs(y-want) > 1e-6*math.Abs(want)+1e-9 {
			t.Fatalf("%v gives %.10g, %v gives %.10g, want %.10g", a, x, b, y, want)
		}
	}
	if seen < 30 {
		t.Fatalf("only %d points inside the domain", seen)
	}
}

func hasParam(f *formula.Func, name string) bool {
	for _, p := range f.Params {
		if p.Name == name {
			return true
		}
	}
	return false
}

// TestNothingGivesNothing: what comes out when nothing goes in.
func TestNothingGivesNothing(t *testing.T) {
	for _, r := range []row{
		{fn: "wire_drop", args: list(0, 5, 6, 50)}, {fn: "wire_drop", args: list(10, 0, 6, 50)}, {fn: "awg_drop", args: list(0, 5, 6, 50, "solid")}, {fn: "metal_drop", args: list(10, 0, 6, 50, "aluminium")},
		{fn: "inrush_energy", args: list(0, 0.01)}, {fn: "join_amps", args: list(0, 0.01, 0.01, 0.001)}, {fn: "join_moves", args: list(100, 40, 40)}, {fn: "block_spread", args: list(13, 13)},
		{fn: "sag", args: list(0, 0.01)}, {fn: "dc_amps", args: list(0, 12, 0.9)}, {fn: "idle_ah", args: list(20, 0, 12)}, {fn: "load_wh", args: list(0, 5, 1, 1)}, {fn: "converter_amps", args: list(14, 0, 12, 0.9)},
		{fn: "pv_expect_amps", args: list(9, 2, 0)}, {fn: "string_back_amps", args: list(1, 9)}, {fn: "pv_day_wh", args: list(400, 0, 0.7)}, {fn: "clip_watts", args: list(0, 13)},
		{fn: "harvest_now", args: list(0, 1, 0, 0, 30, 13, 50)}, {fn: "harvest_now", args: list(600, 1, 0, 0, 30, 13, 0)}, {fn: "pv_used_share", args: list(1)}, {fn: "diode_watts", args: list(0)}, {fn: "hydrogen_flow", args: list(0, 6)},
		{fn: "pwm_watts", args: by(c400, 800, 45, 0)}, {fn: "pv_bypassed_volts", args: list(57, 6, 6)}, {fn: "dawn_pct", args: list(50, 50, 100)}, {fn: "tail_hours", args: list(0, 20, 2)},
	} {
		f := byName(t, r.fn)
		args, err := numbers(f, r.args)
		if err != nil {
			t.Fatal(err)
		}
		y, err := f.Do(args)
		if err != nil || math.Abs(y) > 2e-3 {
			t.Errorf("%s%v gives %g, %v", r.fn, r.args, y, err)
		}
	}
}

// TestFarEnds: what functions come to at the far end of a parameter.
func TestFarEnds(t *testing.T) {
	check(t, []row{
		{"share_at", list(4, 1, 1000), 1, 2e-3, "links without end: the first carries all"},
		{"share_at", list(4, 4, 0), 0.25, 1e-9, "no links: all alike"},
		{"share_diagonal_at", list(4, 1, 1000), 0.5, 2e-3, "links without end: the outer two carry all"},
		{"precharge_left", list(52, 47, 0.006, 1e4), 0, 1e-9, "long after"},
		{"inverter_volts", list(12.8, 0, 1500, 0.9), 12.8, 1e-9, "no resistance, no sag"},
		{"ghost_volts", list(12.6, 0, 1e7), 12.6, 1e-9, "nothing in the way"},
		{"wire_temp", list(0, 60, 30, 90), 30, 1e-9, "no current: as warm as the air"},
		{"spot_temp", list(0, 25), 25, 1e-9, "no volts: as warm as the rest"},
		{"insulation_factor", list(0), 1, 1e-9, "no insulation"},
		{"insulation_factor", list(100), 0.5, 1e-9, "all the way in insulation"},
		{"peukert_hours", list(5, 20, 100, 1), 20, 1e-9, "exponent 1: plain amp-hours"},
		{"inrush_true_peak", list(13.2, 0.010, 1e-12, 0.020), 1320, 1e-3, "without inductance the bound"},
		{"pv_power_through", by(c400, 1000, 25, 0), 400.26, 3e-4, "no resistance: all of it"},
		{"fuse_temp_factor", list(25, "slow"), 1, 1e-9, "the temperature it is rated at"},
		{"block_high", list(28.8, 0), 14.4, 1e-9, "even blocks"},
	})
}
