package term

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// screen is the far end of a terminal: what a person types into and sees.
type screen struct {
	t   *testing.T
	far *os.File
	mu  sync.Mutex
	all strings.Builder
}

// terminal makes a pseudo-terminal of a size and gives its near end.
func terminal(t *testing.T, columns int) (*os.File, *screen) {
	t.Helper()
	fd, err := unix.Open("/dev/ptmx", unix.O_RDWR|unix.O_NOCTTY|unix.O_CLOEXEC, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	near, err := os.OpenFile(fmt.Sprint("/dev/pts/", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: uint16(columns)}); err != nil {
		t.Fatal(err)
	}
	s := &screen{t: t, far: os.NewFile(uintptr(fd), "far end")}
	go func() {
		p := make([]byte, 4096)
		for {
			n, err := s.far.Read(p)
			s.mu.Lock()
			s.all.Write(p[:n])
			s.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	t.Cleanup(func() {
		s.far.Close()
		near.Close()
	})
	return near, s
}

func (s *screen) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.all.String()
}

// await waits until the screen has shown a text so many times.
func (s *screen) await(text string, times int) {
	s.t.Helper()
	for range 500 {
		if strings.Count(s.text(), text) >= times {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	s.t.Fatalf("%q is not on the screen: %q", text, s.text())
}

// press types keys as soon as the terminal hands over every one of them: before,
// Ctrl-C and Ctrl-Z are signals, and a signal throws away what was typed.
func (s *screen) press(keys string) {
	for range 500 {
		if !cooked(s.t, s.far) {
			break
		}
		time.Sleep(2 * time.Millisecond)
	}
	s.typed(keys)
}

func (s *screen) typed(keys string) {
	s.t.Helper()
	if _, err := io.WriteString(s.far, keys); err != nil {
		s.t.Fatal(err)
	}
}

func cooked(t *testing.T, f *os.File) bool {
	t.Helper()
	m, err := unix.IoctlGetTermios(int(f.Fd()), unix.TCGETS)
	if err != nil {
		t.Error(err)
		return false
	}
	return m.Lflag&unix.ICANON != 0 && m.Lflag&unix.ECHO != 0
}

// asked reads a line, or fails after a while instead of hanging.
func asked(t *testing.T, l Line) (string, error) {
	t.Helper()
	type answer struct {
		text string
		err  error
	}
	c := make(chan answer, 1)
	go func() {
		text, err := l.ReadLine("> ")
		c <- answer{text, err}
	}()
	select {
	case a := <-c:
		return a.text, a.err
	case <-time.After(10 * time.Second):
		t.Fatal("ReadLine hangs")
		return "", nil
	}
}

func closed(t *testing.T, l Line) {
	t.Helper()
	c := make(chan error, 1)
	go func() { c <- l.Close() }()
	select {
	case err := <-c:
		if err != nil {
			t.Errorf("Close: %v", err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("Close hangs")
	}
}

func TestEditorOnTerminal(t *testing.T) {
	t.Setenv("TERM", "xterm")
	near, s := terminal(t, 60)
	l, err := Open(context.Background(), near, near, Options{
		Complete: func(string) []string { return []string{"change", "note"} },
		Keep:     func(line string) bool { return line == "so far" },
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := l.(*editor); !ok || !l.IsTerminal() || l.Width() != 60 {
		t.Fatalf("got %T, terminal %v, width %d", l, l.IsTerminal(), l.Width())
	}
	for _, c := range []struct{ name, keys, want string }{
		{"a line", "12.6 V\r", "12.6 V"},
		{"backspace", "12.7\x7f6\r", "12.6"},
		{"left arrow", "2.6\x1b[D\x1b[D\x1b[D1\r", "12.6"},
		{"NUL and Ctrl-Z", "1\x002\x1a\r", "12"},
		{"completion", "cha\t\r", "change"},
		{"a command", "so far\r", "so far"},
		{"a reading", "180 mV\r", "180 mV"},
		{"the history holds commands only", "\x1b[A\r", "so far"},
		{"more letters", "ohm Ω 漢\r", "ohm Ω 漢"},
	} {
		go s.press(c.keys)
		if got, err := asked(t, l); err != nil || got != c.want {
			t.Errorf("%s: got %q, %v, want %q", c.name, got, err, c.want)
		}
		if !cooked(t, near) {
			t.Fatalf("%s: the terminal is raw between lines", c.name)
		}
	}
	go s.press(strings.Repeat("y", maxTyped+100) + "\r")
	if _, err := asked(t, l); !errors.Is(err, ErrTooLong) {
		t.Errorf("a long line: %v, want ErrTooLong", err)
	}
	go s.press("half\x03")
	if got, err := asked(t, l); !errors.Is(err, ErrInterrupt) || got != "" {
		t.Errorf("Ctrl-C: %q, %v, want ErrInterrupt", got, err)
	}
	go s.press("\x04")
	if _, err := asked(t, l); err != io.EOF {
		t.Errorf("Ctrl-D: %v, want EOF", err)
	}
	l.Print(Colour(true).Paint("result", "LIKELY") + " \x1b[2Jx\n")
	s.await("\x1b[1;36mLIKELY\x1b[0m \ufffd[2Jx", 1)
	closed(t, l)
	closed(t, l)
}

func TestEditorCalledOff(t *testing.T) {
	t.Setenv("TERM", "xterm")
	near, s := terminal(t, 60)
	ctx, cancel := context.WithCancel(context.Background())
	l, err := Open(ctx, near, near, Options{})
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		s.await("> ", 1)
		s.press("half an ans")
		s.await("half an ans", 1)
		cancel()
	}()
	for range 2 {
		if got, err := asked(t, l); !errors.Is(err, context.Canceled) || got != "" {
			t.Errorf("got %q, %v, want the context's error and no half line", got, err)
		}
	}
	closed(t, l)
	if !cooked(t, near) {
		t.Error("the terminal is left raw")
	}
}

// At a width of 0, or one that the prompt does not fit in, the line editor by
// itself runs in circles at the first arrow key.
func TestEditorOnTerminalWithoutWidth(t *testing.T) {
	t.Setenv("TERM", "xterm")
	for _, columns := range []int{0, 1, 29, 30} {
		near, s := terminal(t, columns)
		l, err := Open(context.Background(), near, near, Options{})
		if err != nil {
			t.Fatal(err)
		}
		want := usualWidth
		if columns >= leastWidth {
			want = columns
		}
		if l.Width() != want {
			t.Errorf("%d columns: width %d, want %d", columns, l.Width(), want)
		}
		go s.press("12\x1b[D\x1b[D\x1b[C3\r")
		if got, err := asked(t, l); err != nil || got != "132" {
			t.Errorf("%d columns: got %q, %v", columns, got, err)
		}
		closed(t, l)
	}
}

func TestPlainOnTerminal(t *testing.T) {
	for name, c := range map[string]struct {
		term  string
		plain bool
	}{"--plain": {"xterm", true}, "TERM=dumb": {"dumb", false}} {
		t.Run(name, func(t *testing.T) {
			t.Setenv("TERM", c.term)
			near, s := terminal(t, 50)
			l, err := Open(context.Background(), near, near, Options{Plain: c.plain})
			if err != nil {
				t.Fatal(err)
			}
			if _, ok := l.(*plain); !ok || !l.IsTerminal() || l.Width() != 50 {
				t.Fatalf("got %T, terminal %v, width %d", l, l.IsTerminal(), l.Width())
			}
			go func() {
				s.await("> ", 1)
				s.typed("12.6\n")
			}()
			if got, err := asked(t, l); err != nil || got != "12.6" {
				t.Errorf("got %q, %v", got, err)
			}
			l.Print(Colour(true).Paint("ask", "done") + "\n")
			s.await("[1mdone", 1)
			if strings.Contains(s.text(), "\x1b") {
				t.Errorf("there are escape codes on the screen: %q", s.text())
			}
			closed(t, l)
		})
	}
}
