package formula

import (
	"slices"
	"sort"
	"strings"
)

// Problem is one thing wrong in the text of a formula.
type Problem struct {
	// From and To are rune offsets into the text, From counting from 0 and To
	// behind the last rune; To is larger than From, but at the end of a text.
	From, To int
	Text     string // what is wrong, one sentence without full stop
	Hint     string // what to do about it; may be empty
	Code     string // stable: see the Code constants
}

// Codes of problems.
const (
	CodeTooLong     = "formula-too-long"
	CodeTooDeep     = "formula-too-deep"
	CodeTooLarge    = "formula-too-large"
	CodeSyntax      = "formula-syntax"
	CodeNotAllowed  = "formula-not-allowed"
	CodeName        = "formula-unknown-name"
	CodeFunc        = "formula-unknown-function"
	CodeArgs        = "formula-arguments"
	CodeType        = "formula-type"
	CodeUnit        = "formula-unit"
	CodeTemperature = "formula-temperature"
	CodeChoice      = "formula-unknown-choice"
	CodeEqual       = "formula-equal-numbers"
	CodePower       = "formula-power"
)

func (p Problem) Error() string {
	if p.Hint == "" {
		return p.Text
	}
	if strings.HasSuffix(p.Text, "?") {
		return p.Text + " " + p.Hint
	}
	return p.Text + "; " + p.Hint
}

// tidy sorts problems by place and drops doubles.
func tidy(ps []Problem) []Problem {
	sort.SliceStable(ps, func(i, j int) bool {
		if ps[i].From != ps[j].From {
			return ps[i].From < ps[j].From
		}
		return ps[i].To < ps[j].To
	})
	return slices.CompactFunc(ps, func(a, b Problem) bool {
		return a.From == b.From && a.To == b.To && a.Code == b.Code
	})
}

func wordSet(lists ...string) map[string]bool {
	m := map[string]bool{}
	for _, l := range lists {
		for _, w := range strings.Fields(l) {
			m[w] = true
		}
	}
	return m
}

// didYouMean is a hint with the nearest of the candidates, or "".
func didYouMean(name string, candidates ...[]string) string {
	best, dist := "", 3
	if len(name) < 4 {
		dist = 2
	}
	for _, list := range candidates {
		for _, c := range list {
			if d := editDistance(name, c); d < dist || d == dist && best != "" && c < best {
				best, dist = c, d
			}
		}
	}
	if best == "" {
		return ""
	}
	return "did you mean " + best + "?"
}

// editDistance counts insertions, deletions, exchanges and swaps of neighbours.
// Names that differ by more than two in length are just "far".
func editDistance(a, b string) int {
	const far = 9
	if d := len(a) - len(b); d > 2 || d < -2 {
		return far
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
