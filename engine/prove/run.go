package prove

import (
	"fmt"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// mostEvents is more than any walk takes that is answered at every prompt.
const mostEvents = 250

// standMinutes is what going to another place costs.
const standMinutes = 1

// Named is a finding as it was told in a run.
type Named struct {
	Finding string      `json:"finding"`
	Place   string      `json:"place,omitempty"`
	Status  walk.Status `json:"status"`
}

// Asked is one question of a run.
type Asked struct {
	Step    string  `json:"step"`
	Reading string  `json:"reading"`
	Place   string  `json:"place,omitempty"`
	Answer  string  `json:"answer"`
	Minutes float64 `json:"minutes"`
	Known   bool    `json:"known"`
	Proof   bool    `json:"proof,omitempty"`
	Told    bool    `json:"after_first,omitempty"` // asked after the first finding was told
	gate    bool    // of the danger sheet, or asked for nothing but to stop work
}

// Proof is how a proof came out.
type Proof string

// Ways that a proof comes out.
const (
	NoProof  Proof = ""          // the finding has none, or none was told
	Passed   Proof = "passed"    // the fix is proven
	Failed   Proof = "failed"    // the finding is refuted
	NotRead  Proof = "not read"  // its readings could not be had
	TooClose Proof = "too close" // decided by its middle values
)

// Run is one walk through one case.
type Run struct {
	Case
	Symptom  string       `json:"symptom"`
	Outcome  walk.Outcome `json:"outcome"`
	Verdict  Verdict      `json:"verdict"`
	First    *Named       `json:"first,omitempty"`  // first finding told
	Proven   *Named       `json:"proven,omitempty"` // the finding whose proof held on the repaired rig
	False    []string     `json:"proven_wrongly,omitempty"`
	Possible []string     `json:"possible,omitempty"` // at the end, likeliest first
	Repaired Proof        `json:"proof_repaired,omitempty"`
	Unmended Proof        `json:"proof_unrepaired,omitempty"`

	Questions    int     `json:"questions"`    // up to the first finding, or the end
	Measurements int     `json:"measurements"` // of these, with a meter
	NotKnown     int     `json:"not_known"`
	Close        int     `json:"close_calls"`
	Minutes      float64 `json:"minutes"`

	Unsafe  []string `json:"unsafe,omitempty"`
	Refused []string `json:"refused,omitempty"` // answers that the walk did not take
	Err     string   `json:"error,omitempty"`
	Silent  bool     `json:"silent,omitempty"` // nobody would notice anything: no walk
	Odd     int      `json:"asked_back,omitempty"`
	Firmly  []string `json:"wrong_firmly,omitempty"` // findings that stand at the end and are not so
	Within  string   `json:"within,omitempty"`       // condition of a firm finding that the meter's error could turn

	asked   []Asked
	classes map[string]string // of the rig's places
	lines   []string          // for an outline
	trailed int               // of the trail, what the outline has
}

// runner walks cases through one knowledge.
type runner struct {
	g       *graph.Graph
	judge   *judge
	only    string // symptom
	outline bool   // keep lines
}

// walker is one walk.
type walker struct {
	*runner
	rig   Rig
	guard guard
	run   *Run
	s     *walk.State
	stand string
	left  []string // faults that are not repaired yet
	steps int
	done  int // of State.Told that have been looked at

	person *person         // nil: says what the rig shows
	acts   int             // things done to the rig
	heard  map[string]bool // readings that the person has been asked for since
}

// begin is a walk's state with what the rig's papers say: the same for all cases
// of a rig.
func begin(g *graph.Graph, b *Base) (*walk.State, error) {
	s := walk.Start(g, walk.Setup{Places: b.Places})
	for _, f := range b.Facts {
		n, p := walk.Step(g, s, walk.FromFile(f.Reading, f.Place, f.Text, f.Given))
		if p.Refused != "" {
			return nil, fmt.Errorf("the rig %s says of %s what the walk refuses: %s", b.Name, f.Reading.ID, p.Refused)
		}
		s = n
	}
	return s, nil
}

// walk lets one case answer until the walk ends. It returns the rig as it then
// is, nil if there was no walk.
func (r *runner) walk(c Case, b *Base, start *walk.State, x Rig) *Run {
	f := r.judge.fault(c.Fault)
	symptom, ok := complaint(c, f, x.Symptoms, possible(b, r.g.SymptomOrder), r.only)
	if !ok {
		return &Run{Case: c, Silent: true}
	}
	return r.walkFrom(symptom, c, b, start, x, nil)
}

// walkFrom is a walk from a complaint with a person who answers.
func (r *runner) walkFrom(symptom string, c Case, b *Base, start *walk.State, x Rig, who *person) *Run {
	run := &Run{Case: c, Symptom: symptom}
	run.classes = map[string]string{}
	for _, p := range b.Places {
		run.classes[p.ID] = p.Class
	}
	x.Complain(symptom)
	w := &walker{runner: r, rig: x, run: run, s: start, person: who, heard: map[string]bool{}}
	w.guard.truth = x.Truth()
	for _, s := range c.Sets {
		w.left = append(w.left, s.Fault)
	}
	w.say("complaint: %s", symptom)
	w.feed(walk.Event{Kind: walk.EvComplaint, Symptom: symptom})
	for w.s.Outcome() == walk.Running && run.Err == "" {
		if w.s.Prompt().Kind == walk.WantFix {
			w.fix()
			continue
		}
		w.answer()
	}
	run.Outcome = w.s.Outcome()
	if end := w.s.Prompt(); end.Kind == walk.Ended {
		for _, p := range end.Possible {
			run.Possible = append(run.Possible, p.Finding.ID)
		}
	}
	w.say("end: %s", run.Outcome)
	if run.Outcome == walk.Narrowed {
		w.say("possible: %v", run.Possible[:min(5, len(run.Possible))])
	}
	r.judge.verdict(run, w.guard.truth)
	w.firm()
	w.say("verdict: %s", run.Verdict)
	return run
}

func (w *walker) say(format string, a ...any) {
	if w.outline {
		w.run.lines = append(w.run.lines, fmt.Sprintf(format, a...))
	}
}

// feed gives the walk one event, and looks at what it told for it.
func (w *walker) feed(e walk.Event) bool {
	if w.steps++; w.steps > mostEvents {
		w.run.Err = fmt.Sprintf("after %d events the walk still wants %s", mostEvents, w.s.Prompt().Kind)
		return false
	}
	n, p := walk.Step(w.g, w.s, e)
	if p.Refused != "" {
		if e.Kind == walk.EvAnswer {
			w.run.Refused = append(w.run.Refused, fmt.Sprintf("%s: %s", e.Reading, p.Refused))
			return false
		}
		w.run.Err = fmt.Sprintf("%s is refused: %s", e.Kind, p.Refused)
		return false
	}
	w.s = n
	if w.outline {
		w.branches()
	}
	told := n.Told()
	for _, t := range told[min(w.done, len(told)):] {
		if t.Status == walk.IsHandedOver && !t.Second {
			w.told(t)
		}
	}
	w.done = len(told)
	return true
}

// told notes the first finding.
func (w *walker) told(t walk.Told) {
	w.say("told: %s at %q (%s)", t.Finding.ID, t.Place.ID, t.Status)
	if w.run.First == nil || w.judge.justStop(w.run.First, w.guard.truth) {
		w.run.First = &Named{t.Finding.ID, t.Place.ID, t.Status}
		if w.person != nil && w.person.meter != "" && t.Status == walk.IsLikely {
			w.run.Within = w.turned(t)
		}
	}
}

// answer gives the prompt what it wants, as the rig has it.
func (w *walker) answer() {
	p := w.s.Prompt()
	w.run.Unsafe = append(w.run.Unsafe, w.guard.look(w.g, w.s, p, w.rig)...)
	switch p.Kind {
	case walk.WantSure:
		w.run.Odd++
		w.say("  asked back: %s", p.Reading.ID)
		if k := w.heardAs(p) + "!"; w.person != nil && !w.person.firm && !w.heard[k] {
			w.heard[k] = true
			w.take(p) // looks again
			return
		}
		w.feed(walk.Event{Kind: walk.EvSure})
	case walk.WantCloseCall:
		w.run.Close++
		w.say("  too close to call: %s", p.Close.Condition)
		if b := p.Close.Better; b != nil && b.If != nil { // the same once more reads the same here
			w.feed(walk.Event{Kind: walk.EvBetter})
			return
		}
		w.feed(walk.Event{Kind: walk.EvGoOn})
	case walk.WantDone:
		w.say("  do: %s", p.Action.ID)
		w.rig.Do(p.Action.ID)
		w.acts++
		w.guard.truth = w.rig.Truth()
		w.feed(walk.Event{Kind: walk.EvDone, Action: p.Action.ID})
	case walk.WantPlaces:
		w.feed(walk.Event{Kind: walk.EvDone, Action: walk.ConfirmPlaces})
	case walk.WantPlace:
		ids := make([]string, len(p.Places))
		for i, x := range p.Places {
			ids[i] = x.ID
		}
		at := w.rig.Which(ids)
		w.say("  which place: %q", at)
		w.feed(walk.Event{Kind: walk.EvAt, Place: at})
	case walk.WantAnswer:
		w.take(p)
	default:
		w.run.Err = fmt.Sprintf("the walk wants %s, which nobody can give", p.Kind)
	}
}

// take answers one reading.
func (w *walker) take(p walk.Prompt) {
	r := p.Reading
	for {
		a := w.rig.Take(r.ID, p.Place.ID)
		meter := ""
		first := !w.heard[w.heardAs(p)]
		w.heard[w.heardAs(p)] = true
		if w.person != nil {
			if first || w.person.firm {
				a = w.person.says(question{r, p.Place.ID, w.acts, a, w.rig})
			}
			if m := w.g.Meters[r.Meter]; m != nil && m.Class == "hand" {
				meter = w.person.meter
			}
		}
		e := eventOf(r, p.Place.ID, a)
		e.Meter = meter
		w.note(p, a)
		if w.feed(e) || w.run.Err != "" {
			return
		}
		if w.person == nil || w.person.firm || !first {
			break
		}
	}
	w.feed(walk.Event{Kind: walk.EvNotKnown, Reading: r.ID, Place: p.Place.ID, Reason: "the value was refused"})
}

// heardAs is under what the person remembers to have been asked for a reading.
func (w *walker) heardAs(p walk.Prompt) string {
	return fmt.Sprintf("%s@%s|%d", p.Reading.ID, p.Place.ID, w.acts)
}

// eventOf is an answer of the rig as an event of the walk.
func eventOf(r *reading.Reading, place string, a simrig.Answer) walk.Event {
	e := walk.Event{Kind: walk.EvAnswer, Reading: r.ID, Place: place, Choice: a.Choice, Step: a.Digit}
	if !a.Known {
		return walk.Event{Kind: walk.EvNotKnown, Reading: r.ID, Place: place, Reason: a.Reason}
	}
	if r.Answer == reading.Number {
		v := a.Value
		e.Value, e.Choice = &v, ""
	}
	return e
}

// note counts a question.
func (w *walker) note(p walk.Prompt, a simrig.Answer) {
	r := p.Reading
	minutes := r.Minutes
	if r.Stand != "" && r.Stand != w.stand {
		if w.stand != "" {
			minutes += standMinutes
		}
		w.stand = r.Stand
	}
	step := ""
	if p.Step != nil {
		step = p.Step.ID
	}
	first := w.run.First != nil && !w.judge.justStop(w.run.First, w.guard.truth)
	w.run.asked = append(w.run.asked, Asked{Step: step, Reading: r.ID, Place: p.Place.ID, Answer: shown(r, a), Minutes: minutes,
		Known: a.Known, Proof: p.Proof, Told: first, gate: p.Danger || w.judge.gates[r.ID] || p.Step != nil && p.Step.Sheet == w.judge.dangerSheet})
	w.say("  %s%s: %s", r.ID, atPlace(p.Place.ID), shown(r, a))
	if first || p.Proof {
		return
	}
	w.run.Questions++
	w.run.Minutes += minutes
	if r.Class == reading.Measurement {
		w.run.Measurements++
	}
	if !a.Known {
		w.run.NotKnown++
	}
}

func atPlace(id string) string {
	if id == "" {
		return ""
	}
	return " at " + id
}

func shown(r *reading.Reading, a simrig.Answer) string {
	switch {
	case !a.Known:
		return "not known (" + a.Reason + ")"
	case r.Answer != reading.Number:
		return a.Choice
	}
	return fmt.Sprintf("%.4g %s", a.Value, r.Kind.Unit.Symbol())
}

// branches adds to the outline which way the walk went.
func (w *walker) branches() {
	trail := w.s.Trail(w.g)
	for _, v := range trail[min(w.run.trailed, len(trail)):] {
		mark := ""
		if v.Assumed {
			mark = " (assumed)"
		}
		w.say("  %s -> %s%s  %s", v.Step, v.Took, mark, v.Why)
	}
	w.run.trailed = len(trail)
}
