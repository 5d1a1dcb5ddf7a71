package session

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"hotlug/engine/walk"
)

func TestRoundTrip(t *testing.T) {
	s, id, _ := written(t, 50)
	h, got, rep, err := s.Read(id)
	if err != nil || !rep.Sound() || rep.Torn != 0 {
		t.Fatalf("Read: %v, %+v", err, rep)
	}
	want := head()
	want.Format, want.ID = Format, id
	if !reflect.DeepEqual(h, want) {
		t.Errorf("header is %+v, want %+v", h, want)
	}
	same(t, "read", got, answers(50))
}

func TestResumeGoesOn(t *testing.T) {
	s, id, _ := written(t, 7)
	j, got, rep, err := s.Resume(strings.ToUpper(id))
	if err != nil || rep.Torn != 0 {
		t.Fatalf("Resume: %v, %+v", err, rep)
	}
	same(t, "resumed", got, answers(7))
	if err := j.Event(walk.Event{Kind: walk.EvBack, At: day.Add(-time.Hour)}); err != nil { // the clock was set back
		t.Fatal(err)
	}
	if err := j.Note("seen", day); err != nil {
		t.Fatal(err)
	}
	if err := j.Said("LIKELY", day); err != nil {
		t.Fatal(err)
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	_, got, _, err = s.Read(id)
	if err != nil || len(got) != 10 || got[7].Event.Kind != walk.EvBack || got[8].Note != "seen" || got[9].Printed.Text != "LIKELY" || got[9].N != 10 {
		t.Errorf("after going on: %v, %+v", err, got[7:])
	}
	if err := j.Note("late", day); err == nil {
		t.Error("a closed journal takes a note")
	}
}

func TestTornAtEveryByte(t *testing.T) {
	s, id, file := written(t, 50)
	want, lines := answers(50), ends(file)
	for cut := range len(file) {
		s.put(t, id, file[:cut])
		whole, torn := 0, cut
		for _, e := range lines {
			if e <= cut {
				whole, torn = whole+1, cut-e
			}
		}
		_, got, rep, err := s.Read(id)
		if whole == 0 {
			var d *DamagedError
			if !errors.As(err, &d) {
				t.Fatalf("cut at %d, inside the first line: error is %v, want a DamagedError", cut, err)
			}
			continue
		}
		if err != nil || !rep.Sound() || rep.Torn != torn {
			t.Fatalf("cut at %d: %v, %+v, want %d torn bytes", cut, err, rep, torn)
		}
		same(t, "cut", got, want[:whole-1])
	}
}

// Resuming a torn session cuts the rest off and goes on behind the last whole
// line.
func TestResumeTorn(t *testing.T) {
	s, id, file := written(t, 6)
	lines := ends(file)
	for _, cut := range []int{lines[4], lines[4] + 1, lines[5] - 1, lines[6] - 1} {
		s.put(t, id, file[:cut])
		j, got, rep, err := s.Resume(id)
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		if torn := cut - lines[len(got)]; rep.Torn != torn {
			t.Errorf("cut at %d: %d torn bytes are told, want %d", cut, rep.Torn, torn)
		}
		n := len(got)
		if err := j.Note("after", day); err != nil {
			t.Fatal(err)
		}
		j.Close()
		_, got, rep, err = s.Read(id)
		if err != nil || rep.Torn != 0 || !rep.Sound() || len(got) != n+1 || got[n].Note != "after" || got[n].N != n+1 {
			t.Errorf("cut at %d, after going on: %v, %+v, %d entries", cut, err, rep, len(got))
		}
	}
}

// A power cut can leave a file longer than what was written, filled with zeros.
func TestTornWithZeros(t *testing.T) {
	s, id, file := written(t, 6)
	s.put(t, id, append(bytes.Clone(file), make([]byte, 4096)...))
	j, got, rep, err := s.Resume(id)
	if err != nil || rep.Torn != 4096 || len(got) != 6 {
		t.Fatalf("%v, %+v, %d entries", err, rep, len(got))
	}
	j.Close()
	if !bytes.Equal(s.file(t, id), file) {
		t.Error("the zeros have not been cut off")
	}
}

func TestFlippedBits(t *testing.T) {
	s, id, file := written(t, 50)
	want := answers(50)
	seed := uint32(1)
	for range 1000 {
		seed = seed*1664525 + 1013904223
		bit := int(seed>>3) % (len(file) * 8)
		bad := bytes.Clone(file)
		bad[bit/8] ^= 1 << (bit % 8)
		s.put(t, id, bad)
		_, got, rep, err := s.Read(id)
		if err == nil && rep.Sound() {
			t.Fatalf("bit %d of byte %d (%q): nothing is reported", bit%8, bit/8, file[bit/8])
		}
		for _, e := range got {
			if e.N < 1 || e.N > 50 || !reflect.DeepEqual(e, want[e.N-1]) {
				t.Fatalf("bit %d of byte %d: entry %d is silently wrong: %+v", bit%8, bit/8, e.N, e)
			}
		}
		if err == nil && len(got) < 48 {
			t.Fatalf("bit %d of byte %d: only %d of 50 entries are read", bit%8, bit/8, len(got))
		}
		j, _, _, err := s.Resume(id)
		if err == nil {
			j.Close()
			t.Fatalf("bit %d of byte %d: a damaged session is opened for more", bit%8, bit/8)
		}
		if !bytes.Equal(s.file(t, id), bad) {
			t.Fatalf("bit %d of byte %d: the damaged file has been changed", bit%8, bit/8)
		}
	}
}

func TestDamageIsToldByLine(t *testing.T) {
	s, id, file := written(t, 6)
	lines := bytes.SplitAfter(file, []byte("\n"))
	join := func(ls ...[]byte) []byte { return bytes.Join(ls, nil) }
	other, _ := seal(map[string]any{"n": 3, "remark": "x"}, MaxLine)
	empty, _ := seal(Entry{N: 3}, MaxLine)
	long := append(bytes.Repeat([]byte("x"), MaxLine+5), '\n')
	for _, c := range []struct {
		name string
		file []byte
		want string
		left int
	}{
		{"a line of something else", join(lines[0], lines[1], []byte("hello\n"), lines[3], lines[4]), "line 3 has no checksum", 3},
		{"a line is missing", join(lines[0], lines[1], lines[3]), "line 3 is out of order: entry 3 comes straight after 1", 2},
		{"a line twice", join(lines[0], lines[1], lines[1], lines[2]), "line 3 is out of order: entry 1 comes after 1", 2},
		{"two lines swapped", join(lines[0], lines[2], lines[1]), "line 2 is out of order: entry 2 comes straight after 0; line 3 is out of order: entry 1 comes after 2", 1},
		{"a line too long", join(lines[0], lines[1], long, lines[3]), "line 3 is too long", 2},
		{"a member that the format does not have", join(lines[0], lines[1], lines[2], other), `line 4 is not of this format: json: unknown field "remark"`, 2},
		{"an empty entry", join(lines[0], lines[1], lines[2], empty), "line 4 holds no event, no note, no photo and nothing printed", 2},
		{"an empty line", join(lines[0], lines[1], []byte("\n"), lines[2]), "line 3 has no checksum", 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.put(t, id, c.file)
			_, got, rep, err := s.Read(id)
			if err != nil || rep.Damaged() != c.want || len(got) != c.left {
				t.Errorf("%v: %q and %d entries, want %q and %d", err, rep.Damaged(), len(got), c.want, c.left)
			}
			var d *DamagedError
			j, kept, _, err := s.Resume(id)
			if !errors.As(err, &d) || j != nil || len(kept) != c.left {
				t.Errorf("Resume: %v with %d entries, want a DamagedError with %d", err, len(kept), c.left)
			}
		})
	}
}

