package main

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

var updateReadme = flag.Bool("update-readme", false, "rewrite the conversation in README.md from its typed lines")

// What README.md shows is what happens. The convention:
//
//   - In a ```console block a line that begins with "$ " is a command; the lines
//     after it, up to the next one, are what it prints, where a line "..." stands
//     for any lines. Without such lines only the exit code counts. The commands
//     are `hotlug ...`, `go run ./cmd/hotlug ...`, which is the same, and
//     `go test ./...`, which is this.
//   - The conversation stands in a ```text block between the lines
//     <!-- conversation --> and <!-- /conversation -->; flags may stand in the
//     first, as in <!-- conversation --rig hut-01 -->. Its lines that begin with
//     "> " are typed, and the program's output must hold the whole block, line by
//     line.
//     go test ./cmd/hotlug -run Readme -update-readme writes it anew.
//   - A ```yaml block is a rig file.
//   - What stands in backquotes and begins with hotlug must be a command that
//     there is, with flags that it has.
func readme(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(string(b), "\r\n", "\n")
}

// blocks are the fenced blocks of a kind.
func blocks(text, kind string) []string {
	var out []string
	for _, after := range strings.Split("\n"+text, "\n```"+kind+"\n")[1:] {
		body, _, _ := strings.Cut(after, "\n```")
		out = append(out, body)
	}
	return out
}

func TestReadmeCommands(t *testing.T) {
	t.Parallel()
	started, tested := false, false
	for _, block := range blocks(readme(t), "console") {
		for _, part := range strings.Split("\n"+block, "\n$ ")[1:] {
			command, want, _ := strings.Cut(part, "\n")
			t.Run(command, func(t *testing.T) {
				words := strings.Fields(command)
				switch {
				case command == "go test ./...":
					tested = true
					return
				case strings.HasPrefix(command, "go run ./cmd/hotlug"):
					words = words[3:]
					started = started || len(words) == 0 || words[0] == "chat"
				case words[0] == "hotlug":
					words = words[1:]
				default:
					t.Fatalf("it is none of the commands that this test knows to try")
				}
				c := hotlug(t, t.TempDir(), words...)
				c.Dir = filepath.Join("..", "..")
				out, err := c.Output()
				if code := c.ProcessState.ExitCode(); code != exitDone && code != exitNarrowed && code != exitStop {
					t.Fatalf("%v\n%s", err, out)
				}
				if want = strings.TrimSpace(want); want != "" && !printed(string(out), want) {
					t.Errorf("it prints:\n%s\nand not:\n%s", out, want)
				}
			})
		}
	}
	if !started {
		t.Error("no command of README.md starts the chat with `go run ./cmd/hotlug`")
	}
	if !tested {
		t.Error("`go test ./...` is not among the commands of README.md")
	}
}

// printed says whether an output is the wanted text, with "..." for any lines.
func printed(out, want string) bool {
	lines := strings.Split(want, "\n")
	for i, l := range lines {
		if l == "..." {
			lines[i] = "(?s:.*)"
			continue
		}
		lines[i] = regexp.QuoteMeta(l)
	}
	re := regexp.MustCompile("^" + strings.Join(lines, "\n") + "$")
	return re.MatchString(strings.TrimSpace(out))
}

var conversation = regexp.MustCompile("(?s)<!-- conversation ?([^\n]*?) ?-->\n+```text\n(.*?)\n```\n+<!-- /conversation -->")

