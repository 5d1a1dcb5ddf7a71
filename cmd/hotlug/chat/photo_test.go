package chat

import (
	"slices"
	"strings"
	"testing"
)

// A line that names a picture attaches it and leaves the question where it is, even
// if its name holds a danger word; one that names none is heard as any other.
func TestPhoto(t *testing.T) {
	for _, c := range []struct {
		name, line, says string
		kept             []string
		asks             string
	}{
		{"a path", "photo /home/x/smoke.jpg", "a copy, photo-1.jpg, 40 by 30 pixels", []string{"/home/x/smoke.jpg for where the heat or the melting is"}, "trouble_spot"},
		{"a path forced", ":photo /home/x/smoke.jpg", "a copy, photo-1.jpg", []string{"/home/x/smoke.jpg for where the heat or the melting is"}, "trouble_spot"},
		{"in quotes", "photo 'my lug.png'", "Attached", []string{"my lug.png for where the heat or the melting is"}, "trouble_spot"},
		{"dropped on the terminal", `photo my\ lug.png`, "Attached", []string{"my lug.png for where the heat or the melting is"}, "trouble_spot"},
		{"no picture", "photo page.jpg", "I can't attach page.jpg: it is neither a JPEG nor a PNG picture.", nil, "trouble_spot"},
		{"no file", "photo nowhere.jpg", "there is no such file", nil, "trouble_spot"},
		{"no path", "photo", "Type `photo` and the path", nil, "trouble_spot"},
		{"a danger told", "photo of the smoke that comes out", "Is that so right now?", nil, "danger_now"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := options(t, "")
			d := &diary{}
			l := &typist{lines: []string{"hot lug or fuse, something gets hot", "no", c.line}}
			o.Line, o.Rec = l, d
			chat := run(t, o)
			if said := l.after(2); !strings.Contains(strings.Join(strings.Fields(said), " "), c.says) {
				t.Errorf("it says %q, want %q", said, c.says)
			}
			if !slices.Equal(d.photos, c.kept) {
				t.Errorf("kept %q, want %q", d.photos, c.kept)
			}
			if chat.asked() != c.asks {
				t.Errorf("it asks for %q, want %q", chat.asked(), c.asks)
			}
		})
	}
}
