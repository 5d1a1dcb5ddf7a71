package chat

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/walk"
)

// Every command says something sensible at every kind of prompt, and those that
// only tell leave the prompt as it is.
func TestEveryCommandAtEveryPrompt(t *testing.T) {
	tells := []string{"why", "how", "where", "so far", "help", "list", "note the fridge was on", "again"}
	for _, m := range moments {
		for _, k := range tells {
			if k == "again" && (m.kind == walk.WantSure || m.kind == walk.WantCloseCall) {
				continue // an answer there
			}
			t.Run(m.name+"/"+k, func(t *testing.T) {
				line := k
				if m.kind == walk.WantComplaint && strings.Contains(k, "note") {
					line = ":" + k // there, only a line that is exactly a command is one
				}
				lines := append(split(m.lines), line)
				c, l, _ := talk(t, m.rig, lines...)
				said := l.after(len(lines) - 1)
				sensible(t, said)
				if c.state.Prompt().Kind != m.kind || c.asked() != m.asks {
					t.Errorf("the prompt is now %s %s", c.state.Prompt().Kind, c.asked())
				}
				if !strings.Contains(said, lastWords(c)) {
					t.Errorf("the question does not stand at the end:\n%s", said)
				}
			})
		}
	}
}

// lastWords is what must be on the screen while a prompt stands.
func lastWords(c *Chat) string {
	p := c.state.Prompt()
	switch {
	case p.Kind == walk.WantAnswer:
		return strings.Fields(p.Reading.Ask)[0]
	case p.Kind == walk.WantComplaint && len(c.list) == 0:
		return "What is wrong?"
	case p.Kind == walk.WantPlaces:
		return "yes / no"
	}
	return "Type"
}

func TestCommandsThatMove(t *testing.T) {
	for _, m := range moments {
		before, _, _ := talk(t, m.rig, split(m.lines)...)
		for _, k := range []string{"back", "change", "stop; neither", "stop; leave", "quit", ":quit", ":"} {
			t.Run(m.name+"/"+k, func(t *testing.T) {
				lines := append(split(m.lines), split(k)...)
				c, l, _ := talk(t, m.rig, lines...)
				said := strings.Join(l.shown[len(split(m.lines))+1:], "")
				sensible(t, said)
				same := c.state.Prompt().Kind == m.kind && c.asked() == m.asks
				switch {
				case k == "back" && m.kind != walk.WantComplaint:
					if got, want := len(c.state.Events()), len(before.state.Events())-1; got != want {
						t.Errorf("%d events stand, not %d", got, want)
					}
				case strings.HasPrefix(k, "stop"), strings.HasSuffix(k, "quit"), k == ":":
					if !same {
						t.Errorf("the prompt is now %s %s", c.state.Prompt().Kind, c.asked())
					}
				}
				if strings.HasSuffix(k, "quit") && !strings.Contains(said, "safe") && !strings.Contains(said, "get away") {
					t.Errorf("it does not say how to leave the rig:\n%s", said)
				}
				if strings.HasSuffix(k, "quit") && !strings.Contains(said, "Resume with `hotlug chat --resume") {
					t.Errorf("it does not say how to resume:\n%s", said)
				}
			})
		}
	}
}

// Whatever is typed at any prompt, something is said.
func TestNonsenseAtEveryPrompt(t *testing.T) {
	for _, m := range moments {
		if m.kind == walk.WantComplaint {
			continue
		}
		for _, text := range []string{"xyzzy", "17 bananas", "", "  ", "why not", "\x1b[2J", "-", "!", strings.Repeat("a ", 2000)} {
			t.Run(fmt.Sprintf("%s/%.12q", m.name, text), func(t *testing.T) {
				lines := append(split(m.lines), text)
				c, l, _ := talk(t, m.rig, lines...)
				sensible(t, l.after(len(lines)-1))
				if c.state.Prompt().Kind != m.kind || c.asked() != m.asks {
					t.Errorf("%q was taken as an answer", text)
				}
			})
		}
	}
}

// sensible says what no text may be.
func sensible(t *testing.T, said string) {
	t.Helper()
	switch {
	case strings.TrimSpace(said) == "":
		t.Error("nothing is said")
	case strings.Contains(said, "\x1b"):
		t.Errorf("an escape code is printed: %q", said)
	case strings.Contains(said, "%!"), strings.Contains(said, "<nil>"):
		t.Errorf("badly put together:\n%s", said)
	case strings.Contains(said, "``"):
		t.Errorf("an empty quotation:\n%s", said)
	}
}

func TestComplete(t *testing.T) {
	for _, m := range []struct{ name, rig, lines, begun, has string }{
		{"a choice", "", "hot fuse holder; no", "a f", "a fuse holder"},
		{"a choice in capitals", "", "hot fuse holder; no", "A F", "a fuse holder"},
		{"a command", "", "hot fuse holder; no", "wh", "why"},
		{"two words", "", "hot fuse holder; no", "so", "so far"},
		{"yes", "", "hot fuse holder; no; lug; 11", "y", "yes"},
		{"done", "hut-01", "it isn't charging; no; solar switch off", "d", "done"},
		{"a place", "hut-02", "hot fuse holder; no; fuse holder", "the main", "the main fuse holder"},
		{"a symptom", "", "", "nothing", "nothing charges the battery"},
	} {
		t.Run(m.name, func(t *testing.T) {
			c, _, _ := talk(t, m.rig, split(m.lines)...)
			if got := c.Complete(m.begun); !slices.Contains(got, m.has) {
				t.Errorf("%q gives %q", m.begun, got)
			}
			for _, w := range c.Complete(m.begun) {
				if !strings.HasPrefix(w, strings.ToLower(m.begun)) {
					t.Errorf("%q does not begin with %q", w, m.begun)
				}
			}
		})
	}
}
