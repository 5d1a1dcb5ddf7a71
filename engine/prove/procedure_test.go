package prove

import (
	"io/fs"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/simrig"
	"hotlug/kb"
)

// inspected is a rig of which nobody complains: it is to be proved.
type inspected struct{ Rig }

func (inspected) Symptoms(...string) []string { return []string{"prove-system"} }

// The procedure passes a sound rig and finds on a bad one what is bad.
func TestProvingASystem(t *testing.T) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	src := Simulated(g, 1, false).(*simulated)
	text, err := fs.ReadFile(kb.Files, "rigs/hut-02.yaml")
	if err != nil {
		t.Fatal(err)
	}
	file, problems := rig.Read("hut-02", text)
	facts, more := file.Facts(src.readings)
	sys, also := rig.SystemOf(file, facts)
	if shape.HasErrors(problems) || shape.HasErrors(more) || shape.HasErrors(also) {
		t.Fatal(problems, more, also)
	}
	b := &Base{Name: "hut-02", Sys: sys, Places: file.Places, Facts: facts}
	for _, c := range []struct {
		name, fault, at string
		share           float64 // of the fault's least severity
		change          func(*simrig.Plant)
		want            string
	}{
		{"sound", "", "", 0.5, nil, "system-proved"},
		{"an under-crimped lug", "crimp-bad", "post-neg", 0.5, nil, "joint-fails-test"},
		{"a worn holder", "holder-contact", "main-fuse", 0.5, nil, "holder-fails-test"},
		{"a thin cable", "inverter-cable-thin", "", 1.5, nil, "cable-too-thin"},
		{"solid metal for a fuse", "", "", 0, func(p *simrig.Plant) { p.Parts["main-fuse"].Bridged = true }, "fuse-missing"},
		{"a wrong charge setting", "lead-profile-set", "", 0.5, nil, "setting-differs"},
		{"a reversed pair", "array-reversed", "", 0.5, nil, "pair-reversed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var sets []simrig.Set
			if c.fault != "" {
				f, ok := simrig.FaultByID(c.fault)
				if !ok {
					t.Fatalf("there is no fault %s", c.fault)
				}
				at := c.at
				if sites := f.Sites(sys); at == "" && len(sites) > 0 {
					at = sites[0]
				}
				sets = []simrig.Set{{Fault: c.fault, At: at, Severity: c.share * f.Lo, Chance: 0.5}}
			}
			x, err := src.Make(b, sets, 3)
			if err != nil {
				t.Fatal(err)
			}
			if c.change != nil {
				c.change(x.(*simulatedRig).Plant())
			}
			start, err := begin(g, b)
			if err != nil {
				t.Fatal(err)
			}
			r := &runner{g: g, judge: newJudge(g, src.Faults()), only: "prove-system", outline: true}
			run := r.walk(Case{Kind: Listed, Fault: c.fault, Sets: sets}, b, start, inspected{x})
			if run.First == nil || run.First.Finding != c.want {
				t.Errorf("it ends %s with %+v, want %s", run.Outcome, run.First, c.want)
				for _, l := range run.lines {
					t.Log(l)
				}
			}
			if len(run.Unsafe) > 0 {
				t.Errorf("unsafe: %v", run.Unsafe)
			}
		})
	}
}
