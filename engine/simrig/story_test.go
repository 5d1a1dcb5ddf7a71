package simrig

import (
	"strings"
	"testing"

	"hotlug/engine/match"
	"hotlug/engine/rig"
)

// What a person types for a complaint leads to that complaint, whatever is wrong.
func TestWordsFindTheirSymptom(t *testing.T) {
	g := observedGraph(t)
	var entries []match.Entry
	for id, s := range g.Symptoms {
		entries = append(entries, match.Entry{ID: id, Label: s.Label, Says: s.Says})
	}
	index := match.New(entries)
	told := map[string]string{}
	for _, f := range Faults() {
		for _, sys := range []*rig.System{hut(12, "lfp", "mppt"), hut(24, "agm", "pwm")} {
			sites := f.Sites(sys)
			if len(sites) == 0 {
				continue
			}
			s, err := New(sys, g.Readings, nil, []Set{{Fault: f.ID, At: sites[0], Severity: (f.Lo + f.Hi) / 2, Chance: 0.4}}, Options{Meters: "exact"})
			if err != nil {
				t.Fatal(err)
			}
			for _, symptom := range f.Shown {
				s.Complain(symptom)
				told[s.Words()] = symptom
				if strings.Contains(strings.ToLower(s.Story()), strings.ToLower(f.Name)) {
					t.Errorf("%s: the story %q names the cause", f.ID, s.Story())
				}
			}
		}
	}
	for words, symptom := range told {
		hits := index.Find(words)
		if len(hits) == 0 || hits[0].ID != symptom {
			t.Errorf("%q leads to %v, want %s", words, hits, symptom)
		}
	}
}
