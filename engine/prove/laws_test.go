package prove

import (
	"fmt"
	"slices"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
	"hotlug/kb"
)

// lawRigs is how many rigs of each fault the laws are tried on.
const lawRigs = 2

// A law that a rig breaks is wrong, whether the rig is sound or broken. All are
// tried on sound rigs and on rigs with each fault, read with hand meters.
func TestNoRigBreaksALaw(t *testing.T) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	j := newJudge(g, simrig.Faults())
	src := Simulated(g, 5, false)
	var pool []*Base
	var starts []*walk.State
	for i := range 20 {
		b, err := src.Base(i)
		if err != nil {
			t.Fatal(err)
		}
		s, err := begin(g, b)
		if err != nil {
			t.Fatal(err)
		}
		pool, starts = append(pool, b), append(starts, s)
	}
	cases, _ := population(src.Faults(), pool, Plan{Seed: 5, Rigs: lawRigs})
	broken, judged := map[string][]string{}, map[string]int{}
	for _, c := range cases {
		b := pool[c.Rig]
		x, err := src.Make(b, c.Sets, c.Seed)
		if err != nil {
			t.Fatalf("%s: %v", c.Name(), err)
		}
		symptom, ok := complaint(c, j.fault(c.Fault), x.Symptoms, possible(b, g.SymptomOrder), "")
		if !ok {
			continue
		}
		x.Complain(symptom)
		for _, l := range g.Laws {
			at := x.Focus()
			var took []walk.Event
			for _, ref := range l.Holds.F.Refs() {
				r := g.Readings[ref.Name]
				a := x.Take(r.ID, at)
				if !a.Known {
					break
				}
				e := eventOf(r, at, a)
				e.Kind = walk.EvFact
				took = append(took, e)
			}
			if len(took) < len(l.Holds.F.Refs()) {
				continue
			}
			judged[l.ID]++
			if walk.Know(g, starts[c.Rig], took).Judge(g, l.Holds, at).Verdict == formula.CertainlyFalse {
				s := c.Name() + ":"
				for _, e := range took {
					if e.Value != nil {
						s += fmt.Sprintf(" %s=%.4g", e.Reading, *e.Value)
					} else {
						s += " " + e.Reading + "=" + e.Choice
					}
				}
				broken[l.ID] = append(broken[l.ID], s)
			}
		}
	}
	for _, l := range g.Laws {
		if n := len(broken[l.ID]); n > 0 {
			t.Errorf("the law %s is broken by %d of %d rigs, such as %s", l.ID, n, judged[l.ID], broken[l.ID][:min(n, 6)])
		}
		if judged[l.ID] == 0 && !slices.Contains(lawsUntried, l.ID) {
			t.Errorf("the law %s was tried on no rig", l.ID)
		}
	}
}

// lawsUntried are those whose readings the simulated rig can't give together: it
// has no engine.
var lawsUntried = []string{"relay-within-alternator"}
