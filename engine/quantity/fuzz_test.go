package quantity

import (
	"errors"
	"strings"
	"testing"
	"unicode"
)

func FuzzRead(f *testing.F) {
	for i, s := range []string{"12.6", "12,6 V", "1,260", "130F", "2/0 awg", "3'6 1/2\"", "2k2", "1h30", "about 40", "12.O", "12-13", "−12", "1.2e3",
		"half an hour", "½ in", "12 V battery", "~", "#10", "1/0", "0.L", "12.6?", "e5", "5e", "1e99", "mm2", "°", "M", "4M7 ohm", "\x00", "ſ 12", "İ12", "12 dcİ"} {
		f.Add(s, uint8(i))
	}
	all := Kinds()
	f.Fuzz(func(t *testing.T, text string, which uint8) {
		k := all[int(which)%len(all)]
		got, err := Read(text, k)
		if err == nil {
			if !finite(got.Value) || !finite(got.Digit) || got.Digit <= 0 {
				t.Fatalf("%s %q: value %v, digit %v", k.ID, text, got.Value, got.Digit)
			}
			if s := Show(got.Value, k.Unit, Style{}); s == NotKnown {
				t.Fatalf("%s %q: read but shown as %q", k.ID, text, s)
			}
			return
		}
		var ask *AskBack
		if !errors.As(err, &ask) {
			t.Fatalf("%s %q: the error is %T", k.ID, text, err)
		}
		if ask.Say == "" || strings.ContainsFunc(ask.Say, unicode.IsControl) {
			t.Fatalf("%s %q: says %q", k.ID, text, ask.Say)
		}
		for _, s := range ask.Suggest {
			if _, err := Read(s, k); err != nil {
				t.Fatalf("%s %q: suggests %q, which is asked back: %v", k.ID, text, s, err)
			}
		}
	})
}
