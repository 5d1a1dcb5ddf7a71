package session

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"hotlug/engine/walk"
)

var day = time.Date(2026, 3, 1, 9, 30, 0, 0, time.UTC)

func head() Header {
	return Header{
		Created: day, Program: "test", Units: "metric",
		Knowledge: Knowledge{Version: "7", Hash: "abc", Layers: []Layer{{"built-in", "aa"}, {"fleet", "bb"}}},
		Rig:       &Rig{Name: "hut-01", Path: "/rigs/hut-01.yaml", Text: "format: 1\nbattery: {chemistry: lfp} # <&>\n"},
	}
}

// answers are n entries of all kinds, with text that could upset a reader.
func answers(n int) []Entry {
	texts := []string{"180 mV", "12,6 V", `a "quoted" \ one`, "line\nbreak\r\t\x00\x1b[31m", "ohm Ω 漢 \u202e", `,"sum":"00000000"}`, ""}
	var out []Entry
	for i := range n {
		at := day.Add(time.Duration(i) * time.Second)
		v := float64(i) * 0.1
		e := Entry{N: i + 1, At: at}
		switch i % 5 {
		case 3:
			e.Note = "note " + texts[i%len(texts)]
		case 4:
			e.Printed = &Printed{Text: "LIKELY: " + texts[i%len(texts)], Finding: "worn-holder", Status: "likely"}
		default:
			e.Event = &walk.Event{Kind: walk.EvAnswer, Reading: fmt.Sprint("reading_", i), Place: "main-fuse", Round: i % 3,
				Value: &v, Text: texts[i%len(texts)], Step: 0.01, Meter: "hand", Origin: walk.Read, At: at}
		}
		out = append(out, e)
	}
	return out
}

func store(t *testing.T) *Store {
	t.Helper()
	s, err := Open(filepath.Join(t.TempDir(), "data", "sessions"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// written is a store with one closed session of n entries, and the session's
// file.
func written(t *testing.T, n int) (s *Store, id string, file []byte) {
	t.Helper()
	s = store(t)
	j, err := s.Create(head())
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range answers(n) {
		if err := j.Append(e); err != nil {
			t.Fatal(err)
		}
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	file, err = os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	return s, j.ID(), file
}

func (s *Store) put(t *testing.T, id string, file []byte) {
	t.Helper()
	if err := os.WriteFile(s.path(id), file, 0o600); err != nil {
		t.Fatal(err)
	}
}

func (s *Store) file(t *testing.T, id string) []byte {
	t.Helper()
	b, err := os.ReadFile(s.path(id))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func same(t *testing.T, what string, got, want []Entry) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d entries, want %d", what, len(got), len(want))
	}
	for i := range want {
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Fatalf("%s: entry %d is %+v, want %+v", what, i+1, got[i], want[i])
		}
	}
}

// ends are the offsets behind each line of a file.
func ends(file []byte) []int {
	var out []int
	for at := 0; ; {
		i := bytes.IndexByte(file[at:], '\n')
		if i < 0 {
			return out
		}
		at += i + 1
		out = append(out, at)
	}
}
