package transcripts_test

import (
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
	"hotlug/kb"
)

// A caseFile is one file of cases/.
type caseFile struct {
	name  string
	cases []fieldCase
}

// A fieldCase is a rig in trouble: what can be read there, and what it must come to.
type fieldCase struct {
	at      shape.Place
	name    string
	finding string // what it must end in; "" where only ends or cause says more
	symptom string
	rig     string // name of a demo rig, "" for none
	place   string // which of its places is meant
	word    string // a danger word in the complaint
	answers *shape.Node
	path    string // steps, "= finding" where a step led to one
	status  string // of the finding before its proof
	ends    string // how the walk ends
	proof   *shape.Node
	also    []string // findings told beside the one
	working map[string]*shape.Node
	cause   string // retold reports: likely, or among the first three still possible
	failing *failing
}

// failing is the same case with a proof that does not hold.
type failing struct {
	proof, answers *shape.Node
	path, ends     string
	then           string // what it ends in, if it does
}

func caseShape() *shape.Shape {
	value := shape.LooseText(200)
	answers := shape.TableOf(shape.OneOrMore(value))
	answers.Pattern = shape.NewPattern(`^[a-z][a-z0-9_]*(@[a-z0-9-]+)?$`, "a reading, or reading@place for one place")
	working := shape.TableOf(shape.LooseText(40))
	working.Pattern = shape.NewPattern(`^[a-z][a-z0-9_]*$`, "a worked value")
	ends := shape.Word(string(walk.Found), string(walk.Narrowed), string(walk.Stopped))
	fails := shape.MapOf(
		shape.Must("proof", answers, "the readings with which the proof fails"),
		shape.May("answers", answers, "further answers, of the walk that goes on"),
		shape.May("path", shape.LooseText(2000), "the steps that it goes on with"),
		shape.May("ends", ends, "how it ends"),
		shape.May("then", shape.ID(), "the finding it ends in"),
	)
	one := shape.MapOf(
		shape.Must("name", shape.LooseText(200), "what is told, in a few words"),
		shape.May("finding", shape.ID(), "what it must end in"),
		shape.May("cause", shape.ID(), "what it must end in, or have among the first three still possible"),
		shape.Must("symptom", shape.ID(), "id of a symptom"),
		shape.May("rig", shape.ID(), "a demo rig"),
		shape.May("at", shape.ID(), "the place that is meant"),
		shape.May("word", shape.LooseText(80), "a danger word in the complaint"),
		shape.May("answers", answers, "answers by reading; a list is one answer a round"),
		shape.May("path", shape.LooseText(2000), "the steps, with = before a finding"),
		shape.May("status", shape.Word("possible", "likely", "close", "handed-over"), "status of the finding before its proof; likely if left out"),
		shape.May("ends", ends, "how the walk ends"),
		shape.May("also", shape.ListOf(shape.ID()), "second faults that are told"),
		shape.May("proof", answers, "the readings with which the proof holds"),
		shape.May("working", working, "every number of the working, worked by hand"),
		shape.May("failing", fails, "the same with a proof that fails"),
	)
	return shape.MapOf(
		shape.Must("format", shape.Word("1"), "version of this kind of file"),
		shape.Must("about", shape.LooseText(400), "what the cases are about"),
		shape.Must("cases", shape.ListOf(one), "the cases"),
	)
}

// caseFiles reads all case files. Anything wrong in one ends the test.
func caseFiles(t *testing.T) []caseFile {
	t.Helper()
	names, err := fs.Glob(os.DirFS("cases"), "*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatalf("no case files: %v", err)
	}
	var out []caseFile
	for _, name := range names {
		src, err := os.ReadFile(path.Join("cases", name))
		if err != nil {
			t.Fatal(err)
		}
		n, problems := shape.Parse("cases/"+name, src)
		if n != nil {
			problems = append(problems, shape.Check(n, caseShape())...)
		}
		for _, p := range problems {
			t.Error(shape.Render(p))
		}
		if len(problems) > 0 {
			t.FailNow()
		}
		f := caseFile{name: strings.TrimSuffix(name, ".yaml")}
		for _, c := range n.Get("cases").Items() {
			f.cases = append(f.cases, readCase(c))
		}
		out = append(out, f)
	}
	return out
}

