package check_test

import (
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"hotlug/engine/check"
	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
	"hotlug/kb"
)

// mutantsPerClass bounds how many mutants of each class are tried: a few on every
// run, all with -mutants 0, with a summary by class under -v.
var mutantsPerClass = flag.Int("mutants", 2, "mutants tried of each class; 0 for all")

// A mutant is the shipped knowledge with one thing wrong.
type mutant struct {
	class string
	where string // file:line
	what  string
	files map[string]string // changed files
}

// maker finds mutants in the shipped knowledge.
type maker struct {
	g     *graph.Graph
	files map[string]string
	out   []mutant
}

// add is a mutant in which a piece of a file, from one offset to another, is put
// anew.
func (m *maker) add(class, file string, from, to int, put string) {
	src := m.files[file]
	line := strings.Count(src[:from], "\n") + 1
	cut := strings.TrimSpace(src[from:to])
	if i := strings.IndexByte(cut, '\n'); i > 0 {
		cut = cut[:i] + " ..."
	}
	m.out = append(m.out, mutant{class, fmt.Sprintf("%s:%d", file, line), fmt.Sprintf("%q becomes %q", cut, strings.TrimSpace(put)),
		map[string]string{file: src[:from] + put + src[to:]}})
}

// each makes a mutant of every match of a pattern in the files that fit; put
// gives what the pattern's first group becomes, and false to leave it.
func (m *maker) each(class, files, pattern string, put func(file, src string, at []int) (string, bool)) {
	re := regexp.MustCompile(pattern)
	for _, file := range slices.Sorted(maps.Keys(m.files)) {
		if !regexp.MustCompile(files).MatchString(file) {
			continue
		}
		src := m.files[file]
		for _, at := range re.FindAllStringSubmatchIndex(src, -1) {
			if at[2] < 0 {
				continue
			}
			if to, ok := put(file, src, at); ok {
				m.add(class, file, at[2], at[3], to)
			}
		}
	}
}

func gone(string, string, []int) (string, bool) { return "", true }

// misspelt swaps two letters in the middle of a word.
func misspelt(_, src string, at []int) (string, bool) {
	w := src[at[2]:at[3]]
	for i := len(w) / 2; i+1 < len(w); i++ {
		if w[i] != w[i+1] && isLetter(w[i]) && isLetter(w[i+1]) {
			return w[:i] + string(w[i+1]) + string(w[i]) + w[i+2:], true
		}
	}
	return "", false
}

func isLetter(b byte) bool { return 'a' <= b && b <= 'z' }

// step is the step that an offset of a sheet lies in.
func (m *maker) step(file, src string, at int) *graph.Step {
	all := regexp.MustCompile(`(?m)^  ([a-z0-9-]+):`).FindAllStringSubmatchIndex(src[:at+1], -1)
	if len(all) == 0 {
		return nil
	}
	last := all[len(all)-1]
	return m.g.Steps[strings.TrimSuffix(strings.TrimPrefix(file, "sheets/"), ".yaml")+"/"+src[last[2]:last[3]]]
}

const sheetsOnly = `^sheets/`

