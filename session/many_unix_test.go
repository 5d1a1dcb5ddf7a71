//go:build unix

package session

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	"hotlug/engine/walk"
)

// many fills a store with n sessions as a hire fleet has them: a rig file, its
// facts, a complaint, answers and what was concluded, some 6 KB each. They are
// written without syncing, as nobody waits for them.
func many(b testing.TB, n int) *Store {
	b.Helper()
	s, err := Open(filepath.Join(b.TempDir(), "sessions"))
	if err != nil {
		b.Fatal(err)
	}
	if err := os.MkdirAll(s.dir, 0o700); err != nil {
		b.Fatal(err)
	}
	for i := range n {
		if err := os.WriteFile(s.path(manyID(i)), manyFile(b, i), 0o600); err != nil {
			b.Fatal(err)
		}
	}
	return s
}

func manyID(i int) string {
	return digits(day.Unix()+int64(i)*600, timeChars) + "-" + digits(int64(i), otherChars)
}

func manyFile(b testing.TB, i int) []byte {
	b.Helper()
	at := day.Add(time.Duration(i) * 10 * time.Minute)
	h := head()
	h.Format, h.ID, h.Created = Format, manyID(i), at
	h.Rig.Name = fmt.Sprintf("hut-%02d", i%60)
	for range 12 {
		h.Rig.Text += "  - {id: main-fuse, class: fuse, name: the main fuse holder, rating: 125 A, wire: 35 mm2}\n"
	}
	var entries []Entry
	event := func(e walk.Event) {
		e.At = at.Add(time.Duration(len(entries)) * time.Second)
		entries = append(entries, Entry{At: e.At, Event: &e})
	}
	v := 0.18
	for k := range 12 {
		event(walk.Event{Kind: walk.EvFact, Reading: fmt.Sprint("fact_", k), Value: &v, Text: "0.18 V", Step: 0.01, Origin: walk.File})
	}
	event(walk.Event{Kind: walk.EvComplaint, Symptom: "hot-joint", Words: "the fuse thing gets hot"})
	for k := range 12 {
		event(walk.Event{Kind: walk.EvAnswer, Reading: fmt.Sprint("reading_", k), Place: "main-fuse", Value: &v, Text: "180 mV", Step: 0.001, Meter: "hand"})
	}
	finding := []string{"worn-holder", "loose-lug", "pv-switch-off", "sound"}[i%4]
	entries = append(entries, Entry{At: at, Printed: &Printed{Text: "LIKELY: it is so", Finding: finding, Status: "likely"}})
	if i%3 > 0 {
		entries = append(entries, Entry{At: at, Printed: &Printed{Text: "PROVEN", Finding: finding, Status: "proven"}})
	}
	entries = append(entries, Entry{At: at, Printed: &Printed{Text: "the walk ended", Outcome: "found"}})
	out, err := seal(h, MaxHeader)
	if err != nil {
		b.Fatal(err)
	}
	for k := range entries {
		entries[k].N = k + 1
		line, err := seal(entries[k], MaxLine)
		if err != nil {
			b.Fatal(err)
		}
		out = append(out, line...)
	}
	return out
}

// cpu is what this process has used, in seconds: on a busy machine it says more
// than the clock.
func cpu(b *testing.B) float64 {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// BenchmarkEach lists 100,000 sessions: the first time, when every journal is
// read, and again. It reports the largest heap seen on the way.
func BenchmarkEach(b *testing.B) {
	const n = 100_000
	s := many(b, n)
	list := func(b *testing.B) {
		var most uint64
		begun := cpu(b)
		for range b.N {
			count := 0
			err := s.Each(func(sum Summary) error {
				if count++; count%5000 == 0 {
					var m runtime.MemStats
					runtime.ReadMemStats(&m)
					most = max(most, m.HeapInuse)
				}
				return sum.Err
			})
			if err != nil || count != n {
				b.Fatalf("%d sessions; %v", count, err)
			}
		}
		b.ReportMetric(float64(most)/(1<<20), "MB-heap")
		b.ReportMetric(0, "ns/op")
		b.ReportMetric((cpu(b)-begun)/float64(b.N), "cpu-s/list")
		b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/list")
	}
	b.Run("first", func(b *testing.B) {
		if err := os.Remove(filepath.Join(s.dir, cacheName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			b.Fatal(err)
		}
		list(b) // with -benchtime 1x: from the second time on it is not the first
	})
	b.Run("again", list)
}
