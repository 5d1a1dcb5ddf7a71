package calc

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/formula"
	"hotlug/engine/quantity"
)

func TestFreeArithmetic(t *testing.T) {
	for _, c := range []struct{ name, text, numbers, result string }{
		{"digits typed with care", "= 0.180 V / 42.0 A", "0.180 V / 42.0 A", "4.29 mΩ"},
		{"digits left out", "= 0.18 V / 42 A", "0.18 V / 42 A", "4.29 ± 0.18 mΩ"},
		{"no spaces", "=180mV/42A", "180 mV / 42 A", "4.29 ± 0.07 mΩ"},
		{"without the equals sign", "180 mV / 42 A", "180 mV / 42 A", "4.29 ± 0.07 mΩ"},
		{"behind calc", "calc = 180 mV / 42 A", "180 mV / 42 A", "4.29 ± 0.07 mΩ"},
		{"sign of multiplication", "= 180 mV × 42 A", "180 mV × 42 A", "7.56 ± 0.12 W"},
		{"x for times", "= 180 mV x 42 A", "180 mV × 42 A", "7.56 ± 0.12 W"},
		{"x between bare numbers", "= 3 x 4", "3 × 4", "12"},
		{"typeset division", "= 12.00 V ÷ 3.000 A", "12.00 V / 3.000 A", "4 Ω"},
		{"square by sign", "= (42.00 A)² * 4.300 mohm", "(42.00 A)^2 × 4.300 mohm", "7.59 W"},
		{"square of a value", "= 42.00 A ^ 2 * 4.300 mohm", "(42.00 A)^2 × 4.300 mohm", "7.59 W"},
		{"bare numbers", "= 2 * 3 + 1/3", "2 × 3 + 1 / 3", "6.33333"},
		{"bare number takes its partner's unit", "= 12.60 V - 0.4", "12.60 V - 0.4", "12.2 V"},
		{"minus in front", "= -12.60 V + 13.60 V", "-12.60 V + 13.60 V", "1.000 ± 0.010 V"},
		{"brackets", "= 2 * (3 + 4)", "2 × (3 + 4)", "14"},
		{"decimal comma", "= 1,50 V / 2,00 A", "1,50 V / 2,00 A", "750 ± 5 mΩ"},
		{"rough", "= about 40 A * 0.1000 ohm", "about 40 A × 0.1000 ohm", "4.0 ± 0.5 V"},
		{"tilde", "= ~40 A * 2", "about 40 A × 2", "80 ± 9 A"},
		{"part of a value", "= 12.00 V * 3 %", "12.00 V × 3 %", "360 mV"},
		{"percentage behind a line", "= 12.00 V / 3 %", "12.00 V / 3 %", "400 V"},
		{"percentage by time", "= 30 % / 10 h", "30 % / 10 h", "3 %/h"},
		{"hours stay hours", "= 60.0 W * 2 h", "60.0 W × 2 h", "120 Wh"},
		{"minutes come to watt-hours", "= 40.0 W * 90 min", "40.0 W × 90 min", "60 Wh"},
		{"seconds come to joules", "= 40.0 W * 30 s", "40.0 W × 30 s", "1.2 kJ"},
		{"two scales of time", "= 1 h + 30 min", "1 h + 30 min", "1.5 h"},
		{"charge over time", "= 2 Ah / 30 min", "2 Ah / 30 min", "4 A"},
		{"charge over current", "= 100 Ah / 5.00 A", "100 Ah / 5.00 A", "20 h"},
		{"two scales of length", "= 3 ft 6 in + 2 m", "3 ft 6 in (1.07 m) + 2 m", "3.07 m"},
		{"half inches", "= 6 1/2 in * 2", "6 1/2 in (16.5 cm) × 2", "33 cm"},
		{"gauges", "= 2/0 awg + 10 awg", "2/0 awg (67.4 mm²) + 10 awg (5.26 mm²)", "72.7 mm²"},
		{"difference of temperatures", "= 54.0 C - 20.0 C", "54.0 C - 20.0 C", "34 K"},
		{"below zero", "= -5 C + 10 K", "-5 C + 10 K", "5.0 ± 1.0 °C"},
		{"minus below zero", "= 20 C - -5 C", "20 C - (-5 C)", "25.0 ± 1.0 K"},
		{"degrees Fahrenheit", "= 122 degF - 20 C", "122 degF (50 °C) - 20 C", "30.0 ± 0.8 K"},
		{"millivolts per kelvin", "= 3 mV/K * 10.00 K", "3 mV/K × 10.00 K", "30 mV"},
		{"microhenries", "= 2 uH / 4 uH", "2 uH / 4 uH", "0.5"},
		{"a function, with underscores", "= wire_drop(80 A, 3 m, 25 mm2, 50 C)", "wire_drop(80 A, 3 m, 25 mm², 50 C)", "419 mV"},
		{"a function, with dashes", "= wire-drop(80 A, 10 ft, 2/0 awg, 122 degF)",
			"wire_drop(80 A, 10 ft (3.05 m), 2/0 awg (67.4 mm²), 122 degF (50 °C))", "158 mV"},
		{"minus a function", "= 12.60 V-wire_drop(80 A, 3 m, 25 mm2, 50 C)", "12.60 V - wire_drop(80 A, 3 m, 25 mm², 50 C)", "12.18 V"},
		{"a function of a sum", "= fuse_next(50 A + 2.5 A)", "fuse_next(50 A + 2.5 A)", "next standard: 60 A"},
		{"the word of a choice, bare", "= joint_rth(25 mm2, one-cable) * 3.000 W", "joint_rth(25 mm², 'one-cable') × 3.000 W", "45 K"},
		{"the word of a choice, quoted", `= torque("M8")`, "torque('M8')", "6 Nm"},
		{"commas part the values of a function", "= max(1,2,3)", "max(1, 2, 3)", "3"},
		{"a comparison", "= 180 mV > 0.1 V", "180 mV > 0.1 V", "yes"},
		{"a comparison that is too close", "= 0.18 V > 0.18 V", "0.18 V > 0.18 V", "too close to call"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := Run(electric.Table(), c.text, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if r.Numbers != c.numbers || r.Result != c.result {
				t.Errorf("%s gives\n%s = %s, want\n%s = %s", c.text, r.Numbers, r.Result, c.numbers, c.result)
			}
		})
	}
}

