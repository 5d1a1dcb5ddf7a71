package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// typing is one way of typing and what must come of it. An empty ask means that
// it is taken; otherwise it must be asked back with ask inside the sentence.
type typing struct {
	text    string
	value   float64
	digit   float64
	ask     string
	suggest string // suggestions, joined with " | "
}

func kindOf(t testing.TB, id string) Kind {
	t.Helper()
	k, ok := KindByID(id)
	if !ok {
		t.Fatalf("no kind %q", id)
	}
	return k
}

func close9(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1e-9, math.Abs(b)) }

func checkTypings(t *testing.T, kind string, cases []typing) {
	t.Helper()
	k := kindOf(t, kind)
	for _, c := range cases {
		t.Run(kind+"/"+c.text, func(t *testing.T) {
			got, err := Read(c.text, k)
			if c.ask == "" {
				if err != nil {
					t.Fatalf("asked back: %v", err)
				}
				if !close9(got.Value, c.value) || !close9(got.Digit, c.digit) {
					t.Fatalf("read %v (digit %v), want %v (digit %v)", got.Value, got.Digit, c.value, c.digit)
				}
				return
			}
			var ask *AskBack
			if !errors.As(err, &ask) {
				t.Fatalf("read %v, want to be asked back about %q", got.Value, c.ask)
			}
			if !strings.Contains(ask.Say, c.ask) {
				t.Fatalf("said %q, want %q in it", ask.Say, c.ask)
			}
			if s := strings.Join(ask.Suggest, " | "); s != c.suggest {
				t.Fatalf("suggested %q, want %q", s, c.suggest)
			}
		})
	}
}

func ok(text string, value, digit float64) typing {
	return typing{text: text, value: value, digit: digit}
}

func asked(text, say string, suggest ...string) typing {
	return typing{text: text, ask: say, suggest: strings.Join(suggest, " | ")}
}

