package simrig

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// observedGraph is the knowledge, loaded once.
func observedGraph(t testing.TB) *graph.Graph {
	t.Helper()
	g, problems := knownKB()
	if !graph.Sound(problems) {
		t.Fatalf("the knowledge does not load: %v", problems)
	}
	return g
}

var knownKB = sync.OnceValues(func() (*graph.Graph, []shape.Problem) {
	return graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
})

// hut is a rig of a certain kind with everything that can be looked at.
func hut(volts float64, chemistry, controller string) *rig.System {
	s := &rig.System{
		Name: "hut-test", Volts: volts, AmbientC: 20, ColdestC: -10,
		Battery:    rig.Battery{Chemistry: chemistry, Ah: 200, Charge: 70, CellC: 20, App: chemistry == "lfp"},
		Array:      rig.Array{Series: max(2, int(volts/12)+1), Parallel: 2},
		Controller: rig.Controller{Type: controller, Sensor: true},
		Inverter:   rig.Inverter{Watts: 1000},
		Monitor:    rig.Monitor{Shunt: "500A-50mV"},
		Loads: []rig.Load{
			{ID: "fridge", Watts: 60, Plug: "socket"},
			{ID: "lights", Watts: 30, Switch: true},
		},
	}
	if controller == "pwm" {
		s.Array.Series = int(volts / 12)
	}
	rig.Plan(s)
	return s
}

// observed is a rig with its plant changed.
func observed(t testing.TB, sys *rig.System, change func(p *Plant)) *Sim {
	t.Helper()
	s, err := New(sys, observedGraph(t).Readings, nil, nil, Options{Meters: "exact"})
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		p := s.plant
		p.LeftOn, p.Shorts, p.Bypass = map[string]float64{}, map[string]float64{}, map[string]bool{}
		change(p)
		s.changed()
	}
	return s
}

// look takes an observation, and fails where a choice is none of the reading's.
func look(t testing.TB, s *Sim, id, place string) Answer {
	t.Helper()
	f, ok := observations()[id]
	if !ok {
		t.Fatalf("%s is not observed", id)
	}
	a := f(s, place)
	r := s.readings[id]
	if r == nil {
		t.Fatalf("%s is no reading", id)
	}
	checkAnswer(t, r, a)
	return a
}

func checkAnswer(t testing.TB, r *reading.Reading, a Answer) {
	t.Helper()
	switch {
	case !a.Known && a.Reason == "":
		t.Errorf("%s: not known, and no reason given", r.ID)
	case !a.Known:
	case r.Answer == reading.YesNo && a.Choice != "yes" && a.Choice != "no":
		t.Errorf("%s: %q is neither yes nor no", r.ID, a.Choice)
	case r.Answer == reading.Choice && r.OptionByID(a.Choice) < 0:
		t.Errorf("%s: %q is none of its options", r.ID, a.Choice)
	case r.Answer == reading.Number && (math.IsNaN(a.Value) || math.IsInf(a.Value, 0)):
		t.Errorf("%s: %g is no number", r.ID, a.Value)
	}
}

// byMeter are the readings without two points that are taken with a meter all the
// same: clamps and thermometers.
var byMeter = []string{
	"plug_twin_c", "battery_a", "battery_out_a", "tail_a", "battery_c", "ctl_charge_a", "pv_a", "load_a", "joint_c", "twin_c", "ambient_c",
}

func TestEveryReadingIsAnswered(t *testing.T) {
	all := observations()
	for id, r := range observedGraph(t).Readings {
		_, seen := all[id]
		switch {
		case seen, r.Rig != "", r.From != "" && r.Class == reading.Measurement, slices.Contains(byMeter, id):
		default:
			t.Errorf("%s (%s) is answered by no papers, no observation and no meter", id, r.Class)
		}
	}
	for id := range all {
		if observedGraph(t).Readings[id] == nil {
			t.Errorf("%s is observed and is no reading", id)
		}
	}
}

