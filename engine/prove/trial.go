package prove

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// Trial is one way in which people, meters and answers fall short.
type Trial string

// Trials.
const (
	Meters       Trial = "meters"       // readings moved within the meter's error
	Slips        Trial = "slips"        // numbers mistyped, misread, or taken at the wrong point
	Beliefs      Trial = "beliefs"      // a fact told wrong for good
	Unanswerable Trial = "unanswerable" // each reading of a walk not to be had, one at a time
	Unknowns     Trial = "unknowns"     // a part of all answers not known
	Two          Trial = "two"          // two faults
)

// Trials lists all.
func Trials() []Trial { return []Trial{Meters, Slips, Beliefs, Unanswerable, Unknowns, Two} }

// Tried is one row of a trial: walks under one condition.
type Tried struct {
	Name      string  `json:"name"`
	Walks     int     `json:"walks"`
	Right     Part    `json:"right"`         // the cause told, and nothing wrong standing firmly at the end
	Top3      Part    `json:"right_or_top3"` // or it is among the first three of what is said to be possible
	Wrong     Part    `json:"wrong_firmly"`  // a wrong cause stands likely or proven at the end
	First     Part    `json:"wrong_first"`   // a wrong cause was told first, whatever its proof said then
	Changed   Part    `json:"changed"`       // meters: another end than with readings that are exact
	Within    int     `json:"firm_within_error"`
	DeadEnds  int     `json:"dead_ends"`
	Odd       float64 `json:"asked_back"` // a walk
	Questions float64 `json:"questions"`
	Erred     int     `json:"walks_that_erred"` // with at least one answer that was not so
}

// TrialReport is what a trial comes to.
type TrialReport struct {
	Trial   Trial    `json:"trial"`
	Seed    uint64   `json:"seed"`
	Rigs    int      `json:"rigs"`
	Release bool     `json:"release"`
	Hash    string   `json:"knowledge"`
	Rows    []Tried  `json:"rows"`
	Targets []Target `json:"targets"`
	Causes  []Count  `json:"causes"` // of what went wrong, most often first
	Unsafe  []Count  `json:"unsafe_acts"`
}

// Met says whether all targets are.
func (r *TrialReport) Met() bool {
	return !slices.ContainsFunc(r.Targets, func(t Target) bool { return !t.Met })
}

// result is one walk of a trial.
type result struct {
	row     string
	right   bool
	top3    bool
	wrong   bool
	first   bool
	changed bool
	within  bool
	dead    bool
	erred   bool
	odd     int
	asked   int
	cause   string // why it went wrong, "" if it did not
	name    string
	unsafe  []string
}

// Try walks the population of o under the conditions of a trial. It is pure like
// [Prove], and fails as that does.
func Try(ctx context.Context, g *graph.Graph, src Source, o Options, trial Trial) (*TrialReport, error) {
	if o.Workers < 1 || o.Rigs < 1 {
		return nil, errors.New("a trial needs at least one worker and one rig for each fault")
	}
	if !slices.Contains(Trials(), trial) {
		return nil, fmt.Errorf("there is no trial called %q", trial)
	}
	pool, starts, err := basesOf(ctx, g, src, o)
	if err != nil {
		return nil, err
	}
	faults := src.Faults()
	cases, _ := population(faults, pool, o.Plan)
	want := Listed
	if trial == Two {
		cases, want = doubles(faults, pool, o.Plan), Double
	}
	cases = slices.DeleteFunc(cases, func(c Case) bool { return c.Kind != want })
	if len(cases) == 0 {
		return nil, errors.New("no rig of the population can have any of these faults")
	}
	t := &trier{g: g, src: src, r: &runner{g: g, judge: newJudge(g, faults), only: o.Symptom}, pool: pool, starts: starts}
	results := make([][]result, len(cases))
	err = each(ctx, o.Workers, len(cases), o.Progress, func(i int) error {
		var err error
		results[i], err = t.try(trial, cases[i])
		return err
	})
	if err != nil {
		return nil, err
	}
	rep := &TrialReport{Trial: trial, Seed: o.Seed, Rigs: o.Rigs, Release: o.Release, Hash: g.Hash}
	rep.tally(slices.Concat(results...))
	rep.aim()
	return rep, nil
}

// trier walks cases.
type trier struct {
	g      *graph.Graph
	src    Source
	r      *runner
	pool   []*Base
	starts []*walk.State
}