func TestReadVolts(t *testing.T) {
	checkTypings(t, "volts", []typing{
		ok("12.6", 12.6, 0.1),
		ok("12,6", 12.6, 0.1),
		ok("12.60", 12.6, 0.01),
		ok("12,6 V", 12.6, 0.1),
		ok("12.6V", 12.6, 0.1),
		ok("12.6v", 12.6, 0.1),
		ok(" 12.6 v ", 12.6, 0.1),
		ok("12.6 V.", 12.6, 0.1),
		ok("12.6.", 12.6, 0.1),
		ok("12.", 12, 1),
		ok("12", 12, 1),
		ok("0", 0, 1),
		ok("0.00", 0, 0.01),
		ok(".5", 0.5, 0.1),
		ok(",5", 0.5, 0.1),
		ok("0,125", 0.125, 0.001),
		ok("1.260", 1.26, 0.001),
		ok("1,26", 1.26, 0.01),
		ok("1,2600", 1.26, 0.0001),
		ok("1234,567", 1234.567, 0.001),
		ok("1,260.5", 1260.5, 0.1),
		ok("1.260,5", 1260.5, 0.1),
		ok("1,234,567", 1234567, 1),
		ok("012.6", 12.6, 0.1),
		ok("12600mV", 12.6, 0.001),
		ok("12600 mv", 12.6, 0.001),
		ok("180 mv", 0.18, 0.001),
		ok("180mV", 0.18, 0.001),
		ok("180 MV", 0.18, 0.001),
		ok("180 Mv", 0.18, 0.001),
		ok("180 millivolts", 0.18, 0.001),
		ok("180 milli volts", 0.18, 0.001),
		ok("180 milli-volts", 0.18, 0.001),
		ok("4.3 mV", 0.0043, 0.0001),
		ok("500 µV", 0.0005, 1e-6),
		ok("500 μV", 0.0005, 1e-6),
		ok("500uV", 0.0005, 1e-6),
		ok("0.23 kV", 230, 10),
		ok("12.6 volt", 12.6, 0.1),
		ok("12.6 Volts", 12.6, 0.1),
		ok("12.6 VOLTS", 12.6, 0.1),
		ok("12.6 volts dc", 12.6, 0.1),
		ok("12.6 Vdc", 12.6, 0.1),
		ok("12.6 VDC", 12.6, 0.1),
		ok("12.6 V (DC)", 12.6, 0.1),
		ok("12.6 dc volts", 12.6, 0.1),
		ok("12.6 dc", 12.6, 0.1),
		ok("12.6-volt", 12.6, 0.1),
		ok("it is 12.6", 12.6, 0.1),
		ok("It's 12.6 V now", 12.6, 0.1),
		ok("the meter shows 12.6 volts", 12.6, 0.1),
		ok("i get 12.6", 12.6, 0.1),
		ok("reads 12.6", 12.6, 0.1),
		ok("= 12.6 V", 12.6, 0.1),
		ok("V = 12.6", 12.6, 0.1),
		ok("U=12.6", 12.6, 0.1),
		ok("volts: 12.6", 12.6, 0.1),
		ok("12.6 V exactly", 12.6, 0.1),
		ok("12.6!", 12.6, 0.1),
		ok("-12", -12, 1),
		ok("−12", -12, 1),
		ok("–12", -12, 1),
		ok("- 12", -12, 1),
		ok("minus 12", -12, 1),
		ok("negative 12.6 V", -12.6, 0.1),
		ok("+12", 12, 1),
		ok("plus 12", 12, 1),
		ok("-180 mV", -0.18, 0.001),
		ok("-0.0", 0, 0.1),
		ok("1.2e1", 12, 1),
		ok("1.26E1 V", 12.6, 0.1),
		ok("180e-3", 0.18, 0.001),
		ok("12V6", 12.6, 0.1),
		ok("12.6\u00a0V", 12.6, 0.1),
		ok("12.6\u202fV", 12.6, 0.1),
		ok("12.6\tV", 12.6, 0.1),
		ok("twelve volts", 12, 1),
		ok("zero", 0, 1),
		ok("0V", 0, 1),

		asked("", "Nothing was typed"),
		asked("   ", "Nothing was typed"),
		asked("1,260", "part thousands", "1260 V", "1.260 V"),
		asked("1,260 mV", "part thousands", "1260 mV", "1.260 mV"),
		asked("-1,260", "part thousands", "-1260 V", "-1.260 V"),
		asked("12,345 V", "part thousands", "12345 V", "12.345 V"),
		asked("12.6.1", "more than one point"),
		asked("1.234.567", "more than one point"),
		asked("12,6,1", "more than one comma"),
		asked("1.2,3.4", "points and commas"),
		asked("12.O", "a letter among the figures", "12.0 V"),
		asked("1o", "a letter among the figures", "10 V"),
		asked("O.5", "a letter among the figures", "0.5 V"),
		asked("l2.6", "a letter among the figures", "12.6 V"),
		asked("I2.6 V", "a letter among the figures", "12.6 V"),
		asked("-12.O", "a letter among the figures", "-12.0 V"),
		asked("12 A", "is amps, and I asked for volts"),
		asked("12 amps", "is amps"),
		asked("60 W", "is watts"),
		asked("54 °C", "is a temperature"),
		asked("40 %", "is per cent"),
		asked("10 awg", "is a wire gauge"),
		asked("3 m", "alone is no unit here", "3 mV"),
		asked("12 k", "unit", "12 kV"),
		asked("12.6 13.1", "more than one figure"),
		asked("12.6 and 13.1", "more than one figure"),
		asked("12.6/13.1", "more than one figure"),
		asked("12 6", "more than one figure", "12.6 V"),
		asked("12. 6", "more than one figure", "12.6 V"),
		asked("1 260", "more than one figure", "1260 V"),
		asked("1/2", "more than one figure"),
		asked("1 2 3 4 5 6 7", "several figures"),
		asked("12-13", "a range"),
		asked("12 - 13", "a range"),
		asked("12–13 V", "a range"),
		asked("12 to 13", "a range"),
		asked("12 V to 13 V", "a range"),
		asked("12..13", "a range"),
		asked("12...13", "a range"),
		asked("12.6 ± 0.1", "a range"),
		asked("12.6 +/- 0.1", "a range"),
		asked("between 12 and 13", "a bound"),
		asked("less than 5", "a bound"),
		asked("> 12", "a bound"),
		asked("≥12", "a bound"),
		asked("over 12", "a bound"),
		asked("at least 12", "a bound"),
		asked("NaN", "no figure"),
		asked("nan", "no figure"),
		asked("inf", "no figure"),
		asked("-Inf", "no figure"),
		asked("∞", "no figure"),
		asked("OL", "can't show it"),
		asked("0.L", "can't show it"),
		asked("O.L", "can't show it"),
		asked("overload", "can't show it"),
		asked("-", "can't read a value"),
		asked(".", "can't read a value"),
		asked("V", "can't read a value"),
		asked("none", "can't read a value"),
		asked("----", "can't read a value"),
		asked("--12", "can't read a value"),
		asked("not 12.6", "can't read a value"),
		asked("12.6 bananas", "don't know"),
		asked("12.6 V at the posts", "not the rest", "12.6 V"),
		asked("12 V battery", "not the rest", "12 V"),
		asked("twelve point six", "can't read a value"),
		asked("12.6?", "not sure", "12.6", "about 12.6"),
		asked("12-", "don't know"),
		asked("$12", "can't read a value"),
		asked("0x1F", "more than one figure"),
		asked("1e99", "beyond anything"),
		asked("1e-99", "beyond anything"),
		asked("99999999999999", "beyond anything"),
		asked("99999999999999999999999999", "more digits"),
		asked("0.00000000000000000001", "more digits"),
		asked(strings.Repeat("9", MaxTyped+1), "longer than a reading"),
		asked("12.6 V "+strings.Repeat("x", MaxTyped), "longer than a reading"),
		asked("12\x00.6", "no letter or figure"),
		asked("12.6\x1b[A", "no letter or figure"),
		asked("12\n13", "no letter or figure"),
		asked("12.6 \xff", "can't read some of those letters"),
		asked("１２", "can't read a value"),
	})
}