// healthyLooks is what a sound rig in the sun shows.
var healthyLooks = map[string]string{
	"danger_now": "no", "danger_what": "none-of-these", "made_safe": "yes",
	"switches_seen": "all-on", "sun_now": "strong", "array_look": "sound",
	"controller_lit": "yes", "controller_error": "none", "controller_look": "sound",
	"works_on_direct_lead": "yes", "alive_after_reset": "yes", "charges_after_restart": "yes",
	"signal_cable_look": "sound", "monitor_moves": "yes", "reverse_sign": "none",
	"browned": "no", "fuse_look": "whole", "joint_look": "bright", "drop_jumps": "no",
	"plus_splice_look": "sound", "minus_splice_look": "sound", "controller_stage": "bulk",
	"spark_kind": "none-yet", "cut_when": "does-not",
}

func TestHealthyRigLooksHealthy(t *testing.T) {
	for _, volts := range []float64{12, 24, 48} {
		for _, chemistry := range []string{"lfp", "agm", "flooded", "gel"} {
			for _, kind := range []string{"mppt", "pwm"} {
				s := observed(t, hut(volts, chemistry, kind), nil)
				s.focus = "main-fuse-bat"
				for id, want := range healthyLooks {
					if got := look(t, s, id, ""); got.Choice != want {
						t.Errorf("%g V %s %s: %s is %q (%s), want %q", volts, chemistry, kind, id, got.Choice, got.Reason, want)
					}
				}
				if got := look(t, s, "percent_pattern", ""); got.Choice != "none-of-these" {
					t.Errorf("%g V %s %s: percent_pattern is %q of a rig that counts rightly", volts, chemistry, kind, got.Choice)
				}
				for _, id := range []string{"joined_what", "precharge_used", "plug_kind", "switch_kind"} {
					if got := look(t, s, id, ""); got.Known {
						t.Errorf("%g V %s %s: %s is %q, and there is nothing to tell", volts, chemistry, kind, id, got.Choice)
					}
				}
			}
		}
	}
}

func TestRandomHealthyRigsLookHealthy(t *testing.T) {
	chance := rand.New(rand.NewPCG(7, 7))
	for range 25 {
		sys := rig.Random(chance, rig.Tuning)
		s := observed(t, sys, nil)
		if s.array(s.plant.Sky.Full).err != nil { // labels that no module can have
			continue
		}
		s.focus = "main-fuse-bat"
		for id, want := range healthyLooks {
			got := look(t, s, id, "")
			if got.Known && got.Choice != want {
				t.Errorf("%s %g V %s %s: %s is %q (%s), want %q", sys.Name, sys.Volts, sys.Battery.Chemistry, sys.Controller.Type, id, got.Choice, got.Reason, want)
			}
		}
		if got := look(t, s, "percent_pattern", ""); got.Choice != "none-of-these" && s.percentSource() != "volts-only" {
			c, _ := s.counted()
			t.Errorf("%s %g V %s: percent_pattern is %q, and the display is true: %+v", sys.Name, sys.Volts, sys.Battery.Chemistry, got.Choice, c)
		}
	}
}

// Whatever is wrong with a rig, everything that can be looked at has an answer
// that the reading offers, or a reason.
func TestEveryFaultCanBeLookedAt(t *testing.T) {
	all := observations()
	rigs := []*rig.System{hut(12, "lfp", "mppt"), hut(24, "agm", "pwm")}
	for _, f := range Faults() {
		for _, sys := range rigs {
			sites := f.Sites(sys)
			if len(sites) == 0 {
				continue
			}
			set := Set{Fault: f.ID, At: sites[0], Severity: (f.Lo + f.Hi) / 2, Chance: 0.4}
			s, err := New(sys, observedGraph(t).Readings, nil, []Set{set}, Options{Meters: "exact"})
			if err != nil {
				t.Fatal(err)
			}
			s.Complain(f.Shown[0])
			for id := range all {
				look(t, s, id, "")
			}
			if s.Story() == "" || s.Words() == "" {
				t.Errorf("%s: there is no story, or no words for it", f.ID)
			}
		}
	}
}
