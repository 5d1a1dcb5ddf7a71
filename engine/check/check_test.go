package check_test

import (
	"flag"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"hotlug/engine/check"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/shape"
	"hotlug/kb"
)

var update = flag.Bool("update", false, "write the golden file anew")

// small is a small whole knowledge with one of everything that is looked at.
const small = "testdata/base"

// commands are words that the chat would take for itself.
var commands = []string{"quit", "why", "back"}

// copied is the small knowledge, free to change.
func copied(t testing.TB) fstest.MapFS {
	t.Helper()
	m := fstest.MapFS{}
	dir := os.DirFS(small)
	err := fs.WalkDir(dir, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(dir, path)
		m[path] = &fstest.MapFile{Data: b}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// change puts a piece of a file in the place of one that stands there once.
func change(t testing.TB, m fstest.MapFS, file, from, to string) {
	t.Helper()
	if n := strings.Count(string(m[file].Data), from); n != 1 {
		t.Fatalf("%q stands %d times in %s, want once", from, n, file)
	}
	m[file] = &fstest.MapFile{Data: []byte(strings.Replace(string(m[file].Data), from, to, 1))}
}

// loaded is the small knowledge with a piece of a file changed, which must load
// without a problem.
func loaded(t testing.TB, file, from, to string) *graph.Graph {
	t.Helper()
	m := copied(t)
	change(t, m, file, from, to)
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: m})
	if len(problems) > 0 {
		t.Fatalf("it does not load:\n%s", shown(problems))
	}
	return g
}

// checked is what is found in the small knowledge with a piece of a file changed:
// by the loader if it does not load, else by the checks.
func checked(t *testing.T, file, from, to string) []shape.Problem {
	t.Helper()
	m := copied(t)
	change(t, m, file, from, to)
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: m})
	if len(problems) > 0 {
		return check.Holes(g, problems)
	}
	return check.Graph(g, commands)
}

