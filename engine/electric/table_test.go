package electric

import (
	"errors"
	"math"
	"math/rand"
	"slices"
	"testing"

	"hotlug/engine/formula"
)

// ranges are the numbers that random points are drawn from, by unit; own lists
// narrower ones for parameters whose domain is small, by function and parameter
// ("" is every function).
var ranges = map[string][2]float64{
	"V": {0.01, 60}, "A": {0.1, 300}, "ohm": {0.0005, 2}, "W": {1, 5000}, "Ah": {10, 600}, "h": {0.5, 30},
	"s": {0.01, 10}, "m": {0.1, 30}, "mm2": {0.5, 150}, "degC": {-30, 110}, "K": {0, 60}, "%": {0, 100},
	"F": {1e-4, 0.1}, "H": {1e-7, 1e-5}, "W/m2": {20, 1300}, "1": {1, 30}, "m3/h": {0, 20}, "%/K": {-0.5, -0.1},
	"Wh": {0, 3000}, "A2s": {1, 50000}, "Nm": {0.5, 50}, "V/K": {-0.12, 0},
}

var own = map[string]map[string][2]float64{
	"": {"system": {11, 52}, "rated": {60, 130}, "emissivity": {0.03, 0.95}, "efficiency": {0.3, 1}, "k": {1, 2},
		"coldest": {-40, 25}, "cell_temp": {-40, 100}, "sun_share": {0, 1.4}, "isc": {0.1, 20}, "noct": {20, 80}, "link": {0, 2},
		"series": {1, 8}, "parallel": {1, 8}, "temp": {-10, 50}, "height": {0.5, 2}, "shadow": {0, 10}},
	"spot_temp":            {"volts": {0, 0.5}},
	"breaker_drop_limit":   {"rating": {1, 125}, "amps": {0, 100}},
	"fuse_drop":            {"rating": {0.5, 630}},
	"clip_drop_limit":      {"rating": {5, 630}},
	"holder_good_limit":    {"rating": {5, 630}},
	"charge_low_pct":       {"volts": {10, 56}},
	"charge_high_pct":      {"volts": {10, 56}},
	"charge_mid_pct":       {"volts": {10, 56}},
	"freeze_temp":          {"volts": {8, 56}},
	"cold_charge_amps":     {"temp": {-20, 70}},
	"charge_hours":         {"from": {0, 100}, "amps": {0.5, 100}},
	"pv_fuse":              {"isc": {0.1, 20}},
	"leak_ohm":             {"meter": {1e6, 1e7}},
	"ghost_volts":          {"series_ohm": {0, 1e7}, "meter_ohm": {1e3, 1e7}},
	"inverter_volts":       {"ohm": {0.001, 0.1}},
	"max_watts":            {"off": {5, 50}},
	"loop_ohm_max":         {"off": {5, 50}},
	"share_first":          {"count": {1, 8}},
	"bms_above_seconds":    {"loop_ohm": {0.005, 0.3}, "trip_amps": {20, 500}},
	"input_farad_measured": {"read": {0.1, 50}},
	"capacity_pct":         {"temp": {15, 40}},
	"wire_ohm":             {"temp": {-40, 120}, "size": {0.3, 160}},
	"infrared_true":        {"read": {0, 120}, "surround": {-10, 50}},
	"infrared_shown":       {"temp": {0, 120}, "surround": {-10, 50}},
	"short_seconds":        {"amps": {100, 5000}},
	"awg_mm2":              {"gauge": {-3, 24}},
	"precharge_ends":       {"amps": {0, 1}},
	"pwm_loss":             {"battery": {10, 35}},
	"lug_allow":            {"ambient": {-20, 74}},
	"awg_ohm":              {"gauge": {-3, 24}, "temp": {-40, 120}},
	"awg_drop":             {"gauge": {-3, 24}, "temp": {-40, 120}},
	"sae_mm2":              {"gauge": {-3, 16}},
	"awg_table_amps":       {"gauge": {-3, 18}},
	"awg_allow":            {"gauge": {-3, 18}, "ambient": {-20, 100}},
	"nec_amps":             {"gauge": {-3, 18}},
	"nec_lug_amps":         {"gauge": {-3, 14}},
	"nec_fuse_cap":         {"gauge": {10, 14}},
	"nec_temp_factor":      {"ambient": {26, 60}},
	"iec_group_factor":     {"circuits": {1, 12}},
	"building_amps":        {"size": {1, 150}},
	"wire_replace":         {"cable": {0, 3}, "allowed": {0.2, 3}, "others": {0, 2}},
	"fuse_volts_ok":        {"rated": {10, 130}},
	"breaking_amps":        {"volts": {0, 130}},
	"fuse_breaks":          {"volts": {0, 130}, "short": {10, 40000}},
	"fuse_placed":          {"metres": {0, 2}},
	"breaker_load":         {"ambient": {20, 60}},
	"boat_breaking":        {"cca": {100, 2200}},
	"pv_cold_fits":         {"limit": {40, 260}},
	"pv_cold_margin":       {"limit": {40, 260}},
	"pv_series_most":       {"limit": {40, 260}},
	"pv_series_ohm":        {"controller": {5, 55}},
	"pv_series_least":      {"open": {15, 50}, "best": {12, 40}},
	"harvest_now":          {"clean": {0, 1.1}, "limit": {1, 100}, "accept": {0, 200}},
	"pv_used_share":        {"ratio": {0.834, 1}},
	"pv_day_wh":            {"hours": {0, 13}, "ratio": {0, 1}},
	"pv_watts_needed":      {"hours": {0.1, 13}, "ratio": {0.3, 1}, "eta": {0.5, 1}},
	"day_balance":          {"eta": {0.5, 1}},
	"string_fuse_needed":   {"most": {5, 40}},
	"string_fuse_most":     {"most": {5, 40}},
	"string_fuse_fits":     {"rating": {1, 32}, "most": {5, 40}},
	"pv_bypassed_volts":    {"dark": {0, 9}},
	"pv_shorted_volts":     {"dark": {0, 9}},
	"share_at":             {"count": {1, 8}, "place": {1, 8}},
	"share_diagonal_at":    {"count": {1, 8}, "place": {1, 8}},
	"bank_amps_at_trip":    {"share": {0.01, 1}},
	"block_volts_most":     {"string": {22, 66}},
	"shares_uneven":        {"most": {10, 40}, "least": {10, 40}, "mean": {10, 40}},
	"bms_trips":            {"loop_ohm": {0.005, 0.3}, "trip_amps": {20, 500}, "delay": {0, 0.01}},
	"load_wh":              {"duty": {0, 1}},
	"dawn_pct":             {"used": {0, 100}, "ah": {50, 600}},
	"end_of_run_volts":     {"amps": {0, 30}},
	"start_amps":           {"times": {1, 15}},
	"start_va":             {"times": {1, 15}, "pf": {0.2, 1}},
	"charger_va":           {"pf": {0.2, 1}},
	"strip_pct":            {"volts": {9.9, 16}},
	"peukert_k":            {"slow": {10, 25}, "slow_amps": {2, 10}, "fast": {0.5, 3}, "fast_amps": {20, 70}},
	"tail_hours":           {"amps": {5, 50}, "tail": {0.5, 5}},
	"charge_efficiency":    {"out": {50, 100}, "put_in": {90, 200}},
	"full_set_right":       {"charged": {12, 60}, "absorb": {13, 60}, "float": {12, 58}, "tail": {0, 20}, "charger_tail": {0, 20}},
	"full_too_early":       {"charged": {12, 14}, "rest": {12, 14}, "amps": {0, 30}, "tail": {0, 30}, "ohm": {0.001, 0.05}},
	"load_test_volts":      {"temp": {-18, 50}},
}

