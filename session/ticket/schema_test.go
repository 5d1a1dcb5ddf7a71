package ticket_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"slices"
	"testing"

	"hotlug/session/ticket"
)

const schemaFile = "schema.json"

// The published schema is that of the types, and every field says what it means.
func TestSchemaGolden(t *testing.T) {
	got := ticket.Schema()
	if *update {
		if err := os.WriteFile(schemaFile, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("schema.json is not that of a ticket any more; go test ./session/ticket -run Golden -update writes it")
	}
	var s struct {
		Properties map[string]map[string]any
		Defs       map[string]struct{ Properties map[string]map[string]any } `json:"$defs"`
	}
	if err := json.Unmarshal(got, &s); err != nil {
		t.Fatal(err)
	}
	all := map[string]map[string]map[string]any{"Ticket": s.Properties}
	for name, d := range s.Defs {
		all[name] = d.Properties
	}
	for _, of := range slices.Sorted(maps.Keys(all)) {
		for name, p := range all[of] {
			if p["description"] == nil {
				t.Errorf("%s.%s has no description", of, name)
			}
		}
	}
}
