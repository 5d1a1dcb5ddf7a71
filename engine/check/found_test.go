package check_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"hotlug/engine/check"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
)

const (
	solar = "sheets/solar.yaml"
	vocab = "readings.yaml"
)

// seen is the step that looks at the fuse, behind a branch that has taken more
// than 0.1 V already.
const seen = "    ask: [fuse_look]\n    then:\n      - {if: fuse_look == 'melted', go: worn-holder}\n"

// found are the smallest bad examples of what whole ranges, paths, meters, safety
// and texts show, each beside a good neighbour.
var found = []struct{ code, file, from, bad, good string }{
	// whole ranges
	{"condition-never-true, beyond the range", solar, "if: pv_v < 5,", "if: pv_v < -90,", "if: pv_v < -70,"},
	{"condition-never-true, on every system", solar, "if: battery_v < 10 * system_v / 12", "if: battery_v > 25 * system_v / 12", "if: battery_v > 15 * system_v / 12"},
	{"condition-never-true, two limits that exclude each other", joints, "{if: holder_drop_v > 0.1,", "{if: 0.2 < holder_drop_v and holder_drop_v < 0.1,", "{if: 0.1 < holder_drop_v and holder_drop_v < 0.2,"},
	{"condition-never-true, two limits that meet", solar, "if: pv_v < 5,", "if: pv_v < 5 and pv_v >= 5,", "if: pv_v < 5 and pv_v >= -5,"},
	{"condition-never-true, of a proof", solar, "if: pv_v > 10", "if: pv_v > 100", "if: pv_v > 12"},
	{"condition-always-true, of a proof", joints, "if: fuse_rating_a < 300}", "if: fuse_rating_a < 600}", "if: fuse_rating_a < 400}"},
	{"condition-always-true, a number compared with itself", joints, "until: joint_drop_v > 0.05", "until: joint_drop_v <= joint_drop_v + 2", "until: joint_drop_v > 0.06"},
	{"condition-never-true, of a second fault", joints, "if: fuse_rating_a > 300 and chemistry == 'lfp'", "if: fuse_rating_a > 500 and chemistry == 'lfp'", "if: fuse_rating_a > 400 and chemistry == 'lfp'"},
	{"no-last-branch, with a value that takes none", solar, "      - {go: panels}", "      - {if: battery_v > 11 * system_v / 12, go: panels}", "      - {go: panels} # else"},
	// paths
	{"branch-covered", joints, "      - {if: holder_drop_v > 0.1, go: worn-holder}", "      - {if: holder_drop_v > 0.1, go: worn-holder}\n      - {if: holder_drop_v > 0.3, go: loose-lug}", "      - {if: holder_drop_v > 0.1, go: worn-holder}\n      - {if: holder_drop_v > 0.05, go: loose-lug}"},
	{"branch-contradicts-path", joints, seen, "    ask: [fuse_look, load_a, holder_drop_v]\n    then:\n      - {if: fuse_look == 'melted' and holder_drop_v > 0.2, go: worn-holder}\n", "    ask: [fuse_look, load_a, holder_drop_v]\n    then:\n      - {if: fuse_look == 'melted' and holder_drop_v > 0.05, go: worn-holder}\n"},
	{"needs-never-met", joints, "  look:\n    ask", "  look:\n    needs: holder_hot\n    ask", "  look:\n    needs: not holder_hot\n    ask"},
	{"also-contradicts-path", joints, "  look:\n    ask: [fuse_look]\n", "  look:\n    ask: [fuse_look]\n    also: [{if: holder_drop_v > 0.2, finding: loose-lug}]\n", "  look:\n    ask: [fuse_look]\n    also: [{if: holder_drop_v > 0.05, finding: loose-lug}]\n"},
	{"question-decides-nothing", joints, seen, "    ask: [fuse_look, load_a, holder_drop_v]\n    then:\n      - {if: fuse_look == 'melted' or holder_drop_v <= 0.2, go: worn-holder}\n", "    ask: [fuse_look, load_a, holder_drop_v]\n    then:\n      - {if: fuse_look == 'melted' or holder_drop_v <= 0.05, go: worn-holder}\n"},
	{"question-never-asked", joints, "  look:\n    ask: [fuse_look]\n    then:\n      - {if: fuse_look == 'melted', go: worn-holder}\n", "  look:\n    ask: [fuse_look]\n    then:\n", "  look:\n    ask: [fuse_look]\n    then:\n      - {if: fuse_look != 'whole', go: worn-holder}\n"},
	{"asked-in-vain", joints, "ask: [fuse_look]", "ask: [fuse_look, danger_what]", "ask: [fuse_look, joint_drop_v]"},
	// meters, systems, division
	{"better-decides-nothing", joints, "      - {if: holder_drop_v > 0.1, go: worn-holder}", "      - {if: holder_drop_v > 0.1, go: worn-holder, better: {say: Feel it., ask: [holder_hot]}}", "      - {if: holder_drop_v > 0.1, go: worn-holder, better: {say: Load it more., ask: [holder_drop_v]}}"},
	{"not-asked, in a better reading", joints, "      - {if: holder_drop_v > 0.1, go: worn-holder}", "      - {if: holder_drop_v > 0.1, go: worn-holder, better: {say: Feel it., ask: [holder_hot], if: holder_hot and joint_drop_v > 0.1}}", "      - {if: holder_drop_v > 0.1, go: worn-holder, better: {say: Feel it., ask: [holder_hot], if: holder_hot and load_a > 2}}"},
	{"law-of-unasked", joints, "ask: [fuse_look]", "ask: [load_a]", "ask: [load_a, fuse_look]"},
	{"law-without-number", "laws.yaml", "laws:\n", "laws:\n  soot: {holds: not browned or not holder_hot, because: It has cooled., sources: [practice]}\n", "laws:\n  soot: {holds: not browned or load_a < 300, because: It is never loaded again., sources: [practice]}\n"},
	{"condition-always-true, of a law", "laws.yaml", "it <= battery_v + 1,", "it <= battery_v + 100,", "it <= battery_v + 2,"},
	{"close-cuts", joints, "      - {if: holder_drop_v > 0.1, go: worn-holder}", "      - {if: holder_drop_v > 0.1001, go: loose-lug}\n      - {if: holder_drop_v > 0.1, go: worn-holder}", "      - {if: holder_drop_v > 0.2, go: loose-lug}\n      - {if: holder_drop_v > 0.1, go: worn-holder}"},
	{"volts-not-scaled", solar, "if: battery_v < 10 * system_v / 12", "if: battery_v < 10", "if: battery_v < 0.83 * system_v"},
	{"volts-not-scaled, in a proof", solar, "if: battery_v > 12 * system_v / 12", "if: battery_v > 12", "if: battery_v > system_v"},
	{"division-by-zero", joints, seen + "      - {go: lugs}\n    unknown: lugs\n", "    ask: [fuse_look, load_a, holder_drop_v]\n    then:\n      - {if: fuse_look == 'melted', go: worn-holder}\n      - {if: holder_drop_v / load_a > 0.001, go: loose-lug}\n      - {go: lugs}\n", "    ask: [fuse_look, load_a, holder_drop_v]\n    then:\n      - {if: fuse_look == 'melted' or load_a < 1, go: worn-holder}\n      - {if: holder_drop_v / load_a > 0.001, go: loose-lug}\n      - {go: lugs}\n"},
	{"division-by-zero, in a proof", solar, "prove: {ask: [pv_v], if: pv_v > 10}", "prove: {ask: [battery_v, pv_v], if: battery_v / pv_v > 0.1}", "prove: {ask: [battery_v, pv_v], if: pv_v > 10 and battery_v / pv_v > 0.1}"},
	// what could hurt
	{"probe-outside-gate", solar, "    needs: pv_cold_v <= 60\n", "", "    needs: pv_cold_v < 55\n"},
	{"probe-outside-gate, behind a gate that is too high", solar, "needs: pv_cold_v <= 60", "needs: pv_cold_v <= 90", "needs: pv_cold_v <= 60 and pv_cold_v > 6"},
	{"probe-outside-gate, of a proof", solar, "prove: {ask: [system_v, battery_v], if: battery_v > 12 * system_v / 12}", "prove: {ask: [pv_v], if: pv_v > 12}", "prove: {ask: [battery_v], if: battery_v > 12 * system_v / 12}"},
	{"probe-without-caution", vocab, "cautions: [pv-60-limit]", "cautions: [no-rings]", "cautions: [pv-60-limit, no-rings]"},
	{"load-without-danger-question", joints, "    danger: true\n    each", "    each", "    danger: true # at last\n    each"},
	{"load-without-needs", joints, "    needs: not holder_hot and not browned\n", "", "    needs: not holder_hot and not browned # nor anything else\n"},
	{"load-on-burned", joints, "    needs: not holder_hot and not browned\n", "    needs: not holder_hot\n", "    needs: not holder_hot and not browned and (load_a > 0 or not browned)\n"},
	{"load-on-burned, where not known may pass", joints, "needs: load_a > 1 and not browned", "needs: load_a > 1 and (not browned or load_a < 5)", "needs: load_a > 1 and not (browned or load_a < 2)"},
	{"caution-of-hazard-missing", vocab, "cautions: [burn-danger, no-rings]", "cautions: [no-rings]", "cautions: [no-rings, burn-danger]"},
	{"caution-of-hazard-missing, of probes", vocab, "cautions: [burn-danger, no-rings]", "cautions: [burn-danger]", "cautions: [no-rings, burn-danger]"},
	{"caution-of-hazard-missing, of an action", "states.yaml", "hazard: hot-metal, cautions: [burn-danger]", "hazard: hot-metal, cautions: [no-rings]", "hazard: hot-metal, cautions: [no-rings, burn-danger]"},
	{"action-needs-unmet", joints, "      - {if: holder_hot, go: hot-part}\n", "", "      - {if: holder_hot, go: hot-part} # away\n"},
	{"cautions-not-shown", vocab, "scales: true, cautions: [no-rings]", "scales: true, cautions: [no-rings, burn-danger, isolate-first, pv-60-limit]", "scales: true, cautions: [no-rings, burn-danger, isolate-first]"},
	// texts
	{"no-question", vocab, "ask: \"How many amps flow?\"", "ask: \"Read the amps.\"", "ask: \"How many amps flow in it?\""},
	{"long-question", vocab, "\"How many amps flow?\"", "\"How many amps flow" + strings.Repeat(", and again, in the next wire", 8) + "?\"", "\"How many amps flow" + strings.Repeat(", and again, in the next wire", 4) + "?\""},
	{"colour-alone", vocab, "melted: {label: melted}", "melted: {label: a red light}", "melted: {label: lit beside the word fault}"},
	{"colour-alone, in a text", joints, "lesson: A fuse guards the wire.", "lesson: The red wire is plus.", "lesson: The wire marked plus is plus."},
	{"exclamation-mark", joints, "lesson: A fuse guards the wire.", "lesson: A fuse guards the wire!", "lesson: A fuse guards it."},
	{"plain-words", joints, "lesson: A fuse guards the wire.", "lesson: Verify the fuse.", "lesson: Check the fuse."},
	{"long-sentence", joints, "lesson: A fuse guards the wire.", "lesson: A fuse" + strings.Repeat(" and a wire", 11) + ".", "lesson: A fuse" + strings.Repeat(" and a wire", 8) + "."},
	{"other-words-unused", joints, "    because: It is printed on it.\n", "    because: It is printed on it.\n    because_or: Or it is not.\n", "    because: \"{fuse_rating_a} is printed on it.\"\n    because_or: It is printed on it.\n"},
	// waivers
	{"waiver-without-reason", joints, "ask: [fuse_look]", "ask: [fuse_look]  # check: asked-in-vain", "ask: [fuse_look]  # check this"},
	{"waiver-unused", joints, "ask: [fuse_look]", "ask: [fuse_look]  # check: asked-in-vain: it is for the ticket", "ask: [fuse_look]  # it is for the ticket"},
	{"unused, a state", "states.yaml", "states:\n", "states:\n  dark: {name: darkness}\n", "states:\n  # none\n"},
	{"unused, a meter setting", "states.yaml", "meters:\n", "meters:\n  ohm: {say: Meter on ohms., class: hand}\n", "meters:\n  # none\n"},
	{"unused, a point", "states.yaml", "points:\n", "points:\n  bar: {name: the bar}\n", "points:\n  # none\n"},
}

