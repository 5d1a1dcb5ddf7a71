package chat

import (
	"strings"
	"testing"

	"hotlug/cmd/hotlug/term"
)

// measuring are walks to a measurement: with a rig file, without one, where nobody
// knows the place, and at one.
var measuring = []struct{ name, rig, lines string }{
	{"with a rig file", "hut-01", "it isn't charging; no; 11; nothing on it is lit"},
	{"without one", "", "it isn't charging; no; 11; nothing on it is lit; 12 V"},
	{"where nobody knows the place", "", "hot fuse holder; no; lug; don't know; no; no"},
	{"at a place", "hut-01", "hot fuse holder; no; fuse holder; 2; 7; no; no; done"},
}

// Where the probes go is drawn, and said in a sentence besides, which is all that
// is left where drawings are not wanted.
func TestWhereDraws(t *testing.T) {
	for _, width := range []int{40, 80} {
		for _, drawings := range []bool{true, false} {
			for _, m := range measuring {
				l := &typist{lines: append(split(m.lines), "where"), width: width}
				o := options(t, m.rig)
				o.Line, o.Rec, o.NoDrawings = l, &diary{}, !drawings
				run(t, o)
				said := l.after(len(split(m.lines)))
				if got := strings.Contains(said, "[red]") && strings.Contains(said, "[black]"); got != drawings {
					t.Errorf("%s at %d: drawn is %v:\n%s", m.name, width, got, said)
				}
				flat := strings.Join(strings.Fields(said), " ")
				if !strings.Contains(flat, "Red probe on ") || !strings.Contains(flat, "Red stands ") && !strings.Contains(flat, "Red and black stand ") {
					t.Errorf("%s at %d: it is not said where the probes stand:\n%s", m.name, width, said)
				}
				for _, line := range strings.Split(said, "\n") {
					if term.Columns(line) > width {
						t.Errorf("%s: %q is wider than %d", m.name, line, width)
					}
				}
			}
		}
	}
}
