package graph_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// over is an overlay of one file, with the first line of every file put in.
func over(file, text string) fstest.MapFS {
	head := "format: 1\n"
	if s, ok := strings.CutPrefix(file, "sheets/"); ok {
		head += "sheet: " + strings.TrimSuffix(s, ".yaml") + "\n"
	}
	return files(file, head+text)
}

func TestOverlayAddsAndChanges(t *testing.T) {
	for _, c := range []struct {
		name, file, text string
		got              func(g *graph.Graph) any
		want             any
	}{
		{"a caution", "cautions.yaml", "cautions:\n  gloves: {say: Wear gloves.}\n",
			func(g *graph.Graph) any { return g.Cautions["gloves"].Say }, "Wear gloves."},
		{"a new caution comes after the others", "cautions.yaml", "cautions:\n  gloves: {say: Wear gloves.}\n",
			func(g *graph.Graph) any { return g.Cautions["gloves"].Rank }, 3},
		{"words of a symptom", "symptoms.yaml", "symptoms:\n  melted-holder: {says: [brown plastic]}\n",
			func(g *graph.Graph) any { return strings.Join(g.Symptoms["melted-holder"].Says, ", ") }, "melted fuse holder, brown plastic"},
		{"where a symptom starts that no stop-work lies behind", "symptoms.yaml", "symptoms:\n  hot-lug: {label: A lug is hot., start: joints/lugs, says: [hot lug]}\n",
			func(g *graph.Graph) any { return g.Symptoms["hot-lug"].Start }, "joints/lugs"},
		{"a step in a new sheet", "sheets/hut.yaml", "steps:\n  stove:\n    ask: [load_a]\n    then: [{if: load_a > 20, go: loose-lug}, {go: joints/lugs}]\n",
			func(g *graph.Graph) any { return g.Steps["hut/stove"].Then[1].To.Step }, "joints/lugs"},
		{"a finding in a new sheet", "sheets/hut.yaml", "findings:\n  stove: {cause: The stove takes too much.}\n",
			func(g *graph.Graph) any { return g.Findings["stove"].Sheet }, "hut"},
		{"the question of a reading", "readings.yaml", "readings:\n  load_a: {ask: How many amps does it take now}\n",
			func(g *graph.Graph) any { return g.Readings["load_a"].Ask }, "How many amps does it take now"},
		{"a changed reading keeps its other fields", "readings.yaml", "readings:\n  load_a: {ask: How many amps does it take now}\n",
			func(g *graph.Graph) any { return g.Readings["load_a"].Meter }, "clamp"},
		{"what is plausible may widen", "readings.yaml", "readings:\n  load_a: {plausible: [0 A, 400 A]}\n",
			func(g *graph.Graph) any { return g.Readings["load_a"].Plausible.Hi }, 400.0},
		{"what is possible may narrow", "readings.yaml", "readings:\n  load_a: {possible: [0 A, 100 A]}\n",
			func(g *graph.Graph) any { return g.Readings["load_a"].Possible }, reading.Range{Lo: 0, Hi: 100, Set: true}},
		{"an answer to choose", "readings.yaml", "readings:\n  chemistry: {choices: [flooded]}\n",
			func(g *graph.Graph) any { return len(g.Readings["chemistry"].Options) }, 3},
		{"words for an answer", "readings.yaml", "readings:\n  danger_what: {choices: {smoke: {says: [stink]}}}\n",
			func(g *graph.Graph) any { return strings.Join(g.Readings["danger_what"].Options[0].Says, ", ") }, "fire, stink"},
		{"a label of an answer", "readings.yaml", "readings:\n  danger_what: {choices: {hot: {label: hot part}}}\n",
			func(g *graph.Graph) any { return g.WordOf("danger_what", "hot") }, "hot part"},
		{"a law", "laws.yaml", "laws:\n  few: {holds: load_a <= 2 * fuse_rating_a, because: It would blow., sources: [practice]}\n",
			func(g *graph.Graph) any { return g.LawsOf(g.Readings["load_a"])[0].ID }, "few"},
		{"the label of a value", "values.yaml", "values:\n  holder_r: {label: ohms of the holder}\n",
			func(g *graph.Graph) any { return g.NameOf("holder_r") }, "ohms of the holder"},
		{"the branches of a step", joints, "steps:\n  lugs: {then: [{if: joint_drop_v > 0.2, go: loose-lug}, {go: all-sound}]}\n",
			func(g *graph.Graph) any { return g.Steps["joints/lugs"].Then[0].If.Text }, "joint_drop_v > 0.2"},
		{"whom to hand over to", "sheets/danger.yaml", "findings:\n  fire: {hand_to: Fire service of Larkmoor}\n",
			func(g *graph.Graph) any { return g.Findings["fire"].HandTo }, "Fire service; Fire service of Larkmoor"},
		{"a second fault", joints, "steps:\n  holder: {also: [{if: load_a > 300, finding: loose-lug}]}\n",
			func(g *graph.Graph) any { return len(g.Steps["joints/holder"].Also) }, 2},
		{"no fault is a fault after all", joints, "findings:\n  all-sound: {no_fault: false}\n",
			func(g *graph.Graph) any { return g.Findings["all-sound"].NoFault }, false},
		{"a finding that is not unsafe may be no fault", joints, "findings:\n  big-fuse: {no_fault: true}\n",
			func(g *graph.Graph) any { return g.Findings["big-fuse"].NoFault }, true},
		{"a part of a procedure", joints, "steps:\n  lugs: {part: every lug}\n",
			func(g *graph.Graph) any { return g.Steps["joints/lugs"].Part }, "every lug"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.got(good(t, base(t), over(c.file, c.text))); got != c.want {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

// Whatever an overlay joins in, the safety of the layer below is still there.
func TestOverlayCannotLowerSafety(t *testing.T) {
	fire := func(g *graph.Graph) *graph.Finding { return g.Findings["fire"] }
	worn := func(g *graph.Graph) *graph.Finding { return g.Findings["worn-holder"] }
	for _, c := range []struct {
		name, file, text string
		got              func(g *graph.Graph) any
		want             any
	}{
		{"cautions of a reading", "readings.yaml", "readings:\n  holder_hot: {cautions: []}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.Readings["holder_hot"].Cautions) }, "[burn-danger]"},
		{"cautions of a reading like another", "readings.yaml", "readings:\n  joint_drop_v: {cautions: [no-rings]}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.Readings["joint_drop_v"].Cautions) }, "[burn-danger no-rings]"},
		{"cautions of a state", "states.yaml", "states:\n  isolated: {cautions: [no-rings]}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.States["isolated"].Cautions) }, "[isolate-first no-rings]"},
		{"what a state excludes", "states.yaml", "states:\n  isolated: {excludes: []}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.States["isolated"].Excludes) }, "[loads-on]"},
		{"cautions of an action", "states.yaml", "actions:\n  isolate: {cautions: []}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.Actions["isolate"].Cautions) }, "[isolate-first]"},
		{"cautions of a finding", joints, "findings:\n  worn-holder: {cautions: [no-rings]}\n",
			func(g *graph.Graph) any { return fmt.Sprint(worn(g).Cautions) }, "[isolate-first burn-danger no-rings]"},
		{"the words of a caution", "cautions.yaml", "cautions:\n  no-rings: {say: Rings are fine.}\n",
			func(g *graph.Graph) any { return g.Cautions["no-rings"].Say }, "No rings and no watch. Rings are fine."},
		{"the order of cautions", "cautions.yaml", "cautions:\n  no-rings: {say: x}\n  isolate-first: {say: y}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.CautionOrder) }, "[isolate-first burn-danger no-rings]"},
		{"needs of a step", joints, "steps:\n  holder: {needs: load_a > 0.5}\n",
			func(g *graph.Graph) any { return g.Steps["joints/holder"].Needs.Text }, "(load_a > 1) and (load_a > 0.5)"},
		{"needs of an action", "states.yaml", "actions:\n  isolate: {needs: load_a < 400 or holder_hot}\n",
			func(g *graph.Graph) any { return g.Actions["isolate"].Needs.Text }, "(not holder_hot) and (load_a < 400 or holder_hot)"},
		{"the danger question before a step", joints, "steps:\n  holder: {danger: false}\n",
			func(g *graph.Graph) any { return g.Steps["joints/holder"].Danger }, true},
		{"the states of a reading", "readings.yaml", "readings:\n  load_a: {state: []}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.Readings["load_a"].State) }, "[loads-on]"},
		{"how long a reading holds", "readings.yaml", "readings:\n  load_a: {holds: fact}\n",
			func(g *graph.Graph) any { return g.Readings["load_a"].Holds }, reading.Together},
		{"how long a reading like another holds", "readings.yaml", "readings:\n  joint_drop_v: {holds: fact}\n",
			func(g *graph.Graph) any { return g.Readings["joint_drop_v"].Holds }, reading.ARound},
		{"what is read back", "readings.yaml", "readings:\n  system_v: {sizes: false}\n",
			func(g *graph.Graph) any { return g.Readings["system_v"].Sizes }, true},
		{"the answers to choose from", "readings.yaml", "readings:\n  danger_what: {choices: [none-of-these]}\n",
			func(g *graph.Graph) any { return g.Readings["danger_what"].Options[0].ID }, "smoke"},
		{"who does an action", "states.yaml", "actions:\n  isolate: {who: electrician}\n",
			func(g *graph.Graph) any { return g.Actions["isolate"].Who }, graph.Electrician},
		{"who mends", joints, "findings:\n  worn-holder: {fix: [{say: Bend the clips., who: helper}]}\n",
			func(g *graph.Graph) any { f := worn(g).Fix; return f[len(f)-1].Who }, graph.Electrician},
		{"the actions of a fix", joints, "findings:\n  worn-holder: {fix: [{say: Bend the clips., who: maker}]}\n",
			func(g *graph.Graph) any { return worn(g).Fix[0].Action }, "isolate"},
		{"an action that the overlay has too is done once", joints, "findings:\n  worn-holder: {fix: [{do: isolate}, {say: Bend the clips.}]}\n",
			func(g *graph.Graph) any { return fmt.Sprint(worn(g).Fix[0].Action, len(worn(g).Fix)) }, "isolate3"},
		{"a line that the overlay has too is said once", joints, "findings:\n  worn-holder: {fix: [{say: \"Fit a holder for a {fuse_rating_a} fuse.\", or: Fit a bolted holder.}]}\n",
			func(g *graph.Graph) any { return len(worn(g).Fix) }, 2},
		{"the lines of a fix of what burns", joints, "findings:\n  worn-holder: {fix: [{say: Bend the clips.}]}\n",
			func(g *graph.Graph) any { return worn(g).Fix[1].Say.Parts[0].Literal }, "Fit a holder for a "},
		{"how a hazardous reading is taken", "readings.yaml", "readings:\n  holder_drop_v: {how: [Hold the metal with a finger.]}\n",
			func(g *graph.Graph) any { return strings.Join(g.Readings["holder_drop_v"].How, " ") }, "Red probe on the wire going in. Black probe on the wire coming out. Hold the metal with a finger."},
		{"how a reading like a hazardous one is taken", "readings.yaml", "readings:\n  joint_drop_v: {how: [On the lug.]}\n",
			func(g *graph.Graph) any { return len(g.Readings["joint_drop_v"].How) }, 3},
		{"why a hazardous reading is taken", "readings.yaml", "readings:\n  holder_hot: {why: Just feel.}\n",
			func(g *graph.Graph) any { return g.Readings["holder_hot"].Why }, "Heat is volts times amps. Just feel."},
		{"what an action with a hazard says", "states.yaml", "actions:\n  isolate: {say: Open what you find., how: [Pull.]}\n",
			func(g *graph.Graph) any {
				return g.Actions["isolate"].Say + strings.Join(g.Actions["isolate"].How, " ")
			}, "Open the isolator and prove it dead. Open what you find.Pull."},
		{"what a state with a hazard says", "states.yaml", "states:\n  isolated: {say: Loads off will do.}\n",
			func(g *graph.Graph) any { return g.States["isolated"].Say }, "Open the isolator and prove it dead. Loads off will do."},
		{"how a meter is set", "states.yaml", "meters:\n  clamp: {say: Around both wires.}\n",
			func(g *graph.Graph) any { return g.Meters["clamp"].Say }, "Clamp around one wire. Around both wires."},
		{"what a stop-work finding teaches", "sheets/danger.yaml", "findings:\n  fire: {lesson: It is never that bad.}\n",
			func(g *graph.Graph) any { return fire(g).Lesson }, "It is never that bad."},
		{"how a fix is proved", joints, "findings:\n  worn-holder: {prove: {ask: [load_a], if: load_a > 0, say: Any load will do.}}\n",
			func(g *graph.Graph) any { return worn(g).Prove.Say }, "Same load, same two points. Any load will do."},
		{"what a fix sets", joints, "findings:\n  worn-holder: {sets: {}}\n",
			func(g *graph.Graph) any { return len(worn(g).Sets) }, 1},
		{"what a step asks that may stop work", joints, "steps:\n  holder: {ask: [load_a], then: [{go: lugs}]}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.Steps["joints/holder"].Ask) }, "[load_a holder_hot holder_drop_v]"},
		{"why a step is taken that may burn", joints, "steps:\n  holder: {why: It is cold anyway.}\n",
			func(g *graph.Graph) any { return g.Steps["joints/holder"].Why }, "It is cold anyway."},
		{"what to do when work stops", "sheets/danger.yaml", "findings:\n  fire: {fix: [{say: Finish your tea.}]}\n",
			func(g *graph.Graph) any { return fire(g).Fix[0].Say.Parts[0].Literal }, "Leave now."},
		{"stop of the walk", "sheets/danger.yaml", "findings:\n  fire: {stop: place}\n",
			func(g *graph.Graph) any { return fire(g).Stop }, graph.StopWalk},
		{"stop of a place may become one of the walk", "sheets/danger.yaml", "findings:\n  hot-part: {stop: walk}\n",
			func(g *graph.Graph) any { return g.Findings["hot-part"].Stop }, graph.StopWalk},
		{"how unsafe", "sheets/danger.yaml", "findings:\n  fire: {unsafe: 0}\n",
			func(g *graph.Graph) any { return fire(g).Unsafe }, 3},
		{"how unsafe may rise", joints, "findings:\n  worn-holder: {unsafe: 3}\n",
			func(g *graph.Graph) any { return worn(g).Unsafe }, 3},
		{"danger words", "sheets/danger.yaml", "findings:\n  fire: {says: [stench]}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.DangerWords) }, "[{fire fire} {smoke fire} {stench fire} {too hot to hold hot-part}]"},
		{"branches into stop-work", joints, "steps:\n  holder: {then: [{if: holder_drop_v > 0.2, go: worn-holder}, {go: lugs}]}\n",
			func(g *graph.Graph) any { return g.Steps["joints/holder"].Then[0].To.Finding }, "hot-part"},
		{"when a branch into stop-work is taken", joints, "steps:\n  holder: {then: [{if: holder_hot and load_a > 300, go: hot-part}, {go: lugs}]}\n",
			func(g *graph.Graph) any { return g.Steps["joints/holder"].Then[0].If.Text }, "holder_hot"},
		{"a branch into stop-work that the overlay has too stands once", joints, "steps:\n  holder: {then: [{if: holder_hot, go: hot-part}, {go: lugs}]}\n",
			func(g *graph.Graph) any { return len(g.Steps["joints/holder"].Then) }, 2},
		{"what proves a fix", joints, "findings:\n  worn-holder: {prove: {ask: [load_a], if: load_a > 0}}\n",
			func(g *graph.Graph) any { return worn(g).Prove.If.Text }, "(holder_drop_v < 0.05 and load_a > 1) and (load_a > 0)"},
		{"what a proof asks", joints, "findings:\n  worn-holder: {prove: {ask: [load_a], if: load_a > 0}}\n",
			func(g *graph.Graph) any { return fmt.Sprint(worn(g).Prove.Ask) }, "[holder_drop_v load_a]"},
		{"what an action touches", "states.yaml", "actions:\n  isolate: {touches: [joint]}\n",
			func(g *graph.Graph) any { return fmt.Sprint(g.Actions["isolate"].Touches) }, "[fuse joint]"},
		{"sources", joints, "findings:\n  worn-holder: {sources: []}\n",
			func(g *graph.Graph) any { return fmt.Sprint(worn(g).Sources) }, "[practice]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.got(good(t, base(t), over(c.file, c.text))); got != c.want {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

// What can't be joined is refused, and the layer below stands.
func TestOverlayIsRefused(t *testing.T) {
	const lowers = "lowers-safety"
	for _, c := range []struct{ name, file, text, code string }{
		{"the hazard of a reading", "readings.yaml", "readings:\n  holder_hot: {hazard: gas}\n", lowers},
		{"the hazard of a reading like another", "readings.yaml", "readings:\n  joint_drop_v: {hazard: gas}\n", lowers},
		{"no hazard at all", "readings.yaml", "readings:\n  holder_hot: {hazard: }\n", "missing-value"},
		{"the hazard of an action", "states.yaml", "actions:\n  isolate: {hazard: hot-metal}\n", lowers},
		{"the hazard of a state", "states.yaml", "states:\n  isolated: {hazard: hot-metal}\n", lowers},
		{"wider possible", "readings.yaml", "readings:\n  load_a: {possible: [0 A, 900 A]}\n", lowers},
		{"lower possible", "readings.yaml", "readings:\n  load_a: {possible: [-5 A, 400 A]}\n", lowers},
		{"wider possible than the like one", "readings.yaml", "readings:\n  joint_drop_v: {possible: [0 V, 90 V]}\n", lowers},
		{"possible that scales", "readings.yaml", "readings:\n  load_a: {scales: true}\n", lowers},
		{"no fault", joints, "findings:\n  worn-holder: {no_fault: true}\n", lowers},
		{"no fault, where work stops", "sheets/danger.yaml", "findings:\n  fire: {no_fault: true}\n", lowers},
		{"a pass of a procedure", joints, "findings:\n  all-sound: {passes: true}\n", lowers},
		{"no fault and not unsafe", joints, "findings:\n  worn-holder: {no_fault: true, unsafe: 0}\n", lowers},
		{"what a value is worked out from", "values.yaml", "values:\n  holder_r: {is: load_a / load_a * holder_drop_v / load_a}\n", lowers},
		{"the unit of a value", "values.yaml", "values:\n  holder_r: {unit: m}\n", lowers},
		{"the kind of a reading", "readings.yaml", "readings:\n  load_a: {kind: volts}\n", lowers},
		{"the kind of answer", "readings.yaml", "readings:\n  holder_hot: {choices: [a, b]}\n", lowers},
		{"the kind of answer of a like one", "readings.yaml", "readings:\n  joint_drop_v: {yes_no: true}\n", lowers},
		{"what a reading is like", "readings.yaml", "readings:\n  joint_drop_v: {like: load_a}\n", lowers},
		{"a reading that was like none", "readings.yaml", "readings:\n  load_a: {like: holder_drop_v}\n", lowers},
		{"a measurement becomes a fact", "readings.yaml", "readings:\n  load_a: {class: fact}\n", lowers},
		{"the error of a meter", "states.yaml", "meters:\n  dcmv: {class: none}\n", lowers},
		{"what a step does first", joints, "steps:\n  lugs: {do: tighten}\n", lowers},
		{"the question of a hazardous reading", "readings.yaml", "readings:\n  holder_drop_v: {ask: How many volts}\n", lowers},
		{"the name of a hazardous reading", "readings.yaml", "readings:\n  holder_drop_v: {name: volts of a cold holder}\n", lowers},
		{"the meter of a hazardous reading", "readings.yaml", "readings:\n  holder_drop_v: {meter: clamp}\n", lowers},
		{"the metal of a hazardous reading", "readings.yaml", "readings:\n  holder_drop_v: {from: holder-out}\n", lowers},
		{"the question of a reading like a hazardous one", "readings.yaml", "readings:\n  joint_drop_v: {ask: How many volts}\n", lowers},
		{"what a point is called", "states.yaml", "points:\n  holder-in: {name: the plus post}\n", lowers},
		{"what a state with a hazard is called", "states.yaml", "states:\n  isolated: {name: loads off}\n", lowers},
		{"the cause of stop-work", "sheets/danger.yaml", "findings:\n  fire: {cause: It is warm.}\n", lowers},
		{"the evidence of stop-work", "sheets/danger.yaml", "findings:\n  fire: {because: It is nothing.}\n", lowers},
		{"a fact that a fix sets to something else", joints, "findings:\n  worn-holder: {sets: {fuse_rating_a: load_a * 10}}\n", lowers},
		{"where a symptom starts", "symptoms.yaml", "symptoms:\n  melted-holder: {start: joints/lugs}\n", lowers},
		{"which places a step goes over", joints, "steps:\n  lugs: {each: fuse}\n", lowers},
		{"when a step over places ends", joints, "steps:\n  lugs: {until: joint_drop_v >= 0}\n", lowers},
		{"the danger question", "readings.yaml", "readings:\n  danger_now: {ask: Is all well}\n", lowers},
		{"the step of the danger question", "sheets/danger.yaml", "steps:\n  now: {then: [{if: not danger_now, go: what}, {go: carry-on}]}\n", lowers},
		{"what follows on danger", "sheets/danger.yaml", "steps:\n  what: {ask: [system_v]}\n", lowers},
		{"where not knowing leads on danger", "sheets/danger.yaml", "steps:\n  now: {unknown: hot-part}\n", lowers},
		{"needs that take the place of others by a trick", joints, "steps:\n  holder: {needs: \"load_a > 1) or (load_a < 1\"}\n", "formula-syntax"},
		{"a finding of another sheet", joints, "findings:\n  fire: {cause: Nothing much.}\n", "defined-twice"},
		{"a file with another ending", "cautions.yml", "cautions:\n  gloves: {say: Wear gloves.}\n", "stray-file"},
		{"a file with a slip", "caution.yaml", "cautions:\n  gloves: {say: Wear gloves.}\n", "stray-file"},
		{"a slip in an id", joints, "findings:\n  worn-holdr: {cautions: [no-rings]}\n", "missing-field"},
		{"a new value without a formula", "values.yaml", "values:\n  spare: {unit: ohm, label: x}\n", "missing-field"},
		{"a new symptom without a start", "symptoms.yaml", "symptoms:\n  dead: {label: x, says: [dead]}\n", "missing-field"},
		{"a new step without branches", joints, "steps:\n  more: {ask: [load_a]}\n", "missing-field"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := over(c.file, c.text)
			if c.code == "stray-file" {
				m["cautions.yaml"] = over("cautions.yaml", "cautions:\n  no-rings: {say: None.}\n")["cautions.yaml"]
			}
			_, problems := load(base(t), m)
			if got := codes(problems); !slices.Contains(got, c.code) {
				t.Errorf("got %v, want %s:\n%s", got, c.code, shown(problems))
			}
			for _, p := range problems {
				if !strings.HasPrefix(p.At.File, "fleet/") {
					t.Errorf("blamed on the layer below: %s", p)
				}
			}
		})
	}
}

// A last branch into stop-work is what is done when nothing is known.
func TestOverlayKeepsTheLastBranchIntoStopWork(t *testing.T) {
	m := base(t)
	change(t, m, joints, "      - {go: lugs}\n    unknown: lugs", "      - {go: fire}\n    unknown: lugs")
	change(t, m, joints, "{if: holder_drop_v > 0.1, go: worn-holder}", "{if: holder_drop_v > 0.1, go: lugs}")
	then := "steps:\n  holder: {then: [{if: holder_drop_v > 0.2, go: lugs}, {go: %s}]}\n"
	if _, problems := load(m, over(joints, fmt.Sprintf(then, "lugs"))); !slices.Contains(codes(problems), "lowers-safety") {
		t.Errorf("the overlay has another last branch, and the problems are %v", codes(problems))
	}
	g := good(t, m, over(joints, fmt.Sprintf(then, "fire")))
	if got := fmt.Sprint(g.Steps["joints/holder"].Then); strings.Count(got, "fire") != 1 {
		t.Errorf("the overlay keeps the last branch, and the branches are %v", got)
	}
}

// ways is the small knowledge with a step on the way to stop-work: lugs leads to
// burnt when the drop is large, and burnt leads to fire.
func ways(t *testing.T) fstest.MapFS {
	m := base(t)
	change(t, m, joints, "      - {if: joint_drop_v > 0.05, go: loose-lug}", "      - {if: joint_drop_v > 0.07, go: burnt}\n      - {if: joint_drop_v > 0.05, go: loose-lug}")
	change(t, m, joints, "findings:\n", "  burnt: {ask: [holder_hot], then: [{if: holder_hot, go: fire}, {go: loose-lug}], unknown: hotter}\n  hotter: {ask: [load_a], then: [{if: load_a > 3, go: fire}, {go: loose-lug}]}\nfindings:\n")
	return m
}

// What leads to stop-work over steps stays as well, whichever way an overlay tries
// to lead past it.
func TestOverlayKeepsTheWaysToStopWork(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"a branch left out", "steps:\n  lugs: {then: [{if: joint_drop_v > 0.2, go: loose-lug}, {go: all-sound}]}\n", "burnt loose-lug all-sound"},
		{"a branch with another limit", "steps:\n  lugs: {then: [{if: joint_drop_v > 9, go: burnt}, {go: all-sound}]}\n", "burnt burnt all-sound"},
		{"a branch behind another", "steps:\n  lugs: {then: [{if: joint_drop_v >= 0, go: loose-lug}, {if: joint_drop_v > 0.07, go: burnt}, {go: all-sound}]}\n", "burnt loose-lug all-sound"},
		{"stop-work of its own goes first", "steps:\n  lugs: {then: [{if: joint_drop_v > 0.1, go: hot-part}, {go: all-sound}]}\n", "hot-part burnt all-sound"},
		{"a way round by a step of its own", "steps:\n  lugs: {then: [{go: mine}]}\n  mine: {ask: [load_a], then: [{go: all-sound}]}\n", "burnt mine"},
		{"where not knowing leads", "steps:\n  burnt: {unknown: loose-lug}\n", "lowers-safety"},
		{"where not knowing leads, by a step that leads there too", "steps:\n  burnt: {unknown: mine}\n  mine: {ask: [load_a], then: [{if: load_a > 5, go: hotter}, {go: loose-lug}]}\n", "burnt loose-lug all-sound"},
		{"what is done when a proof fails", "findings:\n  worn-holder: {if_not: all-sound}\n", "lowers-safety"},
		{"a step before the last branch of all", "steps:\n  last: {then: [{go: all-sound}]}\n", "lowers-safety"},
		{"the same by a step that leads there", "steps:\n  last: {then: [{go: mine}]}\n  mine: {ask: [load_a], then: [{if: load_a > 5, go: lugs}, {go: all-sound}]}\n", "burnt loose-lug all-sound"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := ways(t)
			change(t, m, joints, "  lugs:\n", "  last: {ask: [load_a], then: [{if: load_a > 8, go: worn-holder}, {go: lugs}]}\n  lugs:\n")
			g, problems := load(m, over(joints, c.text))
			var got []string
			if !graph.Sound(problems) {
				got = codes(problems)
			} else {
				for _, b := range g.Steps["joints/lugs"].Then {
					got = append(got, strings.TrimPrefix(b.To.String(), "joints/"))
				}
			}
			if s := strings.Join(got, " "); s != c.want {
				t.Errorf("got %s, want %s\n%s", s, c.want, shown(problems))
			}
		})
	}
}

func TestLayersOverOneAnother(t *testing.T) {
	g := good(t, base(t),
		over(joints, "steps:\n  holder: {needs: load_a > 2}\nfindings:\n  worn-holder: {cautions: [no-rings], unsafe: 3}\n"),
		over(joints, "steps:\n  holder: {needs: load_a > 0}\nfindings:\n  worn-holder: {cause: Worn out., unsafe: 1}\n"))
	f := g.Findings["worn-holder"]
	if got, want := g.Steps["joints/holder"].Needs.Text, "(load_a > 1) and (load_a > 2) and (load_a > 0)"; got != want {
		t.Errorf("needs: got %s, want %s", got, want)
	}
	if got, want := fmt.Sprint(f.Cause, f.Unsafe, f.Cautions), "Worn out.3 [isolate-first burn-danger no-rings]"; got != want {
		t.Errorf("the finding: got %s, want %s", got, want)
	}
}

func TestEmptyOverlayIsAMistake(t *testing.T) {
	_, problems := load(base(t), fstest.MapFS{})
	if got := codes(problems); !slices.Equal(got, []string{"no-knowledge"}) {
		t.Errorf("got %v, want no-knowledge", got)
	}
}

func TestUnreadableFile(t *testing.T) {
	m := base(t)
	delete(m, "values.yaml")
	m["values.yaml/x"] = &fstest.MapFile{} // a folder of that name
	_, problems := load(m)
	if got := codes(problems); !slices.Equal(got, []string{"unreadable-file"}) {
		t.Errorf("got %v, want unreadable-file", got)
	}
}
