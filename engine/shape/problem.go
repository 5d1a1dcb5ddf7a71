package shape

// Place is a place in a file. Line and Col count from 1, Col in runes; a Place
// without a Line is the file as a whole.
type Place struct {
	File string
	Line int
	Col  int
}

// Severity of a problem.
type Severity int

const (
	Error Severity = iota
	Warning
)

// Note is a second place that helps to understand a Problem.
type Note struct {
	At     Place
	Text   string // "holder-drop is defined here"
	Source string // the line at that place
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