// A warning is waived beside its line or on the line above, and is counted.
func TestWaived(t *testing.T) {
	for _, c := range []struct{ name, put string }{
		{"on its line", "  gloves: {say: Wear gloves.}  # check: unused: the next sheet needs it\n"},
		{"on the line above", "  # check: unused: the next sheet needs it\n  gloves: {say: Wear gloves.}\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := check.Look(loaded(t, "cautions.yaml", "cautions:\n", "cautions:\n"+c.put), commands)
			if len(r.Problems) > 0 {
				t.Fatalf("want none, got\n%s", shown(r.Problems))
			}
			if len(r.Waived) != 1 || r.Waived[0].Reason != "the next sheet needs it" || r.Waived[0].Problem.Code != "unused" {
				t.Errorf("waived is %+v", r.Waived)
			}
			if want := "0 errors, 0 warnings, 1 waived"; r.Summary() != want {
				t.Errorf("the summary is %q, want %q", r.Summary(), want)
			}
		})
	}
}

// An error stands whatever is written beside it.
func TestErrorsAreNotWaived(t *testing.T) {
	r := check.Look(loaded(t, joints, "lesson: A fuse guards the wire.", "lesson: A fuse guards it!  # check: exclamation-mark: I mean it"), commands)
	if !r.Has("exclamation-mark") || len(r.Waived) > 0 {
		t.Errorf("it was waived; left is\n%s", shown(r.Problems))
	}
}

