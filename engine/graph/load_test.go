package graph_test

import (
	"slices"
	"testing"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

func TestSmallKnowledgeLoads(t *testing.T) {
	g := good(t, base(t))
	holder, worn := g.Steps["joints/holder"], g.Findings["worn-holder"]
	if holder == nil || worn == nil {
		t.Fatalf("joints/holder is %v and worn-holder is %v", holder, worn)
	}
	for _, c := range []struct {
		name      string
		got, want any
	}{
		{"start of the symptom", g.Symptoms["melted-holder"].Start, "joints/holder"},
		{"danger is asked anew", holder.Danger, true},
		{"needs", holder.Needs.Text, "load_a > 1"},
		{"first branch", holder.Then[0].To.String(), "hot-part"},
		{"a branch into the same sheet", holder.Then[2].To.Step, "joints/lugs"},
		{"the last branch has no condition", holder.Then[2].If == nil, true},
		{"unknown", holder.Unknown.Step, "joints/lugs"},
		{"second fault", holder.Also[0].Finding, "big-fuse"},
		{"action", g.Steps["joints/lugs"].Do, "isolate"},
		{"class of places", g.Steps["joints/lugs"].Each, "joint"},
		{"carry on", g.Steps["danger/now"].Then[1].To.CarryOn, true},
		{"who", worn.Fix[1].Who, graph.Electrician},
		{"action of a fix", worn.Fix[0].Action, "isolate"},
		{"words without the value", worn.Fix[1].Say.Or, "Fit a bolted holder."},
		{"name in a text", worn.Because.Parts[0].Name, "holder_drop_v"},
		{"literal in a text", worn.Because.Parts[1].Literal, " at "},
		{"place in a text", g.Findings["loose-lug"].Because.Parts[0].Place, true},
		{"where a failed proof leads", worn.IfNot.Step, "joints/lugs"},
		{"stop of the walk", g.Findings["fire"].Stop, graph.StopWalk},
		{"stop of the place", g.Findings["hot-part"].Stop, graph.StopPlace},
		{"danger words", len(g.DangerWords), 3},
		{"a value's unit", g.Values["holder_r"].Unit, "ohm"},
		{"a fact holds for good", g.Readings["chemistry"].Holds, reading.ForGood},
		{"others hold a round", g.Readings["holder_hot"].Holds, reading.ARound},
		{"possible is in the kind's unit", g.Readings["holder_drop_v"].Possible, reading.Range{Lo: 0, Hi: 70, Set: true}},
		{"a reading like another has its range", g.Readings["joint_drop_v"].Possible.Hi, 70.0},
		{"a reading like another has its name", g.Readings["joint_drop_v"].Name, "volts across a joint"},
		{"a reading like another has its hazard", g.Readings["joint_drop_v"].Hazard, "hot-metal"},
		{"an option without label is its id", g.WordOf("danger_what", "none-of-these"), "none-of-these"},
		{"an option's label", g.WordOf("danger_what", "smoke"), "smoke or flames"},
		{"what a value is called", g.NameOf("holder_r"), "resistance of the holder"},
		{"places of the standard path", len(g.StandardPath), 2},
		{"layers", g.Layers[0].Name, "kb"},
		{"line of a place", g.Line(worn.At), "  worn-holder:"},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, c.got, c.want)
		}
	}
}

// Findings that end work are not among what is still possible.
func TestReach(t *testing.T) {
	g := good(t, base(t))
	for step, want := range map[string][]string{
		"joints/holder": {"worn-holder", "loose-lug", "all-sound"},
		"joints/lugs":   {"loose-lug", "all-sound"},
		"danger/what":   nil,
		"no/such":       nil,
	} {
		if got := g.Reach(step); !slices.Equal(got, want) {
			t.Errorf("from %s: got %v, want %v", step, got, want)
		}
	}
}

func TestPrecedence(t *testing.T) {
	g := good(t, base(t))
	var got []string
	for _, c := range g.Precedence([]string{"no-rings", "burn-danger", "no-such", "no-rings", "isolate-first"}) {
		got = append(got, c.ID)
	}
	if want := []string{"isolate-first", "burn-danger", "no-rings"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// A stop is led to from several sheets, and the danger sheet is read first so
// that its findings are told before all others.
func TestDangerSheetStandsFirst(t *testing.T) {
	m := base(t)
	m["sheets/array.yaml"] = files("x", "format: 1\nsheet: array\nfindings:\n  dark:\n    cause: It is dark.\n")["x"]
	if got := good(t, m).FindingOrder[0]; got != "fire" {
		t.Errorf("the first finding is %s, want fire", got)
	}
}

// All problems of all files come in one run, sorted by file and place.
func TestAllProblemsAtOnce(t *testing.T) {
	m := base(t)
	change(t, m, "sheets/joints.yaml", "go: worn-holder}", "go: worn-holdr}")
	change(t, m, "sheets/joints.yaml", "needs: load_a > 1", "needs: load_q > 1 and holder_drop_v > load_a")
	change(t, m, "readings.yaml", "meter: clamp", "meter: clmap")
	change(t, m, "symptoms.yaml", "start: joints/holder", "start: joints/holde")
	change(t, m, "sheets/danger.yaml", "    cause: Something burns or smokes.\n", "")
	_, problems := load(m)
	want := []string{"unknown-meter-setting", "missing-field", "formula-unknown-name", "formula-unit", "unknown-target", "unknown-step"}
	if got := codes(problems); !slices.Equal(got, want) {
		t.Errorf("got %v, want %v:\n%s", got, want, shown(problems))
	}
	if !slices.IsSortedFunc(problems, func(a, b shape.Problem) int { return a.At.Compare(b.At) }) {
		t.Errorf("not sorted by place:\n%s", shown(problems))
	}
}

// What is wrong in shape is told once, and not again for what it means.
func TestNoFollowOnProblems(t *testing.T) {
	for _, c := range []struct{ name, file, from, to, code string }{
		{"a list for a condition", "sheets/joints.yaml", "needs: load_a > 1", "needs: [load_a]", "wrong-kind"},
		{"a map for a target", "sheets/joints.yaml", "unknown: lugs", "unknown: {go: lugs}", "wrong-kind"},
		{"no value for a target", "sheets/joints.yaml", "unknown: lugs", "unknown:", "missing-value"},
		{"an id with a blank", "sheets/joints.yaml", "if_not: lugs", "if_not: the lugs", "bad-id"},
		{"no branches at all", "sheets/joints.yaml", "    then:\n      - {if: joint_drop_v > 0.05, go: loose-lug}\n      - {go: all-sound}\n", "", "missing-field"},
		{"a number for a class", "sheets/joints.yaml", "each: joint", "each: [joint]", "wrong-kind"},
		{"a like that is not there", "readings.yaml", "like: holder_drop_v", "like: holder_v", "unknown-reading"},
		{"a range with a slip", "readings.yaml", "possible: [0 A, 400 A]", "possible: [0 A, 400 furlongs]", "bad-quantity"},
		{"a value that does not compile", "values.yaml", "holder_drop_v / load_a", "holder_drop_v / laod_a", "formula-unknown-name"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := base(t)
			change(t, m, c.file, c.from, c.to)
			_, problems := load(m)
			if got := codes(problems); !slices.Equal(got, []string{c.code}) {
				t.Errorf("got %v, want only %s:\n%s", got, c.code, shown(problems))
			}
		})
	}
}