func TestFirstLine(t *testing.T) {
	s, id, file := written(t, 2)
	rest := file[ends(file)[0]:]
	header := func(change func(*Header)) []byte {
		h := head()
		h.Format, h.ID = Format, id
		change(&h)
		b, err := seal(h, MaxHeader)
		if err != nil {
			t.Fatal(err)
		}
		return append(b, rest...)
	}
	for _, c := range []struct {
		name, want string
		file       []byte
	}{
		{"empty file", "does not hold even its first line", nil},
		{"no header", "its first line is not of this format", rest},
		{"another session's", "holds session \"0000000-000\"", header(func(h *Header) { h.ID = "0000000-000" })},
		{"format 0", "there is no format 0", header(func(h *Header) { h.Format = 0 })},
		{"newer", "written by a newer Hotlug (format 3; this one reads up to 2)", header(func(h *Header) { h.Format = 3 })},
		{"newer, with another checksum", "written by a newer Hotlug (format 9;", []byte(`{"format":9,"seal":"zz"}` + "\n")},
		{"binary", "has no checksum", []byte("\x7fELF\x00\x00\n\xff")},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.put(t, id, c.file)
			if _, _, _, err := s.Read(id); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("Read: %v, want %q", err, c.want)
			}
			if _, _, _, err := s.Resume(id); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("Resume: %v, want %q", err, c.want)
			}
			if !bytes.Equal(s.file(t, id), c.file) {
				t.Error("the file has been changed")
			}
		})
	}
}

