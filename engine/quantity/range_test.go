package quantity

import (
	"fmt"
	"math"
	"testing"
)

func TestJudge(t *testing.T) {
	l := Limits{PossibleLo: 0, PossibleHi: 60, PlausibleLo: 9, PlausibleHi: 16}
	for _, c := range []struct {
		v    float64
		want Judgement
	}{
		{12.6, Fine}, {9, Fine}, {16, Fine}, {16 + 1e-12, Fine}, {8.99, Odd}, {16.01, Odd}, {0, Odd}, {60, Odd},
		{-0.1, Impossible}, {60.1, Impossible}, {math.NaN(), Impossible}, {math.Inf(1), Impossible}, {math.Inf(-1), Impossible},
	} {
		if got := l.Judge(c.v); got != c.want {
			t.Errorf("Judge(%v) = %v, want %v", c.v, got, c.want)
		}
	}
}

func TestSlips(t *testing.T) {
	battery := Limits{0, 80, 9, 16}
	for _, c := range []struct {
		name string
		kind string
		v    float64
		l    Limits
		want string
	}{
		{"missed point", "volts", 126, battery, "[12.6]"},
		{"missed point, two decimals", "volts", 1260, battery, "[12.6]"},
		{"point one too early", "volts", 1.26, battery, "[12.6]"},
		{"point two too early", "volts", 0.126, battery, "[12.6]"},
		{"volts for millivolts", "volts", 13200, battery, "[13.2]"},
		{"millivolts missed, or the point", "volts", 180, Limits{-60, 60, 0, 30}, "[0.18 18 1.8]"},
		{"probes the other way round", "volts", -12.6, battery, "[12.6]"},
		{"milliamps missed", "amps", 35, Limits{0, 400, 0, 0.5}, "[0.035 0.35]"},
		{"small figure: point before prefix", "amps", 12, Limits{0, 400, 0, 5}, "[1.2 0.12 0.012]"},
		{"fahrenheit for celsius", "celsius", 130, Limits{-40, 200, -20, 90}, "[54.44 13]"},
		{"sign of a temperature", "celsius", -55, Limits{-60, 200, 0, 60}, "[55]"},
		{"mm typed for m", "metres", 3500, Limits{0, 1e4, 0.1, 30}, "[3.5]"},
		{"nothing fits", "volts", 7e6, battery, "[]"},
		{"zero", "volts", 0, battery, "[]"},
		{"no number", "volts", math.NaN(), battery, "[]"},
		{"infinite", "volts", math.Inf(1), battery, "[]"},
	} {
		var got []string
		for _, v := range Slips(c.v, kindOf(t, c.kind), c.l) {
			got = append(got, fmt.Sprintf("%.4g", v))
		}
		if s := fmt.Sprint(got); s != c.want {
			t.Errorf("%s: Slips(%v) = %s, want %s", c.name, c.v, s, c.want)
		}
	}
}
