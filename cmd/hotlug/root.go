package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"hotlug/engine/shape"
)

// app is what the commands share: the streams, and the flags of the root.
type app struct {
	in  *os.File
	out io.Writer
	err io.Writer

	rigs    string // the folder of rig files, as --rigs has it
	kbDir   string
	dataDir string
	units   string
	plain   bool
	version bool
}

// run is the whole program, but for its exit.
func run(args []string, in *os.File, out, errOut io.Writer) int {
	quietLimits()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	context.AfterFunc(ctx, stop) // the second Ctrl-C ends the program at once
	a := &app{in: in, out: out, err: errOut}
	root := newRoot(a)
	root.SetArgs(append([]string{}, args...))
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	cmd, err := root.ExecuteContextC(ctx)
	if wantsJSON(cmd, args) {
		return finishJSON(err, out, errOut)
	}
	return finish(err, errOut)
}

func newRoot(a *app) *cobra.Command {
	cobra.MousetrapHelpText = "" // a chat may be started from a folder
	chat := chatCommand(a)
	root := &cobra.Command{
		Use:   "hotlug",
		Short: "Find the fault in a small off-grid power system",
		Long: `Hotlug finds the fault in a small off-grid power system (12, 24 or 48 V). You say
what is wrong; it asks for readings one at a time, reasons on them, and ends with
the likely cause, a fix with its numbers worked out, the cautions, and the reading
that proves the fix.

It gives general guidance. Local rules and a licensed electrician come first.

Without a command it starts the chat, as ` + "`hotlug chat`" + ` does.

` + exitHelp,
		Example:       chat.Example,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          noCommand,
		RunE: func(cmd *cobra.Command, args []string) error {
			if a.version {
				return a.printVersion()
			}
			return chat.RunE(cmd, args)
		},
	}
	root.PersistentFlags().StringVar(&a.kbDir, "kb", "", "folder of further knowledge laid over the built-in")
	root.PersistentFlags().StringVar(&a.dataDir, "data", "", "folder for sessions (default: the user's data folder)")
	root.PersistentFlags().StringVar(&a.units, "units", defaultUnits(), "units, or $"+unitsEnv+": metric or us")
	root.Flags().AddFlagSet(chat.Flags())
	root.Flags().BoolVar(&a.version, "version", false, "print the versions of the program and of the knowledge")
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return exit(exitUsage, err) })
	root.AddCommand(chat, calcCommand(a), replayCommand(a), sessionsCommand(a), ticketCommand(a), rigsCommand(a), fleetCommand(a), kbCommand(a), drillCommand(a), aboutCommand(a))
	root.SetHelpCommand(helpCommand(root))
	root.CompletionOptions.HiddenDefaultCmd = true
	root.InitDefaultCompletionCmd()
	tidyCompletion(root)
	completeFlag(root, "units", "metric", "us")
	return root
}

// noCommand refuses words after the program's name, with a suggestion.
func noCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	msg := "there is no command " + quote(cmd.CommandPath()+" "+args[0])
	if near := shape.DidYouMean(args[0], subcommands(cmd)); near != "" {
		msg += "; did you mean " + near + "?"
	} else {
		msg += "; `" + cmd.CommandPath() + " --help` lists the commands"
	}
	return exit(exitUsage, errors.New(msg))
}

// group is the RunE of a command that only has commands below it.
func group(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return noCommand(cmd, args)
	}
	return usagef("%s needs one of: %s", cmd.CommandPath(), strings.Join(subcommands(cmd), ", "))
}

func subcommands(cmd *cobra.Command) []string {
	var names []string
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	return names
}

// takes demands the named arguments.
func takes(names ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < len(names):
			return usagef("%s needs %s", cmd.CommandPath(), strings.Join(names[len(args):], " and "))
		case len(args) > len(names):
			return usagef("%s takes %s; %s is too much", cmd.CommandPath(), orNone(names), quote(args[len(names)]))
		}
		return nil
	}
}

func orNone(names []string) string {
	if len(names) == 0 {
		return "no argument"
	}
	return "no more than " + strings.Join(names, " and ")
}

func quote(s string) string { return "\"" + s + "\"" }
