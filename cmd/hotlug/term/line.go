package term

import (
	"context"
	"errors"
	"io"
	"os"
	"runtime"
	"unicode/utf8"

	"github.com/chzyer/readline"
	"golang.org/x/term"
)

// ErrInterrupt is what ReadLine returns after Ctrl-C.
var ErrInterrupt = errors.New("interrupted")

// ErrTooLong is what ReadLine returns for a line beyond the cap. The line has
// been read to its end and thrown away; the next one can be read.
var ErrTooLong = errors.New("the line is too long")

// MaxLine is how many bytes a line from a pipe or file may have. No answer and no
// note is anywhere near; a larger line is some other file piped in.
const MaxLine = 64 << 10

// maxTyped is how many bytes may be typed or pasted into one line on a terminal.
// The editor draws the whole line anew at every key, so much longer ones would
// stand still for seconds and then minutes.
const maxTyped = 1500

// A terminal narrower than leastWidth, or one that does not know its width (a
// serial line, a container), counts as usualWidth wide: the line editor runs in
// circles when its prompt does not fit.
const (
	leastWidth = 30
	usualWidth = 80
)

// Line is where lines are typed and text is printed. It is for one goroutine.
type Line interface {
	// ReadLine gives the next line without its end. The prompt is printed where
	// that helps. The error is ErrInterrupt after Ctrl-C, io.EOF at the end of
	// the input, ErrTooLong, the context's error once it is done, or that of the
	// reading; the line is then empty.
	ReadLine(prompt string) (string, error)
	// Print prints text as it is, but for what a terminal must not get.
	Print(text string) error
	// Width is how many columns there are, 30 at least.
	Width() int
	// IsTerminal says whether a person sits at both ends.
	IsTerminal() bool
	// Close gives the terminal back as it was found.
	Close() error
}

// Options of [Open].
type Options struct {
	// Plain reads plain lines even on a terminal.
	Plain bool
	// Complete gives whole lines that begin as the given one does (case apart);
	// nil for none. It is called while ReadLine waits.
	Complete func(line string) []string
	// Keep says whether a line goes into the history, which is kept in memory
	// only; nil keeps none. Commands belong there, readings do not: an old
	// reading that comes back by the arrow key is a wrong one.
	Keep func(line string) bool
}

// Open gives the Line for an input and an output. When the context is done,
// ReadLine returns its error and the terminal is as it was found.
func Open(ctx context.Context, in, out *os.File, o Options) (Line, error) {
	l := ends{in: in, out: out, inTerm: isTerminal(in), outTerm: isTerminal(out)}
	l.colour = colourful(l.outTerm, o.Plain, os.Getenv)
	if l.inTerm && l.outTerm && able(o.Plain, os.Getenv) {
		return openEditor(ctx, l, o)
	}
	return openPlain(ctx, l), nil
}

// able says whether a terminal may get escape codes at all.
func able(plain bool, env func(string) string) bool {
	switch env("TERM") {
	case "dumb":
		return false
	case "":
		return !plain && runtime.GOOS == "windows" // consoles there have no TERM
	}
	return !plain
}

func isTerminal(f *os.File) bool { return f != nil && term.IsTerminal(int(f.Fd())) }

// ends are the two ends of a Line.
type ends struct {
	in, out         *os.File
	inTerm, outTerm bool
	colour          bool
}

func (e ends) IsTerminal() bool { return e.inTerm && e.outTerm }

func (e ends) Width() int {
	if !e.outTerm {
		return usualWidth
	}
	w, _, err := term.GetSize(int(e.out.Fd()))
	if err != nil || w < leastWidth {
		return usualWidth
	}
	return w
}

// screen is where to print. On Windows the line editor has put an interpreter of
// escape codes in the place of the standard output, which older consoles need.
func (e ends) screen() io.Writer {
	if e.outTerm && e.out == os.Stdout {
		return readline.Stdout
	}
	return e.out
}

// Print prints text, but for what a terminal must not get; where there is no
// colour, the codes of a palette are among that.
func (e ends) Print(text string) error {
	if e.colour {
		text = clean(text)
	} else {
		text = Safe(text)
	}
	_, err := io.WriteString(e.screen(), text)
	return err
}

// whole makes valid UTF-8 of what was typed.
func whole(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	return string([]rune(s)) // each wrong byte becomes U+FFFD
}
