package walk_test

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
	"hotlug/kb"
)

// real is the built-in knowledge, loaded once for all tests.
var real = sync.OnceValue(func() *graph.Graph {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if !graph.Sound(problems) {
		panic(fmt.Sprint(problems))
	}
	return g
})

// load makes a knowledge of a few files; those not given are the least that a
// walk needs.
func load(t testing.TB, files map[string]string) *graph.Graph {
	t.Helper()
	m := fstest.MapFS{}
	put := func(name, text string) { m[name] = &fstest.MapFile{Data: []byte("format: 1\n" + text)} }
	put("cautions.yaml", "cautions:\n  hot: {say: Hot.}\n  live: {say: Live.}\n  gas: {say: Gas.}\n  acid: {say: Acid.}\n")
	put("sources.yaml", "sources:\n  practice: {say: Practice.}\n")
	put("states.yaml", smallStates)
	put("readings.yaml", smallReadings)
	put("symptoms.yaml", "symptoms:\n  warm: {label: It is warm., start: a/one, says: [warm]}\n")
	put("sheets/danger.yaml", smallDanger)
	for name, text := range files {
		put(name, text)
	}
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "small", FS: m})
	if !graph.Sound(problems) {
		t.Fatalf("the small knowledge has problems:\n%v", problems)
	}
	return g
}

// sheet is a small knowledge of one sheet, called a.
func sheet(t testing.TB, text string) *graph.Graph {
	t.Helper()
	return load(t, map[string]string{"sheets/a.yaml": "sheet: a\n" + strings.TrimPrefix(text, "\n")})
}

const smallStates = `
states:
  on: {name: the load on, excludes: [off], cautions: [hot]}
  off: {name: the load off}
meters:
  dcv: {say: Meter on DC volts., class: hand}
  eye: {say: Look., class: none}
actions:
  mend: {say: Mend it., cautions: [live]}
  push: {say: Push it.}
  push-fuses: {say: Push the fuses., touches: [fuse]}
  only-dead: {say: Work on it., needs: dead, who: maker}
standard_path:
  - {id: f1, class: fuse, name: the first fuse, like: blade}
  - {id: f2, class: fuse, name: the second fuse, like: blade}
  - {id: f3, class: fuse, name: the third fuse, like: bolted}
`

const smallReadings = `
readings:
  danger_now: {name: danger, ask: "Is there danger now?", why: First., class: observation, yes_no: true}
  what: {name: the danger, ask: "What is it?", why: Which., class: observation, choices: [fire, leak, none-of-these]}
  dead: {name: dead, ask: "Is it dead?", why: Safe., class: observation, yes_no: true}
  safe: {name: made safe, ask: "Is it safe?", why: Safe., class: observation, yes_no: true}
  seen: {name: brown plastic, ask: "Is it brown?", why: Heat., class: observation, yes_no: true, cautions: [hot]}
  lit: {name: the lamp, ask: "Is it lit?", why: Feed., class: observation, yes_no: true}
  kind: {name: kind of part, ask: "Which?", why: Which., class: fact, choices: [red, green, blue]}
  rated: {name: rated amps, ask: "Rated?", why: Size., class: fact, kind: amps, possible: [0 A, 500 A]}
  place_rated: {name: fuse rating, ask: "Rating?", why: Size., class: fact, kind: amps, possible: [0 A, 500 A], rig: place.rating}
  volts: {name: volts, ask: "Volts?", why: Much., class: measurement, kind: volts, possible: [0 V, 100 V], plausible: [1 V, 60 V], meter: dcv}
  more: {name: more volts, ask: "More volts?", why: Much., class: measurement, kind: volts, possible: [0 V, 100 V], meter: dcv}
  amps_on: {name: amps with it on, ask: "Amps on?", why: Load., class: measurement, kind: amps, possible: [-500 A, 500 A], meter: dcv, state: [on], holds: together}
  amps_off: {name: amps with it off, ask: "Amps off?", why: Idle., class: measurement, kind: amps, possible: [-500 A, 500 A], meter: dcv, state: [off], holds: together}
  shot: {name: volts beside the amps, ask: "Volts now?", why: Drop., class: measurement, kind: volts, possible: [0 V, 100 V], meter: dcv, state: [on], holds: together}
  fuse_v: {name: volts across the fuse, ask: "Volts across it?", why: Drop., class: measurement, kind: volts, possible: [0 V, 100 V], meter: dcv, over: fuse}
  main_v: {like: fuse_v, at: f1, name: volts across the first fuse}
  system_v: {name: system volts, ask: "System?", why: Scale., class: fact, kind: volts, possible: [10 V, 60 V]}
`