// try is all walks of one case; none if nobody would complain.
func (t *trier) try(trial Trial, c Case) ([]result, error) {
	b, start := t.pool[c.Rig], t.starts[c.Rig]
	rig := remember(func() (Rig, error) { return t.src.Make(b, c.Sets, c.Seed) })
	symptom, ok := complaint(c, t.r.judge.fault(c.Fault), rig.Symptoms, possible(b, t.r.g.SymptomOrder), t.r.only)
	if !ok || rig.err != nil {
		return nil, rig.err
	}
	walked := func(row string, who *person, from *walk.State) (*Run, result) {
		rig.again()
		run := t.r.walkFrom(symptom, c, b, from, rig, who)
		return run, t.result(row, run)
	}
	base, plain := walked("as it is", nil, start)
	out := []result{plain}
	switch trial {
	case Meters:
		more, err := t.meters(c, b, start, symptom)
		return append(out, more...), cmp.Or(err, rig.err)
	case Slips:
		for _, p := range []float64{0.02, 0.05} {
			slips := ""
			who := slipping(t.g, p, c.Seed, func(q question, slip string) { slips = q.r.ID + ", " + slip })
			_, x := walked(fmt.Sprintf("%.0f %% of numbers", 100*p), who, start)
			x.erred = slips != ""
			x.because(slips)
			out = append(out, x)
		}
	case Unknowns:
		for _, p := range []float64{0.1, 0.2, 0.3} {
			run, x := walked(fmt.Sprintf("%.0f %% not known", 100*p), unsure(t.r.judge.stops, p, c.Seed), start)
			x.erred = run.NotKnown > base.NotKnown
			x.because(lastUnknown(run))
			out = append(out, x)
		}
	case Unanswerable:
		for _, id := range used(base, t.g.DangerReading) {
			_, x := walked("one reading not to be had", without(id), start)
			x.erred = true
			x.because(id)
			out = append(out, x)
		}
	case Beliefs:
		for _, bel := range beliefs {
			who := believing(bel, c.Seed)
			from, ok := t.believe(b, who, bel)
			if !ok && !slices.ContainsFunc(base.asked, func(a Asked) bool { return slices.Contains(bel.readings, a.Reading) }) {
				continue
			}
			_, x := walked(bel.name, who, from)
			x.erred = true
			x.because(bel.name)
			out = append(out, x)
		}
	}
	return out, rig.err
}

// believe is the start of the walk with what the person believes in the rig's
// papers; ok says that it stands there.
func (t *trier) believe(b *Base, who *person, bel belief) (s *walk.State, ok bool) {
	wrong := *b
	wrong.Facts = slices.Clone(b.Facts)
	for i, f := range wrong.Facts {
		if slices.Contains(bel.readings, f.Reading.ID) {
			ok = true
			a := answerOf(f)
			wrong.Facts[i] = factOf(f, who.says(question{r: f.Reading, place: f.Place, shows: a}))
		}
	}
	s, err := begin(t.g, &wrong)
	if err != nil { // the walk refuses it, so nobody can hold it for true
		s, _ = begin(t.g, b)
	}
	return s, ok
}

// used lists what a walk asked up to its first finding, each once. What is asked
// only to stop work is left out: not known, it stops it, and has to.
func used(r *Run, danger string) []string {
	var out []string
	for _, a := range r.asked {
		if !a.Told && !a.Proof && !a.gate && a.Known && a.Reading != danger && !slices.Contains(out, a.Reading) {
			out = append(out, a.Reading)
		}
	}
	return out
}

// lastUnknown is what the walk last could not have.
func lastUnknown(r *Run) string {
	for _, a := range slices.Backward(r.asked) {
		if !a.Known && !a.Proof {
			return a.Reading
		}
	}
	return ""
}

// result judges a walk.
func (t *trier) result(row string, r *Run) result {
	x := result{row: row, odd: r.Odd, asked: r.Questions, name: r.Name(), unsafe: r.Unsafe}
	x.wrong = len(r.Firmly) > 0
	x.right = !x.wrong && (r.Verdict.Good() || r.Proven != nil)
	x.top3 = x.right || !x.wrong && t.listed(r)
	x.first = r.First != nil && !r.Verdict.Good() && r.First.Status == walk.IsLikely
	x.dead = r.Verdict == Failure || r.First == nil && len(r.Possible) == 0
	if !x.right {
		x.cause = r.Fault + " -> " + toldOf(r)
		if x.wrong {
			x.cause = r.Fault + " -> " + r.Firmly[0]
		}
	}
	return x
}

// listed says that a walk ended with the cause among the first three of what it
// said to be possible.
func (t *trier) listed(r *Run) bool {
	top := r.Possible[:min(3, len(r.Possible))]
	return slices.ContainsFunc(r.Sets, func(s simrig.Set) bool {
		return slices.ContainsFunc(top, func(id string) bool {
			return slices.Contains(t.r.judge.shown[s.Fault], id) || slices.Contains(t.r.judge.alike[s.Fault], id)
		})
	})
}

// because adds what brought about what went wrong.
func (x *result) because(what string) {
	if x.cause != "" && what != "" {
		x.cause = what + ": " + x.cause
	}
}
