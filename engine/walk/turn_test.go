package walk_test

import "testing"

// Each finding tells what value would have turned it: one value, with its unit.
func TestTurns(t *testing.T) {
	for _, c := range []struct {
		name, then string
		say        [][2]string
		want       []string
	}{
		{"a limit", "{if: volts > 20, go: burnt}", [][2]string{{"volts", "40 V"}}, []string{"Volts: 40 V. Below 20 V it would not have been this."}},
		{"the last branch", "{if: volts > 20, go: loose}, {if: volts < 2, go: sound}", [][2]string{{"volts", "3 V"}, {"more", "1 V"}}, []string{"Volts: 3 V. Below 2 V it would not have been this."}},
		{"a formula, the nearer reading first", "{if: volts / more > 2, go: burnt}", [][2]string{{"volts", "30 V"}, {"more", "10 V"}}, []string{
			"Volts: 30 V. Below 20 V it would not have been this.", "More volts: 10 V. Above 15 V it would not have been this."}},
		{"nothing that could turn it", "{if: seen, go: burnt}", [][2]string{{"volts", "3 V"}, {"more", "1 V"}, {"seen", "yes"}}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := begin(t, sheet(t, "\nsteps:\n  one:\n    ask: [volts, more, seen]\n    then: ["+c.then+", {go: burnt}]\nfindings:"+ends))
			for _, s := range c.say {
				if p.p.Reading != nil && p.p.Reading.ID == s[0] {
					p.say(s[0], s[1])
				}
			}
			if len(p.s.Told()) == 0 {
				t.Fatalf("nothing is told; the walk wants %s", asks(p.p))
			}
			var got []string
			for _, x := range p.s.Turns(p.g, p.s.Told()[0]) {
				got = append(got, x.Say)
			}
			if len(got) != len(c.want) {
				t.Fatalf("turns are %q, want %q", got, c.want)
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Errorf("turn %d is %q, want %q", i, got[i], c.want[i])
				}
			}
		})
	}
}
