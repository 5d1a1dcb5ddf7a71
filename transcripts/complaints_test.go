package transcripts_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/match"
)

// heldOut reads complaints.txt: lines of words by the complaint they mean.
func heldOut(t *testing.T) (order []string, lines map[string][]string) {
	t.Helper()
	text, err := os.ReadFile("complaints.txt")
	if err != nil {
		t.Fatal(err)
	}
	lines = map[string][]string{}
	for _, l := range strings.Split(string(text), "\n") {
		switch {
		case l == "" || strings.HasPrefix(l, "#"):
		case strings.HasPrefix(l, "  "):
			at := order[len(order)-1]
			lines[at] = append(lines[at], strings.TrimSpace(l))
		default:
			order = append(order, l)
		}
	}
	return order, lines
}

// TestComplaintsAreUnderstood holds the matcher to words that are not the
// knowledge's own: the right complaint first for 85 of 100, among the first three
// for 97, and none for nonsense.
func TestComplaintsAreUnderstood(t *testing.T) {
	g := builtIn(t)
	var entries []match.Entry
	own := map[string]bool{}
	for _, id := range g.SymptomOrder {
		s := g.Symptoms[id]
		entries = append(entries, match.Entry{ID: id, Label: s.Label, Says: s.Says})
		for _, says := range s.Says {
			own[strings.ToLower(says)] = true
		}
	}
	index := match.New(entries)
	order, lines := heldOut(t)
	for _, id := range g.SymptomOrder {
		if len(lines[id]) < 12 {
			t.Errorf("%s: %d phrasings, want 12 at least", id, len(lines[id]))
		}
	}
	first, three, all := 0, 0, 0
	for _, id := range order {
		for _, words := range lines[id] {
			if own[strings.ToLower(words)] {
				t.Errorf("%s: %q is a saying of the knowledge", id, words)
			}
			hits := index.Find(words)
			at := slices.IndexFunc(hits, func(h match.Hit) bool { return h.ID == id })
			if id == "nonsense" {
				if len(hits) > 0 && !hits[0].Hint {
					t.Errorf("%q is taken for %s, %.2f", words, hits[0].ID, hits[0].Score)
				}
				continue
			}
			all++
			if at == 0 {
				first++
			} else {
				t.Logf("%s: %q is number %d", id, words, at+1)
			}
			if at >= 0 && at < 3 {
				three++
			}
		}
	}
	share := func(n int) float64 { return 100 * float64(n) / float64(all) }
	t.Logf("of %d: first %.1f %%, among the first three %.1f %%", all, share(first), share(three))
	if share(first) < 85 || share(three) < 97 {
		t.Errorf("of %d the right complaint is first for %.1f %% and among the first three for %.1f %%, want 85 and 97", all, share(first), share(three))
	}
}
