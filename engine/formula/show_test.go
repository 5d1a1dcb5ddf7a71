package formula

import (
	"fmt"
	"strings"
	"testing"

	"hotlug/engine/quantity"
)

var shownNames = map[string]string{
	"holder_drop_v": "volts across the fuse holder", "load_a": "amps in the wire", "holder_r": "resistance of the holder",
	"chemistry": "the kind of battery", "fuse_rating_a": "the fuse's rating", "battery_rest_v": "volts of the battery at rest",
	"battery_loaded_v": "volts under load", "display_lit": "display lit", "drop_v": "volts across the joint", "wire_mm2": "area of the wire",
	"battery_c": "temperature of the battery",
}

var plainShower = Shower{
	Name: func(id string) string { return shownNames[id] },
	Word: func(_, option string) string { return map[string]string{"lfp": "LFP", "agm": "AGM"}[option] },
}

var shownVals = map[string]Val{
	"holder_drop_v": Measured(.18, .005, .0003, "hand"), "load_a": Measured(42, .03, .5, "clamp"), "fuse_rating_a": Exact(60),
	"chemistry": Choice(1), "battery_rest_v": Measured(12.74, .005, .03, "hand"), "battery_loaded_v": Measured(12.2, .005, .03, "hand"),
	"display_lit": YesNo(false), "wire_mm2": Within(9.9, 10.2, 10.5), "drop_v": Exact(.12), "others(drop_v)": Exact(.02), "was(drop_v)": Exact(.3),
	"battery_c": Exact(-4),
}

func shownScope(t *testing.T) *Scope {
	s := corpusScope()
	s.Value("holder_r", mustCompile(t, s, "holder_drop_v / load_a", num("ohm")))
	s.Value("loaded", mustCompile(t, s, "load_a > 5 and display_lit", WantYesNo()))
	return s
}

func TestWorking(t *testing.T) {
	tests := []struct {
		src, unit                             string
		formula, numbers, result, law, source string
		known                                 bool
	}{
		{"holder_drop_v / load_a", "ohm", "holder_drop_v / load_a", "180 mV / 42 A", "4.3 ± 0.3 mΩ", "", "", true},
		{"holder_r * load_a ^ 2", "W", "holder_r × load_a^2", "4.3 mΩ × (42 A)^2", "7.6 ± 1.1 W", "", "", true},
		{"next_fuse(load_a)", "A", "next_fuse(load_a)", "next_fuse(42 A)", "next standard: 60 A", "In >= 1.25·I", "practice", true},
		{"next_fuse(load_a * 1.12)", "A", "next_fuse(load_a × 1.12)", "next_fuse(42 A × 1.12)", "next standard: 80 A (60 A only if the readings are exact)", "In >= 1.25·I", "practice", true},
		{"ampacity(wire_mm2, 'free')", "A", "ampacity(wire_mm2, 'free')", "ampacity(10.2 mm², 'free')", "next standard: 90 A (100 A only if the readings are exact)", "a table", "practice", true},
		{"next_fuse(load_a * 5.6)", "A", "next_fuse(load_a × 5.6)", "next_fuse(42 A × 5.6)", "300 A if the readings are exact; no standard size holds for the whole of their limits", "In >= 1.25·I", "practice", true},
		{"load_a * wire_ohm(4, wire_mm2)", "V", "load_a × wire_ohm(4 m, wire_mm2)", "42 A × wire_ohm(4 m, 10.2 mm²)", "640 ± 50 mV", "R = 2·l·ρ/A", "textbook", true},
		{"chemistry == 'lfp' ? battery_rest_v : battery_loaded_v", "V", "chemistry == 'lfp' ? battery_rest_v : battery_loaded_v", "12.2 V", "12.20 ± 0.10 V", "", "", true},
		{"battery_rest_v - battery_loaded_v", "V", "battery_rest_v - battery_loaded_v", "12.74 V - 12.2 V", "540 ± 70 mV", "", "", true},
		{"pv_v - stud_v", "V", "pv_v - stud_v", "pv_v (not known) - stud_v (not known)", "pv_v and stud_v are not known", "", "", false},
		{"pv_v / load_a", "ohm", "pv_v / load_a", "pv_v (not known) / 42 A", "pv_v is not known", "", "", false},
		{"load_a / (wire_mm2 - wire_mm2)", "", "load_a / (wire_mm2 - wire_mm2)", "42 A / (10.2 mm² - 10.2 mm²)", "division: wire_mm2 - wire_mm2 is 0, and nothing can be divided by 0", "", "", false},
		{"load_a - (3 - 5)", "A", "load_a - (-2 A)", "42 A - (-2 A)", "44.0 ± 1.8 A", "", "", true},
		{"fuse_rating_a", "A", "fuse_rating_a", "60 A", "60 A", "", "", true},
		{"degC(25) - battery_c", "K", "25 °C - battery_c", "25 °C - (-4 °C)", "29 K", "", "", true},
	}
	s := shownScope(t)
	for _, tt := range tests {
		t.Run(tt.src, func(t *testing.T) {
			want := WantAny()
			if tt.unit != "" {
				want = num(tt.unit)
			}
			f := mustCompile(t, s, tt.src, want)
			w := f.Working("id", "label", at(f, shownVals), plainShower)
			got := []string{w.Formula, w.Numbers, w.Result, w.Law, w.Source, fmt.Sprint(w.Known), w.Name, w.Label}
			exp := []string{tt.formula, tt.numbers, tt.result, tt.law, tt.source, fmt.Sprint(tt.known), "id", "label"}
			if strings.Join(got, "\n") != strings.Join(exp, "\n") {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(exp, "\n"))
			}
		})
	}
}

