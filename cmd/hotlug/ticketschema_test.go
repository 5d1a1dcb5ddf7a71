package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"hotlug/engine/shape"
	"hotlug/session/ticket"
)

// schemaProblems holds a ticket against the published schema.
func schemaProblems(t *testing.T, b []byte) []string {
	t.Helper()
	var root map[string]any
	if err := json.Unmarshal(ticket.Schema(), &root); err != nil {
		t.Fatal(err)
	}
	n, problems := shape.Parse("ticket.json", b) // JSON is YAML
	if n == nil || len(problems) > 0 {
		t.Fatalf("it can't be read: %v", problems)
	}
	v := &validator{root: root}
	v.check(root, n, "ticket")
	return v.errors
}

// Every ticket in testdata is as the schema says, and one with a stray field, a
// wrong kind or a lack is not.
func TestTicketsFitTheirSchema(t *testing.T) {
	files, err := filepath.Glob("../../session/ticket/testdata/*.json")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d tickets, %v", len(files), err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range schemaProblems(t, b) {
			t.Errorf("%s: %s", f, e)
		}
		for name, with := range map[string][2]string{
			"a stray field": {`"format": 1,`, `"format": 1, "stray": 2,`},
			"a wrong kind":  {`"format": 1,`, `"format": "one",`},
			"a lack":        {`"outcome":`, `"out_come":`},
		} {
			bad := bytes.Replace(b, []byte(with[0]), []byte(with[1]), 1)
			if len(schemaProblems(t, bad)) == 0 {
				t.Errorf("%s: %s is not seen", f, name)
			}
		}
	}
}