func TestCallByName(t *testing.T) {
	us := Options{Style: quantity.Style{US: true}}
	for _, c := range []struct {
		name, text string
		o          Options
		result     string
		notes      string
	}{
		{"dashes", "wire-drop amps=80 run=3m size=25mm2", Options{}, "419 mV", "taken as usual, as it was not typed: temp 50 C"},
		{"behind calc", "calc wire-drop amps=80 run=3m size=25mm2 temp=20C", Options{}, "374 mV", ""},
		{"underscores and capitals", "Wire_Drop AMPS=80 run=3m size=25mm2 temp=20C", Options{}, "374 mV", ""},
		{"spaces, commas, units apart", "wire-drop amps = 80 A, run = 3 m, size = 25 mm2, temp = 20 C", Options{}, "374 mV", ""},
		{"feet, gauge, Fahrenheit", "wire-drop amps=80 run=10ft size=2/0 awg temp=122F", Options{}, "158 mV", ""},
		{"feet and inches", "wire-drop amps=80 run=9 ft 10 1/8 in size=25mm2 temp=20C", Options{}, "374 mV", ""},
		{"US style", "longest-run amps=8A size=2.5mm2 volts=0.36V temp=20C", us, "9 ft 3 in", ""},
		{"a standard size", "fuse-for-load amps=42 ambient=40C", Options{}, "next standard: 60 A", ""},
		{"one parameter, without its name", "fuse-next 52", Options{}, "next standard: 60 A", ""},
		{"a rough value that may take another size", "fuse-next amps=about 57", Options{}, "next standard: 70 A (60 A only if the readings are exact)", ""},
		{"a word", "joint-rth size=25mm2 seat=two cables", Options{}, "7.7 K/W", ""},
		{"words that begin with figures", "shunt-factor label=500a-75mv set=500A-50mV", Options{}, "1.5", ""},
		{"a gauge number", "awg-mm2 gauge=4/0", Options{}, "107 mm²", ""},
		{"any unit", "max a=3V b=5 V", Options{}, "5 V", ""},
		{"yes or no", "near a=12.6V b=12.5V by=0.2V", Options{}, "yes", ""},
		{"a unit that is seldom typed", "vent-area air=2.4 m³/h", Options{}, "6720 mm²", ""},
		{"henries with a prefix", "inrush-true-peak volts=52V loop-ohm=20mohm henry=2uH farad=6000uF", Options{}, "1489 A", ""},
		{"per kelvin", "pv-cold-volts-beta voc=22.4V series=3 coldest=-20C beta=-0.28%/°C", Options{}, "75.67 V", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := Run(electric.Table(), c.text, c.o)
			if err != nil {
				t.Fatal(err)
			}
			if r.Result != c.result || strings.Join(r.Notes, "; ") != c.notes {
				t.Errorf("%s gives %s %q, want %s %q", c.text, r.Result, r.Notes, c.result, c.notes)
			}
			if r.Formula == "" || r.Numbers == "" || r.Title == "" || len(r.Inputs) == 0 {
				t.Errorf("the working is not complete: %+v", r)
			}
		})
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name, text, says string
		usage            bool
	}{
		{"nothing", "", "nothing to work out", true},
		{"an equals sign alone", " = ", "nothing to work out", true},
		{"an unknown function", "wire-drup amps=80", "did you mean wire-drop?", true},
		{"nothing like it", "sandwich a=1", "`calc` lists them", true},
		{"missing values", "wire-drop amps=80", "it needs run and size. Type it such as wire-drop amps=80A run=3m size=25mm2", true},
		{"an unknown parameter", "wire-drop amp=80 run=3m size=25mm2", "it has no amp (did you mean amps?); it needs amps.", true},
		{"given twice", "fuse-next amps=8 amps=9", "amps is given twice", true},
		{"given without a value", "fuse-next amps=", "amps has no value", true},
		{"values without names", "wire-drop 80 3 25", "each value is typed with its name", true},
		{"a wire of two meanings", "wire-drop amps=80 run=3m size=10", "type 10 mm2 or 10 AWG", false},
		{"another quantity", "wire-drop amps=80V run=3m size=25mm2", "amps: \"80V\" is volts, and I asked for amps.", false},
		{"no figure", "fuse-next amps=lots", "amps: I can't read a value in \"lots\"", false},
		{"an unknown word", "joint-rth size=25mm2 seat=one_cabel", "did you mean one-cable?", false},
		{"outside the domain", "wire-drop amps=-80 run=3m size=25mm2", "wire-drop: a current cannot be below zero", false},
		{"a dead battery kind", "rest-low chemistry=other-lithium system=12V", "no general figures hold", false},
		{"divided by zero", "= 1 V / 0 V", "nothing can be divided by 0", false},
		{"divided by a difference of zero", "= 1 V / (5 A - 5 A)", "5 A - 5 A is 0", false},
		{"unlike units", "= 12 V + 3 A", "the two sides of + have unlike units: V and A", false},
		{"farads or Fahrenheit", "= 10 F * 2 V", "farads or degrees Fahrenheit", false},
		{"a prefix alone", "= 4.7k * 2 A", "write kohm, kW or kelvin", false},
		{"a unit without a figure", "= V / 2 A", "V has no figure in front of it", false},
		{"an unknown word in arithmetic", "= foo + 1", "foo is neither a value nor a function", false},
		{"a function that is misspelt", "= wire_drob(1 A, 1 m, 4 mm2, 20 C)", "did you mean wire_drop?", false},
		{"a function without brackets", "= fuse_next + 1", "write its values in brackets behind it", false},
		{"an unknown unit", "= 12 furlongs", "\"furlongs\" is no unit that is known here", false},
		{"thousands or decimals", "= 1,260 V / 2", "type 1260 V or 1.260 V", false},
		{"two values side by side", "= 12 V 3 A", "two values stand side by side", false},
		{"a sign that is none", "= 5 V & 2", "& is not part of the language", false},
		{"a bracket left open", "= (5 V", "", false},
		{"a quote left open", "= torque('M8)", "a quoted word has no end", false},
		{"too many brackets", "= " + strings.Repeat("(", 60) + "1" + strings.Repeat(")", 60), "brackets are nested deeper than 50", false},
		{"too long", "= 1" + strings.Repeat(" + 1", 100), "that is longer than 400 letters", false},
		{"too many values", "= 1" + strings.Repeat("+1", 80), "more than 60 values", false},
		{"a power that is no whole number", "= (4 V)^0.5", "a power is a whole number", false},
		{"beyond any number", "= ((1e12 V)^4)^4 * ((1e12 V)^4)^4", "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := Run(electric.Table(), c.text, Options{})
			if err == nil {
				t.Fatalf("%s gives %s", c.text, r.Result)
			}
			if !strings.Contains(err.Error(), c.says) {
				t.Errorf("says %q, want %q in it", err, c.says)
			}
			var u *UsageError
			if errors.As(err, &u) != c.usage {
				t.Errorf("%q: a matter of usage is %v, want %v", err, !c.usage, c.usage)
			}
			if valueNames.MatchString(err.Error()) || strings.Contains(err.Error(), "p_") {
				t.Errorf("shows a name that nobody typed: %q", err)
			}
		})
	}
}

