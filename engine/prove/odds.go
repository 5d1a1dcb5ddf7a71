package prove

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
)

// Of the file of odds: the most buckets of a number, and by how much a finding's
// answers must differ from those of all to stand in it. Twenty rigs spread over
// seven buckets differ by a quarter by chance alone.
const (
	mostBuckets  = 7
	leastUnlike  = 0.2
	leastNumbers = 0.35
)

// answered are the answers of one rig to all questions of a table.
type answered struct {
	findings []string // that are so
	takes    []simrig.Answer
	volts    float64 // of the system
}

// Odds counts on a population how often each finding shows which answers, as the
// file that [graph.ReadOdds] reads. A rig without a fault counts for the findings
// that say so.
func Odds(ctx context.Context, g *graph.Graph, src Source, o Options) ([]byte, error) {
	faults := src.Faults()
	j := newJudge(g, faults)
	pool, _, err := basesOf(ctx, g, src, o)
	if err != nil {
		return nil, err
	}
	cases, _ := population(faults, pool, o.Plan)
	cases = slices.DeleteFunc(cases, func(c Case) bool { return c.Kind != Listed })
	t := newTable(g)
	all := make([]*answered, len(cases))
	err = each(ctx, o.Workers, len(cases), o.Progress, func(i int) error {
		c := cases[i]
		b := pool[c.Rig]
		x, err := src.Make(b, c.Sets, c.Seed)
		if err != nil {
			return err
		}
		symptom, ok := complaint(c, j.fault(c.Fault), x.Symptoms, possible(b, g.SymptomOrder), "")
		if !ok || len(j.shown[c.Fault]) == 0 {
			return nil
		}
		x.Complain(symptom)
		all[i] = &answered{findings: j.shown[c.Fault], takes: t.answers(g, b, x), volts: b.Sys.Volts}
		return nil
	})
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(a *answered) bool { return a == nil })
	var out bytes.Buffer
	out.WriteString("format: 1\n")
	fmt.Fprintf(&out, "# How often each finding shows which answers on simulated rigs: %d of each fault, seed %d.\n", o.Rigs, o.Seed)
	fmt.Fprintf(&out, "# Written by: go test ./engine/prove -run TestOdds -update\n")
	for q, question := range t.Questions {
		t.count(&out, g.Readings[question.Reading], q, all, g.FindingOrder)
	}
	return out.Bytes(), nil
}

// answers asks a rig everything: at the place that the complaint is about, or
// where it reads highest.
func (t *Table) answers(g *graph.Graph, b *Base, x Rig) []simrig.Answer {
	out := make([]simrig.Answer, len(t.Questions))
	for i, q := range t.Questions {
		places := []string{""}
		if q.Class != "" {
			places = nil
			for _, p := range b.Places {
				if p.Class == q.Class {
					places = append(places, p.ID)
				}
			}
			if f := x.Focus(); slices.Contains(places, f) || len(places) == 0 {
				places = []string{f}
			}
		}
		for _, p := range places {
			a := x.Take(q.Reading, p)
			if a.Known && (!out[i].Known || a.Value > out[i].Value) {
				out[i] = a
			}
		}
	}
	return out
}

// count writes the odds of one reading.
func (t *Table) count(out *bytes.Buffer, r *reading.Reading, q int, all []*answered, order []string) {
	bucket, cuts, n := buckets(r, q, all)
	if n < 2 {
		return
	}
	every, by := make([]float64, n), map[string][]float64{}
	sum := map[string]float64{}
	for i, a := range all {
		if bucket[i] < 0 {
			continue
		}
		for _, f := range a.findings {
			if by[f] == nil {
				by[f] = make([]float64, n)
			}
			by[f][bucket[i]]++
			sum[f]++
		}
	}
	for f, p := range by {
		for i := range p {
			p[i] /= sum[f]
		}
	}
	for _, f := range order {
		for i, x := range by[f] {
			every[i] += x / float64(len(by))
		}
	}
	var lines bytes.Buffer
	for _, f := range order {
		unlike := 0.0
		for i, x := range by[f] {
			unlike += math.Abs(x-every[i]) / 2
		}
		least := leastUnlike
		if r.Answer == reading.Number {
			least = leastNumbers
		}
		if by[f] != nil && unlike >= least {
			fmt.Fprintf(&lines, " %s %s\n", f, digits(by[f]))
		}
	}
	if lines.Len() == 0 {
		return
	}
	fmt.Fprintf(out, "reading %s", r.ID)
	for _, c := range cuts {
		fmt.Fprintf(out, " %.4g", c)
	}
	fmt.Fprintf(out, "\n - %s\n%s", digits(every), lines.Bytes())
}

// buckets sorts the answers of a reading: by choice, or by cuts between which
// equally many lie. An answer that could not be had is in none.
func buckets(r *reading.Reading, q int, all []*answered) (of []int, cuts []float64, n int) {
	of = make([]int, len(all))
	value := func(a *answered) float64 {
		v := a.takes[q].Value
		if r.Scales && a.volts > 0 {
			v *= 12 / a.volts
		}
		return v
	}
	var values []float64
	for _, a := range all {
		if a.takes[q].Known {
			values = append(values, value(a))
		}
	}
	if len(values) == 0 {
		return of, nil, 0
	}
	slices.Sort(values)
	for i := 1; i < mostBuckets && r.Answer == reading.Number; i++ {
		// Written with four digits, so cut where those are.
		var c float64
		fmt.Sscan(fmt.Sprintf("%.4g", values[i*len(values)/mostBuckets]), &c)
		if len(cuts) == 0 || c > cuts[len(cuts)-1] {
			cuts = append(cuts, c)
		}
	}
	n = len(cuts) + 1
	switch r.Answer {
	case reading.YesNo:
		n = 2
	case reading.Choice:
		n = len(r.Options)
	}
	for i, a := range all {
		x := a.takes[q]
		switch {
		case !x.Known:
			of[i] = -1
		case r.Answer == reading.Number:
			of[i], _ = slices.BinarySearch(cuts, value(a))
		case r.Answer == reading.YesNo:
			if x.Choice == "yes" {
				of[i] = 1
			}
		default:
			of[i] = r.OptionByID(x.Choice)
		}
	}
	return of, cuts, n
}

// digits are shares of one, the largest as nine, each other in proportion; what is
// there at all is at least one.
func digits(shares []float64) string {
	top := slices.Max(shares)
	b := make([]byte, len(shares))
	for i, s := range shares {
		d := math.Round(9 * s / top)
		if s > 0 {
			d = max(d, 1)
		}
		b[i] = '0' + byte(d)
	}
	return string(b)
}
