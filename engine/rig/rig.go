package rig

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// Rig is a rig as its file describes it.
type Rig struct {
	Name     string
	About    string
	Story    string // who uses it, what was done to it lately; for a drill
	Kind     string // hut, van, boat, trailer; "" if not said
	Earthing string // how minus and frame are joined, in words
	Places   []reading.PlaceOnRig

	facts  []written
	loads  *shape.Node // as they stand in the file
	parts  *shape.Node
	places *shape.Node
}

// written is a fact as it stands in the file.
type written struct {
	path  string // "battery.chemistry", or "place.rating"
	place string
	key   *shape.Node
	node  *shape.Node
}

// Fact is a fact of the rig, read.
type Fact struct {
	Reading *reading.Reading
	Place   string
	Text    string
	reading.Given
}

// sections are the parts of a rig whose fields are facts.
var sections = []string{"battery", "array", "controller", "inverter", "monitor", "engine", "site"}

// Shape is what a rig file may be. Which facts a section can hold is the
// vocabulary's to say, in [Rig.Facts].
func Shape() *shape.Shape {
	fields := []shape.Field{
		shape.Must("format", shape.Word("1"), "version of this kind of file"),
		shape.May("name", shape.Text(60), "name of the rig"),
		shape.May("about", shape.Text(400), "one line about it"),
		shape.May("story", shape.Text(1000), "who uses it, what it powers, what was done to it lately; a drill tells it"),
		shape.May("kind", shape.Word(rigKinds...), "what it is built into"),
		shape.May("earthing", shape.Text(400), "how minus and frame are joined, in words"),
		shape.May("places", shape.ListOf(reading.PlaceShape()), "joints, fuses and what else the rig has several of"),
		shape.May("loads", loadsShape(), "what draws current, for the simulated rig"),
		shape.May("parts", partsShape(), "wires, fuses and joints, where they differ from the standard plan of the simulated rig"),
	}
	for _, s := range sections {
		fields = append(fields, shape.May(s, shape.TableOf(shape.LooseText(200)), "facts of the "+s))
	}
	return shape.MapOf(fields...)
}

// Read reads a rig file. file is its name in messages.
func Read(file string, src []byte) (*Rig, []shape.Problem) {
	n, problems := shape.Parse(file, src)
	if n == nil {
		return nil, problems
	}
	r, more := From(n)
	return r, append(problems, more...)
}

// From reads a rig from a node of another file.
func From(n *shape.Node) (*Rig, []shape.Problem) {
	problems := shape.Check(n, Shape())
	if len(problems) > 0 {
		return nil, problems
	}
	r := &Rig{}
	for _, p := range n.Pairs() {
		switch key := p.Key.Text(); key {
		case "format":
		case "name":
			r.Name = p.Value.Text()
		case "about":
			r.About = p.Value.Text()
		case "story":
			r.Story = p.Value.Text()
		case "kind":
			r.Kind = p.Value.Text()
		case "earthing":
			r.Earthing = p.Value.Text()
		case "loads":
			r.loads = p.Value
		case "parts":
			r.parts = p.Value
		case "places":
			places, more := reading.PlacesFrom(p.Value)
			r.Places, r.places = places, p.Value
			problems = append(problems, more...)
			for _, x := range p.Value.Items() {
				for _, f := range x.Pairs() {
					if id := x.Get("id").Text(); reading.PlaceFact(f.Key.Text()) {
						r.facts = append(r.facts, written{path: "place." + f.Key.Text(), place: id, key: f.Key, node: f.Value})
					}
				}
			}
		default:
			for _, f := range p.Value.Pairs() {
				r.facts = append(r.facts, written{path: key + "." + f.Key.Text(), key: f.Key, node: f.Value})
			}
		}
	}
	return r, problems
}

// Facts turns what the file says into facts of the vocabulary. readings gives
// the readings in their order. Fields that no reading stands for and that
// [SystemOf] does not build by are problems, with the nearest that there is.
func (r *Rig) Facts(readings []*reading.Reading) ([]Fact, []shape.Problem) {
	var facts []Fact
	var problems []shape.Problem
	var paths []string
	for _, x := range readings {
		if x.Rig != "" {
			paths = append(paths, x.Rig)
		}
	}
	for _, w := range r.facts {
		found := false
		for _, x := range readings {
			if x.Rig != w.path || x.At != "" && w.place != "" && x.At != w.place {
				continue
			}
			found = true
			v, err := reading.Typed(x, w.node.Text())
			if err != nil {
				problems = append(problems, shape.NewProblem("bad-fact", w.node, fmt.Sprintf("%s: %s", w.path, err), "write "+example(x)))
				continue
			}
			if p := possible(x); x.Answer == reading.Number && !p.Has(v.Value) {
				problems = append(problems, shape.NewProblem("impossible-fact", w.node, w.path+" can't be "+w.node.Text(),
					strings.TrimSpace(fmt.Sprintf("it is from %g to %g %s", p.Lo, p.Hi, x.Kind.Unit.Symbol()))))
				continue
			}
			facts = append(facts, Fact{Reading: x, Place: w.place, Text: w.node.Text(), Given: v})
		}
		if !found && !built(w.path) {
			hint := "leave it out"
			section, _, _ := strings.Cut(w.path, ".")
			if fields := fieldsOf(section, paths); len(fields) > 0 {
				hint += "; there are: " + strings.Join(fields, ", ")
			}
			if near := shape.DidYouMean(w.path, append(builtPaths(), paths...)); near != "" {
				hint = "did you mean " + strings.TrimPrefix(near, "place.") + "?"
			}
			problems = append(problems, shape.NewProblem("unknown-fact", w.key, "no question is about "+w.path, hint))
		}
	}
	return append(facts, r.layoutFacts(readings)...), problems
}

// fieldsOf are the fields of a section that a question is about.
func fieldsOf(section string, paths []string) []string {
	var out []string
	for _, p := range paths {
		if f, ok := strings.CutPrefix(p, section+"."); ok && !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// possible is what can be at all, on the largest system where the range grows
// with its volts.
func possible(r *reading.Reading) reading.Range {
	p := r.Possible
	if r.Scales {
		p.Lo, p.Hi = min(p.Lo, mostScale*p.Lo), max(p.Hi, mostScale*p.Hi)
	}
	return p
}

// mostScale is by how much a 48 V system's volts exceed those of a 12 V one.
const mostScale = 4

func example(r *reading.Reading) string {
	switch r.Answer {
	case reading.YesNo:
		return "yes or no"
	case reading.Choice:
		var ids []string
		for _, o := range r.Options {
			ids = append(ids, o.ID)
		}
		return "one of " + strings.Join(ids, ", ")
	}
	return "a number of " + r.Kind.Name + ", with its unit"
}
