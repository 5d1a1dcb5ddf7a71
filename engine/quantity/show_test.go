package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestShow(t *testing.T) {
	metric, us, ascii := Style{}, Style{US: true}, Style{ASCII: true}
	for _, c := range []struct {
		v    float64
		unit string
		s    Style
		want string
	}{
		{12.6, "V", metric, "12.6 V"},
		{13.28, "V", metric, "13.28 V"},
		{13.2849, "V", metric, "13.28 V"},
		{48, "V", metric, "48 V"},
		{0.18, "V", metric, "180 mV"},
		{0.0043, "V", metric, "4.3 mV"},
		{0.9999, "V", metric, "1 V"},
		{-0.18, "V", metric, "-180 mV"},
		{0, "V", metric, "0 V"},
		{math.Copysign(0, -1), "V", metric, "0 V"},
		{230.4, "V", metric, "230 V"},
		{42, "A", metric, "42 A"},
		{52.5, "A", metric, "52.5 A"},
		{0.35, "A", metric, "0.35 A"},
		{0.035, "A", metric, "35 mA"},
		{0.18 / 42, "ohm", metric, "4.3 mΩ"},
		{0.18 / 42, "ohm", ascii, "4.3 mohm"},
		{2200, "ohm", metric, "2.2 kΩ"},
		{1.5e6, "ohm", metric, "1.5 MΩ"},
		{0.18 * 42, "W", metric, "7.6 W"},
		{1250, "W", metric, "1250 W"},
		{12600, "W", metric, "12.6 kW"},
		{2400, "Wh", metric, "2.4 kWh"},
		{200, "Ah", metric, "200 Ah"},
		{54, "degC", metric, "54 °C"},
		{54, "degC", ascii, "54 C"},
		{54.4444444, "degC", us, "130 °F"},
		{54.4444444, "degC", Style{US: true, ASCII: true}, "130 F"},
		{15, "K", metric, "15 K"},
		{15, "K", us, "27 °F"},
		{3.5, "m", metric, "3.5 m"},
		{0.35, "m", metric, "35 cm"},
		{0.05, "m", metric, "50 mm"},
		{1.0668, "m", us, "3 ft 6 in"},
		{0.0381, "m", us, "1.5 in"},
		{3.6575, "m", us, "12 ft"},
		{30.48, "m", us, "100 ft"},
		{35, "mm2", metric, "35 mm²"},
		{35, "mm2", ascii, "35 mm2"},
		{0.75, "mm2", metric, "0.75 mm²"},
		{AWGArea(10), "mm2", metric, "5.26 mm²"},
		{AWGArea(10), "mm2", us, "10 AWG (5.26 mm²)"},
		{AWGArea(-1), "mm2", us, "2/0 AWG (67.4 mm²)"},
		{35, "mm2", us, "35 mm² (thicker than 2 AWG, thinner than 1 AWG)"},
		{150, "mm2", us, "150 mm² (thicker than 4/0 AWG)"},
		{30, "s", metric, "30 s"},
		{150, "s", metric, "2 min 30 s"},
		{0.25, "s", metric, "250 ms"},
		{90, "min", metric, "90 min"},
		{150, "min", metric, "2 h 30 min"},
		{0.5, "h", metric, "30 min"},
		{1.5, "h", metric, "1.5 h"},
		{96, "h", metric, "4 days"},
		{100e-6, "F", metric, "100 µF"},
		{100e-6, "F", ascii, "100 uF"},
		{0.0047, "F", metric, "4700 µF"},
		{40, "%", metric, "40 %"},
		{8, "Nm", metric, "8 Nm"},
		{8, "Nm", us, "70.8 in-lb"},
		{3, "1", metric, "3"},
		{1.25, "1", metric, "1.25"},
		{0.0175, "ohm/m", metric, "17.5 mΩ/m"},
		{1000, "W/m2", metric, "1000 W/m²"},
		{1000, "W/m2", ascii, "1000 W/m2"},
		{12, "m3/h", metric, "12 m³/h"},
		{500, "A2s", ascii, "500 A2s"},
		{math.NaN(), "V", metric, "not known"},
		{math.Inf(1), "A", metric, "not known"},
		{math.Inf(-1), "m", us, "not known"},
	} {
		if got := Show(c.v, MustUnit(c.unit), c.s); got != c.want {
			t.Errorf("Show(%v %s, %+v) = %q, want %q", c.v, c.unit, c.s, got, c.want)
		}
	}
}

