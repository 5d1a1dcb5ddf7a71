package main

import (
	"fmt"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/match"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
)

const mostAnswersFile = 256 << 10

// answersShape is what an answers file may be.
func answersShape() *shape.Shape {
	value := shape.LooseText(200)
	answers := shape.TableOf(shape.OneOrMore(value))
	answers.Pattern = shape.NewPattern(`^[a-z][a-z0-9_]*(@[a-z0-9-]+)?$`, "a reading, or reading@place for one place")
	return shape.MapOf(
		shape.Must("format", shape.Word("1"), "version of this kind of file"),
		shape.Must("symptom", shape.LooseText(400), "id of a symptom, or the complaint in free words"),
		shape.May("at", shape.ID(), "the place of the rig that is meant, where the walk asks which"),
		shape.May("rig", shape.Either(shape.LooseText(400), rig.Shape()), "the rig, here or by name or path"),
		shape.May("answers", answers, "answers by reading; a list is one answer a round"),
		shape.May("after", shape.TableOf(answers), "by finding, the proof's readings once its fix is made"),
	)
}

// replayInput is an answers file, read against the knowledge.
type replayInput struct {
	answers walk.Answers
	setup   walk.Setup
	rig     string
}

// readAnswers reads an answers file; path is what its problems are called by, and
// find finds the rigs that it names.
func readAnswers(g *graph.Graph, find finder, path string, src []byte) (replayInput, error) {
	if len(src) > mostAnswersFile {
		return replayInput{}, badInputf("%s is larger than an answers file can be (%d KiB)", path, mostAnswersFile>>10)
	}
	n, problems := shape.Parse(path, src)
	if n != nil {
		problems = append(problems, shape.Check(n, answersShape())...)
	}
	if len(problems) > 0 {
		return replayInput{}, exit(exitBadInput, &problemsError{"the answers file", problems})
	}
	r := replayInput{answers: walk.Answers{Answers: map[string]walk.Event{}, After: map[string]map[string]walk.Event{}}}
	problems = append(problems, r.rigOf(g, n.Get("rig"), find)...)
	r.answers.At = n.Get("at").Text()
	problems = append(problems, r.symptomOf(g, n.Get("symptom"))...)
	r.answers.Later = map[string][]walk.Event{}
	problems = append(problems, events(g, n.Get("answers"), r.answers.Answers, r.answers.Later)...)
	for _, p := range n.Get("after").Pairs() {
		id := p.Key.Text()
		if g.Findings[id] == nil {
			problems = append(problems, unknownName("unknown-finding", p.Key, "there is no finding called "+id, g.FindingOrder))
			continue
		}
		r.answers.After[id] = map[string]walk.Event{}
		problems = append(problems, events(g, p.Value, r.answers.After[id], nil)...)
	}
	if len(problems) > 0 {
		return r, exit(exitBadInput, &problemsError{"the answers file", problems})
	}
	return r, nil
}

func unknownName(code string, n *shape.Node, text string, among []string) shape.Problem {
	hint := ""
	if near := shape.DidYouMean(n.Text(), among); near != "" {
		hint = "did you mean " + near + "?"
	}
	return shape.NewProblem(code, n, text, hint)
}

func (r *replayInput) rigOf(g *graph.Graph, n *shape.Node, find finder) []shape.Problem {
	if n == nil {
		return nil
	}
	var x *rig.Rig
	var problems []shape.Problem
	if n.Kind() == shape.Scalar {
		var err error
		if x, err = find.load(n.Text()); err != nil {
			return []shape.Problem{shape.NewProblem("bad-rig", n, err.Error(), "")}
		}
	} else if x, problems = rig.From(n); x == nil {
		return problems
	}
	r.rig, r.setup.Places = x.Name, x.Places
	facts, more := rigFacts(g, x)
	r.answers.Facts = facts
	return append(problems, more...)
}

func (r *replayInput) symptomOf(g *graph.Graph, n *shape.Node) []shape.Problem {
	text := n.Text()
	if g.Symptoms[text] != nil {
		r.answers.Symptom = text
		return nil
	}
	r.answers.Words = text
	var entries []match.Entry
	for _, id := range g.SymptomOrder {
		s := g.Symptoms[id]
		entries = append(entries, match.Entry{ID: id, Label: s.Label, Says: s.Says})
	}
	hits := match.New(entries).Find(text)
	if len(hits) == 0 {
		return []shape.Problem{unknownName("unknown-symptom", n, fmt.Sprintf("no symptom fits %q", text), g.SymptomOrder)}
	}
	r.answers.Symptom = hits[0].ID
	return nil
}

// events reads a table of answers into events by their keys: the first of each
// into one map, those for later rounds into the other.
func events(g *graph.Graph, n *shape.Node, into map[string]walk.Event, later map[string][]walk.Event) []shape.Problem {
	var problems []shape.Problem
	for _, p := range n.Pairs() {
		key := p.Key.Text()
		id, place, _ := strings.Cut(key, "@")
		r := g.Readings[id]
		if r == nil {
			problems = append(problems, unknownName("unknown-reading", p.Key, "there is no reading called "+id, g.ReadingOrder))
			continue
		}
		for i, v := range p.Value.Each() {
			e, err := answerIn(r, place, v.Text())
			switch {
			case err != nil:
				problems = append(problems, shape.NewProblem("bad-answer", v, err.Error(), ""))
			case i == 0:
				into[key] = e
			case later != nil:
				later[key] = append(later[key], e)
			}
		}
	}
	return problems
}

func answerIn(r *reading.Reading, place, text string) (walk.Event, error) {
	if dontKnow(text) {
		return walk.Event{Kind: walk.EvNotKnown, Reading: r.ID, Place: place, Text: text, Reason: "the person does not know"}, nil
	}
	e, err := walk.Typed(r, text)
	e.Place = place
	return e, err
}

func dontKnow(s string) bool {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "don't know", "dont know", "not known", "unknown", "not sure", "?":
		return true
	}
	return false
}
