package session

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
)

// listed is the list with what can't be compared left out.
func listed(t *testing.T, s *Store) []Summary {
	t.Helper()
	list, err := s.List()
	if err != nil {
		t.Fatal(err)
	}
	for i := range list {
		list[i].Report = Report{}
	}
	return list
}

// few fills a store with a little more than is listed without a cache.
func few(t *testing.T) *Store {
	t.Helper()
	s := store(t)
	for i := range fewSessions + 6 {
		h := head()
		h.Created = day.Add(time.Duration(i) * time.Hour)
		j, err := s.Create(h)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range answers(6) {
			if err := j.Append(e); err != nil {
				t.Fatal(err)
			}
		}
		j.Close()
	}
	return s
}

// Whatever is done to the cache or to the sessions, the list is the one that the
// journals themselves give.
func TestCacheIsNeverTrusted(t *testing.T) {
	s := few(t)
	path := filepath.Join(s.dir, cacheName)
	bare := func() []Summary {
		t.Helper()
		ids, err := s.ids()
		if err != nil {
			t.Fatal(err)
		}
		var out []Summary
		for _, id := range ids {
			sum := s.summary(id)
			sum.Report = Report{}
			out = append(out, sum)
		}
		return out
	}
	change := func(f func(b []byte) []byte) func(t *testing.T) {
		return func(t *testing.T) {
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, f(b), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	ids, err := s.ids()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		do   func(t *testing.T)
	}{
		{"there is none yet", func(*testing.T) {}},
		{"it is fresh", func(*testing.T) {}},
		{"removed", func(t *testing.T) { os.Remove(path) }},
		{"empty", change(func([]byte) []byte { return nil })},
		{"cut in the middle", change(func(b []byte) []byte { return b[:len(b)/2] })},
		{"a flipped bit in every line", change(func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("worn-holder"), []byte("worn-holdes")) })},
		{"another format", change(func(b []byte) []byte { return bytes.Replace(b, []byte(`"format":1`), []byte(`"format":9`), 1) })},
		{"its lines in another order", change(func(b []byte) []byte {
			l := strings.SplitAfter(string(b), "\n")
			slices.Reverse(l[1 : len(l)-1])
			return []byte(strings.Join(l, ""))
		})},
		{"noise", change(func([]byte) []byte { return bytes.Repeat([]byte("\x00\xff\n{"), 5000) })},
		{"a folder in its place", func(t *testing.T) {
			os.Remove(path)
			if err := os.Mkdir(path, 0o700); err != nil {
				t.Fatal(err)
			}
		}},
		{"the folder is gone", func(t *testing.T) { os.Remove(path) }},
		{"a session goes on", func(t *testing.T) {
			j, entries, _, err := s.Resume(ids[3])
			if err != nil {
				t.Fatal(err)
			}
			defer j.Close()
			if err := j.Append(Entry{At: day, Printed: &Printed{Finding: "loose-lug", Status: "proven"}}); err != nil {
				t.Fatal(err, len(entries))
			}
		}},
		{"a session is deleted", func(t *testing.T) {
			if err := s.Delete(ids[5]); err != nil {
				t.Fatal(err)
			}
		}},
		{"a session is damaged", func(t *testing.T) {
			b, err := os.ReadFile(s.path(ids[7]))
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(s.path(ids[7]), bytes.Replace(b, []byte("hut-01"), []byte("hut-02"), 1), 0o600); err != nil {
				t.Fatal(err)
			}
		}},
		{"all are touched", func(t *testing.T) {
			left, err := s.ids()
			if err != nil {
				t.Fatal(err)
			}
			for _, id := range left {
				if err := os.Chtimes(s.path(id), day, day); err != nil {
					t.Fatal(err)
				}
			}
		}},
	} {
		c.do(t)
		want := bare()
		for _, again := range []string{"first", "again"} {
			got := listed(t, s)
			for i := range want {
				if i < len(got) && !reflect.DeepEqual(jsonOf(t, got[i]), jsonOf(t, want[i])) {
					t.Fatalf("%s, %s: session %d is\n%+v, want\n%+v", c.name, again, i, got[i], want[i])
				}
			}
			if len(got) != len(want) {
				t.Fatalf("%s, %s: %d sessions, want %d", c.name, again, len(got), len(want))
			}
		}
	}
	for _, e := range dirNames(t, s.dir) {
		if strings.HasPrefix(e, ".hotlug-") {
			t.Errorf("%s was left behind", e)
		}
	}
	if i, err := os.Stat(path); err != nil || i.Mode().Perm() != 0o600 {
		t.Errorf("the cache is %v, %v; it is to be private to the user", i, err)
	}
}

