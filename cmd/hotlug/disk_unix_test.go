//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// asNobody in its environment has the test binary give up the rights of root
// before it is hotlug: to root no folder is read-only.
const asNobody = "HOTLUG_TEST_NOBODY"

func dropRights() {
	if os.Getenv(asNobody) == "" || os.Geteuid() != 0 {
		return
	}
	for _, err := range []error{syscall.Setgid(65534), syscall.Setuid(65534)} {
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(99)
		}
	}
}

// A folder that may not be written to: the chat goes on in memory, says so once,
// and still ends in a finding.
func TestReadOnlyDataFolder(t *testing.T) {
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
	c := hotlug(t, dir, "--plain")
	c.Env = append(c.Env, asNobody+"=1")
	c.Stdin = strings.NewReader("nothing charges, sun is out\nno\n2\nlater\n")
	out, err := c.CombinedOutput()
	if err != nil {
		t.Errorf("exit code %d, want 0", c.ProcessState.ExitCode())
	}
	said := strings.Join(strings.Fields(string(out)), " ")
	for want, times := range map[string]int{
		"Careful This answer could not be saved: a new session could not be kept in " + filepath.Join(dir, "hotlug", "sessions") +
			": it may not be written to. Name another folder with --data DIR": 1,
		"The chat goes on":                  1,
		"LIKELY: the solar switch is off.":  2, // told, and listed at the end
		"Saved as session":                  0,
		"Resume with":                       0,
		"PROVEN":                            0,
		"Leave it safe":                     0,
		"which of these do you find first?": 1,
	} {
		if n := strings.Count(said, want); n != times {
			t.Errorf("%q is said %d times, want %d:\n%s", want, n, times, out)
		}
	}
}

// A disk that is full in the middle: the answers before are safe, the chat says
// that the later ones are not, and ends in its finding.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	c := hotlug(t, data, "--plain")
	fullAfter(t, c, 2)
	note := "note " + strings.Repeat("w", 300) + "\n"
	c.Stdin = strings.NewReader("nothing charges, sun is out\nno\n" + strings.Repeat(note, 5) + "2\nlater\n")
	out, err := c.CombinedOutput()
	if err != nil {
		t.Errorf("%v", err)
	}
	said := strings.Join(strings.Fields(string(out)), " ")
	for _, want := range []string{"the file has reached the size that is allowed here", "LIKELY: the solar switch is off."} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said:\n%s", want, out)
		}
	}
	_, list := keptIn(t, data)
	if len(list) < 2 || !strings.Contains(list[0], "complaint") || !strings.Contains(list[1], "danger_now") {
		t.Errorf("what was kept before is not there: %q", list)
	}
}

// fullAfter lets a command write so many blocks into a file and no more, as a full
// disk does.
func fullAfter(t *testing.T, c *exec.Cmd, blocks int) {
	t.Helper()
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Fatal(err)
	}
	c.Args = append([]string{sh, "-c", fmt.Sprintf(`ulimit -f %d; exec "$0" "$@"`, blocks), c.Path}, c.Args[1:]...)
	c.Path = sh
}
