package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/session/ticket"
)

// about is what a report about the program itself needs: what it is, where it
// runs, what it found there. It holds no name of a person and nothing of a session.
type about struct {
	Program   string        `json:"program"`
	Knowledge string        `json:"knowledge"`
	Overlay   bool          `json:"overlay"`
	Go        string        `json:"go"`
	System    string        `json:"system"`
	Units     string        `json:"units"`
	Terminal  term.Terminal `json:"terminal"`
	Sessions  string        `json:"sessions"` // the folder, with ~ for the home
	Folder    string        `json:"folder"`   // can it be used
	Variables []string      `json:"variables"`
}

func aboutCommand(a *app) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "about",
		Short: "Tell about the program itself, for a report of a fault in it",
		Long: `Tell about the program itself and what it found on this machine: versions, the
terminal, the folder for sessions. Put it into a report of a fault in Hotlug. It
holds nothing of any session, and your home folder stands as ~.

` + exitHelp,
		Example: "  hotlug about\n  hotlug about --json",
		Args:    takes(),
		RunE: func(*cobra.Command, []string) error {
			x, err := a.about()
			if err != nil {
				return err
			}
			if asJSON {
				return ticket.EncodeJSON(a.out, x)
			}
			x.print(a)
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

func (a *app) about() (about, error) {
	if _, err := a.style(); err != nil {
		return about{}, err
	}
	hash, err := a.knowledgeHash()
	if err != nil {
		return about{}, err
	}
	x := about{
		Program: version(), Knowledge: hash, Overlay: a.kbDir != "",
		Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH, Units: a.units, Variables: []string{},
	}
	out, _ := a.out.(*os.File)
	x.Terminal = term.Describe(a.in, out)
	store, err := a.store()
	if err != nil {
		x.Folder = err.Error()
	} else {
		x.Sessions, x.Folder = homeless(store.Dir()), folderState(store.Dir())
	}
	for _, name := range []string{unitsEnv, "TERM", "NO_COLOR", "CI", "XDG_DATA_HOME"} {
		if v, ok := os.LookupEnv(name); ok {
			x.Variables = append(x.Variables, name+"="+homeless(v))
		}
	}
	return x, nil
}

func (x about) print(a *app) {
	overlay := ""
	if x.Overlay {
		overlay = ", with a folder of your own laid over it"
	}
	for _, l := range [][2]string{
		{"program", "hotlug " + x.Program},
		{"knowledge", x.Knowledge + overlay},
		{"built with", x.Go},
		{"system", x.System},
		{"units", x.Units},
		{"terminal", x.Terminal.String()},
		{"sessions", strings.TrimSpace(x.Sessions + "  " + x.Folder)},
		{"variables", strings.Join(x.Variables, " ")},
	} {
		if l[1] != "" {
			fmt.Fprintf(a.out, "%-11s %s\n", l[0], term.SafeLine(l[1]))
		}
	}
}

// homeless puts ~ for the home folder, which has somebody's name in it.
func homeless(path string) string {
	home, err := os.UserHomeDir()
	if err != nil || home == "" || home == string(filepath.Separator) {
		return path
	}
	if rest, ok := strings.CutPrefix(path, home); ok && (rest == "" || rest[0] == filepath.Separator) {
		return "~" + rest
	}
	return path
}

// folderState says in words whether a folder is there, without changing anything.
func folderState(dir string) string {
	st, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "(not there yet)"
	case err != nil:
		return "(can't be read)"
	case st.Mode().Perm()&0o077 != 0 && runtime.GOOS != "windows":
		return "(others may look into it)"
	}
	return "(there, private)"
}