const smallDanger = `
sheet: danger
steps:
  now:
    ask: [danger_now]
    then:
      - {if: danger_now, go: which}
      - {go: carry-on}
    unknown: which
  which:
    ask: [what]
    then:
      - {if: what == 'fire', go: fire}
      - {if: what == 'leak', go: leak}
      - {if: what == 'none-of-these', go: carry-on}
      - {go: made-safe}
    unknown: made-safe
  made-safe:
    ask: [safe]
    then:
      - {if: not safe, go: fire}
      - {go: carry-on}
findings:
  fire: {cause: It burns., stop: walk, says: [fire, smoke], cautions: [hot]}
  leak: {cause: It leaks., stop: walk, says: [leak]}
`

// play is a walk under way in a test.
type play struct {
	t testing.TB
	g *graph.Graph
	s *walk.State
	p walk.Prompt
}

// begin starts the walk of the small knowledge and says that there is no danger.
func begin(t testing.TB, g *graph.Graph, places ...reading.PlaceOnRig) *play {
	t.Helper()
	p := &play{t: t, g: g, s: walk.Start(g, walk.Setup{Places: places})}
	p.do(walk.Event{Kind: walk.EvComplaint, Symptom: "warm", Words: "it is warm"})
	p.say("danger_now", "no")
	return p
}

// do gives an event that must be taken.
func (p *play) do(e walk.Event) *play {
	p.t.Helper()
	n, pr := walk.Step(p.g, p.s, e)
	if pr.Refused != "" {
		p.t.Fatalf("%s %s%s was refused: %s", e.Kind, e.Reading, e.Action, pr.Refused)
	}
	p.s, p.p = n, pr
	return p
}

// refuses gives an event that must not be taken.
func (p *play) refuses(e walk.Event, why string) *play {
	p.t.Helper()
	n, pr := walk.Step(p.g, p.s, e)
	if !strings.Contains(pr.Refused, why) || pr.Refused == "" {
		p.t.Fatalf("%s %s: refused with %q, want words like %q", e.Kind, e.Reading, pr.Refused, why)
	}
	if d := differs(p.g, p.s, n); d != "" {
		p.t.Fatalf("a refused %s changed the walk: %s", e.Kind, d)
	}
	return p
}

// say answers what is asked, which must be the reading.
func (p *play) say(id, text string) *play {
	p.t.Helper()
	p.wants(walk.WantAnswer, id)
	return p.do(p.answer(id, text))
}

func (p *play) answer(id, text string) walk.Event {
	p.t.Helper()
	pr := p.s.Prompt()
	if text == "?" {
		return walk.Event{Kind: walk.EvNotKnown, Reading: id, Place: pr.Place.ID, Reason: "not known"}
	}
	e, err := walk.Typed(p.g.Readings[id], text)
	if err != nil {
		p.t.Fatalf("%s: %v", id, err)
	}
	e.Place = pr.Place.ID
	return e
}

// wants checks what the walk asks for: a reading (with its place), an action, a
// finding, or "" for what has none.
func (p *play) wants(kind walk.PromptKind, what string) *play {
	p.t.Helper()
	if got := asks(p.s.Prompt()); got != strings.TrimSpace(string(kind)+" "+what) {
		p.t.Fatalf("the walk wants %q, want %q", got, strings.TrimSpace(string(kind)+" "+what))
	}
	return p
}