// What needs of every step make sure of can be said without other words.
func TestNeededValuesNeedNoOtherWords(t *testing.T) {
	m := copied(t)
	change(t, m, solar, "    because_or: There are no volts at the solar screws.\n", "")
	change(t, m, solar, "    needs: pv_cold_v <= 60\n", "    needs: pv_cold_v <= 60 and known(pv_v)\n")
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: m})
	if shape.HasErrors(problems) {
		t.Fatal(shown(problems))
	}
	if r := check.Look(g, commands); r.Has("no-other-words") {
		t.Errorf("want none, got\n%s", shown(r.Problems))
	}
}

// A path on which everything and more is asked for is warned of.
func TestLongPath(t *testing.T) {
	for _, c := range []struct {
		name  string
		asked int
		want  bool
	}{{"forty questions", 37, false}, {"forty-one", 38, true}} { // the path has three more
		t.Run(c.name, func(t *testing.T) {
			m := copied(t)
			var readings strings.Builder
			var asks []string
			for i := range c.asked {
				fmt.Fprintf(&readings, "  more_%d: {name: more, ask: \"More?\", why: It tells more., class: observation, yes_no: true, meter: eye}\n", i)
				asks = append(asks, fmt.Sprintf("more_%d", i))
			}
			change(t, m, vocab, "readings:\n", "readings:\n"+readings.String())
			change(t, m, solar, "  posts:\n", "  first: {ask: ["+strings.Join(asks, ", ")+"], then: [{if: "+strings.Join(asks, " and ")+", go: battery-flat}, {go: last}], unknown: last}\n"+
				"  last: {needs: pv_cold_v <= 60, ask: [system_v, battery_v, pv_v], then: [{if: pv_v < 5 and battery_v < 10 * system_v / 12, go: panels-open}, {go: all-sound}]}\n  posts:\n")
			change(t, m, "symptoms.yaml", "symptoms:\n", "symptoms:\n  more: {label: More of it., start: solar/first, says: [more]}\n")
			g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: m})
			if shape.HasErrors(problems) {
				t.Fatal(shown(problems))
			}
			if r := check.Look(g, commands); r.Has("long-path") != c.want {
				t.Errorf("long-path is %v, want %v; found was\n%s", !c.want, c.want, shown(r.Problems))
			}
		})
	}
}

