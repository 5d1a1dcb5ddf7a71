package graph

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"hotlug/engine/formula"
	"hotlug/engine/pattern"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// loader holds what one Load is building.
type loader struct {
	g        *Graph
	problems []shape.Problem
	layerOf  map[*shape.Node]int
	spoiled  map[string]bool      // names with problems of their own
	lost     bool                 // a file could not be read, so that names are missing
	told     map[shape.Place]bool // places at which the shape is wrong

	states, meters, points, actions, cautions, sources *table
	readings, values, laws, symptoms, steps, findings  *table
	standardPath                                       *shape.Node
}

// Ids that the walk itself relies on.
const (
	dangerStep    = "danger/now"
	dangerReading = "danger_now"
	systemVolts   = "system_v"
	carryOn       = "carry-on"
)

// Load reads the layers, the built-in knowledge first, with the functions that
// formulas may call. With any problem of severity error the graph is not fit
// for use; it is returned all the same for tools that describe it.
func Load(funcs []*formula.Func, layers ...Layer) (*Graph, []shape.Problem) {
	l := newLoader(funcs)
	l.g.odds = sync.OnceValue(func() *Odds { return oddsOf(layers) })
	l.readLayers(layers, layerFiles)
	if l.lost { // every name of the lost file would be a problem of its own
		shape.Sort(l.problems)
		return l.g, l.problems
	}
	l.buildWords()
	l.buildReadings()
	l.buildPath()
	l.buildValues()
	l.buildLaws()
	l.buildActions()
	l.nameFindings()
	l.buildSteps()
	l.buildFindings()
	l.buildSymptoms()
	l.checkDanger()
	if l.noCycle() {
		l.g.computeReach()
	} else {
		l.g.reach = map[string][]uint64{}
	}
	shape.Sort(l.problems)
	return l.g, l.problems
}

func newLoader(funcs []*formula.Func) *loader {
	return &loader{
		g: &Graph{
			Readings: map[string]*reading.Reading{}, States: map[string]*reading.State{},
			Meters: map[string]*reading.MeterSetting{}, Points: map[string]*reading.Point{},
			Actions: map[string]*Action{}, Cautions: map[string]*Caution{}, Sources: map[string]*Source{},
			Symptoms: map[string]*Symptom{}, Values: map[string]*Value{}, Steps: map[string]*Step{},
			Findings: map[string]*Finding{}, DangerStep: dangerStep, DangerReading: dangerReading,
			SystemVolts: systemVolts, Scope: formula.NewScope(funcs),
			lines: map[string][]string{},
		},
		layerOf: map[*shape.Node]int{}, told: map[shape.Place]bool{}, spoiled: map[string]bool{},
		states: newTable(), meters: newTable(), points: newTable(), actions: newTable(), cautions: newTable(),
		sources: newTable(), readings: newTable(), values: newTable(), laws: newTable(), symptoms: newTable(), steps: newTable(), findings: newTable(),
	}
}

// Symptoms reads what the layers say of the symptoms and nothing else: enough for
// a shell that completes, at a fraction of the cost. Where their walks start is
// left out, and what is wrong with the files is for [Load] to say.
func Symptoms(layers ...Layer) []*Symptom {
	l := newLoader(nil)
	l.readLayers(layers, func(f fs.FS) []string {
		return slices.DeleteFunc(layerFiles(f), func(n string) bool { return n != symptomsFile })
	})
	var out []*Symptom
	for _, e := range l.symptoms.all() {
		out = append(out, e.symptom())
	}
	return out
}

// Sound says that no problem is an error.
func Sound(problems []shape.Problem) bool {
	return !slices.ContainsFunc(problems, func(p shape.Problem) bool { return p.Severity == shape.Error })
}

// fromShape takes the problems of a file's shape. What is wrong in shape is told
// once, and not again for what it means.
func (l *loader) fromShape(problems []shape.Problem) {
	for _, p := range problems {
		l.told[p.At] = true
	}
	l.problems = append(l.problems, problems...)
}

func (l *loader) problem(p shape.Problem) {
	if l.told[p.At] {
		return
	}
	if p.Source == "" {
		p.Source = l.g.Line(p.At)
	}
	l.problems = append(l.problems, p)
}

func (l *loader) bad(code string, n *shape.Node, text, hint string) {
	l.problem(shape.NewProblem(code, n, text, hint))
}

func (l *loader) twice(second, first *shape.Node, id string) {
	p := shape.NewProblem("defined-twice", second, id+" is defined twice", "give one of them another name")
	p.Notes = append(p.Notes, shape.Note{At: first.Place(), Text: "first defined here", Source: first.Source()})
	l.problem(p)
}