func TestReadmeConversation(t *testing.T) {
	all := conversation.FindAllStringSubmatch(readme(t), -1)
	if len(all) == 0 {
		t.Fatal("README.md has no conversation between <!-- conversation --> and <!-- /conversation -->")
	}
	for _, m := range all {
		flags, want := m[1], m[2]
		var typed strings.Builder
		for l := range strings.Lines(want + "\n") {
			if say, ok := strings.CutPrefix(l, "> "); ok {
				typed.WriteString(say)
			}
		}
		c := hotlug(t, t.TempDir(), append([]string{"--plain"}, strings.Fields(flags)...)...)
		c.Stdin = strings.NewReader(typed.String())
		out, err := c.Output()
		if code := c.ProcessState.ExitCode(); code != exitDone && code != exitNarrowed && code != exitStop {
			t.Fatalf("%v\n%s", err, out)
		}
		if *updateReadme {
			rewrite(t, want, string(out))
			continue
		}
		if !strings.Contains("\n"+string(out)+"\n", "\n"+want+"\n") {
			t.Errorf("the program does not speak as README.md shows. It says:\n%s\nThe first line that differs: %s", out, firstOther(string(out), want))
		}
	}
}

// rewrite puts what the program says in the place of a conversation: from the same
// first line up to where it names the session, which is another one every time.
func rewrite(t *testing.T, old, out string) {
	t.Helper()
	first, _, _ := strings.Cut(old, "\n")
	_, say, ok := strings.Cut("\n"+out, "\n"+first+"\n")
	if !ok {
		t.Fatalf("the program does not say %q", first)
	}
	say, _, _ = strings.Cut(say, "\nSaved as session")
	text := strings.Replace(readme(t), old, first+"\n"+strings.TrimRight(say, "\n"), 1)
	if err := os.WriteFile(filepath.Join("..", "..", "README.md"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// firstOther is the first line of want that does not stand in out where it should.
func firstOther(out, want string) string {
	w := strings.Split(want, "\n")
	_, rest, ok := strings.Cut("\n"+out, "\n"+w[0]+"\n")
	if !ok {
		return w[0]
	}
	for i, l := range strings.Split(rest, "\n") {
		if i+1 >= len(w) {
			return ""
		}
		if w[i+1] != l {
			return w[i+1]
		}
	}
	return "(the output ends before)"
}

func TestReadmeRigFiles(t *testing.T) {
	all := blocks(readme(t), "yaml")
	if len(all) == 0 {
		t.Fatal("README.md shows no rig file")
	}
	for _, block := range all {
		path := filepath.Join(t.TempDir(), "my-rig.yaml")
		if err := os.WriteFile(path, []byte(block+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		c := hotlug(t, t.TempDir(), "--plain", "--rig", path)
		out, err := c.CombinedOutput()
		if c.ProcessState.ExitCode() != exitNarrowed {
			t.Errorf("%v\n%s", err, out)
		}
	}
}

func TestReadmeNamesWhatThereIs(t *testing.T) {
	root := newRoot(&app{})
	for _, m := range regexp.MustCompile("`(hotlug[^`]*)`").FindAllStringSubmatch(readme(t), -1) {
		words := strings.Fields(m[1])[1:]
		c := root
		for len(words) > 0 && !strings.HasPrefix(words[0], "-") {
			next := child(c, words[0])
			if next == nil {
				break
			}
			c, words = next, words[1:]
		}
		if c.HasSubCommands() && c != root && len(words) == 0 {
			t.Errorf("`%s` is no whole command", m[1])
		}
		if len(words) > 0 && !strings.HasPrefix(words[0], "-") && c.HasSubCommands() {
			t.Errorf("`%s`: there is no command %s", m[1], words[0])
		}
		for _, w := range words {
			name, long := strings.CutPrefix(w, "--")
			c.InitDefaultHelpFlag()
			c.InitDefaultVersionFlag()
			switch {
			case long && c.Flags().Lookup(name) == nil && c.InheritedFlags().Lookup(name) == nil:
				t.Errorf("`%s`: there is no flag %s", m[1], w)
			case !long && len(w) == 2 && w[0] == '-' && c.Flags().ShorthandLookup(w[1:]) == nil:
				t.Errorf("`%s`: there is no flag %s", m[1], w)
			}
		}
	}
}

func child(c *cobra.Command, name string) *cobra.Command {
	for _, x := range c.Commands() {
		if x.Name() == name {
			return x
		}
	}
	return nil
}