func TestBecause(t *testing.T) {
	tests := []struct {
		src  string
		want []string
	}{
		{"holder_r > 0.002", []string{"resistance of the holder (4.3 mΩ) is above 2 mΩ"}},
		{"holder_drop_v > clip_drop_limit(load_a, fuse_rating_a)", []string{"volts across the fuse holder (180 mV) is above most that sound clips drop (28 mV)"}},
		{"load_a > 10 and (pv_v > 3 or holder_drop_v > 0.1)", []string{"amps in the wire (42 A) is above 10 A", "volts across the fuse holder (180 mV) is above 100 mV"}},
		{"load_a < 10 or holder_drop_v < 0.1", []string{"amps in the wire (42 A) is at least 10 A", "volts across the fuse holder (180 mV) is at least 100 mV"}},
		{"load_a > 60 and holder_drop_v < 0.1", []string{"amps in the wire (42 A) is at most 60 A"}},
		{"12 < battery_rest_v < 13", []string{"volts of the battery at rest (12.74 V) is between 12 V and 13 V"}},
		{"13 > battery_rest_v > 12", []string{"volts of the battery at rest (12.74 V) is between 12 V and 13 V"}},
		{"12.7 < battery_rest_v < 14", []string{"volts of the battery at rest (12.74 ± 0.10 V) straddles 12.7 V"}},
		{"not (load_a < 30)", []string{"amps in the wire (42 A) is at least 30 A"}},
		{"30 <= load_a", []string{"amps in the wire (42 A) is at least 30 A"}},
		{"chemistry == 'agm'", []string{"the kind of battery: AGM"}},
		{"chemistry == 'lfp'", []string{"the kind of battery: AGM, not LFP"}},
		{"chemistry != 'lfp'", []string{"the kind of battery: AGM, not LFP"}},
		{"chemistry in ['lfp', 'gel']", []string{"the kind of battery: AGM, not LFP or gel"}},
		{"chemistry == 'lfp' ? load_a > 90 : load_a > 30", []string{"the kind of battery: AGM, not LFP", "amps in the wire (42 A) is above 30 A"}},
		{"display_lit", []string{"display lit: no"}},
		{"loaded", []string{"display lit: no"}},
		{"known(pv_v)", []string{"pv_v is not known"}},
		{"pv_v > 3", []string{"pv_v is not known"}},
		{"pv_v > stud_v and load_a > 3", []string{"pv_v and stud_v are not known"}},
		{"near(battery_rest_v, battery_loaded_v, 0.2)", []string{"volts of the battery at rest (12.74 V) is not within 200 mV of volts under load (12.2 V)"}},
		{"abs(battery_rest_v - battery_loaded_v) > 0.2", []string{"the difference between volts of the battery at rest and volts under load (540 mV) is above 200 mV"}},
		{"drop_v > 3 * others(drop_v)", []string{"volts across the joint (120 mV) is above 3 times the mean of volts across the joint at the other places (60 mV)"}},
		{"drop_v < was(drop_v)", []string{"volts across the joint (120 mV) is below volts across the joint before (300 mV)"}},
		{"holder_drop_v / (fuse_rating_a - fuse_rating_a) > 3 * holder_drop_v / load_a", []string{"there is no answer: division: fuse_rating_a - fuse_rating_a is 0, and nothing can be divided by 0"}},
		{"load_a - load_a * 0.9 > 1", []string{"amps in the wire minus amps in the wire times 0.9 (4.2 A) is above 1 A"}},
	}
	s := shownScope(t)
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, WantYesNo())
		var got []string
		for _, r := range f.Because(at(f, shownVals), plainShower) {
			got = append(got, r.Text)
			if r.Close != strings.Contains(r.Text, "straddles") {
				t.Errorf("%s: close is %v", r.Text, r.Close)
			}
			if len(r.Names) == 0 {
				t.Errorf("%s: no names", r.Text)
			}
		}
		if strings.Join(got, "\n") != strings.Join(tt.want, "\n") {
			t.Errorf("%s\ngot  %s\nwant %s", tt.src, strings.Join(got, "\n     "), strings.Join(tt.want, "\n     "))
		}
	}
}

