package drill

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
	"hotlug/kb"
)

var knowledge = sync.OnceValue(func() *graph.Graph {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		panic(problems)
	}
	return g
})

// dummy is a rig that answers from a table and remembers what was done to it.
type dummy struct {
	answers  map[string]simrig.Answer // by reading, or by reading@place
	plant    *simrig.Plant
	symptoms []string
	done     []string
	mended   []string
}

func (r *dummy) Take(id, at string) simrig.Answer {
	if a, ok := r.answers[id+"@"+at]; ok {
		return a
	}
	return r.answers[id]
}
func (r *dummy) Do(action string) { r.done = append(r.done, action) }
func (r *dummy) Repair(f string) {
	r.mended = append(r.mended, f)
	r.symptoms = nil
}
func (r *dummy) Complain(string)                   {}
func (r *dummy) Symptoms(among ...string) []string { return r.symptoms }
func (r *dummy) Focus() string                     { return "main-fuse" }
func (r *dummy) Plant() *simrig.Plant              { return r.plant }
func (r *dummy) Story() string                     { return "My fuse holder melts." }

func number(v float64) simrig.Answer {
	return simrig.Answer{Known: true, Value: v, True: v, Digit: 0.001}
}
func word(w string) simrig.Answer { return simrig.Answer{Known: true, Choice: w} }

// played is a drill of level n on a 12 V rig with a worn main fuse holder.
func played(t *testing.T, n int, change func(*rig.System, *dummy)) (*Drill, *dummy) {
	t.Helper()
	level, err := LevelOf(n)
	if err != nil {
		t.Fatal(err)
	}
	sys := &rig.System{Name: "hut-99", Volts: 12, Array: rig.Array{Voc: 22, Series: 1, Parallel: 1}, Inverter: rig.Inverter{Watts: 800}}
	sys.Places = []reading.PlaceOnRig{
		{ID: "main-fuse", Class: "fuse", Name: "the main fuse holder"},
		{ID: "controller-fuse", Class: "fuse", Name: "the fuse holder of the controller"},
		{ID: "post-pos", Class: "joint", Name: "the lug on the plus post"},
		{ID: "post-neg", Class: "joint", Name: "the lug on the minus post"},
	}
	sys.Parts = []rig.Part{{ID: "main-fuse", Kind: rig.Fuse, Name: "the main fuse holder", RatedA: 100}}
	r := &dummy{
		answers: map[string]simrig.Answer{
			"danger_now": word("no"), "holder_drop_v": number(0.18), "load_a": number(42), "battery_now_v": number(13.1),
			"joint_c": number(25), "joint_c@main-fuse": number(95), "ambient_c": number(22), "switches_seen": word("all-on"),
			"branch_ohm": number(120), "pv_open_v": number(20),
		},
		plant:    &simrig.Plant{Sys: sys, Parts: map[string]*simrig.Part{}, Shorts: map[string]float64{}},
		symptoms: []string{"hot-joint"},
	}
	if change != nil {
		change(sys, r)
	}
	worn := &simrig.Fault{ID: "worn-holder", Name: "worn contacts in a fuse holder", Repair: "The fuse holder is renewed.", Shown: []string{"hot-joint"}}
	loose := &simrig.Fault{ID: "loose-lug", Name: "a lug that was never tightened", Repair: "The lug is tightened.", Shown: []string{"hot-joint"}}
	c := Case{
		Sys: sys, Sets: []simrig.Set{{Fault: "worn-holder", At: "main-fuse", Severity: 0.004}}, Symptom: "hot-joint", Meters: "exact",
		Faults: []*simrig.Fault{worn, loose},
		Make:   func([]simrig.Set, string) (Rig, error) { return r, nil },
	}
	d, err := New(Options{Graph: knowledge(), Case: c, Level: level})
	if err != nil {
		t.Fatal(err)
	}
	return d, r
}

