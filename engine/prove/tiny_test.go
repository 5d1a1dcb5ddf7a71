package prove

import (
	"context"
	"fmt"
	"os"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
)

// tiny is a knowledge of four findings about one lamp.
func tiny(t testing.TB) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "tiny", FS: os.DirFS("testdata/tiny")})
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	return g
}

// lamp is a rig of a battery, a fuse holder and a lamp, worked out by hand.
type lamp struct {
	fault    string
	severity float64
	truth    Truth
}

func (l *lamp) Take(reading, _ string) simrig.Answer {
	yes := func(is bool) simrig.Answer {
		if is {
			return simrig.Answer{Known: true, Choice: "yes"}
		}
		return simrig.Answer{Known: true, Choice: "no"}
	}
	volts := func(v float64) simrig.Answer { return simrig.Answer{Known: true, Value: v, Digit: 0.01, True: v} }
	switch reading {
	case "danger_now":
		return yes(l.truth.Danger != "")
	case "lit":
		return yes(l.fault == "")
	case "hum":
		return simrig.Answer{Reason: "nobody was there"}
	case "feed_v":
		switch l.fault {
		case "worn-holder", "crust":
			return volts(9 - l.severity)
		case "flat-battery", "ghost", "untold":
			return volts(3)
		}
		return volts(12.6)
	case "drop_v":
		if l.fault == "worn-holder" || l.fault == "crust" {
			return volts(l.severity)
		}
		return volts(0.01)
	}
	return simrig.Answer{Reason: "there is no such reading on this rig"}
}

func (l *lamp) Do(string)                {}
func (l *lamp) Repair(string)            { l.fault = "" }
func (l *lamp) Complain(string)          {}
func (l *lamp) Focus() string            { return "" }
func (l *lamp) Which([]string) string    { return "" }
func (l *lamp) Truth() Truth             { return l.truth }
func (l *lamp) Live(string, string) bool { return false }
func (l *lamp) Symptoms(...string) []string {
	if l.fault == "" || l.fault == "unnoticed" {
		return nil
	}
	return []string{"dark"}
}

// lamps are the population: every rig is the same.
type lamps struct{ truth Truth }

func (lamps) Faults() []*simrig.Fault {
	dark := []string{"dark"}
	return []*simrig.Fault{
		{ID: "blown-bulb", Shown: dark},
		{ID: "worn-holder", Lo: 0, Hi: 4, Shown: dark}, // below 1 V it is taken for a flat battery
		{ID: "crust", Lo: 2, Hi: 4, Shown: dark},
		{ID: "flat-battery", Shown: dark},
		{ID: "untold", Shown: dark},
		{ID: "unnoticed", Shown: dark},
		{ID: "ghost", Shown: dark, Unlisted: true},
		{ID: "of-boats", Sites: func(*rig.System) []string { return nil }},
	}
}

func (lamps) Base(i int) (*Base, error) {
	return &Base{Name: fmt.Sprint(i), Sys: &rig.System{Volts: 12}}, nil
}

func (l lamps) Make(_ *Base, sets []simrig.Set, _ uint64) (Rig, error) {
	x := &lamp{truth: l.truth}
	if len(sets) > 0 {
		x.fault, x.severity = sets[0].Fault, sets[0].Severity
	}
	return x, nil
}

func (l lamps) Exact(b *Base, sets []simrig.Set, _ string) (Rig, error) { return l.Make(b, sets, 0) }

func proved(t *testing.T, src Source, o Options) *Report {
	t.Helper()
	if o.Workers == 0 {
		o.Workers = 2
	}
	rep, err := Prove(context.Background(), tiny(t), src, o)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}
