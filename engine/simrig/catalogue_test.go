package simrig

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/rig"
	"hotlug/kb"
)

// knowledge is the shipped knowledge.
func knowledge(t testing.TB) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if len(problems) > 0 {
		t.Fatalf("the knowledge does not load: %v", problems[0])
	}
	return g
}

// someRigs are random rigs of both sets of ranges.
func someRigs(n int) []*rig.System {
	chance := rand.New(rand.NewPCG(7, 11))
	var list []*rig.System
	for i := range n {
		ranges := rig.Tuning
		if i%2 == 1 {
			ranges = rig.Release
		}
		list = append(list, rig.Random(chance, ranges))
	}
	return list
}

func TestFaultsAreFilledIn(t *testing.T) {
	symptoms := knowledge(t).Symptoms
	seen := map[string]bool{}
	for _, f := range Faults() {
		if seen[f.ID] {
			t.Errorf("%s: the id is there twice", f.ID)
		}
		seen[f.ID] = true
		if g, ok := FaultByID(f.ID); !ok || g != f {
			t.Errorf("%s: is not found by its id", f.ID)
		}
		for word, empty := range map[string]bool{
			"name": f.Name == "", "sites": f.Sites == nil, "apply": f.Apply == nil,
			"repair": f.Repair == "", "source": f.Source == "", "shown": len(f.Shown) == 0,
		} {
			if empty {
				t.Errorf("%s: has no %s", f.ID, word)
			}
		}
		if !strings.HasSuffix(f.Repair, ".") {
			t.Errorf("%s: its repair is no sentence: %q", f.ID, f.Repair)
		}
		if f.Hi < f.Lo || f.Log && f.Lo <= 0 {
			t.Errorf("%s: its range is from %g to %g", f.ID, f.Lo, f.Hi)
		}
		if f.NoFault && f.Unlisted {
			t.Errorf("%s: is both no fault and unlisted", f.ID)
		}
		for _, s := range f.Shown {
			if symptoms[s] == nil {
				t.Errorf("%s: shows the symptom %q, which the knowledge does not have", f.ID, s)
			}
		}
	}
	if len(seen) < 85 {
		t.Errorf("there are %d faults, want 85 or more", len(seen))
	}
}

func TestFaultsKeepTheirOrder(t *testing.T) {
	a, b := Faults(), Faults()
	if !slices.Equal(a, b) {
		t.Error("two calls give two orders")
	}
}

func TestEveryFaultFitsSomeRig(t *testing.T) {
	fits := map[string]int{}
	rigs := someRigs(300)
	for _, s := range rigs {
		for _, f := range Faults() {
			if len(f.Sites(s)) > 0 {
				fits[f.ID]++
			}
		}
	}
	for _, f := range Faults() {
		if fits[f.ID] < 6 {
			t.Errorf("%s: fits %d of %d random rigs, want 6 or more", f.ID, fits[f.ID], len(rigs))
		}
	}
}

// draw is a severity of a fault at a part of its range, 0 to 1.
func draw(f *Fault, part float64) float64 {
	if f.Log {
		return math.Exp(between(part, math.Log(f.Lo), math.Log(f.Hi)))
	}
	return between(part, f.Lo, f.Hi)
}

// TestFaultsChangeThePlantOnly applies every fault at every site of some rigs: it
// makes the plant another one, every figure in it stays finite and none goes
// below nought that can't, and the system itself is left as it is.
func TestFaultsChangeThePlantOnly(t *testing.T) {
	for _, s := range someRigs(24) {
		before := *s
		before.Parts = slices.Clone(s.Parts)
		before.Loads = slices.Clone(s.Loads)
		for _, f := range Faults() {
			for _, at := range f.Sites(s) {
				for _, part := range []float64{0, 0.5, 1} {
					p := NewPlant(s)
					f.Apply(p, at, draw(f, part), part)
					if reflect.DeepEqual(p, NewPlant(s)) {
						t.Errorf("%s at %q on %s, severity %g: changes nothing", f.ID, at, s.Name, draw(f, part))
					}
					if bad := badFigure(reflect.ValueOf(*p)); bad != "" {
						t.Errorf("%s at %q on %s, severity %g: %s", f.ID, at, s.Name, draw(f, part), bad)
					}
				}
			}
		}
		if !reflect.DeepEqual(before, *s) {
			t.Fatalf("a fault changed the system of %s itself", s.Name)
		}
	}
}

// badFigure tells of a figure that is not finite, or of a negative resistance.
func badFigure(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return "a figure is not finite"
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name := v.Type().Field(i).Name
			if name == "Sys" {
				continue
			}
			if strings.HasSuffix(name, "Ohm") && v.Field(i).Float() < 0 {
				return name + " is below nought"
			}
			if bad := badFigure(v.Field(i)); bad != "" {
				return name + ": " + bad
			}
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			if bad := badFigure(reflect.Indirect(v.MapIndex(k))); bad != "" {
				return k.String() + ": " + bad
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if bad := badFigure(v.Index(i)); bad != "" {
				return bad
			}
		}
	}
	return ""
}
