package graph_test

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// mistakes are the smallest bad examples, one of each problem that the loader
// itself can find (those of shape are tested with shape, those of formulas with
// formula), each beside a good neighbour. Both take the place of what stands in
// a file of testdata/base. What is shown for the bad ones stands in problemsFile.
var mistakes = []struct{ code, file, from, bad, good string }{
	{"unknown-target", joints, "go: worn-holder}", "go: worn-holdr}", "go: loose-lug}"},
	{"unknown-target, far from all", joints, "go: worn-holder}", "go: elsewhere}", "go: danger/what}"},
	{"unknown-target, a step of another sheet", joints, "go: worn-holder}", "go: what}", "go: danger/what}"},
	{"unknown-target, carry on outside of danger", joints, "go: worn-holder}", "go: carry-on}", "go: all-sound}"},
	{"unknown-target, unknown", joints, "unknown: lugs", "unknown: lug", "unknown: joints/lugs"},
	{"unknown-target, if not", joints, "if_not: lugs", "if_not: lgus", "if_not: big-fuse"},
	{"two-targets", joints, "  all-sound:\n", "  lugs: {cause: Two.}\n  all-sound:\n", "  lugs-two: {cause: Two.}\n  all-sound:\n"},
	{"cycle", joints, "      - {go: all-sound}", "      - {go: holder}", "      - {go: worn-holder}"},
	{"cycle, of one step", joints, "unknown: lugs", "unknown: holder", "unknown: loose-lug"},
	{"branch-hidden", joints, "{if: holder_drop_v > 0.1, go: worn-holder}", "{go: worn-holder}", "{if: load_a > 5, go: worn-holder}"},
	{"no-last-branch", joints, "{go: all-sound}", "{if: joint_drop_v < 0.05, go: all-sound}", "{go: worn-holder}"},
	{"stop-not-first", joints, "      - {if: holder_hot, go: hot-part}\n      - {if: holder_drop_v > 0.1, go: worn-holder}",
		"      - {if: holder_drop_v > 0.1, go: worn-holder}\n      - {if: holder_hot, go: hot-part}",
		"      - {if: holder_hot, go: hot-part}\n      - {if: load_a > 300, go: fire}"},
	{"defined-twice, a value and a reading", "values.yaml", "label: resistance of the holder}", "label: resistance of the holder}\n  load_a: {is: holder_hot, label: a}", "label: resistance of the holder}\n  load_b: {is: holder_hot, label: a}"},
	{"defined-twice, in two sheets", joints, "  big-fuse:\n", "  fire:\n", "  big-fuse:\n"},
	{"defined-twice, a place", "states.yaml", "id: post-neg", "id: post-pos", "id: post-minus"},
	{"circle, of readings", "readings.yaml", "like: holder_drop_v", "like: joint_drop_v", "like: load_a"},
	{"circle, of values", joints, "is: holder_drop_v * load_a", "is: holder_heat_w * 2", "is: holder_drop_v * load_a * 2"},
	{"unknown-unit", "values.yaml", "unit: ohm", "unit: ohms", "unit: ohm"},
	{"unknown-kind", "readings.yaml", "kind: volts\n", "kind: volt\n", "kind: volts\n"},
	{"unknown-class", joints, "each: joint", "each: jiont", "each: fuse"},
	{"unknown-class, over", "readings.yaml", "over: joint", "over: joints", "over: fuse"},
	{"unknown-state", "readings.yaml", "    state: [loads-on]\n", "    state: [loads-up]\n", "    state: [isolated]\n"},
	{"unknown-meter-setting", "readings.yaml", "meter: dcmv", "meter: dcmw", "meter: clamp"},
	{"unknown-point", "readings.yaml", "from: holder-in", "from: holder-inn", "from: holder-out"},
	{"unknown-caution", "readings.yaml", "    cautions: [burn-danger]", "    cautions: [burns]", "    cautions: [no-rings]"},
	{"unknown-action", joints, "{do: tighten}", "{do: tigthen}", "{do: isolate}"},
	{"unknown-reading", joints, "ask: [joint_drop_v]\n    then", "ask: [joint_drop]\n    then", "ask: joint_drop_v\n    then"},
	{"unknown-finding", joints, "finding: big-fuse", "finding: bigfuse", "finding: worn-holder"},
	{"unknown-worked-value", joints, "working: [holder_r,", "working: [holder,", "working: [holder_heat_w,"},
	{"unknown-source", joints, "lesson: Look elsewhere.\n    sources: [practice]", "lesson: Look elsewhere.\n    sources: [practise]", "lesson: Look elsewhere.\n    sources: []"},
	{"unknown-step", "symptoms.yaml", "start: joints/holder", "start: joints/hodler", "start: joints/lugs"},
	{"two-answers", "readings.yaml", "    kind: volts\n", "    kind: volts\n    yes_no: true\n", "    kind: volts\n    yes_no: false\n"},
	{"no-answer", "readings.yaml", "choices: [lfp, agm], ", "", "choices: [lfp, agm, flooded], "},
	{"no-range", "readings.yaml", "    possible: [0 V, 70 V]\n", "", "    possible: [-70 V, 70 V]\n"},
	{"no-range, of another kind than the like one", "readings.yaml", "like: holder_drop_v,", "like: load_a, kind: volts,", "like: load_a, kind: volts, possible: [0 V, 1 V],"},
	{"empty-range", "readings.yaml", "possible: [0 V, 70 V]", "possible: [70 V, 0 V]", "possible: [0 V, 70000 mV]"},
	{"bad-quantity", "readings.yaml", "possible: [0 V, 70 V]", "possible: [0 V, 70 A]", "possible: [0 mV, 70 V]"},
	{"too-many-choices", "readings.yaml", "choices: [lfp, agm]", "choices: [lfp, agm" + manyChoices(63) + "]", "choices: [lfp, agm" + manyChoices(62) + "]"},
	{"reserved-name", "values.yaml", "label: resistance of the holder}", "label: resistance of the holder}\n  known: {is: load_a > 1, label: a}", "label: resistance of the holder}\n  a_known: {is: load_a > 1, label: a}"},
	{"reserved-name, a function", "values.yaml", "label: resistance of the holder}", "label: resistance of the holder}\n  near: {is: load_a > 1, label: a}", "label: resistance of the holder}\n  is_near: {is: load_a > 1, label: a}"},
	{"reserved-name, place", "values.yaml", "label: resistance of the holder}", "label: resistance of the holder}\n  place: {is: load_a > 1, label: a}", "label: resistance of the holder}\n  places: {is: load_a > 1, label: a}"},
	{"dash-in-name", "readings.yaml", "  joint_drop_v: {", "  lug-drop: {like: load_a, name: a}\n  joint_drop_v: {", "  lug_drop: {like: load_a, name: a}\n  joint_drop_v: {"},
	{"open-brace", joints, "{place} loses {joint_drop_v}.", "{place} loses {joint_drop_v.", "{place} loses more than {joint_drop_v}."},
	{"unknown-name", joints, "at {load_a} is", "at {laod_a} is", "at {fuse_rating_a} is"},
	{"brace-in-plain-text", joints, "because_or: A lug loses volts.", "because_or: \"{place} loses volts.\"", "because_or: This (a lug) loses volts."},
	{"better-unused", joints, "{if: holder_hot, go: hot-part}", "{if: holder_hot, go: hot-part, better: {say: Again., ask: [load_a]}}", "{if: holder_hot, go: hot-part}"},
	{"until-without-each", joints, "    each: joint\n", "", "    each: joint\n"},
	{"sets-measurement", joints, "sets: {fuse_rating_a: fuse_rating_a}", "sets: {load_a: load_a}", "sets: {holder_hot: load_a > 300}"},
	{"sets-no-choice", joints, "sets: {fuse_rating_a: fuse_rating_a}", "sets: {chemistry: load_a}", "sets: {chemistry: chemistry}"},
	{"not-asked", joints, "prove: {ask: [holder_drop_v, load_a], if:", "prove: {ask: holder_drop_v, if:", "prove: {ask: [load_a, holder_drop_v], if:"},
	{"wrong-sheet", joints, "sheet: joints", "sheet: joint", "sheet: joints # the same as its file"},
	{"no-danger-question", "sheets/danger.yaml", "  now:\n", "  new:\n", "  now: # every walk begins here\n"},
	{"no-danger-question, not asked", "sheets/danger.yaml", "ask: [danger_now]", "ask: [danger_what]", "ask: danger_now"},
	{"no-danger-question, no way back", "sheets/danger.yaml", "{go: carry-on}", "{go: hot-part}", "{go: carry-on} # to the symptom"},
	{"no-danger-question, no yes or no", "readings.yaml", "    yes_no: true\n", "    kind: count\n    possible: [0, 1]\n", "    yes_no: true\n"},
	{"formula-unknown-name", joints, "if: holder_drop_v > 0.1,", "if: holder_drop > 0.1,", "if: holder_r > 0.1,"},
	{"formula-unknown-name, in a block", joints, "    needs: load_a > 1\n", "    needs: |\n      load_a > 1\n      and not holder_hto\n", "    needs: |\n      load_a > 1\n      and not holder_hot\n"},
	{"formula-unknown-name, in quotes", joints, "until: joint_drop_v > 0.05", "until: \"joint_drop > 0.05\"", "until: \"joint_drop_v > 0.05\""},
	{"formula-unit", "states.yaml", "needs: not holder_hot", "needs: load_a > holder_drop_v", "needs: load_a > fuse_rating_a"},
	{"formula-type", joints, "if: holder_drop_v < 0.05 and load_a > 1", "if: holder_drop_v", "if: holder_drop_v < load_a * holder_r"},
	{"formula-unit, of a value", "values.yaml", "unit: ohm", "unit: W", "unit: ohm"},
	{"formula-unknown-choice", "sheets/danger.yaml", "danger_what == 'smoke'", "danger_what == 'smoek'", "not (danger_what == 'none-of-these')"},
	{"formula-equal-numbers", joints, "if: holder_drop_v > 0.1,", "if: holder_drop_v == 0.1,", "if: \"near(holder_drop_v, 0.1, 0.05)\","},
}