// What an overlay adds is held back from harm as what is built in.
func TestOverlays(t *testing.T) {
	for _, c := range []struct{ name, sheet, code string }{
		{"a probe on the solar side", "steps: {screws: {ask: [pv_v], then: [{if: pv_v < 5, go: panels-open}, {go: all-sound}], unknown: all-sound}}", "probe-outside-gate"},
		{"a load on a hot part", "steps: {screws: {danger: true, do: load-it, ask: [fuse_look], then: [{if: fuse_look == 'whole', go: all-sound}, {go: big-fuse}]}}", "load-without-needs"},
		{"a way to a proof with a probe", "steps: {screws: {ask: [fuse_look], then: [{if: fuse_look == 'whole', go: panels-open}, {go: all-sound}]}}", "probe-outside-gate"},
		{"a way to a fix whose action has needs", "steps: {screws: {ask: [fuse_look], then: [{if: fuse_look == 'whole', go: worn-holder}, {go: all-sound}]}}", "action-needs-unmet"},
	} {
		t.Run(c.name, func(t *testing.T) {
			own := fstest.MapFS{
				"sheets/own.yaml": {Data: []byte("format: 1\nsheet: own\n" + c.sheet + "\n")},
				"symptoms.yaml":   {Data: []byte("format: 1\nsymptoms: {own: {label: Our own., start: own/screws, says: [our own]}}\n")},
			}
			g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: copied(t)}, graph.Layer{Name: "own", FS: own})
			if shape.HasErrors(problems) {
				t.Fatal(shown(problems))
			}
			if r := check.Look(g, commands); !r.Has(c.code) {
				t.Errorf("no problem %s:\n%s", c.code, shown(r.Problems))
			}
		})
	}
}