// mostSuggestions is after how many problems none is looked for any more: a file
// in which every name is wrong costs names times names.
const mostSuggestions = 100

func (l *loader) near(name string, among []string) string {
	if len(l.problems) > mostSuggestions {
		return ""
	}
	return shape.DidYouMean(name, among)
}

// unknown reports a name that is not defined, with the nearest that is.
func (l *loader) unknown(what string, n *shape.Node, t *table) {
	near := l.near(n.Text(), t.order)
	p := shape.NewProblem("unknown-"+strings.ReplaceAll(what, " ", "-"), n, fmt.Sprintf("there is no %s called %s", what, n.Text()), "define it, or name one that is there")
	if near != "" {
		p.Hint = "did you mean " + near + "?"
		k := t.byID[near].key
		p.Notes = append(p.Notes, shape.Note{At: k.Place(), Text: near + " is defined here", Source: k.Source()})
	}
	l.problem(p)
}

// known says whether the text of n is an id of t, and reports it if not.
func (l *loader) known(what string, n *shape.Node, t *table) bool {
	if n.Kind() != shape.Scalar {
		return false // told by its shape
	}
	if t.byID[n.Text()] != nil {
		return true
	}
	l.unknown(what, n, t)
	return false
}

// ids is the texts of nodes that are ids of t.
func (l *loader) ids(what string, nodes []*shape.Node, t *table) []string {
	var out []string
	for _, n := range nodes {
		if l.known(what, n, t) {
			out = append(out, n.Text())
		}
	}
	return out
}

func texts(nodes []*shape.Node) []string {
	var out []string
	for _, n := range nodes {
		out = append(out, n.Text())
	}
	return out
}

// formula compiles the expression in n; its problems are placed in the file.
func (l *loader) formula(n *shape.Node, w formula.Want) *formula.Formula {
	if n.Kind() != shape.Scalar {
		return nil // told by its shape
	}
	f, problems := formula.Compile(n.Text(), l.g.Scope, w)
	text := []rune(n.Text())
	for _, p := range problems {
		if p.To <= len(text) && l.spoiled[string(text[p.From:p.To])] {
			continue // told where the name is defined
		}
		at, source, width := n.At(p.From, p.To-p.From)
		l.problem(shape.Problem{Code: p.Code, Text: p.Text, Hint: p.Hint, At: at, Source: source, Width: width})
	}
	return f
}

// spoil makes a name known whose own definition has problems, so that its users
// are not blamed.
func (l *loader) spoil(name string) {
	l.spoiled[name] = true
	l.g.Scope.Value(name, nil)
}

func (l *loader) condition(n *shape.Node) *Condition {
	if n == nil {
		return nil
	}
	f := l.formula(n, formula.WantYesNo())
	if f == nil {
		return nil
	}
	return &Condition{Text: n.Text(), F: f, Known: l.knownNames(n.Text()), At: n.Place()}
}

// allOf is one condition that holds when those of all layers hold: an overlay
// adds to what is needed and takes nothing away.
func (l *loader) allOf(nodes []*shape.Node) *Condition {
	var last *Condition
	var parts []string
	for _, n := range nodes {
		c := l.condition(n)
		if c == nil {
			return nil
		}
		last = c
		parts = append(parts, "("+n.Text()+")")
	}
	if len(parts) < 2 {
		return last
	}
	text := strings.Join(parts, " and ")
	f, problems := formula.Compile(text, l.g.Scope, formula.WantYesNo())
	if len(problems) > 0 {
		l.bad(problems[0].Code, nodes[len(nodes)-1], "together with the layer below: "+problems[0].Text, problems[0].Hint)
		return nil
	}
	return &Condition{Text: text, F: f, Known: l.knownNames(text), At: last.At}
}

var knownOf = pattern.Of(`known\((?:was\()?([a-z_][a-z0-9_]*)`)

// knownNames lists the readings that a formula asks known() of, also by the
// worked values that it uses. The values form no circle.
func (l *loader) knownNames(text string) []string {
	var out []string
	add := func(id string) {
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	for _, m := range knownOf.FindAllStringSubmatch(text, -1) {
		if v := l.g.Values[m[1]]; v != nil {
			for _, r := range v.Is.Refs() {
				add(r.Name)
			}
			continue
		}
		add(m[1])
	}
	for _, name := range nameInText.FindAllString(text, -1) {
		if v := l.g.Values[name]; v != nil {
			for _, id := range l.knownNames(v.Text) {
				add(id)
			}
		}
	}
	return out
}