// at answers what is asked at a place.
func (p *play) at(place, id, text string) *play {
	p.t.Helper()
	p.wants(walk.WantAnswer, id+"@"+place)
	return p.do(p.answer(id, text))
}

func (p *play) done() *play { p.t.Helper(); return p.do(walk.Event{Kind: walk.EvDone}) }
func (p *play) notDone() *play {
	p.t.Helper()
	return p.do(walk.Event{Kind: walk.EvNotDone, Reason: "later"})
}

// ends checks the outcome and the findings, each as "id status" or "id@place status".
func (p *play) ends(o walk.Outcome, findings ...string) *play {
	p.t.Helper()
	if p.s.Outcome() != o {
		p.t.Fatalf("the outcome is %q, want %q; the walk wants %s", p.s.Outcome(), o, asks(p.s.Prompt()))
	}
	return p.told(findings...)
}

func (p *play) told(findings ...string) *play {
	p.t.Helper()
	var got []string
	for _, t := range p.s.Told() {
		id := t.Finding.ID
		if t.Place.ID != "" {
			id += "@" + t.Place.ID
		}
		word := id + " " + string(t.Status)
		if t.Pending {
			word += " pending"
		}
		got = append(got, word)
	}
	if len(got)+len(findings) > 0 && !reflect.DeepEqual(got, findings) {
		p.t.Fatalf("told %q, want %q", got, findings)
	}
	return p
}

// asks is a prompt in one line.
func asks(p walk.Prompt) string {
	s := string(p.Kind)
	switch p.Kind {
	case walk.WantAnswer, walk.WantSure:
		s += " " + p.Reading.ID
		if p.Place.ID != "" {
			s += "@" + p.Place.ID
		}
	case walk.WantDone:
		s += " " + p.Action.ID
	case walk.WantFix:
		s += " " + p.Finding.Finding.ID
	case walk.WantPlaces, walk.WantPlace:
		for _, x := range p.Places {
			s += " " + x.ID
		}
	}
	return s
}

// view is all that can be seen of a state, but for what refers back.
type view struct {
	Prompt   walk.Prompt
	Takes    []walk.Take
	Told     []walk.Told
	Closed   []walk.Closed
	Trail    []walk.Visit
	Outcome  walk.Outcome
	Symptom  string
	Words    string
	Round    int
	Events   int
	Possible []walk.Possible
	Excluded []walk.Excluded
	Best     *walk.BestNext
}

func see(g *graph.Graph, s *walk.State) view {
	v := view{
		Prompt: s.Prompt(), Takes: s.Takes(), Told: s.Told(), Closed: s.ClosedPlaces(), Trail: s.Trail(g),
		Outcome: s.Outcome(), Symptom: s.Symptom(), Words: s.Words(), Round: s.Round(), Events: len(s.Events()),
		Possible: s.Possible(g), Excluded: s.Excluded(g), Best: s.BestNext(g),
	}
	v.Prompt.Refused = ""
	return v
}

// differs names the first part in which two states look different, "" for none.
func differs(g *graph.Graph, a, b *walk.State) string { return unlike(see(g, a), see(g, b)) }

func unlike(a, b view) string {
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	for i := range x.NumField() {
		if !same(x.Field(i), y.Field(i)) {
			return x.Type().Field(i).Name
		}
	}
	return ""
}

// same is deep equality with two numbers that are none alike: a working without
// a result holds one.
func same(a, b reflect.Value) bool {
	if a.Kind() != b.Kind() {
		return false
	}
	switch a.Kind() {
	case reflect.Float64:
		x, y := a.Float(), b.Float()
		return x == y || x != x && y != y
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() || a.Pointer() == b.Pointer() {
			return a.Pointer() == b.Pointer()
		}
		return same(a.Elem(), b.Elem())
	case reflect.Interface:
		return a.IsNil() == b.IsNil() && (a.IsNil() || same(a.Elem(), b.Elem()))
	case reflect.Struct:
		for i := range a.NumField() {
			if !same(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	}
	return a.Equal(b)
}