// said types lines, parted by a semicolon, and gives all that the last one brings.
func said(d *Drill, lines string) string {
	var b strings.Builder
	for l := range strings.SplitSeq(lines, ";") {
		b.Reset()
		for _, x := range d.Hear(strings.TrimSpace(l)) {
			b.WriteString(x.Hang + "\n" + strings.Join(x.Lines, "\n") + "\n")
		}
	}
	return b.String()
}

func TestHear(t *testing.T) {
	for _, c := range []struct {
		name, lines, want string
	}{
		{"a reading by its name and place", "volts across the main fuse holder", "The meter shows 180 mV."},
		{"the state is brought about at level 1", "volts across the main fuse holder", "A steady load is on."},
		{"a reading of the whole rig", "battery volts", "The meter shows 13.1 V."},
		{"a place left out is asked for", "volts across the fuse holder", "Where?"},
		{"a place by its number", "volts across the fuse holder; 1", "The meter shows 180 mV."},
		{"what is seen", "look at the switches", "You see: everything is on and whole."},
		{"nonsense", "xyzzy frobnitz", "I can't tell which reading you mean."},
		{"an operation", "open the solar switch", "The solar switch is open."},
		{"a reading with an operation", "battery volts, loads on", "A steady load is on."},
		{"what was done", "battery volts; so far", "Volts at the battery posts: 13.1 V"},
		{"help", "help", "call: worn fuse holder"},
		{"the story again", "story", "My fuse holder melts."},
		{"the places", "places", "the lug on the minus post"},
		{"a call by the finding's id", "call: worn-holder", "You call: the contacts in the fuse holder have gone high-resistance."},
		{"a call in own words", "call: worn fuse holder", "You call: the contacts in the fuse holder have gone high-resistance."},
		{"a call that nobody knows", "call: xyzzy", "I can't match that with a cause I know."},
		{"end before the call", "end", "Call the cause first"},
		{"fix before the call", "fix", "Call the cause first"},
		{"right", "call: worn-holder; end", "RIGHT."},
		{"right, and mended", "call: worn-holder; fix", "RIGHT."},
		{"wrong", "call: loose-lug; end", "NOT IT."},
		{"wrong, and mended in vain", "call: loose-lug; fix", "The customer's trouble is still there."},
		{"given up", "give up", "GIVEN UP."},
		{"the lesson", "call: worn-holder; end", "Remember"},
		{"what told nothing", "battery volts; call: worn-holder; end", "Volts at the battery posts: 13.1 V"},
		{"a repair in vain", "isolate; tighten the lug on the plus post", "nothing has changed"},
		{"a repair that mends", "isolate; replace the main fuse holder", "It is done. Put it together"},
		{"a repair at another place", "isolate; replace the fuse holder of the controller", "nothing has changed"},
		{"an empty line", "", "What do you do?"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, _ := played(t, 1, nil)
			if got := said(d, c.lines); !strings.Contains(got, c.want) {
				t.Errorf("%q is not in\n%s", c.want, got)
			}
			if len(d.unsafe) > 0 {
				t.Errorf("counted as unsafe: %v", d.unsafe)
			}
		})
	}
}

// From level 2 on the trainee brings the rig into its state.
func TestTraineeOperates(t *testing.T) {
	d, _ := played(t, 2, nil)
	if got := said(d, "volts across the main fuse holder"); !strings.Contains(got, "Switch on a steady load") || strings.Contains(got, "180 mV") {
		t.Errorf("without a load it says\n%s", got)
	}
	if d.Readings() != 0 {
		t.Errorf("%d readings are counted", d.Readings())
	}
	if got := said(d, "loads on; volts across the main fuse holder"); !strings.Contains(got, "180 mV") {
		t.Errorf("with a load it says\n%s", got)
	}
}

