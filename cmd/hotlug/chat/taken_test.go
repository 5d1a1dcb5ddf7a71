package chat

import (
	"strings"
	"testing"

	"hotlug/engine/walk"
)

// A fix that sets a fact says what it takes to be so, and `change` takes another.
func TestFactsTakenOverByAFix(t *testing.T) {
	const fix = "my fuse thing is melting; no; 1; 7; no; 42; 16 mm2; 60; no; done; 180mv; 42; done"
	c, l, _ := talk(t, "", split(fix)...)
	was, ok := c.state.Stands("fuse_rating_a", "")
	if !ok || was.Origin != walk.Worked {
		t.Fatalf("the fuse is %+v; the chat was\n%s", was, l.after(0))
	}
	const says = "From here on I take as the amps printed on the fuse: 60 A. If it is another, type `change amps printed on the fuse`."
	if got := flat(l.after(len(split(fix)) - 1)); !strings.Contains(got, says) {
		t.Errorf("%q is not among:\n%s", says, got)
	}
	for _, k := range []struct {
		name, more, said string
		amps             float64
	}{
		{"by its id", "change fuse_rating_a; 50 A", "The amps printed on the fuse: 50 A.", 50},
		{"by words", "change amps printed on the fuse; 50", "50 A.", 50},
		{"no number", "change fuse_rating_a; a big one", notAnAnswer, 60},
		{"one that can't be", "change fuse_rating_a; 5000 A", "can't be", 60},
		{"a danger word", "change fuse_rating_a; it smokes", "You said: \"it smokes\".", 60},
	} {
		t.Run(k.name, func(t *testing.T) {
			c, l, _ := talk(t, "", split(fix+"; "+k.more)...)
			if r, _ := c.state.Stands("fuse_rating_a", ""); r.Value != k.amps {
				t.Errorf("the fuse is taken for %v A, want %v", r.Value, k.amps)
			}
			if got := flat(l.after(len(split(fix)) + 1)); !strings.Contains(got, k.said) {
				t.Errorf("%q is not among:\n%s", k.said, got)
			}
		})
	}
}

func flat(s string) string { return strings.Join(strings.Fields(s), " ") }