func TestShowUnitsWithoutName(t *testing.T) {
	volt, metre, wh := MustUnit("V"), MustUnit("m"), MustUnit("Wh")
	for _, c := range []struct {
		name string
		v    float64
		u    Unit
		want string
	}{
		{"powers", 2.5, volt.Times(volt).Over(metre), "2.5 V²/m"},
		{"a scale is worked in", 2, wh.Times(metre), "7200 V·A·s·m"},
		{"a scale of a plain number", 2, MustUnit("h").Over(MustUnit("s")), "7200"},
	} {
		if got := Show(c.v, c.u, Style{}); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestShowWithin(t *testing.T) {
	for _, c := range []struct {
		v, half float64
		unit    string
		s       Style
		want    string
	}{
		{0.0043, 0.0002, "ohm", Style{}, "4.3 ± 0.2 mΩ"},
		{0.0043, 0.0002, "ohm", Style{ASCII: true}, "4.3 +/- 0.2 mohm"},
		{12.6, 0.093, "V", Style{}, "12.60 ± 0.10 V"},
		{12.6, 0.143, "V", Style{}, "12.60 ± 0.15 V"},
		{42, 6.5, "A", Style{}, "42 ± 7 A"},
		{1234, 150, "W", Style{}, "1230 ± 150 W"},
		{0, 0.005, "V", Style{}, "0 ± 5 mV"},
		{54, 2, "degC", Style{}, "54 ± 2 °C"},
		{50, 5, "degC", Style{US: true}, "122 ± 9 °F"},
		{3, 0, "A", Style{}, "3 A"},
		{3, math.NaN(), "A", Style{}, "3 A"},
		{3, math.Inf(1), "A", Style{}, "3 A"},
		{math.NaN(), 1, "A", Style{}, "not known"},
	} {
		got := ShowWithin(c.v, c.half, MustUnit(c.unit), c.s)
		if got != c.want {
			t.Errorf("ShowWithin(%v, %v %s) = %q, want %q", c.v, c.half, c.unit, got, c.want)
		}
	}
}

func TestShowTypedKeepsTheFigureTyped(t *testing.T) {
	for _, c := range []struct{ kind, text, want string }{
		{"amps", "4.27", "4.27 A"},
		{"amps", "42", "42 A"},
		{"volts", "12.345", "12.345 V"},
		{"volts", "180mV", "180 mV"},
		{"volts", "4.35 mV", "4.35 mV"},
		{"celsius", "21.5", "21.5 °C"},
		{"watts", "1234.5", "1234.5 W"},
	} {
		k := kindOf(t, c.kind)
		typed, err := Read(c.text, k)
		if err != nil {
			t.Fatal(err)
		}
		if got := ShowTyped(typed.Value, typed.Digit, k.Unit, Style{}); got != c.want {
			t.Errorf("%s: %q, want %q", c.text, got, c.want)
		}
	}
	if got := ShowTyped(math.NaN(), 0.1, One, Style{}); got != NotKnown {
		t.Errorf("NaN shown as %q", got)
	}
}

func TestShowExact(t *testing.T) {
	for _, c := range []struct {
		v    float64
		unit string
		s    Style
		want string
	}{
		{60, "A", Style{}, "60 A"},
		{7.5, "A", Style{}, "7.5 A"},
		{0.5, "A", Style{}, "0.5 A"},
		{0.75, "mm2", Style{}, "0.75 mm²"},
		{2.5, "mm2", Style{}, "2.5 mm²"},
		{0.1 + 0.2, "A", Style{}, "0.3 A"},
		{2200, "ohm", Style{ASCII: true}, "2200 ohm"},
		{AWGArea(2), "mm2", Style{US: true}, "2 AWG (33.63 mm²)"},
		{math.Inf(1), "A", Style{}, "not known"},
	} {
		if got := ShowExact(c.v, MustUnit(c.unit), c.s); got != c.want {
			t.Errorf("ShowExact(%v %s) = %q, want %q", c.v, c.unit, got, c.want)
		}
	}
}

func TestShowAtLeast(t *testing.T) {
	mm2 := MustUnit("mm2")
	for _, c := range []struct {
		v    float64
		s    Style
		want string
	}{
		{31, Style{US: true}, "2 AWG (33.6 mm²)"},
		{33.63, Style{US: true}, "2 AWG (33.6 mm²)"},
		{5, Style{US: true, ASCII: true}, "10 AWG (5.26 mm2)"},
		{31, Style{}, "31 mm²"},
		{200, Style{US: true}, "200 mm² (thicker than 4/0 AWG)"},
	} {
		if got := ShowAtLeast(c.v, mm2, c.s); got != c.want {
			t.Errorf("ShowAtLeast(%v, %+v) = %q, want %q", c.v, c.s, got, c.want)
		}
	}
}

// What Show prints, Read takes, and it is the same value to the digits shown.
func TestShownValuesReadBack(t *testing.T) {
	for _, k := range Kinds() {
		for _, s := range []Style{{}, {ASCII: true}, {US: true}, {US: true, ASCII: true}} {
			for _, m := range []float64{1, 1.26, 2.5, 4.3, 7.77, 9.996} {
				for e := -5; e <= 5; e++ {
					v := m * math.Pow(10, float64(e))
					if k.ID == "count" && v != math.Trunc(v) {
						continue
					}
					text, _, _ := strings.Cut(Show(v, k.Unit, s), " (t") // "(thicker than ...)"
					if name, _, gauge := strings.Cut(text, " ("); gauge {
						text = name
					}
					got, err := Read(text, k)
					if err != nil {
						t.Errorf("%s %v %+v: printed %q, which is asked back: %v", k.ID, v, s, text, err)
						continue
					}
					// Half a unit in the last place shown; a gauge stands for what is within 1 %.
					slack := 0.051*v + 0.51*got.Digit + 0.05*b2f(s.US && k.Unit.Point)
					if math.Abs(got.Value-v) > slack {
						t.Errorf("%s %v %+v: printed %q, read back %v", k.ID, v, s, text, got.Value)
					}
				}
			}
		}
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func TestASCIIStyleIsASCII(t *testing.T) {
	for _, symbol := range Symbols() {
		for _, v := range []float64{1e-7, 0.0043, 1.5, 54, 1234, 5e6} {
			for _, us := range []bool{false, true} {
				s := Style{US: us, ASCII: true}
				for _, text := range []string{Show(v, MustUnit(symbol), s), ShowWithin(v, v/10, MustUnit(symbol), s), ShowExact(v, MustUnit(symbol), s)} {
					for _, r := range text {
						if r > 126 || r < 32 {
							t.Errorf("%v %s printed as %q", v, symbol, text)
							break
						}
					}
				}
			}
		}
	}
}

// Every suggestion of an AskBack is a text that is taken.
func TestSuggestionsAreTaken(t *testing.T) {
	for _, k := range Kinds() {
		for _, text := range []string{"1,260", "-1,260", "12.O", "12 6", "1 260", "10", "0", "3 MOHM", "5 MW", "100 mfd", "1.2 MWH", "1:30",
			"12.6?", "3 m", "6 mm", "12 V battery", "1o ohm", "100 W each", "4 K", "l2"} {
			_, err := Read(text, k)
			var ask *AskBack
			if !errors.As(err, &ask) {
				continue
			}
			for _, s := range ask.Suggest {
				if _, err := Read(s, k); err != nil {
					t.Errorf("%s %q suggests %q, which is asked back: %v", k.ID, text, s, err)
				}
			}
		}
		for _, e := range strings.Split(k.example(), " or ") {
			if _, err := Read(e, k); err != nil {
				t.Errorf("%s: the example %q is asked back: %v", k.ID, e, err)
			}
		}
	}
}
