//go:build unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// rigLines answer an interview; all but the last are kept as they are.
var rigLines = []string{"a hut", "hut", "12 V", "lithium", "200 Ah", "single", "150 A", "no", "yes", "1000 W", "pure", "no", "no", "to the frame",
	"main", "125 A", "35 mm2", "95 A", "1 m", "no more", "yes", "yes"}

// Killed after every answer in turn, the interview loses none that it went on
// from, and ends in the same file as one that was never killed.
func TestKilledInTheInterview(t *testing.T) {
	t.Parallel()
	whole := t.TempDir()
	c := hotlug(t, whole, "rigs", "add", "hut-51", "--plain")
	c.Stdin = strings.NewReader(strings.Join(rigLines, "\n") + "\n")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	want, err := os.ReadFile(filepath.Join(whole, "hotlug", "rigs", "hut-51.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	data := t.TempDir()
	draft := filepath.Join(data, "hotlug", "rigs", "hut-51.draft")
	for i, line := range rigLines[:len(rigLines)-1] {
		c := talk(t, data, "rigs", "add", "hut-51", "--plain")
		fmt.Fprintln(c.in, line)
		c.until(t, "> ") // the line, as it was read
		c.until(t, "?")  // the next question: the answer is on disk
		if err := c.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		c.Wait()
		src, err := os.ReadFile(draft)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Split(strings.TrimSpace(string(src)), "\n")[1:]; len(got) != i+1 || got[i] != line {
			t.Fatalf("killed after %q, the draft is %q", line, got)
		}
	}
	c = hotlug(t, data, "rigs", "add", "hut-51", "--plain")
	c.Stdin = strings.NewReader(rigLines[len(rigLines)-1] + "\n")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	got, err := os.ReadFile(filepath.Join(data, "hotlug", "rigs", "hut-51.yaml"))
	if err != nil || string(got) != string(want) {
		t.Errorf("%v; the file is\n%s\nwant\n%s", err, got, want)
	}
	left, err := os.ReadDir(filepath.Dir(draft))
	if err != nil || len(left) != 1 {
		t.Errorf("left behind are %v, %v", left, err)
	}
}

// A folder that may not be written to: it says so once, asks on, and shows the
// file at the end, so that nothing is lost.
func TestInterviewReadOnlyFolder(t *testing.T) {
	t.Parallel()
	dir, err := os.MkdirTemp("", "hotlug") // t.TempDir may be entered only by its owner
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o700)
	c := hotlug(t, dir, "rigs", "add", "hut-51", "--plain", "--rigs", filepath.Join(dir, "rigs"))
	c.Env = append(c.Env, asNobody+"=1")
	c.Stdin = strings.NewReader(strings.Join(rigLines, "\n") + "\n")
	out, _ := c.CombinedOutput()
	if code := c.ProcessState.ExitCode(); code != exitBadInput {
		t.Errorf("exit code %d, want %d", code, exitBadInput)
	}
	for want, times := range map[string]int{"This answer could not be saved": 1, "  chemistry: lfp\n": 1, "the rig could not be kept": 1, "Written to": 0} {
		if n := strings.Count(string(out), want); n != times {
			t.Errorf("%q is said %d times, want %d:\n%s", want, n, times, out)
		}
	}
}

// A disk that is full: the draft stays as it was before, and the file is shown.
func TestInterviewFullDisk(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	c := hotlug(t, data, "rigs", "add", "hut-51", "--plain")
	fullAfter(t, c, 1)
	lines := append([]string{strings.Repeat("w", 390)}, rigLines[1:13]...)
	lines = append(lines, strings.Repeat("e", 390))
	for i := range 6 {
		lines = append(lines, fmt.Sprintf("f%d%s", i, strings.Repeat("x", 20)), "10 A", "4 mm2", "6 A", "1 m")
	}
	c.Stdin = strings.NewReader(strings.Join(append(lines, "no more", "yes"), "\n") + "\n")
	out, _ := c.CombinedOutput()
	if code := c.ProcessState.ExitCode(); code != exitBadInput {
		t.Errorf("exit code %d, want %d", code, exitBadInput)
	}
	for _, want := range []string{"the file has reached the size that is allowed here", "  chemistry: lfp\n", "class: joint"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%q is not said:\n%s", want, out)
		}
	}
	src, err := os.ReadFile(filepath.Join(data, "hotlug", "rigs", "hut-51.draft"))
	if err != nil || len(strings.Split(string(src), "\n")) < 14 {
		t.Errorf("the draft is %q, %v", src, err)
	}
	if _, err := os.Lstat(filepath.Join(data, "hotlug", "rigs", "hut-51.yaml")); err == nil {
		t.Error("there is a file after all")
	}
}

// What lies in the folder under a rig's name and is no plain file is refused.
func TestRigThatIsNoFile(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	dir := filepath.Join(data, "hotlug", "rigs")
	if err := os.MkdirAll(filepath.Join(dir, "hut-52.yaml"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(filepath.Join(dir, "hut-51.yaml"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "hut-53.yaml"), []byte(strings.Repeat("#", mostRigFile+1)), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "hut-54.draft"), []byte("something else\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		args []string
		says string
	}{
		{[]string{"rigs", "show", "hut-51"}, "is no plain file"},
		{[]string{"rigs", "edit", "hut-51"}, "is no plain file"},
		{[]string{"rigs", "add", "hut-51"}, "there is a rig"},
		{[]string{"--plain", "--rig", "hut-52"}, "is no plain file"},
		{[]string{"rigs", "show", "hut-53"}, "is larger than"},
		{[]string{"rigs", "add", "hut-54"}, "is no draft of a rig"},
		{[]string{"rigs", "list"}, "hut-51  can't be used"},
		{[]string{"fleet"}, "hut-51: never passed"},
	} {
		c := hotlug(t, data, x.args...)
		c.Env = append(c.Env, "EDITOR=true")
		out, _ := c.CombinedOutput()
		if !strings.Contains(string(out), x.says) {
			t.Errorf("%v does not say %q:\n%s", x.args, x.says, out)
		}
	}
}
