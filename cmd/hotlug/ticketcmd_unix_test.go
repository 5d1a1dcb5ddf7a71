//go:build unix

package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"hotlug/engine/walk"
	"hotlug/session"
)

// answersOf writes an answers file from what was said in a session: every answer
// under its reading, those of a proof under the finding that was mended.
func answersOf(t *testing.T, data, rig string) string {
	t.Helper()
	store, err := session.Open(filepath.Join(data, "hotlug", "sessions"))
	if err != nil {
		t.Fatal(err)
	}
	list, err := store.List()
	if err != nil || len(list) != 1 {
		t.Fatalf("%d sessions, %v", len(list), err)
	}
	_, entries, _, err := store.Read(list[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	answers, after := map[string]any{}, map[string]map[string]any{}
	file := map[string]any{"format": 1, "answers": answers, "after": after}
	if rig != "" {
		file["rig"] = rig
	}
	mended := ""
	for _, e := range eventsOf(entries) {
		text := e.Text
		if e.Choice != "" {
			text = e.Choice
		}
		into := answers
		if mended != "" {
			into = after[mended]
		}
		switch e.Kind {
		case walk.EvComplaint:
			file["symptom"] = e.Symptom
		case walk.EvAnswer:
			// A reading that is asked for again in a later round has a list.
			if old, ok := into[e.Reading].([]string); ok {
				into[e.Reading] = append(old, text)
			} else {
				into[e.Reading] = []string{text}
			}
		case walk.EvNotKnown:
			into[e.Reading] = []string{"don't know"}
		case walk.EvAt:
			file["at"] = e.Place
		case walk.EvDone:
			if e.Finding != "" {
				mended = e.Finding
				after[mended] = map[string]any{}
			}
		}
	}
	b, err := json.Marshal(file) // which is YAML too
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// shared are the fields of a ticket that don't depend on when and where it was
// walked.
var shared = []string{"format", "knowledge", "symptom", "symptom_label", "system", "outcome", "stop_work", "trail", "readings", "findings", "excluded",
	"not_known", "still_possible", "best_next_reading", "closed", "rig"}

func decoded(t *testing.T, text []byte) map[string]any {
	t.Helper()
	var m map[string]any
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	readings, _ := m["readings"].([]any)
	for _, r := range readings {
		r := r.(map[string]any)
		delete(r, "when")
		delete(r, "typed") // a number of a list in the one, the choice in the other
	}
	return m
}

// A session's ticket and a replay of what was said in it are the same model.
func TestTicketIsReplay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, rig, typed string }{
		{"proven", "hut-01", "nothing charges, sun is out\nno\n2\ndone\nbulk\n18.2\n"},
		{"left for later", "", "nothing charges, sun is out\nno\n2\nlater\n"},
		{"stopped", "", "my fuse thing is too warm\nyes\nmelted or glowing\nsomething melts or glows\n"},
		{"not known", "hut-02", "nothing charges, sun is out\nno\ndon't know\n2\nlater\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := t.TempDir()
			args := []string{"--plain"}
			if c.rig != "" {
				args = append(args, "--rig", c.rig)
			}
			talk := hotlug(t, data, args...)
			talk.Stdin = strings.NewReader(c.typed)
			said, _ := talk.Output()
			id, _ := keptIn(t, data)
			code := talk.ProcessState.ExitCode()

			fromSession, err := hotlug(t, data, "ticket", id, "--format", "json").Output()
			if err != nil {
				t.Fatalf("%v\n%s", err, said)
			}
			path := filepath.Join(t.TempDir(), "answers.yaml")
			answers := answersOf(t, data, c.rig)
			if err := os.WriteFile(path, []byte(answers), 0o600); err != nil {
				t.Fatal(err)
			}
			replay := hotlug(t, data, "replay", path, "--json")
			fromAnswers, err := replay.Output()
			if got := replay.ProcessState.ExitCode(); got != code {
				t.Errorf("exit code %d, and %d in the chat: %v\n%s", got, code, err, answers)
			}
			a, b := decoded(t, fromSession), decoded(t, fromAnswers)
			for _, f := range shared {
				if !reflect.DeepEqual(a[f], b[f]) {
					t.Errorf("%s differs.\nticket: %s\nreplay: %s\nchat:\n%s", f, short(a[f]), short(b[f]), said)
				}
			}
		})
	}
}

func short(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprint(err)
	}
	return string(b)
}
