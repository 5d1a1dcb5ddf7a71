package transcripts_test

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/engine/walk"
	"hotlug/kb"
)

func builtIn(t *testing.T) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: "kb", FS: kb.Files})
	for _, p := range problems {
		t.Error(p)
	}
	if !graph.Sound(problems) {
		t.FailNow()
	}
	return g
}

// TestCases walks every case, with the proof that holds and with the one that
// fails, and holds the walk against what the case expects.
func TestCases(t *testing.T) {
	g := builtIn(t)
	for _, f := range caseFiles(t) {
		for _, c := range f.cases {
			t.Run(f.name+"/"+c.name, func(t *testing.T) {
				s := walkCase(t, g, c, false)
				c.check(t, g, s)
				if c.failing != nil {
					c.checkFailing(t, g, walkCase(t, g, c, true))
				}
			})
		}
	}
}

// walkCase replays a case. Answers that are never asked for are a mistake in it.
func walkCase(t *testing.T, g *graph.Graph, c fieldCase, fails bool) *walk.State {
	t.Helper()
	setup, a := c.input(t, g, fails)
	s, unused, err := replayCase(g, setup, a)
	if err != nil {
		t.Fatalf("%s: %v\n%s", c.at, err, pathOf(s.Trail(g)))
	}
	if len(unused) > 0 && c.cause == "" {
		t.Errorf("%s: never asked for: %v; the path was\n%s", c.at, unused, pathOf(s.Trail(g)))
	}
	return s
}

// replayCase is walk.Replay, but for a walk that a danger word in the complaint
// stops before the complaint is taken.
func replayCase(g *graph.Graph, setup walk.Setup, a walk.Answers) (*walk.State, []string, error) {
	if a.Words == "" || a.Answers[g.DangerReading].Choice == "no" {
		s, unused, err := walk.Replay(g, setup, a)
		if a.Words != "" { // the question was answered with the word
			unused = slices.DeleteFunc(unused, func(id string) bool { return id == g.DangerReading })
		}
		return s, unused, err
	}
	s := walk.Start(g, setup)
	for _, e := range a.Facts {
		var p walk.Prompt
		if s, p = walk.Step(g, s, e); p.Refused != "" {
			return s, nil, errors.New(p.Refused)
		}
	}
	return s, nil, nil
}

// pathOf is a trail as one line: steps, without their sheet where it is that of
// the step before, a question mark at those gone through on a guess, and findings
// behind an equals sign. The danger question is left out where it led on.
func pathOf(trail []walk.Visit) string {
	var out []string
	sheet := ""
	for _, v := range trail {
		if v.Took == "carry-on" {
			continue
		}
		in, name, _ := strings.Cut(v.Step, "/")
		if in != sheet {
			name, sheet = v.Step, in
		}
		if v.Assumed {
			name += "?"
		}
		out = append(out, name)
		if !strings.Contains(v.Took, "/") {
			out = append(out, "= "+v.Took)
		}
	}
	return strings.Join(out, " ")
}

func (c fieldCase) check(t *testing.T, g *graph.Graph, s *walk.State) {
	t.Helper()
	c.checkPath(t, g, s, c.path)
	if c.ends != "" && string(s.Outcome()) != c.ends {
		t.Errorf("%s: the walk ended %s, want %s", c.at, s.Outcome(), c.ends)
	}
	if c.cause != "" {
		how := causeHeld(g, s, c.cause)
		if how == "" {
			t.Errorf("%s: %s is neither found nor among the first three still possible: %v", c.at, c.cause, possibleIDs(g, s))
		}
		t.Logf("%s: %s", c.cause, how)
	}
	if c.finding == "" {
		return
	}
	told := findTold(s, c.finding)
	if told == nil {
		t.Errorf("%s: %s was not found; told were %v", c.at, c.finding, toldIDs(s))
		return
	}
	if want := c.wantStatus(g); told.Status != want {
		t.Errorf("%s: %s is %s, want %s", c.at, c.finding, told.Status, want)
	}
	for _, id := range c.also {
		if x := findTold(s, id); x == nil || !x.Second {
			t.Errorf("%s: %s was not told as a second fault", c.at, id)
		}
	}
	for _, text := range append([]string{told.Because, told.Proof}, fixTexts(told)...) {
		if strings.ContainsAny(text, "{}") || strings.Contains(text, "NaN") {
			t.Errorf("%s: %s says %q", c.at, c.finding, text)
		}
	}
	if told.Because == "" {
		t.Errorf("%s: %s gives no evidence", c.at, c.finding)
	}
	c.checkWorking(t, told)
}

// wantStatus is the status that the finding must end with.
func (c fieldCase) wantStatus(g *graph.Graph) walk.Status {
	switch f := g.Findings[c.finding]; {
	case c.status != "":
		return walk.Status(c.status)
	case f != nil && f.Stop != graph.NoStop:
		return walk.IsHandedOver
	case c.proof != nil:
		return walk.IsProven
	}
	return walk.IsLikely
}

func (c fieldCase) checkPath(t *testing.T, g *graph.Graph, s *walk.State, want string) {
	t.Helper()
	if want == "" {
		return
	}
	if got := pathOf(s.Trail(g)); got != strings.Join(strings.Fields(want), " ") {
		t.Errorf("%s: the path was\n\t%s\nwant\n\t%s", c.at, got, want)
	}
}

