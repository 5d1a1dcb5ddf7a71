package prove

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"

	"hotlug/engine/graph"
)

// Report is what a proof of the knowledge comes to.
type Report struct {
	Seed    uint64 `json:"seed"`
	Rigs    int    `json:"rigs"`
	Release bool   `json:"release"`
	Hash    string `json:"knowledge"`
	Walks   int    `json:"walks"`

	Targets  []Target `json:"targets"`
	Right    Part     `json:"right"` // first or in the stated group, mean over faults, drawn by faults
	RightAll Part     `json:"right_of_all_walks"`
	Final    Part     `json:"right_at_the_end"` // a proven finding is the fault's
	Top3     Part     `json:"top3"`             // right, or in the list of what is possible

	Questions    Spread  `json:"questions"`
	Measurements Spread  `json:"measurements"`
	Minutes      Spread  `json:"minutes"`
	NotKnown     float64 `json:"not_known"` // mean of answers that could not be had

	HealthyNamed  Part `json:"healthy_named"`  // a fault was named, or work stopped, where there was none
	UnlistedWrong Part `json:"unlisted_wrong"` // a wrong cause was called likely
	UnlistedProof Part `json:"unlisted_proof"` // of these, proven wrongly
	DoubleOne     Part `json:"double_one"`     // one of two faults was told first
	Repaired      Part `json:"proof_repaired"` // proof held on the repaired rig
	Unrepaired    Part `json:"proof_unrepaired"`
	ProvenWrongly Part `json:"proven_wrongly"` // of all runs, proofs that held though nothing was mended
	Unsafe        int  `json:"unsafe"`
	NoGain        Part `json:"no_gain"` // questions whose answer followed from those before

	Faults    []FaultScore `json:"faults"` // worst first
	Symptoms  []Priced     `json:"symptoms"`
	Confusion []Count      `json:"confusion"`
	UnsafeAs  []Count      `json:"unsafe_acts"`
	Mistaken  []Count      `json:"proven_wrongly_list"`
	ProofsOff []Count      `json:"proofs_off"` // proofs that did not come out as they should
	HealthyAs []Count      `json:"healthy_list"`
	Refused   []Count      `json:"refused_answers"`
	Failures  []Count      `json:"failures"`
	Silent    []Count      `json:"unnoticed"`
	Never     []string     `json:"no_rig_can_have"`
	Homeless  []string     `json:"faults_without_finding"`
	Unmet     []string     `json:"shows_without_fault"`
	Groups    *Groups      `json:"groups,omitempty"`
	Dear      []DearStep   `json:"steps"` // what each step of the knowledge costs too much, dearest first

	Runs []*Run `json:"-"`
}

// FaultScore is how one fault fared.
type FaultScore struct {
	Fault      string          `json:"fault"`
	Kind       Kind            `json:"kind"`
	Good       Part            `json:"good"`
	Verdicts   map[Verdict]int `json:"verdicts"`
	Final      Part            `json:"right_at_the_end"`
	Repaired   Part            `json:"proof_repaired"`
	Unrepaired Part            `json:"proof_unrepaired"`
	Questions  float64         `json:"questions"`
	Minutes    float64         `json:"minutes"`
	NotKnown   float64         `json:"not_known"`
	Told       []Count         `json:"told"` // what was told instead
}

// Target is a bar that the knowledge has to clear.
type Target struct {
	Name string  `json:"name"`
	Want float64 `json:"want"`
	Got  float64 `json:"got"`
	Most bool    `json:"most"` // Want is the most, not the least
	Unit string  `json:"unit"`
	Met  bool    `json:"met"`
	Note string  `json:"note,omitempty"`
}

// Met says whether all targets are.
func (r *Report) Met() bool {
	return !slices.ContainsFunc(r.Targets, func(t Target) bool { return !t.Met })
}

// Bars of the targets.
const (
	wantRight     = 0.97
	wantEachFault = 0.90
	mostHealthy   = 0.02
	wantProof     = 0.98
	mostQuestions = 1.15
)

