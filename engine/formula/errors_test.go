package formula

import (
	"strings"
	"testing"

	"hotlug/engine/quantity"
)

func num(symbol string) Want { return WantNumber(quantity.MustUnit(symbol)) }

// underlined draws the caret line of a problem and its text behind it.
func underlined(p Problem) string {
	return strings.Repeat(" ", p.From) + strings.Repeat("^", max(1, p.To-p.From)) + " " + p.Error()
}

// Every problem of a text is reported, with its place and in whole sentences.
func TestProblems(t *testing.T) {
	cond := WantYesNo()
	tests := []struct {
		name string
		want Want
		src  string
		at   []string
	}{
		{"volts plus amps", cond,
			"battery_rest_v + load_a > 3", []string{
				"               ^ the two sides of + have unlike units: V and A"}},
		{"temperature against difference", cond,
			"battery_c > joint_c - ambient_c", []string{
				"          ^ the two sides of > have unlike units: degC and K; one is a temperature, the other a difference of temperatures"}},
		{"bare number behind a temperature's minus", cond,
			"battery_c - 25 > 10", []string{
				"            ^^ is 25 a temperature or a difference? write degC(25) or kelvin(25)"}},
		{"temperature doubled", cond,
			"2 * battery_c > 50", []string{
				"  ^ a temperature can't be multiplied or divided; use a difference of temperatures: t - degC(25)"}},
		{"temperatures added", cond,
			"(battery_c + ambient_c) / 2 > 20", []string{
				"           ^ two temperatures can't be added; for the middle of them write mean(a, b)"}},
		{"temperature taken from a difference", cond,
			"kelvin(5) - battery_c > 20", []string{
				"          ^ a temperature can't be taken from K; turn the two round"}},
		{"temperature turned round", cond,
			"-battery_c > 5", []string{
				"^ a temperature can't be turned round; write degC(-5), or use a difference"}},
		{"temperature squared", cond,
			"battery_c ^ 2 > 5", []string{
				"          ^ a temperature can't be raised to a power; use a difference of temperatures"}},
		{"amp-hours against amps squared", cond,
			"used_ah > load_a * pv_a", []string{
				"        ^ the two sides of > have unlike units: Ah and A2"}},
		{"measured operands on two scales", cond,
			"used_ah > charge_as", []string{
				"        ^ the two sides of > have unlike units: Ah and As; the same on another scale: 1 of the first is 3600 of the second"}},
		{"ratio against percent", cond,
			"used_ah / capacity_ah > soc_pct", []string{
				"                      ^ the two sides of > have unlike units: a plain number and %; part(x) makes a plain number of a percentage"}},
		{"declared unit of another kind", num("ohm"),
			"holder_drop_v * load_a", []string{
				"^^^^^^^^^^^^^^^^^^^^^^ the result must be in ohm, and holder_drop_v * load_a is in W"}},
		{"declared plain number", num("1"),
			"capacity_ah / load_a", []string{
				"^^^^^^^^^^^^^^^^^^^^ the result must be a plain number, and capacity_ah / load_a is in h"}},
		{"number for a condition", cond,
			"load_a", []string{
				"^^^^^^ a condition must be yes or no, and load_a is in A"}},
		{"condition for a number", num("V"),
			"load_a > 3", []string{
				"^^^^^^^^^^ the result must be in V, and load_a > 3 is yes or no"}},
		{"argument of another kind", cond,
			"clip_drop_limit(load_a, battery_rest_v) > 1", []string{
				"                        ^^^^^^^^^^^^^^ value 2 of clip_drop_limit must be in A, and battery_rest_v is in V"}},
		{"argument missing", cond,
			"clip_drop_limit(load_a) > 1", []string{
				"^^^^^^^^^^^^^^^ clip_drop_limit takes 2 values, and has 1 value; write clip_drop_limit(amps, rating)"}},
		{"too few for max", cond,
			"max(load_a) > 1", []string{
				"^^^ max takes 2 values or more, and has 1 value; write max(a, b, ...)"}},
		{"unlike arguments", cond,
			"near(battery_rest_v, load_a, 5)", []string{
				"                     ^^^^^^ value 2 of near and those before it have unlike units: V and A"}},
		{"temperature as a distance", cond,
			"near(battery_c, ambient_c, ambient_c)", []string{
				"                           ^^^^^^^^^ value 3 of near and those before it have unlike units: K and degC; one is a temperature, the other a difference of temperatures"}},
		{"four at once", cond,
			"battery_rst_v > 12 and lod_a > 3 and chemistry == 'flod' and next_fus(load_a) > 3", []string{
				"^^^^^^^^^^^^^ battery_rst_v is not a reading or a worked value; did you mean battery_rest_v?",
				"                       ^^^^^ lod_a is not a reading or a worked value; did you mean load_a?",
				"                                                  ^^^^^^ chemistry can't be 'flod'; it can be lfp, agm, gel or flooded",
				"                                                             ^^^^^^^^ next_fus is not a function; did you mean next_fuse?"}},
		{"middle of a chain, once", cond,
			"11 < battery_rst_v < 12", []string{
				"     ^^^^^^^^^^^^^ battery_rst_v is not a reading or a worked value; did you mean battery_rest_v?"}},
		{"names behind a syntax error", cond,
			"lod_a > 3 and (", []string{
				"^^^^^ lod_a is not a reading or a worked value; did you mean load_a?",
				"               ^ the formula ends too early; a bracket is not closed"}},
		{"refused signs and a wrong name", cond,
			"!display_lit && lod_a > 3 || sun_steady", []string{
				"^ ! is not part of the language; write not",
				"             ^^ && is not part of the language; write and",
				"                ^^^^^ lod_a is not a reading or a worked value; did you mean load_a?",
				"                          ^^ || is not part of the language; write or"}},
		{"number equal", cond,
			"battery_rest_v == 12.6", []string{
				"               ^^ == between numbers is never certain; write near(a, b, by), or a range: low < x < high"}},
		{"not before a comparison", cond,
			"not battery_rest_v > 12", []string{
				"^^^ not needs yes or no, and battery_rest_v is in V; put brackets round what follows not"}},
		{"choice in an order", cond,
			"chemistry > 'lfp'", []string{
				"          ^ > compares numbers, and chemistry is a choice; choices are compared with ==, != and in"}},
		{"yes-no compared", cond,
			"display_lit == true", []string{
				"            ^^ == compares choices; write a yes-no reading by its name alone, with not in front for no"}},
		{"power of a broken number", cond,
			"load_a ^ 1.2 > 3", []string{
				"       ^ a power is a whole number from -4 to 4, written out; other laws are functions"}},
		{"power too high", cond,
			"load_a ^ 5 > 3", []string{
				"       ^ a power is a whole number from -4 to 4, written out; other laws are functions"}},
		{"unit without a name", cond,
			"(battery_rest_v - stud_v) ^ 2 < 0.01", []string{
				"                                ^^^^ 0.01 would be in V2, a unit without a name; compare values whose unit has a name"}},
		{"unlike results", num("V"),
			"chemistry == 'lfp' ? battery_rest_v : load_a", []string{
				"                     ^^^^^^^^^^^^^^^^^^^^^^^ the two results of ? have unlike units: V and A"}},
		{"answer without quotes", cond,
			"chemistry == agm", []string{
				"             ^^^ agm is not a reading or a worked value; an answer stands in quotes: 'agm'"}},
		{"word of a function's choice", cond,
			"ampacity(wire_mm2, 'fre') > 3", []string{
				"                   ^^^^^ value 2 of ampacity can't be 'fre'; did you mean free?"}},
		{"choice without a common word", cond,
			"ampacity(wire_mm2, chemistry) > 3", []string{
				"                   ^^^^^^^^^ chemistry shares no option with value 2 of ampacity; it can be free or bundled"}},
		{"mean at one place", cond,
			"mean(stud_v) > 3", []string{
				"     ^^^^^^ stud_v is taken at one place only, so mean says nothing; for the middle of several values write mean(a, b)"}},
		{"was of no name", cond,
			"was(3) > 3", []string{
				"^^^ was takes the name of one reading; write was(x) with the name of a reading"}},
		{"division by nothing", cond,
			"load_a / 0 > 3", []string{
				"         ^ nothing can be divided by 0"}},
		{"constants compared", cond,
			"3 > 2", []string{
				"  ^ two numbers are compared, which says nothing about the rig"}},
		{"in on a number", cond,
			"load_a in [1, 3]", []string{
				"       ^^ in needs a choice, and load_a is in A; for a range write low < x < high"}},
		{"empty", cond, "  ", []string{"^ the formula is empty; write a condition or a number"}},
		{"offsets count runes", cond,
			"chemistry == 'Ω' and lod_a > 3", []string{
				"             ^^^ chemistry can't be 'Ω'; it can be lfp, agm, gel or flooded",
				"                     ^^^^^ lod_a is not a reading or a worked value; did you mean load_a?"}},
		{"decimal comma", cond,
			"load_a >= 12,4", []string{
				"            ^ , does not fit here; a decimal has a point, not a comma"}},
		{"number with a unit", cond,
			"battery_rest_v > 12.6V", []string{
				"                 ^^^^^ 12.6V is not a number; leave the unit out: a number takes the unit of its partner"}},
		{"mathematical sign", cond,
			"battery_rest_v ≥ 12", []string{
				"               ^ ≥ is not a sign of the language; write >="}},
		{"typographic quotes", cond,
			"chemistry == ‘lfp’", []string{
				"             ^ ‘ is not a sign of the language; use straight quotes"}},
		{"percent sign", cond,
			"soc_pct >= 80%", []string{
				"             ^ % is not part of the language; percent is a unit here: leave the sign out, or write part(x) for a ratio"}},
		{"one equals sign", cond,
			"chemistry = 'lfp'", []string{
				"          ^ = is not part of the language; write == for choices; for numbers write near(a, b, by)"}},
	}
	s := corpusScope()
	s.Reading("charge_as", Type{Class: ClassNumber, Unit: quantity.MustUnit("As")})
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f, ps := Compile(tt.src, s, tt.want)
			if f != nil {
				t.Fatalf("%s compiles", tt.src)
			}
			var got []string
			for _, p := range ps {
				got = append(got, underlined(p))
				if p.Code == "" {
					t.Errorf("no code: %s", p.Error())
				}
			}
			if strings.Join(got, "\n") != strings.Join(tt.at, "\n") {
				t.Errorf("got\n%s\n%s\nwant\n%s", tt.src, strings.Join(got, "\n"), strings.Join(tt.at, "\n"))
			}
		})
	}
}