// A meter's gain error is one for all readings of it, so it drops out of a ratio
// of like readings.
func TestMeterErrorIsShared(t *testing.T) {
	width := func(text, meter string) float64 {
		r, err := Run(electric.Table(), text, Options{Meter: meter})
		if err != nil {
			t.Fatal(err)
		}
		return (*r.High - *r.Low) / *r.Value
	}
	if bare, cheap := width("= 12.00 V / 6.000 V", ""), width("= 12.00 V / 6.000 V", "cheap"); cheap <= bare {
		t.Errorf("a cheap meter adds nothing: %g and %g", bare, cheap)
	}
	// 1 % of each, had each its own, would be 4 % of the ratio; what is left are
	// 3 counts on the range up to 20 V, twice, and half the last digits.
	if w := width("= 12.00 V / 6.000 V", "cheap"); w > 0.02 {
		t.Errorf("the ratio is uncertain to %g", w)
	}
}

func TestEveryFunctionHasAnExampleThatRuns(t *testing.T) {
	for _, e := range List(electric.Table()) {
		t.Run(e.Name, func(t *testing.T) {
			if e.Example == e.Name {
				t.Fatal("it has none: add it to electric/example.go")
			}
			for _, s := range []quantity.Style{{}, {US: true}, {ASCII: true}} {
				r, err := Run(electric.Table(), e.Example, Options{Style: s})
				if err != nil {
					t.Fatal(err)
				}
				if r.Result == "" || r.Formula == "" || strings.Contains(r.Result, "not known") {
					t.Errorf("no working: %+v", r)
				}
				if _, err := json.Marshal(r); err != nil {
					t.Error(err)
				}
				for _, l := range Lines(r.Rows()) {
					if s.ASCII && strings.IndexFunc(l, func(c rune) bool { return c > 0x7e }) >= 0 && !strings.Contains(l, "π") {
						t.Errorf("a sign outside ASCII: %s", l)
					}
				}
			}
			if e.Area != "plain" && (e.Source == "" || e.Domain == "" || e.Formula == "") {
				t.Errorf("the registry says too little: %+v", e)
			}
		})
	}
}

