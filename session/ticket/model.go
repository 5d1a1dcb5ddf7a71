package ticket

import (
	"time"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// Format is the version of the JSON form.
const Format = 1

// Ticket is a session as told to somebody else.
type Ticket struct {
	Format    int       `json:"format"`
	Session   string    `json:"session,omitempty"`
	Created   time.Time `json:"created,omitzero"`
	Program   string    `json:"program,omitempty"`
	Knowledge Knowledge `json:"knowledge"`

	Rig     string `json:"rig,omitempty"`
	Facts   []Fact `json:"system"`
	Symptom string `json:"symptom"`
	Label   string `json:"symptom_label,omitempty"`
	Words   string `json:"words,omitempty"` // as typed

	Summary  Summary  `json:"summary"`
	Outcome  string   `json:"outcome"`
	StopWork *Finding `json:"stop_work,omitempty"`

	Proving       *Proving   `json:"proving,omitempty"` // of a system that is proved, not of a hunt
	Trail         []Visit    `json:"trail"`
	Readings      []Reading  `json:"readings"`
	Findings      []Finding  `json:"findings"`
	Excluded      []Excluded `json:"excluded"`
	NotKnown      []NotKnown `json:"not_known"`
	Charts        []Chart    `json:"charts,omitempty"`
	StillPossible []Possible `json:"still_possible"`
	Best          string     `json:"best_next_reading,omitempty"`
	Closed        []Closed   `json:"closed"`
	Notes         []Note     `json:"notes,omitempty"`
	Photos        []Photo    `json:"photos,omitempty"`
	Unused        []string   `json:"unused_answers,omitempty"`
	Damage        string     `json:"damage,omitempty"`   // what of the session can't be read
	Drawing       Drawing    `json:"-"`                  // the rig laid out, where its file is at hand
	Redacted      bool       `json:"redacted,omitempty"` // names, places, notes and typed words are left out
	Walk          *Walk      `json:"walk,omitempty"`     // to walk it again
}

// Knowledge names what the conclusions were drawn from.
type Knowledge struct {
	Version string  `json:"version,omitempty"`
	Hash    string  `json:"hash"`
	Began   string  `json:"began_with,omitempty"` // hash at the session's beginning, if another
	Layers  []Layer `json:"layers,omitempty"`
}

// Layer is one folder of knowledge.
type Layer struct {
	Name string `json:"name"`
	Hash string `json:"hash"`
}

// Fact is something about the system that was known before or asked once.
type Fact struct {
	Reading string `json:"reading"`
	Name    string `json:"name"`
	Place   string `json:"place,omitempty"`
	At      string `json:"at,omitempty"` // name of the place
	Value   string `json:"value"`
	Origin  string `json:"origin"`
}

// Visit is one answer of the trail with the step that asked for it; the branch
// stands with the last answer of its step.
type Visit struct {
	Step    string `json:"step"`
	Reading string `json:"reading,omitempty"`
	Place   string `json:"place,omitempty"`
	At      string `json:"at,omitempty"` // name of the place
	Value   string `json:"value,omitempty"`
	Branch  string `json:"branch,omitempty"`
	Why     string `json:"why,omitempty"`
	Assumed bool   `json:"assumed,omitempty"`
	Close   bool   `json:"close,omitempty"`
}

// Reading is one take.
type Reading struct {
	Reading string    `json:"reading"`
	Name    string    `json:"name"`
	Place   string    `json:"place,omitempty"`
	At      string    `json:"at,omitempty"`   // name of the place, or the two points
	From    string    `json:"from,omitempty"` // point of the red probe
	To      string    `json:"to,omitempty"`   // point of the black probe
	Value   string    `json:"value"`
	Number  *float64  `json:"number,omitempty"`
	Unit    string    `json:"unit,omitempty"`
	Typed   string    `json:"typed,omitempty"`
	State   []string  `json:"state,omitempty"`
	Meter   string    `json:"meter,omitempty"`
	Round   int       `json:"round"`
	Origin  string    `json:"origin"`
	Odd     bool      `json:"odd_but_confirmed,omitempty"`
	When    time.Time `json:"when,omitzero"`
	Verdict string    `json:"verdict,omitempty"` // what it showed, where it decided something
}

// Finding is a finding with its evidence and its fix.
type Finding struct {
	ID       string    `json:"id"`
	Cause    string    `json:"cause"`
	Status   string    `json:"status"`
	Pending  bool      `json:"pending,omitempty"`
	Stop     bool      `json:"stops_work,omitempty"`
	NoFault  bool      `json:"no_fault,omitempty"`
	Second   bool      `json:"second_fault,omitempty"`
	Place    string    `json:"place,omitempty"`
	Because  string    `json:"because,omitempty"`
	Close    []string  `json:"close_calls,omitempty"` // on the way to it, each in a sentence
	Turns    []string  `json:"would_turn,omitempty"`  // deciding readings, and what would have turned each
	Odd      []string  `json:"odd_values,omitempty"`  // that were confirmed, each in a sentence
	Working  []Working `json:"working,omitempty"`
	Fix      []FixLine `json:"fix,omitempty"`
	Cautions []string  `json:"cautions,omitempty"`
	Proof    string    `json:"proof,omitempty"`
	HandTo   string    `json:"hand_to,omitempty"`
	Lesson   string    `json:"lesson,omitempty"`
	Sources  []string  `json:"sources,omitempty"`
}

// Working is a computation shown.
type Working struct {
	Label   string   `json:"label"`
	Formula string   `json:"formula"`
	Numbers string   `json:"numbers,omitempty"`
	Result  string   `json:"result"`
	Value   *float64 `json:"value,omitempty"`
	Unit    string   `json:"unit,omitempty"`
}

// FixLine is one line of a fix and who may do it.
type FixLine struct {
	Say string `json:"say"`
	Who string `json:"who"`
}

// Excluded is a cause that is ruled out, and by what.
type Excluded struct {
	ID    string `json:"id"`
	Cause string `json:"cause"`
	By    string `json:"by"`
}

// NotKnown is a reading that could not be had.
type NotKnown struct {
	Reading string `json:"reading"`
	Name    string `json:"name"`
	Reason  string `json:"reason"`
}

// Possible is a cause that nothing known excludes.
type Possible struct {
	ID     string `json:"id"`
	Cause  string `json:"cause"`
	Status string `json:"status"`
	Often  string `json:"often"`
}

// Closed is a place that was not entered, and who may.
type Closed struct {
	Step   string `json:"step"`
	Place  string `json:"place,omitempty"`
	Reason string `json:"reason"`
	Who    string `json:"who"`
}

// Note is something that a person wrote down.
type Note struct {
	Text string    `json:"text"`
	When time.Time `json:"when,omitzero"`
}

// About is what a ticket holds besides the walk.
type About struct {
	Session, Program, Rig string
	Began                 string // hash of the knowledge that the session began with
	Created               time.Time
	Notes                 []Note
	Photos                []Photo
	Unused                []string
	Redacted              bool
	Drawing               Drawing
}

// Make builds the ticket of a walk.
func Make(g *graph.Graph, s *walk.State, a About) Ticket {
	t := Ticket{
		Format: Format, Session: a.Session, Created: a.Created, Program: a.Program, Rig: a.Rig, Notes: a.Notes, Unused: a.Unused,
		Photos: a.Photos, Redacted: a.Redacted, Drawing: a.Drawing,
		Knowledge: Knowledge{Version: g.Version, Hash: g.Hash},
		Symptom:   s.Symptom(), Words: s.Words(), Outcome: string(s.Outcome()),
		Facts: []Fact{}, Trail: []Visit{}, Readings: []Reading{}, Findings: []Finding{}, Excluded: []Excluded{},
		NotKnown: []NotKnown{}, StillPossible: []Possible{}, Closed: []Closed{},
	}
	for _, l := range g.Layers {
		t.Knowledge.Layers = append(t.Knowledge.Layers, Layer(l))
	}
	if a.Began != g.Hash {
		t.Knowledge.Began = a.Began
	}
	if sy := g.Symptoms[s.Symptom()]; sy != nil {
		t.Label = sy.Label
	}
	if t.Outcome == "" {
		t.Outcome = "not finished"
	}
	m := maker{g, s}
	verdicts := m.verdicts()
	for i, k := range s.Takes() {
		m.take(&t, k, verdicts[i])
	}
	m.trail(&t)
	for _, f := range s.Told() {
		x := m.finding(f)
		if f.Finding.Stop == graph.StopWalk {
			t.StopWork = &x
		}
		t.Findings = append(t.Findings, x)
	}
	for _, e := range s.Excluded(g) {
		t.Excluded = append(t.Excluded, Excluded{e.Finding.ID, e.Finding.Cause, e.By})
	}
	if s.Outcome() != walk.Stopped {
		for _, p := range s.Possible(g) {
			if p.Status == walk.IsProven {
				continue // it is told, and no longer only possible
			}
			t.StillPossible = append(t.StillPossible, Possible{p.Finding.ID, p.Finding.Cause, string(p.Status), string(p.Finding.Often)})
		}
		if s.Outcome() != walk.Found {
			if b := s.BestNext(g); b != nil {
				t.Best = b.Reading.Name
			}
		}
	}
	for _, c := range s.ClosedPlaces() {
		t.Closed = append(t.Closed, Closed{c.Step, c.Place, c.Reason, string(c.Who)})
	}
	t.Proving = m.proving(&t)
	t.Summary = m.summary(&t)
	t.Charts = m.charts()
	return t
}

type maker struct {
	g *graph.Graph
	s *walk.State
}

func (m maker) take(t *Ticket, k walk.Take, verdict string) {
	r := m.g.Readings[k.Reading]
	if !k.Known {
		t.NotKnown = append(t.NotKnown, NotKnown{r.ID, r.Name, orElse(k.Reason, "no reason given")})
		return
	}
	if r.Class == reading.Fact {
		t.Facts = append(t.Facts, Fact{r.ID, r.Name, k.Place, m.placeName(k.Place), m.s.Shown(m.g, k), string(k.Origin)})
		return
	}
	x := Reading{
		Reading: r.ID, Name: r.Name, Place: k.Place, At: m.where(r, k), From: r.From, To: r.To, Value: m.s.Shown(m.g, k), Typed: k.Text,
		Meter: k.Meter, Round: k.Round, Origin: string(k.Origin), Odd: k.Sure, When: k.At, Verdict: verdict,
	}
	for _, id := range r.State {
		if st := m.g.States[id]; st != nil {
			x.State = append(x.State, st.Name)
		}
	}
	if r.Answer == reading.Number {
		v := k.Value
		x.Number, x.Unit = &v, r.Kind.Unit.String()
	}
	t.Readings = append(t.Readings, x)
}

func (m maker) where(r *reading.Reading, k walk.Take) string {
	if k.Place != "" {
		return m.placeName(k.Place)
	}
	a, b := m.g.Points[r.From], m.g.Points[r.To]
	if a != nil && b != nil {
		return "red on " + a.Name + ", black on " + b.Name
	}
	return ""
}

func (m maker) trail(t *Ticket) {
	for _, v := range m.s.Trail(m.g) {
		branch := Visit{Step: v.Step, Place: v.Place, At: m.placeName(v.Place), Branch: v.Took, Why: v.Why, Assumed: v.Assumed, Close: v.Close}
		for i, k := range v.Asked {
			x := Visit{Step: v.Step}
			if i == len(v.Asked)-1 {
				x = branch
			}
			x.Reading, x.Place, x.At, x.Value = k.Reading, k.Place, m.placeName(k.Place), m.s.Shown(m.g, k)
			t.Trail = append(t.Trail, x)
		}
		if len(v.Asked) == 0 {
			t.Trail = append(t.Trail, branch)
		}
	}
}

func (m maker) finding(f walk.Told) Finding {
	x := Finding{
		ID: f.Finding.ID, Cause: f.Finding.Cause, Status: string(f.Status), Pending: f.Pending, Second: f.Second,
		Stop: f.Finding.Stop == graph.StopWalk, NoFault: f.Finding.NoFault,
		Place: f.Place.Name, Because: f.Because, Close: f.Close, Odd: f.Odd, Proof: f.Proof, HandTo: f.Finding.HandTo, Lesson: f.Finding.Lesson,
	}
	for _, y := range m.s.Turns(m.g, f) {
		x.Turns = append(x.Turns, y.Say)
	}
	for _, w := range f.Working {
		k := Working{Label: w.Label, Formula: w.Formula, Result: w.Result}
		if w.Known {
			k.Numbers = w.Numbers
			v := w.Value.Mid
			k.Value, k.Unit = &v, w.Unit.String()
		}
		x.Working = append(x.Working, k)
	}
	for _, l := range f.Fix {
		x.Fix = append(x.Fix, FixLine{l.Say, string(l.Who)})
	}
	for _, c := range f.Cautions {
		x.Cautions = append(x.Cautions, c.Say)
	}
	for _, id := range f.Finding.Sources {
		if s := m.g.Sources[id]; s != nil {
			x.Sources = append(x.Sources, s.Text)
		}
	}
	return x
}

func orElse(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