// Labels that one module could have: figures drawn apart from each other seldom fit.
func init() {
	for name, last := range map[string]map[string][2]float64{
		"pv_power": nil, "pv_best_volts": nil, "pv_best_amps": nil, "pv_open_volts": nil, "pv_short_amps": nil,
		"pv_current_at": {"volts": {0, 38}}, "pv_volts_at": {"amps": {0, 14}}, "pwm_watts": {"battery": {0, 32}}, "pv_power_through": {"ohm": {0, 3}},
	} {
		own[name] = map[string][2]float64{"voc": {36.7, 37.5}, "isc": {13.6, 13.9}, "vmp": {30.9, 31.3}, "imp": {12.8, 12.95},
			"alpha": {0.03, 0.06}, "beta": {-0.32, -0.26}, "sun": {50, 1200}, "cell_temp": {-10, 80}}
		for p, span := range last {
			own[name][p] = span
		}
	}
}

// whole lists parameters that take whole numbers only.
var whole = map[string]bool{"share_first/count": true, "share_at/count": true, "share_at/place": true,
	"share_diagonal_at/count": true, "share_diagonal_at/place": true}

func between(r *rand.Rand, f *formula.Func, i int) float64 {
	p := f.Params[i]
	if n := len(p.Choices); n > 0 {
		return float64(r.Intn(n))
	}
	span, ok := own[f.Name][p.Name]
	if !ok {
		span, ok = own[""][p.Name]
	}
	if !ok {
		span, ok = ranges[p.Unit.Symbol()]
	}
	if !ok {
		panic("no range for " + f.Name + "/" + p.Name)
	}
	lo, hi := span[0], span[1]
	// Every fourth draw lies on a standard size or a round number, where tables step.
	if r.Intn(4) == 0 {
		x := math.Round(lo + r.Float64()*(hi-lo))
		if p.Unit.Symbol() == "mm2" {
			x = sizes[r.Intn(len(sizes))]
		}
		if x >= lo && x <= hi {
			return x
		}
	}
	if whole[f.Name+"/"+p.Name] {
		return math.Round(lo + r.Float64()*(hi-lo))
	}
	if lo > 0 && hi/lo > 100 {
		return lo * math.Pow(hi/lo, r.Float64())
	}
	return lo + r.Float64()*(hi-lo)
}