// tally scores the runs.
func tally(g *graph.Graph, j *judge, runs []*Run, seed uint64) *Report {
	r := &Report{Seed: seed, Hash: g.Hash, Runs: runs}
	by := map[string][]*Run{}
	var order []string
	kinds := map[Kind][]*Run{}
	unsafe, refused, failed, silent := counter{}, counter{}, counter{}, counter{}
	mistaken, confused, healthy, proofs := counter{}, counter{}, counter{}, counter{}
	for _, x := range runs {
		for _, u := range x.Refused {
			refused.add(u, x.Name())
		}
		switch {
		case x.Silent:
			if x.Kind != Double { // what one fault alone does is told by its own cases
				silent.add(x.Fault, x.Name())
			}
			continue
		case x.Err != "":
			failed.add(x.Err, x.Name())
		}
		r.Walks++
		for _, u := range x.Unsafe {
			unsafe.add(u, x.Name())
			r.Unsafe++
		}
		for _, f := range x.False {
			mistaken.add(orHealthy(x.Fault)+" -> "+f, x.Name())
		}
		if x.Kind == Listed || x.Kind == Unlisted {
			if by[x.Fault] == nil {
				order = append(order, x.Fault)
			}
			by[x.Fault] = append(by[x.Fault], x)
		}
		kinds[x.Kind] = append(kinds[x.Kind], x)
		if x.Repaired != NoProof && x.Repaired != Passed {
			proofs.add(x.Fault+", mended: "+string(x.Repaired), x.Name())
		}
		if x.Unmended != NoProof && x.Unmended != Failed {
			proofs.add(x.Fault+", not mended: "+string(x.Unmended), x.Name())
		}
		if x.Kind == Listed && !x.Verdict.Good() {
			confused.add(x.Fault+" -> "+toldOf(x), x.Name())
		}
		if x.Kind == Healthy && !x.Verdict.Good() {
			healthy.add(x.Symptom+" -> "+toldOf(x), x.Name())
		}
	}
	r.overall(kinds)
	var goods []float64
	for _, id := range order {
		f := score(by[id])
		r.Faults = append(r.Faults, f)
		if f.Kind == Listed {
			goods = append(goods, f.Good.Share)
		}
	}
	r.Right = bootstrap(goods, len(kinds[Listed]), rand.New(rand.NewPCG(seed, 3)))
	slices.SortStableFunc(r.Faults, func(a, b FaultScore) int {
		return cmp.Or(cmp.Compare(a.Good.Share, b.Good.Share), cmp.Compare(a.Fault, b.Fault))
	})
	r.UnsafeAs, r.Refused, r.Failures, r.Silent = unsafe.list(), refused.list(), failed.list(), silent.list()
	r.Mistaken, r.Confusion, r.HealthyAs = mistaken.list(), confused.list(), healthy.list()
	r.ProofsOff = proofs.list()
	r.Homeless, r.Unmet = j.homeless()
	return r
}

func orHealthy(fault string) string {
	if fault == "" {
		return "healthy"
	}
	return fault
}

// toldOf is what a run told first.
func toldOf(x *Run) string {
	switch {
	case x.Verdict == Failure:
		return "failure"
	case x.First == nil:
		return string(x.Verdict)
	case x.Verdict == WrongPlace:
		return x.First.Finding + " at the wrong place"
	}
	return x.First.Finding
}

func (r *Report) overall(kinds map[Kind][]*Run) {
	listed := kinds[Listed]
	r.RightAll = share(listed, func(x *Run) bool { return x.Verdict.Good() })
	r.Final = share(listed, func(x *Run) bool { return x.Proven != nil || x.Verdict.Good() && x.Repaired == NoProof })
	r.Top3 = share(listed, func(x *Run) bool { return x.Verdict.Good() || x.Verdict == InList })
	r.Questions = spreadOf(listed, func(x *Run) float64 { return float64(x.Questions) })
	r.Measurements = spreadOf(listed, func(x *Run) float64 { return float64(x.Measurements) })
	r.Minutes = spreadOf(listed, func(x *Run) float64 { return x.Minutes })
	r.NotKnown = spreadOf(listed, func(x *Run) float64 { return float64(x.NotKnown) }).Mean
	r.HealthyNamed = share(kinds[Healthy], func(x *Run) bool { return !x.Verdict.Good() })
	r.UnlistedWrong = share(kinds[Unlisted], func(x *Run) bool { return !x.Verdict.Good() })
	r.UnlistedProof = share(kinds[Unlisted], func(x *Run) bool { return len(x.False) > 0 })
	r.DoubleOne = share(kinds[Double], func(x *Run) bool { return x.Verdict.Good() })
	all := slices.Concat(listed, kinds[Double])
	r.Repaired = share(slices.DeleteFunc(slices.Clone(all), func(x *Run) bool { return x.Repaired == NoProof }),
		func(x *Run) bool { return x.Repaired == Passed })
	r.Unrepaired = share(slices.DeleteFunc(slices.Clone(all), func(x *Run) bool { return x.Unmended == NoProof }),
		func(x *Run) bool { return x.Unmended == Failed })
	r.ProvenWrongly = share(slices.Concat(listed, kinds[Healthy], kinds[Unlisted]), func(x *Run) bool { return len(x.False) > 0 })
}

