package reading

import (
	"slices"

	"hotlug/engine/shape"
)

// PlaceOnRig is something a rig has several of: a joint, a fuse, a way. Places
// of one Class that carry the same Like word can be compared.
type PlaceOnRig struct {
	ID    string
	Class string // joint, fuse, block, string, way, module, plug, cell
	Name  string // "the lug on the plus post"
	Like  string // places with the same word are alike
}

// PlaceClasses are the classes of places that a rig can have.
var PlaceClasses = []string{"joint", "fuse", "block", "string", "way", "module", "plug", "cell"}

// placeFacts are what can be written of a place besides what names it; readings
// find them at `rig: place.rating` and the like.
var placeFacts = []struct{ name, doc string }{
	{"rating", "amps printed on the fuse"},
	{"wire", "copper area of the wire behind it"},
	{"length", "length of that wire, one way"},
	{"run", "how the wire lies where it is hottest"},
	{"full_load", "largest steady amps"},
}

// PlaceFact says whether a field of a place is a fact of it.
func PlaceFact(field string) bool {
	return slices.ContainsFunc(placeFacts, func(f struct{ name, doc string }) bool { return f.name == field })
}

// PlaceShape is what a place in a file may be.
func PlaceShape() *shape.Shape {
	fields := []shape.Field{
		shape.Must("id", shape.ID(), "name by which readings and answers call the place"),
		shape.Must("class", shape.Word(PlaceClasses...), "what kind of place it is"),
		shape.Must("name", shape.Text(120), "what people call it"),
		shape.May("like", shape.ID(), "places with the same word can be compared"),
	}
	for _, f := range placeFacts {
		fields = append(fields, shape.May(f.name, shape.LooseText(60), f.doc))
	}
	return shape.MapOf(fields...).Named("place")
}

// PlacesFrom reads a list of places. Two of one id are a problem.
func PlacesFrom(list *shape.Node) ([]PlaceOnRig, []shape.Problem) {
	var out []PlaceOnRig
	var problems []shape.Problem
	for _, n := range list.Items() {
		p := PlaceOnRig{ID: n.Get("id").Text(), Class: n.Get("class").Text(), Name: n.Get("name").Text(), Like: n.Get("like").Text()}
		if slices.ContainsFunc(out, func(q PlaceOnRig) bool { return q.ID == p.ID }) {
			problems = append(problems, shape.NewProblem("defined-twice", n.Get("id"), "there are two places called "+p.ID, "give one of them another id"))
			continue
		}
		out = append(out, p)
	}
	return out, problems
}