func point(r *rand.Rand, f *formula.Func) []float64 {
	a := make([]float64, len(f.Params))
	for i := range a {
		a[i] = between(r, f, i)
	}
	return a
}

func slack(x, y float64) float64 { return 1e-9 * (math.Abs(x) + math.Abs(y) + 1e-9) }

// TestMonotone: every function moves with each number the way the table says.
func TestMonotone(t *testing.T) {
	for _, f := range Table() {
		t.Run(f.Name, func(t *testing.T) {
			r := rand.New(rand.NewSource(1))
			directed := false
			for _, p := range f.Params {
				directed = directed || p.Dir != formula.Mixed
			}
			pairs := 0
			for n := 0; directed && n < 20000 && pairs < 1500; n++ {
				a := point(r, f)
				i := r.Intn(len(a))
				dir := f.Params[i].Dir
				if dir == formula.Mixed {
					continue
				}
				b := append([]float64(nil), a...)
				if b[i] = between(r, f, i); b[i] < a[i] {
					a, b = b, a
				}
				x, err1 := f.Do(a)
				y, err2 := f.Do(b)
				if err1 != nil || err2 != nil {
					continue
				}
				pairs++
				if float64(dir)*(y-x) < -slack(x, y) {
					t.Fatalf("%s does not go %+d with %s: %v gives %g, %v gives %g", f.Name, dir, f.Params[i].Name, a, x, b, y)
				}
			}
			if directed && pairs < 300 {
				t.Fatalf("only %d pairs of points inside the domain: the ranges of this test do not fit %s", pairs, f.Name)
			}
		})
	}
}

// TestLimitsHoldEveryPoint: limits given by hand contain each point of their box.
func TestLimitsHoldEveryPoint(t *testing.T) {
	for _, f := range Table() {
		if f.Limits == nil {
			continue
		}
		t.Run(f.Name, func(t *testing.T) {
			r := rand.New(rand.NewSource(2))
			boxes, most := 0, 400
			if hasParam(f, "vmp") { // each box of these fits twenty modules
				most = 120
			}
			for n := 0; n < 4000 && boxes < most; n++ {
				a, b := point(r, f), point(r, f)
				box := make([]formula.Val, len(a))
				for i := range a {
					if len(f.Params[i].Choices) > 0 {
						box[i] = formula.Val{Words: 1<<uint(a[i]) | 1<<uint(b[i])}
						continue
					}
					// Narrow boxes too, as a meter's error makes them.
					if r.Intn(2) == 0 && !whole[f.Name+"/"+f.Params[i].Name] {
						b[i] = a[i] + (b[i]-a[i])*0.05
					}
					lo, hi := min(a[i], b[i]), max(a[i], b[i])
					box[i] = formula.Within(lo, lo+(hi-lo)/2, hi)
				}
				v := f.Limits(box)
				if f.YesNo && !math.IsNaN(v.Lo) {
					v.Lo, v.Hi = yes(!v.CanFalse), yes(v.CanTrue)
				}
				if math.IsNaN(v.Lo) || math.IsNaN(v.Hi) {
					continue
				}
				boxes++
				for range 30 {
					x := make([]float64, len(box))
					for i, v := range box {
						x[i] = v.Lo + r.Float64()*(v.Hi-v.Lo)
						if len(f.Params[i].Choices) > 0 {
							x[i] = a[i]
						}
						if whole[f.Name+"/"+f.Params[i].Name] {
							x[i] = math.Round(x[i])
						}
					}
					y, err := f.Do(x)
					if err != nil {
						t.Fatalf("limits %g to %g over %v, but %v is outside the domain: %v", v.Lo, v.Hi, box, x, err)
					}
					if y < v.Lo-slack(y, v.Lo) || y > v.Hi+slack(y, v.Hi) {
						t.Fatalf("limits %g to %g over %v do not hold %g at %v", v.Lo, v.Hi, box, y, x)
					}
				}
			}
			if boxes < 100 {
				t.Fatalf("only %d boxes inside the domain of %s", boxes, f.Name)
			}
		})
	}
}