// mutants are all mutants of the classes that the checks claim to find.
func mutants(t testing.TB) []mutant {
	m := &maker{g: shipped(t), files: map[string]string{}}
	err := fs.WalkDir(kb.Files, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(file, "rigs/") {
			return err
		}
		b, err := fs.ReadFile(kb.Files, file)
		m.files[file] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	m.names()
	m.shapes()
	m.steps()
	m.limits()
	m.dangers()
	m.findings()
	return m.out
}

// names are words spelt wrongly.
func (m *maker) names() {
	m.each("target misspelt", sheetsOnly, `(?m)\bgo: ([a-z][a-z/-]+)`, misspelt)
	m.each("target of unknown misspelt", sheetsOnly, `(?m)^    unknown: ([a-z][a-z/-]+)`, misspelt)
	m.each("reading misspelt in ask", sheetsOnly, `(?m)^    ask: \[([a-z_]+)`, misspelt)
	m.each("reading misspelt in a condition", sheetsOnly, `\bif: "?([a-z]+_[a-z_]+) [<>=!]`, misspelt)
	m.each("reading misspelt in a text", sheetsOnly, `\{([a-z]+_[a-z_]+)\}`, misspelt)
	m.each("function misspelt", `values|sheets`, `\b(?:is|if): "?([a-z]+_[a-z_]+)\(`, misspelt)
	m.each("choice misspelt", sheetsOnly, `== '([a-z-]+)'`, misspelt)
	m.each("caution misspelt", `.`, `(?m)^    cautions: \[([a-z0-9-]+)`, misspelt)
	m.each("source misspelt", sheetsOnly, `(?m)^    sources: \[([a-z0-9-]+)`, misspelt)
	m.each("state misspelt", `readings`, `(?m)^    state: \[([a-z-]+)`, misspelt)
	m.each("point misspelt", `readings`, `(?m)^    from: ([a-z-]+)`, misspelt)
	m.each("action misspelt", sheetsOnly, `\bdo: ([a-z-]+)`, misspelt)
	m.each("field misspelt", `readings|sheets`, `(?m)^    (plausible|because|lesson|unknown|minutes):`, misspelt)
}

// shapes are slips in the writing.
func (m *maker) shapes() {
	m.each("unit of a worked value changed", `values|sheets`, `\bunit: (V|A|W|ohm|mm2|degC),`, func(_, src string, at []int) (string, bool) {
		return map[string]string{"V": "A", "A": "V", "W": "V", "ohm": "V", "mm2": "m", "degC": "K"}[src[at[2]:at[3]]], true
	})
	m.each("kind of a reading changed", `readings`, `(?m)^    kind: (volts|amps|ohms|celsius|percent)$`, func(_, src string, at []int) (string, bool) {
		return map[string]string{"volts": "amps", "amps": "ohms", "ohms": "volts", "celsius": "watts", "percent": "farads"}[src[at[2]:at[3]]], true
	})
	m.each("worked value made of itself", `values|sheets`, `(?m)^  [a-z][a-z_0-9]+: \{is: ("?)`, func(_, src string, at []int) (string, bool) {
		name := regexp.MustCompile(`[a-z][a-z_0-9]+`).FindString(src[at[0]:at[1]])
		return src[at[2]:at[3]] + name + " + ", true
	})
	m.each("not written as a sign", sheetsOnly, `\bif: (not )[a-z]`, func(string, string, []int) (string, bool) { return "!", true })
	m.each("an id twice", sheetsOnly, `(?m)^(  [a-z][a-z-]+:)\n    (?:cause|ask):`, func(_, src string, at []int) (string, bool) {
		return src[at[2]:at[3]] + " {cause: It is here twice.}\n" + src[at[2]:at[3]], true
	})
	m.each("a question without its mark", `readings`, `(?m)^    ask: [^\n"]+(\?)$`, func(string, string, []int) (string, bool) { return ".", true })
	m.each("a text that shouts", sheetsOnly, `(?m)^    lesson: [A-Z][^":#]+(\.)$`, func(string, string, []int) (string, bool) { return "!", true })
}

// steps are ways of a step that lead wrong.
func (m *maker) steps() {
	m.each("last branch left out", sheetsOnly, `(?m)(^      - \{go: [a-z/-]+\}(?:  #[^\n]*)?\n)`, gone)
	m.each("steps in a circle", sheetsOnly, `(?m)^      - \{go: ([a-z/-]+)\}`, func(file, src string, at []int) (string, bool) {
		s := m.step(file, src, at[0])
		return strings.TrimPrefix(s.ID, s.Sheet+"/"), s.Each == "" && m.g.Findings[strings.TrimPrefix(s.ID, s.Sheet+"/")] == nil
	})
	m.each("branch into stop-work put behind another", sheetsOnly, `(?m)((?:^      - \{if: [^\n]+\}(?:  #[^\n]*)?\n){2})`, func(_, src string, at []int) (string, bool) {
		lines := strings.SplitAfter(src[at[2]:at[3]], "\n")
		stops := func(l string) bool {
			to := regexp.MustCompile(`go: ([a-z/-]+)`).FindStringSubmatch(l)
			f := m.g.Findings[to[1]]
			return f != nil && f.Stop != graph.NoStop
		}
		return lines[1] + lines[0], stops(lines[0]) && !stops(lines[1])
	})
	m.each("same condition once more below", sheetsOnly, `(?m)(^      - \{if: [^\n]+\n)      - \{go: ([a-z/-]+)\}`, func(_, src string, at []int) (string, bool) {
		line, last := src[at[2]:at[3]], src[at[4]:at[5]]
		return line + regexp.MustCompile(`go: [a-z/-]+`).ReplaceAllString(line, "go: "+last), true
	})
	m.each("question left out of ask", sheetsOnly, `(?m)^    ask: \[([a-z0-9_, ]+)\]`, func(file, src string, at []int) (string, bool) {
		s := m.step(file, src, at[0])
		if s == nil {
			return "", false
		}
		used := map[string]bool{}
		for _, b := range s.Then {
			if b.If != nil {
				for _, r := range b.If.F.Refs() {
					used[r.Name] = r.Form.String() == "" || used[r.Name]
				}
			}
		}
		asks := strings.Split(src[at[2]:at[3]], ", ")
		for i, a := range slices.Backward(asks) {
			if r := m.g.Readings[a]; r != nil && used[a] && r.Class != reading.Fact && len(asks) > 1 {
				return strings.Join(slices.Delete(slices.Clone(asks), i, i+1), ", "), true
			}
		}
		return "", false
	})
	m.each("step that nothing leads to", sheetsOnly, `(?m)^steps:\n(\n)`, func(string, string, []int) (string, bool) {
		return "\n  left-over:\n    ask: [sun_now]\n    then:\n      - {if: sun_now == 'none', go: not-enough-light}\n      - {go: battery-full-normal}\n\n", true
	})
}

// limits are conditions that are the same whatever is read.
func (m *maker) limits() {
	beyond := func(_, src string, at []int) (string, bool) {
		f := strings.Fields(src[at[2]:at[3]])
		r := m.g.Readings[f[0]]
		if r == nil || r.Answer != reading.Number || !r.Possible.Set {
			return "", false
		}
		hi := r.Possible.Hi
		if r.Scales {
			hi *= 4
		}
		return fmt.Sprintf("%s %s %g", f[0], f[1], 2*max(hi, 1)), true
	}
	m.each("limit beyond what is possible", sheetsOnly, `\b(?:if|until): ([a-z_0-9]+ [<>]=? [0-9.]+)[,}\n]`, beyond)
	m.each("condition turned round against the range", sheetsOnly, `\b(?:if|until): ([a-z_0-9]+ [<>]=? [0-9.]+)[,}\n]`, func(file, src string, at []int) (string, bool) {
		f := strings.Fields(src[at[2]:at[3]])
		r := m.g.Readings[f[0]]
		if r == nil || r.Answer != reading.Number || !r.Possible.Set {
			return "", false
		}
		return fmt.Sprintf("%s < %g", f[0], min(r.Possible.Lo, 4*r.Possible.Lo)), true
	})
	m.each("two limits that exclude each other", sheetsOnly, `\b(?:if): ([a-z_0-9]+ [<>]=? [0-9.]+)[,}\n]`, func(file, src string, at []int) (string, bool) {
		f := strings.Fields(src[at[2]:at[3]])
		if r := m.g.Readings[f[0]]; r == nil || r.Answer != reading.Number {
			return "", false
		}
		turn := map[string]string{">": "<=", "<": ">=", ">=": "<", "<=": ">"}
		return strings.Join(f, " ") + " and " + f[0] + " " + turn[f[1]] + " " + f[2], true
	})
	m.each("limit not scaled with the system", sheetsOnly, `\b(?:if): [a-z_0-9]+ [<>]=? [0-9.]+( \* system_v / 12),`, func(_, src string, at []int) (string, bool) {
		f := strings.Fields(strings.TrimPrefix(src[at[0]:at[1]], "if: "))
		var cut float64
		_, err := fmt.Sscan(f[2], &cut)
		r := m.g.Readings[f[0]]
		return "", err == nil && cut >= 1.5 && r != nil && r.Scales
	})
}

// dangers are what holds people back from harm, taken away.
func (m *maker) dangers() {
	m.each("cautions of a hazard left out", `readings`, `(?m)^    hazard: [a-z-]+\n(    cautions: \[[^\n]+\n)`, gone)
	m.each("cautions of an action's hazard left out", `states`, `(?m)^    hazard: [a-z-]+\n(    cautions: \[[^\n]+\n)`, gone)
	m.each("gate before the solar side left out", sheetsOnly, `(?m)(^    needs: pv_cold_v <= 60\n)`, gone)
	m.each("gate before the solar side too high", sheetsOnly, `(?m)^    needs: pv_cold_v <= (60)\n`, func(string, string, []int) (string, bool) { return "75", true })
	m.each("gate before the solar side turned round", sheetsOnly, `(?m)^    needs: pv_cold_v (<=) 60\n`, func(string, string, []int) (string, bool) { return ">", true })
	m.each("caution of the solar side left out", `readings`, `(?m)^    hazard: pv-volts\n    cautions: \[(pv-60-limit, )`, gone)
	for _, k := range []struct{ what, hazard, caution string }{
		{"burns", "hot-metal", "burn-danger"}, {"gas", "gas", "gas-and-spark"}, {"tools at the posts", "tools-at-posts", "no-rings"}, {"light on panels", "pv-volts", "pv-live-in-light"},
	} {
		one := func(_, src string, at []int) (string, bool) {
			list := strings.Split(src[at[2]:at[3]], ", ")
			i := slices.Index(list, k.caution)
			return strings.Join(slices.Delete(list, i, i+1), ", "), len(list) > 1
		}
		m.each("one of several cautions left out: "+k.what, `readings`, `(?m)^    hazard: `+k.hazard+`\n    cautions: \[([a-z0-9, -]*\b`+k.caution+`\b[a-z0-9, -]*)\]`, one)
		m.each("one of an action's cautions left out: "+k.what, `states`, `(?m)^    hazard: `+k.hazard+`\n    cautions: \[([a-z0-9, -]*\b`+k.caution+`\b[a-z0-9, -]*)\]`, one)
	}
	m.each("needs before a part is read under load left out", `joints|path`, `(?m)(^    needs: not browned\n)    (?:each|do|ask)`, gone)
	m.each("needs before a part is read under load turned round", `joints|path`, `(?m)^    needs: (not )browned\n    (?:each|ask)`, gone)
	m.each("danger question before a load left out", sheetsOnly, `(?m)(^    danger: true\n)    needs: [^\n]+\n    do: load`, gone)
	m.each("needs before a load left out", sheetsOnly, `(?m)^    danger: true\n(    needs: [^\n]+\n)    do: load`, gone)
	m.each("solar screw probed by a step without gate", sheetsOnly, `(?m)^    ask: \[([a-z_0-9]+)\]`, func(file, src string, at []int) (string, bool) {
		s := m.step(file, src, at[0])
		return src[at[2]:at[3]] + ", pv_open_v", s != nil && s.Sheet != "array"
	})
}

// findings are findings that are not finished.
func (m *maker) findings() {
	for _, field := range []string{"sources", "lesson", "often", "hand_to"} {
		m.each(field+" of a finding left out", sheetsOnly, `(?m)(^    `+field+`: [^\n]+\n)`, gone)
	}
	m.each("proof of a finding left out", sheetsOnly, `(?m)(^    prove: \{[^\n]+\n)`, gone)
	m.each("other words left out", sheetsOnly, `(?m)^    because: "[^\n]*\{[^\n]+\n(    because_or: [^\n]+\n)`, func(_, src string, at []int) (string, bool) {
		return "", m.reached(src, at[0]) // what is only recorded when certain has all its values
	})
	m.each("fix of a finding left out", sheetsOnly, `(?m)(^    fix:\n(?:      - [^\n]+\n)+)`, func(file, src string, at []int) (string, bool) {
		all := regexp.MustCompile(`(?m)^  ([a-z0-9-]+):\n    cause`).FindAllStringSubmatch(src[:at[0]], -1)
		f := m.g.Findings[all[len(all)-1][1]]
		return "", f != nil && !f.NoFault && f.Stop == graph.NoStop
	})
	m.each("proof that always holds", sheetsOnly, `\bprove: \{ask: \[[^\]]+\], if: ([a-z_0-9]+ [<>]=? [0-9.]+),`, func(_, src string, at []int) (string, bool) {
		f := strings.Fields(src[at[2]:at[3]])
		r := m.g.Readings[f[0]]
		if r == nil || !r.Possible.Set {
			return "", false
		}
		return fmt.Sprintf("%s >= %g", f[0], min(r.Possible.Lo, 4*r.Possible.Lo)), true
	})
	m.each("cause left out", sheetsOnly, `(?m)(^    cause: [^\n]+\n)`, gone)
}

// reached says that a branch leads to the finding that an offset lies in.
func (m *maker) reached(src string, at int) bool {
	all := regexp.MustCompile(`(?m)^  ([a-z0-9-]+):\n    cause`).FindAllStringSubmatch(src[:at], -1)
	for _, s := range m.g.Steps {
		for _, t := range s.Targets() {
			if t.Finding == all[len(all)-1][1] {
				return true
			}
		}
	}
	return false
}

// killed says by which codes a mutant is found; none if it is not.
func killed(t testing.TB, x mutant, base map[string]string) []string {
	m := fstest.MapFS{}
	for name, src := range base {
		m[name] = &fstest.MapFile{Data: []byte(src)}
	}
	for name, src := range x.files {
		m[name] = &fstest.MapFile{Data: []byte(src)}
	}
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: m})
	if !shape.HasErrors(problems) {
		problems = append(problems, check.Graph(g, commands)...)
	}
	var codes []string
	for _, p := range problems {
		if !slices.Contains(codes, p.Code) {
			codes = append(codes, p.Code)
		}
	}
	return codes
}