func TestReadAmps(t *testing.T) {
	checkTypings(t, "amps", []typing{
		ok("42", 42, 1),
		ok("42A", 42, 1),
		ok("42 amps", 42, 1),
		ok("42 amp", 42, 1),
		ok("42 amperes", 42, 1),
		ok("4.2 a", 4.2, 0.1),
		ok("35 mA", 0.035, 0.001),
		ok("35 ma", 0.035, 0.001),
		ok("35 MA", 0.035, 0.001),
		ok("35 milliamps", 0.035, 0.001),
		ok("1.2 kA", 1200, 100),
		ok("42 adc", 42, 1),
		ok("I = 42 A", 42, 1),
		ok("I = 42", 42, 1),
		asked("42 V", "is volts"),
		asked("42 Ah", "is amp-hours"),
		asked("4O A", "a letter among the figures", "40 A"),
	})
}

func TestReadOhms(t *testing.T) {
	checkTypings(t, "ohms", []typing{
		ok("0.3 ohm", 0.3, 0.1),
		ok("0,3 Ω", 0.3, 0.1),
		ok("4.7 ohms", 4.7, 0.1),
		ok("10ohm", 10, 1),
		ok("4.3 mΩ", 0.0043, 0.0001),
		ok("4.3 mohm", 0.0043, 0.0001),
		ok("4.3 milliohms", 0.0043, 0.0001),
		ok("2.2 kohm", 2200, 100),
		ok("2.2 kΩ", 2200, 100),
		ok("2.2k", 2200, 100),
		ok("2.2 K", 2200, 100),
		ok("2k2", 2200, 100),
		ok("2K2", 2200, 100),
		ok("2k2 ohm", 2200, 100),
		ok("2k2Ω", 2200, 100),
		ok("4R7", 4.7, 0.1),
		ok("4r7", 4.7, 0.1),
		ok("0R05", 0.05, 0.01),
		ok("47R", 47, 1),
		ok("1M5", 1.5e6, 1e5),
		ok("2.2 M", 2.2e6, 1e5),
		ok("2.2 MΩ", 2.2e6, 1e5),
		ok("2.2 Mohm", 2.2e6, 1e5),
		ok("2.2 megohm", 2.2e6, 1e5),
		ok("2.2 megaohms", 2.2e6, 1e5),
		ok("850 µΩ", 850e-6, 1e-6),
		asked("3 MOHM", "could be mohm or Mohm", "3 mohm", "3 Mohm"),
		asked("3 m", "alone is no unit here", "3 mohm"),
		asked("4m7", "more than one figure"),
		asked("OL", "can't show it"),
		asked("12 V", "is volts"),
	})
}

func TestReadPowerAndStore(t *testing.T) {
	checkTypings(t, "watts", []typing{
		ok("500 W", 500, 1),
		ok("500w", 500, 1),
		ok("500 watts", 500, 1),
		ok("0.5 kW", 500, 100),
		ok("0.5 kw", 500, 100),
		ok("2k", 2000, 1000),
		ok("300 Wp", 300, 1),
		ok("1.2 kWp", 1200, 100),
		ok("5 mW", 0.005, 0.001),
		asked("5 MW", "could be mW or kW", "5 mW", "5 kW"),
		asked("5 kWh", "is watt-hours"),
		asked("100 W each", "not the rest", "100 W"),
	})
	checkTypings(t, "watt-hours", []typing{
		ok("2.4 kWh", 2400, 100),
		ok("2.4 kwh", 2400, 100),
		ok("500 Wh", 500, 1),
		ok("500 watt hours", 500, 1),
		ok("500 watt-hours", 500, 1),
		ok("1.2 MWh", 1.2e6, 1e5),
		ok("3600 J", 1, 1.0/3600),
		asked("2,400 Wh", "part thousands", "2400 Wh", "2.400 Wh"),
		asked("1.2 MWH", "could be mWh or MWh", "1.2 mWh", "1.2 MWh"),
		asked("500 W", "is watts"),
	})
	checkTypings(t, "amp-hours", []typing{
		ok("200ah", 200, 1),
		ok("200 Ah", 200, 1),
		ok("200 AH", 200, 1),
		ok("200 amp hours", 200, 1),
		ok("200 amp-hours", 200, 1),
		ok("5000 mAh", 5, 0.001),
		ok("5000 MAH", 5, 0.001),
		asked("200 A", "is amps"),
	})
	checkTypings(t, "farads", []typing{
		ok("100 µF", 100e-6, 1e-6),
		ok("100 uf", 100e-6, 1e-6),
		ok("100 UF", 100e-6, 1e-6),
		ok("4u7", 4.7e-6, 1e-7),
		ok("4.7 microfarad", 4.7e-6, 1e-7),
		ok("10 nF", 10e-9, 1e-9),
		ok("10 mF", 0.01, 0.001),
		ok("1 F", 1, 1),
		asked("100 mfd", "could be uF or mF", "100 uF", "100 mF"),
		asked("100 MF", "could be uF or mF", "100 uF", "100 mF"),
	})
}