// TestOutsideIsAnError: whatever comes in, a finite number or a DomainError under
// the function's own name comes out.
func TestOutsideIsAnError(t *testing.T) {
	odd := []float64{0, -1, 1, 1e-300, -1e-300, 1e300, -1e300, math.Inf(1), math.Inf(-1), math.NaN(), 0.5, 12, 50, 1000}
	for _, f := range Table() {
		t.Run(f.Name, func(t *testing.T) {
			r := rand.New(rand.NewSource(3))
			for range 4000 {
				a := point(r, f)
				for i := range a {
					if r.Intn(3) == 0 {
						a[i] = odd[r.Intn(len(odd))]
					}
				}
				y, err := f.Do(a)
				var outside *formula.DomainError
				switch {
				case err == nil && (math.IsNaN(y) || math.IsInf(y, 0)):
					t.Fatalf("%s%v gives %g", f.Name, a, y)
				case err != nil && !errors.As(err, &outside):
					t.Fatalf("%s%v fails with %T: %v", f.Name, a, err, err)
				case err != nil && outside.Func != f.Name:
					t.Fatalf("%s%v fails under the name %s", f.Name, a, outside.Func)
				case err != nil && outside.Reason == "":
					t.Fatalf("%s%v fails without a reason", f.Name, a)
				}
			}
			if _, err := f.Do(nil); err == nil {
				t.Fatalf("%s answers without any numbers", f.Name)
			}
		})
	}
}

// TestTableIsComplete: every row says all that the calculator and the documents print.
func TestTableIsComplete(t *testing.T) {
	areas := map[string]bool{"wire": true, "fuse": true, "joint": true, "inrush": true, "battery": true, "pv": true, "inverter": true}
	seen := map[string]bool{}
	for _, f := range Table() {
		if seen[f.Name] {
			t.Errorf("%s stands twice in the table", f.Name)
		}
		seen[f.Name] = true
		if !areas[f.Area] {
			t.Errorf("%s is of no known area: %q", f.Name, f.Area)
		}
		for what, s := range map[string]string{"title": f.Title, "text": f.Text, "source": f.Source, "domain": f.Domain} {
			if s == "" {
				t.Errorf("%s has no %s", f.Name, what)
			}
		}
		if f.Result.Scale == 0 {
			t.Errorf("%s has no unit for its result", f.Name)
		}
		names := map[string]bool{}
		for _, p := range f.Params {
			if p.Name == "" || p.Doc == "" || names[p.Name] {
				t.Errorf("%s: parameter %q has no name, no words or a twin", f.Name, p.Name)
			}
			names[p.Name] = true
			if len(p.Choices) == 0 && p.Dir == formula.Mixed && f.Limits == nil {
				t.Errorf("%s goes both ways with %s and brings no limits", f.Name, p.Name)
			}
		}
	}
}

// anyFamily is the ratings of all families of fuses.
func anyFamily() []float64 {
	var all []float64
	for _, f := range families {
		all = append(all, f.ratings...)
	}
	slices.Sort(all)
	return all
}

// TestStandardSizesComeFromTheirList: a function marked Standard gives only listed sizes.
func TestStandardSizesComeFromTheirList(t *testing.T) {
	lists := map[string][]float64{
		"wire_for_drop": sizes, "wire_for_amps": sizes, "fuse_next": fuseRatings,
		"fuse_for_load": fuseRatings, "slow_fuse_for_load": fuseRatings, "pv_fuse": stringFuses,
		"inverter_fuse": fuseRatings, "family_next": anyFamily(),
	}
	for _, f := range Table() {
		list, listed := lists[f.Name]
		if listed != f.Standard {
			t.Errorf("%s: marked standard %v, list known to the test %v", f.Name, f.Standard, listed)
			continue
		}
		r := rand.New(rand.NewSource(4))
		for range 300 {
			a := point(r, f)
			y, err := f.Do(a)
			if !f.Standard || err != nil {
				continue
			}
			if s, ok := next(list, y); !ok || s != y {
				t.Errorf("%s%v gives %g, which is not in its list", f.Name, a, y)
			}
		}
	}
}