// TestMutants: whatever of the claimed classes goes wrong in the knowledge is
// found before anybody walks it.
func TestMutants(t *testing.T) {
	base := map[string]string{}
	byClass := map[string][]mutant{}
	for _, x := range mutants(t) {
		byClass[x.class] = append(byClass[x.class], x)
	}
	err := fs.WalkDir(kb.Files, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(file, "rigs/") {
			return err
		}
		b, err := fs.ReadFile(kb.Files, file)
		base[file] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	all, tried, found := 0, 0, 0
	summary := map[string]string{}
	t.Run("all", func(t *testing.T) {
		for class, list := range byClass {
			all += len(list)
			some := list
			if n := *mutantsPerClass; n > 0 && len(list) > n { // spread over the files
				some = nil
				for i := range n {
					some = append(some, list[i*len(list)/n])
				}
			}
			t.Run(class, func(t *testing.T) {
				t.Parallel()
				hits, codes := 0, map[string]int{}
				for _, x := range some {
					by := killed(t, x, base)
					if len(by) == 0 {
						t.Errorf("%s: not found: %s", x.where, x.what)
						continue
					}
					hits++
					codes[by[0]]++
				}
				mu.Lock()
				defer mu.Unlock()
				tried, found = tried+len(some), found+hits
				summary[class] = fmt.Sprintf("%4d of %4d found, of %4d   %s", hits, len(some), len(list), byCount(codes))
			})
		}
	})
	for _, class := range slices.Sorted(maps.Keys(summary)) {
		t.Logf("%-46s %s", class, summary[class])
	}
	t.Logf("%d of %d found, of %d in all, in %d classes", found, tried, all, len(summary))
	if all < 300 {
		t.Errorf("there are %d mutants, want 300 at least", all)
	}
}

// byCount lists codes, the commonest first.
func byCount(codes map[string]int) string {
	var out []string
	for _, c := range slices.SortedFunc(maps.Keys(codes), func(a, b string) int { return codes[b]*1000 - codes[a]*1000 + strings.Compare(a, b) }) {
		out = append(out, fmt.Sprintf("%s %d", c, codes[c]))
	}
	return strings.Join(out, ", ")
}
