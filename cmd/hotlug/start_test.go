package main

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// quickly are the commands that must answer without the knowledge: they are typed
// to look something up, and a shell runs some of them at every press of Tab.
var quickly = map[string][]string{
	"help":               {"--help"},
	"help of a command":  {"replay", "--help"},
	"version":            {"--version"},
	"completion":         {"__complete", ""},
	"completion of rigs": {"__complete", "--rig", ""},
	"sessions":           {"sessions", "list"},
	"wrong usage":        {"--nosuch"},
	"wrong command":      {"repaly"},
	"wrong units":        {"--units", "imperial"},
	"wrong form":         {"ticket", "1nb5w2q-7tm", "--format", "pdf"},
}

// Bad knowledge is never noticed by what does not load it.
func TestNothingLoadsTheKnowledgeInVain(t *testing.T) {
	t.Parallel()
	bad := t.TempDir()
	if err := os.WriteFile(filepath.Join(bad, "readings.yaml"), []byte("format: 99\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, args := range quickly {
		t.Run(name, func(t *testing.T) {
			c := hotlug(t, t.TempDir(), append([]string{"--kb", bad}, args...)...)
			if args[0] == "__complete" { // it completes what stands before it
				c = hotlug(t, t.TempDir(), append([]string{"__complete", "--kb", bad}, args[1:]...)...)
			}
			out, _ := c.CombinedOutput()
			if c.ProcessState.ExitCode() == exitKnowledge || strings.Contains(string(out), "the knowledge") && strings.Contains(string(out), "problem") {
				t.Errorf("it loads the knowledge:\n%s", out)
			}
		})
	}
	c := hotlug(t, t.TempDir(), "--kb", bad, "kb", "list")
	if out, _ := c.CombinedOutput(); c.ProcessState.ExitCode() != exitKnowledge {
		t.Errorf("the knowledge of this test is not bad, so it shows nothing:\n%s", out)
	}
}

// BenchmarkStart is the time from the start of the process to its end, or to the
// first prompt.
func BenchmarkStart(b *testing.B) {
	for _, name := range []string{"help", "version", "completion"} {
		b.Run(name, func(b *testing.B) {
			data := b.TempDir()
			for b.Loop() {
				if out, err := hotlug(b, data, quickly[name]...).CombinedOutput(); err != nil {
					b.Fatalf("%v\n%s", err, out)
				}
			}
		})
	}
	b.Run("first prompt", func(b *testing.B) {
		data := b.TempDir()
		for b.Loop() {
			firstPrompt(b, hotlug(b, data, "--plain"))
		}
	})
	b.Run("first prompt with a rig", func(b *testing.B) {
		data := b.TempDir()
		for b.Loop() {
			firstPrompt(b, hotlug(b, data, "--plain", "--rig", "hut-01"))
		}
	})
	b.Run("replay", func(b *testing.B) {
		data := b.TempDir()
		for b.Loop() {
			c := hotlug(b, data, "replay", "-")
			c.Stdin = strings.NewReader("format: 1\nsymptom: hot-joint\nanswers: {danger_now: no}\n")
			if out, err := c.Output(); len(out) == 0 {
				b.Fatal(err)
			}
		}
	})
}

// firstPrompt runs until the program asks what is wrong.
func firstPrompt(b *testing.B, c *exec.Cmd) {
	in, err := c.StdinPipe()
	if err != nil {
		b.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		b.Fatal(err)
	}
	if err := c.Start(); err != nil {
		b.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	asked := false
	for !asked && lines.Scan() {
		asked = strings.Contains(lines.Text(), "What is wrong?")
	}
	b.StopTimer()
	in.Close()
	c.Process.Kill()
	c.Wait()
	b.StartTimer()
	if !asked {
		b.Fatal("it never asked")
	}
}
