package shape

import (
	"cmp"
	"fmt"
	"slices"
)

// Place is a place in a file. Line and Col count from 1, Col in runes; a Place
// without a Line is the file as a whole.
type Place struct {
	File string
	Line int
	Col  int
}

// String is "file:line:col", or "file" for the file as a whole.
func (p Place) String() string {
	if p.Line == 0 {
		return clean(p.File)
	}
	return fmt.Sprintf("%s:%d:%d", clean(p.File), p.Line, p.Col)
}

// Compare orders places by file, line and column.
func (p Place) Compare(q Place) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col))
}

// Severity of a problem.
type Severity int

const (
	Error Severity = iota
	Warning
)

// String is "error" or "warning".
func (s Severity) String() string {
	if s == Warning {
		return "warning"
	}
	return "error"
}

// Note is a second place that helps to understand a Problem.
type Note struct {
	At     Place
	Text   string // "holder-drop is defined here"
	Source string // the line at that place
	Width  int    // how many runes the caret spans; 0 for a line without a caret
}

// Problem is one thing that is wrong in a file that people write.
type Problem struct {
	Code     string // stable, in words: "unknown-target"
	Severity Severity
	Text     string // one sentence: what is wrong
	Hint     string // what to do about it; may be empty
	At       Place
	Source   string // the line at that place
	Width    int    // how many runes the caret spans, at least 1
	Notes    []Note
}

// Error is the problem on one line: place, severity, sentence, code.
func (p Problem) Error() string {
	return fmt.Sprintf("%s: %s: %s [%s]", p.At, p.Severity, clean(p.Text), p.Code)
}

// With is the problem with one more note.
func (p Problem) With(n Note) Problem {
	p.Notes = append(slices.Clip(p.Notes), n)
	return p
}

// AsWarning is the problem as a warning.
func (p Problem) AsWarning() Problem {
	p.Severity = Warning
	return p
}

// NewProblem is an error at a node; of a map or list the caret spans its first
// word. A nil node gives a problem without a place.
func NewProblem(code string, n *Node, text, hint string) Problem {
	if n == nil {
		return Problem{Code: code, Text: text, Hint: hint, Width: 1}
	}
	return n.src.problem(code, n.line, n.col, n.width, text, hint)
}

// ProblemIn is an error at a part of a scalar: width runes from the offset-th
// rune of its text on. See Node.At.
func ProblemIn(code string, n *Node, offset, width int, text, hint string) Problem {
	p := NewProblem(code, n, text, hint)
	if n != nil {
		p.At, p.Source, p.Width = n.At(offset, width)
	}
	return p
}

// FileProblem is an error of a file as a whole.
func FileProblem(code, file, text, hint string) Problem {
	return Problem{Code: code, Text: text, Hint: hint, At: Place{File: file}, Width: 1}
}

// NoteAt is a note that points at a node; a nil node gives one without a place.
func NoteAt(n *Node, text string) Note {
	if n == nil {
		return Note{Text: text}
	}
	return Note{At: n.Place(), Text: text, Source: n.Source(), Width: n.width}
}

// HasErrors tells whether any of the problems is more than a warning.
func HasErrors(problems []Problem) bool {
	return slices.ContainsFunc(problems, func(p Problem) bool { return p.Severity == Error })
}

// Sort orders problems by file and place, then by code; of several at one place
// with the same code and text, the order given stands.
func Sort(problems []Problem) {
	slices.SortStableFunc(problems, func(a, b Problem) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Text, b.Text))
	})
}
