package prove

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
)

func tried(t *testing.T, trial Trial, o Options) *TrialReport {
	t.Helper()
	if o.Workers == 0 {
		o.Workers = 2
	}
	rep, err := Try(context.Background(), tiny(t), lamps{}, o, trial)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

func rowOf(t *testing.T, r *TrialReport, name string) Tried {
	t.Helper()
	for _, x := range r.Rows {
		if x.Name == name {
			return x
		}
	}
	t.Fatalf("the trial has no row %q: %+v", name, r.Rows)
	return Tried{}
}

// Without the volts at the lamp the walk goes on to the holder, which reads well:
// the bulb and the battery are left, and both are listed. Without the volts across
// the holder, worn and flat are. Nothing is called firm.
func TestUnanswerableLamp(t *testing.T) {
	rep := tried(t, Unanswerable, Options{Plan: Plan{Seed: 1, Rigs: 5, Faults: []string{"blown-bulb", "flat-battery", "crust"}}})
	x := rowOf(t, rep, "one reading not to be had")
	if x.Walks != 5+10+10 { // the bulb's walk takes one reading, the others' two
		t.Errorf("%d walks, want 25", x.Walks)
	}
	if x.Top3.Share != 1 || x.DeadEnds != 0 || x.Wrong.Share != 0 {
		t.Errorf("right or in the list %v, dead ends %d, firmly wrong %v", x.Top3.Share, x.DeadEnds, x.Wrong.Share)
	}
	if base := rowOf(t, rep, "as it is"); base.Right.Share != 1 || !rep.Met() {
		t.Errorf("as it is %v right, targets %+v", base.Right.Share, rep.Targets)
	}
}

// A bad specification is what the walk is told; readings that move within it never
// make a firm finding of another.
func TestMovedLamp(t *testing.T) {
	rep := tried(t, Meters, Options{Plan: Plan{Seed: 1, Rigs: 20, Faults: []string{"blown-bulb", "flat-battery", "crust"}}})
	if len(rep.Rows) != 1+len(classes) {
		t.Fatalf("%d rows, want one as it is and one for each class", len(rep.Rows))
	}
	for _, x := range rep.Rows[1:] {
		if x.Walks != 3*20*movedWalks || x.Changed.Share != 0 || x.Within != 0 {
			t.Errorf("%s: %d walks, changed %v, firm within the error %d", x.Name, x.Walks, x.Changed.Share, x.Within)
		}
	}
}

func TestTrialIsTheSameWithAnyNumberOfWorkers(t *testing.T) {
	for _, trial := range Trials() {
		t.Run(string(trial), func(t *testing.T) {
			var got []string
			for _, workers := range []int{1, 8} {
				b, err := json.Marshal(tried(t, trial, Options{Plan: Plan{Seed: 3, Rigs: 6}, Workers: workers}))
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, string(b))
			}
			if got[0] != got[1] {
				t.Errorf("1 worker:\n%s\n8 workers:\n%s", got[0], got[1])
			}
		})
	}
}

func TestTryRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		o     Options
		trial Trial
		want  string
	}{
		{"no rigs", Options{Workers: 1}, Slips, "at least one worker"},
		{"a trial of nobody", Options{Workers: 1, Plan: Plan{Rigs: 1}}, "luck", `no trial called "luck"`},
		{"a fault of no rig", Options{Workers: 1, Plan: Plan{Rigs: 1, Faults: []string{"of-boats"}}}, Slips, "no rig of the population"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Try(context.Background(), tiny(t), lamps{}, c.o, c.trial); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

// Whoever slips says another number the first time; whoever does not know says
// nothing; both leave the rest alone.
func TestPersons(t *testing.T) {
	g := tiny(t)
	volts := question{r: g.Readings["feed_v"], shows: simrig.Answer{Known: true, Value: 12.6, Digit: 0.01}, rig: &lamp{fault: "crust", severity: 3}}
	lit := question{r: g.Readings["lit"], shows: simrig.Pick("yes")}
	slips := 0
	stops := func(ids ...string) func(string) bool { return func(id string) bool { return slices.Contains(ids, id) } }
	count := func(question, string) { slips++ }
	for _, c := range []struct {
		name  string
		who   *person
		q     question
		known bool
		same  bool
	}{
		{"nobody slips", slipping(g, 0, 1, count), volts, true, true},
		{"everybody slips", slipping(g, 1, 1, count), volts, true, false},
		{"no slip in a yes", slipping(g, 1, 1, count), lit, true, true},
		{"all is known", unsure(stops(), 0, 1), volts, true, true},
		{"nothing is", unsure(stops("lit"), 1, 1), volts, false, false},
		{"but what stops work", unsure(stops("lit"), 1, 1), lit, true, true},
		{"one reading not to be had", without("feed_v"), volts, false, false},
		{"the others are", without("feed_v"), lit, true, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := c.who.says(c.q)
			same := a.Value == c.q.shows.Value && a.Choice == c.q.shows.Choice
			if a.Known != c.known || a.Known && same != c.same {
				t.Errorf("says %+v to what shows %+v", a, c.q.shows)
			}
		})
	}
	if slips != 1 {
		t.Errorf("%d slips were noted, want 1", slips)
	}
}

// A moved reading lies within the error of its meter, whatever the seed, and is
// the same whenever it is taken.
func TestMovedStaysWithinTheError(t *testing.T) {
	g := tiny(t)
	m, _ := quantity.MeterByID("hand")
	r := g.Readings["feed_v"]
	far := 0.0
	for seed := range uint64(300) {
		who := moved(g, "hand", seed)
		for _, v := range []float64{0.004, 0.5, 12.6, 54.2} {
			q := question{r: r, shows: simrig.Answer{Known: true, Value: v, Digit: 0.001}}
			a := who.says(q)
			gain, abs := m.Error(r.Kind, v, 0.001) // half the last digit for its rounding
			if off := math.Abs(a.Value - v); off > gain*v+abs+1e-12 {
				t.Fatalf("seed %d: %v V is read as %v V, and the error is %v V", seed, v, a.Value, gain*v+abs)
			} else {
				far = max(far, off/(gain*v+abs))
			}
			if b := who.says(q); b != a {
				t.Fatalf("seed %d: %v, then %v", seed, a, b)
			}
		}
	}
	if far < 0.8 {
		t.Errorf("the farthest reading uses %.2f of its error", far)
	}
}

// A belief is another value of the same reading, and comes back when it is doubted
// the other way.
func TestBeliefsDiffer(t *testing.T) {
	opts := []reading.Option{{ID: "lfp"}, {ID: "agm"}, {ID: "gel"}}
	for _, b := range beliefs {
		for seed := range uint64(2) {
			q := question{r: &reading.Reading{ID: b.readings[0], Options: opts}, shows: simrig.Answer{Known: true, Value: 24, Choice: "agm"}}
			if a := believing(b, seed).says(q); a.Value == 24 && a.Choice == "agm" {
				t.Errorf("%s, seed %d: believed is what is so", b.name, seed)
			}
			q.r = &reading.Reading{ID: "another"}
			if a := believing(b, seed).says(q); a != q.shows {
				t.Errorf("%s changes another reading", b.name)
			}
		}
	}
}

// counted is a rig that counts how often it was made and asked.
type counted struct {
	lamp
	asked *int
}

func (c *counted) Take(reading, place string) simrig.Answer {
	*c.asked++
	return c.lamp.Take(reading, place)
}

func TestMemoryAsksOnce(t *testing.T) {
	made, asked := 0, 0
	m := remember(func() (Rig, error) {
		made++
		return &counted{lamp{fault: "crust", severity: 3}, &asked}, nil
	})
	for walk := range 3 {
		m.again()
		before := m.Take("drop_v", "")
		m.Repair("crust")
		after := m.Take("drop_v", "")
		if before.Value != 3 || after.Value != 0.01 {
			t.Errorf("walk %d: %v before the repair and %v after it", walk, before.Value, after.Value)
		}
	}
	if made != 1 || asked != 2 {
		t.Errorf("the rig was made %d times and asked %d times, want once and twice", made, asked)
	}
	m.again()
	if m.Take("feed_v", ""); made != 2 {
		t.Errorf("a reading of the rig as it was has made it %d times, want 2: the last one was repaired", made)
	}
}
