package term

import (
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"sync"

	"github.com/chzyer/readline"
)

// editor reads lines with the line editor, which is fenced in on all sides,
// because some of what a terminal can send breaks it:
//
//   - a NUL byte (Ctrl-Space) ends its session and hangs its Close: filter drops it;
//   - Ctrl-Z stops the parent process too: filter drops it;
//   - at a width below that of the prompt it loops for ever: see Width;
//   - a long pasted line takes it minutes: filter caps a line;
//   - a signal leaves the terminal raw: when the context is done, the inner input
//     is closed, which ends the read and restores the terminal. The editor then
//     hands over the unfinished line as if Enter had been pressed, so the context
//     is looked at before the line is;
//   - its Close waits for a read under way: the inner input is closed first;
//   - its history goes to a world-readable file: there is none;
//   - without a completer the tab key types a tab: there always is one.
//
// Text is printed between reads only, past the editor, so that nothing redraws a
// prompt in the middle of it.
type editor struct {
	ends
	ctx  context.Context
	rl   *readline.Instance
	in   *readline.CancelableStdin
	keep func(string) bool
	stop func() bool
	once sync.Once
}

func openEditor(ctx context.Context, e ends, o Options) (Line, error) {
	// On Windows the library reads the console itself in this place.
	var in io.Reader = e.in
	if e.in == os.Stdin {
		in = readline.Stdin
	}
	out := e.screen()
	l := &editor{ends: e, ctx: ctx, keep: o.Keep, in: readline.NewCancelableStdin(&filter{r: in})}
	raw := &rawMode{fd: int(e.in.Fd())}
	rl, err := readline.NewEx(&readline.Config{
		Stdin:                  l.in,
		Stdout:                 out,
		Stderr:                 out,
		HistoryLimit:           200,
		DisableAutoSaveHistory: true,
		AutoComplete:           completer{o.Complete},
		InterruptPrompt:        "^C",
		EOFPrompt:              "^D",
		FuncGetWidth:           e.Width,
		FuncIsTerminal:         func() bool { return true },
		FuncMakeRaw:            raw.enter,
		FuncExitRaw:            raw.exit,
	})
	if err != nil {
		l.in.Close()
		return nil, errors.New("the terminal can't be used: " + err.Error() + ". Try again with --plain")
	}
	l.rl = rl
	l.stop = context.AfterFunc(ctx, func() { l.in.Close() })
	return l, nil
}

func (l *editor) ReadLine(prompt string) (string, error) {
	if err := l.ctx.Err(); err != nil {
		return "", err
	}
	l.rl.SetPrompt(clean(prompt))
	text, err := l.rl.Readline()
	if done := l.ctx.Err(); done != nil {
		return "", done
	}
	switch {
	case errors.Is(err, readline.ErrInterrupt):
		return "", ErrInterrupt
	case err != nil:
		return "", err
	case len(text) >= maxTyped:
		return "", ErrTooLong
	}
	text = whole(text)
	if l.keep != nil && l.keep(text) {
		_ = l.rl.SaveHistory(text) // in memory, where nothing can fail
	}
	return text, nil
}

func (l *editor) Close() error {
	var err error
	l.once.Do(func() {
		l.stop()
		l.in.Close()
		err = l.rl.Close()
	})
	return err
}

// filter drops the bytes that the editor can't bear, and all of a line beyond
// maxTyped.
type filter struct {
	r     io.Reader
	typed int // bytes of the line so far
}

func (f *filter) Read(p []byte) (int, error) {
	for {
		n, err := f.r.Read(p)
		kept := p[:0]
		for _, b := range p[:n] {
			switch b {
			case 0x00, readline.CharCtrlZ:
				continue
			case '\r', '\n', readline.CharInterrupt, readline.CharCtrlU:
				f.typed = 0
			default:
				if b < 0x20 || b == readline.CharBackspace {
					break // keys that edit work however much there is
				}
				if f.typed++; f.typed > maxTyped {
					continue
				}
			}
			kept = append(kept, b)
		}
		// Nothing left and no error would be read as the end by some.
		if len(kept) > 0 || err != nil || n == 0 {
			return len(kept), err
		}
	}
}

// rawMode has the terminal hand over every key, on its own descriptor and not on
// that of the standard input.
type rawMode struct {
	fd    int
	state *readline.State
}

func (r *rawMode) enter() (err error) {
	r.state, err = readline.MakeRaw(r.fd)
	return err
}

func (r *rawMode) exit() error {
	if r.state == nil {
		return nil
	}
	return readline.Restore(r.fd, r.state)
}

// completer hands the line up to the cursor to the callback and gives the editor
// what is missing of each line that comes back.
type completer struct {
	complete func(string) []string
}

func (c completer) Do(line []rune, pos int) ([][]rune, int) {
	if c.complete == nil {
		return nil, 0
	}
	begun := string(line[:pos])
	var rest [][]rune
	for _, full := range c.complete(begun) {
		r := []rune(full)
		if len(r) > pos && strings.EqualFold(string(r[:pos]), begun) {
			rest = append(rest, []rune(clean(string(r[pos:]))))
		}
	}
	return rest, pos
}
