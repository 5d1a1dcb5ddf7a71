package graph

import (
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// The shapes of the knowledge files. The loader checks by them, and the JSON
// Schemas for editors are written from them.

const (
	shortText = 120
	lineText  = 400
	longText  = 900
)

func format() shape.Field {
	return shape.Must("format", shape.Word("1"), "version of this kind of file")
}

func ids() *shape.Shape   { return shape.AnyListOf(shape.Ref()) }
func lines() *shape.Shape { return shape.OneOrMore(shape.Text(lineText)) }

func who() *shape.Shape {
	return shape.Word(string(Helper), string(Electrician), string(Maker))
}

func hazard() *shape.Shape {
	return shape.Word("hot-metal", "live-dc", "pv-volts", "gas", "amps-socket", "tools-at-posts")
}

// shapeOf is the shape of a knowledge file by its name. In an overlay entries
// may name only the fields that they change.
func shapeOf(file string, overlay bool) *shape.Shape {
	s := fileShape(file)
	if !overlay {
		return s
	}
	for _, f := range s.Fields {
		if f.Shape.Form == shape.FormTable {
			for i := range f.Shape.Item.Fields {
				f.Shape.Item.Fields[i].Required = false
			}
		}
	}
	return s
}

func fileShape(file string) *shape.Shape {
	switch file {
	case "states.yaml":
		return StatesShape()
	case "cautions.yaml":
		return wordsShape("cautions", "safety texts, in order of precedence")
	case "sources.yaml":
		return wordsShape("sources", "what figures and rules stand on")
	case "readings.yaml":
		return shape.MapOf(format(), shape.Must("readings", shape.TableOf(readingShape()), "what a person can tell us, by id"))
	case "values.yaml":
		return shape.MapOf(format(), shape.Must("values", valuesShape(), "worked values, by id"))
	case "laws.yaml":
		return shape.MapOf(format(), shape.Must("laws", shape.TableOf(shape.MapOf(
			shape.May("of", shape.OneOrMore(shape.ID()), "readings for each of which it stands in holds"),
			shape.Must("holds", shape.Expression(), "must hold on any rig, sound or broken"),
			shape.Must("because", shape.Text(lineText), "why it must hold, one sentence"),
			shape.Must("sources", shape.OneOrMore(shape.Ref()), "what it stands on"),
		).Named("law")), "what readings keep to, by id"))
	case "symptoms.yaml":
		return shape.MapOf(format(), shape.Must("symptoms", shape.TableOf(shape.MapOf(
			shape.Must("label", shape.Text(shortText), "the complaint in one sentence"),
			shape.Must("start", shape.Ref(), "step at which the walk starts"),
			shape.Must("says", shape.ListOf(shape.Text(shortText)), "ways people say it"),
		)), "what a person notices, by id"))
	}
	return SheetShape()
}

// Shapes lists the shapes of the knowledge files by the name of their schema.
func Shapes() map[string]*shape.Shape {
	m := map[string]*shape.Shape{"sheet": SheetShape()}
	for _, f := range []string{"states", "cautions", "sources", "readings", "values", "laws", "symptoms"} {
		m[f] = fileShape(f + ".yaml")
	}
	return m
}

func wordsShape(name, doc string) *shape.Shape {
	return shape.MapOf(format(), shape.Must(name, shape.TableOf(shape.MapOf(
		shape.Must("say", shape.Text(lineText), "the text"))), doc))
}

// StatesShape is the shape of states.yaml.
func StatesShape() *shape.Shape {
	state := shape.MapOf(
		shape.Must("name", shape.Text(shortText), "noun phrase: a steady load on"),
		shape.May("say", shape.Text(lineText), "what the person is to bring about"),
		shape.May("excludes", ids(), "states that cannot hold together with this one"),
		shape.May("hazard", hazard(), "what can hurt in it"),
		shape.May("cautions", ids(), "cautions that go with it"),
	)
	meter := shape.MapOf(
		shape.Must("say", shape.Text(lineText), "how the meter is set, as said to the person"),
		shape.Must("class", shape.Word("hand", "good", "clamp", "clamp-zeroed", "infrared", "thermometer", "none"), "meter class, for its error"),
		shape.May("unit", shape.Word("mV", "mA"), "what it shows, where that is not volts or amps"),
	)
	action := shape.MapOf(
		shape.Must("say", shape.Text(lineText), "what to do, one line"),
		shape.May("how", lines(), "step by step, one action a line"),
		shape.May("needs", shape.Expression(), "must be certainly true before it is done"),
		shape.May("hazard", hazard(), "what can hurt while doing it"),
		shape.May("cautions", ids(), "cautions that go with it"),
		shape.May("touches", ids(), "places, or classes of places, whose readings it changes"),
		shape.May("who", who(), "who may do it"),
	)
	return shape.MapOf(format(),
		shape.May("states", shape.TableOf(state), "how the rig can stand"),
		shape.May("meters", shape.TableOf(meter), "how the meter can be set"),
		shape.May("points", shape.TableOf(shape.MapOf(shape.Must("name", shape.Text(shortText), "noun phrase: the plus post of the battery"))), "metal that a probe can touch"),
		shape.May("actions", shape.TableOf(action), "what can be done to the rig"),
		shape.May("standard_path", shape.ListOf(reading.PlaceShape()), "places a rig is taken to have when it lists none"),
	)
}

// optionPattern lets ids of options follow what is printed on a part: 500A-50mV.
var optionPattern = shape.NewPattern(`^[A-Za-z0-9]+([_-][A-Za-z0-9]+)*$`, "letters and digits, words joined by - or _")

func readingShape() *shape.Shape {
	option := shape.MapOf(
		shape.May("label", shape.Text(shortText), "as shown"),
		shape.May("says", shape.AnyListOf(shape.LooseText(shortText)), "other words people use for it"),
	)
	options := shape.TableOf(option)
	options.Pattern = optionPattern
	return shape.MapOf(
		shape.May("like", shape.ID(), "reading whose definition it takes over"),
		shape.May("at", shape.ID(), "the one place at which it is taken"),
		shape.MustUnless("name", shape.Text(shortText), "noun phrase: volts across the fuse holder", "like"),
		shape.MustUnless("ask", shape.Text(lineText), "the question", "like"),
		shape.MustUnless("why", shape.Text(lineText), "what the answer separates, and the physics", "like"),
		shape.May("how", lines(), "how it is taken, one action a line"),
		shape.MustUnless("class", shape.Word("fact", "observation", "measurement"), "how it comes about", "like"),
		shape.May("kind", shape.ID(), "kind of quantity: volts, amps, ohms, ..."),
		shape.May("yes_no", shape.Bool(), "the answer is yes or no"),
		shape.May("choices", shape.Either(options, shape.ListOf(shape.IDLike(optionPattern))), "the answers to choose from, in order"),
		shape.May("from", shape.ID(), "point for the red probe"),
		shape.May("to", shape.ID(), "point for the black probe"),
		shape.May("state", ids(), "states that the rig must be in"),
		shape.May("meter", shape.ID(), "how the meter is set"),
		shape.May("possible", shape.PairOf(shape.Quantity()), "hard limits: outside is refused"),
		shape.May("plausible", shape.PairOf(shape.Quantity()), "outside is asked back"),
		shape.May("scales", shape.Bool(), "the ranges are for 12 V and grow with system volts"),
		shape.May("holds", shape.Word("fact", "round", "together"), "how long a take stands"),
		shape.May("minutes", shape.Number(0, 1000), "minutes a practised person needs"),
		shape.May("stand", shape.Word("battery", "panel", "roof", "inverter", "cabin", "engine"), "where the person must be"),
		shape.May("over", shape.ID(), "class of places it is taken over"),
		shape.May("hazard", hazard(), "what can hurt while taking it"),
		shape.May("cautions", ids(), "cautions that go with it"),
		shape.May("rig", shape.Text(shortText), "where the fact stands in a rig file: battery.chemistry"),
		shape.May("sizes", shape.Bool(), "the fact sizes something and is read back once"),
		shape.May("formerly", ids(), "old ids"),
	).Named("reading")
}

func valuesShape() *shape.Shape {
	return shape.TableOf(shape.MapOf(
		shape.Must("is", shape.Expression(), "the formula"),
		shape.May("unit", shape.Text(12), "unit of the result: ohm, mm2, degC; needed for numbers"),
		shape.Must("label", shape.Text(shortText), "noun phrase: resistance of the holder"),
	).Named("value"))
}

// SheetShape is the shape of a sheet of steps and findings.
func SheetShape() *shape.Shape {
	return shape.MapOf(format(),
		shape.Must("sheet", shape.ID(), "name of the sheet, the same as its file"),
		shape.May("about", shape.Text(lineText), "one line about it"),
		shape.May("values", valuesShape(), "worked values that only this sheet uses"),
		shape.May("steps", shape.TableOf(stepShape()), "steps, by id"),
		shape.May("findings", shape.TableOf(findingShape()), "findings, by id"),
	)
}

// betterShape is what settles a close call.
func betterShape() *shape.Shape {
	return shape.MapOf(
		shape.Must("say", shape.Text(lineText), "what to do, and why it says more"),
		shape.Must("ask", shape.OneOrMore(shape.ID()), "what is then read, anew if it stands"),
		shape.May("if", shape.Expression(), "decides instead; left out: the same condition once more"),
		shape.May("meter", shape.ID(), "meter setting in place of the readings' own"),
	).Named("better")
}

func stepShape() *shape.Shape {
	branch := shape.MapOf(
		shape.May("if", shape.Expression(), "condition; left out in the last branch"),
		shape.Must("go", shape.Ref(), "step here, sheet/step, or finding"),
		shape.May("better", betterShape(), "better reading for when the condition is too close to call"),
	)
	also := shape.MapOf(
		shape.Must("if", shape.Expression(), "condition; recorded only when certain"),
		shape.Must("finding", shape.ID(), "the second fault"),
	)
	return shape.MapOf(
		shape.May("why", shape.Text(lineText), "what the step separates"),
		shape.May("part", shape.Text(shortText), "of a procedure: what the sheet to sign calls this part"),
		shape.May("order", shape.Text(lineText), "why it stands before what would tell more: safety first, a cheap look before a tool"),
		shape.May("danger", shape.Bool(), "ask the danger question anew before it"),
		shape.May("needs", shape.Expression(), "must be certainly true, else this place is closed"),
		shape.May("do", shape.ID(), "action done before asking; opens a round"),
		shape.May("which", shape.ID(), "class of places of which one is meant: asked once, if the rig has several"),
		shape.May("each", shape.ID(), "class of places to go over"),
		shape.May("until", shape.Expression(), "ends the walk over places where it is certainly true"),
		shape.May("ask", shape.OneOrMore(shape.ID()), "readings, asked in this order while no branch is settled"),
		shape.Must("then", shape.ListOf(branch), "branches: the first that holds is taken"),
		shape.May("unknown", shape.Ref(), "where to go when a reading it turns on cannot be had"),
		shape.May("better", betterShape(), "better reading for every branch that has none of its own"),
		shape.May("also", shape.ListOf(also), "second faults to record on the way"),
	).Named("step")
}

func findingShape() *shape.Shape {
	line := shape.MapOf(
		shape.May("do", shape.ID(), "action"),
		shape.May("say", shape.Text(lineText), "the line, with {values} put in"),
		shape.May("or", shape.Text(lineText), "the line when a value is not known"),
		shape.May("who", who(), "who may do it"),
	).ExactlyOne("do", "say")
	prove := shape.MapOf(
		shape.Must("ask", shape.OneOrMore(shape.ID()), "readings that prove it"),
		shape.Must("if", shape.Expression(), "holds when it is mended"),
		shape.May("say", shape.Text(lineText), "how to take them"),
		shape.May("better", betterShape(), "better reading for when the proof is too close to call"),
	)
	return shape.MapOf(
		shape.Must("cause", shape.Text(lineText), "what is wrong, one sentence"),
		shape.May("often", shape.Word(string(Common), string(Occasional), string(Rare)), "how often it is the cause of its symptoms"),
		shape.May("because", shape.Text(longText), "the evidence, with {values} put in"),
		shape.May("because_or", shape.Text(longText), "the evidence when a value is not known"),
		shape.May("working", shape.OneOrMore(shape.ID()), "worked values to show"),
		shape.May("fix", shape.ListOf(line), "what to do, one action a line"),
		shape.May("sets", shape.TableOf(shape.Expression()), "facts that the fix changes"),
		shape.May("unsafe", shape.Int(0, 3), "0 harmless to 3 burns or shocks: order of telling"),
		shape.May("no_fault", shape.Bool(), "the finding says that nothing is wrong"),
		shape.May("passes", shape.Bool(), "proven, it is what a procedure passes with"),
		shape.May("stop", shape.Word(string(StopWalk), string(StopPlace)), "stop-work: of the whole walk, or of this place"),
		shape.May("hand_to", shape.Text(lineText), "who goes on, with what news"),
		shape.May("says", shape.ListOf(shape.LooseText(shortText)), "words that bring the danger question"),
		shape.May("cautions", ids(), "cautions that go with it"),
		shape.May("prove", prove, "how the fix is proved"),
		shape.May("if_not", shape.Ref(), "where to go on when the proof fails"),
		shape.May("next", shape.Ref(), "where a procedure goes on when the proof holds"),
		shape.May("alike", ids(), "causes that no permitted reading tells from this one"),
		shape.May("shows", ids(), "faults of the simulated rig that it explains"),
		shape.May("lesson", shape.Text(lineText), "one line to remember"),
		shape.May("sources", ids(), "what it stands on"),
		shape.May("formerly", ids(), "old ids"),
	).Named("finding")
}
