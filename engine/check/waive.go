package check

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/shape"
)

// A warning that is right to stand is waived where it stands, at the end of its
// line or alone on the line above:
//
//	meter: app  # check: close-cuts: the app shows hundredths
//
// A waiver lets one code stand on one line, and says why. Errors are not waived.
const waiverMark = "# check:"

type waiver struct {
	code, reason string
	at           shape.Place
	used         bool
}

// waive takes out the warnings that a comment lets stand, and reports comments
// that let nothing stand, or do not say why.
func (c *checker) waive() {
	all := c.waivers()
	var left []shape.Problem
	for _, p := range c.problems {
		var hit *waiver
		for _, w := range all[p.At.File] {
			alone := strings.HasPrefix(strings.TrimSpace(c.g.Line(w.at)), "#")
			if w.code == p.Code && (w.at.Line == p.At.Line || alone && w.at.Line == p.At.Line-1) {
				hit = w
			}
		}
		switch {
		case hit == nil || hit.reason == "":
			left = append(left, p)
		case p.Severity == shape.Error:
			hit.used = true
			p.Hint = "an error can't be waived; " + p.Hint
			left = append(left, p)
		default:
			hit.used = true
			c.waived = append(c.waived, Waived{p, hit.reason})
		}
	}
	c.problems = left
	for _, file := range sortedKeys(all) {
		for _, w := range all[file] {
			switch {
			case w.reason == "":
				c.bad("waiver-without-reason", w.at, "write # check: "+w.code+": and why it may stand", "the waiver does not say why")
			case !w.used:
				c.warn("waiver-unused", w.at, "take it out", "nothing on this line gives the problem %s", w.code)
			}
		}
	}
	shape.Sort(c.problems)
}

func (c *checker) waivers() map[string][]*waiver {
	out := map[string][]*waiver{}
	for _, file := range c.g.Files() {
		for i, line := range c.g.Lines(file) {
			at := strings.Index(line, waiverMark)
			if at < 0 || inQuotes(line, at) {
				continue
			}
			code, reason, _ := strings.Cut(strings.TrimSpace(line[at+len(waiverMark):]), ":")
			out[file] = append(out[file], &waiver{code: strings.TrimSpace(code), reason: strings.TrimSpace(reason),
				at: shape.Place{File: file, Line: i + 1, Col: len([]rune(line[:at])) + 1}})
		}
	}
	return out
}

// inQuotes says that a place of a line lies inside a quoted text.
func inQuotes(line string, at int) bool { return strings.Count(line[:at], `"`)%2 == 1 }

// Summary is one line on what was found: "2 errors, 1 warning, 3 waived".
func (r Report) Summary() string {
	errors := 0
	for _, p := range r.Problems {
		if p.Severity == shape.Error {
			errors++
		}
	}
	parts := []string{count(errors, "error"), count(len(r.Problems)-errors, "warning")}
	if n := len(r.Waived); n > 0 {
		parts = append(parts, fmt.Sprintf("%d waived", n))
	}
	return strings.Join(parts, ", ")
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Has says that some problem has the code.
func (r Report) Has(code string) bool {
	return slices.ContainsFunc(r.Problems, func(p shape.Problem) bool { return p.Code == code })
}
