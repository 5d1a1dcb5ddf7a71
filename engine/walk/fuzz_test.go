package walk_test

import (
	"testing"

	"hotlug/engine/walk"
)

// bytesAs rolls the dice from bytes; when they run out, everything is 0.
func bytesAs(b []byte) dice {
	return func(n int) int {
		if len(b) == 0 || n < 2 {
			return 0
		}
		x := int(b[0])
		b = b[1:]
		if n > 256 && len(b) > 0 {
			x, b = x<<8|int(b[0]), b[1:]
		}
		return x % n
	}
}

// FuzzEvents walks the built-in knowledge with events made of bytes, fitting ones
// and others: no state may panic, and the events must lead to the same state
// again.
func FuzzEvents(f *testing.F) {
	g := real()
	for i := range g.SymptomOrder {
		f.Add([]byte{byte(i), 1, 0, 1, 1, 1, 200, 3, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, i%2 == 0)
	}
	f.Add([]byte("a long break, smoke, and a hot lug under load 0123456789"), true)
	f.Add([]byte{5, 1, 9, 2, 0, 3, 1, 4, 2, 5, 0, 6, 1, 7, 2, 8, 0, 9, 1, 10, 2, 11, 3, 12, 4, 13, 5}, false)
	f.Fuzz(func(t *testing.T, b []byte, file bool) {
		if len(b) > 200 {
			b = b[:200]
		}
		given := walk.Setup{}
		if file {
			given.Places = hut
		}
		d := bytesAs(b)
		s := walk.Start(g, given)
		for range len(b) {
			e := d.reply(g, s)
			if d(4) == 3 {
				e = d.stir(g, s)
			}
			s, _ = walk.Step(g, s, e)
		}
		if why := differs(g, s, again(t, g, given, s.Events())); why != "" {
			t.Errorf("walked again, the events differ in %s", why)
		}
		if s.Outcome() != walk.Running {
			if why := broken(g, s); why != "" {
				t.Error(why)
			}
		}
	})
}