// codesIn lists the codes that the package's source gives.
func codesIn(t *testing.T) []string {
	t.Helper()
	files, err := fs.Glob(os.DirFS("."), "*.go")
	if err != nil {
		t.Fatal(err)
	}
	code := regexp.MustCompile(`c\.(?:bad|warn|badCond|warnCond)\("([a-z-]+)"|Code: "([a-z-]+)"`)
	var out []string
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range code.FindAllStringSubmatch(string(src), -1) {
			out = append(out, m[1]+m[2])
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func shown(problems []shape.Problem) string {
	var b strings.Builder
	for _, p := range problems {
		b.WriteString(shape.Render(p) + "\n")
	}
	return b.String()
}

const (
	joints = "sheets/joints.yaml"
	danger = "sheets/danger.yaml"
)

// mistakes are the smallest bad examples, one of each problem, each beside a good
// neighbour.
var mistakes = []struct{ code, file, from, bad, good string }{
	{"never-reached, a step", joints, "steps:\n", "steps:\n  more: {then: [{go: loose-lug}]}\n", "steps:\n  # nothing\n"},
	{"never-reached, a finding", solar, "if: pv_v < 5, go: panels-open", "if: pv_v < 5, go: battery-flat", "if: pv_v < 6, go: panels-open"},
	{"not-asked, in a branch", joints, "ask: [holder_hot, load_a, holder_drop_v]", "ask: [holder_hot, load_a]", "ask: [holder_drop_v, load_a, holder_hot]"},
	{"not-asked, through a worked value", joints, "until: joint_drop_v > 0.05", "until: holder_heat_w > 5", "until: joint_drop_v > 0.05 or fuse_rating_a > 300"},
	{"not-asked, in until", joints, "until: joint_drop_v > 0.05", "until: load_a > 5", "until: fuse_rating_a > 5"},
	{"asks-nothing", danger, "findings:\n", "  more: {then: [{if: system_v > 20, go: fire}, {go: hot-part}]}\nfindings:\n", "findings:\n"},
	{"unfinished-finding, no source", joints, "    lesson: Look elsewhere.\n    sources: [practice]\n", "    lesson: Look elsewhere.\n", "    lesson: Look elsewhere.\n    sources: [practice]\n"},
	{"unfinished-finding, nobody to hand over to", danger, "    hand_to: Fire service\n", "", "    hand_to: Somebody\n"},
	{"unfinished-finding, not how often", joints, "    often: occasional\n", "", "    often: rare\n"},
	{"unfinished-finding, no evidence", joints, "    because: It is printed on it.\n", "", "    because: It is so.\n"},
	{"unfinished-finding, no lesson", joints, "    lesson: Look elsewhere.\n", "", "    lesson: Look there.\n"},
	{"unfinished-finding, no proof", joints, "    prove: {ask: [fuse_rating_a], if: fuse_rating_a < 300}\n", "", "    prove: {ask: [fuse_rating_a], if: fuse_rating_a < 200}\n"},
	{"unfinished-finding, no fix", joints, "    fix: [{say: Fit a smaller one., who: helper}]\n", "", "    no_fault: true\n"},
	{"unfinished-finding, no caution", joints, "    unsafe: 1\n    cautions: [no-rings]\n", "    unsafe: 1\n", "    unsafe: 0\n"},
	{"no-other-words, of the evidence", joints, "    because_or: A lug loses volts.\n", "", "    because_or: It loses volts.\n"},
	{"no-other-words, of a fix", joints, "fuse.\", or: Fit a bolted holder.,", "fuse.\",", "fuse.\", or: Fit another.,"},
	{"no-other-words, where work stops", danger, "because: You said that there is smoke.", "because: \"{danger_what}\"", "because: \"{place} smokes.\""},
	{"says-without-stop", joints, "    lesson: Look elsewhere.\n", "    lesson: Look elsewhere.\n    says: [all is well]\n", "    lesson: Look elsewhere.\n"},
	{"proof-of-stop", danger, "    hand_to: Fire service\n", "    hand_to: Fire service\n    prove: {ask: [holder_hot], if: not holder_hot}\n", "    hand_to: Fire service\n"},
	{"no-how", "readings.yaml", "how: [Clamp one wire.], ", "", "how: [Clamp it.], "},
	{"hazard-without-caution", "readings.yaml", "hazard: hot-metal, cautions: [burn-danger]}", "hazard: hot-metal}", "cautions: [burn-danger]}"},
	{"hazard-without-caution, of an action", "states.yaml", "cautions: [no-rings], touches", "hazard: gas, touches", "hazard: gas, cautions: [no-rings], touches"},
	{"hazard-without-caution, of a state", "states.yaml", "hazard: live-dc, cautions: [isolate-first]}", "hazard: live-dc}", "cautions: [isolate-first]}"},
	{"choice-is-command", "readings.yaml", "says: [fire]", "says: [fire, Quit]", "says: [fire, quite a fire]"},
	{"word-of-two-answers", "readings.yaml", "hot: {label: a part is hot}", "hot: {label: a part is hot, says: [Fire]}", "hot: {label: a part is hot, says: [hot, heat]}"},
	{"states-exclude", "readings.yaml", "    state: [loads-on]\n", "    state: [loads-on, isolated]\n", "    state: [isolated]\n"},
	{"unused, a reading", "readings.yaml", "  joint_drop_v:", "  spare_v: {like: holder_drop_v}\n  joint_drop_v:", "  joint_drop_v:"},
	{"unused, a worked value", joints, "working: [holder_r, holder_heat_w]", "working: [holder_r]", "working: holder_heat_w"},
	{"unused, a caution", "cautions.yaml", "cautions:\n", "cautions:\n  gloves: {say: Wear gloves.}\n", "cautions:\n  # none\n"},
	{"unused, a source", "sources.yaml", "sources:\n", "sources:\n  book: {say: A book}\n", "sources:\n  # none\n"},
	{"unused, an action", "states.yaml", "actions:\n", "actions:\n  wait: {say: Wait.}\n", "actions:\n  # none\n"},
}

const golden = "testdata/problems.txt"

func TestProblemsAreShown(t *testing.T) {
	raw, err := os.ReadFile(golden)
	if err != nil && !*update {
		t.Fatal(err)
	}
	want := map[string]string{}
	for _, c := range strings.Split(string(raw), "=== ")[1:] {
		name, text, _ := strings.Cut(c, "\n")
		want[name] = text
	}
	var out strings.Builder
	for _, c := range append(mistakes, found...) {
		code, _, _ := strings.Cut(c.code, ",")
		has := func(p shape.Problem) bool { return p.Code == code }
		t.Run(c.code, func(t *testing.T) {
			problems := checked(t, c.file, c.from, c.bad)
			if !slices.ContainsFunc(problems, has) {
				t.Fatalf("no problem %s:\n%s", code, shown(problems))
			}
			got := shown(problems)
			out.WriteString("=== " + c.code + "\n" + got)
			if !*update && got != want[c.code] {
				t.Errorf("shown:\n%s\nwant:\n%s", got, want[c.code])
			}
		})
		t.Run(c.code+", the good neighbour", func(t *testing.T) {
			if problems := checked(t, c.file, c.from, c.good); len(problems) > 0 {
				t.Errorf("want no problem, got\n%s", shown(problems))
			}
		})
	}
	if *update {
		if err := os.WriteFile(golden, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// What nothing uses is a warning: the knowledge works without its being mended.
func TestUnusedIsAWarning(t *testing.T) {
	problems := checked(t, "cautions.yaml", "cautions:\n", "cautions:\n  gloves: {say: Wear gloves.}\n")
	if len(problems) != 1 || problems[0].Severity != shape.Warning {
		t.Errorf("want one warning, got\n%s", shown(problems))
	}
}

func TestBuiltInKnowledgeIsSound(t *testing.T) {
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	if graph.Sound(problems) {
		problems = append(problems, check.Graph(g, commands)...)
	}
	if len(problems) > 0 {
		t.Errorf("%d problems:\n%s", len(problems), shown(problems))
	}
}
