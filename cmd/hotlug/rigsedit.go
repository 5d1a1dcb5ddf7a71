package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/session"
)

// editSuffix is that of the copy that an editor works on, beside the rig's file.
// A text that is not sound stays in it.
const editSuffix = ".edit" + rigSuffix

func rigsEditCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "edit RIG",
		Short: "Change a rig's file by hand",
		Long: `Change a rig's file by hand, in the editor that VISUAL or EDITOR names. What you
save is checked; if something is wrong it is told with its line and column, the rig
stays as it was, and your text is kept: the same command goes on with it. A rig that
is not there yet begins with an empty form, or as the demo rig of its name.

` + exitHelp,
		Example:           "  EDITOR=vi hotlug rigs edit hut-51",
		Args:              takes("RIG"),
		ValidArgsFunction: a.completeRigs,
		RunE: func(cmd *cobra.Command, args []string) error {
			name, find, err := a.ownRig(args[0])
			if err != nil {
				return err
			}
			return a.editRig(cmd, name, find)
		},
	}
}

func (a *app) editRig(cmd *cobra.Command, name string, find finder) error {
	g, err := a.knowledge()
	if err != nil {
		return err
	}
	path, copied := find.rigPath(name), filepath.Join(find.rigs, name+editSuffix)
	words, err := editor(path)
	if err != nil {
		return err
	}
	before, there, err := readOwn(path)
	if err != nil {
		return err
	}
	if !there {
		before = []byte(emptyForm(name))
		if _, demo, err := (finder{}).source(name); err == nil {
			before = demo
		}
	}
	if err := os.MkdirAll(find.rigs, 0o700); err != nil {
		return badInputf("the rig can't be edited: %v", err)
	}
	if _, bad, err := readOwn(copied); err != nil {
		return err
	} else if bad {
		fmt.Fprintf(a.err, "Going on with the text that was kept in %s.\n", term.SafeLine(copied))
	} else if err := session.WriteWhole(copied, before); err != nil {
		return badInputf("the rig can't be edited: %v", err)
	}
	e := exec.CommandContext(cmd.Context(), words[0], append(words[1:], copied)...)
	e.Stdin, e.Stdout, e.Stderr = a.in, a.out, a.err
	if err := e.Run(); err != nil {
		return badInputf("the editor %s failed: %v. The rig is as it was; the text is in %s", quote(words[0]), err, copied)
	}
	src, err := readCapped(copied, mostRigFile)
	if err != nil {
		return err
	}
	if bytes.Equal(src, before) {
		os.Remove(copied)
		fmt.Fprintln(a.out, "Nothing was changed.")
		return nil
	}
	if s := checkRig(g, name, copied, src); !s.sound() {
		return fmt.Errorf("%w. The rig is as it was; your text is kept in %s, and `hotlug rigs edit %s` goes on with it",
			exit(exitBadInput, &problemsError{"the rig file", s.problems}), copied, name)
	}
	if err := session.WriteWhole(path, src); err != nil {
		return badInputf("the rig could not be kept: %v. Your text is in %s", err, copied)
	}
	os.Remove(copied)
	fmt.Fprintf(a.out, "Written to %s.\n", term.SafeLine(path))
	return nil
}

// editor is the command of the user's editor. It is no line for a shell: words are
// parted at spaces, and nothing else is done with them.
func editor(path string) ([]string, error) {
	for _, name := range []string{"VISUAL", "EDITOR"} {
		if words := strings.Fields(os.Getenv(name)); len(words) > 0 {
			return words, nil
		}
	}
	return nil, badInputf("no editor is known: set EDITOR, or change %s by hand; `hotlug rigs list` checks it", quote(path))
}

// emptyForm is what an editor begins with.
func emptyForm(name string) string {
	return `format: 1
name: ` + name + `
about: ""
# Fill in what you know and take away the mark in front. Leave out the rest.
#battery:
#  chemistry: lfp          # lfp, flooded, agm, gel
#  system_v: 12 V
#  capacity: 200 Ah
#array:
#  module_voc: 22.5 V      # of one panel, by its label
#  module_isc: 6.1 A
#  series: 1
#  parallel: 2
#  coldest: -10 C
#controller:
#  type: mppt              # mppt or pwm
#  rated: 30 A
#inverter:
#  rated: 1000 W
#places:
#  - {id: main-fuse, class: fuse, name: the main fuse holder, rating: 125 A, wire: 35 mm2, full_load: 95 A}
`
}
