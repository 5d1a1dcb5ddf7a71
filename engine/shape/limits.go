package shape

// Caps on a file. Files come from people and from a fleet's own folder; a file
// beyond these is a mistake or an attack, and is refused before it costs time.
const (
	// MaxFileBytes is ten times the largest knowledge file we have written; the
	// YAML library needs about 0.4 s for the worst file of this size.
	MaxFileBytes = 1 << 20
	// MaxDepth is four times what the deepest shape needs, and keeps every
	// recursion over nodes shallow.
	MaxDepth = 30
	// MaxScalarRunes is about three printed pages: more than any text that is
	// read at a prompt.
	MaxScalarRunes = 8192
	// MaxNodes bounds the memory of one file: 1 MiB of "-" lines would be half
	// a million nodes, the largest real file has some ten thousand.
	MaxNodes = 100_000
	// MaxProblems is as many as a person will work through in one go.
	MaxProblems = 100
	// maxNearLineBytes is the largest file in which the line of a syntax error
	// is searched for by reading beginnings of the file again and again.
	maxNearLineBytes = 256 << 10
)

// Lengths that shapes use when they name none.
const (
	maxTextRunes       = 1000 // a paragraph
	maxExpressionRunes = 1000 // formulas cap their own complexity; this caps the work of lexing
	maxIDRunes         = 64   // ids stand in tables and file names
)
