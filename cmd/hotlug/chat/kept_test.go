package chat

import (
	"strings"
	"testing"
	"time"
)

// minutes is a diary of what was concluded.
type minutes struct {
	diary
	said []string
}

func (m *minutes) Said(c Concluded, _ time.Time) error {
	what := c.Finding + " " + c.Status
	if c.TakenBack {
		what = c.Finding + " taken back"
	}
	if c.Outcome != "" {
		what = "ends " + c.Outcome
	}
	m.said = append(m.said, what)
	return nil
}

// What became of each finding is kept, once each time that it changes.
func TestConclusionsAreKept(t *testing.T) {
	g := knowledge(t)
	for _, c := range []struct {
		name  string
		lines string
		want  string
	}{
		{"told and left", "nothing charges, sun is out|no|2|quit", "pv-switch-off likely"},
		{"told, and shown again", "nothing charges, sun is out|no|2|why|so far||quit", "pv-switch-off likely"},
		{"told, for later", "nothing charges, sun is out|no|2|later", "pv-switch-off likely, ends found"},
		{"proven", "nothing charges, sun is out|no|2|done|bulk|18.2", "pv-switch-off likely, pv-switch-off proven, ends found"},
		{"taken back", "nothing charges, sun is out|no|2|back|quit", "pv-switch-off likely, pv-switch-off taken back"},
		{"taken back and told again", "nothing charges, sun is out|no|2|back|2|later", "pv-switch-off likely, pv-switch-off taken back, pv-switch-off likely, ends found"},
		{"stop-work", "my battery is on fire|yes|1|quit", "fire-or-smoke handed over, ends stopped"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := &minutes{}
			talk := New(Options{Graph: g, Rec: m, Clock: time.Now, Line: &typist{lines: strings.Split(c.lines, "|")}})
			talk.Run(t.Context())
			if got := strings.Join(m.said, ", "); got != c.want {
				t.Errorf("kept is %q, want %q", got, c.want)
			}
		})
	}
}