func TestOneWriter(t *testing.T) {
	s := store(t)
	j, err := s.Create(head())
	if err != nil {
		t.Fatal(err)
	}
	var busy *BusyError
	if _, _, _, err := s.Resume(j.ID()); !errors.As(err, &busy) {
		t.Errorf("Resume of an open session: %v, want a BusyError", err)
	}
	if err := s.Delete(j.ID()); !errors.As(err, &busy) {
		t.Errorf("Delete of an open session: %v, want a BusyError", err)
	}
	if _, _, _, err := s.Read(j.ID()); err != nil {
		t.Errorf("Read of an open session: %v", err)
	}
	j.Close()
	again, _, _, err := s.Resume(j.ID())
	if err != nil {
		t.Fatalf("Resume after Close: %v", err)
	}
	again.Close()
}

func TestRemovedUnderneath(t *testing.T) {
	s := store(t)
	j, err := s.Create(head())
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	if err := os.RemoveAll(s.Dir()); err != nil {
		t.Fatal(err)
	}
	err = j.Note("kept?", day)
	var not *NotKeptError
	if !errors.As(err, &not) || !strings.Contains(err.Error(), "the note could not be kept in "+j.Path()+": the file or its folder is gone. ") {
		t.Errorf("got %v, want a NotKeptError that says so", err)
	}
}

func TestTooMuch(t *testing.T) {
	s := store(t)
	j, err := s.Create(head())
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	nan := 0.0
	nan /= nan
	for name, e := range map[string]Entry{
		"too long":  {Note: strings.Repeat("x", MaxLine)},
		"no number": {Event: &walk.Event{Kind: walk.EvAnswer, Value: &nan}},
		"empty":     {},
		"two":       {Note: "a", Printed: &Printed{}},
	} {
		var not *NotKeptError
		if err := j.Append(e); !errors.As(err, &not) {
			t.Errorf("%s: %v, want a NotKeptError", name, err)
		}
	}
	j.end = MaxFile - 10
	if err := j.Note("x", day); !errors.Is(err, errFull) {
		t.Errorf("beyond the largest file: %v", err)
	}
	if i, _ := os.Stat(j.Path()); i.Size() > 2000 {
		t.Errorf("the refused entries have left %d bytes", i.Size())
	}
}

func TestPrivate(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // permissions are kept another way there
	}
	s, id, _ := written(t, 1)
	for path, want := range map[string]os.FileMode{s.Dir(): 0o700, s.path(id): 0o600, filepath.Join(s.Dir(), id+lockSuffix): 0o600} {
		i, err := os.Stat(path)
		if err != nil || i.Mode().Perm() != want {
			t.Errorf("%s: %v %v, want %o", path, err, i.Mode(), want)
		}
	}
}

