package calc

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/formula"
	"hotlug/engine/quantity"
)

var registry = electric.Table()

var noNumber = regexp.MustCompile(`(?i)\b(nan|[-+]?inf(inity)?)\b|∞|not known`)

func checkScreen(t *testing.T, text string, o Options) {
	t.Helper()
	is, answer := Line(registry, text, o)
	if !is {
		t.Fatalf("%q is not taken for the calculator", text)
	}
	for _, l := range answer {
		if noNumber.MatchString(l) && !noNumber.MatchString(text) {
			t.Errorf("%s\nshows %s", text, l)
		}
	}
}

// odd are figures at and beyond the edges of what functions hold for.
var odd = []string{"0", "-1", "1", "-0.5", "1e-15", "1e12", "-1e12", "3", "0.001", "25", "100", "-40", "1e6", "about 20"}

func TestNoNaNOrInfReachesAScreen(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	meters := []string{"", "hand", "cheap", "clamp"}
	for _, f := range formula.NewScope(electric.Table()).Funcs() {
		for range 25 {
			text := "calc " + Dashed(f.Name)
			for _, p := range f.Params {
				v := odd[r.IntN(len(odd))]
				if len(p.Choices) > 0 {
					v = p.Choices[r.IntN(len(p.Choices))]
				} else if p.Unit.Same(quantity.MustUnit("mm2")) {
					v += " mm2"
				}
				text += " " + p.Name + "=" + v
			}
			checkScreen(t, text, Options{Meter: meters[r.IntN(len(meters))], Style: quantity.Style{US: r.IntN(2) == 0}})
		}
	}
	terms := []string{"0 V", "1e12 V", "1e-15 A", "0.0 A", "1e12 h", "5", "0", "1e12", "-3 C", "2 mm2", "3 %", "fuse_next(0 A)", "abs(0 V)", "1e12 mV/K"}
	for range 2500 {
		text := "= " + terms[r.IntN(len(terms))]
		for range 1 + r.IntN(5) {
			sign := []string{" + ", " - ", " * ", " / "}[r.IntN(4)]
			text += sign + terms[r.IntN(len(terms))]
			if r.IntN(4) == 0 {
				text = "= (" + text[2:] + fmt.Sprintf(")^%d", r.IntN(9)-4)
			}
		}
		checkScreen(t, text, Options{Meter: meters[r.IntN(len(meters))]})
	}
}

// Whatever is typed, there is an answer of one line or more, without figures that
// are none and without names that nobody typed.
func FuzzLine(f *testing.F) {
	for _, s := range []string{"0.180 V / 42.0 A", "wire-drop amps=80 run=3m size=2/0 awg", "(42 A)² * 4.3 mohm", "3 ft 6 in + 2 m", "max(1,2)",
		"-5 C", "torque('M8')", "12 V * 3 %", "~5 V x 2", "5 mV/K*10K", "1,260 V", "fuse-next 52", "wire", "a=b c=d", "((", "2 uH/3 s", "1e99 V^4", "\x00", "é=1", "½ in"} {
		f.Add(s, uint8(0))
	}
	f.Fuzz(func(t *testing.T, text string, how uint8) {
		o := Options{Style: quantity.Style{US: how&1 > 0, ASCII: how&2 > 0}}
		if how&4 > 0 {
			o.Meter = "hand"
		}
		start := "= "
		if how&8 > 0 {
			start = "calc "
		}
		is, answer := Line(registry, start+text, o)
		if !is || len(answer) == 0 {
			t.Fatalf("%q has no answer", start+text)
		}
		if r, err := Run(registry, start+text, o); err == nil && noNumber.MatchString(r.Result) {
			t.Fatalf("%q shows %q", start+text, r.Result)
		}
		for _, l := range answer {
			if strings.TrimSpace(l) == "" {
				t.Fatalf("%q answers with an empty line", start+text)
			}
			if valueNames.MatchString(l) && !valueNames.MatchString(text) {
				t.Fatalf("%q shows a name of its own: %q", start+text, l)
			}
		}
	})
}