// A summary as far as it is printed, and whether it can be used.
func jsonOf(t *testing.T, s Summary) string {
	t.Helper()
	b, err := seal(s, MaxLine)
	if err != nil {
		t.Fatal(err)
	}
	if s.Err != nil {
		return string(b) + s.Err.Error()
	}
	return string(b)
}

func dirNames(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return out
}

// Few sessions need no file beside them.
func TestNoCacheForFew(t *testing.T) {
	s, _, _ := written(t, 5)
	listed(t, s)
	for _, n := range dirNames(t, s.dir) {
		if n == cacheName {
			t.Error("a cache was made for one session")
		}
	}
}

// A second list does not read the journals: one whose bytes are exchanged for
// others with its size and time of change kept shows what it came to before.
func TestCacheSparesReading(t *testing.T) {
	s := few(t)
	before := listed(t, s)
	id := before[10].ID
	i, err := os.Stat(s.path(id))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(s.path(id), bytes.Repeat([]byte("x"), int(i.Size())), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(s.path(id), i.ModTime(), i.ModTime()); err != nil {
		t.Fatal(err)
	}
	if got := listed(t, s)[10]; got.Err != nil || got.Finding != before[10].Finding {
		t.Errorf("it was read: %+v", got)
	}
	if _, _, _, err := s.Read(id); err == nil {
		t.Error("to read it is no error")
	}
}

func TestEnough(t *testing.T) {
	s := few(t)
	n := 0
	err := s.Each(func(Summary) error {
		if n++; n == 3 {
			return ErrEnough
		}
		return nil
	})
	if err != nil || n != 3 {
		t.Errorf("%d sessions, %v", n, err)
	}
}

// What was concluded, with the status that it had last.
func TestConcluded(t *testing.T) {
	for _, c := range []struct {
		name string
		said []Printed
		want string
	}{
		{"nothing", nil, ""},
		{"one", []Printed{{Finding: "a", Status: "likely"}}, "a likely"},
		{"proven later", []Printed{{Finding: "a", Status: "likely"}, {Finding: "a", Status: "proven"}}, "a proven"},
		{"two", []Printed{{Finding: "a", Status: "likely"}, {Finding: "b", Status: "possible"}, {Finding: "a", Status: "refuted"}}, "a refuted, b possible"},
		{"taken back", []Printed{{Finding: "a", Status: "likely"}, {Finding: "a", Status: TakenBack}, {Finding: "b", Status: "likely"}}, "b likely"},
		{"taken back that never was", []Printed{{Finding: "a", Status: TakenBack}}, ""},
		{"no finding", []Printed{{Text: "x", Outcome: "found"}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var sum Summary
			for _, p := range c.said {
				sum.note(Entry{At: day, Printed: &p})
			}
			var got []string
			for _, f := range sum.Findings {
				got = append(got, f.Finding+" "+f.Status)
			}
			if strings.Join(got, ", ") != c.want {
				t.Errorf("got %v, want %s", got, c.want)
			}
		})
	}
}

// A glance at a line gives what reading it gives, as far as a summary goes.
func FuzzGlance(f *testing.F) {
	for _, e := range answers(10) {
		line, err := seal(e, MaxLine)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(line[:len(line)-1])
	}
	f.Add([]byte(`{"n":1,"at":"2026-03-01T09:30:00Z","event":{"kind":"answer"}}`))
	f.Fuzz(func(t *testing.T, line []byte) {
		fast, err1 := glance(bytes.Clone(line))
		whole, err2 := entry(bytes.Clone(line))
		if err2 != nil { // what is sealed and yet of no format is found by reading only
			return
		}
		var a, b Summary
		a.note(fast)
		b.note(whole)
		if err1 != nil || fast.N != whole.N || jsonOf(t, a) != jsonOf(t, b) {
			t.Errorf("%s\nat a glance %+v, %v\nread %+v", line, fast, err1, whole)
		}
	})
}