func TestSaid(t *testing.T) {
	tests := []struct {
		src, want string
	}{
		{"holder_r", "4.3 mΩ"},
		{"holder_drop_v", "180 mV"},
		{"next_fuse(load_a * 1.12)", "80 A"},
		{"chemistry", "AGM"},
		{"display_lit", "no"},
		{"load_a / fuse_rating_a", "0.7"},
		{"pv_v", ""},
		{"next_fuse(load_a * 5.6)", ""},
	}
	s := shownScope(t)
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, WantAny())
		got, ok := f.Said(at(f, shownVals), plainShower)
		if got != tt.want || ok != (tt.want != "") {
			t.Errorf("%s is said as %q, %v; want %q", tt.src, got, ok, tt.want)
		}
	}
}

func TestWanted(t *testing.T) {
	tests := []struct{ src, want string }{
		{"holder_drop_v <= clip_drop_limit(load_a, fuse_rating_a)", "Wanted: volts across the fuse holder at most 28 mV."},
		{"13.1 < battery_rest_v < 13.6", "Wanted: volts of the battery at rest between 13.1 V and 13.6 V."},
		{"load_a > 10 and (pv_v > 3 or not display_lit)", "Wanted: amps in the wire above 10 A, and (pv_v above 3 V, or display lit: no)."},
		{"not (chemistry == 'lfp' and load_a > 3)", "Wanted: the kind of battery is not LFP, or amps in the wire at most 3 A."},
		{"near(battery_rest_v, pv_v, 0.2)", "Wanted: volts of the battery at rest within 200 mV of pv_v."},
		{"drop_v < was(drop_v)", "Wanted: volts across the joint below 300 mV."},
		{"chemistry == 'lfp' ? load_a > 3 : load_a > 4", "Wanted: amps in the wire above 4 A."},
	}
	s := shownScope(t)
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, WantYesNo())
		if got := f.Wanted(at(f, shownVals), plainShower); got != tt.want {
			t.Errorf("%s\ngot  %s\nwant %s", tt.src, got, tt.want)
		}
	}
}

func TestPlainSignsOnly(t *testing.T) {
	f := mustCompile(t, corpusScope(), "holder_drop_v * load_a / 2", WantAny())
	w := f.Working("id", "label", at(f, shownVals), Shower{Style: quantity.Style{ASCII: true}})
	for _, s := range []string{w.Formula, w.Numbers, w.Result} {
		if strings.IndexFunc(s, func(r rune) bool { return r > 127 }) >= 0 {
			t.Errorf("%q", s)
		}
	}
}
