//go:build unix

package main

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"hotlug/engine/walk"
	"hotlug/session"
)

var kills = flag.Int("kills", 60, "how often TestKilledAfterAnyAnswer kills the program")

// longTalk is a conversation in which every line is an answer, a command or a
// note that is kept as one entry. Answers are taken back and given again, so that
// there are many of them at one question.
func longTalk() []string {
	talk := []string{"my fuse thing is melting", "no", "1", "7", "no"}
	for i := range 6 {
		talk = append(talk, fmt.Sprintf("%d A", 40+i), "back")
	}
	talk = append(talk, "42 A", "16 mm2", "50 A", "note the cover was off already", "no", "done")
	for i := range 8 {
		talk = append(talk, fmt.Sprintf("%d mV", 170+i), "back")
	}
	return append(talk, "180 mV", "note the lamp flickers", "42 A")
}

// kept is an entry as far as it must be the same however often the program was
// killed: not its time, nor the round that it was resumed in.
func kept(e session.Entry) string {
	switch {
	case e.Note != "":
		return "note " + e.Note
	case e.Event == nil || e.Event.Kind == walk.EvResumed:
		return ""
	}
	v := *e.Event
	v.At = time.Time{}
	value := ""
	if v.Value != nil {
		value = fmt.Sprint(*v.Value)
		v.Value = nil
	}
	return fmt.Sprintf("%+v %s", v, value)
}

// keptIn lists what is kept in the only session of a data folder, and its id.
// There may be no session yet.
func keptIn(t *testing.T, data string) (id string, list []string) {
	t.Helper()
	store, err := session.Open(filepath.Join(data, "hotlug", "sessions"))
	if err != nil {
		t.Fatal(err)
	}
	all, err := store.List()
	if err != nil {
		t.Fatal(err)
	}
	switch len(all) {
	case 0:
		return "", nil
	case 1:
	default:
		t.Fatalf("%d sessions, want 1", len(all))
	}
	_, entries, report, err := store.Read(all[0].ID)
	if err != nil || !report.Sound() {
		t.Fatalf("the session can't be read: %v; %s", err, report.Damaged())
	}
	for _, e := range entries {
		if k := kept(e); k != "" {
			list = append(list, k)
		}
	}
	return all[0].ID, list
}

// confirmed counts the lines of input that the output has come after: a line is
// shown as it was read, and what follows is printed once it is kept.
func confirmed(output []string) int {
	n := 0
	for i, l := range output {
		if strings.HasPrefix(l, "> ") && i+1 < len(output) {
			n++
		}
	}
	return n
}

// TestKilledAfterAnyAnswer kills the program over and over in the middle of one
// conversation, goes on with it, and demands that nothing is lost that had been
// confirmed, nothing is kept twice, and that it ends as it would have ended.
func TestKilledAfterAnyAnswer(t *testing.T) {
	t.Parallel()
	talk := longTalk()
	whole := t.TempDir()
	c := hotlug(t, whole, "--plain")
	c.Stdin = strings.NewReader(strings.Join(talk, "\n") + "\n")
	out, err := c.Output()
	if code := c.ProcessState.ExitCode(); code != exitDone && code != exitNarrowed {
		t.Fatalf("the conversation without a kill: %v\n%s", err, out)
	}
	_, want := keptIn(t, whole)
	if len(want) != len(talk) {
		t.Fatalf("%d entries of %d lines: the conversation does not fit the knowledge any more\n%s", len(want), len(talk), out)
	}
	// The last question of all is the one that the conversation ends at.
	end := lastQuestion(string(out))

	random := rand.New(rand.NewPCG(7, 11))
	data, ends, lost := t.TempDir(), 0, 0
	for kill := range *kills {
		id, before := keptIn(t, data)
		output, killed := killOnce(t, random, data, id, slices.Clone(talk[len(before):]))
		_, got := keptIn(t, data)
		if min := len(before) + confirmed(output); len(got) < min {
			t.Fatalf("kill %d: %d entries were confirmed and %d are kept; the last output was:\n%s",
				kill, min, len(got), strings.Join(output[max(0, len(output)-12):], "\n"))
		}
		if len(got) > len(want) || !slices.Equal(got, want[:len(got)]) {
			t.Fatalf("kill %d: the kept entries differ\n got %q\nwant %q", kill, got, want[:min(len(got), len(want))])
		}
		if killed {
			lost++
			continue
		}
		if e := lastQuestion(strings.Join(output, "\n")); e != end {
			t.Fatalf("kill %d: it ended otherwise:\n%s\nwant:\n%s", kill, e, end)
		}
		ends++
		data = t.TempDir()
	}
	t.Logf("%d times killed, %d times come to the end", lost, ends)
	if ends == 0 && *kills >= 60 {
		t.Error("it never came to the end, so that was not tried")
	}
}

// lastQuestion is the last line of an output that asks something.
func lastQuestion(out string) string {
	last := ""
	for l := range strings.Lines(out) {
		if l = strings.TrimSpace(l); strings.HasSuffix(l, "?") {
			last = l
		}
	}
	return last
}