func TestListAndDelete(t *testing.T) {
	s := store(t)
	if got, err := s.List(); err != nil || len(got) != 0 {
		t.Fatalf("list of a folder that is not there: %v, %v", got, err)
	}
	var ids []string
	for i := range 3 {
		h := head()
		h.Created = day.Add(time.Duration(i) * time.Minute)
		j, err := s.Create(h)
		if err != nil {
			t.Fatal(err)
		}
		j.Event(walk.Event{Kind: walk.EvComplaint, Symptom: "hot-joint", Words: "melting", At: day})
		j.Append(Entry{At: day.Add(time.Hour), Printed: &Printed{Finding: "worn-holder", Outcome: "found"}})
		j.Close()
		ids = append(ids, j.ID())
	}
	for _, stranger := range []string{"notes.txt", "x.jsonl", "CON.jsonl", "1nb5w2q-7tm.jsonl.bak"} {
		os.WriteFile(filepath.Join(s.Dir(), stranger), []byte("x"), 0o600)
	}
	os.WriteFile(s.path("0000000-000"), []byte("rubbish\n"), 0o600)
	os.Mkdir(s.path("0000001-000"), 0o700)
	got, err := s.List()
	if err != nil || len(got) != 5 {
		t.Fatalf("%v, %d sessions, want 5: %+v", err, len(got), got)
	}
	for i, id := range []string{ids[2], ids[1], ids[0]} {
		g := got[i]
		if g.ID != id || g.Err != nil || g.Symptom != "hot-joint" || g.Words != "melting" || g.Finding != "worn-holder" || g.Outcome != "found" ||
			g.Events != 1 || g.Rig != "hut-01" || !g.Last.Equal(day.Add(time.Hour)) {
			t.Errorf("session %d is %+v, want %s", i, g, id)
		}
	}
	for _, g := range got[3:] {
		if g.Err == nil {
			t.Errorf("%s is listed as sound", g.ID)
		}
	}
	if err := s.Delete(ids[1]); err != nil {
		t.Fatal(err)
	}
	var missing *MissingError
	if err := s.Delete(ids[1]); !errors.As(err, &missing) {
		t.Errorf("deleting twice: %v, want a MissingError", err)
	}
	if got, _ = s.List(); len(got) != 4 {
		t.Errorf("%d sessions after deleting one, want 4", len(got))
	}
}

func TestIDs(t *testing.T) {
	id, err := NewID(day, bytes.NewReader([]byte{0xff, 0xff}))
	if err != nil || id != "1mt81rr-zzz" {
		t.Errorf("got %q, %v", id, err)
	}
	later, _ := NewID(day.Add(time.Second), bytes.NewReader([]byte{0, 0}))
	if later <= id {
		t.Errorf("%q does not sort after %q", later, id)
	}
	for _, at := range []time.Time{{}, time.Unix(-5, 0), time.Unix(1<<40, 0)} {
		if id, err := NewID(at, bytes.NewReader([]byte{1, 2})); err != nil || !valid(id) {
			t.Errorf("at %v: %q, %v", at, id, err)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"1nb5w2q-7tm", "1nb5w2q-7tm"},
		{" 1NB5W2Q7TM ", "1nb5w2q-7tm"},
		{"INB5W2Q-OLI", "1nb5w2q-011"},
		{"", ""}, {"..", ""}, {"../../etc/passwd", ""}, {"/etc/passwd", ""}, {"con", ""}, {"nul", ""}, {"1nb5w2q/7tm", ""}, {`1nb5w2q\7tm`, ""},
		{"1nb5w2q-7t", ""}, {"1nb5w2q-7tmm", ""}, {"1-nb5w2q7tm", ""}, {"1nb5w2q--7tm", "1nb5w2q-7tm"}, {"1nb5w2u-7tm", ""}, {"1nb5w2q-7t\x00", ""},
		{"1nb5w2q-7tm.jsonl", ""}, {strings.Repeat("1", 1<<20), ""}, {"..nb5w2q-7tm", ""}, {"1nb5w2q:7tm", ""},
	} {
		got, err := ParseID(c.text)
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%.40q: got %q, %v, want %q", c.text, got, err, c.want)
		}
	}
	s, _, _ := written(t, 1)
	for _, bad := range []string{"../x", "/etc/passwd", "", "nul"} {
		_, _, _, err1 := s.Read(bad)
		_, _, _, err2 := s.Resume(bad)
		if err1 == nil || err2 == nil || s.Delete(bad) == nil {
			t.Errorf("%q is taken for an id", bad)
		}
	}
}

