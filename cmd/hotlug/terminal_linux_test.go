package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"hotlug/session"
)

// person sits at a terminal: sees what is printed and types.
type person struct {
	t    *testing.T
	far  *os.File
	mu   sync.Mutex
	seen strings.Builder
}

// sitDown makes a pseudo-terminal and gives the end that a program runs at.
func sitDown(t *testing.T) (*os.File, *person) {
	t.Helper()
	fd, err := unix.Open("/dev/ptmx", unix.O_RDWR|unix.O_NOCTTY|unix.O_CLOEXEC, 0)
	if err != nil {
		t.Fatal(err)
	}
	p := &person{t: t, far: os.NewFile(uintptr(fd), "far end")}
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
	go func() {
		b := make([]byte, 4096)
		for {
			n, err := p.far.Read(b)
			p.mu.Lock()
			p.seen.Write(b[:n])
			p.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	t.Cleanup(func() {
		p.far.Close()
		near.Close()
	})
	return near, p
}

func (p *person) sees() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.seen.String()
}

// reads is how long a question is looked at before it is answered: what is typed
// before anybody can have read a safety question does not count.
const reads = 500 * time.Millisecond

// after waits for a text and for the prompt behind it, and types.
func (p *person) after(text, keys string) {
	p.t.Helper()
	for range 1000 {
		if _, rest, ok := strings.Cut(p.sees(), text); ok && strings.Contains(rest, "> ") {
			time.Sleep(reads)
			if _, err := p.far.WriteString(keys); err != nil {
				p.t.Fatal(err)
			}
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	p.t.Fatalf("%q is not on the screen: %q", text, p.sees())
}

// However the program is left, the terminal is given back as it was found, and
// what was answered is kept.
func TestTerminalIsGivenBack(t *testing.T) {
	for _, c := range []struct {
		name  string
		args  []string
		leave func(p *person, c *os.Process)
		code  int
	}{
		{"quit", nil, func(p *person, _ *os.Process) { p.after("Where is the heat", "quit\r") }, exitNarrowed},
		{"the end of the input", nil, func(p *person, _ *os.Process) { p.after("Where is the heat", "\x04") }, exitNarrowed},
		{"Ctrl-C", nil, func(p *person, _ *os.Process) { p.after("Where is the heat", "\x03") }, exitInterrupted},
		{"Ctrl-C on plain lines", []string{"--plain"}, func(p *person, _ *os.Process) { p.after("Where is the heat", "\x03") }, exitInterrupted},
		{"SIGTERM", nil, func(p *person, c *os.Process) {
			p.after("Where is the heat", "")
			c.Signal(syscall.SIGTERM)
		}, exitInterrupted},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel() // most of it is waiting
			near, p := sitDown(t)
			before, err := unix.IoctlGetTermios(int(near.Fd()), unix.TCGETS)
			if err != nil {
				t.Fatal(err)
			}
			data := t.TempDir()
			x := hotlug(t, data, c.args...)
			x.Env = append(x.Env, "TERM=xterm")
			x.Stdin, x.Stdout, x.Stderr = near, near, near
			x.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
			if err := x.Start(); err != nil {
				t.Fatal(err)
			}
			defer x.Process.Kill()
			p.after("What is wrong?", "my fuse thing is melting\r")
			p.after("yes / no / not sure", "no\r")
			c.leave(p, x.Process)
			late := time.AfterFunc(20*time.Second, func() { x.Process.Kill() })
			x.Wait()
			late.Stop()
			if got := x.ProcessState.ExitCode(); got != c.code {
				t.Errorf("exit code %d, want %d: %q", got, c.code, p.sees())
			}
			after, err := unix.IoctlGetTermios(int(near.Fd()), unix.TCGETS)
			if err != nil {
				t.Fatal(err)
			}
			if *after != *before {
				t.Errorf("the terminal is not as it was found: %+v, was %+v", after, before)
			}
			store, err := session.Open(filepath.Join(data, "hotlug", "sessions"))
			if err != nil {
				t.Fatal(err)
			}
			list, err := store.List()
			if err != nil || len(list) != 1 || list[0].Events != 2 {
				t.Errorf("%+v, %v; want one session of 2 events", list, err)
			}
		})
	}
}
