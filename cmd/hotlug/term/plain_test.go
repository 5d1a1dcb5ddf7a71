package term

import (
	"bufio"
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

func TestReadLine(t *testing.T) {
	long := strings.Repeat("x", MaxLine)
	for _, c := range []struct {
		name, in string
		want     []string // "!" stands for ErrTooLong
	}{
		{"lines", "one\ntwo\n", []string{"one", "two"}},
		{"last without an end", "one\ntwo", []string{"one", "two"}},
		{"carriage returns", "one\r\ntwo\r\n", []string{"one", "two"}},
		{"empty lines", "\n\r\n\n", []string{"", "", ""}},
		{"nothing", "", nil},
		{"wrong bytes", "12\xff6\xc3\n", []string{"12\ufffd6\ufffd"}},
		{"NUL", "1\x002.6\n", []string{"12.6"}},
		{"as long as allowed", long + "\nnext\n", []string{long, "next"}},
		{"one too long", long + "x\nnext\n", []string{"!", "next"}},
		{"much too long", strings.Repeat(long, 20) + "\r\nnext", []string{"!", "next"}},
		{"too long at the end", long + long, []string{"!"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := bufio.NewReader(strings.NewReader(c.in))
			var got []string
			for {
				text, err := readLine(r, MaxLine)
				if err == io.EOF {
					break
				}
				if errors.Is(err, ErrTooLong) && text == "" {
					text = "!"
				} else if err != nil {
					t.Fatal(err)
				}
				got = append(got, text)
			}
			if strings.Join(got, "\n") != strings.Join(c.want, "\n") || len(got) != len(c.want) {
				t.Errorf("got %.100q, want %.100q", got, c.want)
			}
		})
	}
}

func FuzzReadLine(f *testing.F) {
	f.Add("one\r\ntwo\x00\xff")
	f.Fuzz(func(t *testing.T, in string) {
		r := bufio.NewReaderSize(strings.NewReader(in), 16)
		for n := 0; ; n++ {
			text, err := readLine(r, 50)
			if err == io.EOF {
				return
			}
			if err != nil && !errors.Is(err, ErrTooLong) || !utf8.ValidString(text) || strings.ContainsAny(text, "\n\x00") || n > len(in) {
				t.Fatalf("%q: line %d is %q, %v", in, n, text, err)
			}
		}
	})
}

// piped is a Line on files that are no terminals.
func piped(t *testing.T, ctx context.Context) (l Line, in, out *os.File) {
	t.Helper()
	r1, w1, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r2, w2, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	l, err = Open(ctx, r1, w2, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		l.Close()
		for _, f := range []*os.File{r1, w1, r2, w2} {
			f.Close()
		}
	})
	return l, w1, r2
}

func TestPipe(t *testing.T) {
	l, in, out := piped(t, context.Background())
	if l.IsTerminal() || l.Width() != usualWidth {
		t.Errorf("a pipe is a terminal (%v) of width %d", l.IsTerminal(), l.Width())
	}
	go func() { // more than a pipe holds
		io.WriteString(in, "\ufeffhot \x1b[1mfuse\r\n"+strings.Repeat("x", MaxLine+1)+"\n12.6")
		in.Close()
	}()
	for _, want := range []string{"hot \x1b[1mfuse", "!", "12.6"} {
		got, err := l.ReadLine("> ")
		if errors.Is(err, ErrTooLong) {
			got = "!"
		} else if err != nil {
			t.Fatal(err)
		}
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if _, err := l.ReadLine("> "); err != io.EOF {
		t.Errorf("at the end: %v, want EOF", err)
	}
	if err := l.Print("fuse \x1b[1m60 A\a\n"); err != nil {
		t.Fatal(err)
	}
	p := make([]byte, 1000)
	n, _ := out.Read(p)
	if got, want := string(p[:n]), "> hot \ufffd[1mfuse\n> ...\n> 12.6\nfuse \ufffd[1m60 A\ufffd\n"; got != want {
		t.Errorf("printed %q, want %q", got, want)
	}
	l.Close()
	if _, err := l.ReadLine("> "); err != io.EOF {
		t.Errorf("after Close: %v, want EOF", err)
	}
}

func TestPipeCalledOff(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	l, _, _ := piped(t, ctx)
	time.AfterFunc(20*time.Millisecond, cancel)
	for range 2 {
		if _, err := l.ReadLine("> "); !errors.Is(err, context.Canceled) {
			t.Errorf("got %v, want the context's error", err)
		}
	}
}
