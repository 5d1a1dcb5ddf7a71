package main

import (
	"github.com/spf13/cobra"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/graph"
	"hotlug/session"
)

// completeFlag lets a shell complete a flag's value with words.
func completeFlag(c *cobra.Command, flag string, words ...string) {
	completeFlagBy(c, flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return words, cobra.ShellCompDirectiveNoFileComp
	})
}

// completeFlagBy is [completeFlag] with a function; a flag that is not there is a
// slip of the program.
func completeFlagBy(c *cobra.Command, flag string, f cobra.CompletionFunc) {
	if err := c.RegisterFlagCompletionFunc(flag, f); err != nil {
		panic(err)
	}
}

// completeSessions completes the id of a session.
func (a *app) completeSessions(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 { // it has its session
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	store, err := session.Open(a.dataDir)
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	const most = 200 // the newest; nobody reads more under a line
	var out []string
	err = store.Each(func(s session.Summary) error {
		if out = append(out, s.ID+"\t"+term.SafeLine(s.Symptom)); len(out) == most {
			return session.ErrEnough
		}
		return nil
	})
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeSymptoms completes the id of a symptom.
func (a *app) completeSymptoms(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	ls, err := a.layers()
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, s := range graph.Symptoms(ls...) { // a shell waits at every press of Tab
		out = append(out, s.ID+"\t"+term.SafeLine(s.Label))
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeRigs completes the name of a rig of the folder.
func (a *app) completeRigs(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return a.finder(".").own(), cobra.ShellCompDirectiveNoFileComp
}

// rigFlag puts --rig on a command that works on one, and --rigs for the folder
// where it may be.
func (a *app) rigFlag(c *cobra.Command, rig *string) {
	c.Flags().StringVar(rig, "rig", "", rigUsage())
	a.rigsFlag(c)
	completeFlagBy(c, "rig", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return append(a.finder(".").own(), demoRigs()...), cobra.ShellCompDirectiveDefault // files too
	})
}

// rigsFlag puts --rigs on a command.
func (a *app) rigsFlag(c *cobra.Command) {
	c.Flags().StringVar(&a.rigs, "rigs", "", "folder of rig files, or $"+rigsEnv+" (default: in the user's data)")
	completeFlagBy(c, "rigs", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return nil, cobra.ShellCompDirectiveFilterDirs
	})
}