// What is taken when it is left out must be readable, and the list says it.
func TestUsualValuesAreRead(t *testing.T) {
	n := 0
	for _, f := range electric.Table() {
		for _, p := range f.Params {
			if p.Usual == "" {
				continue
			}
			n++
			if _, err := read(p.Usual, p); err != nil {
				t.Errorf("%s %s: %v", f.Name, p.Name, err)
			}
			if e := entry(f); !strings.Contains(e.signature(), "["+Dashed(p.Name)+"]") {
				t.Errorf("%s: the list does not say that %s may be left out", f.Name, p.Name)
			}
		}
	}
	if n == 0 {
		t.Error("there are none: the test tests nothing")
	}
}

func TestLine(t *testing.T) {
	for _, c := range []struct {
		name, text string
		is         bool
		first      string // of the answer
	}{
		{"arithmetic", "= 0.180 V / 42.0 A", true, "0.180 V / 42.0 A = 4.29 mΩ"},
		{"arithmetic without a space", "=2*3", true, "2 × 3 = 6"},
		{"a call", "calc fuse-next amps=52", true, "Next standard fuse rating"},
		{"arithmetic behind calc", "calc 2 * 3", true, "2 × 3 = 6"},
		{"calc alone", "calc", true, "Type = 0.18 V / 42 A, or a function: calc wire-drop amps=80 run=3m size=25mm2"},
		{"an area", "Calc fuse", true, "fuse"},
		{"a function alone", "calc wire-drop", true, "wire-drop: Drop over a round trip"},
		{"an error is an answer", "= 1 V / 0 V", true, "Division: 0 V is 0, and nothing can be divided by 0."},
		{"a name keeps its letters", "calc wire-drop amps=8", true, "wire-drop: it needs run and size. Type it such as wire-drop amps=80A run=3m size=25mm2."},
		{"too long", "= " + strings.Repeat("1", 500), true, "That is longer than 400 letters: work it out in parts."},
		{"an answer", "180 mV", false, ""},
		{"a word that begins alike", "calculator shows 12", false, ""},
		{"nothing", "", false, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			is, answer := Line(electric.Table(), c.text, Options{})
			if is != c.is {
				t.Fatalf("for the calculator: %v", is)
			}
			if is && (len(answer) == 0 || answer[0] != c.first) {
				t.Errorf("answers %q, want %q first", answer, c.first)
			}
		})
	}
}

func TestAreas(t *testing.T) {
	got := strings.Join(Areas(electric.Table()), " ")
	if want := "wire fuse joint inrush battery pv inverter plain"; got != want {
		t.Errorf("areas are %s, want %s", got, want)
	}
	if _, ok := Find(electric.Table(), "Wire-Drop"); !ok {
		t.Error("wire-drop is not found")
	}
	if all, n := List(electric.Table()), len(formula.NewScope(electric.Table()).Funcs()); len(all) != n {
		t.Errorf("lists %d of %d functions", len(all), n)
	}
}
