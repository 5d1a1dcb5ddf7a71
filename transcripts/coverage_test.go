package transcripts_test

import (
	"slices"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
)

// leastBranches is the part of all branches that the cases must take.
const leastBranches = 0.90

// An edge is a step and where a branch of it leads. Branches of one step that
// lead to the same place count as one: a trail does not tell them apart.
type edge struct{ step, to string }

// TestCasesCoverTheKnowledge walks all cases and counts which branches they take
// and which cautions they show.
func TestCasesCoverTheKnowledge(t *testing.T) {
	g := builtIn(t)
	at, order := edges(g)
	taken, shown := map[edge]bool{}, map[string]bool{}
	for _, f := range caseFiles(t) {
		for _, c := range f.cases {
			look(t, g, c, false, taken, shown)
			if c.failing != nil {
				look(t, g, c, true, taken, shown)
			}
		}
	}
	var missed []edge
	for _, e := range order {
		if !taken[e] {
			missed = append(missed, e)
		}
	}
	part := 1 - float64(len(missed))/float64(len(order))
	t.Logf("%d of %d branches taken, %.1f %%", len(order)-len(missed), len(order), 100*part)
	for _, e := range missed {
		t.Logf("never taken: %s: %s -> %s", at[e], e.step, e.to)
	}
	if part < leastBranches {
		t.Errorf("the cases take %.1f %% of all branches, want %.0f %% at least; run with -v for the list", 100*part, 100*leastBranches)
	}
	for _, id := range g.CautionOrder {
		if !shown[id] {
			t.Errorf("%s: no case shows the caution %s", g.Cautions[id].At, id)
		}
	}
}

// edges lists where the steps lead: by their branches, by what they do when
// something is not known, and by second faults.
func edges(g *graph.Graph) (map[edge]shape.Place, []edge) {
	at := map[edge]shape.Place{}
	var order []edge
	add := func(step, to string, p shape.Place) {
		e := edge{step, to}
		if _, ok := at[e]; !ok {
			at[e] = p
			order = append(order, e)
		}
	}
	for _, id := range g.StepOrder {
		st := g.Steps[id]
		for _, b := range st.Then {
			add(id, b.To.String(), b.At)
		}
		if st.Unknown != nil {
			add(id, st.Unknown.String(), st.At)
		}
		for _, a := range st.Also {
			add(id, "also "+a.Finding, a.At)
		}
	}
	return at, order
}

// look walks a case event by event and notes branches and cautions. It also
// holds the fold to its word: the same events give the same trail.
func look(t *testing.T, g *graph.Graph, c fieldCase, fails bool, taken map[edge]bool, shown map[string]bool) {
	t.Helper()
	setup, a := c.input(t, g, fails)
	end, _, err := replayCase(g, setup, a)
	if err != nil {
		t.Fatalf("%s: %v", c.at, err)
	}
	s := walk.Start(g, setup)
	for _, e := range end.Events() {
		var p walk.Prompt
		s, p = walk.Step(g, s, e)
		for _, x := range p.Cautions {
			shown[x.ID] = true
		}
		if p.Finding != nil {
			for _, x := range p.Finding.Cautions {
				shown[x.ID] = true
			}
		}
	}
	trail := s.Trail(g)
	if got, want := pathOf(trail), pathOf(end.Trail(g)); got != want || s.Outcome() != end.Outcome() {
		t.Errorf("%s: the events of the walk, walked again, give another one:\n\t%s\n\t%s", c.at, got, want)
	}
	for _, v := range trail {
		taken[edge{v.Step, v.Took}] = true
		for _, x := range s.Told() {
			if slices.ContainsFunc(g.Steps[v.Step].Also, func(b graph.Also) bool { return b.Finding == x.Finding.ID }) && x.Second {
				taken[edge{v.Step, "also " + x.Finding.ID}] = true
			}
		}
	}
}