func share(runs []*Run, is func(*Run) bool) Part {
	n := 0
	for _, x := range runs {
		if is(x) {
			n++
		}
	}
	return wilson(n, len(runs))
}

func spreadOf(runs []*Run, of func(*Run) float64) Spread {
	var x []float64
	for _, r := range runs {
		x = append(x, of(r))
	}
	return spread(x)
}

func score(runs []*Run) FaultScore {
	f := FaultScore{Fault: runs[0].Fault, Kind: runs[0].Kind, Verdicts: map[Verdict]int{}}
	told := counter{}
	for _, x := range runs {
		f.Verdicts[x.Verdict]++
		if !x.Verdict.Good() {
			told.add(toldOf(x), x.Name())
		}
	}
	f.Told = told.list()
	f.Good = share(runs, func(x *Run) bool { return x.Verdict.Good() })
	f.Final = share(runs, func(x *Run) bool { return x.Proven != nil || x.Verdict.Good() && x.Repaired == NoProof })
	with := func(p func(*Run) Proof) []*Run {
		return slices.DeleteFunc(slices.Clone(runs), func(x *Run) bool { return p(x) == NoProof })
	}
	f.Repaired = share(with(func(x *Run) Proof { return x.Repaired }), func(x *Run) bool { return x.Repaired == Passed })
	f.Unrepaired = share(with(func(x *Run) Proof { return x.Unmended }), func(x *Run) bool { return x.Unmended == Failed })
	f.Questions = spreadOf(runs, func(x *Run) float64 { return float64(x.Questions) }).Mean
	f.Minutes = spreadOf(runs, func(x *Run) float64 { return x.Minutes }).Mean
	f.NotKnown = spreadOf(runs, func(x *Run) float64 { return float64(x.NotKnown) }).Mean
	return f
}

// aim sets the targets beside what was reached.
func (r *Report) aim(all bool) {
	add := func(name string, got, want float64, most bool, unit, note string) {
		met := got >= want
		if most {
			met = got <= want
		}
		r.Targets = append(r.Targets, Target{name, want, got, most, unit, met, note})
	}
	add("right cause first or in its group", r.Right.Share, wantRight, false, "%", "mean over faults")
	worst, which := 1.0, ""
	for _, f := range r.Faults {
		if f.Kind == Listed && f.Good.Share < worst {
			worst, which = f.Good.Share, f.Fault
		}
	}
	add("the worst fault", worst, wantEachFault, false, "%", which)
	if all {
		add("a fault named on a healthy rig", r.HealthyNamed.Share, mostHealthy, true, "%", "")
	}
	add("unsafe acts", float64(r.Unsafe), 0, true, "", "")
	add("proof holds on the repaired rig", r.Repaired.Share, wantProof, false, "%", "")
	add("proof fails on the unrepaired rig", r.Unrepaired.Share, wantProof, false, "%", "")
	if q, of := r.ratio(func(p Priced) (float64, float64) { return p.Questions, p.Best }); of > 0 {
		least, _ := r.ratio(func(p Priced) (float64, float64) { return p.Questions, p.Least })
		note := "exact"
		if least > q+1e-6 {
			note = fmt.Sprintf("of the best order found; %.2f times what no order undercuts", least)
		}
		add("questions against the optimum", q, mostQuestions, true, "x", note)
	}
}

// ratio of the knowledge to the reference over all symptoms, weighted by faults.
func (r *Report) ratio(of func(Priced) (own, reference float64)) (float64, float64) {
	own, ref := 0.0, 0.0
	for _, p := range r.Symptoms {
		a, b := of(p)
		own += a * p.Weight
		ref += b * p.Weight
	}
	if ref == 0 {
		return 0, 0
	}
	return own / ref, ref
}
