package ticket_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hotlug/session/ticket"
)

// Every golden ticket is read back, and walked again comes to the same.
func TestReadBack(t *testing.T) {
	for _, s := range stories {
		t.Run(s.name, func(t *testing.T) {
			x := s.told(t)
			back, err := ticket.Read([]byte(inJSON(t, x)))
			if err != nil {
				t.Fatal(err)
			}
			again, _, taken := ticket.Retell(knowledge(t), *back.Walk, back.About())
			if taken != len(back.Walk.Events) {
				t.Errorf("%d of %d events taken", taken, len(back.Walk.Events))
			}
			if d := ticket.Same(x, again); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestReadRefuses(t *testing.T) {
	const head = `{"format": 1, "walk": {"units": "metric", "events": [], "places": `
	for _, c := range []struct{ name, text, want string }{
		{"no JSON", "format: 1", "no ticket"},
		{"no format", "{}", "format: 1"},
		{"another format", `{"format": 7}`, "format 7"},
		{"no walk", `{"format": 1}`, "does not hold its walk"},
		{"no events", `{"format": 1, "walk": {"units": "us"}}`, "does not hold its walk"},
		{"a place without a name", head + `[{"id": "a", "class": "joint"}]}}`, "number 1"},
		{"a place of no class", head + `[{"id": "a", "class": "thing", "name": "a"}]}}`, "number 1"},
		{"a place twice", head + `[{"id": "a", "class": "joint", "name": "a"}, {"id": "a", "class": "joint", "name": "b"}]}}`, "number 2"},
		{"too large", strings.Repeat(" ", ticket.MostTicket+1), "larger than 8 MiB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := ticket.Read([]byte(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
		})
	}
}

// Whatever somebody sends as a ticket is refused or walked, and can be written.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob("testdata/*.json")
	if err != nil || len(files) == 0 {
		f.Fatal("no tickets to begin with", err)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	g := knowledge(f)
	f.Fuzz(func(t *testing.T, b []byte) {
		x, err := ticket.Read(b)
		if err != nil {
			return
		}
		w, about := ticket.Redact(g, *x.Walk, x.About())
		for _, again := range []ticket.Ticket{retold(g, *x.Walk, x.About()), retold(g, w, about)} {
			onlyShown(t, markdown(t, again))
			onlyShown(t, page(t, again))
		}
	})
}