// What the units allow, with the unit that comes out.
func TestUnitsOfResults(t *testing.T) {
	tests := []struct{ src, unit string }{
		{"holder_drop_v / load_a", "ohm"},
		{"holder_drop_v * load_a", "W"},
		{"capacity_ah / load_a", "h"},
		{"load_a ^ 2 * wire_ohm(run_m, wire_mm2)", "W"},
		{"joint_c - ambient_c", "K"},
		{"ambient_c + 15", "degC"},
		{"battery_c - degC(25)", "K"},
		{"battery_c - kelvin(25)", "degC"},
		{"mean(battery_c, ambient_c)", "degC"},
		{"max(battery_c, 20)", "degC"},
		{"part(soc_pct) * capacity_ah", "Ah"},
		{"2 * load_a", "A"},
		{"load_a / pv_a", "1"},
		{"3 + 4 * 2", "1"},
		{"chemistry == 'lfp' ? battery_rest_v : 12.7", "V"},
		{"-(battery_rest_v - stud_v)", "V"},
		{"load_a ^ -1 * battery_rest_v", "ohm"},
	}
	s := corpusScope()
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, WantAny())
		if got := f.Type().Unit.Symbol(); got != tt.unit {
			t.Errorf("%s is in %s, want %s", tt.src, got, tt.unit)
		}
	}
}