func TestStops(t *testing.T) {
	none := func(*rig.System, *dummy) {}
	high := func(s *rig.System, _ *dummy) { s.Array.Series = 4 }
	short := func(_ *rig.System, r *dummy) { r.plant.Shorts["controller"] = 0.01 }
	inverter := func(_ *rig.System, r *dummy) { r.plant.Inverter.Shorted = true }
	brown := func(_ *rig.System, r *dummy) { r.answers["browned"] = word("yes") }
	smoke := func(_ *rig.System, r *dummy) { r.answers["danger_now"] = word("yes") }
	for _, c := range []struct {
		name   string
		change func(*rig.System, *dummy)
		lines  string
		rule   string // "" for none
	}{
		{"ohms on a live part", none, "ohms of the branch at the main fuse", "ohms-on-live"},
		{"ohms on a dead part", none, "isolate; ohms of the branch at the main fuse", ""},
		{"a hand on hot metal", none, "feel the main fuse holder", "hot-metal"},
		{"a hand on cool metal", none, "feel the lug on the plus post", ""},
		{"a solar plug in the sun", none, "unplug the solar panels", "pv-unplug"},
		{"a solar plug with the switch open", none, "open the solar switch; unplug the solar panels", ""},
		{"probes above 60 V", high, "open pv volts", "pv-over-60"},
		{"probes below 60 V", none, "open pv volts", ""},
		{"the battery first", none, "open the battery isolator", "battery-off-first"},
		{"solar, then battery", none, "solar switch off, battery isolator off", ""},
		{"solar before the battery is on", none, "solar switch off, battery isolator off; close the solar switch", "solar-on-first"},
		{"closing onto an empty inverter", none, "solar switch off, battery isolator off; battery isolator on", "no-pre-charge"},
		{"closing after the pre-charge", none, "solar switch off, battery isolator off; pre-charge; battery isolator on", ""},
		{"closing onto the loads", none, "loads on; solar switch off, battery isolator off; battery isolator on", "onto-a-load"},
		{"closing onto a short", inverter, "solar switch off, battery isolator off; battery isolator on", "onto-a-short"},
		{"a new fuse onto a short", short, "put a new fuse in the fuse holder of the controller", "onto-a-short"},
		{"a larger fuse", none, "fit a bigger fuse", "larger-fuse"},
		{"a fuse of more amps", none, "put a 150 A fuse in the main fuse holder", "larger-fuse"},
		{"foil for a fuse", none, "bridge the fuse with foil", "larger-fuse"},
		{"a repair on live metal", none, "tighten the lug on the plus post", "work-on-live"},
		{"a second reset", none, "reset the breaker; reset the breaker", "reset-again"},
		{"a first reset", none, "reset the breaker", ""},
		{"a load through what is browned", brown, "loads on", "load-on-browned"},
		{"a reading under load through what is browned", brown, "volts across the main fuse holder", "load-on-browned"},
		{"danger that nobody asked for", smoke, "battery volts", "danger-first"},
		{"danger that was asked for", smoke, "any smoke; battery volts", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, _ := played(t, 1, c.change)
			got := said(d, c.lines)
			var rules []string
			for _, s := range d.unsafe {
				rules = append(rules, s.Rule.ID)
			}
			want := []string{c.rule}
			if c.rule == "" {
				want = nil
			}
			if !slices.Equal(rules, want) {
				t.Fatalf("stopped %v, want %v\n%s", rules, want, got)
			}
			if c.rule != "" && (!strings.Contains(got, "STOP. It has not been done") || !strings.Contains(got, "Safe way")) {
				t.Errorf("it says\n%s", got)
			}
		})
	}
}

// What was stopped has not happened.
func TestStoppedIsNotDone(t *testing.T) {
	d, r := played(t, 1, nil)
	said(d, "open the battery isolator")
	if d.stand.MainOff || len(r.done) > 0 || d.Minutes() > 0 {
		t.Errorf("stand %+v, done %v, %g minutes", d.stand, r.done, d.Minutes())
	}
}