// What neither limits nor points decide is noted, with its place.
func TestUndecidedIsNoted(t *testing.T) {
	g := loaded(t, joints, seen, "    ask: [fuse_look, load_a, fuse_rating_a]\n    then:\n      - {if: fuse_look == 'melted' and abs(load_a - 0.7654321 * fuse_rating_a) < 0.0000001 and abs(load_a - 0.5 * fuse_rating_a - 20.123) < 0.0000001, go: worn-holder}\n")
	r := check.Look(g, commands)
	i := slices.IndexFunc(r.Notes, func(n check.Note) bool { return n.Code == "undecided" })
	if i < 0 {
		t.Fatalf("no note; the problems are\n%s", shown(r.Problems))
	}
	if want := "kb/sheets/joints.yaml:20:9: note: limits leave open whether branch 1 of joints/look is ever taken, and no example was found [undecided]"; r.Notes[i].String() != want {
		t.Errorf("noted is %q, want %q", r.Notes[i], want)
	}
}

// Paths come with values that take them, and ways that are ruled out are left out.
func TestPaths(t *testing.T) {
	g := shipped(t)
	for _, id := range []string{"hot-joint", "spark-on-connecting"} {
		paths, more := check.Paths(g, id, 1000)
		if more || len(paths) < 50 {
			t.Fatalf("%s: %d paths, more is %v", id, len(paths), more)
		}
		shown := 0
		for _, p := range paths {
			if p.Shown {
				shown++
			}
		}
		// The search for example readings is bounded; long paths over many tables may
		// go without.
		if shown < len(paths)*4/5 {
			t.Errorf("%s: %d of %d paths have an example, want four of five", id, shown, len(paths))
		}
	}
	paths, more := check.Paths(g, "hot-joint", 3)
	if len(paths) != 3 || !more {
		t.Errorf("of three looked at there are %d, more is %v", len(paths), more)
	}
	if paths, _ := check.Paths(g, "no-such-symptom", 3); paths != nil {
		t.Errorf("a symptom that there is not has %d paths", len(paths))
	}
}

// Of knowledge that does not load, texts are looked at all the same.
func TestTextsOfWhatDoesNotLoad(t *testing.T) {
	m := copied(t)
	change(t, m, joints, "lesson: A fuse guards the wire.", "lesson: A fuse guards it!")
	change(t, m, solar, "      - {go: panels}", "      - {go: pannels}")
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: m})
	var codes []string
	for _, p := range check.Early(g, problems) {
		codes = append(codes, p.Code)
	}
	if want := []string{"exclamation-mark", "unknown-target"}; !slices.Equal(codes, want) {
		t.Errorf("found were %v, want %v", codes, want)
	}
}

// Every code that the package gives has an example, good and bad.
func TestEveryCodeHasAnExample(t *testing.T) {
	have := map[string]bool{"long-path": true} // TestLongPath
	for _, c := range append(mistakes, found...) {
		code, _, _ := strings.Cut(c.code, ",")
		have[code] = true
	}
	for _, code := range codesIn(t) {
		if !have[code] {
			t.Errorf("%s has no example", code)
		}
	}
}