// A declared unit converts scale; nothing else does.
func TestDeclaredUnitConverts(t *testing.T) {
	tests := []struct {
		src, unit string
		vals      []float64
		want      float64
	}{
		{"capacity_ah / load_a", "h", []float64{100, 20}, 5},
		{"capacity_ah / load_a", "s", []float64{100, 20}, 18000},
		{"capacity_ah / load_a", "min", []float64{100, 20}, 300},
		{"capacity_ah * battery_rest_v", "J", []float64{1, 12}, 43200},
		{"chemistry == 'lfp' ? 13.3 : 12.7", "V", []float64{0}, 13.3},
		{"0.03", "V", nil, 0.03},
	}
	s := corpusScope()
	for _, tt := range tests {
		f := mustCompile(t, s, tt.src, num(tt.unit))
		var vals []Val
		for i, x := range tt.vals {
			v := Exact(x)
			if f.RefType(i).Class == ClassChoice {
				v = Choice(int(x))
			}
			vals = append(vals, v)
		}
		v, err := f.Eval(vals)
		if err != nil || v.Mid < tt.want*(1-1e-12) || v.Mid > tt.want*(1+1e-12) {
			t.Errorf("%s in %s is %v (%v), want %v", tt.src, tt.unit, v.Mid, err, tt.want)
		}
	}
}