// killOnce goes on with a conversation and kills the program at a random instant.
// It gives the whole lines that were printed and says whether it was killed.
func killOnce(t *testing.T, random *rand.Rand, data, id string, talk []string) ([]string, bool) {
	t.Helper()
	args := []string{"--plain"}
	if id != "" {
		args = append(args, "--resume", id)
	}
	c := hotlug(t, data, args...)
	c.Stdin = strings.NewReader(strings.Join(append(talk, ""), "\n"))
	pipe, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var errOut strings.Builder
	c.Stderr = &errOut
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	after := random.IntN(12) // confirmations to wait for
	wait := time.Duration(random.IntN(3000)) * time.Microsecond
	if random.IntN(10) == 0 { // at any time, even before there is a session
		after = -1
		time.AfterFunc(time.Duration(random.IntN(200))*time.Millisecond, func() { c.Process.Kill() })
	}
	var output []string
	r := bufio.NewReader(pipe)
	armed := false
	for {
		line, err := r.ReadString('\n')
		if err != nil {
			break // a line that was cut off by the kill confirms nothing
		}
		output = append(output, strings.TrimSuffix(line, "\n"))
		if !armed && after >= 0 && confirmed(output) >= after {
			armed = true
			time.AfterFunc(wait, func() { c.Process.Kill() })
		}
	}
	err = c.Wait()
	if s, ok := c.ProcessState.Sys().(syscall.WaitStatus); ok && s.Signaled() {
		return output, true
	}
	if code := c.ProcessState.ExitCode(); code != exitDone && code != exitNarrowed {
		t.Fatalf("it failed by itself: %v\n%s", err, errOut.String())
	}
	return output, false
}

// talking is the program at a pipe that stays open.
type talking struct {
	*exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

func talk(t *testing.T, data string, args ...string) *talking {
	t.Helper()
	c := &talking{Cmd: hotlug(t, data, args...)}
	var err error
	if c.in, err = c.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	c.out = bufio.NewReader(out)
	c.Stderr = os.Stderr
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Process.Kill() })
	return c
}

// until reads until a line holds a word.
func (c *talking) until(t *testing.T, word string) {
	t.Helper()
	for {
		l, err := c.out.ReadString('\n')
		if strings.Contains(l, word) {
			return
		}
		if err != nil {
			t.Fatalf("%q was never printed: %v", word, err)
		}
	}
}

func TestSignals(t *testing.T) {
	t.Parallel()
	for name, sig := range map[string]os.Signal{"interrupt": os.Interrupt, "terminate": syscall.SIGTERM, "hang up": syscall.SIGHUP} {
		t.Run(name, func(t *testing.T) {
			data := t.TempDir()
			c := talk(t, data, "--plain")
			fmt.Fprintln(c.in, "my fuse thing is melting")
			fmt.Fprintln(c.in, "no")
			c.until(t, "Where is the heat")
			time.Sleep(300 * time.Millisecond) // until it waits for an answer
			if err := c.Process.Signal(sig); err != nil {
				t.Fatal(err)
			}
			rest, err := io.ReadAll(c.out)
			if err != nil {
				t.Fatal(err)
			}
			c.Wait()
			if got := c.ProcessState.ExitCode(); got != exitInterrupted {
				t.Errorf("exit code %d, want %d", got, exitInterrupted)
			}
			id, list := keptIn(t, data)
			if len(list) != 2 {
				t.Errorf("%d entries are kept, want 2", len(list))
			}
			for _, want := range []string{"Leave it safe", "hotlug chat --resume " + id} {
				if !strings.Contains(string(rest), want) {
					t.Errorf("%q was not said at the end:\n%s", want, rest)
				}
			}
			again := hotlug(t, data, "--plain", "--resume", id)
			out, _ := again.Output()
			if again.ProcessState.ExitCode() != exitNarrowed || !strings.Contains(string(out), "Where is the heat") {
				t.Errorf("it does not go on where it was:\n%s", out)
			}
		})
	}
}

// Nobody may ever give anything at the other end of the standard input.
func TestInterruptWhileReadingStandardInput(t *testing.T) {
	t.Parallel()
	c := talk(t, t.TempDir(), "replay", "-")
	fmt.Fprintln(c.in, "format: 1")
	time.Sleep(300 * time.Millisecond) // nothing is printed that could be waited for
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	done := make(chan struct{})
	go func() { c.Wait(); close(done) }()
	select {
	case <-done:
	case <-time.After(10 * time.Second):
		t.Fatal("it is still waiting")
	}
	if got := c.ProcessState.ExitCode(); got != exitInterrupted {
		t.Errorf("exit code %d, want %d", got, exitInterrupted)
	}
}

// Two programs at one session: the second is told so, and nothing is mixed.
func TestBusySession(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	c := talk(t, data, "--plain")
	fmt.Fprintln(c.in, "my fuse thing is melting")
	c.until(t, "yes / no")
	id, _ := keptIn(t, data)
	second := hotlug(t, data, "--plain", "--resume", id)
	out, err := second.CombinedOutput()
	if second.ProcessState.ExitCode() != exitBadInput || !strings.Contains(string(out), "session "+id+" is open in another Hotlug. Leave that one first") {
		t.Errorf("%v: %s", err, out)
	}
	fmt.Fprintln(c.in, "no")
	c.until(t, "Where is the heat")
}