// checkWorking compares every number of the working with the one worked by hand,
// to four significant figures.
func (c fieldCase) checkWorking(t *testing.T, told *walk.Told) {
	t.Helper()
	if c.working == nil {
		return
	}
	seen := map[string]bool{}
	for _, w := range told.Working {
		seen[w.Name] = true
		hand := c.working[w.Name]
		switch {
		case hand == nil:
			t.Errorf("%s: %s was not worked by hand; it came to %s", c.at, w.Name, fourFigures(w.Value.Mid))
		case !w.Known:
			if hand.Text() != "not known" {
				t.Errorf("%s: %s is not known (%s), by hand %s", hand.Place(), w.Name, w.Result, hand.Text())
			}
		default:
			v, err := strconv.ParseFloat(hand.Text(), 64)
			if err != nil || fourFigures(v) != fourFigures(w.Value.Mid) {
				t.Errorf("%s: %s is %s %s, by hand %s", hand.Place(), w.Name, fourFigures(w.Value.Mid), w.Unit, hand.Text())
			}
		}
	}
	for id, n := range c.working {
		if !seen[id] {
			t.Errorf("%s: the working of %s has no %s", n.Place(), c.finding, id)
		}
	}
}

func fourFigures(v float64) string {
	return strconv.FormatFloat(v, 'e', 3, 64)
}

func (c fieldCase) checkFailing(t *testing.T, g *graph.Graph, s *walk.State) {
	t.Helper()
	f := c.failing
	c.checkPath(t, g, s, c.path+" "+f.path)
	told := findTold(s, c.finding)
	if told == nil || told.Status != walk.IsRefuted {
		t.Errorf("%s: with a proof that fails %s is not refuted; told were %v", c.at, c.finding, toldIDs(s))
	}
	if f.ends != "" && string(s.Outcome()) != f.ends {
		t.Errorf("%s: after the failed proof the walk ended %s, want %s", c.at, s.Outcome(), f.ends)
	}
	if f.then != "" {
		if x := findTold(s, f.then); x == nil || x.Status == walk.IsRefuted {
			t.Errorf("%s: after the failed proof %s was not found; told were %v", c.at, f.then, toldIDs(s))
		}
	}
}

func findTold(s *walk.State, id string) *walk.Told {
	for _, x := range s.Told() {
		if x.Finding.ID == id {
			return &x
		}
	}
	return nil
}

func toldIDs(s *walk.State) []string {
	var out []string
	for _, x := range s.Told() {
		out = append(out, fmt.Sprintf("%s (%s)", x.Finding.ID, x.Status))
	}
	return out
}

func possibleIDs(g *graph.Graph, s *walk.State) []string {
	var out []string
	for _, p := range s.Possible(g) {
		out = append(out, p.Finding.ID)
	}
	return out
}

func fixTexts(x *walk.Told) []string {
	var out []string
	for _, l := range x.Fix {
		out = append(out, l.Say)
	}
	return out
}

// causeHeld says how a walk holds a cause: by its status, or by its rank among
// what is still possible. "" is not at all, or not among the first three.
func causeHeld(g *graph.Graph, s *walk.State, cause string) string {
	if x := findTold(s, cause); x != nil && x.Status != walk.IsRefuted && x.Status != walk.IsPossible {
		return string(x.Status)
	}
	if i := slices.Index(possibleIDs(g, s), cause); i >= 0 && i < 3 {
		return fmt.Sprintf("still possible, number %d of %d", i+1, len(possibleIDs(g, s)))
	}
	return ""
}

// TestEveryFindingHasCases fails for each finding of the knowledge that no case
// ends in, and for each proof that is not tried both ways.
func TestEveryFindingHasCases(t *testing.T) {
	g := builtIn(t)
	reached, proven, failed := map[string]bool{}, map[string]bool{}, map[string]bool{}
	worked := map[string]bool{}
	for _, f := range caseFiles(t) {
		for _, c := range f.cases {
			if c.finding == "" || c.status == "possible" {
				continue
			}
			if g.Findings[c.finding] == nil {
				t.Errorf("%s: there is no finding called %s", c.at, c.finding)
			}
			reached[c.finding] = c.path != "" || reached[c.finding]
			proven[c.finding] = c.proof != nil || proven[c.finding]
			failed[c.finding] = c.failing != nil && c.failing.path+c.failing.ends != "" || failed[c.finding]
			worked[c.finding] = len(c.working) > 0 || worked[c.finding]
		}
	}
	numbers := 0
	for _, id := range g.FindingOrder {
		f := g.Findings[id]
		if !reached[id] {
			t.Errorf("%s: no case with a path ends in the finding %s", f.At, id)
		}
		if f.Prove != nil && !proven[id] {
			t.Errorf("%s: no case proves %s", f.At, id)
		}
		if f.Prove != nil && !failed[id] {
			t.Errorf("%s: no case lets the proof of %s fail and says where the walk goes on", f.At, id)
		}
		if worked[id] {
			numbers++
		}
	}
	if numbers < 25 {
		t.Errorf("the working of %d findings is checked by hand, want 25 at least", numbers)
	}
	t.Logf("%d findings; the working of %d is worked by hand", len(g.FindingOrder), numbers)
}