func readCase(n *shape.Node) fieldCase {
	c := fieldCase{
		at: n.Place(), name: n.Get("name").Text(), finding: n.Get("finding").Text(), cause: n.Get("cause").Text(),
		symptom: n.Get("symptom").Text(), rig: n.Get("rig").Text(), place: n.Get("at").Text(), word: n.Get("word").Text(),
		answers: n.Get("answers"), path: n.Get("path").Text(), status: strings.ReplaceAll(n.Get("status").Text(), "-", " "),
		ends: n.Get("ends").Text(), proof: n.Get("proof"), also: n.Get("also").Texts(),
	}
	if w := n.Get("working"); w != nil {
		c.working = map[string]*shape.Node{}
		for _, p := range w.Pairs() {
			c.working[p.Key.Text()] = p.Value
		}
	}
	if f := n.Get("failing"); f != nil {
		c.failing = &failing{
			proof: f.Get("proof"), answers: f.Get("answers"), path: f.Get("path").Text(),
			ends: f.Get("ends").Text(), then: f.Get("then").Text(),
		}
	}
	return c
}

// input is what walk.Replay needs for the case; with fails, that of its failing
// proof.
func (c fieldCase) input(t *testing.T, g *graph.Graph, fails bool) (walk.Setup, walk.Answers) {
	t.Helper()
	a := walk.Answers{
		Symptom: c.symptom, At: c.place, Answers: map[string]walk.Event{}, Later: map[string][]walk.Event{},
		After: map[string]map[string]walk.Event{},
	}
	var setup walk.Setup
	if c.rig != "" {
		setup.Places, a.Facts = demoRig(t, g, c.rig)
	}
	a.Answers[g.DangerReading] = walk.Event{Kind: walk.EvAnswer, Reading: g.DangerReading, Choice: "no"} // unless the case says otherwise
	caseEvents(t, g, c.answers, a.Answers, a.Later)
	if c.word != "" { // it brings the danger question before anything else
		a.Words = c.word
		a.Facts = append(a.Facts, dangerWord(t, g, c.word), a.Answers[g.DangerReading])
	}
	proof := c.proof
	if fails {
		proof = c.failing.proof
		caseEvents(t, g, c.failing.answers, a.Answers, a.Later)
	}
	if proof != nil {
		a.After[c.finding] = map[string]walk.Event{}
		caseEvents(t, g, proof, a.After[c.finding], nil)
	}
	return setup, a
}

// demoRig is the rig with its places, and what its file says as facts.
func demoRig(t *testing.T, g *graph.Graph, name string) ([]reading.PlaceOnRig, []walk.Event) {
	t.Helper()
	file := "rigs/" + name + ".yaml"
	src, err := fs.ReadFile(kb.Files, file)
	if err != nil {
		t.Fatal(err)
	}
	r, problems := rig.Read(file, src)
	var all []*reading.Reading
	for _, id := range g.ReadingOrder {
		all = append(all, g.Readings[id])
	}
	var facts []rig.Fact
	if r != nil {
		var more []shape.Problem
		facts, more = r.Facts(all)
		problems = append(problems, more...)
	}
	for _, p := range problems {
		t.Fatal(shape.Render(p))
	}
	var out []walk.Event
	for _, f := range facts {
		e := walk.Event{Kind: walk.EvFact, Reading: f.Reading.ID, Place: f.Place, Text: f.Text, Choice: f.Choice, Step: f.Digit, Origin: walk.File}
		if f.Reading.Answer == reading.Number {
			v := f.Value
			e.Value = &v
		}
		out = append(out, e)
	}
	return r.Places, out
}

// dangerWord is the event of a danger word in the complaint.
func dangerWord(t *testing.T, g *graph.Graph, word string) walk.Event {
	t.Helper()
	for _, w := range g.DangerWords {
		if w.Words == word {
			return walk.Event{Kind: walk.EvDanger, Words: word, Finding: w.Stop}
		}
	}
	t.Fatalf("%q is no danger word of the knowledge", word)
	return walk.Event{}
}

// caseEvents reads a table of answers: the first of each into one map, those of
// later rounds into the other.
func caseEvents(t *testing.T, g *graph.Graph, n *shape.Node, into map[string]walk.Event, later map[string][]walk.Event) {
	t.Helper()
	for _, p := range n.Pairs() {
		id, place, _ := strings.Cut(p.Key.Text(), "@")
		r := g.Readings[id]
		if r == nil {
			t.Fatalf("%s: there is no reading called %s", p.Key.Place(), id)
		}
		for i, v := range p.Value.Each() {
			e := walk.Event{Kind: walk.EvNotKnown, Reading: id, Place: place, Reason: "the person does not know"}
			if v.Text() != "?" {
				var err error
				if e, err = walk.Typed(r, v.Text()); err != nil {
					t.Fatalf("%s: %v", v.Place(), err)
				}
				e.Place = place
			}
			switch {
			case i == 0:
				into[p.Key.Text()] = e
				delete(later, p.Key.Text())
			case later != nil:
				later[p.Key.Text()] = append(later[p.Key.Text()], e)
			}
		}
	}
}
