package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// within runs the program in this process and gives its exit code and output.
func within(t *testing.T, args ...string) (int, string, string) {
	t.Helper()
	null, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	var out, errOut bytes.Buffer
	code := run(args, null, &out, &errOut)
	return code, out.String(), errOut.String()
}

// everyCommand calls f with each command there is, hidden or not, with its words.
func everyCommand(f func(words []string)) {
	var down func(c *cobra.Command)
	down = func(c *cobra.Command) {
		f(strings.Fields(c.CommandPath())[1:])
		for _, x := range c.Commands() {
			down(x)
		}
	}
	down(newRoot(&app{}))
}

func TestHelpOfEveryCommand(t *testing.T) {
	t.Parallel()
	n := 0
	everyCommand(func(words []string) {
		n++
		t.Run(strings.Join(append([]string{"hotlug"}, words...), " "), func(t *testing.T) {
			code, out, errOut := within(t, append(words, "--help")...)
			if code != exitDone || errOut != "" {
				t.Errorf("exit code %d, %q", code, errOut)
			}
			if !strings.Contains(out, exitHelp) {
				t.Errorf("the exit codes are not documented:\n%s", out)
			}
			if !strings.Contains(out, "Usage:\n") {
				t.Errorf("no usage:\n%s", out)
			}
		})
	})
	if n < 12 {
		t.Errorf("%d commands were looked at", n)
	}
}

func TestHelpNamesEveryExitCode(t *testing.T) {
	for _, want := range []string{"0 a finding", "1 bad input", "2 wrong usage", "3 narrowed down", "4 stop-work", "5 bad knowledge", "6 damaged session", "130 interrupted"} {
		if !strings.Contains(strings.ReplaceAll(exitHelp, "\n", " "), want) {
			t.Errorf("%q is not in: %s", want, exitHelp)
		}
	}
}

// The answers file that the help of replay shows must do what it says.
func TestHelpAnswersFile(t *testing.T) {
	_, out, _ := within(t, "replay", "--help")
	_, out, _ = strings.Cut(out, "An answers file:\n\n")
	shown, _, _ := strings.Cut(out, "\n\n")
	var file strings.Builder
	for l := range strings.Lines(shown + "\n") {
		file.WriteString(strings.TrimPrefix(l, "    "))
	}
	path := t.TempDir() + "/answers.yaml"
	if err := os.WriteFile(path, []byte(file.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errOut := within(t, "replay", path)
	if code != exitDone || errOut != "" {
		t.Fatalf("exit code %d for\n%s\n%s", code, file.String(), errOut)
	}
	if !strings.Contains(out, "### PROVEN: The contacts in the fuse holder have gone high-resistance.") {
		t.Errorf("it does not end in a worn holder:\n%s", out)
	}
}