const (
	joints       = "sheets/joints.yaml"
	problemsFile = "testdata/problems.txt"
)

func manyChoices(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(", c" + string(rune('a'+i/26)) + string(rune('a'+i%26)))
	}
	return b.String()
}

func TestProblemsAreShown(t *testing.T) {
	golden, err := os.ReadFile(problemsFile)
	if err != nil && !*update {
		t.Fatal(err)
	}
	want := map[string]string{}
	for _, c := range strings.Split(string(golden), "=== ")[1:] {
		name, text, _ := strings.Cut(c, "\n")
		want[name] = text
	}
	var out strings.Builder
	for _, c := range mistakes {
		t.Run(c.code, func(t *testing.T) {
			m := base(t)
			change(t, m, c.file, c.from, c.bad)
			_, problems := load(m)
			code, _, _ := strings.Cut(c.code, ",")
			if !slices.Contains(codes(problems), code) {
				t.Fatalf("no problem %s:\n%s", code, shown(problems))
			}
			for _, p := range problems {
				if p.At.File == "" || p.Text == "" {
					t.Errorf("a problem without place or text: %+v", p)
				}
			}
			got := shown(problems)
			out.WriteString("=== " + c.code + "\n" + got)
			if !*update && got != want[c.code] {
				t.Errorf("shown:\n%s\nwant:\n%s", got, want[c.code])
			}
		})
		t.Run(c.code+", the good neighbour", func(t *testing.T) {
			m := base(t)
			change(t, m, c.file, c.from, c.good)
			good(t, m)
		})
	}
	if *update {
		if err := os.WriteFile(problemsFile, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