func TestScoreOfDrill(t *testing.T) {
	d, _ := played(t, 1, nil)
	said(d, "open the battery isolator; volts across the main fuse holder; call: worn-holder; fix")
	s := d.Score("2026-05-04", 7)
	if !s.Right || s.Good() || s.Readings != 1 || !slices.Equal(s.Unsafe, []string{"battery-off-first"}) || !slices.Equal(s.Faults, []string{"worn-holder"}) || s.InVain != 0 {
		t.Errorf("%+v", s)
	}
}

// Every reading that a person can be asked for is found by its own name, and none
// by one of the sayings of another.
func TestReadingsByName(t *testing.T) {
	d, _ := played(t, 1, nil)
	for _, id := range d.g.ReadingOrder {
		r := d.g.Readings[id]
		for _, words := range append([]string{r.Name, r.ID}, sayings[id]...) {
			var ids []string
			for _, m := range d.meant(words) {
				ids = append(ids, m.ID)
			}
			if !slices.Contains(ids, id) {
				t.Errorf("%q brings %v, want %s", words, ids, id)
			}
		}
	}
}

func TestSayingsAreOfReadings(t *testing.T) {
	for id := range sayings {
		if knowledge().Readings[id] == nil {
			t.Errorf("there is no reading %s", id)
		}
	}
	for id := range takenAt {
		if knowledge().Readings[id] == nil {
			t.Errorf("there is no reading %s", id)
		}
	}
	for op, id := range opAction {
		if knowledge().Actions[id] == nil {
			t.Errorf("%s: there is no action %s", op, id)
		}
	}
	for id := range bringing {
		if knowledge().States[id] == nil {
			t.Errorf("there is no state %s", id)
		}
	}
}

func FuzzHear(f *testing.F) {
	for _, s := range []string{"volts across the main fuse holder, loads on", "call: x", "1", "isolate; fix", "fit a 999999999999 A fuse", "\x00\xff", "feel"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		d, _ := played(t, 2, nil)
		for _, b := range d.Hear(line) {
			for _, l := range b.Lines {
				if strings.Contains(l, "%!") {
					t.Errorf("%q brings %q", line, l)
				}
			}
		}
		if d.Minutes() < 0 {
			t.Errorf("%q costs %g minutes", line, d.Minutes())
		}
	})
}

// Every state of the knowledge can be brought about, by its operations or by its
// name, and holds afterwards.
func TestStatesAreBrought(t *testing.T) {
	for id, state := range knowledge().States {
		ops, ok := bringing[id]
		if !ok {
			d, _ := played(t, 2, nil)
			if got := said(d, state.Name); !d.stand.holds(id) || len(d.acts) != 1 {
				t.Errorf("%q does not bring about %s; it says\n%s", state.Name, id, got)
			}
			continue
		}
		var s stand
		for _, o := range ops {
			s.change(o)
		}
		if !s.holds(id) {
			t.Errorf("after %q it does not stand as %s: %+v", ops, id, s)
		}
	}
}

// Readings that name the same two points, kind and states are one: the one at a
// place is taken, if the rig can answer it.
func TestSamePoints(t *testing.T) {
	d, r := played(t, 2, nil)
	g := d.g.Readings
	if q := d.twin(g["main_fuse_drop_v"]); q != g["holder_drop_v"] {
		t.Errorf("the twin of main_fuse_drop_v is %v", q)
	}
	for _, id := range []string{"ctl_fuse_drop_v", "battery_now_v", "holder_drop_v", "fuse_drop_v"} {
		if q := d.twin(g[id]); q != nil {
			t.Errorf("the twin of %s is %s", id, q.ID)
		}
	}
	said(d, "loads on; volts across the main fuse")
	if !d.has(walk.Key{Reading: "main_fuse_drop_v"}) {
		t.Error("the volts across the main fuse count as not taken")
	}
	delete(r.answers, "holder_drop_v")
	r.answers["main_fuse_drop_v"] = number(0.21)
	if got := said(d, "volts across the main fuse"); !strings.Contains(got, "210 mV") {
		t.Errorf("where only that reading answers it says\n%s", got)
	}
}
