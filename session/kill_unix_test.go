//go:build unix

package session

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The test binary runs itself as a child in one of these roles, since a process
// can be killed, limited or stripped of its rights only as a whole.
const role = "HOTLUG_TEST_ROLE"

func TestMain(m *testing.M) {
	switch os.Getenv(role) {
	case "writer":
		childWrites(os.Getenv("HOTLUG_TEST_DIR"), os.Getenv("HOTLUG_TEST_ID"))
	case "limited":
		childFills(os.Getenv("HOTLUG_TEST_DIR"))
	case "nobody":
		childMayNot(os.Getenv("HOTLUG_TEST_DIR"), os.Getenv("HOTLUG_TEST_ID"))
	default:
		os.Exit(m.Run())
	}
}

func child(t *testing.T, what, dir, id string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self)
	c.Env = append(os.Environ(), role+"="+what, "HOTLUG_TEST_DIR="+dir, "HOTLUG_TEST_ID="+id)
	c.Stderr = os.Stderr
	return c
}

func fail(err error) {
	if err != nil {
		fmt.Println("error:", err)
		os.Exit(1)
	}
}

// childWrites goes on with a session and prints each entry's text after Append
// has confirmed it.
func childWrites(dir, id string) {
	s, err := Open(dir)
	fail(err)
	j, entries, _, err := s.Resume(id)
	fail(err)
	for n := len(entries) + 1; ; n++ {
		text := fmt.Sprintf("%d %s", n, strings.Repeat("v", n%3000))
		fail(j.Note(text, time.Unix(int64(n), 0)))
		fmt.Println(text)
	}
}

func TestKilledAtAnyInstant(t *testing.T) {
	s := store(t)
	j, err := s.Create(head())
	if err != nil {
		t.Fatal(err)
	}
	id := j.ID()
	j.Close()
	random := rand.New(rand.NewPCG(1, 2))
	var confirmed []string
	for kill := range 60 {
		c := child(t, "writer", s.Dir(), id)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		timer := time.AfterFunc(10*time.Second, func() { c.Process.Kill() }) // a child that prints nothing
		lines := bufio.NewScanner(out)
		armed := false
		var heard []string
		for lines.Scan() {
			if strings.HasPrefix(lines.Text(), "error:") {
				t.Fatalf("child %d: %s", kill, lines.Text())
			}
			heard = append(heard, lines.Text())
			if !armed {
				armed = true
				timer.Stop()
				timer = time.AfterFunc(time.Duration(random.IntN(12000))*time.Microsecond, func() { c.Process.Kill() })
			}
		}
		timer.Stop()
		c.Wait()
		// The last line may have been cut off in the pipe by the kill itself.
		if n := len(heard); n > 0 {
			var k int
			fmt.Sscan(heard[n-1], &k)
			if heard[n-1] != fmt.Sprintf("%d %s", k, strings.Repeat("v", k%3000)) {
				heard = heard[:n-1]
			}
		}
		if len(heard) == 0 {
			t.Fatalf("child %d confirmed nothing", kill)
		}
		_, got, rep, err := s.Read(id)
		if err != nil || !rep.Sound() {
			t.Fatalf("after kill %d: %v, %s", kill, err, rep.Damaged())
		}
		kept := map[string]bool{}
		for _, e := range got {
			kept[e.Note] = true
		}
		confirmed = append(confirmed, heard...)
		for _, text := range confirmed {
			if !kept[text] {
				t.Fatalf("after kill %d: entry %.10q was confirmed and is not there", kill, text)
			}
		}
	}
	t.Logf("60 kills, %d confirmed entries", len(confirmed))
}

// childFills appends under a limit of file size until it fails, and then shows
// that the journal stands and takes a smaller entry.
func childFills(dir string) {
	signal.Ignore(syscall.SIGXFSZ)
	fail(syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 8000, Max: 8000}))
	s, err := Open(dir)
	fail(err)
	j, err := s.Create(head())
	fail(err)
	for n := 1; n < 1000; n++ {
		err := j.Note(fmt.Sprintf("%d %s", n, strings.Repeat("w", 3000)), day)
		if err == nil {
			fmt.Println("kept", n)
			continue
		}
		fmt.Println("refused:", err)
		var not *NotKeptError
		if !errors.As(err, &not) {
			fail(errors.New("it is no NotKeptError"))
		}
		fail(j.Note("small", day))
		fmt.Println("id", j.ID())
		os.Exit(0)
	}
	fail(errors.New("the limit was never reached"))
}