func TestDefaultDir(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_DATA_HOME", dir)
	s, err := Open("")
	if err != nil || s.Dir() != filepath.Join(dir, "hotlug", "sessions") {
		t.Errorf("got %v, %v", s, err)
	}
	file := filepath.Join(dir, "file")
	os.WriteFile(file, nil, 0o600)
	if _, err := Open(file); err == nil || !strings.Contains(err.Error(), "is no folder") {
		t.Errorf("a file as folder: %v", err)
	}
	if s, err := Open(filepath.Join(file, "below")); err == nil {
		var not *NotKeptError
		if _, err := s.Create(head()); !errors.As(err, &not) {
			t.Errorf("a folder below a file: %v, want a NotKeptError", err)
		}
	}
}

// Journals of every format version stay readable.
func TestFixtures(t *testing.T) {
	s, err := Open("testdata")
	if err != nil {
		t.Fatal(err)
	}
	h, got, rep, err := s.Read("1mt81rr-zzz")
	if err != nil || !rep.Sound() || rep.Torn != 0 || h.Format != 1 {
		t.Fatalf("format 1: %v, %+v", err, rep)
	}
	same(t, "format 1", got, answers(10))
}

func TestWriteWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ticket.md")
	for _, text := range []string{"one", "two, longer"} {
		if err := WriteWhole(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if b, _ := os.ReadFile(path); string(b) != text {
			t.Errorf("holds %q, want %q", b, text)
		}
	}
	var not *NotKeptError
	if err := WriteWhole(filepath.Dir(path), nil); !errors.As(err, &not) {
		t.Errorf("a folder: %v, want a NotKeptError", err)
	}
	if err := WriteWhole(filepath.Join(path, "x"), nil); !errors.As(err, &not) {
		t.Errorf("below a file: %v, want a NotKeptError", err)
	}
	if names, _ := os.ReadDir(filepath.Dir(path)); len(names) != 1 {
		t.Errorf("%d files are left, want one", len(names))
	}
}

func FuzzRead(f *testing.F) {
	const id = "1mt81rr-zzz"
	fixture, err := os.ReadFile(filepath.Join("testdata", id+suffix))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(fixture)
	f.Add(fixture[:len(fixture)/2])
	f.Add(fixture[ends(fixture)[0]:])
	f.Add([]byte("{\"format\":7}\n"))
	f.Add([]byte("\n\n\x00"))
	f.Fuzz(func(t *testing.T, file []byte) {
		last := 0
		_, rep, end, err := scan(bytes.NewReader(file), id, entry, func(e Entry) error {
			if e.N <= last {
				t.Errorf("entry %d comes after %d", e.N, last)
			}
			last = e.N
			return e.check()
		})
		if err != nil {
			return
		}
		if end > int64(len(file)) || rep.Torn > 0 && end+int64(rep.Torn) != int64(len(file)) {
			t.Errorf("%d bytes: ends at %d with %d torn", len(file), end, rep.Torn)
		}
		if rep.Sound() {
			// What is sound is cut after the last line and reads the same again.
			n := 0
			_, again, _, err := scan(bytes.NewReader(file[:end]), id, entry, func(Entry) error { n++; return nil })
			if err != nil || again.Torn != 0 || !again.Sound() || n != last {
				t.Errorf("cut to %d bytes: %v, %+v, %d entries, want %d", end, err, again, n, last)
			}
		}
	})
}

func BenchmarkAppend(b *testing.B) {
	s, err := Open(filepath.Join(b.TempDir(), "s"))
	if err != nil {
		b.Fatal(err)
	}
	j, err := s.Create(head())
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	e := answers(1)[0]
	for b.Loop() {
		if err := j.Append(e); err != nil {
			b.Fatal(err)
		}
	}
}
