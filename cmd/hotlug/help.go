package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// helpCommand is `hotlug help`: unlike cobra's own, it fails for a command that
// is not there.
func helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Show the help of a command",
		Long:  "Show the help of a command, as the command's --help does.\n\n" + exitHelp,
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			c, _, err := root.Find(args)
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return subcommands(c), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			c := root
			for _, name := range args {
				i := slices.IndexFunc(c.Commands(), func(x *cobra.Command) bool { return x.Name() == name })
				if i < 0 {
					return noCommand(c, []string{name})
				}
				c = c.Commands()[i]
			}
			c.InitDefaultHelpFlag()
			return c.Help()
		},
	}
}

// tidyCompletion gives cobra's command for the shells the manners of the others.
func tidyCompletion(root *cobra.Command) {
	for _, c := range root.Commands() {
		if c.Name() != "completion" {
			continue
		}
		c.Args, c.RunE = nil, group
		for _, x := range append(c.Commands(), c) {
			x.Long = strings.TrimSpace(x.Long) + "\n\n" + exitHelp
			if x != c {
				x.Args = takes()
			}
		}
	}
}
