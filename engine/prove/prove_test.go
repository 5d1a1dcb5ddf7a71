package prove

import (
	"context"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// The scores of the lamp, worked out by hand.
func TestScoresOfTheLamp(t *testing.T) {
	rep := proved(t, lamps{}, Options{Plan: Plan{Seed: 1, Rigs: 40}, Table: 10})
	worn := 0
	for _, r := range rep.Runs {
		if r.Kind == Listed && r.Fault == "worn-holder" && r.Sets[0].Severity > 1 {
			worn++
		}
	}
	if worn < 28 || worn > 32 {
		t.Fatalf("of 40 severities spread evenly from 0 to 4, %d are above 1", worn)
	}
	want := map[string]map[Verdict]int{
		"blown-bulb":   {Right: 40},
		"worn-holder":  {Right: worn, Wrong: 40 - worn},
		"crust":        {InGroup: 40},
		"flat-battery": {Right: 40},
		"untold":       {Wrong: 40},
		"ghost":        {Wrong: 40}, // a wrong cause named
	}
	for _, f := range rep.Faults {
		if !reflect.DeepEqual(f.Verdicts, want[f.Fault]) {
			t.Errorf("%s: %v, want %v", f.Fault, f.Verdicts, want[f.Fault])
		}
	}
	if len(rep.Faults) != len(want) {
		t.Errorf("%d faults are scored, want %d", len(rep.Faults), len(want))
	}
	macro := (1 + float64(worn)/40 + 1 + 1 + 0) / 5
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"right, mean over faults", rep.Right.Share, macro},
		{"of all walks", rep.RightAll.Share, macro},
		{"healthy rigs on which a fault was named", rep.HealthyNamed.Share, 1},
		{"unlisted faults with a wrong cause", rep.UnlistedWrong.Share, 1},
		{"and proven", rep.UnlistedProof.Share, 0},
		{"proof on the repaired rig", rep.Repaired.Share, 1},
		{"proof on the unrepaired rig", rep.Unrepaired.Share, 1},
		{"unsafe acts", float64(rep.Unsafe), 0},
		{"worst number of questions", rep.Questions.Worst, 3}, // danger, feed, drop
		{"answers that could not be had", rep.NotKnown, 0},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	for _, c := range []struct {
		name      string
		got, want []string
	}{
		{"no rig can have", rep.Never, []string{"of-boats"}},
		{"faults without a finding", rep.Homeless, []string{"of-boats", "unnoticed", "untold"}},
		{"findings that show no fault", rep.Unmet, []string{"nobody"}},
	} {
		if !slices.Equal(c.got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	if len(rep.Silent) != 1 || rep.Silent[0].What != "unnoticed" || rep.Silent[0].N != 40 {
		t.Errorf("noticed by nobody: %v, want unnoticed 40 times", rep.Silent)
	}
	if rep.Met() {
		t.Error("all targets are said to be met")
	}
}

// A wrong finding first, refuted by its proof, is not proven.
func TestWrongFirstIsRefuted(t *testing.T) {
	rep := proved(t, lamps{}, Options{Plan: Plan{Seed: 1, Rigs: 3, Faults: []string{"untold"}}, Outline: true})
	for _, r := range rep.Runs {
		if r.Verdict != Wrong || r.First.Finding != "flat" || r.Proven != nil || len(r.False) > 0 {
			t.Errorf("%s: %s with %v, proven %v, wrongly %v", r.Name(), r.Verdict, r.First, r.Proven, r.False)
		}
		if text := strings.Join(r.Outline(), "\n"); !strings.Contains(text, "told: flat") || !strings.Contains(text, "feed_v: 3 V") {
			t.Errorf("the outline leaves something out:\n%s", text)
		}
	}
}

func TestSameWithAnyNumberOfWorkers(t *testing.T) {
	var got []string
	for _, workers := range []int{1, 8} {
		rep := proved(t, lamps{}, Options{Plan: Plan{Seed: 7, Rigs: 12}, Table: 6, Workers: workers})
		b, err := json.Marshal(rep)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, string(b))
	}
	if got[0] != got[1] {
		t.Errorf("1 worker:\n%s\n8 workers:\n%s", got[0], got[1])
	}
}

func TestAnotherSeedIsAnotherPopulation(t *testing.T) {
	var sum [2]float64
	for i := range sum {
		rep := proved(t, lamps{}, Options{Plan: Plan{Seed: uint64(i + 1), Rigs: 5, Faults: []string{"worn-holder"}}})
		for _, r := range rep.Runs {
			sum[i] += r.Sets[0].Severity
		}
	}
	if sum[0] == sum[1] {
		t.Errorf("severities come to %v with both seeds", sum[0])
	}
}

func TestGuardOfTheLamp(t *testing.T) {
	for _, c := range []struct {
		name  string
		truth Truth
		want  string
		kind  Verdict
	}{
		{"nothing dangerous", Truth{}, "", Right},
		{"a battery above 60 V", Truth{BankVolts: 65}, "feed_v is to be probed by hand although the battery stands at 65 V", Right},
		{"danger stops the work", Truth{Danger: "flames-or-smoke"}, "", StopRight},
	} {
		t.Run(c.name, func(t *testing.T) {
			rep := proved(t, lamps{c.truth}, Options{Plan: Plan{Seed: 1, Rigs: 1, Faults: []string{"blown-bulb"}}})
			r := rep.Runs[0]
			if got := strings.Join(r.Unsafe, "; "); got != c.want {
				t.Errorf("unsafe: %q, want %q", got, c.want)
			}
			if r.Verdict != c.kind {
				t.Errorf("verdict %q, want %q", r.Verdict, c.kind)
			}
		})
	}
}

func TestProveRefuses(t *testing.T) {
	done, cancel := context.WithCancel(context.Background())
	cancel()
	for _, c := range []struct {
		name string
		ctx  context.Context
		o    Options
		want string
	}{
		{"no workers", context.Background(), Options{Plan: Plan{Rigs: 1}}, "at least one worker"},
		{"no rigs", context.Background(), Options{Workers: 1}, "one rig for each fault"},
		{"a fault of nobody", context.Background(), Options{Workers: 1, Plan: Plan{Rigs: 1, Faults: []string{"x"}}}, `no fault called "x"`},
		{"a fault of no rig", context.Background(), Options{Workers: 1, Plan: Plan{Rigs: 1, Faults: []string{"of-boats"}}}, "no rig of the population"},
		{"given up", done, Options{Workers: 1, Plan: Plan{Rigs: 1}}, "context canceled"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Prove(c.ctx, tiny(t), lamps{}, c.o); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

// What the knowledge asks about the lamp is what the reference asks, and the list
// of dear steps says so.
func TestLampAgainstTheReference(t *testing.T) {
	rep := proved(t, lamps{}, Options{Plan: Plan{Seed: 1, Rigs: 10, Faults: []string{"blown-bulb", "crust", "flat-battery"}}, Table: 10})
	if len(rep.Symptoms) != 1 {
		t.Fatalf("%d complaints are priced, want 1", len(rep.Symptoms))
	}
	p := rep.Symptoms[0]
	// feed first tells the bulb, then drop the holder: (1 + 2 + 2) / 3, and
	// 2 min each, and 1 min to walk from the lamp to the box.
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"questions", p.Questions, 5.0 / 3}, {"minutes", p.Minutes, 12.0 / 3},
		{"of the optimum", p.Best, 5.0 / 3}, {"of the least", p.Least, 5.0 / 3},
		{"minutes of greedy", p.GreedyMinutes, 12.0 / 3},
		{"questions that told nothing", rep.NoGain.Share, 0},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	lost := 0.0
	for _, s := range rep.Dear {
		lost += s.PerWalk
	}
	if !p.Exact || math.Abs(lost-(p.Questions-p.Best)) > 1e-9 {
		t.Errorf("the steps cost %v questions too many, and the walks %v", lost, p.Questions-p.Best)
	}
	if rep.Groups == nil || len(rep.Groups.All) != 0 {
		t.Errorf("groups %v, want none", rep.Groups)
	}
	// Only the lamp itself may be looked at by anybody: nothing tells them apart.
	if g := rep.Groups.Lay; len(g) != 1 || !slices.Equal(g[0], []string{"crusty", "flat"}) {
		t.Errorf("groups without what can hurt: %v", g)
	}
}
