package prove

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"hotlug/engine/graph"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// Options say what is proved and how.
type Options struct {
	Plan
	Release  bool               // noted in the report; the source has the ranges
	Symptom  string             // walk from this complaint only, "" from whatever the fault brings
	Workers  int                // at least 1; the result is the same with any number
	Table    int                // cases of each fault that the reference gets, 0 for no reference
	Outline  bool               // keep what each walk said, for [Run.Outline]
	Progress func(done, of int) // called from any goroutine, one at a time; nil for none
}

// mostLooks bounds the search for the exact optimum of a complaint, in options
// looked at: some seconds.
const mostLooks = 20_000

// soundRows is how many rigs without a fault the table has for each complaint.
const soundRows = 6

// Prove tries a knowledge on a population. It fails when the population is empty,
// when a rig's papers are refused, or with the context.
func Prove(ctx context.Context, g *graph.Graph, src Source, o Options) (*Report, error) {
	if o.Workers < 1 || o.Rigs < 1 {
		return nil, errors.New("a proof needs at least one worker and one rig for each fault")
	}
	faults := src.Faults()
	for _, id := range o.Faults {
		if !slices.ContainsFunc(faults, func(f *simrig.Fault) bool { return f.ID == id }) {
			return nil, fmt.Errorf("there is no fault called %q", id)
		}
	}
	j := newJudge(g, faults)
	pool, starts, err := basesOf(ctx, g, src, o)
	if err != nil {
		return nil, err
	}
	cases, never := population(faults, pool, o.Plan)
	if len(cases) == 0 {
		return nil, errors.New("no rig of the population can have any of these faults")
	}
	t := newTable(g)
	probes := t.probes(g)
	r := &runner{g: g, judge: j, only: o.Symptom, outline: o.Outline}
	runs, rows := make([]*Run, len(cases)), make([]*Row, len(cases))
	err = each(ctx, o.Workers, len(cases), o.Progress, func(i int) error {
		c := cases[i]
		b := pool[c.Rig]
		x, err := src.Make(b, c.Sets, c.Seed)
		if err != nil {
			runs[i] = &Run{Case: c, Err: err.Error(), Verdict: Failure}
			return nil
		}
		runs[i] = r.walk(c, b, starts[c.Rig], x)
		if c.Kind != Listed || c.N >= o.Table || runs[i].Symptom == "" || runs[i].Err != "" {
			return nil
		}
		if x, err = src.Make(b, c.Sets, c.Seed); err == nil {
			x.Complain(runs[i].Symptom)
			rows[i] = t.row(g, probes, starts[c.Rig], b, x, runs[i])
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	rep := tally(g, j, runs, o.Seed)
	rep.Rigs, rep.Release, rep.Never = o.Rigs, o.Release, never
	if o.Table > 0 {
		t.label(j, rows)
		if err := t.sound(ctx, g, src, o, pool, starts, probes); err != nil {
			return nil, err
		}
		rep.Symptoms, rep.Dear, rep.NoGain = price(t, g, mostLooks)
		rep.Groups = groups(t)
	}
	rep.aim(len(o.Faults) == 0)
	return rep, nil
}

// label gives the rows their findings and weights: each fault the same, however
// many of its cases brought a complaint.
func (t *Table) label(j *judge, rows []*Row) {
	n := map[string]float64{}
	for _, r := range rows {
		if r != nil && (r.run.Verdict == Right || r.run.Verdict == InGroup) {
			t.Rows = append(t.Rows, r)
			n[r.run.Fault]++
		}
	}
	for _, r := range t.Rows {
		shown := j.shown[r.run.Fault]
		r.Label, r.Weight = shown[0], 1/n[r.run.Fault]
		r.Covers = slices.Concat(shown, j.alike[r.run.Fault])
	}
}

// sound adds rigs without a fault for each complaint of the table: a fault is found
// only when it is told from them.
func (t *Table) sound(ctx context.Context, g *graph.Graph, src Source, o Options, pool []*Base, starts []*walk.State, probes []probe) error {
	var names []string
	for _, r := range t.Rows {
		if !slices.Contains(names, r.Symptom) {
			names = append(names, r.Symptom)
		}
	}
	slices.Sort(names)
	harmless := []string{""}
	for _, id := range g.FindingOrder {
		if g.Findings[id].NoFault {
			harmless = append(harmless, id)
		}
	}
	rows := make([]*Row, soundRows*len(names))
	err := each(ctx, o.Workers, len(rows), nil, func(i int) error {
		sy, n := names[i/soundRows], i%soundRows
		at := int(seedOf(o.Seed, "sound "+sy, n) % uint64(len(pool)))
		for k := range pool {
			b := pool[(at+k)%len(pool)]
			if !slices.Contains(possible(b, g.SymptomOrder), sy) {
				continue
			}
			x, err := src.Make(b, nil, seedOf(o.Seed, "sound "+sy, n))
			if err != nil {
				return err
			}
			x.Complain(sy)
			run := &Run{Case: Case{Kind: Healthy, N: n}, Symptom: sy}
			rows[i] = t.row(g, probes, starts[(at+k)%len(pool)], b, x, run)
			break
		}
		return nil
	})
	for _, r := range rows {
		if r != nil {
			r.sound, r.Covers, r.Weight = true, harmless, 1.0/soundRows
			t.Rows = append(t.Rows, r)
		}
	}
	return err
}

// basesOf makes the rigs of the population and the start of the walks on them.
func basesOf(ctx context.Context, g *graph.Graph, src Source, o Options) ([]*Base, []*walk.State, error) {
	n := max(2*o.Rigs, 40)
	pool, starts := make([]*Base, n), make([]*walk.State, n)
	err := each(ctx, o.Workers, n, nil, func(i int) error {
		b, err := src.Base(i)
		if err != nil {
			return err
		}
		pool[i] = b
		starts[i], err = begin(g, b)
		return err
	})
	return pool, starts, err
}

// each calls do for every number below n, with some at a time, and gives the first
// error by number.
func each(ctx context.Context, workers, n int, progress func(done, of int), do func(int) error) error {
	errs := make([]error, n)
	var mu sync.Mutex
	next, done := 0, 0
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for {
				mu.Lock()
				i := next
				next++
				mu.Unlock()
				if i >= n || ctx.Err() != nil {
					return
				}
				errs[i] = do(i)
				if progress != nil {
					mu.Lock()
					done++
					progress(done, n)
					mu.Unlock()
				}
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	return errors.Join(errs...)
}