func TestFullDisk(t *testing.T) {
	s := store(t)
	out, err := child(t, "limited", s.Dir(), "").Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	text := string(out)
	if !strings.Contains(text, "refused: the note could not be kept in "+s.Dir()) || !strings.Contains(text, "the file has reached the size that is allowed here") {
		t.Errorf("the refusal does not say what is wrong: %s", text)
	}
	_, id, _ := strings.Cut(text, "id ")
	_, got, rep, err := s.Read(strings.TrimSpace(id))
	if err != nil || !rep.Sound() || rep.Torn != 0 {
		t.Fatalf("%v, %+v", err, rep)
	}
	if kept := strings.Count("\n"+text, "\nkept "); kept < 2 || len(got) != kept+1 || got[kept].Note != "small" {
		t.Errorf("%d entries are there, want the %d that were kept and the small one", len(got), kept)
	}
}

// childMayNot does what it can in a folder that it may not write to.
func childMayNot(dir, id string) {
	if os.Geteuid() == 0 {
		fail(syscall.Setgid(65534))
		fail(syscall.Setuid(65534))
	}
	s, err := Open(dir)
	fail(err)
	_, err = s.Create(head())
	fmt.Println("create:", err)
	_, _, _, err = s.Resume(id)
	fmt.Println("resume:", err)
	fmt.Println("delete:", s.Delete(id))
	_, got, _, err := s.Read(id)
	fmt.Println("read:", len(got), err)
	list, err := s.List()
	fmt.Println("list:", len(list), err)
}

func TestReadOnlyFolder(t *testing.T) {
	dir, err := os.MkdirTemp("", "hotlug")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	s, err := Open(filepath.Join(dir, "sessions"))
	if err != nil {
		t.Fatal(err)
	}
	j, err := s.Create(head())
	if err != nil {
		t.Fatal(err)
	}
	j.Note("one", day)
	j.Close()
	for path, mode := range map[string]os.FileMode{dir: 0o755, s.Dir(): 0o555, j.Path(): 0o444} {
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
	}
	defer os.Chmod(s.Dir(), 0o700)
	out, err := child(t, "nobody", s.Dir(), j.ID()).Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, want := range []string{
		"create: a new session could not be kept in " + s.Dir() + ": it may not be written to. Name another folder with --data DIR\n",
		"resume: the lock of session " + j.ID() + " could not be kept in " + s.Dir() + ": it may not be written to. ",
		"delete: the lock of session",
		"read: 1 <nil>\n",
		"list: 1 <nil>\n",
	} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%q is not in:\n%s", want, out)
		}
	}
}

func TestNoPlainFile(t *testing.T) {
	s, id, _ := written(t, 1)
	target := filepath.Join(t.TempDir(), "target")
	for name, make := range map[string]func(path string) error{
		"link": func(path string) error { return os.Symlink(target, path) },
		"pipe": func(path string) error { return syscall.Mkfifo(path, 0o600) },
	} {
		for _, path := range []string{s.path(id), filepath.Join(s.Dir(), id+lockSuffix)} {
			t.Run(name+" "+filepath.Ext(path), func(t *testing.T) {
				os.Rename(path, path+".kept")
				defer os.Rename(path+".kept", path)
				if err := make(path); err != nil {
					t.Fatal(err)
				}
				defer os.Remove(path)
				if _, _, _, err := s.Resume(id); err == nil || !strings.Contains(err.Error(), "is no plain file") {
					t.Errorf("Resume: %v, want a refusal", err)
				}
				if _, err := os.Lstat(target); err == nil {
					t.Error("the link's target has been made")
				}
			})
		}
		t.Run(name+" to write whole", func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "x")
			if err := make(path); err != nil {
				t.Fatal(err)
			}
			if err := WriteWhole(path, nil); err == nil || !strings.Contains(err.Error(), "no plain file") {
				t.Errorf("WriteWhole: %v, want a refusal", err)
			}
		})
	}
}
